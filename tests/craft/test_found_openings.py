"""Holes that are openings until named: which of the sheet's stands for one, names, thinning."""

import numpy as np
import pytest
from crafts import box_body
from hypothesis import given
from hypothesis import strategies as st
from strategies import uniform

from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.fittings import Lid
from hullcheck.craft.found_openings import lies_on, lies_within, thinned, with_found
from hullcheck.craft.openings import Opening
from hullcheck.geometry.outer_records import OuterSkin, PartFound, Patch

ELLIPSE = np.linspace(0.0, 2.0 * np.pi, 400, endpoint=False)


def oval(at=(260.0, 0.0, 80.0), half=(65.0, 40.0)):
    """Return a closed flat edge, shape (400, 3)."""
    x, y, z = at
    return np.stack(
        [x + half[0] * np.cos(ELLIPSE), y + half[1] * np.sin(ELLIPSE), np.full(400, z)], axis=1
    )


def patch(edge, *, kind="opening", name="a patch"):
    """Return a patch that fans out from the middle of its edge."""
    middle = np.broadcast_to(edge.mean(axis=0), edge.shape)
    faces = np.stack([middle, edge, np.roll(edge, -1, axis=0)], axis=1)
    return Patch(name=name, kind=kind, triangles_mm=faces, edge_mm=edge, error_mm3=1.0)


def skin_of(*patches, name="hull"):
    """Return a body's skin with some patches."""
    shell = box_body().shell
    made = OuterSkin(
        name=name,
        shells=(shell,),
        sources=(np.zeros(len(shell.triangles_mm), dtype=np.int64),),
        method="united",
        parts=(PartFound(name="a.stl", triangles_mm=shell.triangles_mm, kind="thin wall"),),
        patches=patches,
    )
    return BodySkin(name=name, role="hull", skin=made)


def called(openings):
    """Return what openings are called."""
    return [one.called for one in openings]


def test_openings_and_lids_are_openings_and_seams_are_not():
    """Three patches: the hole without a name or state, the lid by its name, no seam."""
    skin = skin_of(
        patch(oval()),
        patch(oval((100.0, 0.0, 80.0), (10.0, 10.0)), kind="lid", name="hatch"),
        patch(oval((300.0, 0.0, 80.0), (1.0, 50.0)), kind="seam"),
    )
    lid = Lid(name="hatch", outline_mm=oval((100.0, 0.0, 80.0), (10.0, 10.0)))
    openings, (told,) = with_found((), [skin], [lid])
    assert [(one.name, one.state) for one in openings] == [("", None), ("hatch", None)]
    assert called(openings) == ["opening at station 260, 130 × 80 mm", "hatch"]
    assert [one.name for one in told.patches] == [*called(openings), "a patch"]
    assert dict(told.states) == {}


def test_a_lid_patch_by_another_name_goes_by_the_lid_around_it():
    """The patch is called after its place; the lid whose outline holds its middle names it."""
    edge = oval((100.0, 0.0, 80.0), (10.0, 10.0))
    skin = skin_of(patch(edge, kind="lid", name="opening at station 100, 20 × 20 mm"))
    lids = [Lid(name="tray", outline_mm=oval()), Lid(name="hatch", outline_mm=edge)]
    assert called(with_found((), [skin], lids)[0]) == ["hatch"]


def test_pieces_of_one_lid_are_one_opening():
    """A lid that came out in two pieces: one opening with the points of both, in its state."""
    one, crumb = oval((100.0, 0.0, 50.0), (15.0, 5.0)), oval((100.0, 9.0, 30.0), (2.0, 1.0))
    pieces = [patch(edge, kind="lid", name="hatch") for edge in (one, crumb)]
    lid = Lid(name="hatch", outline_mm=one)
    ((opening,), (told,)) = with_found((), [skin_of(*pieces)], [lid])
    assert opening.points_mm[:, 2].min() == 30.0
    assert [p.name for p in told.patches] == ["hatch", "hatch"]


