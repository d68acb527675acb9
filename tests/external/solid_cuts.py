"""What the Open CASCADE kernel makes of a solid: facets, how far they stray, and cuts."""

from dataclasses import dataclass

import numpy as np
from outside import required

required("OCP")
from OCP.BRep import BRep_Tool  # noqa: E402
from OCP.BRepAdaptor import BRepAdaptor_Surface  # noqa: E402
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common  # noqa: E402
from OCP.BRepGProp import BRepGProp  # noqa: E402
from OCP.BRepMesh import BRepMesh_IncrementalMesh  # noqa: E402
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox  # noqa: E402
from OCP.GeomAbs import GeomAbs_Plane  # noqa: E402
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Vec  # noqa: E402
from OCP.GProp import GProp_GProps  # noqa: E402
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_REVERSED  # noqa: E402
from OCP.TopExp import TopExp_Explorer  # noqa: E402
from OCP.TopLoc import TopLoc_Location  # noqa: E402
from OCP.TopoDS import TopoDS  # noqa: E402

INTEGRATION = 1e-10
"""Relative accuracy asked of the kernel's adaptive integrals."""

_SAMPLES = np.array(
    [[0, 3, 3], [3, 0, 3], [3, 3, 0], [2, 2, 2], [4, 1, 1], [1, 4, 1], [1, 1, 4]]
) / np.array([[6.0]])
"""Middles of the sides, centroid, and three points between: barycentric coordinates."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Facets:
    """Triangles of a curved solid and what parts them from it.

    A point of a triangle stands for the point of the surface with the same parameters: the map is
    one to one, corners stand for themselves but for the rounding to 32 bits.

    Attributes
    ----------
    triangles : ndarray, shape (n, 3, 3)
        As a file of 32-bit numbers holds them [mm].
    normals : ndarray, shape (n, k, 3)
        Unit normals of the triangle, then of the surface at the sampled points.
    stray : ndarray, shape (n,)
        Greatest distance of the surface from the triangle, along the normals of either [mm].
    """

    triangles: np.ndarray
    normals: np.ndarray
    stray: np.ndarray


@dataclass(frozen=True, kw_only=True, eq=False)
class Under:
    """What a solid has below a plane, by the kernel's own cut and integrals.

    Attributes
    ----------
    volume, area : float
        [mm³], and of the cut [mm²].
    first_moment, area_moment : ndarray, shape (3,)
        ∫ p dV [mm⁴], ∫ p dA [mm³].
    second_moment : ndarray, shape (3, 3)
        ∫ p pᵀ dA of the cut, about the datum [mm⁴].
    tolerance : float
        Greatest tolerance that the kernel put on an edge or a corner of the cut solid [mm].
    """

    volume: float
    area: float
    first_moment: np.ndarray
    area_moment: np.ndarray
    second_moment: np.ndarray
    tolerance: float


def faceted(solid, deflection_mm):
    """Return the facets of a solid, tessellated by the kernel to a deflection it aims at [mm]."""
    BRepMesh_IncrementalMesh(solid, deflection_mm, isRelative=False, theAngDeflection=0.3)
    return _joined([_face_facets(face) for face in _parts(solid, TopAbs_FACE, TopoDS.Face)])


def _joined(parts):
    """Return facets one after another."""
    return Facets(
        triangles=np.concatenate([p.triangles for p in parts]),
        normals=np.concatenate([p.normals for p in parts]),
        stray=np.concatenate([p.stray for p in parts]),
    )


def _face_facets(face):
    """Return the facets of one face."""
    place = TopLoc_Location()
    net = BRep_Tool.Triangulation_s(face, place)
    assert place.IsIdentity()
    nodes = range(1, net.NbNodes() + 1)
    points = np.array([net.Node(i).Coord() for i in nodes]).astype(np.float32).astype(np.float64)
    parameters = np.array([net.UVNode(i).Coord() for i in nodes])
    faces = np.array([net.Triangle(i).Get() for i in range(1, net.NbTriangles() + 1)]) - 1
    if face.Orientation() == TopAbs_REVERSED:
        faces = faces[:, [0, 2, 1]]
    triangles = points[faces]
    places = (_SAMPLES @ triangles).reshape(-1, 3)
    on_surface, normals = _surface(face, (_SAMPLES @ parameters[faces]).reshape(-1, 2))
    flat = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    flat /= np.linalg.norm(flat, axis=1, keepdims=True)
    shape = (len(faces), len(_SAMPLES), 3)
    apart, normals = (on_surface - places).reshape(shape), normals.reshape(shape)
    away = np.abs(np.einsum("nki,ni->nk", apart, flat))
    away = np.maximum(away, np.abs(np.einsum("nki,nki->nk", apart, normals)))
    return Facets(
        triangles=triangles,
        normals=np.concatenate([flat[:, None], normals], axis=1),
        stray=away.max(axis=1) + _rounding(triangles),
    )


def _rounding(triangles):
    """Return by how much rounding to 32 bits may have moved a corner of each triangle [mm]."""
    return 0.5 * np.linalg.norm(np.spacing(np.abs(triangles).astype(np.float32)), axis=2).max(
        axis=1
    )


def _surface(face, parameters):
    """Return points and unit normals of a face's surface at parameters (m, 2)."""
    surface = BRepAdaptor_Surface(face)
    point, along, across = gp_Pnt(), gp_Vec(), gp_Vec()
    points, normals = np.empty((len(parameters), 3)), np.empty((len(parameters), 3))
    for i, (u, v) in enumerate(parameters.tolist()):
        surface.D1(u, v, point, along, across)
        points[i] = point.Coord()
        normals[i] = along.Crossed(across).Coord()
    return points, normals / np.linalg.norm(normals, axis=1, keepdims=True)


