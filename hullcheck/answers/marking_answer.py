"""Where to mark the waterline on the hull: per station, up from the keel and round the skin."""

from dataclasses import dataclass, replace

from hullcheck.answers.bath_bag import Placing
from hullcheck.answers.caveats import caveats
from hullcheck.answers.float_records import Caveat, Waterline
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.load_caveats import load_caveats
from hullcheck.answers.marking_load import Loaded, floating_of, loaded_of
from hullcheck.answers.marking_records import MarkedBody, MarksAnswer
from hullcheck.answers.marking_rows import marked_bodies
from hullcheck.answers.marking_sections import KeelSection
from hullcheck.answers.marking_stations import EVERY_MM
from hullcheck.answers.rest import rest_of
from hullcheck.craft.bodies import Body
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating, short_by_g

SCHEMA = "hullcheck.marks/1"
_OF_SCALE = frozenset({"person-scale", "cg-outside"})
"""Codes of what is said of any answer about where she floats."""
_MOST_BRANCHES = 2
"""Crossings of a section that its table row tells."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Marking:
    """The answer, and what its sheets are drawn from.

    Attributes
    ----------
    answer : MarksAnswer
    craft : Craft
        With the load that floats.
    floating : Floating or None
        Where it rests; None where there is nothing to mark.
    sections : tuple of tuple of KeelSection
        For each body of the answer, one a station.
    """

    answer: MarksAnswer
    craft: Craft
    floating: Floating | None
    sections: tuple[tuple[KeelSection, ...], ...]

    def body(self, name: str) -> Body:
        """Return a body by its name."""
        return next(body for body in self.craft.bodies if body.name == name)


def marking(
    build: Build,
    setup: str | None = None,
    *,
    every_mm: float = EVERY_MM,
    stations_mm: tuple[float, ...] = (),
    in_the_bath: Placing | None = None,
) -> Marking:
    """Return where to mark the waterline, and what the sheets are drawn from.

    Parameters
    ----------
    build : Build
        Her bodies, ledger and water.
    setup : str, optional
        Name of a setup.
    every_mm : float, default 50
        How far apart stations are [mm], beside those of seams, marks, step and bulkheads.
    stations_mm : tuple of float, optional
        Only these stations instead [mm].
    in_the_bath : Placing, optional
        How the bag is put, where the load of the bath test is to be marked.

    Returns
    -------
    Marking
        Without bodies where she sinks or capsizes. Without a center of gravity she is held level.

    Raises
    ------
    InputError
        If a station does not meet what is in the water, or the ledger does not say what is aboard.
    SurfaceError
        If much of what is under water had to be invented; see `answers.invented`.
    SolverError
        If no rest was found.

    Examples
    --------
    >>> import hullcheck
    >>> from hullcheck.answers.marking_answer import marking
    >>> found = marking(hullcheck.load("examples/twin-floats"), stations_mm=(300.0,)).answer
    >>> [body.name for body in found.bodies]
    ['starboard float', 'port float']
    """
    loaded = loaded_of(build, setup, in_the_bath)
    craft = loaded.craft
    answer = _begun(loaded)
    floating = None if answer.rest == "sinks" else floating_of(craft)
    if floating is None:
        return Marking(answer=answer, craft=craft, floating=None, sections=())
    refuse_invented(craft, floating)
    x, y, z = (float(value) + 0.0 for value in floating.normal)
    answer = replace(
        answer,
        rest=None if craft.center_of_gravity_mm is None else rest_of(craft, floating),
        trim_deg=floating.trim_deg,
        heel_deg=floating.heel_deg,
        waterline=Waterline(normal=(x, y, z), height_mm=floating.height_mm),
    )
    if answer.rest == "capsized":
        return Marking(answer=answer, craft=craft, floating=None, sections=())
    rows = marked_bodies(build, loaded, floating, every_mm, stations_mm)
    bodies = tuple(body for body, _ in rows)
    said = (*answer.warnings, *_caveats(craft, bodies))
    return Marking(
        answer=replace(answer, bodies=bodies, warnings=said),
        craft=craft,
        floating=floating,
        sections=tuple(sections for _, sections in rows),
    )


def _begun(loaded: Loaded) -> MarksAnswer:
    """Return the answer before she is floated: whether her skin can carry the load at all."""
    craft = loaded.craft
    density = craft.water.density_kg_m3
    scale = tuple(one for one in caveats(craft, None, ()) if one.code in _OF_SCALE)
    short = short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=density)
    return MarksAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        load=loaded.marked,
        water=craft.water,
        rest="sinks" if short >= 0.0 else None,
        short_by_g=short if short >= 0.0 else None,
        trim_deg=None,
        heel_deg=None,
        waterline=None,
        bodies=(),
        warnings=(*scale, *load_caveats(craft), *loaded.said),
    )


def marks_fail(answer: MarksAnswer) -> bool:
    """Return whether she sinks or capsizes, so that there is nothing to mark."""
    return answer.rest in {"sinks", "capsized"}


def _caveats(craft: Craft, bodies: tuple[MarkedBody, ...]) -> tuple[Caveat, ...]:
    """Return what must be said beside the marks."""
    found = []
    if craft.center_of_gravity_mm is None:
        found.append(
            Caveat(
                code="no-cg",
                message="no center of gravity is known: the marks are those of a craft held level; "
                "give cg_mm, or x_mm and z_mm of every item in weights.csv",
            )
        )
    met = {body.name for body in bodies}
    dry = [body.name for body in craft.deck_bodies if body.name not in met]
    if dry:
        found.append(
            Caveat(
                code="not-met",
                message=f"the water does not meet {', '.join(dry)}: nothing to mark there",
            )
        )
    many = [
        f"{station.station_mm:.0f}"
        for body in bodies
        for station in body.stations
        if station.crossings > _MOST_BRANCHES
    ]
    if many:
        found.append(
            Caveat(
                code="meets-again",
                message="the water meets the section more than once a side at station "
                f"{', '.join(many)}: the table has the first place up from the keel, the outline "
                "all of them",
            )
        )
    return tuple(found)