@pytest.mark.parametrize(
    ("points", "on"),
    [
        ([[325, 0, 80]], True),
        ([[325, 0, 80], [260, 40, 80], [195, 0, 82.5]], True),
        ([[327.5, 0, 80]], True),
        ([[260, 0, 82]], True),
        ([[329, 0, 80]], False),
        ([[260, 0, 90]], False),
        ([[325, 0, 80], [400, 0, 80]], False),
        ([[180, -60, 80], [340, -60, 80], [340, 60, 84], [180, 60, 80]], True),
        ([[180, -60, 80], [200, -60, 80], [200, 60, 80], [180, 60, 80]], False),
        ([[180, -60, 0], [340, -60, 0], [340, 60, 0], [180, 60, 0]], False),
    ],
    ids=[
        "a point of the edge",
        "points of the edge",
        "2.5 mm outside",
        "2 mm above the face",
        "4 mm outside",
        "10 mm above the face",
        "one far off",
        "an outline around it",
        "an outline beside it",
        "an outline under the keel",
    ],
)
def test_what_lies_on_a_hole(points, on):
    """An oval of 130 × 80 mm in a deck: within 3 mm of its edge or face, or around its middle."""
    assert lies_on(np.array(points, dtype=float), patch(oval())) == on


@given(uniform(-100.0, 100.0), uniform(-100.0, 100.0), st.integers(0, 2))
def test_inside_an_outline_is_inside_its_ellipse(x, y, axis):
    """Against the ellipse's own equation, in any of three planes; a hair around the edge aside."""
    level = (x / 65.0) ** 2 + (y / 40.0) ** 2
    if 0.99 < level < 1.01:
        return
    turn = np.roll(np.eye(3), axis, axis=0)
    point = np.array([x, y, 0.0]) @ turn
    assert lies_within(point, oval((0.0, 0.0, 0.0)) @ turn) == (level < 1.0)


def test_a_line_or_a_point_holds_nothing():
    """No outline, no inside."""
    line = np.array([[0.0, 0, 0], [1, 0, 0], [2, 0, 0]])
    assert not lies_within(np.array([1.0, 0, 0]), line)
    assert not lies_within(np.array([1.0, 0, 0]), line[:2])


def test_the_nearest_of_two_that_lie_on_it_stands_for_a_hole():
    """Both are within 3 mm: the one on the edge gives the state."""
    listed = (
        Opening(name="near", points_mm=np.array([[325.0, 0, 80]]), state="sealed"),
        Opening(name="off", points_mm=np.array([[327.0, 0, 80]]), state="open"),
    )
    openings, (told,) = with_found(listed, [skin_of(patch(oval()))])
    assert openings == listed
    assert list(told.states.values()) == ["sealed"]


def test_no_two_openings_are_called_the_same():
    """Alike on both sides, alike on one side of two bodies, alike in every way."""
    port, starboard = (oval((100.0, y, 50.0), (15.0, 5.0)) for y in (-45.0, 45.0))
    size = "30 × 10 mm"
    openings, _ = with_found((), [skin_of(patch(port), patch(starboard))])
    assert called(openings) == [
        f"opening at station 100 to port, {size}",
        f"opening at station 100 to starboard, {size}",
    ]
    inner, outer = oval((100.0, 200.0, 50.0), (15.0, 5.0)), oval((100.0, 300.0, 50.0), (15.0, 5.0))
    bodies = [skin_of(patch(inner), name="one"), skin_of(patch(outer), name="two")]
    assert called(with_found((), bodies)[0]) == [
        f"opening at station 100 to starboard of one, {size}",
        f"opening at station 100 to starboard of two, {size}",
    ]
    low = patch(starboard - np.array([0.0, 0.0, 20.0]))
    openings, (told,) = with_found((), [skin_of(patch(starboard), low)])
    assert called(openings) == [
        f"opening at station 100 to starboard of hull, {size}",
        f"opening at station 100 to starboard of hull (2), {size}",
    ]
    assert [one.name for one in told.patches] == called(openings)


def test_a_twin_of_a_lid_is_not_hidden_by_the_lids_opening():
    """The sheet lists the hatch to starboard; the lid's twin to port is listed beside it."""
    sides = [oval((100.0, y, 50.0), (15.0, 5.0)) for y in (200.0, -200.0)]
    bodies = [
        skin_of(patch(edge, kind="lid", name="hatch"), name=name)
        for edge, name in zip(sides, ("one", "twin"), strict=True)
    ]
    lids = [Lid(name="hatch", outline_mm=sides[0])]
    listed = (Opening(name="hatch", points_mm=np.array([[90.0, 195, 60]]), state="taped"),)
    openings, told = with_found(listed, bodies, lids)
    assert called(openings) == ["hatch", "hatch to port"]
    assert [dict(one.states) for one in told] == [{"hatch": "taped"}, {}]
    assert [one.name for skin in told for one in skin.patches] == ["hatch", "hatch to port"]


