"""The model files inside a 3MF package: XML into objects, read in one streaming pass."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import clean_name, shown
from hullcheck.files.placement import UNMOVED, Placement
from hullcheck.files.text import floats, whole_numbers
from hullcheck.geometry.arrays import FloatArray, IntArray

CORE: Final = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
PRODUCTION: Final = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
TRIANGLE_SETS: Final = "http://schemas.microsoft.com/3dmanufacturing/trianglesets/2021/07"
MATERIALS: Final = "http://schemas.microsoft.com/3dmanufacturing/material/2015/02"
RELATIONSHIPS: Final = "http://schemas.openxmlformats.org/package/2006/relationships"
START_PART: Final = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"

_SUPPORTED: Final = frozenset((CORE, PRODUCTION, MATERIALS, TRIANGLE_SETS))

_MODEL: Final = f"{{{CORE}}}model"
_OBJECT: Final = f"{{{CORE}}}object"
_VERTEX: Final = f"{{{CORE}}}vertex"
_TRIANGLE: Final = f"{{{CORE}}}triangle"
_COMPONENT: Final = f"{{{CORE}}}component"
_ITEM: Final = f"{{{CORE}}}item"
_PRODUCTION_PATH: Final = f"{{{PRODUCTION}}}path"
_RELATIONSHIP: Final = f"{{{RELATIONSHIPS}}}Relationship"
_WORDS_AT_A_TIME: Final = 300_000

_NUMBERS: Final = {_VERTEX: ("x", "y", "z"), _TRIANGLE: ("v1", "v2", "v3")}
_WITHIN_OBJECT: Final = frozenset((*_NUMBERS, _COMPONENT))
_NO_CORNERS: Final = np.empty(0, dtype=np.int64)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """A component or build item: an object, perhaps in another model file, and its placement."""

    object_id: str
    path: str | None
    placement: Placement


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ModelObject:
    """An object: a mesh, or references to other objects. Its numbers are not checked yet.

    Attributes
    ----------
    object_id, kind, name : str
        The attributes ``id``, ``type`` and ``name``.
    vertices : ndarray, shape (v, 3)
        In the model's unit; NaN where the file has no number.
    triangles : ndarray, shape (t, 3)
        Vertex numbers from 0; -1 where the file has no whole number.
    components : tuple of Reference
    """

    object_id: str
    kind: str
    name: str
    vertices: FloatArray
    triangles: IntArray
    components: tuple[Reference, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Model:
    """A model file: its unit, its objects by id, and what its build section makes of them."""

    unit: str
    objects: Mapping[str, ModelObject]
    items: tuple[Reference, ...]


def read_model(chunks: Iterable[bytes], name: str, part: str) -> Model:
    """Return a model file's objects and build items, numbers as written."""
    elements = _ModelElements(name, part)
    _parse(chunks, elements, name, part)
    if elements.unit is None:
        msg = f"{name}: {shown(part)} in the package is no 3MF model; export the mesh again"
        raise MeshFileError(msg)
    return Model(unit=elements.unit, objects=elements.objects, items=tuple(elements.items))


def start_part(chunks: Iterable[bytes], name: str) -> str:
    """Return the path of the package's root model file, from its relationships."""
    elements = _Relationships()
    _parse(chunks, elements, name, "_rels/.rels")
    if elements.target is None:
        msg = f"{name}: the package names no 3D model in its relationships; export the mesh again"
        raise MeshFileError(msg)
    return elements.target


def _parse(chunks: Iterable[bytes], target: object, name: str, part: str) -> None:
    """Hand the elements of an XML file to a target; document types and entities are refused."""
    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import ParseError, XMLParser

    parser = XMLParser(target=target, forbid_dtd=True)
    try:
        for chunk in chunks:
            parser.feed(chunk)
        parser.close()
    except MeshFileError:
        raise
    except DefusedXmlException as forbidden:
        msg = f"{name}: {shown(part)} holds a document type or entity, which 3MF forbids"
        raise MeshFileError(f"{msg}; export the mesh again") from forbidden
    except (ParseError, ValueError, LookupError) as damaged:
        line = f", line {damaged.position[0]}" if isinstance(damaged, ParseError) else ""
        msg = f"{name}: {shown(part)} in the package is damaged or truncated XML{line}"
        raise MeshFileError(f"{msg}; export or copy it again") from damaged


