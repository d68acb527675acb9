"""What a mesh file holds, as read: no axes turned, no unit converted, nothing repaired."""

from dataclasses import dataclass

from hullcheck.errors import MeshFileError
from hullcheck.geometry.arrays import FloatArray, owned


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MeshPart:
    """One object of a mesh file, its own transforms inside the file applied.

    Attributes
    ----------
    name : str
        The object's name in the file, or "" where the file names none.
    triangles : ndarray, shape (n, 3, 3)
        Triangle, corner, coordinate, in the file's own unit and axes.
    """

    name: str
    triangles: FloatArray

    def __post_init__(self) -> None:
        """Own the array; it is finite and read-only from here on."""
        object.__setattr__(self, "triangles", owned(self.triangles, (-1, 3, 3)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MeshFile:
    """One mesh file.

    Attributes
    ----------
    name : str
        The path as the user gave it; used in every message.
    kind : str
        What it was read as: "binary STL", "ASCII STL", "OBJ", "PLY", "OFF", "3MF", "GLB", "glTF".
    parts : tuple of MeshPart
        At least one, none of them without triangles.
    unit : str or None
        The unit the file itself states ("mm", "cm", "m", "inch"), None where the format has none.
    up, forward : str or None
        Axes the format itself fixes, such as "+y" and "+z" for glTF; None where it fixes none.
    left_out : tuple of str
        Objects of the file that are not of the craft, such as "object 3 (support)".
    """

    name: str
    kind: str
    parts: tuple[MeshPart, ...]
    unit: str | None = None
    up: str | None = None
    forward: str | None = None
    left_out: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a file without triangles."""
        if not self.parts or any(len(part.triangles) == 0 for part in self.parts):
            raise MeshFileError(f"{self.name}: a mesh without triangles")
