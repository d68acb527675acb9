"""Stepped flying boats as boundary representations of the Open CASCADE kernel.

Axes, mm: x aft, y to starboard, z up. The hull is made of tensor-product Bézier patches between
four lines a side: keel, chine, knuckle, deck edge. The bow is curved along them, the middle is
straight with a deck that is a segment of a circular cylinder, the afterbody tapers and twists; bow,
step and stern are flat faces across. A polyhedral sister has the same corners, rounded to numbers
that a 32-bit float holds exactly, and triangles between them.
"""

import math
from itertools import pairwise

import numpy as np
from flying_boat_lines import corners
from outside import required

required("OCP")
from OCP.BRep import BRep_Builder  # noqa: E402
from OCP.BRepBuilderAPI import (  # noqa: E402
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeSolid,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Sewing,
)
from OCP.BRepCheck import BRepCheck_Analyzer  # noqa: E402
from OCP.BRepGProp import BRepGProp  # noqa: E402
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder  # noqa: E402
from OCP.collections import Array1_double, Array1_gp_Pnt, Array2_double, Array2_gp_Pnt  # noqa: E402
from OCP.Geom import Geom_BezierCurve, Geom_BezierSurface  # noqa: E402
from OCP.gp import gp_Ax2, gp_Dir, gp_Pln, gp_Pnt  # noqa: E402
from OCP.GProp import GProp_GProps  # noqa: E402
from OCP.TopAbs import TopAbs_SHELL  # noqa: E402
from OCP.TopExp import TopExp_Explorer  # noqa: E402
from OCP.TopoDS import TopoDS, TopoDS_Compound  # noqa: E402

SEWING_MM = 1e-6
PORT = np.array([1.0, -1.0, 1.0])


def curved_boat(lines):
    """Return the boat's solids: a hull of Bézier patches, two cylinders for tip floats."""
    bow, shoulder, step, after, stern = corners(lines)
    reach = lines.shoulder / 3.0
    ahead = shoulder + reach * (shoulder - step) / (lines.step_station - lines.shoulder)
    # The bow's lines leave the shoulder along the middle's and come to the bow steeply.
    close = bow + [0.4 * reach, 0.0, 0.0] + 0.5 * (shoulder - bow) * [0.0, 1.0, 0.3]
    stretches = [np.stack([bow, close, ahead, shoulder]), np.stack([shoulder, step])]
    faces = []
    for nets, strips in ((stretches, (0, 1, 2)), ([np.stack([after, stern])], (0, 2))):
        for net in nets:
            for k in strips:
                pair = net[:, k : k + 2]
                faces += [_patch(pair), _patch(pair * PORT)]
            faces.append(_patch(*_arched(net[:, 3], lines)))
    faces += [_across(bow, lines), _across(stern[[0, 1, 3]], lines)]
    for side in (1.0, PORT):
        faces.append(_polygon(np.stack([step[0], step[1], after[1], after[0]]) * side))
    return [_solid(faces), *_round_floats(lines)]


def polyhedral_boat(lines):
    """Return solids with flat faces only: triangles between the hull's corners, boxes for floats.

    Every corner lies on a grid of 1/64 mm, which 32-bit numbers hold exactly.
    """
    bow, shoulder, step, after, stern = _on_grid(corners(lines))
    halves = [_ribbon(a, b) for a, b in ((bow, shoulder), (shoulder, step), (after, stern))]
    halves.append(_fan(np.stack([step[0], step[1], after[1], after[0]])))
    halves += [_deck([bow, shoulder, step]), _deck([after, stern])]
    halves += [_end(bow)[:, ::-1], _end(stern)]
    starboard = _with_area(np.concatenate(halves))
    triangles = np.concatenate([starboard, starboard[:, ::-1] * PORT])
    side, run, x, y, z = _on_grid(
        [
            2.0 * lines.float_radius,
            lines.float_length,
            0.4 * lines.length,
            lines.float_offset,
            lines.float_height,
        ]
    ).tolist()
    floats = [
        BRepPrimAPI_MakeBox(gp_Pnt(x, inner, z), run, side, side).Solid()
        for inner in (-y - side, y)
    ]
    return [_solid([_polygon(triangle) for triangle in triangles]), *floats]


def _on_grid(values):
    """Return values on a grid of 1/64 mm."""
    return np.rint(64.0 * np.asarray(values)) / 64.0


def volume_of(shape):
    """Return a shape's volume by the kernel's own integration [mm³]."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, properties, OnlyClosed=True)
    return properties.Mass()


def _points(poles):
    """Return poles (m, n, 3) as the kernel's array."""
    array = Array2_gp_Pnt(1, poles.shape[0], 1, poles.shape[1])
    for i, row in enumerate(poles, start=1):
        for j, pole in enumerate(row, start=1):
            array.SetValue(i, j, gp_Pnt(*map(float, pole)))
    return array


