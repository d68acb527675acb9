"""One evaluation, volume under a plane, as each general-purpose library does it.

Every maker returns a function of a plane's unit normal and height [mm]. Meshes are built, merged
and checked beforehand and outside the time.
"""

import numpy as np

from hullcheck.geometry.moment_tree import under_directly


def evaluation_of(moments):
    """Return the evaluation of a tree that stands."""
    origin = moments.origin_mm
    return lambda normal, height: moments.under(normal, height - normal @ origin).volume


def direct(triangles):
    """Return the direct pass over every triangle."""
    origin = triangles.reshape(-1, 3).mean(axis=0)

    def evaluate(normal, height):
        """Return the volume [mm³]."""
        return under_directly(triangles, normal, height - normal @ origin, origin).volume

    return evaluate


def trimesh_cap(triangles):
    """Return trimesh's slice with a cap, and its volume."""
    mesh = trimesh_of(triangles)
    assert mesh.is_watertight

    def evaluate(normal, height):
        """Return the volume [mm³]."""
        return mesh.slice_plane(height * normal, -normal, cap=True).volume

    return evaluate


def trimesh_of(triangles):
    """Return the triangles as trimesh holds them."""
    import trimesh

    points, faces = _indexed(triangles)
    return trimesh.Trimesh(points, faces, process=False, validate=False)


def vtk_clip(triangles):
    """Return VTK's clip of a closed surface, and its mass properties, in 64-bit numbers."""
    from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray
    from vtkmodules.vtkCommonCore import vtkPoints
    from vtkmodules.vtkCommonDataModel import (
        vtkCellArray,
        vtkPlane,
        vtkPlaneCollection,
        vtkPolyData,
    )
    from vtkmodules.vtkFiltersCore import vtkMassProperties, vtkTriangleFilter
    from vtkmodules.vtkFiltersGeneral import vtkClipClosedSurface

    corners, faces = _indexed(triangles)
    points, cells, surface = vtkPoints(), vtkCellArray(), vtkPolyData()
    points.SetData(numpy_to_vtk(corners, deep=True))
    starts = np.arange(0, faces.size + 1, 3, dtype=np.int64)
    cells.SetData(
        numpy_to_vtkIdTypeArray(starts, deep=True),
        numpy_to_vtkIdTypeArray(faces.ravel(), deep=True),
    )
    surface.SetPoints(points)
    surface.SetPolys(cells)

    def evaluate(normal, height):
        """Return the volume [mm³]."""
        plane, planes = vtkPlane(), vtkPlaneCollection()
        plane.SetOrigin(*(height * normal))
        plane.SetNormal(*(-normal))
        planes.AddItem(plane)
        clip, flat, mass = vtkClipClosedSurface(), vtkTriangleFilter(), vtkMassProperties()
        clip.SetInputData(surface)
        clip.SetClippingPlanes(planes)
        clip.SetTolerance(0.0)
        flat.SetInputConnection(clip.GetOutputPort())
        mass.SetInputConnection(flat.GetOutputPort())
        mass.Update()
        return mass.GetVolume()

    return evaluate


def manifold_trim(triangles):
    """Return manifold3d's trim by a plane, and its volume, in 64-bit numbers."""
    import manifold3d

    points, faces = _indexed(triangles)
    solid = manifold3d.Manifold(manifold3d.Mesh64(points, faces.astype(np.uint64)))
    assert solid.status() == manifold3d.Error.NoError
    return lambda normal, height: solid.trim_by_plane(-normal, -height).volume()


def _indexed(triangles):
    """Return points and faces, corners equal to the last bit made one point."""
    points, faces = np.unique(triangles.reshape(-1, 3), axis=0, return_inverse=True)
    return np.ascontiguousarray(points), faces.reshape(-1, 3).astype(np.int64)


def floated_by_slices(mesh, *, volume_mm3, center_mm):
    """Return trim, heel [rad], height [mm] at rest, and how many capped slices that took.

    A root finder turns the plane until CB lies under the center of gravity; at every turn the draft
    is found by bisection on the volume of trimesh's capped slice, to 1e-9 of it.
    """
    from scipy.optimize import root

    from hullcheck.geometry.attitude import level_directions, normal_of

    slices, height = 0, 0.0

    def levers(angles):
        """Return CB's level distances from the center of gravity at the load's draft [mm]."""
        nonlocal slices, height
        trim, heel = angles
        normal = normal_of(trim=trim, heel=heel)
        extent = mesh.vertices @ normal
        low, high = extent.min(), extent.max()
        for _ in range(60):
            height = 0.5 * (low + high)
            wet = mesh.slice_plane(height * normal, -normal, cap=True)
            slices += 1
            if abs(wet.volume - volume_mm3) <= 1e-9 * volume_mm3:
                break
            low, high = (height, high) if wet.volume < volume_mm3 else (low, height)
        along, across = level_directions(trim=trim, heel=heel)
        apart = wet.center_mass - center_mm
        return [apart @ along, apart @ across]

    found = root(levers, [0.0, 0.0], tol=1e-9)
    assert found.success, found.message
    return (*found.x, height, slices)
