"""Which reader a file goes to, what is refused under its own name, and what is never opened."""

import importlib
import os
import re
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hullcheck.errors import HullcheckError, MeshFileError, MissingFileError
from hullcheck.files import meshes
from hullcheck.files.meshes import read_mesh, read_mesh_bytes

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

KINDS = {
    "binary.stl": "binary STL",
    "text.stl": "ASCII STL",
    "triangles.obj": "OBJ",
    "polygons.obj": "OBJ",
    "binary.ply": "PLY",
    "text.ply": "PLY",
    "mixed.ply": "PLY",
    "text.off": "OFF",
    "whole.glb": "GLB",
    "stored.3mf": "3MF",
    "packed.3mf": "3MF",
}
WHOLE = making.one_of_each()


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("ending", ["", ".stl", ".glb", ".STL", ".txt"])
def test_the_content_decides_the_format(name, ending, tmp_path):
    """A file under its own or another ending is read as what it is, and its name is kept."""
    path = tmp_path / (Path(name).stem + ending if ending else name)
    path.write_bytes(WHOLE[name])
    mesh_file = read_mesh(path)
    assert mesh_file.kind == KINDS[name]
    assert mesh_file.name == str(path)
    assert all(part.triangles.dtype == np.float64 for part in mesh_file.parts)


def test_every_format_gives_the_same_body():
    """The prism written eight ways is one body; text of trimesh has 1e-8, float32 3e-8."""
    for name in (
        "binary.stl",
        "text.stl",
        "triangles.obj",
        "binary.ply",
        "text.ply",
        "text.off",
        "whole.glb",
        "packed.3mf",
    ):
        triangles = making.all_triangles(read_mesh_bytes(WHOLE[name], name))
        assert making.volume(triangles) == pytest.approx(making.VOLUME, rel=1e-6), name


@pytest.mark.parametrize(
    ("start", "what"),
    [
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "a PNG picture"),
        (b"\xff\xd8\xff\xe0\0\x10JFIF", "a JPEG picture"),
        (b"GIF89a", "a GIF picture"),
        (b"%PDF-1.7\n", "a PDF document"),
        (b"PK\x03\x04\x14\0\0\0", "a ZIP archive without a 3D model in it"),
        (b"ISO-10303-21;\nHEADER;", "a STEP file"),
        (b"; made by a slicer\nG28 ; home\nG1 X10 Y10 E2\n", "G-code for a printer"),
        (b"M104 S210\nG28\n", "G-code for a printer"),
        (b"<?xml version='1.0'?>\n<svg/>", "a web page, a drawing or another XML document"),
        (b"<!DOCTYPE html><html>", "a web page, a drawing or another XML document"),
        (b"\x1f\x8b\x08", "a gzip archive"),
    ],
)
@pytest.mark.parametrize("name", ["hull.stl", "hull.obj", "hull.3mf", "hull"])
def test_other_files_are_refused_under_their_own_name(start, what, name):
    """A picture renamed .stl is called a picture, and the next step says what to export."""
    message = f"{name}: looks like {what}, not a mesh; export the hull as STL, OBJ, PLY, OFF, 3MF"
    with pytest.raises(MeshFileError, match=re.escape(message)):
        read_mesh_bytes(start + bytes(300), name)


@pytest.mark.parametrize(
    ("data", "name", "message"),
    [
        (b"", "hull.stl", "hull.stl: is empty, 0 bytes; export or copy it again"),
        (bytes(500), "hull.stl", "hull.stl: holds nothing but 500 blank bytes"),
        (b"hello", "hull.txt", "hull.txt: the ending '.txt' and nothing inside that tells a mesh"),
        (b"hello", "hull", "hull: no ending and nothing inside that tells a mesh"),
        (
            b"hello" * 99,
            "hull.stl",
            "neither ASCII STL, which starts with 'solid', nor whole binary",
        ),
        (b"hello", "hull.stl", "hull.stl: 5 bytes, shorter than the 84 of a binary STL header"),
        (b"hello", "hull.ply", "hull.ply: no 'end_header' in the first 64 kB"),
        (b"hello", "hull.off", "hull.off: line 1: 'hello' is not the header of a text OFF"),
        (b"hello", "hull.obj", "hull.obj: line 1: 'hello' is no statement of a polygon mesh"),
        (b"hello", "hull.glb", "hull.glb: damaged or truncated JSON, line 1"),
        (b"hello", "hull.3mf", "hull.3mf: the package is damaged or truncated"),
    ],
)
def test_what_is_no_mesh_is_refused(data, name, message):
    """Where the content tells nothing, the ending decides what is missing."""
    with pytest.raises(MeshFileError, match=re.escape(message)):
        read_mesh_bytes(data, name)


