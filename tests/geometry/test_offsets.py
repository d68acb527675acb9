"""Bodies from offsets: volumes known in closed form, faces covered once, closure of any table."""

import make_bodies as bodies
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from offset_rows import EXACT, body_of, merged_of, offset_rows, points_of, prism_rows, shell_of
from strategies import uniform

from hullcheck.geometry.moments import row_sum
from hullcheck.geometry.offset_lines import gridded
from hullcheck.geometry.offset_table import table_of
from hullcheck.geometry.step import find_step

both_ways = pytest.mark.parametrize("smooth", [False, True], ids=["straight", "smooth"])


L, B, H = 240.0, 96.0, 64.0
BOX = [("keel", B / 2, 0.0), ("deck edge", B / 2, H)]
APEX_DOWN = [("keel", 0.0, 0.0), ("deck edge", B / 2, H), ("deck center", 0.0, H)]
STEM = [(0.0, "keel", 0.0, 0.0), (0.0, "deck edge", 0.0, H)]
POINT = [(0.0, "keel", 0.0, H), (0.0, "deck edge", 0.0, H)]
LEVEL_EDGE = [(0.0, "keel", B / 2, H), (0.0, "deck edge", B / 2, H)]
FRAME = [("keel", 0.0), ("deck edge", H)]
SHAPES = {
    "box": (prism_rows(BOX, [0.0, L]), L * B * H),
    "box of uneven stretches": (prism_rows(BOX, [0.0, 7.0, 100.0, 101.0, L]), L * B * H),
    "prism, apex down": (prism_rows(APEX_DOWN, [0.0, L]), L * B * H / 2),
    "wedge in plan": (STEM + prism_rows(BOX, [L]), L * B * H / 2),
    "wedge in side view": (LEVEL_EDGE + prism_rows(BOX, [L]), L * B * H / 2),
    "pyramid": (POINT + prism_rows(BOX, [L]), L * B * H / 3),
}


@both_ways
@pytest.mark.parametrize("shape", SHAPES)
def test_box_wedges_and_pyramid_are_exact(shape, smooth):
    """Base × height over 1, 2 and 3 (Euclid, Elements XII, propositions 3 to 7), nothing stated."""
    rows, volume = SHAPES[shape]
    body = body_of(rows, smooth=smooth)
    assert shell_of(body).volume_mm3 == pytest.approx(volume, rel=EXACT)
    # What is stated is a difference of volumes that are alike but for rounding.
    assert body.error_mm3 <= EXACT * volume


@given(
    ends=st.tuples(*(st.tuples(uniform(0.0, 100.0), uniform(1.0, 100.0)) for _ in range(2))),
    length=uniform(10.0, 900.0),
    lift=uniform(-50.0, 50.0),
)
def test_twisted_panels_hold_what_the_prismoidal_formula_says(ends, length, lift):
    """Sections that change linearly: L/6 (A0 + 4 Am + A1), as its patches are twisted planes.

    The prismoidal formula of mensuration, exact for areas up to the third power of the station
    (value from memory; A. is a rectangle's area); the volume of the mesh by trimesh.
    """
    import trimesh

    (b0, h0), (b1, h1) = ends
    b1 += 1.0
    rows = prism_rows([("keel", b0, 0.0), ("deck", b0, h0)], [0.0])
    rows += prism_rows([("keel", b1, lift), ("deck", b1, lift + h1)], [length])
    middle = 0.5 * (b0 + b1) * (h0 + h1)
    expected = length / 6.0 * (2.0 * b0 * h0 + 4.0 * middle + 2.0 * b1 * h1)
    body = body_of(rows)
    assert trimesh.Trimesh(*merged_of(body)).volume == pytest.approx(expected, rel=1e-10)
    assert body.error_mm3 == 0.0


def stepped_rows(shape, middle=()):
    """Return the rows of a stepped box of `make_bodies`, with more stations where wanted."""
    rise, half = bodies.rise_per_mm, 0.5 * shape["beam_mm"]
    up = half * rise(shape["deadrise_deg"])
    at, length, rows = shape["step_station_mm"], shape["length_mm"], []
    for x in sorted({0.0, *middle, at, length}):
        sides = []
        if x <= at:
            sides.append((at - x) * rise(shape["forebody_keel_deg"]))
        if x >= at:
            sides.append(shape["step_depth_mm"] + (x - at) * rise(shape["afterbody_keel_deg"]))
        for keel in sides:
            rows += [(x, "keel", 0.0, keel), (x, "chine", half, keel + up)]
        rows += [(x, "deck edge", half, shape["height_mm"])]
        rows += [(x, "deck center", 0.0, shape["height_mm"])]
    return rows