def test_a_patch_goes_by_the_sheets_name_and_state():
    """Of two slots the sheet names one: that has its name, the other what it is and its side."""
    port, starboard = (oval((100.0, y, 50.0), (15.0, 5.0)) for y in (-45.0, 45.0))
    listed = (
        Opening(name="servo slot", points_mm=np.array([[115.0, 45, 50]]), state="taped"),
        Opening(name="pushrod exit", points_mm=np.array([[200.0, 0, 60]]), state="open"),
    )
    openings, (told,) = with_found(listed, [skin_of(patch(port), patch(starboard))])
    unnamed = "opening at station 100 to port, 30 × 10 mm"
    assert called(openings) == ["servo slot", "pushrod exit", unnamed]
    assert [one.name for one in told.patches] == [unnamed, "servo slot"]
    assert dict(told.states) == {"servo slot": "taped"}


def test_one_name_of_the_sheet_for_two_patches_is_told_apart():
    """An outline round both slots stands for both: its name, then the side."""
    port, starboard = (oval((100.0, y, 50.0), (15.0, 5.0)) for y in (-20.0, 20.0))
    around = np.array([[80.0, -60, 50], [120, -60, 50], [120, 60, 50], [80, 60, 50]])
    listed = (Opening(name="servo bay", points_mm=around, state="sealed"),)
    openings, (told,) = with_found(listed, [skin_of(patch(port), patch(starboard))])
    assert openings == listed
    assert [one.name for one in told.patches] == ["servo bay to port", "servo bay to starboard"]
    assert set(told.states.values()) == {"sealed"}
    assert set(told.states) == {one.name for one in told.patches}


def test_a_lid_keeps_its_own_name_and_takes_the_state():
    """An opening of another name stands for the lid it lies on: the lid's name, its state."""
    lid = Lid(name="hatch", outline_mm=oval())
    listed = (Opening(name="edge", points_mm=np.array([[325.0, 0, 80]]), state="taped"),)
    openings, (told,) = with_found(
        listed, [skin_of(patch(oval(), kind="lid", name="hatch"))], [lid]
    )
    assert openings == listed
    assert [one.name for one in told.patches] == ["hatch"]
    assert dict(told.states) == {"hatch": "taped"}


def test_a_name_of_the_sheet_without_a_state_is_a_name_all_the_same():
    """What the sheet names and does not state: its name, and no state."""
    listed = (Opening(name="vent", points_mm=np.array([[325.0, 0, 80]])),)
    openings, (told,) = with_found(listed, [skin_of(patch(oval()))])
    assert openings == listed
    assert [one.name for one in told.patches] == ["vent"]
    assert dict(told.states) == {}


def test_thinning_keeps_the_extremes_and_the_shape():
    """Of 5000 points at most 64: lowest and foremost stay to the last bit, the curve to 0.2 mm."""
    turn = np.linspace(0.0, 2.0 * np.pi, 5000, endpoint=False)
    edge = np.stack([65.0 * np.cos(turn), 40.0 * np.sin(turn), 8.0 * np.cos(2.0 * turn)], axis=1)
    kept = thinned(edge)
    assert len(kept) == 64
    assert kept.min(axis=0).tolist() == edge.min(axis=0).tolist()
    assert kept.max(axis=0).tolist() == edge.max(axis=0).tolist()
    for normal in np.random.default_rng(3).normal(size=(50, 3)):
        up = normal / np.linalg.norm(normal)
        # A chord of 1/64 of an ellipse of 65 × 40 mm stands off by less: (2π/64)² / 8 × 65 = 0.08.
        assert float((kept @ up).min() - (edge @ up).min()) < 0.2
    few = edge[:6]
    assert thinned(few).tolist() == few.tolist()


def test_thinning_to_a_tolerance_leaves_the_corners():
    """A rectangle with points along its sides: its four corners, in order."""
    x, y = np.linspace(0.0, 60.0, 13), np.linspace(0.0, 40.0, 9)
    edge = np.array(
        [[a, 0.0, 1.0] for a in x]
        + [[60.0, b, 1.0] for b in y[1:]]
        + [[a, 40.0, 1.0] for a in x[-2::-1]]
        + [[0.0, b, 1.0] for b in y[-2:0:-1]]
    )
    found = thinned(edge, 16, within_mm=1.0)
    assert {tuple(p) for p in found.tolist()} == {(0, 0, 1), (60, 0, 1), (60, 40, 1), (0, 40, 1)}
    assert len(found) == 4
