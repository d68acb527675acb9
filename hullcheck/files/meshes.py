"""Reading a mesh file of whatever format it turns out to be."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Final

from hullcheck.errors import MeshFileError
from hullcheck.files.gltf import is_gltf, read_gltf
from hullcheck.files.guard import FORMATS, MAX_FILE_BYTES, refuse_foreign
from hullcheck.files.mesh_file import MeshFile
from hullcheck.files.obj import is_obj, read_obj
from hullcheck.files.off import is_off, read_off
from hullcheck.files.plain_file import FileKind, plain_bytes
from hullcheck.files.ply import is_ply, read_ply
from hullcheck.files.stl import is_ascii_stl, is_binary_stl, read_stl
from hullcheck.files.threemf import is_threemf, read_threemf

_Reader = Callable[[bytes, str], MeshFile]

# In this order: a binary STL's header may hold anything, and its size is the surest sign of all.
_BY_CONTENT: Final[tuple[tuple[Callable[[bytes], bool], _Reader], ...]] = (
    (is_binary_stl, read_stl),
    (is_threemf, read_threemf),
    (is_ply, read_ply),
    (is_ascii_stl, read_stl),
    (is_off, read_off),
    (is_gltf, read_gltf),
    (is_obj, read_obj),
)
_KIND: Final = FileKind(
    called="mesh file",
    limit_bytes=MAX_FILE_BYTES,
    too_large="over the limit of {limit} (1 GiB); export the hull with a coarser mesh",
    refusal=MeshFileError,
)
_BY_SUFFIX: Final = {
    ".stl": read_stl,
    ".obj": read_obj,
    ".ply": read_ply,
    ".off": read_off,
    ".3mf": read_threemf,
    ".glb": read_gltf,
    ".gltf": read_gltf,
}


def read_mesh(path: str | os.PathLike[str]) -> MeshFile:
    """Return the parts of a mesh file: STL, OBJ, PLY, OFF, 3MF, GLB or glTF.

    Parameters
    ----------
    path : str or path
        The file. It is only read, and so is nothing beside it.

    Returns
    -------
    MeshFile
        The numbers as they stand in the file, each as the nearest float64; only transforms inside
        the file are applied. ``name`` is the path as given.

    Raises
    ------
    MissingFileError
        If there is no such file.
    MeshFileError
        If it is no mesh file, damaged, larger than 1 GiB, or holds what is not read.

    Notes
    -----
    The content decides the format, and the suffix only where the content says nothing. What looks
    like another kind of file is refused under its own name.
    """
    name = os.fspath(path)
    return read_mesh_bytes(plain_bytes(name, _KIND), name)


def read_mesh_bytes(data: bytes, name: str) -> MeshFile:
    """Return the parts of a mesh file that was read already.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        The path as given; its suffix is the last hint at the format.

    Returns
    -------
    MeshFile
        As from `read_mesh`.

    Raises
    ------
    MeshFileError
        As from `read_mesh`.
    """
    blank = b"\0 \t\r\n"
    if not data[:4096].strip(blank) and not data.strip(blank):
        what = "is empty, 0 bytes" if not data else f"holds nothing but {len(data)} blank bytes"
        raise MeshFileError(f"{name}: {what}; export or copy it again")
    for fits, reader in _BY_CONTENT:
        if fits(data):
            return reader(data, name)
    refuse_foreign(data, name)
    suffix = Path(name).suffix.lower()
    if suffix not in _BY_SUFFIX:
        ending = f"the ending '{suffix}'" if suffix else "no ending"
        msg = f"{name}: {ending} and nothing inside that tells a mesh format"
        raise MeshFileError(f"{msg}; export the hull as {FORMATS}")
    return _BY_SUFFIX[suffix](data, name)