STEPPED = {
    "length_mm": 600.0,
    "beam_mm": 110.0,
    "height_mm": 90.0,
    "step_station_mm": 260.0,
    "step_depth_mm": 11.0,
    "deadrise_deg": 15.0,
    "forebody_keel_deg": 2.0,
    "afterbody_keel_deg": 5.0,
}


@both_ways
def test_a_stepped_hull_is_exact_and_its_step_is_found(smooth):
    """A hull of planes with a step in an upright side, against its closed form and its mesh.

    The closed form is that of `make_bodies.stepped_box`. No triangle is without area, although the
    after chine lies on the line from the fore chine to the deck edge.
    """
    body = body_of(stepped_rows(STEPPED, middle=(100.0, 200.0, 450.0)), smooth=smooth)
    drawn = bodies.stepped_box(**STEPPED)
    slope = {name: bodies.rise_per_mm(STEPPED[name]) for name in STEPPED if name.endswith("deg")}
    length, beam, ahead = (STEPPED[f"{name}_mm"] for name in ("length", "beam", "step_station"))
    abaft = length - ahead
    upright = (STEPPED["height_mm"] - slope["deadrise_deg"] * beam / 4.0) * length
    fore = slope["forebody_keel_deg"] * ahead**2 / 2.0
    after = STEPPED["step_depth_mm"] * abaft + slope["afterbody_keel_deg"] * abaft**2 / 2.0
    volume = beam * (upright - fore - after)
    assert shell_of(body).volume_mm3 == pytest.approx(volume, rel=EXACT)
    # Nothing is left out at a step, and between the others the planes run on.
    assert body.error_mm3 <= EXACT * volume
    a, b, c = np.moveaxis(body.triangles_mm, 1, 0)
    assert np.linalg.norm(np.cross(b - a, c - a), axis=1).min() > 1.0
    step, expected = find_step(body.triangles_mm), find_step(drawn)
    for name in ("station_mm", "keel_z_mm", "depth_mm", "deadrise_deg", "beam_over_chines_mm"):
        assert getattr(step, name) == pytest.approx(getattr(expected, name), abs=1e-6)
    assert (step.station_mm, step.depth_mm) == pytest.approx((260.0, 11.0), abs=1e-6)


def test_a_line_that_is_a_corner_stays_one():
    """A smooth section runs through a named corner in straight lines, through another in a curve.

    A square set on its edge: without corners, the curve through its four points bulges.
    """
    section = [(0.0, -50.0), (50.0, 0.0), (0.0, 50.0)]
    volumes = {}
    for name in ("chine", "spray knuckle", "bilge"):
        rows = [
            (x, line, *point)
            for x in (0.0, 100.0)
            for line, point in zip(("keel", name, "deck center"), section, strict=True)
        ]
        volumes[name] = shell_of(body_of(rows, smooth=True)).volume_mm3
    assert volumes["chine"] == volumes["spray knuckle"] == pytest.approx(100.0 * 5000.0, rel=EXACT)
    assert volumes["bilge"] > 1.1 * volumes["chine"]


def test_a_line_without_a_step_is_not_broken_at_one():
    """A deck that runs on over a step of the keel is as smooth there as without the step."""
    stations = np.linspace(0.0, 600.0, 7)
    rows = []
    for x in stations:
        deck = 60.0 + 30.0 * np.sin(x / 190.0)
        rows += [(x, "keel", 0.0, 0.0), (x, "chine", 50.0, 15.0), (x, "deck", 50.0, deck)]
    at = next(i for i, row in enumerate(rows) if row[0] == 300.0)
    raised = (300.0, "keel", 0.0, 8.0)
    stepped = body_of([*rows[: at + 1], raised, *rows[at + 1 :]], smooth=True)
    plain = body_of(rows, smooth=True)

    def deck(body):
        """Return the points of the deck edge."""
        corners = body.triangles_mm.reshape(-1, 3)
        return np.unique(corners[corners[:, 2] > 50.0], axis=0)

    # The middles of twisted panels below the deck differ, so only common points are compared.
    kept = deck(plain)
    kept = kept[kept[:, 1] == 50.0]
    assert len(kept) == 49
    assert {tuple(p) for p in kept} <= {tuple(p) for p in deck(stepped)}


HOLLOW = {
    "tunnel": [("tunnel", 0, 30), ("keel", 25, 0), ("side", 45, 60), ("well", 0, 40)],
    "deep well": [
        *[("keel", 0, 0), ("chine", 50, 0), ("deck edge", 50, 50)],
        *[("coaming", 48, 50), ("well", 12, 6), ("sole", 0, 6)],
    ],
}


def face_at(body, station_mm):
    """Return the area vector's x and the area of the triangles across a station [mm²]."""
    row = row_sum(body.triangles_mm[(body.triangles_mm[..., 0] == station_mm).all(axis=1)])
    return row[0], row[30]


