"""How she grew: each weigh-in of the logbook against the freeboard it left her."""

import math
from dataclasses import replace

from hullcheck.answers.afloat import Afloat, Refloater
from hullcheck.answers.float_records import Caveat, Point
from hullcheck.answers.history_records import HistoryAnswer, HistoryRow
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Ledger
from hullcheck.craft.ledger_history import ledger_at
from hullcheck.craft.log_records import Entry, WeighIn
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError

SCHEMA = "hullcheck.weights-by-date/1"
_SAME_G = 1e-9


def history_answer(build: Build, logbook: Logbook, setup: str | None = None) -> HistoryAnswer:
    """Return each weigh-in of a logbook with how she floated after it.

    Parameters
    ----------
    build : Build
        Her hull, openings and limits as they are now, and her ledger.
    logbook : Logbook
        Its weigh-ins that were not struck out.
    setup : str, optional
        Name of a setup, put on top of every row.

    Returns
    -------
    HistoryAnswer

    Raises
    ------
    InputError
        If the logbook has no weigh-in, or she has no ledger.
    SolverError
        If no rest was found.

    Notes
    -----
    A row of an item stands on the ledger as it was known then (`ledger_at`). A row of the whole
    craft has the mass of the scale; what the ledger of that day does not explain of it stays aboard
    in the rows after it. An item that was only planned on that day was on the scale all the same:
    weighing it later explains grams and adds none. Either way the center is that ledger's. A mass
    or center in the build sheet plays no part: it has no date.
    """
    if not build.ledger.items:
        raise InputError(
            f"{build.name}: has no weight ledger to look at; write weights.csv beside the build "
            "sheet, a row an item"
        )
    known = build.ledger.names
    rows = [(e, r) for e, r in logbook.weigh_ins if r.item is None or r.item in known]
    if not rows:
        raise InputError(
            f"{build.name}: her logbook has no weigh-in yet; hullcheck log weigh [ITEM] GRAMS "
            "writes one"
        )
    undated = replace(build, mass_g=None, center_of_gravity_mm=None)
    walk = _Walk(undated, logbook, setup)
    return HistoryAnswer(
        schema=SCHEMA,
        craft=build.name,
        setup=setup,
        water=walk.refloater.craft.water,
        planned_mass_g=planned_g(build.ledger),
        target_mass_g=build.target_mass_g,
        freeboard_limit_mm=build.limits.freeboard_mm,
        rows=tuple(walk.row(entry, record) for entry, record in rows),
        warnings=_caveats(build, logbook),
    )


def planned_g(ledger: Ledger) -> float | None:
    """Return what the ledger plans in all [g]; None where an item has no planned mass."""
    planned = [item.planned_g for item in ledger.items]
    return None if None in planned else math.fsum(g for g in planned if g is not None)


class _Walk:
    """From weigh-in to weigh-in, each row knowing the one before."""

    def __init__(self, build: Build, logbook: Logbook, setup: str | None) -> None:
        self.build, self.logbook, self.setup = build, logbook, setup
        self.refloater = Refloater.of(build.craft(setup))
        self.mass_g = planned_g(build.ledger)
        self.height_mm: float | None = None
        self.unexplained_g = 0.0
        self.variance_g2: float | None = None
        self.guessed: dict[str, float] = {}

    def row(self, entry: Entry, record: WeighIn) -> HistoryRow:
        """Return how she was after a weigh-in."""
        ledger = ledger_at(self.build.ledger, self.logbook, entry.at)
        mass, center = self.build.load(self.setup, ledger)
        if record.item is None:
            self.unexplained_g = record.mass_g - ledger.mass_g
            self.variance_g2 = record.plus_minus_g**2
            self.guessed = {i.name: i.mass_g or 0.0 for i in ledger.items if i.weighed_g is None}
        elif self.variance_g2 is not None:
            guess = self.guessed.pop(record.item, None)
            self.unexplained_g -= 0.0 if guess is None else record.mass_g - guess
            self.variance_g2 += 0.0 if guess is not None else record.plus_minus_g**2
        mass += self.unexplained_g
        known = self.variance_g2
        plus_minus = ledger.plus_minus_g if known is None else math.sqrt(known)
        afloat = None if center is None else self.refloater.at(mass, center)
        row = self._made(entry, record, (mass, plus_minus, center), afloat)
        self.mass_g, self.height_mm = mass, row.freeboard_mm
        return row

    def _made(
        self,
        entry: Entry,
        record: WeighIn,
        load: tuple[float, float, Point | None],
        afloat: Afloat | None,
    ) -> HistoryRow:
        """Return the row of a weigh-in."""
        mass, plus_minus, center = load
        height = None if afloat is None else afloat.freeboard_mm
        before = self.height_mm
        return HistoryRow(
            entry=entry.number,
            at=entry.at.isoformat(),
            item=record.item,
            weighed_g=record.mass_g,
            weighed_plus_minus_g=record.plus_minus_g,
            mass_g=mass,
            plus_minus_g=plus_minus,
            measured=record.item is None,
            grew_g=0.0 if self.mass_g is None else mass - self.mass_g,
            center_of_gravity_mm=center,
            rest=None if afloat is None else afloat.rest,
            freeboard_mm=height,
            at_opening=None if afloat is None else afloat.at,
            sank_mm=None if before is None or height is None else before - height,
            trim_deg=None if afloat is None else afloat.trim_deg,
            limits=() if afloat is None else afloat.limits,
        )


def _caveats(build: Build, logbook: Logbook) -> tuple[Caveat, ...]:
    """Return what must be known: items the ledger has not, and masses it has otherwise.

    Codes "history-hull-now", "history-unknown-item", "history-ledger-differs", "history-undated",
    "history-sheet-mass".
    """
    said = [
        (
            "history-hull-now",
            "every row has the hull, openings and limits of now; only masses are of their day",
        )
    ]
    last = {record.item: record for _, record in logbook.weigh_ins}
    strange = [n for n in last if n is not None and n not in build.ledger.names]
    if strange:
        names = ", ".join(strange)
        said.append(
            ("history-unknown-item", f"left out, for weights.csv has no such item: {names}")
        )
    for item in build.ledger.items:
        record = last.get(item.name)
        if record is None or item.weighed_g is None:
            continue
        if abs(record.mass_g - item.weighed_g) > _SAME_G:
            message = (
                f"{item.name}: last weighed {record.mass_g:g} g, weights.csv has "
                f"{item.weighed_g:g} g; the rows have the scale's"
            )
            said.append(("history-ledger-differs", message))
    undated = [i.name for i in build.ledger.items if i.weighed_g is not None and i.name not in last]
    if undated:
        message = f"weighed without a date, so as in weights.csv in every row: {', '.join(undated)}"
        said.append(("history-undated", message))
    if build.mass_g is not None or build.center_of_gravity_mm is not None:
        message = "mass_g and cg_mm of the build sheet have no date and play no part here"
        said.append(("history-sheet-mass", message))
    return tuple(Caveat(code=code, message=message) for code, message in said)
