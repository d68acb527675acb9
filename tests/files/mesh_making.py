"""Small mesh files of every format, made for the tests: by trimesh, or by hand where it matters."""

import io
import json
import struct
import zipfile

import numpy as np
import trimesh

LENGTH, BEAM, DEPTH = 300.0, 80.0, 50.0
OFFSET = np.array([12.1, -3.7, 0.3])  # none of them a round number in binary
VERTICES = OFFSET + np.array(
    [
        [0.0, 0.0, 0.0],
        [0.0, BEAM / 2, DEPTH],
        [0.0, -BEAM / 2, DEPTH],
        [LENGTH, 0.0, 0.0],
        [LENGTH, BEAM / 2, DEPTH],
        [LENGTH, -BEAM / 2, DEPTH],
    ]
)
FACES = np.array(
    [[0, 2, 1], [3, 4, 5], [0, 1, 4], [0, 4, 3], [0, 3, 5], [0, 5, 2], [1, 2, 5], [1, 5, 4]]
)
"""A V-bottomed trough with a deck, closed, outward: a triangular prism."""

VOLUME = LENGTH * BEAM * DEPTH / 2

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
PRODUCTION = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
RELATIONSHIPS = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel" '
    'Target="/3D/3dmodel.model" Id="rel0"/></Relationships>'
)


def hull():
    """Return the prism as trimesh's mesh, its vertices left alone."""
    return trimesh.Trimesh(VERTICES, FACES, process=False)


def exported(kind, **options):
    """Return the prism as trimesh writes it, in bytes."""
    content = hull().export(file_type=kind, **options)
    return content if isinstance(content, bytes) else content.encode()


def volume(triangles):
    """Return the volume a closed surface encloses, negative where it faces inward."""
    a, b, c = np.moveaxis(np.asarray(triangles) - OFFSET, 1, 0)
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)


def all_triangles(mesh_file):
    """Return the triangles of all parts."""
    return np.concatenate([part.triangles for part in mesh_file.parts])


def mesh_xml(vertices=VERTICES, faces=FACES):
    """Return a mesh element of 3MF."""
    places = "".join(
        f'<vertex x="{float(x)!r}" y="{float(y)!r}" z="{float(z)!r}"/>' for x, y, z in vertices
    )
    corners = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in faces)
    return f"<mesh><vertices>{places}</vertices><triangles>{corners}</triangles></mesh>"


def model_xml(objects, items, *, unit="millimeter", extra=""):
    """Return a model file of 3MF with the given object elements and item elements."""
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<model unit="{unit}" xmlns="{CORE}" xmlns:p="{PRODUCTION}" {extra}>'
        f"<resources>{''.join(objects)}</resources><build>{''.join(items)}</build></model>"
    )


def package(model, parts=None, *, compression=zipfile.ZIP_DEFLATED, relationships=RELATIONSHIPS):
    """Return a 3MF package of a root model and further files by name."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", compression) as archive:
        if relationships:
            archive.writestr("_rels/.rels", relationships)
        archive.writestr("3D/3dmodel.model", model)
        for name, content in (parts or {}).items():
            archive.writestr(name, content)
    return out.getvalue()


def one_object_package(**options):
    """Return a 3MF package with the prism alone."""
    model = model_xml(
        [f'<object id="1" name="hull">{mesh_xml()}</object>'], ['<item objectid="1"/>'], **options
    )
    return package(model)


def glb(document, binary=b""):
    """Return a GLB file."""
    text = json.dumps(document).encode()
    text += b" " * (-len(text) % 4)
    body = struct.pack("<I4s", len(text), b"JSON") + text
    if binary:
        body += struct.pack("<I4s", len(binary), b"BIN\0") + binary
    return struct.pack("<4sII", b"glTF", 2, 12 + len(body)) + body


def gltf_document(**nodes_and_more):
    """Return a glTF document of the prism and its binary buffer; top-level keys may be replaced."""
    places = VERTICES.astype("<f4").tobytes()
    corners = FACES.astype("<u2").tobytes()
    document = {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": [{"mesh": 0, "name": "hull"}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "accessors": [
            {"bufferView": 0, "componentType": 5126, "count": len(VERTICES), "type": "VEC3"},
            {"bufferView": 1, "componentType": 5123, "count": FACES.size, "type": "SCALAR"},
        ],
        "bufferViews": [
            {"buffer": 0, "byteOffset": 0, "byteLength": len(places)},
            {"buffer": 0, "byteOffset": len(places), "byteLength": len(corners)},
        ],
        "buffers": [{"byteLength": len(places) + len(corners)}],
    }
    return {**document, **nodes_and_more}, places + corners


def one_of_each():
    """Return a small whole file of every format by name."""
    document, binary = gltf_document()
    polygons = "v 0 0 0\nv 2 0 0\nv 2 1 0\nv 1 1 0\nv 1 2 0\nv 0 2 0\no deck\nf 1/1 2/2 3 4 5 -1\n"
    mixed_ply = (
        b"ply\nformat binary_big_endian 1.0\nelement vertex 4\nproperty float x\nproperty float y\n"
        b"property double z\nelement face 2\nproperty list uchar int vertex_indices\nend_header\n"
        + b"".join(struct.pack(">ffd", *p) for p in ((0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0)))
        + struct.pack(">B4i", 4, 0, 1, 2, 3)
        + struct.pack(">B3i", 3, 0, 1, 2)
    )
    child = model_xml([f'<object id="7">{mesh_xml()}</object>'], [])
    onward = '<component objectid="7" p:path="/3D/o.model"/>'
    root = model_xml(
        [f'<object id="2"><components>{onward}</components></object>'],
        ['<item objectid="2" transform="-1 0 0 0 1 0 0 0 1 1 2 3"/>'],
    )
    return {
        "binary.stl": exported("stl"),
        "text.stl": exported("stl_ascii"),
        "triangles.obj": exported("obj"),
        "polygons.obj": polygons.encode(),
        "binary.ply": exported("ply"),
        "text.ply": exported("ply", encoding="ascii"),
        "mixed.ply": mixed_ply,
        "text.off": exported("off"),
        "whole.glb": glb(document, binary),
        "stored.3mf": package(root, {"3D/o.model": child}, compression=zipfile.ZIP_STORED),
        "packed.3mf": package(root, {"3D/o.model": child}),
    }
