"""The page's turnable view: few triangles near the true skin, safe data, the same bytes."""

import base64
import dataclasses
import hashlib
import html
import json
import re
from functools import cache

import html5lib
import jinja2
import numpy as np
import pytest
import vtk
from crafts import body_of, box_body, craft_of, opening_at
from drawn_texts import assert_apart, assert_on_sheet, assert_readable, boxes_of
from lxml import etree
from seams_making import answered
from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray

from hullcheck.answers.float_answer import float_answer
from hullcheck.craft.fittings import Fittings, Seam
from hullcheck.errors import SurfaceError
from hullcheck.geometry.attitude import level_directions
from hullcheck.geometry.topology import Mesh
from hullcheck.report import style
from hullcheck.report import view3d as view3d_module
from hullcheck.report.view3d import view3d
from hullcheck.report.view3d_eye import Eye, start_of, surfaced
from hullcheck.report.view3d_scene import scene3d
from hullcheck.report.view3d_skin import MOST_TRIANGLES, creases, few_triangles
from hullcheck.report.view3d_still import still_drawing
from hullcheck.report.view3d_tones import corner_normals

HOSTILE = '<script>alert(1)</script> & "Ünï" </script><!--'
STEP_MM = 400.0


def dense_hull(stations=388, around=388):
    """Return a hull of 900 mm in 300,000 triangles: round sides, a chine, a step of 12 mm at 400.

    Closed by hand: rings across her, the one at the step doubled, and a point at either end.
    """
    x = np.sort(np.append(np.linspace(2.0, 898.0, stations - 1), STEP_MM))
    at = int(np.searchsorted(x, STEP_MM))
    x = np.insert(x, at, STEP_MM)
    fore = np.arange(len(x)) <= at
    turn = np.linspace(0.0, 2.0 * np.pi, around, endpoint=False)
    fine = np.sqrt(1.0 - ((x - 450.0) / 450.0) ** 4)[:, None]
    y = 70.0 * np.cos(turn) * fine
    over = 60.0 * np.sin(turn) * fine
    deep = np.where(fore, 40.0, 28.0)[:, None] * (1.0 - np.abs(np.cos(turn))) * fine
    z = np.where(np.sin(turn) >= 0.0, over, -deep)
    rings = np.stack([np.broadcast_to(x[:, None], y.shape), y, z], axis=2)
    nose, tail = np.array([0.0, 0.0, 0.0]), np.array([900.0, 0.0, 0.0])
    a, b = rings[:-1], rings[1:]
    a2, b2 = np.roll(a, -1, axis=1), np.roll(b, -1, axis=1)
    halves = (np.stack(three, axis=2).reshape(-1, 3, 3) for three in ((a, b, b2), (a, b2, a2)))
    ends = [
        np.stack([np.broadcast_to(end, ring.shape), ring, np.roll(ring, -1, axis=0)], axis=1)
        for end, ring in ((nose, rings[0]), (tail, rings[-1][::-1]))
    ]
    triangles = np.concatenate([*halves, *ends])[:, ::-1]
    flat = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    return triangles[np.linalg.norm(flat, axis=1) > 0.0]


def kept(view):
    """Return the skin of a view's data as the page's program reads it: points [mm] and faces."""
    data = json.loads(view.data_json)
    points = np.frombuffer(base64.b64decode(data["points"]), dtype="<u2").reshape(-1, 3)
    faces = np.frombuffer(base64.b64decode(data["faces"]), dtype="<u2").reshape(-1, 3)
    return np.array(data["low_mm"]) + data["step_mm"] * points, faces.astype(np.int64)


def in_water(answer, points):
    """Return points aft, to starboard and up from the water, by the answer's trim and heel."""
    aft, starboard = level_directions(
        trim=np.radians(answer.trim_deg), heel=np.radians(answer.heel_deg)
    )
    placed = points @ np.stack([aft, starboard, answer.waterline.normal], axis=1)
    return placed - np.array([0.0, 0.0, answer.waterline.height_mm])


def surface(points, faces):
    """Return a surface of VTK's."""
    data, held, cells = vtk.vtkPolyData(), vtk.vtkPoints(), vtk.vtkCellArray()
    held.SetData(numpy_to_vtk(np.ascontiguousarray(points, dtype=float), deep=True))
    rows = np.ascontiguousarray(faces, dtype=np.int64).ravel()
    cells.SetData(3, numpy_to_vtkIdTypeArray(rows, deep=True))
    data.SetPoints(held)
    data.SetPolys(cells)
    return data


