"""The printed hull: its files made by their script, its walls, openings, hatch, ribs, placements.

What is held against the files is worked out by trimesh, manifold3d, shapely, networkx and VTK,
general-purpose libraries that know nothing of the scripts.
"""

import ast
import importlib
import shutil
import subprocess
import sys
import tomllib
from itertools import combinations, pairwise
from pathlib import Path

import manifold3d
import networkx as nx
import numpy as np
import pytest
import shapely
import trimesh

MESHES = Path(__file__).parents[1] / "meshes"
sys.path.insert(0, str(MESHES))
maker = importlib.import_module("make_printed")
tarnwing = importlib.import_module("make_tarnwing")

MADE = maker.files()
STL = sorted(name for name in MADE if name.endswith(".stl"))
SEGMENTS = ("nose", "fore", "mid", "aft", "stern")
CUTS_MM = (120.0, 258.0, 380.0, 500.0)
PARTS = (*SEGMENTS, "hatch")
SOLIDS = [f"{folder}/{part}.stl" for folder in ("printed", "print_axes") for part in PARTS]
SKIN = maker.printed_skin_triangles()
GRID_MM = 1.0 / 1024.0


def read(name):
    """Return the triangles (n, 3, 3) of a binary STL file as it lies on disk."""
    content = (MESHES / name).read_bytes()
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
    triangles = np.frombuffer(content, record, offset=84)
    assert int.from_bytes(content[80:84], "little") == len(triangles)
    return triangles["corners"].astype(np.float64)


def welded(triangles):
    """Return the triangles as trimesh holds them, corners that are equal to the last bit joined."""
    points, faces = np.unique(triangles.reshape(-1, 3), axis=0, return_inverse=True)
    return trimesh.Trimesh(points, faces.reshape(-1, 3), process=False, validate=False)


def solid(triangles):
    """Return the triangles as a solid of manifold3d."""
    mesh = welded(triangles)
    made = manifold3d.Manifold(manifold3d.Mesh64(mesh.vertices, mesh.faces.astype(np.uint64)))
    assert made.status() == manifold3d.Error.NoError
    return made


def signed_distance_mm(triangles):
    """Return VTK's function of a point's distance to triangles, negative inside a closed skin."""
    from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray
    from vtkmodules.vtkCommonCore import vtkPoints
    from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
    from vtkmodules.vtkFiltersCore import vtkImplicitPolyDataDistance

    mesh = welded(triangles)
    points, cells, data = vtkPoints(), vtkCellArray(), vtkPolyData()
    points.SetData(numpy_to_vtk(np.ascontiguousarray(mesh.vertices), deep=True))
    starts = numpy_to_vtkIdTypeArray(np.arange(0, 3 * len(mesh.faces) + 1, 3), deep=True)
    cells.SetData(starts, numpy_to_vtkIdTypeArray(mesh.faces.reshape(-1).copy(), deep=True))
    data.SetPoints(points)
    data.SetPolys(cells)
    distance = vtkImplicitPolyDataDistance()
    distance.SetInput(data)
    return lambda places: np.array([distance.EvaluateFunction(*place) for place in places])


def as_set(triangles):
    """Return the triangles as a set, whichever corner each begins with."""
    return {min(t, t[1:] + t[:1], t[2:] + t[:2]) for t in (tuple(map(tuple, s)) for s in triangles)}


def rim_edges(mesh):
    """Return the edges of a mesh that belong to one face only, as pairs of its points."""
    edges, count = np.unique(mesh.edges_sorted, axis=0, return_counts=True)
    return edges[count == 1]


def rings(mesh, axis, height):
    """Return where a plane cuts a mesh, as shapely's closed rings."""
    normal = np.eye(3)[axis]
    cut = mesh.section(plane_origin=normal * height, plane_normal=normal)
    if cut is None:
        return []
    return [
        shapely.LinearRing(np.delete(cut.vertices[entity.points], axis, axis=1))
        for entity in cut.entities
    ]


