"""Outer skins by hand, of the demo hull cut into parts: what the face of `skin` is tested on."""

import dataclasses
from functools import cache
from itertools import pairwise

import make_tarnwing
import numpy as np

from hullcheck.answers.float_records import Waterline
from hullcheck.answers.skin_answer import skin_answer
from hullcheck.craft.body_skin import BodySkin
from hullcheck.geometry.outer_records import (
    INVENTED,
    OuterSkin,
    PartFound,
    PartSeam,
    Patch,
    SkinChecks,
)
from hullcheck.geometry.shells import Shell, outer_shells

CUTS = (120.0, 262.0, 380.0, 500.0)
AFLOAT = Waterline(normal=(-0.0087, 0.0, 0.99996), height_mm=37.0)
ON_HER_SIDE = Waterline(normal=(0.0, -1.0, 0.0), height_mm=0.0)

CANOPY = ("opening at station 175, 100 × 50 mm", (125.0, -25.0, 72.0), (225.0, 25.0, 200.0))
HATCH = ("radio hatch", (290.0, -20.0, 72.0), (350.0, 20.0, 200.0))
SLOTS = ("opening at station 420, 30 × 8 mm", (405.0, -90.0, 58.0), (435.0, 0.0, 66.0))
DRAIN = ("opening at station 240, 40 × 30 mm", (220.0, -15.0, -60.0), (260.0, 15.0, 20.0))
WELL = ("bottom well", (300.0, -20.0, -60.0), (340.0, 20.0, 30.0))


@cache
def surfaces():
    """Return the demo's hull and its starboard and port float, (n, 3, 3) [mm] each."""
    return (
        make_tarnwing.hull_triangles(),
        make_tarnwing.starboard_float_triangles(),
        make_tarnwing.port_float_triangles(),
    )


def solid_of(triangles):
    """Return closed triangles as a solid."""
    from manifold3d import Manifold, Mesh64

    from hullcheck.geometry.topology import merged

    mesh = merged(np.asarray(triangles))
    return Manifold(
        Mesh64(
            vert_properties=np.ascontiguousarray(mesh.points),
            tri_verts=mesh.faces.astype(np.uint64),
        )
    )


def triangles_of(solid, owner=None):
    """Return a solid's triangles; those that come from one other solid alone, if asked."""
    mesh = solid.to_mesh64()
    triangles = np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts).astype(np.int64)]
    if owner is None:
        return triangles
    runs = np.asarray(mesh.run_index).astype(np.int64) // 3
    kept = np.repeat(np.asarray(mesh.run_original_id) == owner.original_id(), np.diff(runs))
    return triangles[kept]


def box(low, high):
    """Return a box as a solid."""
    from manifold3d import Manifold

    size = np.subtract(high, low)
    return Manifold.cube(size.tolist()).translate(list(low))


@cache
def hull_solid():
    """Return the demo hull as a solid of its own."""
    return solid_of(surfaces()[0]).as_original()


def patch(name, low, high, *, kind="opening", error_mm3=20.0, solid=None):
    """Return the skin inside a box as a piece that no part has."""
    hull = solid or hull_solid()
    triangles = triangles_of(hull ^ box(low, high), hull)
    return Patch(
        name=name,
        kind=kind,
        triangles_mm=triangles,
        edge_mm=triangles[0],
        error_mm3=error_mm3,
    )


def segment(low, high, openings=(), *, solid=None, inner=0.97):
    """Return the thin wall between two stations, with openings cut out of it."""
    hull = solid or hull_solid()
    triangles = triangles_of(hull)
    middle = 0.5 * (triangles.min(axis=(0, 1)) + triangles.max(axis=(0, 1)))
    hollow = hull.translate((-middle).tolist()).scale([1.0, inner, inner])
    wall = (hull - hollow.translate(middle.tolist())) ^ box(
        (low, -500.0, -500.0), (high, 500.0, 500.0)
    )
    for _, start, stop in openings:
        wall -= box(start, stop)
    return triangles_of(wall)


