"""Triangles by corner number into a 3MF package."""

import html
import io
import zipfile
from collections.abc import Iterator, Sequence
from typing import Final

from hullcheck.files.guard import clean_name
from hullcheck.files.model_xml import CORE, RELATIONSHIPS, START_PART
from hullcheck.geometry.topology import Mesh

_XML: Final = '<?xml version="1.0" encoding="UTF-8"?>\n'
_MODEL_PATH: Final = "3D/3dmodel.model"
_CONTENT_TYPES: Final = (
    f'{_XML}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" '
    'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" '
    'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>\n'
)
_RELS: Final = (
    f'{_XML}<Relationships xmlns="{RELATIONSHIPS}">'
    f'<Relationship Target="/{_MODEL_PATH}" Id="rel0" Type="{START_PART}"/></Relationships>\n'
)
_NO_DATE: Final = (1980, 1, 1, 0, 0, 0)
_MADE_ON_UNIX: Final = 3


def threemf_bytes(objects: Sequence[tuple[str, Mesh]]) -> bytes:
    """Return meshes as the bytes of a 3MF package, an object and a build item each, in mm.

    Parameters
    ----------
    objects : sequence of (str, Mesh)
        Name and triangles by corner number [mm]. A name is put on one line, without control
        characters and at most 120 characters long.

    Returns
    -------
    bytes
        The same for the same meshes: the package holds no date.

    Notes
    -----
    Coordinates are written with as many digits as tell each float64 from its neighbors.

    References
    ----------
    3MF Consortium, *3D Manufacturing Format, Core Specification*, version 1.2, chapters 2 to 4.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for path, content in (
            ("[Content_Types].xml", _CONTENT_TYPES),
            ("_rels/.rels", _RELS),
            (_MODEL_PATH, "".join(_model(objects))),
        ):
            # Date and system are stated, so that the bytes tell nothing of when and where.
            entry = zipfile.ZipInfo(path, date_time=_NO_DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = _MADE_ON_UNIX
            archive.writestr(entry, content)
    return out.getvalue()


def _model(objects: Sequence[tuple[str, Mesh]]) -> Iterator[str]:
    """Yield the model file piece by piece."""
    yield f'{_XML}<model unit="millimeter" xml:lang="en-US" xmlns="{CORE}">\n<resources>\n'
    for number, (name, mesh) in enumerate(objects, start=1):
        # Split again: where control characters went, spaces are left side by side.
        called = html.escape(" ".join(clean_name(name).split()))
        yield f'<object id="{number}" type="model" name="{called}"><mesh>\n<vertices>\n'
        for x, y, z in mesh.points.tolist():
            yield f'<vertex x="{x!r}" y="{y!r}" z="{z!r}"/>\n'
        yield "</vertices>\n<triangles>\n"
        for a, b, c in mesh.faces.tolist():
            yield f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n'
        yield "</triangles>\n</mesh></object>\n"
    yield "</resources>\n<build>\n"
    for number in range(1, len(objects) + 1):
        yield f'<item objectid="{number}"/>\n'
    yield "</build>\n</model>\n"
