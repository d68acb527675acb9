"""The waterline station by station: the table behind --all."""

from hullcheck.answers.marking_records import MarkedBody, MarksAnswer, SideMark, StationMark
from hullcheck.report.display import shown
from hullcheck.report.fitting import fitting
from hullcheck.report.marking_text import first_screen
from hullcheck.report.marking_words import about, bare, known_mm, misses_words, place_words
from hullcheck.report.table_values import bare_length

_PLACE = 27


def all_lines(answer: MarksAnswer, sheets: str = "") -> list[str]:
    """Return the first screen and every station, at most 80 characters a line.

    Parameters
    ----------
    answer : MarksAnswer
        Where to mark the waterline.
    sheets : str, optional
        How many sheets of what paper are where.
    """
    lines = first_screen(answer, sheets)
    for body in answer.bodies:
        lines += ["", *_body_lines(body)]
    return lines


def _body_lines(body: MarkedBody) -> list[str]:
    """Return a body's name, the header and its stations."""
    unit = shown().length
    name = fitting((" ".join(body.name.split()),), _PLACE + 9)
    head = f"{'station':>8}  {'at':<{_PLACE}}{'starboard':>9}{'port':>7}"
    return [
        f"{name:<{_PLACE + 11}}{f'up from keel, {unit}':>15}{f'round skin, {unit}':>18}",
        f"{head}{'starboard':>11}{'port':>7}{'±':>6}",
        *(_row(station) for station in body.stations),
    ]


def _row(station: StationMark) -> str:
    """Return the row of a station."""
    place = fitting((place_words(station),), _PLACE - 1)
    line = f"{bare_length(station.station_mm):>8}  {place:<{_PLACE}}"
    sides = (station.starboard, station.port)
    if sides == (None, None):
        return f"{line}{misses_words(station)}"
    up = [_cell(side, "vertical_mm") for side in sides]
    girth = [_cell(side, "girth_mm") for side in sides]
    known = known_mm(station)
    within = "" if known is None else about(known).split(" ")[0]
    return f"{line}{up[0]:>9}{up[1]:>7}{girth[0]:>11}{girth[1]:>7}{within:>6}".rstrip()


def _cell(side: SideMark | None, name: str) -> str:
    """Return a distance, or a dash."""
    return "–" if side is None else bare(getattr(side, name))