def afloat_mm(mass_g):
    """Return the height of the water on the outer skin held level, by manifold3d, in mm."""
    hull, low, high = solid(SKIN), 0.0, 60.0
    for _ in range(40):
        height = 0.5 * (low + high)
        wet = hull.trim_by_plane((0.0, 0.0, -1.0), -height)
        light = wet.volume() * 0.9991026e-3 < mass_g  # fresh, 15 °C: ITTC 7.5-02-01-03
        low, high = (height, high) if light else (low, height)
    return height


def opening_triangles():
    """Return what of the outer skin belongs to no segment: what is cut out."""
    kept = set().union(*(as_set(read(f"printed/{name}.stl")) for name in SEGMENTS))
    return np.array(sorted(as_set(SKIN) - kept))


def openings():
    """Return the cut-out pieces of the outer skin, the foremost first, port before starboard."""
    pieces = welded(opening_triangles()).split(only_watertight=False)
    return sorted(pieces, key=lambda piece: tuple(piece.bounds[0]))


@pytest.mark.parametrize("name", sorted(MADE))
def test_files_are_what_the_script_makes(name):
    """Each file on disk equals what its script makes, byte for byte."""
    assert (MESHES / name).read_bytes() == MADE[name]


def test_nothing_else_lies_there():
    """The three folders hold what the script makes and no other file."""
    found = {
        path.relative_to(MESHES).as_posix()
        for folder in ("printed", "print_axes", "single_wall")
        for path in (MESHES / folder).iterdir()
    }
    assert found == set(MADE)


