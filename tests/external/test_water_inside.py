"""Open CASCADE's own wall, bulkhead and level cut of a hull; VTK's distances from its skin."""

import numpy as np
import pytest
from make_bodies import stepped_box
from outside import required

required("OCP")
required("vtkmodules")
from OCP.BRepBuilderAPI import (  # noqa: E402
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_Sewing,
)
from OCP.BRepOffsetAPI import BRepOffsetAPI_MakeOffsetShape  # noqa: E402
from OCP.GeomAbs import GeomAbs_JoinType  # noqa: E402
from OCP.gp import gp_Pnt  # noqa: E402
from OCP.ShapeFix import ShapeFix_Solid  # noqa: E402
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain  # noqa: E402
from OCP.TopAbs import TopAbs_SHELL  # noqa: E402
from OCP.TopExp import TopExp_Explorer  # noqa: E402
from OCP.TopoDS import TopoDS  # noqa: E402
from solid_cuts import under  # noqa: E402
from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray  # noqa: E402
from vtkmodules.vtkCommonCore import vtkPoints  # noqa: E402
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData  # noqa: E402
from vtkmodules.vtkFiltersCore import vtkImplicitPolyDataDistance  # noqa: E402

from hullcheck.flotation.contents import Aboard  # noqa: E402
from hullcheck.flotation.flooded import water_at  # noqa: E402
from hullcheck.geometry.compartments import cut_at_stations  # noqa: E402
from hullcheck.geometry.inset import inset  # noqa: E402
from hullcheck.geometry.moment_tree import MomentTree  # noqa: E402
from hullcheck.geometry.topology import merged  # noqa: E402

WALL = 1.5
STATION = 170.0
AFT = np.array([1.0, 0.0, 0.0])
HULL = stepped_box(
    length_mm=600.0,
    beam_mm=110.0,
    height_mm=80.0,
    step_station_mm=290.0,
    step_depth_mm=9.0,
    deadrise_deg=15.0,
    forebody_keel_deg=2.0,
    afterbody_keel_deg=6.0,
)


def solid_of(triangles):
    """Return triangles as a solid of the kernel, flat neighbors made one face."""
    sewing = BRepBuilderAPI_Sewing(1e-7)
    for corners in triangles.tolist():
        outline = BRepBuilderAPI_MakePolygon(*[gp_Pnt(*corner) for corner in corners], Close=True)
        sewing.Add(BRepBuilderAPI_MakeFace(outline.Wire(), OnlyPlane=True).Face())
    sewing.Perform()
    shell = TopoDS.Shell(TopExp_Explorer(sewing.SewedShape(), TopAbs_SHELL).Current())
    joined = ShapeUpgrade_UnifySameDomain(ShapeFix_Solid().SolidFromShell(shell))
    joined.Build()
    return joined.Shape()


@pytest.fixture(scope="module")
def kernel_inside():
    """Return the kernel's own offset of the stepped hull by the wall, faces joined at corners."""
    offset = BRepOffsetAPI_MakeOffsetShape()
    offset.PerformByJoin(solid_of(HULL), -WALL, 1e-6, Join=GeomAbs_JoinType.GeomAbs_Intersection)
    assert offset.IsDone()
    return offset.Shape()


@pytest.fixture(scope="module")
def inside():
    """Return the product's inside of the stepped hull."""
    return inset("hull", HULL, WALL)


def test_open_cascade_offsets_the_hull_alike(kernel_inside, inside):
    """Keel, chines, step and transom: volume and center of the inside agree to rounding."""
    theirs = under(kernel_inside, AFT, 700.0)
    ours = MomentTree(inside.mesh.triangles)
    found = ours.under(AFT, 700.0)
    assert inside.volume_mm3 == pytest.approx(theirs.volume, rel=1e-9)
    assert list(found.position_integral / found.volume + ours.origin_mm) == pytest.approx(
        list(theirs.first_moment / theirs.volume), abs=1e-6
    )


