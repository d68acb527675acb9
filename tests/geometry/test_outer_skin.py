"""The outer skin of parts as printed, from the files on: volumes, seams, refusals, fallback."""

import re
from itertools import pairwise

import make_bodies as bodies
import numpy as np
import pytest
from open_boxes import lacking
from thin_walls import BEAM, CUT, HATCH, HEIGHT, LENGTH, block, finer, segments, wall

from hullcheck.errors import SurfaceError
from hullcheck.geometry import printed_skin
from hullcheck.geometry.outer_skin import outer_skin

FULL_MM3 = LENGTH * BEAM * HEIGHT


def closed_box(start, stop):
    """Return a closed box between two stations."""
    box = bodies.box(length_mm=stop - start, beam_mm=BEAM, height_mm=HEIGHT)
    return box + np.array([start, 0.0, 0.0])


def solid_triangles(solid):
    """Return a solid's triangles."""
    mesh = solid.to_mesh64()
    return np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts).astype(np.int64)]


def round_tube(wall_mm, facets=96):
    """Return a thin-wall cylinder of 80 mm with closed ends and a hole in its side, 300 mm long."""
    from manifold3d import Manifold

    outer = Manifold.cylinder(300.0, 40.0, circular_segments=facets)
    inner = Manifold.cylinder(300.0 - 2.0 * wall_mm, 40.0 - wall_mm, circular_segments=facets)
    hole = block((25.0, -10.0, 100.0), (60.0, 10.0, 140.0))
    made = outer - inner.translate((0.0, 0.0, wall_mm)) - hole
    return solid_triangles(made.rotate((0.0, 90.0, 0.0)))


# ------------------------------------------------------------------------------------- as filed


def test_a_closed_surface_is_its_own_skin():
    """A wedge stays as it is, to the last bit: beam × height × length / 2, no error stated."""
    wedge = bodies.prism(length_mm=300.0, beam_mm=90.0, height_mm=40.0)
    skin = outer_skin("hull", [("hull", wedge)])
    assert skin.method == "as filed"
    assert np.array_equal(skin.shells[0].triangles_mm, wedge)
    assert skin.volume_mm3 == pytest.approx(90.0 * 40.0 * 300.0 / 2.0, rel=1e-12)
    assert skin.error_mm3 == 0.0
    assert skin.checks.handles == 0


@pytest.mark.parametrize("cuts", [(200.0,), (150.0, 333.3)])
def test_closed_parts_that_butt_are_one_exactly(cuts):
    """Two or three closed boxes end to end: the whole box, nothing invented."""
    stations = [0.0, *cuts, LENGTH]
    parts = [
        (f"part {k}", closed_box(a, b)) for k, (a, b) in enumerate(pairwise(stations), start=1)
    ]
    skin = outer_skin("hull", parts)
    assert skin.method == "united"
    assert len(skin.shells) == 1
    assert skin.volume_mm3 == pytest.approx(FULL_MM3, rel=1e-12)
    assert skin.area_mm2 == pytest.approx(
        2.0 * (LENGTH * BEAM + LENGTH * HEIGHT + BEAM * HEIGHT), rel=1e-9
    )
    assert skin.patches == ()
    assert set(skin.sources[0].tolist()) == set(range(len(parts)))
    assert skin.checks.solid_share == pytest.approx(1.0, rel=1e-9)
    assert skin.checks.handles == 0


def test_closed_parts_apart_are_refused():
    """Ten millimeters between two closed boxes: both names and the distance."""
    with pytest.raises(SurfaceError, match=r"a and b do not make one skin: about 10\.0 mm lie"):
        outer_skin("hull", [("a", closed_box(0.0, 200.0)), ("b", closed_box(210.0, 400.0))])


def test_a_part_given_twice_is_refused():
    """The same surface under two names."""
    box = closed_box(0.0, 200.0)
    with pytest.raises(SurfaceError, match="a and b are the same surface in the same place"):
        outer_skin("hull", [("a", box), ("b", box)])


def test_a_part_without_triangles_is_refused():
    """By its name; a body without parts by its own."""
    with pytest.raises(SurfaceError, match=r"^nose: no triangles"):
        outer_skin("hull", [("tail", closed_box(0, 9)), ("nose", np.empty((0, 3, 3)))])
    with pytest.raises(SurfaceError, match=r"^hull: no triangles"):
        outer_skin("hull", [])


