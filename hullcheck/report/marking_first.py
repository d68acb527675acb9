"""The first sheets of the marks: what was assumed, how to use them, and every distance."""

from collections.abc import Callable, Sequence
from typing import Final

from hullcheck.answers.marking_records import MarkedBody, MarksAnswer, SideMark, StationMark
from hullcheck.report import style
from hullcheck.report.display import shown
from hullcheck.report.marking_page import MARGIN, Paper, bare_sheet
from hullcheck.report.marking_words import (
    PRINT_WORDS,
    about,
    assumed_words,
    attitude_words,
    bare,
    known_mm,
    load_words,
    misses_words,
    place_words,
)
from hullcheck.report.sheet import Sheet
from hullcheck.report.table_values import bare_length, place
from hullcheck.report.words import water_words

Block = tuple[str, style.Type]

_ROW: Final = 13.0
_LINE: Final = 12.5
_STATION, _PLACE = 40.0, 48.0
_RIGHTS: Final = (268.0, 308.0, 376.0, 416.0, 458.0)
"""Right edges of the columns of numbers, from the margin [pt]."""
_HEADS: Final = ("starboard", "port", "starboard", "port", "±")
_PLACE_ROOM: Final = 168.0
_MOST_NUMBER: Final = 888
"""No sheet has a number that is wider."""
_HOW: Final = (
    "At a station measure up from the keel square to body x, or lay the strip of that station "
    "round the skin, its thick line on the keel: the lines by the word water are the waterline."
)
_SECTIONS: Final = "Cut the sections out as templates (from astern, starboard right)"
_BESIDE: Final = {
    "": "",
    "whole": ", or hold the side view flat beside her, keel on keel",
    "band": ", or hold the side view flat beside her, the ends of its waterline on hers",
}
_TUB: Final = (
    "where her side curves in, trust the strips. Check the marks in the tub before anything is "
    "painted."
)


