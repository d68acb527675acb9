"""Parts as they are taken, lids and wells: kinds, walls and volumes known from their making."""

import make_bodies as bodies
import numpy as np
import pytest
from open_boxes import lacking
from thin_walls import BEAM, CUT, HATCH, HEIGHT, LENGTH, WALL, block, finer, segments, wall

from hullcheck.errors import SurfaceError
from hullcheck.geometry.outer_skin import outer_skin
from hullcheck.geometry.skin_lids import lid_sheet
from hullcheck.geometry.skin_parts import LEAST_WALL_MM, taken

FULL_MM3 = LENGTH * BEAM * HEIGHT


def solid_triangles(solid):
    """Return a solid's triangles."""
    mesh = solid.to_mesh64()
    return np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts).astype(np.int64)]


def hollow(wall_mm):
    """Return a closed box with walls of one thickness and a hole through the deck."""
    outer = block((0, -50, 0), (LENGTH, 50, HEIGHT))
    inner = block(
        (wall_mm, wall_mm - 50, wall_mm), (LENGTH - wall_mm, 50 - wall_mm, HEIGHT - wall_mm)
    )
    return solid_triangles(outer - inner - block((250, -20, 70), (300, 20, 90)))


# ---------------------------------------------------------------------------------------- parts


def test_a_thin_wall_and_its_thickness():
    """2 × volume ÷ area of a box of 2 mm wall; the material is outside less inside."""
    found = taken("nose", hollow(WALL))
    material = FULL_MM3 - (LENGTH - 4) * (BEAM - 4) * (HEIGHT - 4) - 50 * 40 * WALL
    assert found.kind == "thin wall"
    assert found.material_volume_mm3 == pytest.approx(material, rel=1e-9)
    assert found.wall_mm == pytest.approx(WALL, rel=0.05)
    assert found.found == ()
    assert len(found.sheet.faces) == 0


def test_a_wall_thinner_than_any_printed_is_refused():
    """0.1 mm is refused by name with its thickness (limit 0.12), 0.15 mm is taken."""
    assert LEAST_WALL_MM == 0.12
    with pytest.raises(SurfaceError, match=r"^nose: its wall is 0\.1 mm thick \(limit 0\.12 mm\)"):
        taken("nose", hollow(0.1))
    assert taken("nose", hollow(0.15)).wall_mm == pytest.approx(0.15, rel=0.05)


def test_a_flake_beside_a_sheet_is_left_out():
    """A sheet with a closed splinter of no thickness, as mended slivers leave: no wall of 1e-6 mm.

    The splinter alone, or one as large as the part, is what it is: too thin.
    """
    sheet = lacking("deck")
    corners = np.array(
        [[20.0, 10.0, 30.0], [22.0, 10.0, 30.0], [20.0, 12.0, 30.0], [20, 10, 30.001]]
    )
    splinter = corners[[[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]]]
    found = taken("nose", np.concatenate([sheet, splinter]))
    assert found.kind == "sheet"
    assert found.wall_mm is None
    assert found.found == ("left out 1 flake, flat and small",)
    with pytest.raises(SurfaceError, match=r"^nose: its wall is 0\.000\d+ mm thick"):
        taken("nose", splinter)


def test_a_solid_block_is_a_closed_skin():
    """A box of 240 × 96 × 64 mm: its material is its volume."""
    found = taken("hull", bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0))
    assert found.kind == "closed skin"
    assert found.material_volume_mm3 == pytest.approx(240.0 * 96.0 * 64.0, rel=1e-12)


def test_a_surface_without_thickness_is_a_sheet():
    """A box without its deck encloses nothing of its own."""
    found = taken("hull", lacking("deck"))
    assert found.kind == "sheet"
    assert found.material_volume_mm3 is None
    assert found.wall_mm is None
    assert len(found.sheet.faces) == 10


def test_a_part_that_looks_inward_is_turned():
    """All triangles turned over: the same material, and a clause that says so."""
    found = taken("hull", hollow(WALL)[:, ::-1])
    assert found.found == ("all triangles looked inward; turned outward",)
    assert found.material_volume_mm3 == pytest.approx(
        taken("hull", hollow(WALL)).material_volume_mm3
    )


def test_inner_shells_are_left_out():
    """A box around two voids: its outside counts, the clause counts the shells."""
    box = block((0, 0, 0), (100, 50, 50))
    voids = [block((10, 10, 10), (30, 30, 30)), block((60, 10, 10), (80, 30, 30))]
    found = taken("hull", solid_triangles(box - voids[0] - voids[1]))
    assert found.found == ("left out 2 inner shells",)
    assert found.material_volume_mm3 == pytest.approx(250_000.0, rel=1e-12)


