"""A binary STL file's bytes from triangles, the same on every machine."""

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def stl_bytes(triangles: FloatArray, title: str) -> bytes:
    """Return a binary STL file: an 80-byte header, the count, then 50 bytes a triangle.

    Parameters
    ----------
    triangles : (n, 3, 3) float
        Corner points, counterclockwise seen from outside. STL carries no unit.
    title : str
        Put in the header: ASCII, at most 80 characters, not starting with "solid", by which many
        readers know the text form.

    Raises
    ------
    ValueError
        If the title cannot stand in the header, or a triangle has no area once its corners are
        rounded to the file's 32-bit numbers.
    """
    header = title.encode("ascii")
    if len(header) > 80 or header.lower().startswith(b"solid"):
        raise ValueError(f"the header {title!r} is longer than 80 bytes, or starts with 'solid'")
    corners = np.asarray(triangles, dtype="<f4")
    first, second, third = corners.astype(np.float64).swapaxes(0, 1)
    across = np.cross(second - first, third - first)
    doubled_area = np.sqrt(across[:, 0] ** 2 + across[:, 1] ** 2 + across[:, 2] ** 2)
    if not (doubled_area > 0).all():
        raise ValueError(f"triangle {int(np.argmin(doubled_area))} has no area as 32-bit numbers")
    records = np.zeros(len(corners), dtype=_RECORD)
    records["normal"] = across / doubled_area[:, None] + 0.0  # + 0.0 turns −0 into 0
    records["corners"] = corners + np.float32(0)
    count = np.array([len(corners)], dtype="<u4")
    return header.ljust(80) + count.tobytes() + records.tobytes()
