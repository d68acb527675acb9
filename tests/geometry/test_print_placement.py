"""Parts in print axes set back end to end: known turns and shifts recovered, the rest refused.

Each hull is cut by manifold3d, each part then moved by a rotation of scipy's. Set back, all parts
must have moved alike: that holds whatever the suggestion takes for forward and up.
"""

from functools import cache
from itertools import pairwise

import make_bodies
import numpy as np
import pytest
import skin_making
from scipy.spatial.transform import Rotation
from skin_making import CANOPY, CUTS, HATCH, SLOTS, box, segment, triangles_of

from hullcheck.errors import SurfaceError
from hullcheck.geometry.end_rings import fits, rings_of
from hullcheck.geometry.print_placement import already_in_place, suggest_placements

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

SET_BACK_MM = 0.01
"""What the builder wants: a twentieth of a layer of print. Files round to 1e-5 mm."""
NAMES = ("nose.stl", "fore.stl", "mid.stl", "aft.stl", "tail.stl")
OPENINGS = (CANOPY, HATCH, SLOTS)


@cache
def walls():
    """Return the demo hull in five thin-wall segments with openings, in body axes."""
    return tuple(segment(a, b, OPENINGS) for a, b in pairwise((-100.0, *CUTS, 900.0)))


@cache
def sheets():
    """Return the demo hull in four single walls; canopy and slots are cut out of them."""
    hull = skin_making.hull_solid()
    for _, low, high in (CANOPY, SLOTS):
        hull -= box(low, high)
    ends = (-100.0, 110.0, 250.0, 390.0, 900.0)
    pieces = (hull ^ box((a, -500, -500), (b, 500, 500)) for a, b in pairwise(ends))
    return tuple(triangles_of(piece, skin_making.hull_solid()) for piece in pieces)


def printed(parts, seed, *, quarters=True):
    """Return parts as they are filed for print, 32 bits, and the 4 × 4 that moved each."""
    rng = np.random.default_rng(seed)
    turns = Rotation.random(len(parts), random_state=seed).as_matrix()
    filed, moves = [], []
    for triangles, turn in zip(parts, turns, strict=True):
        move = np.eye(4)
        # Upright on the bed, the end on z = 0, by a quarter turn or any; some of them upside down.
        upright = Rotation.from_euler(
            "yz", [rng.choice([-90, 90]), 90 * rng.integers(4)], degrees=True
        )
        move[:3, :3] = np.round(upright.as_matrix()) if quarters else turn
        there = triangles @ move[:3, :3].T
        low, high = there.min(axis=(0, 1)), there.max(axis=(0, 1))
        move[:3, 3] = [-0.5 * (low[0] + high[0]), -0.5 * (low[1] + high[1]), -low[2]]
        filed.append((there + move[:3, 3]).astype(np.float32).astype(np.float64))
        moves.append(move)
    return filed, moves


def apart_mm(suggestion, moves, parts):
    """Return how far parts lie from where the first part's placement has the whole."""
    whole = suggestion.placements[0] @ moves[0]
    worst = 0.0
    for place, move, triangles in zip(suggestion.placements, moves, parts, strict=True):
        points = np.c_[triangles.reshape(-1, 3), np.ones(3 * len(triangles))]
        worst = max(worst, float(np.abs(points @ (place @ move - whole).T).max()))
    return worst


@pytest.mark.parametrize("quarters", [True, False], ids=["quarter turns", "any turns"])
@pytest.mark.parametrize("pieces", [walls, sheets], ids=["thin walls", "sheets"])
def test_parts_are_set_back(pieces, quarters):
    """Shuffled, turned, some upside down: set back to 0.01 mm of each other, in body axes."""
    parts = pieces()
    for seed in (3, 8):
        order = np.random.default_rng(seed).permutation(len(parts)).tolist()
        shuffled = [parts[i] for i in order]
        filed, moves = printed(shuffled, seed, quarters=quarters)
        named = [(NAMES[i], part) for i, part in zip(order, filed, strict=True)]
        assert not already_in_place(named)
        found = suggest_placements(named)
        assert apart_mm(found, moves, shuffled) < SET_BACK_MM
        assert [order[i] for i in found.order] == list(range(len(parts)))
        assert [[order[i] for i in joint.parts] for joint in found.joints] == [
            list(pair) for pair in pairwise(range(len(parts)))
        ]
        assert max(joint.residual_mm for joint in found.joints) < SET_BACK_MM
        assert found.unplaced == ()
        # The demo hull's own axes: bow at x = 0, y = 0 on the center plane, lowest point on z = 0.
        lowest = min(float(part[..., 2].min()) for part in parts)
        expected = np.eye(4)
        expected[2, 3] = -lowest
        assert found.placements[0] @ moves[0] == pytest.approx(expected, abs=SET_BACK_MM)


