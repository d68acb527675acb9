"""Tables of offsets that make no sense, each refused by row with its value and what to do."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from offset_rows import offset_rows, points_of, prism_rows

from hullcheck.errors import InputError
from hullcheck.geometry.offsets import OffsetPoint, offset_body

SECTION = [("keel", 0, 0), ("chine", 50, 15), ("deck edge", 55, 60), ("deck center", 0, 70)]
RAISED = [("keel", 0, 11), ("chine", 50, 26)]
BOW = [(0, line, 0, 60) for line, _, _ in SECTION]
HULL = BOW + prism_rows(SECTION, [120]) + prism_rows(RAISED, [120])
HULL += prism_rows(RAISED + SECTION[2:], [400])
"""Rows 2 to 5 the bow, 6 to 9 a section, 10 and 11 behind its step, 12 to 15 the stern."""


def changed(row, *, station=None, line=None, half_breadth=None, height=None):
    """Return the hull's rows with some of one row's values changed."""
    rows = [list(r) for r in HULL]
    for place, value in enumerate((station, line, half_breadth, height)):
        if value is not None:
            rows[row - 2][place] = value
    return rows


def without(*gone):
    """Return the hull's rows without some, the others numbered as before."""
    return [point for point in points_of(HULL) if point.row not in gone]


def section_of(*points):
    """Return the rows of a prism of the named lines' points."""
    return prism_rows(points, [0, 100])


def test_the_hull_that_is_spoiled_here_is_sound():
    """Without a change there is nothing to refuse."""
    body = offset_body(points_of(HULL))
    assert body.lines == ("keel", "chine", "deck edge", "deck center")
    assert body.stations_mm == (0.0, 120.0, 400.0)


REFUSED = {
    "no rows": ([], "there are no offsets; give at least 2 lines at 2 stations"),
    "one line": (
        [(0, "keel", 10, 0), (50, "keel", 10, 0)],
        "row 2 to row 3: the only line is keel; a body needs at least 2, from keel to deck",
    ),
    "one station": (
        prism_rows(SECTION, [120]),
        "row 2 to row 5: all are at station 120 mm; a body needs at least 2 stations",
    ),
    "no name": (
        changed(7, line=" _ "),
        "row 7: its line has no name; write keel, chine, deck edge, deck center or a name of your",
    ),
    "unsorted": (
        changed(12, station=80.5),
        "row 12: keel at station 80.5 mm after 120 mm: sort the rows by station",
    ),
    "three rows": (
        [*HULL[:10], (120, "chine", 49, 30), *HULL[10:]],
        (
            "row 12: chine at station 120 mm for the third time, after rows 7 and 11; a step has "
            "two, the forward one first: leave one out"
        ),
    ),
    "twice the same": (
        changed(10, height=0),
        (
            "row 10: keel at station 120 mm is the same as in row 6; leave one out, or give both "
            "points of a step"
        ),
    ),
    "negative half-breadth": (
        changed(7, half_breadth=-50),
        "row 7: half-breadth -50 mm is below 0; give the distance from the center plane",
    ),
    "station not a number": (
        changed(7, station=float("nan")),
        "row 7: station is nan; write a number of mm",
    ),
    "half-breadth not finite": (
        changed(7, half_breadth=float("inf")),
        "row 7: half-breadth is inf; write a number of mm",
    ),
    "height not finite": (
        changed(7, height=float("-inf")),
        "row 7: height is -inf; write a number of mm",
    ),
    "height out of this world": (
        changed(7, height=2e7),
        "row 7: height 20000000 mm is beyond 100000 mm; write it in mm",
    ),
    "step of the keel backwards": (
        changed(10, height=-11),
        (
            "row 6: the forward keel at station 120 mm (height 0 mm) is higher than the one behind "
            "it (-11 mm, row 10); a step goes up aft, and of two rows the first is the forward "
            "one: swap rows 6 and 10"
        ),
    ),
    "step of the chine backwards": (
        changed(11, height=14.5),
        (
            "row 7: the forward chine at station 120 mm (height 15 mm) is higher than the one "
            "behind it (14.5 mm, row 11)"
        ),
    ),
    "step at the stern": (
        [*HULL, (400, "keel", 0, 12)],
        (
            "row 16: a second keel at station 400 mm, the last of all; a step has skin on both "
            "sides: leave out row 12 or 16"
        ),
    ),
    "step at the bow": (
        [*HULL[:4], (0, "keel", 0, 61), *HULL[4:]],
        (
            "row 6: a second keel at station 0 mm, the first of all; a step has skin on both "
            "sides: leave out row 2 or 6"
        ),
    ),
    "edge below chine": (
        changed(8, height=14),
        (
            "row 8: at station 120 mm the deck edge (height 14 mm) is below the chine (15 mm, row "
            "7); look whether the two are exchanged"
        ),
    ),
    "edge below the chine behind a step": (
        changed(8, height=25),
        "row 8: at station 120 mm the deck edge (height 25 mm) is below the chine (26 mm, row 11)",
    ),
    "lines crossed": (
        section_of(("keel", 0, 0), ("bilge", 50, 60), ("rail", 55, 15), ("deck center", 0, 70)),
        (
            "row 4: at station 0 mm rail and bilge (row 3) cross: the section from keel to deck "
            "runs through itself there"
        ),
    ),
    "lines crossed behind a step": (
        changed(10, height=80),
        "row 8: at station 120 mm deck edge and chine (row 11) cross",
    ),
    "crossed at a corner": (
        section_of(("keel", 0, 0), ("a", 40, 0), ("b", 40, 20), ("c", 20, 0), ("d", 10, -20)),
        "row 5: at station 0 mm c and a (row 3) cross",
    ),
    "deck to keel": (
        section_of(*SECTION[::-1]),
        (
            "row 2: at station 0 mm the lines run from deck to keel, deck center at height 70 mm "
            "and keel at 0 mm; list the lines from keel to deck"
        ),
    ),
    "no breadth": (
        section_of(("keel", 0, 0), ("deck", 0, 50)),
        (
            "row 2 to row 5: the lines enclose no volume, 0 mm³; give half-breadths above 0 mm and "
            "heights that differ"
        ),
    ),
    "no height": (
        section_of(("keel", 0, 5), ("deck", 50, 5)),
        "row 2 to row 5: the lines enclose no volume, 0 mm³",
    ),
}


