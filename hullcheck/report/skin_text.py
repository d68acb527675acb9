"""How the files were read, in words: the first screen, the answer first."""

from collections.abc import Iterable, Sequence
from typing import Final

from hullcheck.answers.skin_records import InventedReport, SeamReport, SkinAnswer
from hullcheck.report.fitting import cut, fitting
from hullcheck.report.numbers import area_text, depth_text, height_text, station_text, volume_text
from hullcheck.report.skin_reading import read_words
from hullcheck.report.skin_words import (
    LEAST_MISMATCH_MM,
    file_name,
    fine_text,
    gap_text,
    has_unnamed,
    is_leak,
    is_nameless,
    known_words,
    place_name,
    short_name,
    with_state,
)
from hullcheck.report.words import shown_name

_LABEL: Final = 16
_WIDTH: Final = 80
_WALLS: Final = ("thin wall", "sheet")
_SOLID: Final = 0.9
"""Of the skin: with less material than this, adding the files up gives another volume."""


def first_screen(answer: SkinAnswer) -> list[str]:
    """Return how the files were read, in at most eight lines of at most 80 characters.

    Parameters
    ----------
    answer : SkinAnswer
        What the files make.

    Returns
    -------
    list of str
        What was made of what; the bodies where there are several; how; what had to be closed; where
        parts meet; what was found in them; what adding the files up would give; what is next.
    """
    rows = [
        _bodies(answer),
        ("Read as", read_words(answer)),
        ("Openings", _openings(answer)),
        _seams(answer),
        _found(answer),
        _plastic(answer),
        ("Next", _next(answer)),
    ]
    lines = [f"{label:<{_LABEL}}{_fitting(texts)}" for label, texts in filter(None, rows)]
    return [head_line(answer), *lines]


def head_line(answer: SkinAnswer) -> str:
    """Return what was made of what, and how well its volume is known."""
    parts, bodies = len(answer.parts), len(answer.bodies)
    read = f"{parts} part{'' if parts == 1 else 's'}" if parts else "offsets"
    made = "one outer skin of" if bodies == 1 else f"{bodies} bodies of"
    volume = volume_text(answer.volume_cm3)
    known = [""]
    if answer.error_cm3 > 0.0:
        whole = known_words(answer.volume_cm3, answer.error_cm3)
        known = [f", {whole}", f", {whole.removeprefix('known to ').partition(' (')[0]}"]
    name = " ".join(answer.name.split())
    tails = [f" · {read} → {made} {volume}{end}" for end in known]
    tail = next((t for t in tails if len(name) + len(t) <= _WIDTH), tails[-1])
    return f"{cut(name, _WIDTH - len(tail))}{tail}"


def names_in_a_line(pieces: Iterable[InventedReport], width: int) -> str:
    """Return as many names as fit a width, and how many more there are."""
    return _listed([_stated(piece) for piece in pieces], width)


def _bodies(answer: SkinAnswer) -> tuple[str, list[str]] | None:
    """Return each body's volume; nothing where there is one."""
    if len(answer.bodies) == 1:
        return None
    said = [f"{shown_name(b.name)} {volume_text(b.volume_cm3)}" for b in answer.bodies]
    return "Bodies", [_listed(said, _WIDTH - _LABEL)]


def _openings(answer: SkinAnswer) -> list[str]:
    """Return what had to be closed, and how it stands to the water."""
    openings = answer.openings
    if not openings:
        return [_none(answer)]
    head = f"{len(openings)} closed for buoyancy"
    heights = [piece.height_mm for piece in openings if piece.height_mm is not None]
    if len(heights) < len(openings):
        names = names_in_a_line(openings, _WIDTH - _LABEL - len(head) - 2)
        return [f"{head}: {names}"]
    wet = [piece for piece in openings if is_leak(piece)]
    if wet:
        deepest = min(wet, key=lambda piece: piece.height_mm or 0.0)
        count = f"{len(wet)} of them under water"
        depth = depth_text(-(deepest.height_mm or 0.0))
        return [
            f"{head}, {count}: {name}, {depth} deep"
            for name in (_stated(deepest), short_name(deepest), place_name(deepest))
        ] + [f"{head}, {count}, up to {depth} deep"]
    # Of those at one height the one to act on is named.
    least = min(heights)
    level = [p for p in openings if height_text(p.height_mm or 0.0) == height_text(least)]
    lowest = min(level, key=lambda piece: piece.state is not None)
    return _dry(openings, lowest, head)


def _dry(openings: Sequence[InventedReport], lowest: InventedReport, head: str) -> list[str]:
    """Return how openings that all stand above the water do, the fullest first."""
    every = "all " if len(openings) > 1 else ""
    height = height_text(lowest.height_mm or 0.0)
    above, dry = (f"{head}, {every}{how}; lowest {height}" for how in ("above the water", "dry"))
    by = f"{head}, dry by {height}"
    named, place = with_state(lowest, short_name(lowest)), place_name(lowest)
    return [
        *(f"{start}: {named}" for start in (above, dry, by)),
        *(f"{start}, {place}" for start in (above, dry)),
        f"{by}: {place}",
        above,
    ]


def _stated(piece: InventedReport) -> str:
    """Return what a piece is called, with its state where one is stated."""
    name = short_name(piece)
    return name if piece.state is None else with_state(piece, name)


