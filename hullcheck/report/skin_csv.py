"""What had to be invented of an outer skin as CSV: a row a piece, numbers never rounded."""

from typing import Final

from hullcheck.answers.skin_records import InventedReport, SkinAnswer
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "body",
    "name",
    "kind",
    "state",
    "area_cm2",
    "length_mm",
    "width_mm",
    "lowest_x_mm",
    "lowest_y_mm",
    "lowest_z_mm",
    "height_mm",
    "under_water",
    "area_under_water_cm2",
    "error_cm3",
)
_SAID: Final = {True: "yes", False: "no", None: None}


def csv_text(answer: SkinAnswer) -> str:
    """Return the invented pieces as CSV text with a header; what has no answer is empty."""
    return csv_of(
        COLUMNS,
        ([body.name, *_cells(piece)] for body in answer.bodies for piece in body.invented),
    )


def _cells(piece: InventedReport) -> list[object]:
    """Return a piece's cells after its body's name."""
    return [
        piece.name,
        piece.kind,
        piece.state,
        piece.area_cm2,
        *piece.size_mm,
        *piece.lowest_mm,
        piece.height_mm,
        _SAID[piece.under_water],
        piece.area_under_water_cm2,
        piece.error_cm3,
    ]
