"""The marks of a waterline as full-size sheets of paper: the PDF, the same bytes every time."""

import io
from dataclasses import dataclass
from functools import partial
from typing import Final

from hullcheck.answers.marking_answer import Marking
from hullcheck.errors import InputError
from hullcheck.report import style
from hullcheck.report.marking_first import facts, first_sheets, title
from hullcheck.report.marking_page import (
    Paper,
    Placed,
    bare_sheet,
    draw_placed,
    finish,
    heading_room,
    packed,
)
from hullcheck.report.marking_pieces import PT_PER_MM, Piece
from hullcheck.report.marking_sections import section_piece, station_title, strip_piece
from hullcheck.report.marking_side import CUT_OFF, side_pieces
from hullcheck.report.marking_tiles import Tile, tiles_of
from hullcheck.report.marking_words import load_words
from hullcheck.report.sheet import Sheet
from hullcheck.report.words import water_words

MOST_SHEETS: Final = 120
_KINDS: Final = (("side view", "side view"), ("section", "sections"), ("strip", "strips"))
_CUT_ALLOWANCE: Final = 1.0
_NAME: Final = "marks"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarkingSheets:
    """The sheets of a marking.

    Attributes
    ----------
    paper : Paper
    sheets : tuple of Sheet
        In their order.
    placed : tuple of tuple of Placed
        What is drawn at full size on each of them; empty on those with the table.
    title, description : str
        For the file.
    """

    paper: Paper
    sheets: tuple[Sheet, ...]
    placed: tuple[tuple[Placed, ...], ...]
    title: str
    description: str

    @property
    def words(self) -> str:
        """How many sheets of what paper."""
        count = len(self.sheets)
        return f"{count} sheet{'' if count == 1 else 's'} of {self.paper.title}"

    def pdf(self) -> bytes:
        """Return the sheets as the bytes of a PDF file, without dates."""
        from matplotlib.backends.backend_pdf import PdfPages

        buffer = io.BytesIO()
        metadata = {
            "Creator": "hullcheck",
            "Producer": None,
            "CreationDate": None,
            "Title": self.title,
            "Subject": self.description,
        }
        with style.context(_NAME), PdfPages(buffer, metadata=metadata) as pages:
            for sheet in self.sheets:
                pages.savefig(sheet.figure)
        return buffer.getvalue()


def marking_sheets(
    marking: Marking, paper_name: str = "a4", *, side_view: bool = True
) -> MarkingSheets:
    """Return a waterline's marks as sheets of paper at full size.

    Parameters
    ----------
    marking : Marking
        With at least one body that the water meets.
    paper_name : str, default "a4"
        "a4" or "letter".
    side_view : bool, default True
        Whether the side view is drawn. Of one that is higher than a sheet only a band at the water
        is.

    Returns
    -------
    MarkingSheets
        The table first, then the side view, the sections, the strips; a ruler of 100 mm along both
        edges of every sheet.

    Raises
    ------
    InputError
        If it would take more than 120 sheets, or there is nothing to mark.
    """
    answer, paper = marking.answer, Paper.of(paper_name)
    if not answer.bodies:
        raise InputError(f"{answer.craft}: there is no waterline to mark, so no sheets are made")
    with style.context(_NAME):
        pages = _packed(marking, paper, side_view=side_view)
        sheets = first_sheets(answer, paper, partial(_contents, pages), _side_drawn(pages))
        first = len(sheets)
        if first + len(pages) > MOST_SHEETS:
            raise InputError(_too_many(pages, first, paper))
        for page in pages:
            sheets.append(bare_sheet(paper))
            for placed in page:
                draw_placed(sheets[-1], placed, paper)
        name = " ".join(answer.craft.split())
        load = f"Waterline for {load_words(answer.load)}, {water_words(answer.water)}"
        load += "" if answer.setup is None else f", {' '.join(answer.setup.split())}"
        for number, sheet in enumerate(sheets):
            finish(sheet, paper, name, load, (number + 1, len(sheets)))
    return MarkingSheets(
        paper=paper,
        sheets=tuple(sheets),
        placed=(((),) * first) + tuple(tuple(page) for page in pages),
        title=f"{name}: {title(answer)}",
        description=facts(answer),
    )


def _contents(pages: list[list[Placed]], after: int) -> list[str]:
    """Return what the sheets after the table hold, in a sentence."""
    said = []
    for kind, name in _KINDS:
        numbers = [
            number
            for number, page in enumerate(pages, start=after + 1)
            if any(placed.tile.piece.kind == kind for placed in page)
        ]
        if numbers:
            first, last = numbers[0], numbers[-1]
            span = f"sheet {first}" if first == last else f"sheets {first}–{last}"
            said.append(f"{name}, {span}")
    return [f"At full size: {'; '.join(said)}."] if said else []


def _side_drawn(pages: list[list[Placed]]) -> str:
    """Return how the side view is drawn: "whole", "band" where any is a band, "" where not."""
    pieces = [placed.tile.piece for page in pages for placed in page]
    titles = [piece.title for piece in pieces if piece.kind == "side view"]
    if not titles:
        return ""
    return "band" if any(title.endswith(CUT_OFF) for title in titles) else "whole"


def _too_many(pages: list[list[Placed]], first: int, paper: Paper) -> str:
    """Return that there are too many sheets, what takes them, and what makes them fewer."""
    side = sum(any(p.tile.piece.kind == "side view" for p in page) for page in pages)
    rest = first + len(pages) - side
    taken = f", {side} of them with the side view" if side else ""
    fewer, less = "ask for fewer stations (--every, --stations)", "leave it out (--no-side)"
    if side and rest <= MOST_SHEETS:
        fewer = less if side >= MOST_SHEETS else f"{less}, or {fewer}"
    elif side >= MOST_SHEETS:
        fewer = f"{less}, and {fewer}"
    count = f"{rest + side} sheets of {paper.title}"
    return f"the marks take {count}{taken}, at most {MOST_SHEETS}: {fewer}"


def _packed(marking: Marking, paper: Paper, *, side_view: bool) -> list[list[Placed]]:
    """Return what is drawn at full size on its sheets, kind by kind."""
    measure = bare_sheet(paper)
    several = len(marking.answer.bodies) > 1
    pieces = []
    if side_view:
        most_mm = (paper.room[1] - heading_room(2, 1)) / PT_PER_MM
        pieces = side_pieces(marking, measure.width_of, several=several, most_mm=most_mm)
    for body, sections in zip(marking.answer.bodies, marking.sections, strict=True):
        for station, section in zip(body.stations, sections, strict=True):
            name = station_title(body, station, several=several)
            if station.crossings and marking.floating is not None:
                pieces.append(section_piece(section, station, name, marking.floating))
            strip = strip_piece(station, name)
            if strip is not None:
                pieces.append(strip)
    tiles = [
        tile
        for kind, _ in _KINDS
        for piece in pieces
        if piece.kind == kind
        for tile in _tiles(piece, paper)
    ]
    return packed(tiles, paper)


def _tiles(piece: Piece, paper: Paper) -> list[Tile]:
    """Return a piece in tiles that fit the paper with what stands above them."""
    width, height = (size / PT_PER_MM for size in paper.room)
    rows = 1
    while True:
        room = height - heading_room(2, rows) / PT_PER_MM
        tiles = tiles_of(piece, width - _CUT_ALLOWANCE, room)
        if tiles[0].rows <= rows:
            break
        rows = tiles[0].rows
    return tiles