# -------------------------------------------------------------------------------------- printed


@pytest.mark.parametrize("gap_mm", [-0.2, 0.0, 0.1, 0.3, 3.0])
def test_walls_make_the_box_they_are_of(gap_mm):
    """Segments with a hatch: beam × height × length within the stated error, the gap as it is."""
    skin = outer_skin("hull", list(segments(gap_mm=gap_mm).items()))
    assert skin.method == "united"
    assert abs(skin.volume_mm3 - FULL_MM3) <= skin.error_mm3 < 1e-3 * FULL_MM3
    (seam,) = skin.seams
    assert seam.gap_mm == pytest.approx(gap_mm, rel=0, abs=1e-3)
    assert seam.parts == ("nose", "tail")
    assert [part.kind for part in skin.parts] == ["thin wall", "thin wall"]
    assert skin.checks.handles == 0


def test_a_closed_wall_is_its_outside():
    """A wall without any opening: the box to 1e-12, whatever is inside."""
    skin = outer_skin("hull", [("hull", wall())])
    assert skin.volume_mm3 == pytest.approx(FULL_MM3, rel=1e-12)
    assert skin.patches == ()


def test_a_round_wall_is_the_polygon_around_it():
    """(n/2) r² sin(2π/n) × length, less what the chord over a hole in its side cuts off."""
    skin = outer_skin("hull", [("hull", round_tube(1.2))])
    full = 48.0 * 40.0**2 * np.sin(2.0 * np.pi / 96.0) * 300.0
    assert abs(skin.volume_mm3 - full) <= skin.error_mm3
    assert skin.error_mm3 < 1e-3 * full
    assert skin.parts[0].kind == "thin wall"
    assert skin.parts[0].wall_mm == pytest.approx(1.2, rel=0.05)
    assert skin.checks.handles == 0


def test_an_open_boat_is_closed_flat():
    """A box without a deck, a surface without thickness: closed along its upper edge."""
    skin = outer_skin("hull", [("hull", finer(lacking("deck"), 2))])
    full = 240.0 * 96.0 * 64.0
    assert abs(skin.volume_mm3 - full) <= skin.error_mm3 < 2e-3 * full
    (patch,) = skin.patches
    assert patch.name.startswith("opening at station 120, ")
    # The copy behind the sheet lies up to 0.6 mm within it on either side: the rest is the part's.
    length, width = patch.size_mm
    assert 240.0 - 1.2 <= length <= 240.0
    assert 96.0 - 1.2 <= width <= 96.0
    assert skin.parts[0].kind == "sheet"
    assert skin.checks.handles == 0


def test_an_open_end_is_refused_with_the_lid_that_closes_it():
    """No stern: refused with its station and what is open within the wall of 2 mm.

    The lid that the refusal tells of closes the box there.
    """
    nose = wall(0.0, CUT, aft=False)
    with pytest.raises(SurfaceError, match=r"hull ends open at station 200, 96 × 76 mm") as refused:
        outer_skin("hull", [("nose", nose)])
    told = re.search(r'\[\[lid\]\] name = "(\w+)" outline_mm = \[(.*)\]$', str(refused.value))
    corners = np.array([float(n) for n in re.findall(r"-?\d+\.\d", told[2])]).reshape(-1, 3)
    skin = outer_skin("hull", [("nose", nose)], lids=[(told[1], corners)])
    full = CUT * BEAM * HEIGHT
    # The corners are told to a tenth of a millimeter: so far may the end be out.
    assert skin.volume_mm3 == pytest.approx(full, rel=0, abs=0.1 * BEAM * HEIGHT)
    assert [patch.name for patch in skin.patches if patch.kind == "lid"] == ["end"]


def test_a_lid_over_a_hatch():
    """In the deck's own plane: the box to 1e-9, a patch "lid" of its name and area."""
    (x0, y0, _), (x1, y1, _) = HATCH
    outline = np.array([[x0, y0, HEIGHT], [x1, y0, HEIGHT], [x1, y1, HEIGHT], [x0, y1, HEIGHT]])
    skin = outer_skin("hull", [("hull", wall(holes=[HATCH]))], lids=[("radio hatch", outline)])
    (patch,) = skin.patches
    assert (patch.kind, patch.name) == ("lid", "radio hatch")
    assert patch.area_mm2 == pytest.approx((x1 - x0) * (y1 - y0), rel=1e-6)
    assert skin.volume_mm3 == pytest.approx(FULL_MM3, rel=1e-9)


