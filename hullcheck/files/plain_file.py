"""A file's bytes, with what is no plain file, or too large, refused before it is opened."""

import os
import stat
from dataclasses import dataclass
from pathlib import Path

from hullcheck.errors import HullcheckError, InputError, MeshFileError, MissingFileError
from hullcheck.files.guard import reason


@dataclass(frozen=True, slots=True, kw_only=True)
class FileKind:
    """A kind of file that is read whole.

    Attributes
    ----------
    called : str
        What a user is asked to name, such as "mesh file".
    limit_bytes : int
        The largest size that is read.
    too_large : str
        What is said behind the size of a larger one: the {limit}, and the next step.
    refusal : type
        What is raised.
    """

    called: str
    limit_bytes: int
    too_large: str
    refusal: type[InputError] | type[MeshFileError]


def plain_bytes(path: str | os.PathLike[str], kind: FileKind) -> bytes:
    """Return a file's bytes.

    Parameters
    ----------
    path : str or path
        As the user gave it; used in every message.
    kind : FileKind
        What is expected.

    Raises
    ------
    MissingFileError
        If it is not there.
    InputError or MeshFileError
        As the kind says: if it is a folder, a device or a pipe, too large, cannot be read, or
        changes while it is read.
    """
    name = os.fspath(path)
    try:
        # Looked at before it is opened: opening a pipe would wait for its other end.
        size = _checked_size(Path(name).stat(), name, kind)
        with Path(name).open("rb") as stream:
            data = stream.read(size + 1)
    except (FileNotFoundError, NotADirectoryError) as missing:
        msg = f"{name}: there is no such file; check the name and the folder"
        raise MissingFileError(msg) from missing
    except HullcheckError:
        raise
    except (OSError, ValueError) as refused:
        msg = f"{name}: cannot be read ({reason(refused)}); check the name and who may read it"
        raise kind.refusal(msg) from refused
    if len(data) != size:
        msg = f"{name}: {size} bytes at first and {len(data)} when read: it is being written"
        raise kind.refusal(f"{msg}; try again when that is done")
    return data


def _checked_size(status: os.stat_result, name: str, kind: FileKind) -> int:
    """Return a file's size in bytes; refuse a folder, a device and a file over the limit."""
    if stat.S_ISDIR(status.st_mode):
        raise kind.refusal(f"{name}: is a folder; name a {kind.called} in it")
    if not stat.S_ISREG(status.st_mode):
        raise kind.refusal(f"{name}: is no plain file; name a {kind.called}")
    if status.st_size > kind.limit_bytes:
        what = kind.too_large.format(limit=kind.limit_bytes)
        raise kind.refusal(f"{name}: {status.st_size} bytes, {what}")
    return status.st_size
