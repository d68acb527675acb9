"""Wells that water fills and lids that close what is torn off, on boats drawn for each run.

Open CASCADE draws the hulls, manifold3d cuts wells and openings and measures what is left below
the water; see test_printed_skins for the seed.
"""

import re
from functools import cache

import numpy as np
import pytest
from outside import required

required("OCP")
manifold3d = required("manifold3d")
from flying_boat_lines import drawn  # noqa: E402
from printed_boats import boat_of, displaced, printed, thin_wall_parts, true_error  # noqa: E402
from printed_faults import TORN_MM, faulty  # noqa: E402
from printed_hull import (  # noqa: E402
    bottom_height,
    box_between,
    canopy_drawn,
    cuts_drawn,
    hull_drawn,
    solid_of,
    triangles_of,
    volume_below,
)
from skin_trials import EXACT, GOAL, seed_drawn, stated_error, wet_patches  # noqa: E402

from hullcheck.errors import SurfaceError  # noqa: E402
from hullcheck.geometry.outer_skin import outer_skin  # noqa: E402

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

WELLS = ("well in the bottom", "well in the deck")
INDICES = (0, 1)
LID_SHARE = 1e-4
"""A lid in the skin leaves the displaced volume within the goal for all skins, 0.01 %."""


def say(text):
    """Print what a failure is to be found again by; pytest shows it beside the failure."""
    print(text)  # noqa: T201


@cache
def boat_with(fault, index):
    """Return a boat with a well, of this run's seed."""
    return faulty(fault, seed_drawn(), index)


@cache
def shut(fault, index):
    """Return the skin of a boat with a well when nothing is said of it."""
    return outer_skin("hull", boat_with(fault, index).parts)


def with_a_well(fault, index):
    """Return a boat with a well, and say which."""
    boat = boat_with(fault, index)
    say(f"HULLCHECK_SEED={seed_drawn()}: {boat.described}")
    return boat


def in_the_well(fault, boat):
    """Return a point in the well, 4 mm from its inner end [mm]."""
    return boat.fault_at[1] + [0.0, 0.0, 4.0 if fault == "well in the deck" else -4.0]


def error_of(skin, closed, waterline_mm):
    """Return the true error of a skin's displaced volume [mm³]."""
    triangles = np.concatenate([shell.triangles_mm for shell in skin.shells])
    return true_error(triangles, closed, waterline_mm)


@pytest.mark.parametrize("index", INDICES)
@pytest.mark.parametrize("fault", WELLS)
def test_a_well_that_floods_displaces_nothing(fault, index):
    """With a point in it under floods the volume is that of the skin with the well, to 0.01 %."""
    boat = with_a_well(fault, index)
    skin = outer_skin("hull", boat.parts, floods=[in_the_well(fault, boat)])
    out = error_of(skin, boat.flooded, boat.waterline_mm)
    whole = displaced(boat.flooded, boat.waterline_mm)
    assert abs(out) <= GOAL * whole
    assert abs(out) <= stated_error(skin, boat.waterline_mm) + EXACT * whole
    # The two skins differ by more than that: the well is not lost in the tolerance.
    assert displaced(boat.closed, boat.waterline_mm) - whole > 2.0 * GOAL * whole
    assert skin.checks.handles == 0


@pytest.mark.parametrize("index", INDICES)
def test_a_well_in_the_deck_is_closed_unless_it_floods(index):
    """Without floods the volume is that of the closed skin, within the stated error."""
    boat = with_a_well("well in the deck", index)
    skin = shut("well in the deck", index)
    out = error_of(skin, boat.closed, boat.waterline_mm)
    whole = displaced(boat.closed, boat.waterline_mm)
    assert abs(out) <= GOAL * whole
    assert abs(out) <= stated_error(skin, boat.waterline_mm) + EXACT * whole
    assert skin.checks.handles == 0


@pytest.mark.parametrize("index", INDICES)
def test_a_well_in_the_bottom_is_closed_unless_it_floods(index):
    """Without floods the volume is that of the closed skin, within the stated error."""
    boat = with_a_well("well in the bottom", index)
    skin = shut("well in the bottom", index)
    out = error_of(skin, boat.closed, boat.waterline_mm)
    whole = displaced(boat.closed, boat.waterline_mm)
    say(f"out by {out:.1f} mm³, stated {stated_error(skin, boat.waterline_mm):.1f} mm³")
    assert abs(out) <= stated_error(skin, boat.waterline_mm) + EXACT * whole


def test_a_well_in_the_bottom_is_listed_under_water():
    """Closed, it is one opening under water at its place, and the volume lies between the two."""
    boat = with_a_well("well in the bottom", 0)
    skin = shut("well in the bottom", 0)
    (patch,) = wet_patches(skin, boat.waterline_mm)
    assert patch.kind == "opening"
    assert patch.name.startswith("opening at station ")
    assert patch.center_mm[0] == pytest.approx(boat.fault_at[1][0], rel=0, abs=1.0)
    low, high = (displaced(one, boat.waterline_mm) for one in (boat.flooded, boat.closed))
    wet = low + error_of(skin, boat.flooded, boat.waterline_mm)
    assert low < wet <= high * (1.0 + GOAL)


