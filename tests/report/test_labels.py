"""Labels find room: pushed apart in order, off lines and off each other."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from hullcheck.report.labels import Room, pushed_apart
from hullcheck.report.sheet import Box
from hullcheck.report.spread import spread, together


@given(
    st.lists(
        st.tuples(st.floats(min_value=0.0, max_value=500.0), st.floats(5.0, 60.0)),
        min_size=1,
        max_size=6,
    )
)
def test_blocks_keep_order_gap_and_row(blocks):
    """Blocks that fit stay in order and in the row, half a gap apart at the least."""
    blocks = sorted(blocks)
    wanted, widths = [b[0] for b in blocks], [b[1] for b in blocks]
    lefts = pushed_apart(wanted, widths, 9.0, 0.0, 560.0)
    for i in range(len(lefts) - 1):
        # Half a gap: a shift under 2.5 pt is not made for the other half.
        assert lefts[i] + widths[i] + 4.5 <= lefts[i + 1] + 1e-6
    assert lefts[0] >= -1e-6
    assert lefts[-1] + widths[-1] <= 560.0 + 1e-6


def test_blocks_with_room_are_not_moved():
    """Labels that do not touch stand where they want to."""
    assert pushed_apart([10.0, 100.0, 300.0], [50.0, 50.0, 50.0], 9.0, 0.0, 560.0) == [
        10.0, 100.0, 300.0,
    ]  # fmt: skip


def test_two_that_touch_share_the_shift():
    """Two labels wanting one place are moved by the same, one each way."""
    assert pushed_apart([200.0, 200.0], [40.0, 40.0], 10.0, 0.0, 560.0) == [175.0, 225.0]


def test_room_prefers_a_free_place_to_a_hair_line_to_a_line_to_a_label():
    """The cost of a place grows from free to hair line to line to label."""
    room = Room()
    room.take(Box(left=0.0, bottom=0.0, right=10.0, top=10.0))
    room.line([(0.0, 50.0), (100.0, 50.0)])
    room.line([(0.0, 80.0), (100.0, 80.0)], hair=True)
    places = [
        Box(left=2.0, bottom=y, right=8.0, top=y + 4.0) for y in (20.0, 78.0, 48.0, 2.0)
    ]  # fmt: skip
    costs = [room.cost(place) for place in places]
    assert costs[0] == 0.0
    assert costs == sorted(costs)
    assert len(set(costs)) == 4
    assert room.best([[place] for place in reversed(places)]) == 3


@given(st.lists(st.floats(-50.0, 50.0), min_size=4, max_size=4))
def test_a_line_crosses_a_box_exactly_where_samples_of_it_lie_inside(ends):
    """The crossing test agrees with 2,000 points sampled along the line."""
    box = Box(left=-12.0, bottom=-7.0, right=15.0, top=9.0)
    start, end = np.array(ends[:2]), np.array(ends[2:])
    room = Room()
    room.line(np.array([start, end]))
    points = start + np.linspace(0.0, 1.0, 2000)[:, None] * (end - start)
    inside = ((points > [-12.0, -7.0]) & (points < [15.0, 9.0])).all(axis=1).any()
    # Samples lie up to 0.08 mm apart, so a line that only clips a corner may miss the box by that.
    near = ((points > [-12.1, -7.1]) & (points < [15.1, 9.1])).all(axis=1).any()
    crossed = room.cost(box, 0.0) > 0.0
    assert crossed or not inside
    assert near or not crossed


def test_spread_breaks_only_what_does_not_fit():
    """A span that fits is drawn true; one that does not has its gaps shortened alike."""
    near = spread([(-60.0, -40.0), (-20.0, 20.0), (40.0, 60.0)], [0.0] * 3, 1.0, (0.0, 200.0))
    assert near.breaks == ()
    assert len({round(shift, 9) for shift in near.shifts}) == 1
    far = spread([(-400.0, -380.0), (-50.0, 50.0), (380.0, 400.0)], [0.0] * 3, 1.0, (0.0, 240.0))
    assert far.scale == 1.0
    assert len(far.breaks) == 2
    gaps = [stop - start for start, stop in far.breaks]
    assert gaps[0] == gaps[1]
    assert far.shifts[0] - 400.0 >= 0.0
    assert far.shifts[2] + 400.0 <= 240.0 + 1e-9


def test_together_is_true_and_fits():
    """Bodies kept together share one shift and fit their room."""
    placed = together([(-100.0, -50.0), (0.0, 300.0)], 2.0, (10.0, 110.0))
    assert placed.scale == 0.25
    assert placed.shifts == (35.0, 35.0)
