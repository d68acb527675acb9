"""STL in and out, against trimesh and against the numbers themselves."""

import importlib
import io
import re
import sys
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from hullcheck.errors import InputError, MeshFileError
from hullcheck.files.stl import read_ascii_stl, read_binary_stl, read_stl
from hullcheck.files.stl_writer import binary_stl_bytes

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

ONE_FACET = """solid left float
 facet normal 0 0 1
  outer loop
   vertex 0 0 0
   vertex 1.5 0 0
   vertex 0 2.5e0 0
  endloop
 endfacet
endsolid left float
"""


def test_binary_stl_is_what_trimesh_wrote():
    """Every coordinate equals the float32 that trimesh wrote, to the last bit."""
    read = read_stl(making.exported("stl"), "hull.stl")
    assert read.kind == "binary STL"
    assert (read.unit, read.up, read.forward) == (None, None, None)
    written = making.hull().triangles.astype(np.float32)
    assert np.array_equal(making.all_triangles(read), written.astype(np.float64))


def test_a_binary_stl_may_start_with_solid():
    """A header that begins with "solid" does not make a binary file ASCII."""
    data = b"solid hull from a CAD program".ljust(80, b" ") + making.exported("stl")[80:]
    assert read_stl(data, "hull.stl").kind == "binary STL"


def test_ascii_stl_is_what_trimesh_wrote():
    """The text's numbers come back as float64, so the volume is that of the closed form."""
    read = read_stl(making.exported("stl_ascii"), "hull.stl")
    assert read.kind == "ASCII STL"
    loaded = trimesh.load(
        io.BytesIO(making.exported("stl_ascii")), file_type="stl_ascii", process=False
    )
    assert np.array_equal(making.all_triangles(read), np.asarray(loaded.triangles))
    # trimesh writes the float64 in eight decimals: 1e-8 mm on 300 mm.
    assert making.volume(making.all_triangles(read)) == pytest.approx(making.VOLUME, rel=1e-9)


def test_ascii_numbers_are_the_nearest_float64():
    """Long decimals are rounded once, as Python rounds them."""
    text = ONE_FACET.replace("1.5", "0.1000000000000000055511151231257827").replace(
        "2.5e0", "123456789.123456789e-7"
    )
    triangles = read_ascii_stl(text.encode(), "hull.stl").parts[0].triangles
    assert triangles[0, 1, 0] == 0.1
    assert triangles[0, 2, 1] == 12.3456789123456789


def test_several_solids_are_several_parts_with_names():
    """Each solid block is a part; names keep their blanks, and empty blocks make no part."""
    text = ONE_FACET + "solid nothing\nendsolid nothing\n" + ONE_FACET.replace("left", "right")
    read = read_stl(text.encode(), "floats.stl")
    assert [part.name for part in read.parts] == ["left float", "right float"]


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.upper(),
        lambda text: text.replace("\n", "\r\n"),
        lambda text: text.replace("\n", "\r"),
        lambda text: text.replace("\n", "\n\n\t "),
        lambda text: "\ufeff" + text,
        lambda text: text.replace(" 0 0 1\n", "nan -nan nan\n").replace("normal", "normal "),
        lambda text: text.replace("endsolid left float\n", "  endsolid"),
    ],
)
def test_ascii_stl_is_read_whatever_its_blanks_and_case(change):
    """Case, line ends, blank lines, a byte-order mark and useless normals change nothing."""
    read = read_stl(change(ONE_FACET).encode(), "hull.stl")
    assert np.array_equal(read.parts[0].triangles[0], [[0, 0, 0], [1.5, 0, 0], [0, 2.5, 0]])


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("1.5", "1.5.5", "hull.stl: line 5: '1.5.5' stands where a finite coordinate"),
        ("1.5", "nan", "hull.stl: line 5: 'nan' stands where a finite coordinate"),
        ("1.5", "-inf", "hull.stl: line 5: '-inf' stands where a finite coordinate"),
        ("1.5", "1e999", "hull.stl: line 5: '1e999' stands where a finite coordinate"),
        ("1.5 0 0", "1.5 0", "hull.stl: line 6: '0' stands where 'vertex' was expected"),
        ("endloop", "vertex 1 1 1", "line 7: 'vertex' stands where 'endloop' was expected"),
        (" endfacet\n", "", "hull.stl: line 7: the facet breaks off after 'endloop'"),
        ("endsolid left float\n", "", "truncated: it breaks off at line 8 without 'endsolid'"),
        ("endsolid", "endsolid\nfacet", "line 10: 'facet' stands where 'solid' was expected"),
        ("endsolid", "solid", "hull.stl: line 9: 'solid' stands where 'endsolid' was expected"),
    ],
)
def test_a_broken_ascii_stl_is_refused_with_its_line(old, new, message):
    """The refusal names the file, the line, and the word that is wrong there."""
    with pytest.raises(MeshFileError, match=re.escape(message)):
        read_stl(ONE_FACET.replace(old, new, 1).encode(), "hull.stl")


