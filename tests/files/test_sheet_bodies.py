"""Where a sheet puts its parts, against rotations and 4 × 4 matrices of outside libraries."""

import itertools

import numpy as np
import pytest
import trimesh
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation
from sheet_making import AXES, CRAFT, box, build_in, corners, refused, solid
from strategies import uniform

from hullcheck.errors import InputError
from hullcheck.files.build_folder import load

VECTORS = {f"{s}{a}": float(s + "1") * np.eye(3)[i] for i, a in enumerate("xyz") for s in "+-"}
SQUARE = [(f, u) for f, u in itertools.product(VECTORS, VECTORS) if VECTORS[f] @ VECTORS[u] == 0]
PART = box(300.0, 60.0, 40.0, at=(12.0, 5.0, -8.0))
"""A box that is its own image in no plane of the axes; whole numbers, which STL keeps."""

few = settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])


def body_of(part, *, axes=AXES, more=""):
    """Return a sheet of one body of one part, given as TOML."""
    return f'{CRAFT}{axes}[[body]]\nname = "hull"\nrole = "hull"\nparts = [{part}]\n{more}'


def placed(folder, part, **more):
    """Return the triangles of the bodies of such a sheet, PART being part.stl."""
    build = load(build_in(folder, body_of(part, **more), part=PART))
    return [body.shell.triangles_mm for body in build.bodies]


def numbers(values):
    """Return numbers as a TOML list; nothing is rounded."""
    return repr(np.asarray(values, dtype=float).tolist())


def distance_mm(triangles, expected):
    """Return how far the farthest corner lies from its nearest expected one [mm]."""
    some, others = (np.asarray(t).reshape(-1, 3) for t in (triangles, expected))
    apart = np.linalg.norm(some[:, None] - others[None], axis=2)
    return max(apart.min(axis=0).max(), apart.min(axis=1).max())


@pytest.mark.parametrize(("forward", "up"), SQUARE)
def test_axes_turn_files_into_body_axes(tmp_path, forward, up):
    """Every bow and sky: aft is away from the bow, starboard is east when the bow looks north."""
    bow, sky = VECTORS[forward], VECTORS[up]
    (found,) = placed(
        tmp_path, '"part.stl"', axes=f'[axes]\nunit = "mm"\nforward = "{forward}"\nup = "{up}"\n'
    )
    expected = np.stack([PART @ -bow, PART @ np.cross(bow, sky), PART @ sky], axis=2)
    assert corners(found) == corners(expected)
    assert solid(found).volume == pytest.approx(300 * 60 * 40, rel=1e-12)