def _patch(poles, weights=None):
    """Return a face on the whole of a Bézier surface."""
    if weights is None:
        surface = Geom_BezierSurface(_points(poles))
    else:
        array = Array2_double(1, poles.shape[0], 1, poles.shape[1])
        for i in range(poles.shape[0]):
            for j, weight in enumerate(weights, start=1):
                array.SetValue(i + 1, j, weight)
        surface = Geom_BezierSurface(_points(poles), array)
    return BRepBuilderAPI_MakeFace(surface, 1e-9).Face()


def _arched(edge, lines):
    """Return poles and weights of a deck whose sections are circular arcs from edge to edge.

    Every section is the same arc but for its size, so rows of poles share the weights 1, cos α, 1;
    tan(α/2) is the arc's rise over half its chord.
    """
    angle = 2.0 * math.atan(lines.crown)
    peak = edge + np.outer(edge[:, 1], [0.0, 0.0, math.tan(angle)])
    peak[:, 1] = 0.0
    return np.stack([edge, peak, edge * PORT], axis=1), (1.0, math.cos(angle), 1.0)


def _across(half, lines):
    """Return the flat face of an end: both sides of its corners, closed by the deck's arc."""
    around = np.concatenate([half[::-1], half[1:] * PORT])
    wire = BRepBuilderAPI_MakeWire()
    for start, stop in pairwise(around):
        wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(*start), gp_Pnt(*stop)).Edge())
    poles, weights = _arched(half[-1:], lines)
    array, weight = Array1_gp_Pnt(1, 3), Array1_double(1, 3)
    for j in range(3):
        array.SetValue(j + 1, gp_Pnt(*map(float, poles[0, 2 - j])))
        weight.SetValue(j + 1, weights[j])
    wire.Add(BRepBuilderAPI_MakeEdge(Geom_BezierCurve(array, weight)).Edge())
    plane = gp_Pln(gp_Pnt(*half[0]), gp_Dir(1.0, 0.0, 0.0))
    return BRepBuilderAPI_MakeFace(plane, wire.Wire()).Face()


def _polygon(points):
    """Return the flat face between points (k, 3)."""
    outline = BRepBuilderAPI_MakePolygon()
    for point in points:
        outline.Add(gp_Pnt(*map(float, point)))
    outline.Close()
    return BRepBuilderAPI_MakeFace(outline.Wire(), OnlyPlane=True).Face()


def _solid(faces):
    """Return the solid that faces enclose, sewn along their common edges, outward."""
    sewing = BRepBuilderAPI_Sewing(SEWING_MM)
    for face in faces:
        sewing.Add(face)
    sewing.Perform()
    assert sewing.NbFreeEdges() == 0, f"{sewing.NbFreeEdges()} edges of the drawn hull are open"
    found = TopExp_Explorer(sewing.SewedShape(), TopAbs_SHELL)
    solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell(found.Current())).Solid()
    if volume_of(solid) < 0.0:
        solid = TopoDS.Solid(solid.Reversed())
    assert BRepCheck_Analyzer(solid).IsValid(), "the drawn hull is no valid solid"
    return solid


def _round_floats(lines):
    """Return two lying cylinders, port and starboard."""
    place = (0.4 * lines.length, lines.float_offset, lines.float_height + lines.float_radius)
    return [
        BRepPrimAPI_MakeCylinder(
            gp_Ax2(gp_Pnt(place[0], side * place[1], place[2]), gp_Dir(1.0, 0.0, 0.0)),
            lines.float_radius,
            lines.float_length,
        ).Solid()
        for side in (-1.0, 1.0)
    ]


def compound(solids):
    """Return solids as one shape."""
    builder, shape = BRep_Builder(), TopoDS_Compound()
    builder.MakeCompound(shape)
    for solid in solids:
        builder.Add(shape, solid)
    return shape


def _ribbon(ahead, behind):
    """Return the starboard triangles between two sections (4, 3), outward."""
    low, high, low_aft, high_aft = ahead[:-1], ahead[1:], behind[:-1], behind[1:]
    return np.concatenate(
        [np.stack([low, high_aft, low_aft], axis=1), np.stack([low, high, high_aft], axis=1)]
    )


def _fan(points):
    """Return the triangles of a convex face (k, 3), all from its first corner."""
    return np.stack([np.broadcast_to(points[0], points[2:].shape), points[1:-1], points[2:]], 1)


def _deck(sections):
    """Return the triangles of a flat deck, starboard of the center plane, upward."""
    edge = np.stack([section[3] for section in sections])
    middle = edge * [1.0, 0.0, 1.0]
    return np.concatenate(
        [
            _fan(np.stack([middle[i], middle[i + 1], edge[i + 1], edge[i]]))
            for i in range(len(edge) - 1)
        ]
    )


def _end(section):
    """Return the triangles of a flat end, starboard of the center plane, facing aft."""
    return _fan(np.concatenate([section[3:] * [1.0, 0.0, 1.0], section]))


def _with_area(triangles):
    """Return the triangles whose corners all differ."""
    return triangles[(triangles != np.roll(triangles, -1, axis=1)).any(axis=2).all(axis=1)]