def farthest(points, other):
    """Return how far the farthest of some points is from a surface of VTK's, by VTK."""
    finder, near = vtk.vtkStaticCellLocator(), [0.0, 0.0, 0.0]
    finder.SetDataSet(other)
    finder.BuildLocator()
    worst, cell, part, square = 0.0, vtk.reference(0), vtk.reference(0), vtk.reference(0.0)
    for point in points:
        finder.FindClosestPoint(point, near, cell, part, square)
        worst = max(worst, float(square) ** 0.5)
    return worst


def volume(points, faces):
    """Return what a surface encloses, by VTK."""
    measured = vtk.vtkMassProperties()
    measured.SetInputData(surface(points, faces))
    return measured.GetVolume()


def sampled(points, faces, count=1500):
    """Return points on a surface: middles of its largest faces, middles of edges, and corners."""
    corners = points[faces]
    size = np.linalg.norm(
        np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1
    )
    large = corners[np.argsort(-size)[:count]]
    some = corners[np.linspace(0, len(corners) - 1, count).astype(int)]
    return np.concatenate(
        [large.mean(axis=1), large[:, :2].mean(axis=1), some.mean(axis=1), some[:, 0]]
    )


@cache
def dense():
    """Return the dense hull afloat with her answer."""
    craft = craft_of(body_of(dense_hull()), mass_g=1500.0, cg=(440.0, 0.0, 5.0))
    return craft, float_answer(craft)


@cache
def few_of_dense():
    """Return the dense hull's skin in few triangles."""
    return few_triangles(dense()[0].bodies)


@pytest.fixture(scope="module", params=["demo", "dense hull"])
def drawn(request):
    """Return a craft, her answer and her view."""
    craft, answer = request.getfixturevalue("demo") if request.param == "demo" else dense()
    few = few_triangles(craft.bodies) if request.param == "demo" else few_of_dense()
    return craft, answer, view3d(craft, answer), few


def test_the_skin_is_small(drawn):
    """At most 8,000 triangles, and the data under 150 kB, however fine the meshes are."""
    craft, _, view, _ = drawn
    _, faces = kept(view)
    assert len(faces) == view.triangles <= MOST_TRIANGLES
    assert view.triangles > 0.7 * min(MOST_TRIANGLES, len(craft.skin.triangles_mm))
    assert len(view.data_json.encode()) < 150_000
    assert len(view.still_svg) < 250_000


def test_the_skin_lies_within_the_tolerance_of_the_true_one(drawn):
    """Both ways, by VTK's distances between surfaces; the tolerance is under 0.1 % of her size."""
    craft, answer, view, _ = drawn
    points, faces = kept(view)
    true = in_water(answer, craft.skin.triangles_mm.reshape(-1, 3))
    whole = np.arange(len(true)).reshape(-1, 3)
    out = farthest(sampled(points, faces), surface(true, whole))
    back = farthest(sampled(true, whole), surface(points, faces))
    assert max(out, back) <= view.tolerance_mm
    assert max(out, back) > 0.0  # points were left out: the tolerance is no empty word
    assert view.tolerance_mm < 1e-3 * float(np.ptp(points, axis=0).max())


def test_the_volume_of_each_body_is_kept(drawn):
    """Within 0.5 % of the true body's, by VTK."""
    craft, _, _, few = drawn
    for body, mesh in zip(craft.bodies, few.meshes, strict=True):
        ratio = volume(mesh.points, mesh.faces) / body.shell.volume_mm3
        assert ratio == pytest.approx(1.0, abs=0.005)


def test_step_and_keel_stay_sharp():
    """The step's two keel corners are points of the simplified skin, bit for bit."""
    mesh = few_of_dense().meshes[0]
    corners = mesh.points[mesh.points[:, 0] == STEP_MM]
    scale = (1.0 - ((STEP_MM - 450.0) / 450.0) ** 4) ** 0.5
    for depth in (40.0, 28.0):
        miss = np.linalg.norm(corners - [STEP_MM, 0.0, -depth * scale], axis=1).min()
        assert miss < 1e-9
    sharp = mesh.points[creases(mesh, 32.0)]
    step = sharp[(sharp[:, :, 0] == STEP_MM).all(axis=1)]
    chine = sharp[(np.abs(sharp[:, :, 2]) < 1e-6).all(axis=1)]
    assert len(step) >= 4
    assert np.ptp(step[:, :, 1]) == pytest.approx(140.0 * scale)
    assert np.ptp(chine[:, :, 0]) > 850.0  # runs from bow to stern