def part(name, triangles, kind="thin wall", *, found=(), wall_mm=1.0):
    """Return a part as it was found."""
    sides = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    volume = abs(float(np.einsum("ni,ni->", triangles[:, 0], sides))) / 6.0
    return PartFound(
        name=name,
        triangles_mm=triangles,
        kind=kind,
        material_volume_mm3=None if kind == "sheet" else volume,
        wall_mm=wall_mm if kind == "thin wall" else None,
        found=found,
    )


def seam(one, two, station, *, gap=0.1, mismatch=0.02):
    """Return a seam across a station."""
    return PartSeam(
        parts=(one, two),
        normal=np.array([1.0, 0.0, 0.0]),
        place_mm=np.array([station, 0.0, 40.0]),
        gap_mm=gap,
        mismatch_mm=mismatch,
    )


def skin(parts, patches=(), seams=(), *, name="hull", surface=None, method="united", **changes):
    """Return an outer skin of the demo hull."""
    shells = outer_shells(name, surfaces()[0] if surface is None else surface).shells
    sources = []
    for shell in shells:
        middles = shell.triangles_mm.mean(axis=1)
        source = np.zeros(len(middles), dtype=np.int64)
        for one in patches:
            inside = (middles >= one.low_mm) & (middles <= one.high_mm)
            source[inside.all(axis=1)] = INVENTED
        sources.append(source)
    return OuterSkin(
        name=name,
        shells=shells,
        sources=tuple(sources),
        method=method,
        parts=tuple(parts),
        patches=tuple(patches),
        seams=tuple(seams),
        **changes,
    )


NAMES = ("parts/nose.stl", "parts/mid.stl", "parts/step.stl", "parts/aft.stl", "parts/stern.stl")


def segments(openings, *, change=None):
    """Return the five thin-wall segments and their seams; one triangle array may be changed."""
    ends = (-100.0, *CUTS, 900.0)
    pieces = [segment(a, b, openings) for a, b in pairwise(ends)]
    if change is not None:
        number, function = change
        pieces[number] = function(pieces[number])
    found = [
        part(name, triangles, found=("30 duplicate faces dropped", "2 T-junctions stitched")[:i])
        for i, (name, triangles) in enumerate(zip(NAMES, pieces, strict=True))
    ]
    seams = [
        seam(NAMES[i], NAMES[i + 1], cut, gap=gap)
        for i, (cut, gap) in enumerate(zip(CUTS, (0.1, 0.0, 0.3, -0.05), strict=True))
    ]
    return found, seams


def printed(openings=(CANOPY, HATCH, SLOTS), *, change=None, lids=(), **changes):
    """Return the hull of five thin walls and a hatch."""
    found, seams = segments(openings, change=change)
    lid = triangles_of(box((288.0, -22.0, 84.0), (352.0, 22.0, 88.0)))
    found.append(part("parts/hatch.stl", lid, "closed skin"))
    patches = [patch(*one, kind="lid" if one[0] in lids else "opening") for one in openings] + [
        patch("seam at station 380", (379.8, -200, -200), (380.2, 200, 200), kind="seam")
    ]
    made = skin(
        found,
        patches,
        seams,
        bulkheads_mm=(118.0, 310.0),
        base_error_mm3=150.0,
        checks=SkinChecks(
            section_volume_mm3=sum(s.volume_mm3 for s in outer_shells("h", surfaces()[0]).shells)
            * 1.0001,
            section_offset_mm=0.012,
            handles=0,
            solid_share=0.11,
        ),
    )
    body = BodySkin(name="hull", role="hull", skin=made, units=("mm",) * len(found))
    return [dataclasses.replace(body, **changes)]


def filed(names=("hull.stl", "starboard_float.stl", "port_float.stl")):
    """Return closed skins as filed: the hull and its tip floats, as many as there are names."""
    roles = ("hull", "tip float", "tip float")
    called = ("hull", "starboard float", "port float")
    return [
        BodySkin(
            name=body,
            role=role,
            skin=skin(
                [part(file, surface, "closed skin")], name=body, surface=surface, method="as filed"
            ),
            units=("mm",),
        )
        for file, body, role, surface in zip(names, called, roles, surfaces(), strict=False)
    ]


