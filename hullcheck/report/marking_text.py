"""Where to mark the waterline, in words: the first screen, the answer first."""

from typing import Final

from hullcheck.answers.marking_records import (
    LoadMarked,
    MarkedBody,
    MarksAnswer,
    SideMark,
    StationMark,
)
from hullcheck.report.bath_words import LABEL, WIDTH, fitted, row
from hullcheck.report.display import shown
from hullcheck.report.fitting import fitting
from hullcheck.report.marking_words import (
    about,
    assumed_words,
    attitude_words,
    bare,
    bath_words,
    known_mm,
    load_words,
)
from hullcheck.report.numbers import draft_text, mass_text, station_text
from hullcheck.report.words import water_words

CAUTION: Final = (
    "the marks are those of the mesh at this load, still water; check them in the tub before "
    "anything is painted. This is arithmetic on your files, no clearance to go on the water."
)
_SAMPLES: Final = 5


def first_screen(answer: MarksAnswer, sheets: str = "") -> list[str]:
    """Return the answer in at most seven lines of at most 80 characters.

    Parameters
    ----------
    answer : MarksAnswer
        Where to mark the waterline.
    sheets : str, optional
        How many sheets of what paper are where; without it how to get them.

    Returns
    -------
    list of str
        Who she is; how she lies and where the waterline runs; distances up from the keel and round
        the skin at a few stations; where its ends are; what was assumed; the sheets.
    """
    lines = [head_line(answer)]
    if answer.short_by_g is not None:
        over = mass_text(answer.short_by_g)
        return [*lines, f"Sinks: that is {over} more than her skin can carry. Nothing to mark."]
    if answer.rest == "capsized":
        return [*lines, "Capsizes: at this load she does not stay on her feet. Nothing to mark."]
    if not answer.bodies:
        return [*lines, "The water meets none of her bodies. Nothing to mark."]
    body = answer.bodies[0]
    rows = [
        ("Up", _samples(body, "vertical_mm", "from the keel")),
        ("Round", _samples(body, "girth_mm", "along the skin from the keel")),
        ("Ends", _ends(body)),
        ("Assumed", fitted(_assumed(answer.load))),
        ("Sheets", _sheets_words(sheets)),
    ]
    return [*lines, sentence(answer), *(row(label, text) for label, text in rows if text)]


def _sheets_words(sheets: str) -> str:
    """Return where the sheets are and how to print them; a file's name is never cut."""
    if not sheets:
        return "-o marks.pdf writes them at full size, A4; --paper letter"
    texts = (f"{sheets}: print at 100 %, measure both rulers", f"{sheets}: print at 100 %")
    return next((text for text in texts if len(text) <= WIDTH - LABEL), sheets)


def head_line(answer: MarksAnswer) -> str:
    """Return who she is, what floats and in what water."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    rest = f" · {load_words(answer.load)} · {water_words(answer.water)}"
    return f"{fitting((' '.join(name.split()),), WIDTH - len(rest))}{rest}"


def sentence(answer: MarksAnswer) -> str:
    """Return how she lies and how many stations there are to mark, in one sentence."""
    stations = [station for body in answer.bodies for station in body.stations]
    met = [station for station in stations if station.meets == "meets the water"]
    way = attitude_words(answer)
    if not met:
        return fitting((f"Waterline {way}: it meets none of these stations.",), WIDTH)
    count = f"{len(met)} station{'' if len(met) == 1 else 's'} to mark"
    if len(answer.bodies) > 1:
        count += f" on {len(answer.bodies)} bodies"
    known = [value for station in met if (value := known_mm(station)) is not None]
    within = f", ± {about(max(known))} at worst" if known else ""
    texts = (f"Waterline {way}: {count}{within}.", f"Waterline {way}: {count}.")
    return fitting(texts, WIDTH)


def _assumed(load: LoadMarked) -> tuple[str, ...]:
    """Return the load that was assumed, at length and in brief."""
    return (assumed_words(load), *((bath_words(load),) if load.in_the_bath else ()))


def _samples(body: MarkedBody, name: str, what: str) -> str:
    """Return distances at a few stations, starboard/port where they differ, as many as fit."""
    met = [s for s in body.stations if s.starboard is not None or s.port is not None]
    if not met:
        return ""
    texts = []
    for count in range(min(_SAMPLES, len(met)), 0, -1):
        chosen = [met[round((i + 0.5) * len(met) / count - 0.5)] for i in range(count)]
        said = ", ".join(f"station {station_text(s.station_mm)}: {_both(s, name)}" for s in chosen)
        said = said.replace(", station", ",")
        texts += [f"{what}, {said} {shown().length}", f"{said} {shown().length}"]
    return fitted(texts)


def _both(station: StationMark, name: str) -> str:
    """Return a distance of a station, starboard/port where they print otherwise."""
    texts = [_bare(side, name) for side in (station.starboard, station.port)]
    return texts[0] if texts[0] == texts[1] else f"{texts[0]}/{texts[1]}"


def _bare(side: SideMark | None, name: str) -> str:
    """Return a distance of a side, or a dash."""
    return "–" if side is None else bare(getattr(side, name))


def _ends(body: MarkedBody) -> str:
    """Return where the waterline begins and ends."""
    fore, aft = (
        f"station {station_text(point[0])} (z {draft_text(point[2])})"
        for point in (body.fore_mm, body.aft_mm)
    )
    return fitted((f"{body.name}: from {fore} to {aft}", f"from {fore} to {aft}"))