def test_a_skin_of_few_triangles_is_left_as_it_is():
    """A box keeps its 12 triangles; only whole steps of 1/65535 of its length move its corners."""
    craft = craft_of(box_body(), mass_g=1200.0, cg=(300.0, 0.0, 30.0))
    view = view3d(craft, float_answer(craft))
    assert view.triangles == 12
    assert view.tolerance_mm == pytest.approx(0.5 * 3.0**0.5 * 600.0 / 65535.0)


def test_what_cannot_be_drawn_in_so_few_triangles_is_refused():
    """A box needs 12; asked for 8 it is refused, with the tolerance reached."""
    with pytest.raises(
        SurfaceError, match=r"cannot be drawn in 8 triangles: .* mm there are still 12"
    ):
        few_triangles([box_body()], most=8)


def test_each_skin_is_told_its_own_tolerance(drawn):
    """The still picture's fewer triangles lie farther off than those that turn; each says so."""
    view = drawn[2]
    still, turns = (
        float(re.search(r"Skin drawn within about ([\d.]+) mm\.", words)[1])
        for words in (view.seen_from, view.how)
    )
    assert turns >= view.tolerance_mm
    assert still > turns
    assert "mm" not in view.caption


def test_scene_and_skin_are_worked_out_once(monkeypatch):
    """The picture's scene is the view's in other triangles, the skin is counted in steps once."""
    calls = []
    for name in ("scene3d", "skin_in_counts"):
        plain = getattr(view3d_module, name)
        monkeypatch.setattr(
            view3d_module, name, lambda *a, n=name, f=plain: calls.append(n) or f(*a)
        )
    craft = craft_of(box_body(), mass_g=1200.0, cg=(300.0, 0.0, 30.0))
    view3d_module.view3d(craft, float_answer(craft))
    assert sorted(calls) == ["scene3d", "skin_in_counts"]


def test_the_same_bytes_twice():
    """Data, script and still picture come out the same for the same input."""
    craft, one = every_state()
    build, answer = answered("every state")
    assert one == view3d(build.craft(), float_answer(craft), answer)


@cache
def every_state():
    """Return a craft with a seam in every state, and her view."""
    build, answer = answered("every state")
    craft = build.craft()
    return craft, view3d(craft, float_answer(craft), answer)


def page_of(view):
    """Return the view's part of a page, by its template."""
    loader = jinja2.PackageLoader("hullcheck.report")
    template = jinja2.Environment(loader=loader, autoescape=True).get_template("view3d.html.j2")
    return template.render(view=view)


@cache
def hostile():
    """Return a craft whose every name is hostile, with her view."""
    body = box_body()
    craft = dataclasses.replace(
        craft_of(body, mass_g=1200.0, cg=(300.0, 0.0, 30.0)),
        name=HOSTILE,
        openings=(opening_at((200.0, 50.0, 60.0), (240.0, 50.0, 60.0), name=HOSTILE),),
        fittings=Fittings(seams=(Seam(name=f"s{HOSTILE}", body=body.name, station_mm=350.0),)),
    )
    return craft, view3d(craft, float_answer(craft))


def test_hostile_names_come_out_as_text():
    """Nothing of a name is markup, in page or still; all its words are there."""
    _, view = hostile()
    assert not set("<>&") & set(view.data_json)
    heads = [(mark["head"], mark["name"]) for mark in json.loads(view.data_json)["marks"]]
    assert any(HOSTILE in pair for pair in heads)
    assert HOSTILE in view.alt
    source = page_of(view)
    parser = html5lib.HTMLParser(strict=True)
    tree = parser.parseFragment(source)
    names = [str(element.tag).rpartition("}")[2] for element in tree.iter()]
    assert names.count("script") == 2
    assert names.count("img") == 1
    label = next(e for e in tree.iter() if str(e.tag).endswith("canvas")).get("aria-label")
    assert label == view.alt
    still = etree.fromstring(view.still_svg)
    assert not still.xpath("//*[local-name()='script']")


def test_the_page_holds_the_program_that_the_hash_is_of():
    """The policy's hash is that of what stands between the tags; no handler, no address."""
    _, view = hostile()
    scripts = re.findall(r"<script>(.*?)</script>", page_of(view), re.DOTALL)
    digest = base64.b64encode(hashlib.sha256(scripts[0].encode()).digest()).decode()
    assert view.script_hash == f"sha256-{digest}"
    assert len(view.script.encode()) < 15_000
    assert not re.search(
        r"\beval\b|new Function|innerHTML|https?:|#[0-9a-fA-F]{3,8}\b", view.script
    )
    assert " on" not in re.sub(
        r"<script.*?</script>|\"[^\"]*\"", "", page_of(view), flags=re.DOTALL
    )


