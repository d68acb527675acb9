"""Triangles by corner number into binary PLY."""

from typing import Final

import numpy as np

from hullcheck.geometry.topology import Mesh

_FACE: Final = np.dtype([("count", "u1"), ("corners", "<i4", 3)])


def binary_ply_bytes(mesh: Mesh) -> bytes:
    """Return a mesh as the bytes of a binary PLY file, little endian, coordinates float64 [mm].

    Parameters
    ----------
    mesh : Mesh
        Triangles by corner number [mm].

    Returns
    -------
    bytes
        The same for the same mesh: the header holds no date.

    Examples
    --------
    >>> corners = np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
    >>> binary_ply_bytes(Mesh(points=corners, faces=np.array([[0, 1, 2]])))[:3]
    b'ply'
    """
    faces = np.empty(len(mesh.faces), dtype=_FACE)
    faces["count"] = 3
    faces["corners"] = mesh.faces
    header = (
        "ply\nformat binary_little_endian 1.0\n"
        "comment hullcheck mesh in millimeters\n"
        f"element vertex {len(mesh.points)}\n"
        "property double x\nproperty double y\nproperty double z\n"
        f"element face {len(faces)}\n"
        "property list uchar int vertex_indices\nend_header\n"
    )
    return header.encode("ascii") + mesh.points.astype("<f8").tobytes() + faces.tobytes()
