"""A date as a side of `hullcheck compare`: the ledger as the logbook knew it that day."""

from datetime import date
from typing import Final

from hullcheck.cli.inputs import Notes
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Ledger
from hullcheck.craft.ledger_history import end_of_day, ledger_at
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError
from hullcheck.files.logbook import read_logbook
from hullcheck.report.date_words import day_words

_LENGTH: Final = len("2026-05-12")


def is_day(name: str) -> bool:
    """Return whether an argument is a date such as 2026-05-12."""
    return len(name) == _LENGTH and name.replace("-", "").isdecimal() and name.count("-") == 2


def ledger_of_day(build: Build, where: str, name: str) -> tuple[Ledger, Notes]:
    """Return a build's ledger as it was known at the end of a day, and what must be said of it.

    Raises
    ------
    InputError
        If the date is none, or the logbook has no weigh-in of an item.
    """
    try:
        day = date.fromisoformat(name)
    except ValueError as none:
        raise InputError(f"{name}: there is no such day; write it as 2026-05-12") from none
    logbook = read_logbook(where)
    if not any(record.item is not None for _, record in logbook.weigh_ins):
        raise InputError(
            f"{build.name}: her logbook has no weigh-in of an item, so no date has a ledger of its "
            "own; hullcheck log weigh ITEM GRAMS writes one"
        )
    when = end_of_day(logbook, day)
    ledger = ledger_at(build.ledger, logbook, when)
    return ledger, _notes(logbook, ledger, day)


def _notes(logbook: Logbook, ledger: Ledger, day: date) -> Notes:
    """Return what must be said: grams of an all-up weigh-in that no item explains."""
    whole = [(e, r) for e, r in logbook.weigh_ins if r.item is None and e.at.date() <= day]
    if not whole:
        return ()
    entry, record = whole[-1]
    off = record.mass_g - ledger.mass_g
    if abs(off) <= record.plus_minus_g:
        return ()
    message = (
        f"weighed all-up on {day_words(entry.at)} she was {abs(off):.3g} g "
        f"{'heavier' if off > 0.0 else 'lighter'} than her items as known on {day.isoformat()}; "
        "dates are compared by items"
    )
    return (("compare-all-up-differs", message),)