def section_area(section):
    """Return the area of a section of both sides [mm²], by the trapezoids between its points."""
    breadth, height = np.array([point[1:] for point in section], dtype=float).T
    return float((breadth[1:] + breadth[:-1]) @ np.diff(height))


@pytest.mark.parametrize("hollow", HOLLOW)
def test_an_end_face_covers_a_hollow_section_once(hollow):
    """The end of a hull is as large as its section where that is not convex: no triangle folds."""
    body = body_of(prism_rows(HOLLOW[hollow], [0.0, 100.0]))
    area = section_area(HOLLOW[hollow])
    assert face_at(body, 100.0) == pytest.approx((area, area), rel=EXACT)
    assert face_at(body, 0.0) == pytest.approx((-area, area), rel=EXACT)
    assert shell_of(body).volume_mm3 == pytest.approx(100.0 * area, rel=EXACT)


def test_the_face_of_a_step_covers_it_once():
    """The face is as large as the sections differ, also where it is no convex quadrilateral."""
    ahead = [("keel", 0, 0), ("bilge", 50, 60), ("deck", 0, 90)]
    behind = [("keel", 0, 70), ("bilge", 26, 62), ("deck", 0, 90)]
    rows = prism_rows(ahead, [0.0, 100.0]) + prism_rows(behind[:2], [100.0])
    body = body_of(rows + prism_rows(behind, [250.0]))
    area = section_area(ahead) - section_area(behind)
    assert face_at(body, 100.0) == pytest.approx((area, area), rel=EXACT)
    shell_of(body)


def test_a_curve_does_not_pass_the_center_plane():
    """A waist of no breadth, along or around, is no place where starboard goes over to port."""
    waist = [
        (x, line, y, z) for x, y in ((0, 50), (90, 0), (100, 5), (200, 5)) for line, z in FRAME
    ]
    around = [("keel", 30, 0), ("a", 0, 5), ("b", 1, 10), ("c", 30, 12), ("deck", 0, 20)]
    for rows in (waist, prism_rows(around, [0.0, 100.0])):
        body_of(rows, smooth=True)
        grid, _ = gridded(table_of(points_of(rows)), smooth=True)
        assert grid[..., 1].min() == 0.0


@given(rows=offset_rows(), smooth=st.booleans())
@settings(max_examples=150)
def test_whatever_a_builder_measures_closes(rows, smooth):
    """Closed without repairs, of the volume its panels say, port the image of starboard."""
    import trimesh

    body = body_of(rows, smooth=smooth)
    shell = shell_of(body)
    outside = trimesh.Trimesh(*merged_of(body), process=False).volume
    assert shell.volume_mm3 == pytest.approx(outside, rel=1e-9)
    image = body.triangles_mm[:, ::-1] * (1.0, -1.0, 1.0) + 0.0
    ours = {triangle.tobytes() for triangle in body.triangles_mm}
    assert {triangle.tobytes() for triangle in image} == ours
    low, high = body.triangles_mm.min(axis=(0, 1)), body.triangles_mm.max(axis=(0, 1))
    assert (low[0], high[0]) == (body.stations_mm[0], body.stations_mm[-1])
    if not smooth:
        half_breadths = [row[2] for row in rows]
        assert -low[1] == high[1] == max(half_breadths)


@given(rows=offset_rows(), smooth=st.booleans(), scale=uniform(0.1, 10.0))
@settings(max_examples=60)
def test_volume_and_stated_error_go_with_the_cube_of_the_size(rows, smooth, scale):
    """Every number times s: volume and stated error times s³, to rounding."""
    scaled = [(x * scale, line, y * scale, z * scale) for x, line, y, z in rows]
    small, large = body_of(rows, smooth=smooth), body_of(scaled, smooth=smooth)
    volume = shell_of(small).volume_mm3
    assert shell_of(large).volume_mm3 == pytest.approx(scale**3 * volume, rel=1e-9)
    assert large.error_mm3 == pytest.approx(
        scale**3 * small.error_mm3, abs=1e-9 * scale**3 * volume
    )


@given(rows=offset_rows(), shift=uniform(-500.0, 500.0))
@settings(max_examples=40)
def test_line_by_line_and_station_by_station_are_the_same(rows, shift):
    """Both orders of a file give the same skin, and names are read without regard to case."""
    names = list(dict.fromkeys(row[1] for row in rows))
    by_line = sorted(rows, key=lambda row: names.index(row[1]))
    shouted = [(x, f" {line.upper().replace(' ', '__')} ", y, z) for x, line, y, z in by_line]
    one, other = body_of(rows), body_of(shouted)
    assert one.lines == other.lines == tuple(names)
    assert np.array_equal(one.triangles_mm, other.triangles_mm)
    moved = body_of([(x, line, y, z + shift) for x, line, y, z in rows])
    assert shell_of(moved).volume_mm3 == pytest.approx(shell_of(one).volume_mm3, rel=1e-9)
