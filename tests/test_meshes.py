"""The files of the demo craft and of the analytic bodies: made by their scripts, closed, sound.

Volumes, normals and cuts are taken by trimesh and manifold3d, general-purpose libraries that know
nothing of the scripts.
"""

import ast
import importlib
import shutil
import subprocess
import sys
from pathlib import Path

import manifold3d
import numpy as np
import pytest
import trimesh

MESHES = Path(__file__).parents[1] / "meshes"
sys.path.insert(0, str(MESHES))
tarnwing = importlib.import_module("make_tarnwing")
bodies = importlib.import_module("make_bodies")

MADE = {**tarnwing.files(), **bodies.files()}
HULL = "tarnwing_hull.stl"
FLOATS = ("tarnwing_starboard_float.stl", "tarnwing_port_float.stl")
CRAFT = (HULL, *FLOATS)


def read(name):
    """Return the triangles (n, 3, 3) of a binary STL file as it lies on disk, float32."""
    content = (MESHES / name).read_bytes()
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
    triangles = np.frombuffer(content, record, offset=84)
    assert int.from_bytes(content[80:84], "little") == len(triangles)
    return triangles["corners"]


def indexed(triangles):
    """Return points and faces after merging corners that are equal to the last bit."""
    points, faces = np.unique(triangles.reshape(-1, 3), axis=0, return_inverse=True)
    return points, faces.reshape(-1, 3)


def solid(triangles):
    """Return the triangles as trimesh holds them, with nothing cleaned or merged by it."""
    points, faces = indexed(triangles)
    return trimesh.Trimesh(points.astype(np.float64), faces, process=False, validate=False)


def assert_closed(triangles):
    """Assert that each directed edge occurs once and its opposite once, in one ball-like piece."""
    points, faces = indexed(triangles)
    directed = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    code = directed @ [len(points), 1]
    assert (directed[:, 0] != directed[:, 1]).all()
    assert len(np.unique(code)) == len(code)
    assert np.array_equal(np.sort(code), np.sort(directed[:, ::-1] @ [len(points), 1]))
    assert len(points) - len(code) // 2 + len(faces) == 2
    mesh = solid(triangles)
    assert mesh.body_count == 1
    assert mesh.volume > 0.0
    assert mesh.area_faces.min() > 0.0


def as_set(triangles):
    """Return the triangles as a set, whichever corner each begins with."""
    return {min(t, t[1:] + t[:1], t[2:] + t[:2]) for t in (tuple(map(tuple, s)) for s in triangles)}


def turned_over(triangles):
    """Return the mirror image in y = 0, facing outward."""
    return triangles[:, ::-1] * np.array([1, -1, 1], dtype=triangles.dtype) + 0


@pytest.mark.parametrize("name", sorted(MADE))
def test_files_are_what_the_scripts_make(name):
    """Each file on disk equals what its script makes, byte for byte."""
    assert (MESHES / name).read_bytes() == MADE[name]


def test_no_other_stl_lies_there():
    """Every STL file in the folder is made by a script."""
    assert {path.name for path in MESHES.glob("*.stl")} == set(MADE)


def test_scripts_run_anywhere_with_numpy_alone(tmp_path):
    """Copied elsewhere and run, the scripts write the same bytes, and they import numpy only."""
    scripts = sorted(MESHES.glob("*.py"))
    allowed = {"dataclasses", "pathlib", "numpy", "numpy.typing", *(path.stem for path in scripts)}
    for script in scripts:
        shutil.copy(script, tmp_path)
        for node in ast.walk(ast.parse(script.read_text("utf-8"))):
            if isinstance(node, ast.Import | ast.ImportFrom):
                names = [node.module] if isinstance(node, ast.ImportFrom) else [node.names[0].name]
                assert set(names) <= allowed
    for script in ("make_tarnwing.py", "make_bodies.py"):
        ran = subprocess.run(
            [sys.executable, script], cwd=tmp_path, capture_output=True, text=True, check=True
        )
        assert "triangles" in ran.stdout
    assert {path.name: path.read_bytes() for path in tmp_path.glob("*.stl")} == MADE


@pytest.mark.parametrize("name", sorted(MADE))
def test_files_are_closed(name):
    """Each file's float32 corners make one closed skin, facing outward, with no flat triangle."""
    assert_closed(read(name))


@pytest.mark.parametrize("name", sorted(MADE))
def test_file_headers_and_sizes(name):
    """Each file is the length its count says, small enough, and not mistaken for a text file."""
    content = MADE[name]
    limit = 1_040_000 if name == HULL else 200_000
    assert len(content) == 84 + 50 * len(read(name)) <= limit
    assert not content[:80].lower().startswith(b"solid")


@pytest.mark.parametrize("name", sorted(MADE))
def test_file_normals_are_unit_and_outward(name):
    """The normals written agree with those trimesh finds from the corners."""
    content = MADE[name]
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
    written = np.frombuffer(content, record, offset=84)["normal"]
    normals = trimesh.triangles.normals(read(name).astype(np.float64))[0]
    # Float32 carries 6e-8.
    assert np.abs(written - normals).max() < 1e-7


@pytest.mark.parametrize("name", sorted(MADE))
def test_coordinates_lie_on_the_grid(name):
    """Every coordinate is a multiple of 1/1024 mm, so that 32-bit numbers hold it exactly."""
    assert not (read(name).astype(np.float64) * 1024.0 % 1.0).any()


def test_triangle_counts():
    """The hull is fine enough to be real; the floats have what their size needs."""
    assert 20_000 <= len(read(HULL)) <= 20_790
    for name in FLOATS:
        assert 2_000 <= len(read(name)) <= 3_000