def test_a_part_that_lacks_too_much_is_refused():
    """Over 3 % of its triangles missing, in small holes: by name, with the share; 2 % is taken."""
    triangles = finer(hollow(WALL), 2)
    order = np.random.default_rng(5).permutation(len(triangles))
    few, many = (
        np.delete(triangles, order[: round(s * len(order))], axis=0) for s in (0.02, 0.045)
    )
    assert taken("nose", few).found[0].startswith("filled ")
    with pytest.raises(SurfaceError, match=r"^nose: about [34]\.\d % of its triangles are missing"):
        taken("nose", many)


def test_walls_with_nothing_between_them_are_refused():
    """Two closed walls, the middle missing: the stations it would lie between, and how far."""
    parts = [("nose", wall(0.0, CUT)), ("tail", wall(260.0, LENGTH, holes=[HATCH]))]
    with pytest.raises(
        SurfaceError, match="nothing lies between station 200 and station 260, 60 mm"
    ):
        outer_skin("hull", parts)


def test_a_part_within_the_others_is_no_skin():
    """A tray inside a hull: kind "inside", a note, and the volume as without it."""
    tray = solid_triangles(block((400, -20, 20), (450, 20, 30)))
    skin = outer_skin("hull", [("hull", wall(holes=[HATCH])), ("tray", tray)])
    alone = outer_skin("hull", [("hull", wall(holes=[HATCH]))])
    assert [part.kind for part in skin.parts] == ["thin wall", "inside"]
    assert skin.notes == (
        ("part-inside", "tray: lies inside the others; nothing of it is outer skin"),
    )
    assert skin.volume_mm3 == pytest.approx(alone.volume_mm3, rel=1e-9)
    assert skin.checks.handles == 0


def test_dirt_changes_nothing_but_what_is_said():
    """Thirty flips of a hundred, copies and lost triangles: the box as it is without them."""
    rng = np.random.default_rng(9)
    parts = []
    for name, triangles in segments().items():
        fine = finer(triangles, 2)
        turned = rng.uniform(size=len(fine)) < 0.3
        fine[turned] = fine[turned, ::-1]
        fine = np.concatenate([np.delete(fine, rng.integers(0, len(fine), 4), axis=0), fine[40:60]])
        parts.append((name, fine))
    skin = outer_skin("hull", parts)
    clean = outer_skin("hull", list(segments().items()))
    assert skin.volume_mm3 == pytest.approx(clean.volume_mm3, rel=0, abs=1.0)
    assert abs(skin.volume_mm3 - FULL_MM3) <= skin.error_mm3
    for part in skin.parts:
        assert {clause.split()[0] for clause in part.found} >= {"dropped", "turned", "filled"}
    assert skin.checks.handles == 0


# ------------------------------------------------------------------------------- lids and wells


def outline(points):
    """Return an outline as an array."""
    return np.array(points, dtype=float)


def test_a_lid_is_spanned_over_its_outline():
    """An "L" of 300 mm² in a sloping plane: its area, whichever way around it is given."""
    flat = [(0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20)]
    slope = np.radians(30.0)
    points = outline([(x * np.cos(slope), y, x * np.sin(slope)) for x, y in flat])
    for given in (points, points[::-1]):
        triangles = lid_sheet("cover", given).triangles_mm
        a, b, c = np.moveaxis(triangles, 1, 0)
        area = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1).sum()
        assert area == pytest.approx(300.0, rel=1e-9)
        assert len(triangles) == 4


@pytest.mark.parametrize(
    "points",
    [
        [(0, 0, 5), (10, 10, 5), (10, 0, 5), (0, 10, 5)],
        [(0, 0, 5), (10, 0, 5), (20, 0, 5)],
    ],
)
def test_a_lid_that_crosses_itself_or_has_no_area_is_refused(points):
    """By its name."""
    with pytest.raises(
        SurfaceError, match=r"^cover: its outline crosses itself or encloses nothing"
    ):
        lid_sheet("cover", outline(points))


WELL = ((200.0, -15.0, 0.0), (250.0, 15.0, 30.0))
"""A well in the bottom of 50 × 30 × 30 mm, as water finds it."""


