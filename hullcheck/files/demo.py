"""The demo craft's files, as the package carries them."""

import os
from pathlib import Path
from typing import Final

from hullcheck.errors import InputError, MissingFileError
from hullcheck.files.atomic import write_new_bytes
from hullcheck.files.logbook import logbook_path
from hullcheck.files.logbook_csv import export_csv, import_csv

DEMO_FOLDER: Final = "tarnwing-90"
DEMO_AT: Final = "2026-10-19 12:00+02:00"
"""A time at which all of the demo's logbook is written, the last leak test of it a day old."""
_FILES: Final = {
    "build.toml": "tarnwing_build.toml",
    "weights.csv": "tarnwing_weights.csv",
    "parts/nose.stl": "printed/nose.stl",
    "parts/fore.stl": "printed/fore.stl",
    "parts/mid.stl": "printed/mid.stl",
    "parts/aft.stl": "printed/aft.stl",
    "parts/stern.stl": "printed/stern.stl",
    "parts/hatch.stl": "printed/hatch.stl",
    "parts/tip_float.stl": "tarnwing_tip_float.stl",
}
"""What each file of the demo's folder is called among the meshes."""
_LOGBOOK: Final = "tarnwing_logbook.csv"
"""What is imported into the demo's logbook."""


def write_demo(folder: str | os.PathLike[str]) -> tuple[Path, ...]:
    """Write the demo craft's build into a folder and return the paths of its files.

    Parameters
    ----------
    folder : str or path
        Made if it is not there.

    Returns
    -------
    tuple of Path
        The sheet, the ledger, then the parts, and the logbook last.

    Raises
    ------
    InputError
        If the folder cannot be made, or a file of that name with other content is in it: nothing
        is overwritten.
    MissingFileError
        If the package was installed without its meshes.
    """
    target = Path(folder)
    try:
        (target / "parts").mkdir(parents=True, exist_ok=True)
    except OSError as refused:
        raise InputError(f"{target}: cannot be made a folder ({refused.strerror})") from refused
    written = []
    for name, carried in _FILES.items():
        data = (_carried_folder() / carried).read_bytes()
        path = target / name
        if not path.exists():
            write_new_bytes(path, data)
        elif path.read_bytes() != data:
            raise InputError(
                f"{path} is there already and is not the demo's; name another folder: "
                "hullcheck demo DIR"
            )
        written.append(path)
    return (*written, _logbook(target))


def _logbook(target: Path) -> Path:
    """Write the demo's logbook and return its path; refused where another one is there."""
    path = logbook_path(target)
    text = (_carried_folder() / _LOGBOOK).read_text(encoding="utf-8")
    if not path.exists():
        import_csv(target, text, name=_LOGBOOK)
    elif export_csv(target).replace("\r\n", "\n") != text:
        raise InputError(
            f"{path} is there already and is not the demo's, or has entries of your own; name "
            "another folder: hullcheck demo DIR"
        )
    return path


def _carried_folder() -> Path:
    """Return the folder of meshes: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "_meshes", package.parent / "meshes"):
        if (folder / _FILES["parts/nose.stl"]).is_file():
            return folder
    raise MissingFileError("the demo's meshes are not installed with hullcheck; install it again")