def test_alternative_text_says_the_finding_and_its_numbers():
    """The text alternative names her, what limits, CG, CB, and each seam's state."""
    craft, view = every_state()
    assert view.alt.startswith(f"View that can be turned of {craft.name} in the water: ")
    for words in ("CG at station", "CB at station", "leaked", "curing", "tested dry"):
        assert words in view.alt
    assert html.escape(view.alt, quote=False) in page_of(view).replace("&#34;", '"')


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_she_is_looked_at_from_the_side_that_shows_what_limits(side):
    """An opening to starboard is seen from off the starboard bow, one to port from port."""
    craft = dataclasses.replace(
        craft_of(box_body(), mass_g=1200.0, cg=(300.0, 0.0, 30.0)),
        openings=(opening_at((200.0, side * 50.0, 60.0)),),
    )
    scene = scene3d(craft, float_answer(craft))
    start = start_of(scene)
    assert ("starboard" in start.words) == (side > 0.0)
    mark = next(mark for mark in scene.marks if mark.flag)
    assert len(Eye.of(scene, start).free(mark.places_mm)) == 1


def test_lines_and_marks_are_those_of_the_states():
    """Each state has its own pattern and mark, and leaks alone have the limit's color."""
    _, view = every_state()
    data = json.loads(view.data_json)
    assert {"drop", "clock", "tick", "slash", "strip", "filled circle"} <= {
        mark["shape"] for mark in data["marks"]
    }
    limit = [round(int(style.LIMIT[i : i + 2], 16) / 255.0, 4) for i in (1, 3, 5)]
    zigzag = [line for line in data["lines"] if line["pattern"] == 5]
    assert zigzag
    assert all(line["color"] == limit for line in zigzag)
    assert all(line["color"] != limit for line in data["lines"] if line["pattern"] != 5)
    assert {0, 2, 3, 4, 5} <= {line["pattern"] for line in data["lines"]}


def test_normals_of_a_sphere_point_from_its_middle():
    """Corner normals of a fine ball are its radii to 2°; those of a box those of its faces."""
    import make_bodies

    ball = few_triangles([body_of(make_bodies.sphere(diameter_mm=100.0))]).meshes[0]
    normals = corner_normals(ball, 32.0)
    radii = ball.triangles - ball.points.mean(axis=0)
    radii /= np.linalg.norm(radii, axis=2, keepdims=True)
    assert (normals * radii).sum(axis=2).min() > np.cos(np.radians(2.0))
    box = few_triangles([box_body()]).meshes[0]
    faces = np.sort(np.abs(corner_normals(Mesh(points=box.points, faces=box.faces), 32.0)), axis=2)
    assert faces == pytest.approx(np.broadcast_to([0.0, 0.0, 1.0], faces.shape))


STILLS = ["many", "odd names"]
AFLOAT = ["capsized", "sinks", "twin floats", "long names", "20 mm long"]


@pytest.mark.parametrize("name", [*STILLS, *AFLOAT])
def test_texts_on_the_still_picture_stand_apart(name, states):
    """No two overlap, none leaves the sheet, none is under 8.5 pt, whatever state she is in."""
    if name in STILLS:
        build, seams = answered(name)
        craft = build.craft()
    else:
        craft, seams = states[name](), None
    skin = few_triangles(craft.bodies, 2400)
    scene = surfaced(scene3d(craft, float_answer(craft), seams, skin))
    figure = still_drawing(scene, start_of(scene))
    boxes = boxes_of(figure, "view3d")
    assert_apart(name, boxes)
    assert_on_sheet(name, figure, boxes)
    assert_readable(figure, lowest_in=1.2, highest_in=6.0)
    named = {words for words, _ in boxes}
    assert all(mark.head in named for mark in scene.marks if mark.rank == 0)


def test_water_cuts_the_still_picture_where_it_cuts_her(demo):
    """Seen level from port, all that is wet in the picture lies under all that is dry."""
    from hullcheck.report.view3d_eye import VIEWS
    from hullcheck.report.view3d_tones import fills, tones

    craft, answer = demo
    scene = scene3d(craft, answer, None, few_triangles(craft.bodies, 2400))
    eye = Eye.of(scene, VIEWS[0])
    mesh = scene.skin.meshes[0]
    found = fills(eye, mesh, scene.placed(mesh.points))
    wet = np.concatenate([p for color, loops in found if color in tones()["wet"] for p in loops])
    dry = np.concatenate([p for color, loops in found if color in tones()["dry"] for p in loops])
    assert wet[:, 1].max() == pytest.approx(0.0, abs=1e-6)
    assert dry[:, 1].min() == pytest.approx(0.0, abs=1e-6)
    assert np.ptp(wet[:, 0]) > 300.0