class _Relationships:
    """Finds the relationship that names the root model file."""

    def __init__(self) -> None:
        """Start with none found."""
        self.target: str | None = None

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take the first relationship of the right type that stays inside the package."""
        inside = attributes.get("TargetMode") != "External"
        if tag == _RELATIONSHIP and attributes.get("Type") == START_PART and inside:
            self.target = self.target or attributes.get("Target")


class _ModelElements:
    """Takes in the elements of a model file."""

    def __init__(self, file_name: str, part: str) -> None:
        """Start with an empty model."""
        self.file_name = file_name
        self.part = part
        self.unit: str | None = None
        self.objects: dict[str, ModelObject] = {}
        self.items: list[Reference] = []
        self._prefixes: dict[str, str] = {}
        self._head: tuple[str, str, str] | None = None
        self._components: list[Reference] = []
        self._words: dict[str, list[str]] = {_VERTEX: [], _TRIANGLE: []}
        self._vertices: list[FloatArray] = []
        self._corners: list[IntArray] = []

    def start_ns(self, prefix: str, uri: str) -> None:
        """Remember what the prefixes of required extensions stand for."""
        self._prefixes[prefix] = uri

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take in an element of the core specification; others are passed over."""
        if self._head is None and tag in _WITHIN_OBJECT:
            raise self._refusal(f"a {tag.partition('}')[2]} stands outside of any object")
        if tag in _NUMBERS:
            a, b, c = _NUMBERS[tag]
            words = self._words[tag]
            try:
                words += (attributes[a], attributes[b], attributes[c])
            except KeyError as missing:
                what = f"a {tag.partition('}')[2]} of object {shown(self._object_id())} has no"
                refusal = self._refusal(f"{what} {missing.args[0]}")
                raise refusal from missing
            if len(words) >= _WORDS_AT_A_TIME:
                self._convert()
        elif tag == _MODEL:
            self.unit = attributes.get("unit", "millimeter").strip()
            self._check_extensions(attributes.get("requiredextensions", ""))
        elif tag == _OBJECT:
            self._start_object(attributes)
        elif tag == _COMPONENT:
            self._components.append(self._reference(attributes))
        elif tag == _ITEM:
            self.items.append(self._reference(attributes))

    def end(self, tag: str) -> None:
        """Finish an object."""
        if tag != _OBJECT or self._head is None:
            return
        self._convert()
        object_id, kind, title = self._head
        self.objects[object_id] = ModelObject(
            object_id=object_id,
            kind=kind,
            name=title,
            vertices=np.concatenate([np.empty(0), *self._vertices]).reshape(-1, 3),
            triangles=np.concatenate([_NO_CORNERS, *self._corners]).reshape(-1, 3),
            components=tuple(self._components),
        )
        self._head, self._components = None, []
        self._vertices, self._corners = [], []

    def close(self) -> None:
        """Have nothing to hand back."""

    def _object_id(self) -> str:
        """Return the id of the object being read."""
        return self._head[0] if self._head else ""

    def _start_object(self, attributes: dict[str, str]) -> None:
        """Begin an object; its id must be new."""
        object_id = attributes.get("id", "").strip()
        if not object_id or object_id in self.objects or self._head is not None:
            raise self._refusal(f"object {shown(object_id)} is there twice or has no id")
        kind = attributes.get("type", "model").strip()
        self._head = (object_id, kind, clean_name(attributes.get("name", "")))

    def _convert(self) -> None:
        """Turn the words taken in so far into numbers."""
        vertex_words, corner_words = (
            [w.strip().encode() for w in self._words[k]] for k in _NUMBERS
        )
        if vertex_words:
            self._vertices.append(floats(vertex_words))
        if corner_words:
            self._corners.append(whole_numbers(corner_words, bad=-1))
        self._words = {key: [] for key in _NUMBERS}

    def _reference(self, attributes: dict[str, str]) -> Reference:
        """Return the reference that a component or build item is."""
        object_id = attributes.get("objectid", "").strip()
        text = attributes.get("transform")
        placement = UNMOVED
        if text is not None:
            words = text.encode().split()
            values = floats(words)
            if len(words) != 12 or not np.isfinite(values).all():
                what = f"the transform {shown(text, 80)} of object {shown(object_id)}"
                raise self._refusal(f"{what} is not twelve finite numbers")
            rows = values.reshape(4, 3)
            placement = Placement(linear=rows[:3], offset=rows[3])
        return Reference(
            object_id=object_id, path=attributes.get(_PRODUCTION_PATH), placement=placement
        )

    def _check_extensions(self, prefixes: str) -> None:
        """Refuse a model that says it cannot be read without an extension unknown here."""
        for prefix in prefixes.split():
            space = self._prefixes.get(prefix, prefix)
            if space not in _SUPPORTED:
                what = f"needs the 3MF extension {shown(space, 100)}, which is not read"
                raise self._refusal(what, "export a plain mesh")

    def _refusal(self, what: str, next_step: str = "export the mesh again") -> MeshFileError:
        """Return a refusal with the model file's name."""
        return MeshFileError(f"{self.file_name}: {shown(self.part, 100)}: {what}; {next_step}")
