"""Meshes handed to the boolean library, and its solids taken back as meshes."""

from typing import TYPE_CHECKING

import numpy as np

from hullcheck.geometry.topology import Mesh

if TYPE_CHECKING:
    from manifold3d import Manifold


def as_solid(mesh: Mesh) -> "Manifold":
    """Return a mesh as a solid in double precision; its `status()` tells if it bounds one."""
    from manifold3d import Manifold, Mesh64

    return Manifold(
        Mesh64(
            np.array(mesh.points, dtype=np.float64, order="C"),
            np.ascontiguousarray(mesh.faces.astype(np.uint64)),
        )
    )


def mesh_of(solid: "Manifold") -> Mesh:
    """Return the surface of a solid [mm]."""
    found = solid.to_mesh64()
    return Mesh(
        points=np.ascontiguousarray(np.asarray(found.vert_properties)[:, :3]),
        faces=np.asarray(found.tri_verts).astype(np.int64),
    )
