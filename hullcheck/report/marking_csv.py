"""The waterline as CSV: a row a station and side, numbers never rounded."""

from typing import Final

from hullcheck.answers.marking_records import MarkedBody, MarksAnswer, SideMark, StationMark
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "body",
    "station_mm",
    "at",
    "meets",
    "side",
    "vertical_mm",
    "vertical_plus_minus_mm",
    "girth_mm",
    "girth_plus_minus_mm",
    "x_mm",
    "y_mm",
    "z_mm",
    "keel_y_mm",
    "keel_z_mm",
    "keel_depth_mm",
)


def csv_text(answer: MarksAnswer) -> str:
    """Return the marks as CSV text with a header, starboard and port of each station.

    What is not there is empty. A text that a spreadsheet would run as a formula gets an apostrophe
    in front.
    """
    return csv_of(
        COLUMNS,
        (
            _cells(body, station, name, side)
            for body in answer.bodies
            for station in body.stations
            for name, side in (("starboard", station.starboard), ("port", station.port))
        ),
    )


def _cells(
    body: MarkedBody, station: StationMark, name: str, side: SideMark | None
) -> list[object]:
    """Return the cells of one side of a station."""
    here: list[object] = [None] * 7
    if side is not None:
        here = [
            side.vertical_mm,
            side.vertical_plus_minus_mm,
            side.girth_mm,
            side.girth_plus_minus_mm,
            *side.point_mm,
        ]
    return [
        body.name,
        station.station_mm,
        "; ".join(station.at),
        station.meets,
        name,
        *here,
        *station.keel_mm[1:],
        station.keel_depth_mm,
    ]
