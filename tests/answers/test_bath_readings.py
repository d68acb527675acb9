"""Readings at marks against closed forms: a box, a wedge, a cylinder, level, trimmed and heeled."""

import math

import make_bodies
import numpy as np
import pytest
from closed_form import exact
from crafts import body_of, box_craft, craft_of

from hullcheck.answers.bath_readings import Reader, mark_points, reading_mm
from hullcheck.craft.fittings import Fittings, Mark
from hullcheck.errors import InputError, SurfaceError
from hullcheck.geometry.attitude import normal_of

LEVEL = np.array([0.0, 0.0, 1.0])


def marks(*rows, along="skin"):
    """Return fittings with marks of (name, point) [mm]."""
    return Fittings(marks=tuple(Mark(name=n, point_mm=p, along=along) for n, p in rows))


def boxed(*rows, along="skin"):
    """Return the box of 600 × 100 × 80 mm with marks."""
    return box_craft(fittings=marks(*rows, along=along))


def by_side(craft, normal, height_mm):
    """Return the readings by (mark, side)."""
    reader = Reader(craft)
    return {(m.mark, m.side): reader.reading(m, normal, height_mm) for m in reader.marks}


def test_a_mark_to_starboard_stands_for_its_twin():
    """Port then starboard with y above 0; below 0 port alone; on the center plane one."""
    craft = boxed(("a", (10.0, 50.0, 60.0)), ("b", (20.0, -50.0, 60.0)), ("c", (30.0, 0.0, 80.0)))
    found = [(m.mark, m.side, m.point_mm[1]) for m in mark_points(craft)]
    assert found == [
        ("a", "port", -50.0),
        ("a", "starboard", 50.0),
        ("b", "port", -50.0),
        ("c", "center", 0.0),
    ]


@pytest.mark.parametrize("along", ["skin", "plumb"])
def test_level_box_reads_the_mark_over_the_draft(along):
    """On an upright side both ways read z − T, T = m/(ρ L B) the draft."""
    draft = 1200.0 / (1e-3 * 600.0 * 100.0)
    readings = by_side(boxed(("a", (40.0, 50.0, 66.0)), along=along), LEVEL, draft)
    assert readings == exact({("a", "port"): 46.0, ("a", "starboard"): 46.0})


def test_trimmed_and_heeled_box_reads_by_closed_form():
    """Plumb n·p − h; down the upright side n·p − h over n_z, as the skin runs along body z."""
    trim, heel = math.radians(3.0), math.radians(-5.0)
    normal, height = normal_of(trim=trim, heel=heel), 11.0
    for y in (50.0, -50.0):
        over = (
            -40.0 * math.sin(trim)
            - y * math.cos(trim) * math.sin(heel)
            + 66.0 * math.cos(trim) * math.cos(heel)
            - height
        )
        side = "starboard" if y > 0.0 else "port"
        for along, truth in (("plumb", over), ("skin", over / math.cos(trim) / math.cos(heel))):
            read = by_side(boxed(("a", (40.0, 50.0, 66.0)), along=along), normal, height)
            assert read["a", side] == exact(truth)


def test_wedge_reads_its_flare_along_the_skin():
    """A side flared by β reads (z − h)/cos β along the skin, under water the same below 0."""
    wedge = body_of(make_bodies.prism(length_mm=500.0, beam_mm=120.0, height_mm=90.0))
    flare = math.atan2(60.0, 90.0)
    fittings = marks(("a", (100.0, 60.0 * 70.0 / 90.0, 70.0)), ("b", (100.0, 20.0, 30.0)))
    craft = craft_of(wedge, mass_g=500.0, fittings=fittings)
    readings = by_side(craft, LEVEL, 45.0)
    for name, z in (("a", 70.0), ("b", 30.0)):
        for side in ("port", "starboard"):
            assert readings[name, side] == exact((z - 45.0) / math.cos(flare))


def test_round_bilge_reads_its_girth():
    """Down a cylinder from its widest to 30° below: r π/6, less what 4096 facets cut off."""
    round_one = body_of(make_bodies.cylinder(diameter_mm=100.0, length_mm=400.0, facets=4096))
    craft = craft_of(round_one, mass_g=500.0, fittings=marks(("a", (50.0, 50.0, 0.0))))
    readings = by_side(craft, LEVEL, -25.0)
    assert readings["a", "starboard"] == pytest.approx(50.0 * math.pi / 6.0, abs=1e-4)


def test_a_mark_beside_the_skin_counts_from_its_foot():
    """From 3 mm outside the side the reading is that of the nearest point of the skin."""
    readings = by_side(boxed(("a", (40.0, 53.0, 60.0))), LEVEL, 20.0)
    assert readings["a", "starboard"] == exact(40.0)


def test_a_mark_off_the_skin_is_refused_by_name():
    """12 mm off: refused with the mark, the side and the distance; plumb needs no skin."""
    with pytest.raises(SurfaceError, match=r"mark 'a', port, .* 12 mm off the skin"):
        Reader(boxed(("a", (40.0, 62.0, 60.0))))
    with pytest.raises(SurfaceError, match="no body reaches station 700"):
        Reader(boxed(("a", (700.0, 50.0, 60.0))))
    assert by_side(boxed(("a", (700.0, 62.0, 60.0)), along="plumb"), LEVEL, 20.0) == exact(
        {("a", "port"): 40.0, ("a", "starboard"): 40.0}
    )


def test_clear_of_the_water_is_told_and_the_reading_goes_on_steadily():
    """A wedge lifted out: girth to the keel and the plumb rest; a box under water likewise."""
    wedge = body_of(make_bodies.prism(length_mm=500.0, beam_mm=120.0, height_mm=90.0))
    craft = craft_of(wedge, mass_g=500.0, fittings=marks(("a", (100.0, 20.0, 30.0))))
    reader = Reader(craft)
    mark = reader.marks[1]
    girth = math.hypot(20.0, 30.0)
    assert reader.meets(mark, LEVEL, 5.0)
    assert not reader.meets(mark, LEVEL, -5.0)
    assert reader.reading(mark, LEVEL, -5.0) == exact(girth + 5.0)
    assert reader.reading(mark, LEVEL, 1e-7) == pytest.approx(girth, abs=1e-6)


def test_one_reading_alone_and_a_mark_that_is_not_hers():
    """`reading_mm` is what the reader reads; a mark of another craft is refused."""
    craft = boxed(("a", (40.0, 50.0, 66.0)))
    other = boxed(("b", (40.0, 50.0, 66.0)))
    assert reading_mm(craft, mark_points(craft)[0], LEVEL, 20.0) == exact(46.0)
    with pytest.raises(InputError, match="b, port"):
        Reader(craft).reading(mark_points(other)[0], LEVEL, 20.0)


def test_demo_marks_lie_on_her_skin(tarnwing_surfaces):
    """Port and starboard of a symmetric hull read alike, longer along the skin than plumb."""
    hull = body_of(tarnwing_surfaces[0])
    rows = (("bow", (40.0, 23.0, 60.0)), ("step", (262.0, 53.0, 50.0)))
    skin, plumb = (
        by_side(craft_of(hull, mass_g=700.0, fittings=marks(*rows, along=along)), LEVEL, 35.0)
        for along in ("skin", "plumb")
    )
    for name, _ in rows:
        assert skin[name, "port"] == pytest.approx(skin[name, "starboard"], abs=1e-6)
        assert skin[name, "port"] > plumb[name, "port"] - 1e-9