def test_dirt_changes_nothing():
    """Parts with 30 % of their triangles flipped and 5 % filed twice are set back all the same."""
    filed, moves = printed(walls(), 9)
    rng = np.random.default_rng(9)
    dirty = []
    for part in filed:
        there = part.copy()
        flipped = rng.random(len(part)) < 0.3
        there[flipped] = there[flipped, ::-1]
        dirty.append(np.concatenate((there, there[rng.random(len(part)) < 0.05])))
    found = suggest_placements(list(zip(NAMES, dirty, strict=True)))
    assert apart_mm(found, moves, walls()) < SET_BACK_MM


def test_quarter_turns_come_out_exact():
    """A part printed by quarter turns is placed by a matrix of noughts and ones."""
    filed, _ = printed(walls(), 5)
    found = suggest_placements(list(zip(NAMES, filed, strict=True)))
    for place in found.placements:
        assert np.isin(place[:3, :3], (-1.0, 0.0, 1.0)).all()
        assert np.linalg.det(place[:3, :3]) == pytest.approx(1.0)


def test_the_whole_can_be_turned():
    """End for end and upside down are half turns about z and x; the parts keep to each other."""
    filed, moves = printed(walls(), 5)
    named = list(zip(NAMES, filed, strict=True))
    straight = suggest_placements(named)
    assert "guessed" in straight.doubts[0]
    for options, half in (
        ({"end_for_end": True}, (-1.0, -1.0, 1.0)),
        ({"upside_down": True}, (1.0, -1.0, -1.0)),
    ):
        found = suggest_placements(named, **options)
        assert apart_mm(found, moves, walls()) < SET_BACK_MM
        assert found.placements[0][:3, :3] == pytest.approx(
            np.diag(half) @ straight.placements[0][:3, :3]
        )
        low = min(
            (part @ at[:3, :3].T + at[:3, 3]).min(axis=(0, 1))[[0, 2]].min()
            for part, at in zip(filed, found.placements, strict=True)
        )
        assert low == pytest.approx(0.0, abs=1e-6)
        assert found.order == (straight.order[::-1] if half[0] < 0.0 else straight.order)


def test_parts_in_place_are_left_there():
    """Parts that butt, or gape by a seam, need nothing; one displaced, or far off, does."""
    named = list(zip(NAMES, walls(), strict=True))
    assert already_in_place(named)
    assert already_in_place([(n, p + np.array([3.0 * i, 0, 0])) for i, (n, p) in enumerate(named)])
    assert not already_in_place([*named[:4], ("tail.stl", walls()[4] + [0.0, 5.0, 0.0])])
    assert not already_in_place([*named[:4], ("tail.stl", walls()[4] + [9.0, 0.0, 0.0])])
    assert already_in_place([("hull.stl", skin_making.surfaces()[0])])


def test_ends_found_are_the_two_cuts():
    """A segment has two open ends, of the size of the hull there; deck and cut-outs are none."""
    ends = [ring for ring in rings_of(0, walls()[1]) if ring.hollow]
    assert len(ends) == 2
    for ring in ends:
        station = float(ring.center_mm[0])
        assert min(abs(station - CUTS[0]), abs(station - CUTS[1])) < 1e-4
        cut = skin_making.hull_solid().rotate((0.0, -90.0, 0.0))
        filled = cut.slice(-station if cut.slice(-station).area() else station).area()
        # Widening by 1e-4 mm, and 0.04 mm² of the chine's rounding.
        assert ring.outline.area == pytest.approx(filled, abs=0.1)
        assert abs(float(ring.normal[0])) == pytest.approx(1.0, abs=1e-9)


def test_a_hull_cut_is_symmetric_about_one_line():
    """A cut of the hull fits its mirror image in one position: about the center plane."""
    ring = next(ring for ring in rings_of(0, walls()[0]) if ring.hollow)
    ways = fits(ring, ring)
    assert ways[0].residual_mm < SET_BACK_MM
    assert len(ways) == 1 or ways[1].residual_mm > 1.0
    half = 0.5 * ways[0].angle
    line = ring.frame[:, :2] @ [np.cos(half), np.sin(half)]
    assert abs(float(line[2])) == pytest.approx(1.0, abs=1e-6)


def test_a_hatch_is_left_over():
    """A plate and a tray that fit no end are listed, not guessed; the hull is placed all the same.

    The tray is open, but no deeper than a lid.
    """
    filed, moves = printed(walls(), 4)
    plate = triangles_of(box((0, 0, 0), (64.0, 44.0, 4.0)))
    tray = triangles_of(box((0, 0, 0), (70.0, 40.0, 8.0)) - box((1, 1, 1), (69.0, 39.0, 9.0)))
    named = [*zip(NAMES, filed, strict=True), ("hatch.stl", plate), ("tray.stl", tray)]
    found = suggest_placements(named)
    assert found.placements[5:] == (None, None)
    assert sorted(found.order) == [0, 1, 2, 3, 4]
    assert [sentence.split()[0] for sentence in found.unplaced] == ["hatch.stl", "tray.stl"]
    kept = (found.placements[:5], moves, walls())
    whole = found.placements[0] @ moves[0]
    assert all(np.abs(p @ m - whole).max() < SET_BACK_MM for p, m, _ in zip(*kept, strict=True))


