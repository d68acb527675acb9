"""Whether a file that is asked for has a place, told before long work rather than after it."""

from pathlib import Path

from hullcheck.errors import InputError


def refuse_no_place(name: str | None) -> None:
    """Refuse a file's name that is a folder's, or that lies in no folder.

    Parameters
    ----------
    name : str or None
        Of the file to write; None where none is asked for.

    Raises
    ------
    InputError
        If it cannot be written for such a reason; the write itself may still meet others.
    """
    if name is None:
        return
    path = Path(name)
    if path.is_dir():
        raise InputError(f"{name}: is a folder; name a file in it (-o)")
    if not path.parent.is_dir():
        raise InputError(f"{name}: there is no folder {path.parent}; make it, or name another (-o)")