def _none(answer: SkinAnswer) -> str:
    """Return that no opening had to be closed, and what else no file has."""
    kinds = {piece.kind for body in answer.bodies for piece in body.invented}
    if "lid" in kinds:
        return "none but those the sheet's lids close"
    if "seam" in kinds:
        return "none to close: no file lacks more than the seams between parts"
    if has_unnamed(answer):
        unnamed = sum(body.checks.invented_area_cm2 for body in answer.bodies)
        return f"none named, yet {area_text(unnamed)} of the skin stand in no file"
    if not answer.parts:
        return "none: offsets describe a closed skin"
    return "none to close: every face of the skin is a face of the files"


def _seams(answer: SkinAnswer) -> tuple[str, list[str]] | None:
    """Return where parts meet, and the widest gap; nothing where there is one part."""
    seams = [seam for body in answer.bodies for seam in body.seams]
    if not seams:
        return None if len(answer.parts) < 2 else ("Seams", ["none found: no two ends face"])
    worst = max(seams, key=lambda seam: seam.mismatch_mm)
    count = f"{len(seams)} seam{'' if len(seams) == 1 else 's'}"
    if worst.mismatch_mm > LEAST_MISMATCH_MM:
        one, two = (shown_name(part) for part in worst.parts)
        off = f"outlines {fine_text(worst.mismatch_mm)} apart"
        place = f"station {station_text(worst.station_mm)}"
        return "Seams", [
            f"{count}; {one} and {two}: {off}, {place}",
            f"{count}; {off} at {place}: is a part out of place?",
        ]
    stations = [station_text(seam.station_mm) for seam in seams]
    gaps = _gaps(seams)
    whole = f"{count} at station{'' if len(seams) == 1 else 's'} {', '.join(stations)}: {gaps}"
    return "Seams", [whole, f"{count}: {gaps}"]


def _gaps(seams: list[SeamReport]) -> str:
    """Return the widest gap and the deepest overlap."""
    widest = max(seams, key=lambda seam: seam.gap_mm)
    deepest = min(seams, key=lambda seam: seam.gap_mm)
    said, one = [], len(seams) == 1
    if gap_text(widest.gap_mm) == "touching":
        said.append("touching")
    elif widest.gap_mm > 0.0:
        said.append(gap_text(widest.gap_mm) if one else f"gap up to {fine_text(widest.gap_mm)}")
    if gap_text(deepest.gap_mm).startswith("overlap"):
        said.append(gap_text(deepest.gap_mm))
    return ", ".join(said)


def _found(answer: SkinAnswer) -> tuple[str, list[str]] | None:
    """Return what was repaired or noticed first, and how much more."""
    if not answer.parts:
        return None
    clauses = [
        f"{file_name(part)}: {' '.join(clause.split())}"
        for part in answer.parts
        for clause in part.found
    ]
    if not clauses:
        return "Found", ["nothing to repair"]
    more = f"; {len(clauses) - 1} more, see --all" if len(clauses) > 1 else ""
    return "Found", [f"{cut(clauses[0], _WIDTH - _LABEL - len(more))}{more}"]


def _plastic(answer: SkinAnswer) -> tuple[str, list[str]] | None:
    """Return what the walls' own volume comes to, where that is not the skin's.

    A closed skin's volume is no plastic, and counts on neither side.
    """
    walls, around = 0.0, 0.0
    for body in answer.bodies:
        parts = [part for part in body.parts if part.kind in _WALLS]
        known = [p.material_volume_cm3 for p in parts if p.material_volume_cm3 is not None]
        if known:
            walls += sum(known)
            around += body.volume_cm3
    if not walls or walls >= _SOLID * around:
        return None
    share = 100.0 * walls / around
    return "Plastic", [
        f"{volume_text(walls)} in the walls, {share:.0f} % of what their skin displaces"
    ]


def _next(answer: SkinAnswer) -> list[str]:
    """Return what is to be done next."""
    if not all(body.watertight for body in answer.bodies):
        return ["repair what the notes name: until it closes no volume holds"]
    openings = [piece for piece in answer.openings if piece.state is None]
    if openings:
        return _name_them(openings)
    if answer.waterline is None:
        return ["hullcheck float: give her mass, and see what lies under water"]
    return ["hullcheck float: where she floats"]


def _name_them(openings: Sequence[InventedReport]) -> list[str]:
    """Return what to write in the sheet of openings whose state is not stated."""
    wet = [piece for piece in openings if is_leak(piece)]
    if wet:
        return _to_name(wet, "a [[lid]] for {}, or an [[opening]] with its state")
    if len(openings) > 1:
        return _to_name(openings, "an [[opening]] with its state for {}")
    if is_nameless(openings[0]):
        return _to_name(openings, "an [[opening]] for {}: open, taped or sealed")
    return _to_name(openings, "the state of {} in the sheet: open, taped or sealed")


def _to_name(pieces: Sequence[InventedReport], words: str) -> list[str]:
    """Return words with the names of pieces in them, as many as fit."""
    room = _WIDTH - _LABEL - len(words.format(""))
    return [words.format(_listed([place_name(piece) for piece in pieces], room))]


def _listed(names: list[str], width: int) -> str:
    """Return names in a row, as many as fit a width, and how many more there are."""
    for count in range(len(names), 0, -1):
        more = f" and {len(names) - count} more" if count < len(names) else ""
        text = f"{', '.join(names[:count])}{more}"
        if len(text) <= width:
            return text
    return cut(names[0], width)


def _fitting(texts: list[str]) -> str:
    """Return the first text that fits behind a label; the last one cut if none does."""
    return fitting(texts, _WIDTH - _LABEL)