def sheets():
    """Return the hull of three single-wall sheets with ribs."""
    hull = hull_solid()
    ends = (-100.0, 200.0, 420.0, 900.0)
    found = [
        part(
            f"sheet_{i + 1}.stl",
            triangles_of(hull ^ box((a, -500.0, -500.0), (b, 500.0, 500.0)), hull),
            "sheet",
        )
        for i, (a, b) in enumerate(pairwise(ends))
    ]
    inner = hull.scale([1.0, 0.95, 0.95]).translate([0.0, 0.0, 2.0])
    for i, x in enumerate((90.0, 200.0, 310.0)):
        rib = triangles_of(inner ^ box((x, -500.0, -500.0), (x + 1.2, 500.0, 500.0)))
        found.append(part(f"rib_{i + 1}.stl", rib, "inside"))
    seams = [seam("sheet_1.stl", "sheet_2.stl", 200.0), seam("sheet_2.stl", "sheet_3.stl", 420.0)]
    made = skin(found, [patch(*CANOPY)], seams)
    return [BodySkin(name="hull", role="hull", skin=made)]


def twins():
    """Return two main floats of two thin walls each, with a hatch in either deck."""
    bodies = []
    narrow = surfaces()[0] * np.array([1.0, 0.55, 0.8])
    for side, y in (("starboard", 130.0), ("port", -130.0)):
        surface = narrow + np.array([0.0, y, 0.0])
        solid = solid_of(surface).as_original()
        found = [
            part(f"{side}_fore.stl", segment(-100.0, 262.0, solid=solid, inner=0.94)),
            part(f"{side}_aft.stl", segment(262.0, 900.0, solid=solid, inner=0.94)),
        ]
        hole = patch(
            "opening at station 175, 100 × 50 mm",
            (125.0, y - 12.0, 55.0),
            (225.0, y + 12.0, 200.0),
            solid=solid,
        )
        made = skin(
            found,
            [hole],
            [seam(found[0].name, found[1].name, 262.0)],
            name=f"{side} float",
            surface=surface,
        )
        bodies.append(BodySkin(name=f"{side} float", role="main float", skin=made))
    return bodies


def many(count=60):
    """Return a hull in many parts, most of them small and inside."""
    found, seams = segments(())
    for i in range(count - len(found)):
        x = 20.0 + 560.0 * i / count
        block = triangles_of(box((x, -10.0, 20.0 + i % 7), (x + 9.0 + 3.0 * (i % 5), 10.0, 45.0)))
        found.append(part(f"parts/fitting_{i + 1:02d}_servo_tray.stl", block, "inside"))
    holes = [
        patch(f"opening at station {x}, 14 × 10 mm", (x - 7.0, -5.0, 70.0), (x + 7.0, 5.0, 200.0))
        for x in range(100, 580, 40)
    ]
    return [BodySkin(name="hull", role="hull", skin=skin(found, holes, seams))]


VENTS = ("opening at station 315 to port, 20 × 10 mm", (305.0, -34.0, 72.0), (325.0, -24.0, 200.0))
NAMED_VENT = ("starboard vent", (305.0, 24.0, 72.0), (325.0, 34.0, 200.0))
PORT_SLOT = (
    "opening at station 416 to port, 24 × 10 mm",
    (404.0, -30.0, 60.0),
    (428.0, -20.0, 200.0),
)
SLOT = (
    "opening at station 416 to starboard, 24 × 10 mm",
    (404.0, 20.0, 60.0),
    (428.0, 30.0, 200.0),
)
EDGE = ("canopy edge", *CANOPY[1:])
TWELVE = (60.0, 120.0, 165.0, 210.0, 262.0, 300.0, 340.0, 380.0, 440.0, 500.0)