def test_a_point_in_no_well_is_refused():
    """A point in the middle of the hull's own inside, where nothing is open, lies in no well."""
    boat = with_a_well("well in the deck", 0)
    low, high = boat.closed.min(axis=(0, 1)), boat.closed.max(axis=(0, 1))
    astern = [high[0] - 0.05 * (high[0] - low[0]), 0.0, 0.5 * (low[2] + high[2])]
    with pytest.raises(SurfaceError, match=f"floods has a point at .{astern[0]:.0f}, .* no well"):
        outer_skin("hull", boat.parts, floods=[np.array(astern)])


def with_straight_bottom():
    """Return a hull whose bottom is straight for the length that is torn off, ahead of the step."""
    for index in range(40):
        lines = drawn(seed_drawn(), 600 + index)
        if lines.shoulder < lines.step_station - 6.0 - TORN_MM[0] - 2.0:
            rng = np.random.default_rng((seed_drawn(), index, 77))
            return hull_drawn(seed_drawn(), 600 + index, rng, fine=True), rng
    raise AssertionError("no hull with so long a straight bottom in forty")


def test_lids_close_a_torn_bottom():
    """Two lids in the bottom's own planes, keel to either side: the closed skin within 0.01 %."""
    hull, rng = with_straight_bottom()
    lines, (length, width) = hull.lines, TORN_MM
    half, aft = 0.5 * width, hull.lines.step_station - 6.0
    fore = aft - length
    top = min(bottom_height(lines, fore, half) + 6.0, hull.waterline_mm - 1.0)
    cuts = cuts_drawn(hull, rng)
    torn = box_between((fore, -half, -500.0), (aft, half, top))
    openings = canopy_drawn(hull, cuts, rng)[0] + torn
    boat = boat_of(hull, "K3", thin_wall_parts(hull, cuts, 0.0, openings), 0.0, "torn bottom")
    say(f"HULLCHECK_SEED={seed_drawn()}: {boat.described}")
    lids = []
    for name, side in (("port", -1.0), ("starboard", 1.0)):
        corners = [(fore, 0.0), (aft, 0.0), (aft, side * half), (fore, side * half)]
        outline = [[x, y, bottom_height(lines, x, abs(y))] for x, y in corners]
        lids.append((f"{name} bottom", np.array(outline)))
    skin = outer_skin("hull", boat.parts, lids=lids)
    out = error_of(skin, boat.closed, boat.waterline_mm)
    whole = displaced(boat.closed, boat.waterline_mm)
    wet = wet_patches(skin, boat.waterline_mm)
    say(f"out by {out:.1f} mm³ of {whole:.0f}; {[(p.kind, p.name) for p in wet]}")
    assert abs(out) <= LID_SHARE * whole
    assert {p.name for p in wet if p.kind == "lid"} <= {"port bottom", "starboard bottom"}
    assert sum(p.area_mm2 for p in wet if p.kind == "lid") == pytest.approx(
        length * width / np.cos(np.radians(lines.deadrise)), rel=0.02
    )
    assert not [p for p in wet if p.kind == "opening" and p.size_mm[1] > 5.0]


def boat_wall(boat):
    """Return the thickness of a boat's wall, as her description has it [mm]."""
    return float(re.search(r"wall ([\d.]+) mm", boat.described)[1])


def outline_length(outline):
    """Return the length of a closed outline [mm]."""
    return np.linalg.norm(outline - np.roll(outline, 1, axis=0), axis=1).sum()


def test_a_lid_closes_the_end_where_the_stern_is_missing():
    """A lid over the open end: the skin is the closed one as far as there, nothing is refused."""
    boat = printed(seed_drawn(), 700, "K3", gap_mm=0.0)
    say(f"HULLCHECK_SEED={seed_drawn()}: {boat.described}; no stern")
    cut = float(boat.parts[-1][1][:, :, 0].min())
    closed = solid_of(boat.closed)
    (outline,) = closed.rotate((0.0, -90.0, 0.0)).slice(cut - 1e-3).to_polygons()
    lid = np.column_stack([np.full(len(outline), cut), outline[:, 1], -outline[:, 0]])
    kept = boat.parts[:-1]
    with pytest.raises(SurfaceError, match="ends open at station"):
        outer_skin("hull", kept)
    skin = outer_skin("hull", kept, lids=[("end", lid)])
    whole = closed.trim_by_plane((-1.0, 0.0, 0.0), -cut)
    wet = volume_below(whole, boat.waterline_mm)
    out = error_of(skin, triangles_of(whole), boat.waterline_mm)
    say(f"out by {out:.1f} mm³ of {wet:.0f}")
    assert abs(out) <= LID_SHARE * wet
    found = [patch for patch in skin.patches if patch.kind == "lid"]
    say([(patch.name, patch.area_mm2) for patch in found])
    assert {patch.name for patch in found} == {"end"}
    assert all(np.ptp(patch.triangles_mm[:, :, 0]) < 0.7 for patch in found)
    # All of the section but for the wall, which is the part's own.
    section = manifold3d.CrossSection([outline])
    bare = section.area() - 1.05 * boat_wall(boat) * outline_length(outline)
    assert bare < found[0].area_mm2 < section.area()
    assert skin.checks.handles == 0
