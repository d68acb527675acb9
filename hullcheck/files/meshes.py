"""Reading a mesh file of whatever format it turns out to be."""

import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Final

from hullcheck.errors import MeshFileError, MissingFileError
from hullcheck.files.gltf import is_gltf, read_gltf
from hullcheck.files.guard import FORMATS, MAX_FILE_BYTES, reason, refuse_foreign
from hullcheck.files.mesh_file import MeshFile
from hullcheck.files.obj import is_obj, read_obj
from hullcheck.files.off import is_off, read_off
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
    return read_mesh_bytes(_bytes_of(name), name)


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


def _bytes_of(name: str) -> bytes:
    """Return a file's bytes; what is no plain file or too large is refused unopened."""
    path = Path(name)
    try:
        # Looked at before it is opened: opening a pipe would wait for its other end.
        size = _checked_size(path.stat(), name)
        with path.open("rb") as stream:
            data = stream.read(size + 1)
    except (FileNotFoundError, NotADirectoryError) as missing:
        msg = f"{name}: there is no such file; check the name and the folder"
        raise MissingFileError(msg) from missing
    except MeshFileError:
        raise
    except (OSError, ValueError) as refused:
        msg = f"{name}: cannot be read ({reason(refused)}); check the name and who may read it"
        raise MeshFileError(msg) from refused
    if len(data) != size:
        msg = f"{name}: {size} bytes at first and {len(data)} when read: it is being written"
        raise MeshFileError(f"{msg}; try again when that is done")
    return data


def _checked_size(status: os.stat_result, name: str) -> int:
    """Return a file's size in bytes; refuse a folder, a device and a file over the limit."""
    if stat.S_ISDIR(status.st_mode):
        raise MeshFileError(f"{name}: is a folder; name a mesh file in it")
    if not stat.S_ISREG(status.st_mode):
        raise MeshFileError(f"{name}: is no plain file; name a mesh file")
    if status.st_size > MAX_FILE_BYTES:
        msg = f"{name}: {status.st_size} bytes, over the limit of {MAX_FILE_BYTES} (1 GiB)"
        raise MeshFileError(f"{msg}; export the hull with a coarser mesh")
    return status.st_size