@pytest.mark.parametrize("case", REFUSED)
@pytest.mark.parametrize("smooth", [False, True], ids=["straight", "smooth"])
def test_what_makes_no_sense_is_refused_by_row(case, smooth):
    """The message names the row, the value with its unit, and what to do."""
    rows, message = REFUSED[case]
    with pytest.raises(InputError, match=f"^{re.escape(message)}"):
        offset_body(points_of(rows), smooth=smooth)


@pytest.mark.parametrize(
    ("gone", "message"),
    [
        ((13,), "row 12: station 400 mm has no chine in its 3 rows; every line needs a point at"),
        ((2, 4, 5), "row 3: station 0 mm has no keel in the only row; every line needs a point"),
        ((6, 10), "row 7: station 120 mm has no keel in its 4 rows; every line needs a point at"),
    ],
)
def test_a_missing_point_is_refused(gone, message):
    """The station and the line are named, and the first row that stands at the station."""
    with pytest.raises(InputError, match=f"^{re.escape(message)}"):
        offset_body(without(*gone))


@pytest.mark.parametrize(
    "rows",
    [
        pytest.param(changed(11, height=15, half_breadth=45), id="chine steps in, not up"),
        pytest.param(changed(8, height=26, half_breadth=50), id="deck edge on the chine"),
        pytest.param(
            [(0, line, 0, 60 if line != "keel" else 20) for line, _, _ in SECTION] + HULL[4:],
            id="chine on the stem",
        ),
        pytest.param(
            HULL[:10] + [(400, line, y, 40) for line, y, _ in SECTION], id="level edge aft"
        ),
        pytest.param(HULL[:10] + [(400, line, 0, z) for line, _, z in SECTION], id="sternpost"),
    ],
)
def test_lines_that_only_touch_are_taken(rows):
    """Lines may meet, at a stem or where a body ends in an edge; that is no crossing."""
    assert len(offset_body(points_of(rows)).triangles_mm) > 0


@given(rows=offset_rows(), data=st.data())
@settings(max_examples=60)
def test_any_missing_point_is_refused(rows, data):
    """Leave out both rows of any line at any station: that line and station are named."""
    station, line, _, _ = data.draw(st.sampled_from(rows))
    left = [row for row in rows if row[:2] != (station, line)]
    if not any(row[0] == station for row in left):
        return
    number = next(n for n, row in enumerate(left, start=2) if row[0] == station)
    with pytest.raises(
        InputError, match=rf"^row {number}: station {station:.10g} mm has no {line}"
    ):
        offset_body(points_of(left))


@given(rows=offset_rows(), data=st.data())
@settings(max_examples=60)
def test_stations_out_of_order_are_refused(rows, data):
    """Move any row but a line's first to before the station of the row above it in its line."""
    names = [row[1] for row in rows]
    later = [i for i, row in enumerate(rows) if names.index(row[1]) != i]
    at = data.draw(st.sampled_from(later))
    above = max(i for i in range(at) if names[i] == names[at])
    station = rows[above][0] - 1.0
    spoiled = [*rows[:at], (station, *rows[at][1:]), *rows[at + 1 :]]
    message = rf"^row {at + 2}: {names[at]} at station {station:.10g} mm after "
    with pytest.raises(InputError, match=message):
        offset_body(points_of(spoiled))


def test_a_line_named_once_is_taken_for_a_slip():
    """A line that occurs at few stations is refused by its row, with the line it may have been."""
    points = [
        OffsetPoint(
            row=row, station_mm=100.0 * station, line=line, half_breadth_mm=breadth, height_mm=high
        )
        for row, (station, line, breadth, high) in enumerate(
            (
                (station, "chien" if (station, line) == (2, "chine") else line, breadth, high)
                for station in range(4)
                for line, breadth, high in (
                    ("keel", 0, 0),
                    ("chine", 40, 20),
                    ("deck edge", 42, 60),
                )
            ),
            start=2,
        )
    ]
    with pytest.raises(
        InputError,
        match=r"row 9: the line chien occurs at 1 of 4 stations; did you mean chine\?",
    ):
        offset_body(points)