def test_a_missing_segment_is_refused_with_the_two_parts():
    """Without the segment between them, the two open ends left are named with their size."""
    filed, _ = printed(walls(), 6)
    named = [pair for i, pair in enumerate(zip(NAMES, filed, strict=True)) if i != 3]
    with pytest.raises(SurfaceError, match=r"no one row.*0\.3 mm: mid\.stl.*tail\.stl.*is missing"):
        suggest_placements(named)
    named = [pair for i, pair in enumerate(zip(NAMES, filed, strict=True)) if i != 1]
    with pytest.raises(SurfaceError, match=r"nose\.stl \(94\.3 × 73\.8 mm\), mid\.stl \(107 × "):
        suggest_placements(named)


def test_an_end_segment_missing_is_a_doubt():
    """Without the tail the row is whole, and its open end is pointed out."""
    filed, _ = printed(walls()[:4], 6)
    found = suggest_placements(list(zip(NAMES[:4], filed, strict=True)))
    assert any(
        "aft.stl is open at its far end" in doubt and "missing" in doubt for doubt in found.doubts
    )


def tube(sides, length=80.0, radius=30.0):
    """Return a regular tube with a wall of 1 mm, along x."""
    from manifold3d import Manifold

    outer = Manifold.cylinder(length, radius, circular_segments=sides)
    inner = Manifold.cylinder(length, radius - 1.0, circular_segments=sides)
    return triangles_of((outer - inner).rotate((0.0, 90.0, 0.0)))


@pytest.mark.parametrize("sides", [32, 256])
def test_a_cylinder_is_refused_by_name(sides):
    """A round end fits in any position, so how the part sits cannot be told."""
    parts = [("pod_fore.stl", tube(sides)), ("pod_aft.stl", tube(sides, 60.0))]
    with pytest.raises(
        SurfaceError,
        match=r"pod_fore\.stl \((60|59\.7) × \1 mm\) fits pod_aft\.stl turned by \d+° as well",
    ):
        suggest_placements(parts)


def test_an_end_that_fits_turned_round_is_refused():
    """A box-shaped hull fits upside down as well."""
    block = box((0, -30, -20), (200, 30, 20)) - box((-1, -29, -19), (201, 29, 19))
    parts = [
        (name, triangles_of(block ^ box((a, -99, -99), (b, 99, 99))))
        for name, a, b in (("one.stl", 0, 90), ("two.stl", 90, 200))
    ]
    with pytest.raises(SurfaceError, match=r"one\.stl \(60 × 40 mm\) fits two\.stl turned by 180°"):
        suggest_placements(parts)


def test_two_equal_segments_are_refused():
    """The same segment filed twice: which of them belongs there cannot be told."""
    filed, _ = printed((*walls(), walls()[2]), 7)
    named = [*zip(NAMES, filed, strict=False), ("mid_copy.stl", filed[5])]
    with pytest.raises(
        SurfaceError,
        match=r"fore\.stl \(107 × 99\.9 mm\) fits mid\.stl and mid_copy\.stl alike \(0\.00",
    ):
        suggest_placements(named)


@pytest.mark.parametrize(
    ("even", "told"),
    [
        ([(0, 0), (40, 0), (34, 30), (6, 30)], r"one\.stl .* fits both ends of two\.stl alike"),
        ([(0, 0), (40, 5), (36, 30), (2, 25)], r"one\.stl fits two\.stl in more than one way"),
    ],
    ids=["symmetric", "askew"],
)
def test_a_segment_of_even_section_is_refused(even, told):
    """A part whose ends are alike could sit ahead or behind, and either way round."""
    from manifold3d import CrossSection, Manifold

    outer = CrossSection([even])
    ring = outer - outer.offset(-1.0)
    parts = [
        ("one.stl", triangles_of(Manifold.extrude(ring, 50.0))),
        ("two.stl", triangles_of(Manifold.extrude(ring, 70.0))),
    ]
    with pytest.raises(SurfaceError, match=told):
        suggest_placements(parts)


def test_parts_without_ends_are_refused():
    """Closed bodies have nothing to be set together by."""
    box_of = make_bodies.box(length_mm=90.0, beam_mm=40.0, height_mm=30.0)
    with pytest.raises(SurfaceError, match=r"no one row: open ends .*: none was found"):
        suggest_placements([("a.stl", box_of), ("b.stl", box_of)])


def test_a_tapered_gap_between_parts_is_still_a_joint():
    """Parts cut 0.3 mm short of each other fit with a residual that is told."""
    short = [segment(-100.0, 300.0, inner=0.95), segment(300.3, 900.0, inner=0.95)]
    filed, moves = printed(short, 2)
    found = suggest_placements([("fore.stl", filed[0]), ("aft.stl", filed[1])])
    assert SET_BACK_MM < found.joints[0].residual_mm < 0.3
    # Set in touch: nearer by the gap; athwart the sections' own change over it remains.
    assert apart_mm(found, moves, short) == pytest.approx(0.3, abs=0.03)