def first_sheets(
    answer: MarksAnswer,
    paper: Paper,
    contents: Callable[[int], Sequence[str]],
    side_view: str = "whole",
) -> list[Sheet]:
    """Return the sheets with the table of every distance.

    Parameters
    ----------
    answer : MarksAnswer
        With at least one body.
    paper : Paper
    contents : callable
        Given how many sheets these are, what the sheets after them hold.
    side_view : str, default "whole"
        "whole", "band" where only a band of it is drawn, or "" where there is none.
    """
    sheet = bare_sheet(paper)
    blocks = [
        (facts(answer), style.FACTS),
        (PRINT_WORDS, style.BOLD_NAME),
        (_HOW, style.NAME),
        (f"{_SECTIONS}{_BESIDE[side_view]}; {_TUB}", style.NAME),
    ]
    # How many sheets the table takes is known behind it: the contents' room is kept until then.
    below = _blocks(sheet, blocks, paper, _headline(sheet, answer, paper))
    kept = [(words, style.NAME) for words in contents(_MOST_NUMBER)]
    y = below - _height(sheet, kept, paper) - 8.0
    sheets = [sheet]
    for body in answer.bodies:
        rows = list(body.stations)
        while True:
            fits = int((y - paper.bottom - 3.0 * _ROW) // _ROW)
            if fits < min(len(rows), 3):
                sheet, y = bare_sheet(paper), paper.top
                sheets.append(sheet)
                continue
            y = _table(sheet, body, rows[:fits], y) - _ROW
            rows = rows[fits:]
            if not rows:
                break
    _blocks(sheets[0], [(words, style.NAME) for words in contents(len(sheets))], paper, below)
    return sheets


def title(answer: MarksAnswer) -> str:
    """Return the finding: for what load, and how she lies."""
    return f"Waterline for {load_words(answer.load)}: {attitude_words(answer)}"


def facts(answer: MarksAnswer) -> str:
    """Return setup, water, center of gravity and what was assumed, in sentences."""
    center = answer.load.center_of_gravity_mm
    where = "CG not known" if center is None else f"CG at {place(center)}"
    setup = "" if answer.setup is None else f"Setup {answer.setup}. "
    said = f"{setup}{water_words(answer.water)}; {where}. Assumed: {assumed_words(answer.load)}; "
    return said[:1].upper() + said[1:] + "the hull as its mesh has it; still water."


def _headline(sheet: Sheet, answer: MarksAnswer, paper: Paper) -> float:
    """Write the finding, and return where it ends [pt]."""
    room = paper.room[0]
    y = paper.top - 6.0
    for line in sheet.wrapped(title(answer), style.HEADLINE, room):
        y -= 16.0
        sheet.text((MARGIN, y), sheet.fitted(line, style.HEADLINE, room), style.HEADLINE)
    return y - 4.0


def _blocks(sheet: Sheet, blocks: Sequence[Block], paper: Paper, y: float) -> float:
    """Write paragraphs from a height down, and return where they end [pt]."""
    room = paper.room[0]
    for words, kind in blocks:
        for line in sheet.wrapped(words, kind, room):
            y -= _LINE
            sheet.text((MARGIN, y), sheet.fitted(line, kind, room), kind)
        y -= 4.0
    return y


def _height(sheet: Sheet, blocks: Sequence[Block], paper: Paper) -> float:
    """Return how high paragraphs come out [pt]."""
    lines = [sheet.wrapped(words, kind, paper.room[0]) for words, kind in blocks]
    return sum(_LINE * len(one) + 4.0 for one in lines)


def _table(sheet: Sheet, body: MarkedBody, stations: Sequence[StationMark], top: float) -> float:
    """Write the rows of some stations, and return where they end [pt]."""
    unit = shown().length
    y = top - _ROW
    name = sheet.fitted(" ".join(body.name.split()), style.VIEW_TITLE, _PLACE_ROOM)
    sheet.text((MARGIN, y), name, style.VIEW_TITLE)
    for right, words in (
        (_RIGHTS[1], f"up from keel, {unit}"),
        (_RIGHTS[3], f"round skin, {unit}"),
    ):
        sheet.text((MARGIN + right, y), words, style.NOTE, side="right")
    y -= _ROW
    sheet.text((MARGIN + _STATION, y), "station", style.NOTE, side="right")
    for right, words in zip(_RIGHTS, _HEADS, strict=True):
        sheet.text((MARGIN + right, y), words, style.NOTE, side="right")
    sheet.line([(MARGIN, y - 4.0), (MARGIN + _RIGHTS[-1], y - 4.0)], width=style.HAIR)
    y -= 3.0
    for station in stations:
        y -= _ROW
        _row(sheet, station, y)
    return y


def _row(sheet: Sheet, station: StationMark, y: float) -> None:
    """Write the row of one station."""
    sheet.text((MARGIN + _STATION, y), bare_length(station.station_mm), style.BOLD_NAME,
               side="right")  # fmt: skip
    words = sheet.fitted(place_words(station), style.NAME, _PLACE_ROOM)
    if words:
        sheet.text((MARGIN + _PLACE, y), words, style.NAME)
    sides = (station.starboard, station.port)
    if sides == (None, None):
        sheet.text((MARGIN + _RIGHTS[-1], y), misses_words(station), style.NOTE, side="right")
        return
    known = known_mm(station)
    cells = [
        *(_cell(side, "vertical_mm") for side in sides),
        *(_cell(side, "girth_mm") for side in sides),
        "" if known is None else about(known).split(" ")[0],
    ]
    for right, cell in zip(_RIGHTS, cells, strict=True):
        if cell:
            kind = style.NAME if right == _RIGHTS[-1] else style.BOLD_NAME
            sheet.text((MARGIN + right, y), cell, kind, side="right")


def _cell(side: SideMark | None, name: str) -> str:
    """Return a distance, or a dash."""
    return "–" if side is None else bare(getattr(side, name))
