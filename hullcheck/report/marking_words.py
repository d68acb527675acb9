"""What the marks of a waterline are called, on the screen and on paper alike."""

from typing import Final

from hullcheck.answers.marking_records import LoadMarked, MarkedBody, MarksAnswer, StationMark
from hullcheck.report.display import shown
from hullcheck.report.numbers import draft_text, mass_text, plus_minus_text, station_text
from hullcheck.report.words import heel_words, trim_words

ALIKE_MM: Final = 0.25
"""Sides that differ by less than this [mm] are printed as one."""
RULER_MM: Final = 100.0
RULER_OFF_MM: Final = 0.5
"""A ruler printed this far off its length spoils a girth of 100 mm by half a millimeter."""
PRINT_WORDS: Final = (
    "Print at 100 %, not fitted to the page, and measure both rulers on every sheet: each must be "
    "99.5 to 100.5 mm long, or the sheets mark the wrong line."
)


def bare(length_mm: float) -> str:
    """Return a distance to mark at [mm] to the nearest 0.5 mm, in the unit shown, without it."""
    return draft_text(length_mm).rsplit(" ", 1)[0]


def about(length_mm: float) -> str:
    """Return an uncertainty [mm] in the unit shown, with it: "1.1 mm"."""
    return plus_minus_text(f"0 {shown().length}", length_mm).partition("± ")[2]


def known_mm(station: StationMark) -> float | None:
    """Return how well the distances at a station are known, the worse of them [mm]."""
    known = [
        value
        for side in (station.starboard, station.port)
        if side is not None
        for value in (side.girth_plus_minus_mm, side.vertical_plus_minus_mm)
        if value is not None
    ]
    return max(known, default=None)


def sides_alike(station: StationMark) -> bool:
    """Return whether both sides of a station are marked at the same distances."""
    one, other = station.starboard, station.port
    if one is None or other is None:
        return one is other
    return (
        abs(one.girth_mm - other.girth_mm) < ALIKE_MM
        and abs(one.vertical_mm - other.vertical_mm) < ALIKE_MM
    )


def body_alike(body: MarkedBody) -> bool:
    """Return whether a body is marked alike on both sides at every station."""
    return all(sides_alike(station) for station in body.stations)


def place_words(station: StationMark) -> str:
    """Return what is at a station: "step, just ahead; nose joint"; "" for one of the even row."""
    return "; ".join(
        "step, just ahead" if name == "step" else " ".join(name.split()) for name in station.at
    )


def misses_words(station: StationMark) -> str:
    """Return how a section misses the water."""
    if station.meets == "under water":
        return "under water"
    return f"keel {draft_text(max(-station.keel_depth_mm, 0.0))} clear of the water"


def distance_words(station: StationMark) -> str:
    """Return the distances at a station, one side or both: "up 37.5, round 78 mm"."""
    sides = (("starboard", station.starboard), ("port", station.port))
    known = [(name, side) for name, side in sides if side is not None]
    if not known:
        return misses_words(station)
    if len(known) == 2 and sides_alike(station):
        known = [("", known[0][1])]
    said = [
        f"{name} up {bare(side.vertical_mm)}, round {bare(side.girth_mm)}".strip()
        for name, side in known
    ]
    return f"{'; '.join(said)} {shown().length}"


def attitude_words(answer: MarksAnswer) -> str:
    """Return how she lies: "1.2° bow up, level across"."""
    if answer.trim_deg is None or answer.heel_deg is None:
        return "she does not float"
    held = "held level: no CG is known" if answer.rest is None else ""
    return held or f"{trim_words(answer.trim_deg)}, {heel_words(answer.heel_deg)}"


def assumed_words(load: LoadMarked) -> str:
    """Return the load that was assumed, without a full stop."""
    known = known_words(load)
    if not load.in_the_bath:
        return known
    return f"{bath_words(load)}; aboard: {known}"


def known_words(load: LoadMarked) -> str:
    """Return where the mass comes from: "9 of 14 items weighed, the rest as planned"."""
    if load.items == 0:
        return "mass and CG as the build sheet gives them"
    if load.weighed < load.items:
        return f"{load.weighed} of {load.items} items weighed, the rest as planned"
    return "its one item weighed" if load.items == 1 else f"all {load.items} items weighed"


def bath_words(load: LoadMarked) -> str:
    """Return what floats in the bath: "what is aboard and a bag of 165 g at station 142, z 12"."""
    if load.bag_g is None:
        return "what is aboard, without a bag"
    at = ""
    if load.bag_mm is not None:
        at = f" at station {station_text(load.bag_mm[0])}, z {station_text(load.bag_mm[2])}"
    return f"what is aboard and a bag of {mass_text(load.bag_g)}{at}"


def load_words(load: LoadMarked) -> str:
    """Return what floats: "706 g", "bath test at 706 g"."""
    return f"{'bath test at ' if load.in_the_bath else ''}{mass_text(load.mass_g)}"