def under(solid, normal, height):
    """Return what a solid has below the plane normal·p = height [mm]."""
    top = gp_Ax2(gp_Pnt(*map(float, height * normal)), gp_Dir(*map(float, normal)))
    reach = 4000.0
    frame = [np.array(d.Coord()) for d in (top.XDirection(), top.YDirection(), top.Direction())]
    corner = height * normal - reach * (frame[0] + frame[1]) - reach * frame[2]
    top.SetLocation(gp_Pnt(*map(float, corner)))
    water = BRepPrimAPI_MakeBox(top, 2.0 * reach, 2.0 * reach, reach).Solid()
    cut = BRepAlgoAPI_Common(solid, water)
    assert cut.IsDone(), "the kernel could not cut the solid"
    wet = cut.Shape()
    whole = GProp_GProps()
    BRepGProp.VolumeProperties_s(wet, whole, INTEGRATION, OnlyClosed=True)
    lid = GProp_GProps()
    for face in _parts(wet, TopAbs_FACE, TopoDS.Face):
        if _lies_on(face, normal, height):
            part = GProp_GProps()
            BRepGProp.SurfaceProperties_s(face, part, INTEGRATION)
            lid.Add(part)
    center, area = np.array(lid.CentreOfMass().Coord()), lid.Mass()
    inertia = _matrix(lid.MatrixOfInertia())
    # The kernel's matrix is ∫ (r·r 1 − r rᵀ) dA about the centroid.
    own = 0.5 * np.trace(inertia) * np.eye(3) - inertia
    return Under(
        volume=whole.Mass(),
        area=area,
        first_moment=whole.Mass() * np.array(whole.CentreOfMass().Coord()),
        area_moment=area * center,
        second_moment=own + area * np.outer(center, center),
        tolerance=max(
            (BRep_Tool.Tolerance_s(edge) for edge in _parts(wet, TopAbs_EDGE, TopoDS.Edge)),
            default=0.0,
        ),
    )


def _lies_on(face, normal, height):
    """Return whether a face is flat and lies on the plane normal·p = height."""
    surface = BRepAdaptor_Surface(face)
    if surface.GetType() != GeomAbs_Plane:
        return False
    plane = surface.Plane()
    parallel = abs(np.dot(plane.Axis().Direction().Coord(), normal)) > 1.0 - 1e-12
    return parallel and abs(np.dot(plane.Location().Coord(), normal) - height) < 1e-6


def _parts(shape, kind, downcast):
    """Yield the faces or edges of a shape."""
    found = TopExp_Explorer(shape, kind)
    while found.More():
        yield downcast(found.Current())
        found.Next()


def _matrix(matrix):
    """Return the kernel's 3 × 3 matrix as an array."""
    return np.array([[matrix.Value(i, j) for j in (1, 2, 3)] for i in (1, 2, 3)])
