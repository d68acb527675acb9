"""The same STL file and the same plane given to VTK: it clips, closes the cut and measures."""

import numpy as np
import pytest
from outside import required

required("vtkmodules")
from vtkmodules.util.numpy_support import vtk_to_numpy  # noqa: E402
from vtkmodules.vtkCommonDataModel import vtkPlane, vtkPlaneCollection  # noqa: E402
from vtkmodules.vtkCommonExecutionModel import vtkAlgorithm  # noqa: E402
from vtkmodules.vtkCommonTransforms import vtkTransform  # noqa: E402
from vtkmodules.vtkFiltersCore import (  # noqa: E402
    vtkMassProperties,
    vtkMultiObjectMassProperties,
    vtkTriangleFilter,
)
from vtkmodules.vtkFiltersGeneral import vtkClipClosedSurface, vtkTransformFilter  # noqa: E402
from vtkmodules.vtkIOGeometry import vtkSTLReader  # noqa: E402


def read(path):
    """Return the filter at whose output VTK has the file's surface in 64-bit numbers."""
    reader = vtkSTLReader()
    reader.SetFileName(str(path))
    # Left at 32 bits, its cuts would be too, and off by 1e-8.
    wide = vtkTransformFilter()
    wide.SetInputConnection(reader.GetOutputPort())
    wide.SetTransform(vtkTransform())
    wide.SetOutputPointsPrecision(vtkAlgorithm.DOUBLE_PRECISION)
    wide.Update()
    return wide


def clipped(surface, normal, height):
    """Return the filter at whose output the surface is cut off above a plane and closed there."""
    plane = vtkPlane()
    plane.SetOrigin(*(height * normal))
    plane.SetNormal(*(-normal))
    planes = vtkPlaneCollection()
    planes.AddItem(plane)
    clip = vtkClipClosedSurface()
    clip.SetInputConnection(surface.GetOutputPort())
    clip.SetClippingPlanes(planes)
    clip.SetTolerance(0.0)
    clip.SetScalarModeToLabels()
    clip.Update()
    return clip


def measured(clip):
    """Return volume [mm³], by two of VTK's filters, and centroid [mm] of what was left."""
    triangles = vtkTriangleFilter()
    triangles.SetInputConnection(clip.GetOutputPort())
    whole = vtkMassProperties()
    whole.SetInputConnection(triangles.GetOutputPort())
    whole.Update()
    pieces = vtkMultiObjectMassProperties()
    pieces.SetInputConnection(triangles.GetOutputPort())
    pieces.Update()
    fields = pieces.GetOutput().GetFieldData()
    volumes = vtk_to_numpy(fields.GetArray("ObjectVolumes"))
    centroids = vtk_to_numpy(fields.GetArray("ObjectCentroids"))
    return whole.GetVolume(), volumes.sum(), volumes @ centroids / volumes.sum()


def cap_area(clip, normal):
    """Return the area of the polygons that VTK closed the cut with [mm²]."""
    surface = clip.GetOutput()
    points = vtk_to_numpy(surface.GetPoints().GetData())
    assert points.dtype == np.float64
    corners = vtk_to_numpy(surface.GetPolys().GetConnectivityArray())
    starts = vtk_to_numpy(surface.GetPolys().GetOffsetsArray())
    on_plane = np.flatnonzero(vtk_to_numpy(surface.GetCellData().GetArray("Labels")) == 1)
    area = 0.0
    for k in on_plane:
        outline = points[corners[starts[k] : starts[k + 1]]]
        area += 0.5 * np.cross(outline[1:-1] - outline[0], outline[2:] - outline[0]).sum(0) @ normal
    return area


def test_vtk_cuts_the_same_volume_centroid_and_area(afloat):
    """Volume and waterplane area to 1e-9 of themselves, the centroid to 1e-9 of the length."""
    surface = read(afloat.path)
    length = afloat.skin.tree.length_mm
    for normal, height, volume, centroid, area in afloat.under():
        clip = clipped(surface, normal, height)
        by_divergence, by_pieces, center = measured(clip)
        assert volume == pytest.approx(by_divergence, rel=1e-9)
        assert volume == pytest.approx(by_pieces, rel=1e-9)
        assert centroid == pytest.approx(center, rel=0, abs=1e-9 * length)
        assert area == pytest.approx(cap_area(clip, normal), rel=1e-9)


def test_vtk_measures_the_same_whole(afloat):
    """The volume of the whole body, uncut, to 1e-9."""
    assert afloat.skin.volume_mm3 == pytest.approx(measured(read(afloat.path))[0], rel=1e-9)
