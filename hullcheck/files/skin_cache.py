"""Outer skins kept beside the build, by what they were made of: they take seconds to make."""

import dataclasses
import hashlib
import io
import json
import os
import re
import types
import typing
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import numpy as np

from hullcheck import __version__
from hullcheck.errors import InputError, MissingFileError
from hullcheck.files.atomic import write_new_bytes
from hullcheck.files.guard import MAX_FILE_BYTES, reason
from hullcheck.files.plain_file import FileKind, plain_bytes
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outer_records import OuterSkin

CACHE_FOLDER: Final = ".hullcheck"
MAX_KEPT: Final = 8
FORMAT: Final = 4
"""To be raised whenever the same parts make another skin, or a skin is kept otherwise."""

_KEY: Final = re.compile(r"[0-9a-f]{64}")
_SEAL_BYTES: Final = 64
_PLAIN: Final = "plain"
_KIND: Final = FileKind(
    called="kept skin", limit_bytes=MAX_FILE_BYTES, too_large="over {limit}", refusal=InputError
)


def key_of(parts: Sequence[tuple[str, FloatArray]], *more: str) -> str:
    """Return the key of all that a skin is made of: 64 hexadecimal digits.

    Parameters
    ----------
    parts : sequence of (str, ndarray of shape (n, 3, 3))
        Names and triangles, as placed [mm].
    *more : str
        Whatever else decides: the body's name, its lids, its wells. This package's version always
        does.

    Returns
    -------
    str
        SHA-256 over names, shapes, numbers to the last bit, and all of `more`, in this order.

    Examples
    --------
    >>> key_of([("nose", np.zeros((1, 3, 3)))], "hull") == key_of([], "hull")
    False
    """
    found = hashlib.sha256()
    for text in (__version__, str(FORMAT), *more):
        _take_text(found, text)
    for name, triangles in parts:
        numbers = np.ascontiguousarray(triangles, dtype="<f8")
        _take_text(found, name)
        _take_text(found, repr(numbers.shape))
        found.update(numbers.data)
    # Counted, so that a name among `more` is told from one among the parts.
    _take_text(found, f"{len(more)} {len(parts)}")
    return found.hexdigest()


class SkinCache:
    """The outer skins kept in the folder ``.hullcheck`` beside a build sheet; at most eight.

    Parameters
    ----------
    folder : str or path
        The build's folder. Nothing is made in it before a skin is kept.

    Notes
    -----
    Each skin is a ``.npz`` file without pickled objects: arrays, and the rest as JSON. Its last 64
    bytes, which ZIP calls the archive's comment, are a SHA-256 of all before them. What does not
    match it, or is not what this version keeps under that key, counts as absent. All of it may be
    deleted at any time.
    """

    def __init__(self, folder: str | os.PathLike[str]) -> None:
        """Remember the folder."""
        self._folder = Path(folder) / CACHE_FOLDER

    def get(self, key: str) -> OuterSkin | None:
        """Return the skin kept under a key, equal to the last bit; None if there is none.

        Parameters
        ----------
        key : str
            As from `key_of`.

        Returns
        -------
        OuterSkin or None
            None as well where the file is damaged, foreign or cannot be read.

        Raises
        ------
        InputError
            If the key is none.
        """
        path = self._path(key)
        try:
            data = plain_bytes(path, _KIND)
            return _skin_of(data, key) if _is_sealed(data) else None
        except (MissingFileError, ValueError, KeyError, zipfile.BadZipFile):
            # No skin in there is no failure: it is made again and written over whatever there is.
            return None

    def put(self, key: str, skin: OuterSkin) -> tuple[str, str] | None:
        """Keep a skin under a key, and drop the oldest beyond eight.

        Parameters
        ----------
        key : str
            As from `key_of`.
        skin : OuterSkin
            What was made of it.

        Returns
        -------
        (str, str) or None
            A note, code and sentence, where it could not be kept; the skin is as good without.

        Raises
        ------
        InputError
            If the key is none.
        """
        path = self._path(key)
        data = _bytes_of(skin, key)
        try:
            self._make_folder()
            self._drop_oldest(path)
            write_new_bytes(path, data, overwrite=True)
        except (OSError, InputError) as refused:
            # What the system said, without the name of a file that nobody asked for.
            said = refused.__cause__ if isinstance(refused, InputError) else refused
            why = reason(said) if isinstance(said, OSError) else str(refused)
            msg = f"the skin of {skin.name} could not be kept in {self._folder} ({why})"
            return "skin-not-kept", f"{msg}; it will be worked out again next time"
        return None

    def _path(self, key: str) -> Path:
        """Return where a key's skin is kept."""
        if _KEY.fullmatch(key) is None:
            raise InputError(f"{key!r} is no key of a skin: 64 hexadecimal digits are wanted")
        return self._folder / f"skin-{key}.npz"

    def _make_folder(self) -> None:
        """Make the folder, unseen by git, if it is not there."""
        if not self._folder.is_dir():
            self._folder.mkdir()
            write_new_bytes(self._folder / ".gitignore", b"*\n")

    def _drop_oldest(self, newest: Path) -> None:
        """Delete the skins written first, until there is room for the newest."""
        others: list[tuple[int, Path]] = []
        for path in self._folder.glob("skin-*.npz"):
            if path == newest:
                continue
            try:
                others.append((path.lstat().st_mtime_ns, path))
            except FileNotFoundError:
                continue  # dropped by another run just now
        others.sort()
        for _, path in others[: max(0, len(others) + 1 - MAX_KEPT)]:
            path.unlink(missing_ok=True)


