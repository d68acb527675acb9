"""What every reader shares against files that are wrong, lying or something else altogether."""

import re
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from hullcheck.errors import MeshFileError
from hullcheck.geometry.arrays import IntArray

MAX_FILE_BYTES: Final = 1024**3
"""1 GiB: 21 million triangles of binary STL, some hundred times a finely meshed hull."""

MAX_TRIANGLES: Final = 25_000_000
"""More than a file of that size holds; a small file can place one mesh many times."""

FORMATS: Final = "STL, OBJ, PLY, OFF, 3MF or GLB"

# First bytes of files that get renamed or picked by mistake; each is its format's published magic.
_FOREIGN: Final = (
    (b"\x89PNG\r\n\x1a\n", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"RIFF", "a WebP picture, a sound or a film"),
    (b"%PDF", "a PDF document"),
    (b"PK\x03\x04", "a ZIP archive without a 3D model in it"),
    (b"PK\x05\x06", "an empty ZIP archive"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"7z\xbc\xaf\x27\x1c", "a 7z archive"),
    (b"Rar!", "a RAR archive"),
    (b"ISO-10303-21", "a STEP file"),
    (b"BLENDER", "a modeler's project file"),
    (b"\x7fELF", "a program"),
    (b"MZ", "a program"),
)
_GCODE: Final = re.compile(rb"(?m)^[ \t]*(?:N\d+ )?(?:G(?:0|1|21|28|90|92)|M(?:82|104|109|140))\b")
_MARKUP: Final = re.compile(rb"(?i)\s*<[?!a-z]")


def refuse_foreign(data: bytes, name: str) -> None:
    """Refuse a file that is recognizably no mesh, naming what it looks like."""
    looks_like = next((what for magic, what in _FOREIGN if data.startswith(magic)), None)
    if looks_like is None and _MARKUP.match(data[:1024]):
        looks_like = "a web page, a drawing or another XML document"
    if looks_like is None and _GCODE.search(data[:65536]):
        looks_like = "G-code for a printer"
    if looks_like is not None:
        msg = f"{name}: looks like {looks_like}, not a mesh; export the hull as {FORMATS}"
        raise MeshFileError(msg)


def shown(raw: bytes | str, limit: int = 40) -> str:
    """Return a piece of the file in quotes, printable and short, for a message."""
    text = raw[: 4 * limit + 4]
    text = text.decode("utf-8", "replace") if isinstance(text, bytes) else text
    text = "".join(c if c.isprintable() else "?" for c in text)
    return f"'{text[:limit]}…'" if len(text) > limit else f"'{text}'"


def clean_name(raw: bytes | str) -> str:
    """Return an object's name on one line, without control characters, at most 120 characters."""
    text = raw[:1000]
    text = text.decode("utf-8", "replace") if isinstance(text, bytes) else text
    return "".join(c for c in " ".join(text.split()) if c.isprintable())[:120]


def check_triangle_count(count: int, name: str) -> None:
    """Refuse more triangles than any hull needs, before room is made for them."""
    if count > MAX_TRIANGLES:
        msg = (
            f"{name}: {count} triangles, over the limit of {MAX_TRIANGLES}; "
            "export the hull with a coarser mesh"
        )
        raise MeshFileError(msg)


def check_finite(vertices: npt.NDArray[np.floating[Any]], name: str, *, where: str = "") -> None:
    """Refuse a vertex with a coordinate that is not a finite number, by its number from 1."""
    finite = np.isfinite(vertices)
    if not finite.all():
        first = int(np.argmin(finite.all(axis=1)))
        place = ", ".join(f"{value:g}" for value in vertices[first])
        msg = (
            f"{name}: {where}vertex {first + 1} lies at ({place}), not at finite numbers; "
            "export the mesh again"
        )
        raise MeshFileError(msg)


def check_indices(faces: IntArray, vertex_count: int, name: str, *, where: str = "") -> None:
    """Refuse a triangle that names a vertex, counted from 0, which is not there."""
    wrong = ((faces < 0) | (faces >= vertex_count)).any(axis=1)
    if wrong.any():
        first = int(np.argmax(wrong))
        named = next(int(v) for v in faces[first] if not 0 <= v < vertex_count)
        msg = (
            f"{name}: {where}triangle {first + 1} names vertex {named}, but there are "
            f"{vertex_count} vertices, counted from 0; export the mesh again"
        )
        raise MeshFileError(msg)


def reason(refused: OSError | ValueError) -> str:
    """Return the system's reason for refusing a file, in the words of the house."""
    text = refused.strerror if isinstance(refused, OSError) else str(refused)
    return (text or "no reason given").replace("error", "failure")