@pytest.mark.parametrize(("unit", "mm"), [("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("inch", 25.4)])
def test_the_unit_of_the_files_scales_them_and_nothing_else(tmp_path, unit, mm):
    """Centimeters, meters, inches: the files' numbers times the unit; at_mm stays in mm."""
    axes = AXES.replace('"mm"', f'"{unit}"')
    (found,) = placed(tmp_path, '{ file = "part.stl", at_mm = [7, 0, 0] }', axes=axes)
    assert corners(found) == corners(PART * mm + np.array([7.0, 0.0, 0.0]))


def test_the_datum_is_taken_from_parts_without_a_place_of_their_own(tmp_path):
    """The datum, in file axes, becomes the origin; a part with at_mm or turn_deg keeps its own."""
    axes = '[axes]\nunit = "cm"\nforward = "+y"\nup = "+z"\ndatum_mm = [30, 200, -5]\n'
    (plain,) = placed(tmp_path, '"part.stl"', axes=axes)
    # Forward +y: aft is −y, starboard is +x.
    at = 10.0 * PART - np.array([30.0, 200.0, -5.0])
    assert corners(plain) == corners(np.stack([-at[..., 1], at[..., 0], at[..., 2]], axis=2))
    unmoved = np.stack([-PART[..., 1], PART[..., 0], PART[..., 2]], axis=2) * 10.0
    for own in ("at_mm = [0, 0, 0]", "turn_deg = [0, 0, 0]"):
        (found,) = placed(tmp_path, f'{{ file = "part.stl", {own} }}', axes=axes)
        assert corners(found) == corners(unmoved)


@few
@given(
    st.tuples(*[uniform(-360, 360)] * 3),
    st.tuples(*[uniform(-500, 500)] * 3),
)
def test_turns_are_about_x_then_y_then_z_and_then_it_is_moved(tmp_path, turn, at):
    """Any angles, against scipy's rotations about fixed axes in this order."""
    part = f'{{ file = "part.stl", turn_deg = {numbers(turn)}, at_mm = {numbers(at)} }}'
    (found,) = placed(tmp_path, part)
    rotation = Rotation.from_euler("xyz", turn, degrees=True)
    expected = rotation.apply(PART.reshape(-1, 3)) + at
    # A few roundings of 1e-16 of at most 1000 mm.
    assert distance_mm(found, expected) < 1e-11
    assert solid(found).volume == pytest.approx(300 * 60 * 40, rel=1e-12)


@pytest.mark.parametrize("turn", list(itertools.product((-90, 0, 90, 180, 270), repeat=3))[::3])
def test_quarter_turns_are_exact(tmp_path, turn):
    """Quarter turns about any axes change places and signs of the numbers, and no digit."""
    rotation = np.round(Rotation.from_euler("xyz", turn, degrees=True).as_matrix())
    part = f'{{ file = "part.stl", turn_deg = {numbers(turn)}, at_mm = [1, 2, 3] }}'
    (found,) = placed(tmp_path, part)
    assert corners(found) == corners(PART @ rotation.T + np.array([1.0, 2.0, 3.0]))


@pytest.mark.parametrize(
    ("turn", "point", "axis", "sign"),
    [
        ("[10, 0, 0]", (0.0, 1.0, 0.0), 2, 1.0),
        ("[0, 10, 0]", (-1.0, 0.0, 0.0), 2, 1.0),
        ("[0, 0, 10]", (1.0, 0.0, 0.0), 1, 1.0),
    ],
    ids=["+x lifts starboard", "+y lifts the bow", "+z turns the stern to starboard"],
)
def test_signs_of_turns(tmp_path, turn, point, axis, sign):
    """What a positive turn does, as it is documented."""
    arm = box(100.0, 100.0, 100.0, at=(100.0 * point[0] - 50.0, 100.0 * point[1], -50.0))
    sheet = body_of(f'{{ file = "arm.stl", turn_deg = {turn} }}')
    (body,) = load(build_in(tmp_path, sheet, arm=arm)).bodies
    # The center of the box lies 100 mm out, so 10° move it by 100 sin 10°.
    assert solid(body.shell.triangles_mm).center_mass[axis] == pytest.approx(
        sign * 100.0 * np.sin(np.radians(10.0)), rel=1e-9
    )


@few
@given(st.tuples(*[uniform(-3.1, 3.1)] * 3), st.tuples(*[uniform(-500, 500)] * 3), st.booleans())
def test_place_maps_file_coordinates_in_mm(tmp_path, angles, at, mirrored):
    """A 4 × 4 of trimesh, on centimeters of a file whose axes lie otherwise: outward still."""
    matrix = trimesh.transformations.compose_matrix(
        angles=angles, translate=at, scale=[1.0, -1.0 if mirrored else 1.0, 1.0]
    )
    axes = '[axes]\nunit = "cm"\nforward = "+y"\nup = "+z"\ndatum_mm = [30, 200, -5]\n'
    part = f'{{ file = "part.stl", place = {numbers(matrix)} }}'
    (found,) = placed(tmp_path, part, axes=axes)
    expected = trimesh.transform_points(PART.reshape(-1, 3) * 10.0, matrix)
    # A few roundings of 1e-16 of at most 10 000 mm.
    assert distance_mm(found, expected) < 1e-10
    assert solid(found).volume == pytest.approx(300 * 60 * 40 * 1e3, rel=1e-12)


@few
@given(st.tuples(*[uniform(-180, 180)] * 3), st.tuples(*[uniform(-20, 20)] * 3))
def test_a_twin_is_the_image_in_the_center_plane(tmp_path, turn, at):
    """The mirror comes last: y is turned over to the last bit, the twin faces outward."""
    at = (at[0], 400.0 + at[1], at[2])
    part = f'{{ file = "part.stl", turn_deg = {numbers(turn)}, at_mm = {numbers(at)} }}'
    build = load(build_in(tmp_path, body_of(part, more='mirror = "twin"\n'), part=PART))
    one, twin = (body.shell for body in build.bodies)
    assert [body.name for body in build.bodies] == ["hull", "twin"]
    assert {body.role for body in build.bodies} == {"hull"}
    assert corners(twin.triangles_mm) == corners(one.triangles_mm * np.array([1.0, -1.0, 1.0]))
    assert twin.volume_mm3 == one.volume_mm3
    assert twin.area_mm2 == one.area_mm2
    assert solid(twin.triangles_mm).volume == pytest.approx(one.volume_mm3, rel=1e-12)
    assert build.structures["twin"] is build.structures["hull"]


def test_a_twin_across_the_center_plane_is_one_body_with_it(tmp_path):
    """A part that reaches over the center plane overlaps its twin: one body, and it is said."""
    part = '{ file = "part.stl", at_mm = [0, 20, 0] }'
    build = load(build_in(tmp_path, body_of(part, more='mirror = "twin"\n'), part=PART))
    (body,) = build.bodies
    # y from −5 to 55 and its image: 110 mm wide in all.
    assert body.shell.volume_mm3 == pytest.approx(300 * 110 * 40, rel=1e-12)
    assert ("united", "hull and twin overlap; they count as one body") in build.notes
    assert set(build.structures) == {"hull"}


def test_a_twin_of_a_body_in_the_middle_is_refused(tmp_path):
    """A body on the center plane is its own mirror image; at_mm is the next step."""
    part = '{ file = "part.stl", at_mm = [0, -5, 0] }'
    path = build_in(tmp_path, body_of(part, more='mirror = "twin"\n'), part=PART)
    with pytest.raises(InputError, match=r"body\[1\]\.mirror: its twin would lie where it lies"):
        load(path)


@pytest.mark.parametrize(
    ("place", "said"),
    [
        ("[[2,0,0,0],[0,1,0,0],[0,0,1,0],[0,0,0,1]]", r"stretches the part by 1 to 2; a placement"),
        ("[[1,0,0,0],[0,1,0,0],[0,0,0,0],[0,0,0,1]]", r"stretches the part by 0 to 1; a placement"),
        ("[[1,0.01,0,0],[0,1,0,0],[0,0,1,0],[0,0,0,1]]", r"stretches the part by 0\.995\d+ to"),
        ("[[1,0,0,0],[0,1,0,0],[0,0,1,0],[5,6,7,1]]", r"last row is \[5\.0, 6\.0, 7\.0, 1\.0\]"),
        ("[[1,0,0,0],[0,1,0,0],[0,0,1,0],[0,0,0,2]]", r"its last row is \[0\.0, .*and not 0, 0, 0"),
    ],
    ids=["longer", "flat", "sheared", "across", "last"],
)
def test_a_place_that_does_more_than_turn_and_move_is_refused(tmp_path, place, said):
    """A matrix that stretches, flattens, shears, or is written by columns: with its values."""
    head = body_of(f'\n{{ file = "hull.stl", place = {place} }}, # here\n')
    refused(tmp_path, "", rf"body\[1\]\.parts\[1\]\.place: .*{said}", head=head)


@pytest.mark.parametrize("other", ["at_mm = [1, 2, 3]", "turn_deg = [0, 0, 0]"])
def test_a_place_stands_alone(tmp_path, other):
    """A matrix beside at_mm or turn_deg is refused."""
    eye = "[[1,0,0,0],[0,1,0,0],[0,0,1,0],[0,0,0,1]]"
    head = body_of(f'{{ file = "hull.stl", {other}, place = {eye} }}').replace("]\n", "] # here\n")
    head = head.replace("[craft] # here", "[craft]").replace("[axes] # here", "[axes]")
    head = head.replace("[[body]] # here", "[[body]]")
    said = r"body\[1\]\.parts\[1\]\.place: stands beside at_mm or turn_deg; keep one"
    refused(tmp_path, "", said, head=head)
