"""3MF: the build of a package, with components, transforms and parts in other model files."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import check_finite, check_indices, check_triangle_count, shown
from hullcheck.files.mesh_file import MeshFile, MeshPart
from hullcheck.files.model_xml import Model, ModelObject, Reference, read_model, start_part
from hullcheck.files.package import Package, part_name
from hullcheck.files.placement import Placement, placed
from hullcheck.geometry.arrays import FloatArray

# The file's unit as a mesh file states it, and how many of those one unit is.
_UNITS: Final = {
    "micron": ("mm", 0.001),
    "millimeter": ("mm", 1.0),
    "centimeter": ("cm", 1.0),
    "inch": ("inch", 1.0),
    "foot": ("mm", 304.8),
    "meter": ("m", 1.0),
}
# Supports are cut off; "other" is what a producer says is not to be made: slicers store modifiers
# and cut-outs as such.
_NOT_OF_THE_CRAFT: Final = frozenset(("support", "solidsupport", "other"))
_MAX_DEPTH: Final = 32
_MAX_COPIES: Final = 100_000
_RELATIONSHIPS: Final = "_rels/.rels"

_Key = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Size:
    """What an object comes to with all of its components."""

    triangles: int
    copies: int
    depth: int


def is_threemf(data: bytes) -> bool:
    """Return whether a file is a ZIP archive that speaks of a 3D model."""
    return data.startswith(b"PK\x03\x04") and b".model" in data


def read_threemf(data: bytes, name: str) -> MeshFile:
    """Return the parts of a 3MF file, one for each build item, in the unit the file states.

    Parameters
    ----------
    data : bytes
        The whole package.
    name : str
        The path as given, for messages.

    Returns
    -------
    MeshFile
        Each item with its components put together, their transforms applied. Microns and feet
        are turned into millimeters; the other units stay. Objects that no item builds, and meshes
        of the types "support", "solidsupport" and "other", are left out; these are listed.

    Raises
    ------
    MeshFileError
        For a damaged, encrypted or bursting package, forbidden XML, references in a circle or to
        what is not there, and a needed extension that is not read.

    Notes
    -----
    An object's type counts only where it holds a mesh, as the specification says, so a part of
    the type "other" within a model is left out, too. Where a component mirrors, the corners of its
    triangles change their order and its surface stays the outside.

    References
    ----------
    3MF Consortium, *3D Manufacturing Format, Core Specification*, version 1.2, chapters 3 and 4;
    *3MF Production Extension*, version 1.2, chapter 3.
    """
    assembly = _Assembly(Package(data, name), name)
    parts = []
    for item in assembly.root.items:
        part = assembly.part(item)
        if part is not None:
            parts.append(part)
    if not parts:
        items = len(assembly.root.items)
        msg = f"{name}: none of the {items} build items has a mesh other than supports"
        raise MeshFileError(f"{msg}; put the hull on the plate and export it again")
    left_out = tuple(assembly.left_out)
    return MeshFile(
        name=name, kind="3MF", parts=tuple(parts), unit=assembly.unit, left_out=left_out
    )


class _Assembly:
    """The model files of a package, read when first wanted, and the way through them."""

    def __init__(self, package: Package, name: str) -> None:
        """Read the root model file."""
        self.name = name
        self._package = package
        if _RELATIONSHIPS not in package:
            msg = f"{name}: a package without relationships; export the mesh again"
            raise MeshFileError(msg)
        self._root_path = part_name(start_part(package.chunks(_RELATIONSHIPS), name))
        self._models: dict[str, Model] = {}
        self._sizes: dict[_Key, _Size] = {}
        self._triangles = self._copies = 0
        self.left_out: list[str] = []
        self.root = self._model(self._root_path)
        if self.root.unit not in _UNITS:
            msg = f"{name}: the unit {shown(self.root.unit)} is none of {', '.join(_UNITS)}"
            raise MeshFileError(f"{msg}; export the mesh again")
        self.unit, self._scale = _UNITS[self.root.unit]

    def part(self, item: Reference) -> MeshPart | None:
        """Return what a build item makes, or None if that is nothing but supports."""
        key = self._key(item, self._root_path)
        # Counted first: components can multiply one mesh beyond any memory.
        size = self._size(key, ())
        self._triangles += size.triangles
        self._copies += size.copies
        check_triangle_count(self._triangles, self.name)
        if self._copies > _MAX_COPIES:
            msg = f"{self.name}: meshes are placed more than {_MAX_COPIES} times"
            raise MeshFileError(f"{msg}; export the hull as one mesh")
        pieces: list[FloatArray] = []
        self._collect(key, item.placement, pieces)
        if not pieces:
            return None
        triangles = np.concatenate(pieces) if len(pieces) > 1 else pieces[0]
        if self._scale != 1.0:
            scale = Placement(linear=np.eye(3) * self._scale, offset=np.zeros(3))
            triangles = placed(triangles, scale, self.name, f"object {shown(key[1])}")
        return MeshPart(name=self._object(key).name, triangles=triangles)

    def _model(self, path: str) -> Model:
        """Return a model file, all of them in one unit."""
        if path not in self._models:
            model = read_model(self._package.chunks(path), self.name, path)
            if self._models and model.unit != self.root.unit:
                msg = f"{self.name}: {shown(path)} is in {shown(model.unit)}"
                raise MeshFileError(f"{msg}, the build in {shown(self.root.unit)}; export it again")
            self._models[path] = model
        return self._models[path]

    def _key(self, reference: Reference, path: str) -> _Key:
        """Return the model file and id that a reference in the given model file means."""
        if reference.path is None:
            return path, reference.object_id
        if path != self._root_path:
            msg = f"{self.name}: {shown(path)} refers on to {shown(reference.path)}"
            raise MeshFileError(f"{msg}, which only the root model may; export the mesh again")
        return part_name(reference.path), reference.object_id

    def _object(self, key: _Key) -> ModelObject:
        """Return the object that is meant."""
        found = self._model(key[0]).objects.get(key[1])
        if found is None:
            msg = f"{self.name}: object {shown(key[1])} is not in {shown(key[0], 100)}"
            raise MeshFileError(f"{msg}; export the mesh again")
        return found

    def _size(self, key: _Key, above: tuple[_Key, ...]) -> _Size:
        """Return what an object comes to, refusing circles and deep nesting."""
        if key in above:
            msg = f"{self.name}: object {shown(key[1])} contains itself; export the mesh again"
            raise MeshFileError(msg)
        if key not in self._sizes:
            found = self._object(key)
            own = len(found.triangles)
            if own and found.kind in _NOT_OF_THE_CRAFT:
                self.left_out.append(f"object {shown(found.object_id)} ({found.kind})")
                own = 0
            inner = [_Size(triangles=own, copies=min(own, 1), depth=0)]
            inner += (
                self._size(self._key(component, key[0]), (*above, key))
                for component in (found.components if len(above) < _MAX_DEPTH else ())
            )
            self._sizes[key] = _Size(
                triangles=sum(size.triangles for size in inner),
                copies=sum(size.copies for size in inner),
                depth=1 + max(size.depth for size in inner),
            )
        # Measured downward as well, since what is below may have been sized from elsewhere.
        if len(above) + self._sizes[key].depth > _MAX_DEPTH:
            msg = f"{self.name}: components within components, more than {_MAX_DEPTH} deep"
            raise MeshFileError(f"{msg}; export the mesh again")
        return self._sizes[key]

    def _collect(self, key: _Key, placement: Placement, pieces: list[FloatArray]) -> None:
        """Add the triangles of an object, placed, to the pieces."""
        if self._sizes[key].triangles == 0:
            return
        found = self._object(key)
        where = f"object {shown(found.object_id)}"
        if len(found.triangles) and found.kind not in _NOT_OF_THE_CRAFT:
            check_finite(found.vertices, self.name, where=f"{where}, ")
            check_indices(found.triangles, len(found.vertices), self.name, where=f"{where}, ")
            corners = found.vertices[found.triangles]
            pieces.append(placed(corners, placement, self.name, where))
        for component in found.components:
            inner = component.placement.inside(placement)
            self._collect(self._key(component, key[0]), inner, pieces)