def twelve():
    """Return a hull of eleven walls with slots on both sides, and its two tip floats.

    One vent has a name and a state, its twin none; the tip floats are one file and its mirror.
    """
    openings = (EDGE, SLOT, PORT_SLOT, NAMED_VENT, VENTS)
    found = [
        part(f"parts/part_{i + 1}.stl", segment(a, b, openings))
        for i, (a, b) in enumerate(pairwise((-100.0, *TWELVE, 900.0)))
    ]
    seams = [
        seam(one.name, two.name, cut, gap=0.0)
        for (one, two), cut in zip(pairwise(found), TWELVE, strict=True)
    ]
    hull = BodySkin(
        name="hull",
        role="hull",
        skin=skin(found, [patch(*one) for one in openings], seams),
        states={EDGE[0]: "taped", NAMED_VENT[0]: "open"},
    )
    starboard = surfaces()[1]
    port = (starboard * np.array([1.0, -1.0, 1.0]))[:, ::-1]
    floats = [
        BodySkin(
            name=f"{side} tip float",
            role="tip float",
            skin=skin(
                [part("parts/tip_float.stl", surface, "closed skin")],
                name=f"{side} tip float",
                surface=surface,
                method="as filed",
            ),
        )
        for side, surface in (("starboard", starboard), ("port", port))
    ]
    return [hull, *floats]


def hostile():
    """Return a hull whose names are long, empty, or mean something to a program that draws."""
    found, _ = segments(())
    names = (
        "parts/aft bulkhead inspection hatch over the receiver tray, second print.stl",
        "$5_or_$6^2.stl",
        "通気口\nvent 🛩.stl",
        "<b>&amp;</b>/\\.stl",
        " ",
    )
    found = [
        dataclasses.replace(one, name=name, found=("dropped a face\nwith a break" * 4,))
        for one, name in zip(found, names, strict=True)
    ]
    holes = [
        patch("Servoleitungsdurchführungsabdeckung backbord hinten unten", *CANOPY[1:]),
        patch("=1+1, price $x_1$\n<i>", *DRAIN[1:]),
        patch("", *SLOTS[1:]),
    ]
    made = skin(
        found,
        holes,
        [seam(names[0], names[1], CUTS[0])],
        notes=(("odd", "a note with $ and\nbreaks"),),
    )
    return [BodySkin(name="hull $1$\nA" * 6, role="hull", skin=made)]


def offsets():
    """Return a body that has no mesh."""
    shells: tuple[Shell, ...] = outer_shells("old float", surfaces()[0]).shells
    return [BodySkin(name="old float", role="main float", skin=None, shells=shells)]


def upside_down(triangles):
    """Return triangles turned over in place."""
    middle = 0.5 * (triangles.min(axis=(0, 1)) + triangles.max(axis=(0, 1)))
    return (triangles - middle) * np.array([1.0, -1.0, -1.0]) + middle


STATES = {
    "closed as filed": lambda: (filed()[:1], AFLOAT),
    "three closed files": lambda: (filed(), AFLOAT),
    "five thin walls": lambda: (printed(), AFLOAT),
    "without a load": lambda: (printed(), None),
    "sheets": lambda: (sheets(), AFLOAT),
    "twin floats": lambda: (twins(), AFLOAT),
    "an opening under water": lambda: (printed((CANOPY, HATCH, SLOTS, DRAIN)), AFLOAT),
    "two openings under water": lambda: (printed((CANOPY, DRAIN, WELL)), AFLOAT),
    "a lid, and a state told": lambda: (
        printed(lids=("radio hatch",), states={CANOPY[0]: "taped"}),
        AFLOAT,
    ),
    "a part upside down": lambda: (printed(change=(1, upside_down)), AFLOAT),
    "a part displaced": lambda: (
        printed(change=(2, lambda t: t + np.array([5.0, 0.0, 5.0]))),
        AFLOAT,
    ),
    "many parts": lambda: (many(), AFLOAT),
    "twelve parts, tip floats": lambda: (twelve(), AFLOAT),
    "hostile names": lambda: (hostile(), AFLOAT),
    "on her side": lambda: (printed(), ON_HER_SIDE),
    "offsets": lambda: (offsets(), AFLOAT),
}


@cache
def made(state):
    """Return a state's bodies and what is said of them, made once."""
    bodies, waterline = STATES[state]()
    return bodies, skin_answer(bodies, waterline, name="Tarnwing 90")