def test_line_numbers_count_through_a_long_file():
    """A wrong word deep in a file of many blocks is found by its line."""
    facet = "".join(ONE_FACET.splitlines(keepends=True)[1:-1])
    # Over 4 MB, so that the file is split in blocks; seven lines a facet after the first line.
    text = "solid long\n" + facet * 40_000 + facet.replace("1.5", "x1.5") + "endsolid\n"
    with pytest.raises(MeshFileError, match=r"line 280005: 'x1\.5' stands where a finite"):
        read_stl(text.encode(), "long.stl")
    whole = read_stl(text.replace("x1.5", "1.5").encode(), "long.stl")
    assert len(whole.parts[0].triangles) == 40_001


@pytest.mark.parametrize(
    ("cut", "message"),
    [
        (-1, "truncated: the header says 8 triangles = 484 bytes, the file has 483"),
        (100, "truncated: the header says 8 triangles = 484 bytes, the file has 100"),
        (83, "83 bytes, shorter than the 84 of a binary STL header"),
    ],
)
def test_a_truncated_binary_stl_is_refused(cut, message):
    """The promised and the present size are both in the message."""
    with pytest.raises(MeshFileError, match=message):
        read_stl(making.exported("stl")[:cut], "hull.stl")


def test_bytes_after_the_last_triangle():
    """Fewer than 50 zero bytes are padding; anything else is a header that lies."""
    data = making.exported("stl")
    assert len(read_stl(data + bytes(49), "hull.stl").parts[0].triangles) == 8
    message = "longer than its header says: the header says 8 triangles = 484 bytes, the file has"
    for extra in (b"\1", bytes(50)):
        with pytest.raises(MeshFileError, match=f"{message} {484 + len(extra)}"):
            read_stl(data + extra, "hull.stl")


def test_zero_triangles_are_refused():
    """A file that says it holds nothing is refused, in both kinds."""
    with pytest.raises(MeshFileError, match="binary STL with 0 triangles"):
        read_stl(bytes(84), "hull.stl")
    with pytest.raises(MeshFileError, match="ASCII STL with 0 triangles"):
        read_stl(b"solid x\nendsolid x\n", "hull.stl")


@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf])
def test_a_coordinate_that_is_no_number_is_refused_by_triangle(value):
    """The triangle's number, from 1, and the value are in the message."""
    data = bytearray(making.exported("stl"))
    data[84 + 50 * 4 + 20 : 84 + 50 * 4 + 24] = np.float32(value).tobytes()
    with pytest.raises(MeshFileError, match=f"hull.stl: triangle 5: a coordinate is {value}, not"):
        read_binary_stl(bytes(data), "hull.stl")


def test_the_largest_float32_is_read():
    """Absurd sizes are no matter of the reader."""
    largest = float(np.finfo(np.float32).max)
    data = binary_stl_bytes([[[0, 0, 0], [largest, 0, 0], [0, -largest, 0]]])
    assert read_stl(data, "hull.stl").parts[0].triangles.max() == largest


FLOAT32 = st.floats(width=32, allow_nan=False, allow_infinity=False)


@given(
    hnp.arrays(np.float64, st.tuples(st.integers(1, 5), st.just(3), st.just(3)), elements=FLOAT32)
)
def test_what_is_written_is_read_back(triangles):
    """Triangles of float32 numbers survive writing and reading to the last bit."""
    read = read_stl(binary_stl_bytes(triangles), "hull.stl")
    assert np.array_equal(read.parts[0].triangles, triangles)


def test_trimesh_reads_what_is_written():
    """Coordinates and normals are those trimesh finds, and the same bytes come every time."""
    triangles = making.VERTICES[making.FACES]
    data = binary_stl_bytes(triangles)
    assert data == binary_stl_bytes(triangles)
    assert not data.startswith(b"solid")
    loaded = trimesh.load(io.BytesIO(data), file_type="stl", process=False)
    assert np.array_equal(loaded.triangles, triangles.astype(np.float32))
    written = np.frombuffer(data[84:], np.dtype([("n", "<f4", 3), ("rest", "V38")]))["n"]
    # float32 holds a unit vector to 6e-8.
    np.testing.assert_allclose(written, making.hull().face_normals, atol=1e-7)


def test_a_triangle_without_area_has_no_normal():
    """Its normal is written as zeros, as the format asks for when none is known."""
    data = binary_stl_bytes([[[1, 1, 1], [2, 2, 2], [3, 3, 3]]])
    assert data[84:96] == bytes(12)


@pytest.mark.parametrize("value", [np.nan, -np.inf, 4e38])
def test_what_does_not_fit_is_not_written(value):
    """A coordinate that is not finite as float32 is refused with its triangle and value."""
    triangles = np.zeros((3, 3, 3))
    triangles[2, 1, 0] = value
    with pytest.raises(InputError, match=re.escape(f"triangle 3: a coordinate of {value:g} mm")):
        binary_stl_bytes(triangles)


def test_a_wrong_shape_is_not_written():
    """The shape given and the shape wanted are in the message."""
    with pytest.raises(InputError, match=re.escape("shape (3, 3) were given where (n, 3, 3)")):
        binary_stl_bytes(np.zeros((3, 3)))