def _take_text(found: "hashlib._Hash", text: str) -> None:
    """Hash a text with its length before it, so that no two sequences of texts run together."""
    # Names of files may hold bytes that are no text; these come as lone surrogates.
    raw = text.encode("utf-8", "surrogatepass")
    found.update(len(raw).to_bytes(8, "little"))
    found.update(raw)


def _bytes_of(skin: OuterSkin, key: str) -> bytes:
    """Return a skin as the bytes of a sealed .npz file."""
    arrays: list[np.ndarray] = []
    plain = {"key": key, "skin": _coded(skin, arrays, {})}
    text = json.dumps(plain, default=lambda number: number.item()).encode("ascii")
    named = {_PLAIN: np.frombuffer(text, np.uint8)}
    named |= {f"array_{k}": array for k, array in enumerate(arrays)}
    stream = io.BytesIO()
    # By hand, since numpy's own compression takes twice as long for a sixth less.
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, array in named.items():
            with archive.open(f"{name}.npy", "w", force_zip64=True) as entry:
                np.lib.format.write_array(entry, array, allow_pickle=False)
    # A ZIP archive ends with the length of its comment: here still 0, in two bytes.
    body = stream.getvalue()[:-2] + _SEAL_BYTES.to_bytes(2, "little")
    return body + hashlib.sha256(body).hexdigest().encode("ascii")


def _is_sealed(data: bytes) -> bool:
    """Return whether a file is what was once written, to the last bit."""
    view = memoryview(data)
    seal = hashlib.sha256(view[:-_SEAL_BYTES]).hexdigest().encode("ascii")
    return data.startswith(b"PK") and bytes(view[-_SEAL_BYTES:]) == seal


def _skin_of(data: bytes, key: str) -> OuterSkin:
    """Return the skin in a file; ValueError or KeyError if it is not one of this key."""
    with np.load(io.BytesIO(data), allow_pickle=False) as held:
        plain = json.loads(held[_PLAIN].tobytes())
        if not isinstance(plain, dict) or plain["key"] != key:
            raise ValueError("the skin of another key")
        arrays = [held[f"array_{k}"] for k in range(len(held.files) - 1)]
    for array in arrays:
        array.setflags(write=False)  # so that the records take it without a copy
    skin: OuterSkin = _decoded(OuterSkin, plain["skin"], arrays)
    return skin


def _coded(value: Any, arrays: list[np.ndarray], numbers: dict[int, int]) -> Any:  # noqa: ANN401
    """Return records and tuples as JSON has them, arrays as their numbers in the list."""
    if dataclasses.is_dataclass(value):
        made = (field.name for field in dataclasses.fields(value) if field.init)
        return {name: _coded(getattr(value, name), arrays, numbers) for name in made}
    if isinstance(value, tuple):
        return [_coded(entry, arrays, numbers) for entry in value]
    if not isinstance(value, np.ndarray):
        return value
    # The triangles of a closed part may be the skin's own: kept once.
    if id(value) not in numbers:
        numbers[id(value)] = len(arrays)
        arrays.append(value)
    return numbers[id(value)]


def _decoded(kind: Any, coded: Any, arrays: list[np.ndarray]) -> Any:  # noqa: ANN401
    """Return what a record's type hint asks for; ValueError where something else was kept."""
    origin, inner = typing.get_origin(kind), typing.get_args(kind)
    if dataclasses.is_dataclass(kind) and isinstance(kind, type) and isinstance(coded, dict):
        hints = typing.get_type_hints(kind)
        made = [field.name for field in dataclasses.fields(kind) if field.init]
        if set(made) == set(coded):
            return kind(**{name: _decoded(hints[name], coded[name], arrays) for name in made})
    elif origin is tuple and isinstance(coded, list):
        kinds = inner[:1] * len(coded) if inner[1:] == (...,) else inner
        return tuple(_decoded(k, c, arrays) for k, c in zip(kinds, coded, strict=True))
    elif origin is np.ndarray and type(coded) is int and 0 <= coded < len(arrays):
        if arrays[coded].dtype == typing.get_args(inner[1])[0]:
            return arrays[coded]
    elif origin is typing.Literal and coded in inner:
        return coded
    elif origin in (types.UnionType, typing.Union):
        wanted = type(None) if coded is None else next(k for k in inner if k is not type(None))
        return None if wanted is type(None) and wanted in inner else _decoded(wanted, coded, arrays)
    elif type(coded) is kind or (kind is float and type(coded) is int):
        return coded
    raise ValueError(f"{kind} is wanted")