def test_script_runs_anywhere_with_numpy_alone(tmp_path):
    """Copied elsewhere and run, the script writes the same bytes; it imports numpy only."""
    ours = {path.stem for path in MESHES.glob("*.py")}
    for path in MESHES.glob("*.py"):
        shutil.copy(path, tmp_path)
    for path in (*MESHES.glob("printed_*.py"), MESHES / "make_printed.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import | ast.ImportFrom):
                names = [node.module] if isinstance(node, ast.ImportFrom) else [node.names[0].name]
                assert set(names) <= {"pathlib", "dataclasses", "numpy", "numpy.typing"} | ours
    subprocess.run([sys.executable, "make_printed.py"], cwd=tmp_path, check=True)
    written = {
        path.relative_to(tmp_path).as_posix(): path.read_bytes()
        for path in tmp_path.glob("*/*")
        if path.suffix in {".stl", ".toml"}
    }
    assert written == MADE


def test_files_are_small():
    """No file has more than 1 MB, and all of them not more than 2.5 MB."""
    sizes = [len(content) for content in MADE.values()]
    assert max(sizes) < 1_000_000
    assert sum(sizes) <= 2_500_000
    assert len(SKIN) >= 6_000


@pytest.mark.parametrize("name", STL)
def test_coordinates_lie_on_the_grid(name):
    """Every coordinate is a multiple of 1/1024 mm, and no triangle is without area."""
    triangles = read(name)
    assert not (triangles / GRID_MM % 1.0).any()
    assert welded(triangles).area_faces.min() > 0.01


@pytest.mark.parametrize("name", SOLIDS)
def test_parts_are_closed_solids(name):
    """Each part is one closed, outward skin to trimesh, and a solid of its holes to manifold3d."""
    mesh = welded(read(name))
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.body_count == 1
    assert mesh.volume > 0.0
    made = solid(read(name))
    assert made.volume() == pytest.approx(mesh.volume, rel=1e-9)
    # A cup has no handle, a tube one, and each opening in it makes one more.
    handles = {"nose": 0, "fore": 2, "mid": 2, "aft": 3, "stern": 0, "hatch": 0}
    assert made.genus() == handles[Path(name).stem]


@pytest.mark.parametrize("part", PARTS)
def test_walls_do_not_cross_themselves(part):
    """Cut by planes along all three axes, a part shows rings that neither cross nor touch."""
    mesh = welded(read(f"printed/{part}.stl"))
    seen = 0
    for axis in range(3):
        low, high = mesh.bounds[:, axis]
        for height in np.linspace(low, high, 31)[1:-1] + 0.0137:  # off the grid's own rows
            found = rings(mesh, axis, height)
            seen += len(found)
            assert all(ring.is_simple for ring in found)
            assert not any(one.intersects(other) for one, other in combinations(found, 2))
    assert seen > 80


@pytest.mark.parametrize("part", PARTS)
def test_walls_are_a_millimeter(part):
    """Inner corners stand 1 mm behind the outer skin, but in the filled tips and at the step.

    Behind the re-entrant edge at the head of the step the nearest outer point is that edge, √2 mm
    away; by the side's corner a little less than 1 mm is left.
    """
    inner = np.unique(read(f"printed/{part}.stl").reshape(-1, 3), axis=0)
    inner = inner[(inner[:, 0] > 9.0) & (inner[:, 0] < 616.0)]
    wall = -signed_distance_mm(SKIN)(inner)
    inner, wall = inner[wall > 0.5], wall[wall > 0.5]
    assert len(wall) > 200 if part != "hatch" else len(wall) > 60
    by_step = np.abs(inner[:, 0] - tarnwing.STEP_STATION_MM) < 2.0
    assert np.abs(wall[~by_step] - 1.0).max() < 0.05
    assert np.median(np.abs(wall - 1.0)) < 0.002
    assert wall.min() > 0.75
    assert wall.max() < 1.01 * np.sqrt(2.0)


def test_segments_meet_in_the_same_flat_ends():
    """At each cut both neighbors end in the same flat ring: no gap, no overlap, no step across."""
    for station, (ahead, behind) in zip(CUTS_MM, pairwise(SEGMENTS), strict=True):
        ends = [welded(read(f"printed/{name}.stl")) for name in (ahead, behind)]
        assert (ends[0].bounds[1, 0], ends[1].bounds[0, 0]) == (station, station)
        flat = [end.faces[(end.triangles[:, :, 0] == station).all(axis=1)] for end in ends]
        corners = [
            np.unique(end.vertices[faces].reshape(-1, 3), axis=0)
            for end, faces in zip(ends, flat, strict=True)
        ]
        assert np.array_equal(*corners)
        areas = [
            end.area_faces[(end.triangles[:, :, 0] == station).all(axis=1)].sum() for end in ends
        ]
        assert areas[0] == pytest.approx(areas[1], rel=1e-12)
        assert max(np.ptp(end.bounds[:, 0]) for end in ends) <= 180.0


def test_parts_do_not_overlap():
    """The parts' union, hatch included, has the sum of their volumes: manifold3d."""
    solids = [solid(read(f"printed/{part}.stl")) for part in PARTS]
    union = manifold3d.Manifold.batch_boolean(solids, manifold3d.OpType.Add)
    assert union.volume() == pytest.approx(sum(made.volume() for made in solids), rel=1e-9)


def test_segments_fit_a_small_printer():
    """No part is longer than 180 mm in any direction; one cut is near the step, none at it."""
    for part in PARTS:
        assert np.ptp(welded(read(f"printed/{part}.stl")).bounds, axis=0).max() <= 180.0
    assert min(abs(cut - tarnwing.STEP_STATION_MM) for cut in CUTS_MM) == 7.0


def test_outer_skin_is_the_hull():
    """The outer skin is closed and has the volume, whole and wet, of the hull it is a grid of.

    Facets on an inscribed grid cut off what grows with the square of their size, and the printed
    hull's panels are twice as long: 0.017 % of the whole, 0.024 % of the wet volume, 0.17 g of 690.
    """
    mesh = welded(SKIN)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    made, hull = solid(SKIN), solid(read("tarnwing_hull.stl"))
    assert made.genus() == 0
    assert made.volume() == pytest.approx(hull.volume(), rel=2.5e-4)
    assert made.volume() < hull.volume()
    height = afloat_mm(690.0)
    wet = [each.trim_by_plane((0.0, 0.0, -1.0), -height).volume() for each in (made, hull)]
    assert wet[0] == pytest.approx(wet[1], rel=2.5e-4)


def test_outer_skin_is_symmetric():
    """The outer skin's triangles are their own mirror image, to the last bit."""
    turned = SKIN[:, ::-1] * np.array([1.0, -1.0, 1.0]) + 0.0
    assert as_set(SKIN) == as_set(turned)


def test_openings_have_their_sizes():
    """Canopy 100 × 46, pylon 24 × 18, two servo slots of 24 × 12 mm along the deck."""
    canopy, pylon, port, starboard = openings()
    assert canopy.bounds[:, :2].tolist() == [[136.0, -23.0], [236.0, 23.0]]
    assert pylon.bounds[:, :2].tolist() == [[318.0, -9.0], [342.0, 9.0]]
    assert port.bounds[:, :2].tolist() == [[404.0, -28.0], [428.0, -16.5]]
    assert starboard.bounds[:, :2].tolist() == [[404.0, 16.5], [428.0, 28.0]]
    assert starboard.area / 24.0 == pytest.approx(12.0, abs=0.3)  # its width along the deck


def test_openings_are_well_above_the_water():
    """The lowest edge of any opening stands more than 35 mm above the water at 700 g, level."""
    assert opening_triangles()[..., 2].min() > afloat_mm(700.0) + 35.0


def test_cut_outs_go_through_the_wall():
    """A segment's plastic leaves each opening free: a bar through it touches nothing."""
    for name, piece in zip(("fore", "mid", "aft", "aft"), openings(), strict=True):
        made = solid(read(f"printed/{name}.stl"))
        low, high = piece.bounds + np.array([[2.0, 2.0, -12.0], [-2.0, -2.0, 12.0]])
        bar = manifold3d.Manifold.cube(high - low).translate(low)
        assert (made ^ bar).is_empty()
        assert not (made ^ bar.translate((0.0, 8.0, 0.0))).is_empty()


def test_hatch_lies_in_the_canopy_opening():
    """The hatch's edges stand 0.15 mm off the segment all round, its outside flush with her."""
    corners = np.unique(read("printed/hatch.stl").reshape(-1, 3), axis=0)
    low, high = openings()[0].bounds
    assert corners[:, 0].min() - low[0] == pytest.approx(0.15, abs=GRID_MM)
    assert high[0] - corners[:, 0].max() == pytest.approx(0.15, abs=GRID_MM)
    assert high[1] - corners[:, 1].max() == pytest.approx(0.15, abs=GRID_MM)
    gap = np.abs(signed_distance_mm(read("printed/fore.stl"))(corners))
    assert gap.min() == pytest.approx(0.15, abs=GRID_MM)
    outside = np.abs(signed_distance_mm(SKIN)(corners))
    flush = outside[outside < 0.5]
    assert len(flush) == len(corners) // 2
    # The hatch's edge stands on the curve, the skin's facets a little under it: 5 mm wide and 25 mm
    # round, 0.12 mm in their middle, a tenth of that 0.15 mm from their edge, along and across.
    assert flush.max() < 0.03


def test_placements_put_the_parts_back_exactly():
    """Each matrix, a pure turn by right angles and a shift, gives back the part to the last bit."""
    parts = tomllib.loads((MESHES / "print_axes/placements.toml").read_text("utf-8"))["part"]
    assert {part["file"] for part in parts} == {f"{name}.stl" for name in PARTS}
    for part in parts:
        place = np.array(part["place"])
        turn = place[:3, :3]
        assert place[3].tolist() == [0.0, 0.0, 0.0, 1.0]
        assert np.array_equal(np.abs(turn).sum(axis=0), np.ones(3))
        assert np.array_equal(turn @ turn.T, np.eye(3))
        assert np.linalg.det(turn) == pytest.approx(1.0)
        placed = read(f"print_axes/{part['file']}") @ turn.T + place[:3, 3]
        assert np.array_equal(placed, read(f"printed/{part['file']}"))


def test_parts_stand_on_the_bed():
    """In print axes each part rests on z = 0, over the middle of the bed; segments stand on end."""
    for part in PARTS:
        low, high = welded(read(f"print_axes/{part}.stl")).bounds
        assert low[2] == 0.0
        assert np.abs(low + high)[:2].max() <= 2.0 * GRID_MM
        length, height = np.ptp(welded(read(f"printed/{part}.stl")).bounds, axis=0)[[0, 2]]
        assert high[2] == (height if part == "hatch" else length)


@pytest.mark.parametrize("part", SEGMENTS)
def test_single_walls_are_the_outer_sheet_and_ribs(part):
    """A single-wall segment is the very outer sheet of the printed one, and flat ribs inside it."""
    outer = as_set(read(f"printed/{part}.stl")) & as_set(SKIN)
    triangles = read(f"single_wall/{part}.stl")
    assert outer < as_set(triangles)
    rib = np.array(sorted(as_set(triangles) - outer))
    across = np.unique(rib[np.ptp(rib[..., 0], axis=1) == 0.0][:, 0, 0])
    assert len(across) == 2
    lengthwise = rib[np.ptp(rib[..., 0], axis=1) > 0.0]
    assert (len(lengthwise) > 0) == (part == "fore")
    assert not lengthwise[..., 1].any()
    distance = signed_distance_mm(SKIN)
    assert distance(rib.mean(axis=1)).max() < -0.1
    assert distance(np.unique(rib.reshape(-1, 3), axis=0)).max() < GRID_MM


@pytest.mark.parametrize("part", SEGMENTS)
def test_single_wall_rims(part):
    """Ends, openings and ribs leave the rims they should; one rib shares the sheet's edges."""
    mesh = welded(read(f"single_wall/{part}.stl"))
    loops = nx.Graph(rim_edges(mesh).tolist())
    # Ends and openings, a rib's hole, and both rims of the rib that shares no point. In the fore
    # segment the lengthwise rib's rim joins those of the two ends.
    counts = {"nose": 1 + 3, "fore": 1 + 1 + 3, "mid": 2 + 1 + 3, "aft": 2 + 2 + 3, "stern": 1 + 3}
    assert nx.number_connected_components(loops) == counts[part]
    uses = np.unique(mesh.edges_sorted, axis=0, return_counts=True)[1]
    assert (uses == 3).sum() >= 40
    assert uses.max() <= 4


@pytest.mark.parametrize("part", SEGMENTS)
def test_single_wall_ribs_touch_the_sheet(part):
    """Both rims of the sheet's ribs stand on it within a grid step, as flat rings with a hole."""
    sheet = read(f"printed/{part}.stl")
    sheet = np.array(sorted(as_set(sheet) & as_set(SKIN)))
    triangles = read(f"single_wall/{part}.stl")
    rib = np.array(sorted(as_set(triangles) - as_set(sheet)))
    across = rib[np.ptp(rib[..., 0], axis=1) == 0.0]
    distance = signed_distance_mm(SKIN)
    for station in np.unique(across[:, 0, 0]):
        flat = across[across[:, 0, 0] == station]
        area = shapely.union_all([shapely.Polygon(corners[:, 1:]) for corners in flat])
        assert area.geom_type == "Polygon"
        assert len(area.interiors) == 1
        assert area.area == pytest.approx(welded(flat).area, rel=1e-9)
        rim = np.array(area.exterior.coords)
        rim = np.column_stack([np.full(len(rim), station), rim])
        assert np.abs(distance(rim)).max() < GRID_MM