def test_triangles_are_stout():
    """Half the hull's triangles are near right-angled or better, and none is a needle."""
    mesh = solid(read(HULL))
    longest = mesh.edges_unique_length[mesh.faces_unique_edges].max(axis=1)
    slender = longest**2 / (2.0 * mesh.area_faces)
    # An isosceles right triangle has 2; those around the point of the bow are the worst.
    assert np.median(slender) < 2.5
    assert slender.max() < 50.0


def test_hull_is_symmetric():
    """The hull's triangles, diagonals and all, are their own mirror image, to the last bit."""
    triangles = read(HULL)
    assert as_set(triangles) == as_set(turned_over(triangles))


def test_tip_floats_are_twins():
    """The port float's triangles are the starboard one's turned over, to the last bit."""
    starboard, port = (read(name) for name in FLOATS)
    assert as_set(port) == as_set(turned_over(starboard))
    assert starboard[..., 1].min() > 300.0


def test_craft_does_not_cross_itself():
    """Hull and floats are solids to manifold3d, and their union keeps the sum of volumes."""
    parts = [manifold(read(name)) for name in CRAFT]
    union = parts[0] + parts[1] + parts[2]
    total = sum(solid(read(name)).volume for name in CRAFT)
    # Manifold3d snaps within its own tolerance, some 1e-12 of the size.
    assert union.volume() == pytest.approx(total, rel=1e-9)
    assert manifold(read(HULL)).genus() == 0


def test_step_is_sharp_and_where_it_is_said_to_be():
    """The step's face stands upright at its station, as deep at the chine as at the keel."""
    mesh = solid(read(HULL))
    face = (mesh.triangles[:, :, 0] == tarnwing.STEP_STATION_MM).all(axis=1)
    assert (mesh.face_normals[face] == [1.0, 0.0, 0.0]).all()
    corners = mesh.triangles[face].reshape(-1, 3)
    keel = corners[corners[:, 1] == 0.0, 2]
    assert (keel.min(), keel.max()) == (0.0, tarnwing.STEP_DEPTH_MM)
    chine = corners[corners[:, 1] == corners[:, 1].max()]
    grid = 1.0 / 1024.0
    assert np.ptp(chine[:, 2]) == pytest.approx(tarnwing.STEP_DEPTH_MM, abs=grid)
    deadrise = np.degrees(np.arctan2(chine[:, 2].min(), chine[0, 1]))
    # A grid step across the half-breadth of 54 mm is 0.001°.
    assert deadrise == pytest.approx(tarnwing.DEADRISE_DEG, abs=0.001)
    area = mesh.area_faces[face].sum()
    assert area == pytest.approx(2.0 * chine[0, 1] * tarnwing.STEP_DEPTH_MM, rel=1e-4)


@pytest.mark.parametrize(
    ("stations", "angle_deg"),
    [((180.0, 265.0), tarnwing.FOREBODY_KEEL_DEG), ((265.0, 480.0), -tarnwing.AFTERBODY_KEEL_DEG)],
    ids=["forebody", "afterbody"],
)
def test_keels_are_straight_at_their_angles(stations, angle_deg):
    """Before and abaft the step the keel is a straight line at the angle given, within the grid."""
    points = np.unique(read(HULL).reshape(-1, 3), axis=0).astype(np.float64)
    on_keel = (points[:, 1] == 0.0) & (points[:, 2] < 40.0)
    on_keel &= (points[:, 0] >= stations[0]) & (points[:, 0] <= stations[1])
    at_step = points[:, 0] == tarnwing.STEP_STATION_MM
    x, _, z = points[on_keel & ~at_step].T
    assert len(x) > 15
    slope, height = np.polyfit(x, z, 1)
    # Half a grid step at each end of the shorter line, 85 mm: 0.0007°.
    assert np.degrees(np.arctan(-slope)) == pytest.approx(angle_deg, abs=0.001)
    assert np.abs(height + slope * x - z).max() < 1.0 / 1024.0


def manifold(triangles):
    """Return the triangles as a solid of manifold3d, 64-bit."""
    points, faces = indexed(triangles)
    mesh = manifold3d.Mesh64(points.astype(np.float64), faces.astype(np.uint64))
    made = manifold3d.Manifold(mesh)
    assert made.status() == manifold3d.Error.NoError
    return made


def test_demo_craft_floats_as_a_builder_would_have_it():
    """At 690 g, held level, draft, freeboard, balance and clear tip floats are a flying boat's."""
    hull = manifold(read(HULL))
    water_g_per_mm3, mass_g = 0.9991026e-3, 690.0  # fresh, 15 °C: ITTC 7.5-02-01-03
    low, high = 0.0, 60.0
    for _ in range(40):
        height = 0.5 * (low + high)
        wet = hull.trim_by_plane((0.0, 0.0, -1.0), -height)
        low, high = (height, high) if wet.volume() * water_g_per_mm3 < mass_g else (low, height)
    cut = wet.to_mesh64()
    center = trimesh.Trimesh(cut.vert_properties[:, :3], cut.tri_verts, process=False).center_mass
    assert 30.0 < height < 38.0
    assert 245.0 < center[0] < 255.0
    assert 30.0 < tarnwing.deck_mm(np.array([252.0]))[0] - height < 45.0
    assert hull.volume() * water_g_per_mm3 > 3.0 * mass_g
    for name in FLOATS:
        assert 2.0 < read(name)[..., 2].min() - height < 8.0