def test_a_missing_file_is_refused(tmp_path):
    """The path is in the message as it was given; the built-in error catches it, too."""
    for path in (tmp_path / "none.stl", tmp_path / "none" / "hull.stl"):
        with pytest.raises(MissingFileError, match=re.escape(f"{path}: there is no such file")):
            read_mesh(path)
    (tmp_path / "file").write_bytes(b"x")
    with pytest.raises(FileNotFoundError):
        read_mesh(tmp_path / "file" / "hull.stl")


def test_folders_and_devices_are_refused(tmp_path):
    """Neither is opened: a pipe would wait for ever."""
    with pytest.raises(MeshFileError, match="is a folder; name a mesh file in it"):
        read_mesh(tmp_path)
    pipe = tmp_path / "pipe.stl"
    os.mkfifo(pipe)
    with pytest.raises(MeshFileError, match=re.escape("pipe.stl: is no plain file")):
        read_mesh(str(pipe))
    with pytest.raises(MeshFileError, match="cannot be read"):
        read_mesh("nul\0byte.stl")


def test_a_file_over_the_limit_is_refused(tmp_path, peak_bytes, monkeypatch):
    """Its size and the limit are in the message, and it is not read."""
    path = tmp_path / "huge.stl"
    with path.open("wb") as stream:
        stream.truncate(5 << 30)

    def attempt():
        with pytest.raises(MeshFileError, match="5368709120 bytes, over the limit of 1073741824"):
            read_mesh(path)

    assert peak_bytes(attempt) < 1 << 20
    monkeypatch.setattr(meshes, "_KIND", replace(meshes._KIND, limit_bytes=100))
    path.write_bytes(WHOLE["binary.stl"])
    with pytest.raises(MeshFileError, match="484 bytes, over the limit of 100"):
        read_mesh(path)


def test_a_file_that_is_still_being_written_is_refused(tmp_path, monkeypatch):
    """Both sizes are in the message."""
    path = tmp_path / "hull.stl"
    path.write_bytes(WHOLE["binary.stl"])
    real = Path.open

    def growing(self, mode):
        with real(self, "ab") as stream:
            stream.write(bytes(7))
        return real(self, mode)

    monkeypatch.setattr(meshes.Path, "open", growing)
    with pytest.raises(MeshFileError, match="484 bytes at first and 485 when read: it is being"):
        read_mesh(path)


def test_a_link_to_a_file_is_read(tmp_path):
    """A symbolic link is a name like any other."""
    (tmp_path / "hull.stl").write_bytes(WHOLE["binary.stl"])
    (tmp_path / "link.stl").symlink_to("hull.stl")
    assert read_mesh(tmp_path / "link.stl").name == str(tmp_path / "link.stl")


@pytest.mark.parametrize("name", WHOLE)
def test_only_the_file_itself_is_opened(name, tmp_path, opened_files):
    """Whatever the format, one file is opened, once, for reading."""
    path = tmp_path / name
    path.write_bytes(WHOLE[name])
    read_mesh(path)
    with opened_files() as opened:
        read_mesh(path)
    assert opened == [f"open {path}"]
    assert path.read_bytes() == WHOLE[name]


@pytest.mark.parametrize("there", [True, False])
def test_materials_of_an_obj_are_not_opened(there, tmp_path, opened_files):
    """A material library named in the file stays closed, whether or not it is there."""
    path = tmp_path / "hull.obj"
    path.write_bytes(b"mtllib paint.mtl\nmtllib /somewhere/else\n" + WHOLE["triangles.obj"])
    if there:
        (tmp_path / "paint.mtl").write_text("newmtl white\nmap_Kd white.png\n")
    with opened_files() as opened:
        assert len(read_mesh(path).parts[0].triangles) == 8
    assert opened == [f"open {path}"]


def test_names_from_a_file_cannot_act_on_a_terminal():
    """Control characters are dropped from names and shown as ? in messages."""
    text = WHOLE["text.stl"].split(b"\n", 1)[1]
    named = b"solid bow\x1b[2Jclear\t two\n" + text
    assert read_mesh_bytes(named, "hull.stl").parts[0].name == "bow[2Jclear two"
    with pytest.raises(MeshFileError, match=re.escape("line 2: 'a?[2j' stands where 'facet'")):
        read_mesh_bytes(b"solid bow\na\x1b[2J\nendsolid\n", "hull.stl")


def test_every_refusal_is_of_one_family():
    """A caller can catch them all, or as the built-ins they are."""
    with pytest.raises(HullcheckError):
        read_mesh("none.stl")
    with pytest.raises(ValueError, match="is empty"):
        read_mesh_bytes(b"", "hull.stl")
