"""What parts may weigh, against closed forms; versions of one part, by name and place."""

import numpy as np
import pytest
from sheet_making import box

from hullcheck.answers.begin_variants import plain_name, variants_among
from hullcheck.answers.begin_weights import planned_part


def hollow(wall):
    """Return a box of 200 × 80 × 60 mm with an inner shell a wall further in."""
    inner = box(200.0 - 2 * wall, 80.0 - 2 * wall, 60.0 - 2 * wall, at=(wall, 0.0, wall))
    return np.concatenate([box(200.0, 80.0, 60.0), inner[:, ::-1]])


def test_a_thin_wall_weighs_its_volume():
    """Outer less inner box, by hand, times 1.24 g/cm³; its center is the middle."""
    planned = planned_part(hollow(1.2))
    cm3 = (200.0 * 80.0 * 60.0 - 197.6 * 77.6 * 57.6) / 1000.0
    assert planned.mass_g == pytest.approx(1.24 * cm3, rel=1e-9)
    assert planned.center_mm == pytest.approx((100.0, 0.0, 30.0), abs=1e-9)
    assert "guess" in planned.why
    assert "1.2 mm" in planned.why


def test_a_sheet_weighs_its_area():
    """A box without its deck: five faces × 0.45 mm × 1.24 g/cm³; their center by hand."""
    faces = box(200.0, 80.0, 60.0)
    open_box = faces[~(faces[:, :, 2] == 60.0).all(axis=1)]
    areas = {"bottom": 200.0 * 80.0, "sides": 2 * 200.0 * 60.0, "ends": 2 * 80.0 * 60.0}
    total = sum(areas.values())
    planned = planned_part(open_box)
    assert planned.mass_g == pytest.approx(total * 0.45 * 1.24e-3, rel=1e-9)
    assert planned.center_mm[2] == pytest.approx(30.0 * (total - areas["bottom"]) / total)
    assert "single wall assumed" in planned.why


def test_a_closed_skin_says_nothing_of_its_wall():
    """A hull as one closed surface: no mass, not the mass of a solid block."""
    planned = planned_part(box())
    assert planned.mass_g is None
    assert "weigh it" in planned.why


def test_a_mended_wall_weighs_what_was_found():
    """An open surface of which the wall is known from elsewhere weighs that."""
    torn = hollow(1.2)[1:]
    assert planned_part(torn, material_volume_mm3=50e3).mass_g == pytest.approx(62.0)


def test_a_plate_weighs_its_volume():
    """A solid plate 3 mm thick, turned inside out too."""
    plate = box(100.0, 50.0, 3.0, at=(10.0, 5.0, 7.0))
    for surface in (plate, plate[:, ::-1]):
        planned = planned_part(surface)
        assert planned.mass_g == pytest.approx(15.0 * 1.24, rel=1e-9)
        assert planned.center_mm == pytest.approx((60.0, 5.0, 8.5))


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("mid", "mid"),
        ("mid_v2", "mid"),
        ("Mid (1)", "mid"),
        ("mid - copy", "mid"),
        ("copy of mid", "mid"),
        ("mid final v3", "mid"),
        ("mid rev 4", "mid"),
        ("mid 2", "mid 2"),
        ("segment_3", "segment 3"),
        ("wing", "wing"),
        ("old", "old"),
    ],
)
def test_what_marks_a_version_is_no_part_of_a_name(name, plain):
    """Suffixes of versions and copies fall away; plain numbers, which count parts, stay."""
    assert plain_name(name) == plain


FORE, MID, AFT = box(100.0), box(100.0, at=(100.0, 0.0, 0.0)), box(100.0, at=(200.0, 0.0, 0.0))
THICKER = box(104.0, 98.0, at=(98.0, 0.0, 0.0))


def left_out(*parts, in_place=True):
    """Return which of some parts are left out for which others, by name."""
    found = variants_among(parts, in_place=in_place)
    return {parts[v.part][0]: parts[v.used][0] for v in found.left_out}, found


def test_a_version_in_the_place_of_a_part_is_left_out():
    """Of mid and mid_v2 in one place mid is used, in whatever order they come."""
    wanted = {"mid_v2": "mid"}
    assert left_out(("fore", FORE), ("mid", MID), ("mid_v2", THICKER))[0] == wanted
    assert left_out(("mid_v2", THICKER), ("mid", MID), ("fore", FORE))[0] == wanted
    assert left_out(("mid (1)", MID), ("mid", MID))[0] == {"mid (1)": "mid"}


def test_a_part_within_the_place_of_its_namesake_is_left_out():
    """A lighter mid_v2 that lies wholly within mid."""
    small = box(40.0, 30.0, 20.0, at=(120.0, 0.0, 10.0))
    assert left_out(("mid", MID), ("mid_v2", small))[0] == {"mid_v2": "mid"}
    assert left_out(("mid", MID), ("tray", small))[0] == {}


def test_a_twin_in_one_place_under_another_name_is_left_out():
    """Two parts of one size in one place, or one file under two names."""
    found, variants = left_out(("mid", MID), ("center", box(100.0, 99.5, at=(100.0, 0.0, 0.0))))
    assert found == {"center": "mid"}
    assert "as large as mid and in its place" in variants.left_out[0].why
    assert left_out(("mid", MID), ("again", MID.copy()))[0] == {"again": "mid"}


def test_a_namesake_elsewhere_is_used_and_told():
    """A part named like a version that lies elsewhere is needed, and doubtful."""
    found, variants = left_out(("float", FORE), ("float (1)", AFT))
    assert found == {}
    assert "float (1) is named like a version of float" in variants.doubts[0]


def test_in_print_axes_places_tell_nothing():
    """Two segments of one size at one place are two parts; a namesake of that size is a version."""
    assert left_out(("fore", FORE), ("aft", FORE.copy()), in_place=False)[0] == {}
    assert left_out(("fore", FORE), ("fore_v2", FORE * 1.02), in_place=False)[0] == {
        "fore_v2": "fore"
    }
    assert left_out(("fore", FORE), ("fore_v2", FORE * 2.0), in_place=False)[0] == {}
