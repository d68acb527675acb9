"""Writing a file completely or not at all."""

import os
import secrets
import stat
from pathlib import Path

from hullcheck.errors import InputError
from hullcheck.files.guard import reason


def write_new_bytes(
    path: str | os.PathLike[str],
    data: bytes,
    *,
    overwrite: bool = False,
    instead: str = "move that one away",
) -> None:
    """Write a file whose name either holds all of the bytes afterwards or what it held before.

    Parameters
    ----------
    path : str or path
        The file to write.
    data : bytes
        All of its content.
    overwrite : bool
        Whether a file that is there already may be replaced; it keeps its permissions, and a
        symbolic link keeps pointing at it.
    instead : str
        What may be done but naming another file, where it is there and may not be replaced.

    Raises
    ------
    InputError
        If the file is there and may not be replaced, or cannot be written.

    Notes
    -----
    The bytes go to a temporary file in the same folder, to the disk, and only then to their name.
    On file systems without hard links, such as memory cards, another program that makes the same
    file within the same instant is overwritten.
    """
    try:
        if Path(path).is_dir():
            raise IsADirectoryError(0, "it is a folder")
        _write(Path(os.path.realpath(path)) if overwrite else Path(path), data, overwrite=overwrite)
    except FileExistsError as there:
        msg = f"{path}: is there already; name another file, or {instead}"
        raise InputError(msg) from there
    except (OSError, ValueError) as refused:
        msg = f"{path}: cannot be written ({reason(refused)})"
        raise InputError(f"{msg}; check the name, the folder and the room left") from refused


def _write(target: Path, data: bytes, *, overwrite: bool) -> None:
    """Write beside the target, then move there."""
    if not overwrite and os.path.lexists(target):
        raise FileExistsError
    temporary = target.with_name(f".{secrets.token_hex(8)}.part")
    try:
        with temporary.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if overwrite:
            if target.exists():
                temporary.chmod(stat.S_IMODE(target.stat().st_mode))
            temporary.replace(target)
        else:
            _name_new(temporary, target)
        _sync_folder(target.parent)
    finally:
        temporary.unlink(missing_ok=True)


def _name_new(temporary: Path, target: Path) -> None:
    """Give a finished file its name, which must be free."""
    try:
        target.hardlink_to(temporary)
    except FileExistsError:
        raise
    except OSError:
        # No hard links here: the name was free a moment ago, and that is all there is to know.
        if os.path.lexists(target):
            raise FileExistsError from None
        temporary.replace(target)


def _sync_folder(folder: Path) -> None:
    """Make the new name last through a power cut, where folders can be synced."""
    if os.name != "posix":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