def test_open_cascade_cuts_the_compartments_alike(kernel_inside, inside):
    """What lies ahead of a bulkhead has the volume that the kernel cuts off there."""
    fore, aft = cut_at_stations("hull", inside.mesh, [STATION])
    theirs = under(kernel_inside, AFT, STATION)
    assert fore.volume_mm3 == pytest.approx(theirs.volume, rel=1e-9)
    assert fore.volume_mm3 + aft.volume_mm3 == pytest.approx(inside.volume_mm3, rel=1e-12)


@pytest.mark.parametrize(("trim", "heel", "water_g"), [(3.0, 11.0, 100.0), (-8.0, 35.0, 1200.0)])
def test_open_cascade_finds_the_water_level_alike(kernel_inside, inside, trim, heel, water_g):
    """Cut at the surface height: the water's volume and center, its surface and second moments."""
    tree = MomentTree(inside.mesh.triangles)
    moved = water_at(
        mass_g=500.0,
        center_of_gravity_mm=(0.0, 0.0, 0.0),
        aboard=[Aboard(name="hull", tree=tree, water_g=water_g, permeability=0.9)],
        trim_deg=trim,
        heel_deg=heel,
    )
    (water,) = moved.water
    theirs = under(kernel_inside, water.normal, water.surface_height_mm)
    assert theirs.volume == pytest.approx(water_g / (0.9 * 1e-3), rel=1e-8)
    centroid = theirs.first_moment / theirs.volume
    assert list(water.centroid_mm) == pytest.approx(list(centroid), abs=1e-6)
    share = water_g / (500.0 + water_g)
    assert list(moved.center_of_gravity_mm) == pytest.approx(list(share * centroid), abs=1e-6)
    assert water.free_surface_area_mm2 == pytest.approx(theirs.area, rel=1e-8)
    middle = theirs.area_moment / theirs.area
    second = theirs.second_moment - theirs.area * np.outer(middle, middle)
    scale = float(np.abs(second).max())
    assert np.abs(water.second_moments_mm4 - second).max() < 1e-7 * scale


def test_vtk_finds_the_wall_as_thick_as_asked(tarnwing_surfaces):
    """A tip float of the demo craft, rounded more tightly than its wall in places.

    VTK's distance from the skin, at points spread over the inside by area: the mean is the wall
    within 0.1 %, and none of them is nearer to the skin than 97 % of it. The skin is first
    simplified by 2 % of the wall, which is the most that a point may be off; corners lie deeper
    than the wall, so the far side is bounded for 99 % of the points.
    """
    wall = 0.8
    inside = inset("float", tarnwing_surfaces[1], wall).mesh.triangles
    rng = np.random.default_rng(5)
    areas = np.linalg.norm(
        np.cross(inside[:, 1] - inside[:, 0], inside[:, 2] - inside[:, 0]), axis=1
    )
    picked = rng.choice(len(areas), 4000, p=areas / areas.sum())
    weights = rng.dirichlet([1.0, 1.0, 1.0], 4000)
    points = np.einsum("nk,nkj->nj", weights, inside[picked])
    distance = _vtk_distance(tarnwing_surfaces[1])
    thick = np.array([-distance.EvaluateFunction(*point) for point in points.tolist()])
    assert thick.mean() == pytest.approx(wall, rel=1e-3)
    assert thick.min() > 0.97 * wall
    assert np.quantile(thick, 0.99) < 1.02 * wall


def _vtk_distance(triangles):
    """Return VTK's signed distance from a surface, negative inside."""
    mesh = merged(triangles)
    points = vtkPoints()
    points.SetDataTypeToDouble()
    points.SetData(numpy_to_vtk(np.ascontiguousarray(mesh.points), deep=1))
    cells = vtkCellArray()
    listed = np.insert(mesh.faces, 0, 3, axis=1).astype(np.int64).ravel()
    cells.ImportLegacyFormat(numpy_to_vtkIdTypeArray(listed, deep=1))
    surface = vtkPolyData()
    surface.SetPoints(points)
    surface.SetPolys(cells)
    distance = vtkImplicitPolyDataDistance()
    distance.SetInput(surface)
    return distance
