"""The numbers of a glTF file: accessors into views of buffers, checked before they are used."""

import base64
import binascii
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from hullcheck.files.fields import Fields
from hullcheck.files.guard import shown

_INDEX_TYPES: Final = {5121: "<u1", 5123: "<u2", 5125: "<u4"}
_FLOAT: Final = 5126
_COMPONENTS: Final = {"SCALAR": 1, "VEC3": 3}


class Buffers:
    """The buffers of a document, decoded when first wanted; none lies outside of the file.

    Parameters
    ----------
    document : Fields
        The glTF document.
    binary : bytes or None
        The binary chunk of a GLB file.
    """

    def __init__(self, document: Fields, binary: bytes | None) -> None:
        """Refuse buffers and pictures that lie outside of the file."""
        self._buffers = document.each("buffers")
        self._views = document.each("bufferViews")
        self._accessors = document.each("accessors")
        self._binary = binary
        self._decoded: dict[int, bytes] = {}
        for owner in (*self._buffers, *document.each("images")):
            uri = owner.text("uri")
            if uri and not uri.startswith("data:"):
                owner.refuse(f"wants the outside file {shown(uri, 100)}", "export as one .glb")

    def places(self, index: int, asked: Fields) -> npt.NDArray[np.float32]:
        """Return an accessor's places, shape (count, 3), float32."""
        accessor = self._one(self._accessors, index, "accessor", asked)
        if accessor.whole("componentType") != _FLOAT or accessor.text("type") != "VEC3":
            accessor.refuse("positions are not three 32-bit floats each")
        return self._values(accessor, "<f4")

    def indices(self, index: int, asked: Fields) -> npt.NDArray[np.int64]:
        """Return an accessor's vertex numbers, shape (count,)."""
        accessor = self._one(self._accessors, index, "accessor", asked)
        kind = _INDEX_TYPES.get(accessor.whole("componentType"))
        if kind is None or accessor.text("type") != "SCALAR":
            accessor.refuse("indices are not single unsigned whole numbers")
        return self._values(accessor, kind).reshape(-1).astype(np.int64)

    def _values(self, accessor: Fields, kind: str) -> npt.NDArray[Any]:
        """Return an accessor's numbers as a view of the buffer: nothing is made room for."""
        if "sparse" in accessor or "bufferView" not in accessor:
            accessor.refuse("sparse or empty accessors are not read", "export without them")
        view = self._one(self._views, accessor.whole("bufferView"), "bufferView", accessor)
        if "EXT_meshopt_compression" in view.fields("extensions"):
            view.refuse("is compressed by meshopt", "export without compression")
        data = self._buffer(view.whole("buffer"), view)
        start, length = view.whole("byteOffset", 0), view.whole("byteLength")
        if start + length > len(data):
            view.refuse(f"ends at byte {start + length} of a buffer of {len(data)}: truncated")
        columns = _COMPONENTS[accessor.text("type")]
        size = np.dtype(kind).itemsize
        stride = view.whole("byteStride", columns * size)
        offset, count = accessor.whole("byteOffset", 0), accessor.whole("count")
        if stride < columns * size or stride > 252:
            view.refuse(f"has a stride of {stride} bytes for values of {columns * size}")
        if count == 0 or offset + stride * (count - 1) + columns * size > length:
            accessor.refuse(f"{count} values do not fit into a view of {length} bytes")
        return np.ndarray(
            (count, columns), kind, buffer=data, offset=start + offset, strides=(stride, size)
        )

    def _buffer(self, index: int, asked: Fields) -> bytes:
        """Return a buffer's bytes, as long as the document says."""
        if index not in self._decoded:
            buffer = self._one(self._buffers, index, "buffer", asked)
            data = self._binary
            if "uri" in buffer:
                head, _, body = buffer.text("uri").partition(",")
                if not head.endswith(";base64"):
                    buffer.refuse("is a data address that is not base64")
                try:
                    data = base64.b64decode(body, validate=True)
                except (binascii.Error, ValueError):
                    buffer.refuse("holds damaged base64")
            elif index != 0 or data is None:
                buffer.refuse("is not in the file", "export as one .glb")
            length = buffer.whole("byteLength")
            if data is None or length > len(data):
                had = len(data) if data else 0
                buffer.refuse(f"truncated: {length} bytes promised, {had} are there")
            self._decoded[index] = data[:length]
        return self._decoded[index]

    @staticmethod
    def _one(entries: list[Fields], index: int, what: str, asked: Fields) -> Fields:
        """Return an entry of the document's list."""
        if index >= len(entries):
            asked.refuse(f"{what} {index} of {len(entries)}, counted from 0, is not there")
        return entries[index]
