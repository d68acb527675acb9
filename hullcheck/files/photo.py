"""A picture that belongs to an entry of the logbook, by its path and what its bytes hash to."""

import hashlib
import os
from pathlib import Path

from hullcheck.craft.log_records import Photo
from hullcheck.errors import InputError, MissingFileError
from hullcheck.files.logbook import logbook_path


def photo_of(where: str | os.PathLike[str], file: str | os.PathLike[str]) -> Photo:
    """Return a picture's path, relative to the build's folder, and the SHA-256 of its bytes.

    Parameters
    ----------
    where : str or path
        The build's folder, its build sheet (.toml), or the logbook itself (.sqlite).
    file : str or path
        The picture, relative to where the program runs. It is read, not copied.

    Raises
    ------
    MissingFileError
        If there is no such file.
    InputError
        If it is a folder, or cannot be read.
    """
    path = Path(file)
    if not path.exists():
        raise MissingFileError(f"{file}: there is no such picture")
    if path.is_dir():
        raise InputError(f"{file}: is a folder; name one picture")
    try:
        with path.open("rb") as stream:
            sha256 = hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError as problem:
        raise InputError(
            f"{file}: cannot be read ({problem.strerror}); check its rights"
        ) from problem
    folder = logbook_path(where).parent.resolve()
    try:
        relative = os.path.relpath(path.resolve(), folder)
    except ValueError:  # on another drive
        relative = str(path.resolve())
    return Photo(path=Path(relative).as_posix(), sha256=sha256)