def test_a_lap_is_noted():
    """Ends that run 1.5 mm into each other are a note, and cost nothing."""
    skin = outer_skin("hull", list(segments(gap_mm=-1.5).items()))
    assert [code for code, _ in skin.notes] == ["parts-overlap"]
    assert abs(skin.volume_mm3 - FULL_MM3) <= skin.error_mm3


@pytest.fixture(params=["raises", "loses 5 %"])
def failing_once(request, monkeypatch):
    """Let the union fail the first time: it comes out empty, or 5 % short."""
    from manifold3d import Manifold

    made = printed_skin.united_hulks
    calls = []

    def failing(name, solids):
        """Fail the first time."""
        calls.append(name)
        if len(calls) > 1:
            return made(name, solids)
        if request.param == "raises":
            raise SurfaceError("the union is empty")
        return made(name, [(Manifold.cube((0.95 * LENGTH, BEAM, HEIGHT)), 0)])

    monkeypatch.setattr(printed_skin, "united_hulks", failing)
    return calls


def test_where_the_union_fails_the_sections_stand_in(failing_once):
    """The solid of the sections: the box within 0.05 %, said in a note."""
    skin = outer_skin("hull", list(segments().items()))
    assert failing_once == ["hull", "hull"]
    assert skin.method == "sections"
    assert skin.volume_mm3 == pytest.approx(FULL_MM3, rel=5e-4)
    ((code, sentence),) = skin.notes
    assert code == "sections-used"
    assert sentence.startswith("hull: its parts could not be made one solid (it came out ")


@pytest.mark.usefixtures("failing_once")
def test_the_solid_of_the_sections_states_its_error():
    """It lacks 0.048 mm at either end, 768 mm³ of the box, and says so."""
    skin = outer_skin("hull", list(segments().items()))
    assert abs(skin.volume_mm3 - FULL_MM3) <= skin.error_mm3


def test_the_solid_of_the_sections_of_a_tapered_hull(monkeypatch):
    """A frustum of 40 to 20 mm over 300 mm, 96 facets, walls of 1.2 mm: h/3 (A + B + √(A B))."""
    from manifold3d import Manifold

    outer = Manifold.cylinder(300.0, 40.0, 20.0, circular_segments=96)
    inner = Manifold.cylinder(297.6, 38.72, 18.88, circular_segments=96).translate((0, 0, 1.2))
    made, calls = printed_skin.united_hulks, []

    def failing(name, solids):
        """Fail the first time."""
        calls.append(name)
        if len(calls) == 1:
            raise SurfaceError("the union is empty")
        return made(name, solids)

    monkeypatch.setattr(printed_skin, "united_hulks", failing)
    walls = (outer - inner - block((20.0, -5.0, 100.0), (60.0, 5.0, 140.0))).rotate((0, 90, 0))
    skin = outer_skin("hull", [("hull", solid_triangles(walls))])
    assert skin.method == "sections"
    a, b = (48.0 * r**2 * np.sin(2.0 * np.pi / 96.0) for r in (40.0, 20.0))
    full = 100.0 * (a + b + np.sqrt(a * b))
    assert skin.volume_mm3 == pytest.approx(full, rel=5e-4)


def test_a_union_that_lost_a_quarter_is_refused(monkeypatch):
    """No skin is made of it."""
    from manifold3d import Manifold

    made = printed_skin.united_hulks
    half = Manifold.cube((0.75 * LENGTH, BEAM, HEIGHT))
    monkeypatch.setattr(printed_skin, "united_hulks", lambda name, *_: made(name, [(half, 0)]))
    with pytest.raises(SurfaceError, match=r"hull: its parts make no skin \(it came out 25.0 %"):
        outer_skin("hull", list(segments().items()))


def test_progress_is_told():
    """What is worked on, in words, in order; with the number of sections."""
    said = []
    outer_skin("hull", list(segments().items()), progress=said.append)
    assert said[0] == "proving that hull is closed"
    assert said[1:3] == ["looking at the parts of hull", "cutting hull into sections"]
    assert re.fullmatch(r"closing \d+ sections of hull", said[3])
    assert said[4:] == ["making one solid of hull", "listing what hull had to have invented"]
