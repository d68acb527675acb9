"""The ZIP package of a 3MF file: opened in memory, limits counted on what really comes out."""

import io
import posixpath
import zipfile
import zlib
from collections.abc import Iterator
from typing import Final
from urllib.parse import unquote

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import shown

MAX_ENTRIES: Final = 10_000
MAX_UNPACKED_BYTES: Final = 1024**3
"""1 GiB of XML: about 12 million triangles."""

_FREE_BYTES: Final = 16 * 1024**2
_MAX_RATIO: Final = 200
"""Model files shrink to a tenth; only a file made to burst shrinks to less than 1/200."""

_CHUNK_BYTES: Final = 1 << 16
_ENCRYPTED: Final = 0x1

# What the standard library's reader raises on damaged archives.
_DAMAGED: Final = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    OSError,
    ValueError,
    NotImplementedError,
    RuntimeError,
    IndexError,
    OverflowError,
)


class Package:
    """A package whose files can be read by name; nothing is ever written or extracted.

    Parameters
    ----------
    data : bytes
        The whole archive.
    name : str
        The path as given, for messages.
    """

    def __init__(self, data: bytes, name: str) -> None:
        """Read the list of entries."""
        self.name = name
        self._limit = min(MAX_UNPACKED_BYTES, _FREE_BYTES + _MAX_RATIO * len(data))
        self._unpacked = 0
        # Counted in the bytes, before the library makes an object of each entry.
        entries = data.count(b"PK\x01\x02")
        if entries > MAX_ENTRIES:
            msg = f"{name}: {entries} entries in the package, the limit is {MAX_ENTRIES}"
            raise MeshFileError(f"{msg}; export the mesh again")
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(data))
            listed = self._zip.infolist()
        except _DAMAGED as damaged:
            msg = f"{name}: the package is damaged or truncated"
            raise MeshFileError(f"{msg}; export or copy it again") from damaged
        # Part names of the Open Packaging Conventions are the same in upper and lower case.
        self._entries = {_normal(info.filename): info for info in listed}
        if len(self._entries) < len(listed):
            raise MeshFileError(f"{name}: two files of one name in the package; export it again")

    def __contains__(self, part: str) -> bool:
        """Return whether a file of that name is in the package."""
        return part_name(part) in self._entries

    def chunks(self, part: str) -> Iterator[bytes]:
        """Yield a file's bytes piece by piece.

        Raises
        ------
        MeshFileError
            If it is not there, encrypted, packed in a way 3MF does not use, damaged, or if all
            that was read from the package so far is more than any model needs.
        """
        info = self._entries.get(part_name(part))
        if info is None:
            msg = f"{self.name}: {shown(part)} is wanted, and not in the package"
            raise MeshFileError(f"{msg}; export the mesh again")
        if info.flag_bits & _ENCRYPTED:
            msg = f"{self.name}: {shown(part)} is encrypted; export it without a password"
            raise MeshFileError(msg)
        if info.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            msg = f"{self.name}: {shown(part)} is packed by method {info.compress_type}"
            raise MeshFileError(f"{msg}, not by deflate as 3MF asks; export the mesh again")
        try:
            with self._zip.open(info) as stream:
                while chunk := stream.read(_CHUNK_BYTES):
                    self._count(len(chunk))
                    yield chunk
        except MeshFileError:
            raise
        except _DAMAGED as damaged:
            msg = f"{self.name}: {shown(part)} in the package is damaged"
            raise MeshFileError(f"{msg}; export or copy it again") from damaged

    def _count(self, size: int) -> None:
        """Count what was unpacked, and stop at the limit."""
        self._unpacked += size
        if self._unpacked > self._limit:
            msg = f"{self.name}: unpacks to more than {self._limit} bytes"
            raise MeshFileError(f"{msg}, the limit for a package of its size; export it again")


def part_name(path: str) -> str:
    """Return the one name of a part, from any way to write a reference to it."""
    return _normal(unquote(path).strip())


def _normal(path: str) -> str:
    """Return a path from the package's root, without dots and leading slash, lower case."""
    return posixpath.normpath("/" + path.replace("\\", "/")).lstrip("/").lower()