def with_a_well(holes=(), thick=WALL):
    """Return the wall of a box with that well, which has walls of its own."""
    (x0, y0, z0), (x1, y1, z1) = WELL
    outer = block((0, -50, 0), (LENGTH, 50, HEIGHT)) - block((x0, y0, z0 - 1), (x1, y1, z1))
    inner = block((thick, thick - 50, thick), (LENGTH - thick, 50 - thick, HEIGHT - thick))
    inner -= block((x0 - thick, y0 - thick, -1), (x1 + thick, y1 + thick, z1 + thick))
    made = outer - inner
    for low, high in holes:
        made -= block(low, high)
    return [("hull", solid_triangles(made))]


def test_a_well_floods_where_it_is_told():
    """Without floods the box, with a point in the well the box less 50 × 30 × 30 mm."""
    shut = outer_skin("hull", with_a_well([HATCH]))
    flooded = outer_skin("hull", with_a_well([HATCH]), floods=[np.array([225.0, 0.0, 10.0])])
    well = 50.0 * 30.0 * 30.0
    assert abs(shut.volume_mm3 - FULL_MM3) <= shut.error_mm3 < 1e-3 * FULL_MM3
    assert abs(flooded.volume_mm3 - (FULL_MM3 - well)) <= flooded.error_mm3
    assert {patch.name for patch in shut.patches} - {patch.name for patch in flooded.patches} == {
        "opening at station 225, 50 × 30 mm"
    }
    assert shut.checks.handles == flooded.checks.handles == 0


OVER_THE_WELL = ((180.0, -30.0, 70.0), (280.0, 30.0, 90.0))


@pytest.mark.parametrize("height", [1.0, 15.0, 28.5])
def test_a_well_under_a_hatch_floods_alone(height):
    """The room above it is open too, through the hatch; that stays closed."""
    point = np.array([225.0, 0.0, height])
    skin = outer_skin("hull", with_a_well([OVER_THE_WELL]), floods=[point])
    assert abs(skin.volume_mm3 - (FULL_MM3 - 45_000.0)) <= skin.error_mm3


def test_a_point_in_a_well_under_a_thin_roof_floods_the_well_alone():
    """Half a millimeter under the well's roof of 0.4 mm: the room over the roof stays dry."""
    point = np.array([225.0, 0.0, 29.5])
    skin = outer_skin("hull", with_a_well([OVER_THE_WELL], thick=0.4), floods=[point])
    assert abs(skin.volume_mm3 - (FULL_MM3 - 45_000.0)) <= skin.error_mm3


def test_a_well_in_a_hull_with_an_arched_deck():
    """A round hull with a hatch 50 mm wide: the chord over it starts 8.8 mm below the arch.

    That is no wall missing between the well and the inside. manifold3d measures the polygon of 96
    sides without the well of 50 × 20 mm, and what lies above the chord.
    """
    from manifold3d import Manifold

    def tube(radius, length):
        """Return a rod along x about the axis y = z = 0."""
        rod = Manifold.cylinder(length, radius, circular_segments=96).rotate((0.0, 90.0, 0.0))
        return rod.translate((0.5 * (300.0 - length), 0.0, 0.0))

    outer = tube(40.0, 300.0) - block((200, -10, -60), (250, 10, -20))
    inner = tube(39.0, 298.0) - block((199, -11, -60), (251, 11, -19))
    walls = solid_triangles(outer - inner - block((60, -25, 25), (140, 25, 60)))
    skin = outer_skin("hull", [("hull", walls)], floods=[np.array([225.0, 0.0, -28.0])])
    rim = (outer ^ block((60, 24.999, 0), (140, 25, 60))).bounding_box()[5]
    arch = outer ^ block((60, -25, rim), (140, 25, 60))
    assert skin.volume_mm3 == pytest.approx(outer.volume() - arch.volume(), rel=1e-3)


def test_a_well_that_is_the_hull_itself_is_refused():
    """An open boat with a point in her inside: all of her would flood."""
    boat = [("hull", finer(lacking("deck"), 1))]
    with pytest.raises(
        SurfaceError, match=r"the well at \(120, 0, 30\) mm is the inside of the hull"
    ):
        outer_skin("hull", boat, floods=[np.array([120.0, 0.0, 30.0])])


def test_a_point_in_no_well_is_refused():
    """Amid a hull that is closed there."""
    with pytest.raises(
        SurfaceError, match=r"floods has a point at \(500, 0, 40\) mm that lies in no"
    ):
        outer_skin("hull", with_a_well([HATCH]), floods=[np.array([500.0, 0.0, 40.0])])
