"""What of her still displaces water when she is swamped, and how that is known."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.flood_places import compartment_holding
from hullcheck.answers.swamped_records import Solid
from hullcheck.answers.swamped_tree import Share, cube_mm
from hullcheck.craft.bodies import Body
from hullcheck.craft.build import Build
from hullcheck.craft.compartment import Compartment
from hullcheck.craft.craft import Craft
from hullcheck.craft.fittings import Structure
from hullcheck.craft.ledger import Item
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.moment_tree import MomentTree
from hullcheck.units import MM3_PER_CM3

EQUIPMENT_G_CM3: Final = 2.0
"""Of what has no volume of its own in the files (common practice, no source)."""
_LEAST_WALL: Final = 1e-6
"""Of the skin's volume: less between skin and inside is no wall."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solids:
    """All that displaces when she is swamped: as it is told, and as surfaces with shares."""

    told: tuple[Solid, ...]
    shares: tuple[Share, ...]


def solids_of(
    build: Build, craft: Craft, compartments: Sequence[Compartment], sealed: Sequence[str]
) -> Solids:
    """Return what still displaces when every compartment is open that is not sealed.

    Parameters
    ----------
    build : Build
        For what bodies are made of, and the ledger.
    craft : Craft
        The build in the setup that is asked about.
    compartments : sequence of Compartment
        Hers.
    sealed : sequence of str
        Compartments that stay closed.

    Returns
    -------
    Solids
        The wall of every body by its mass in the ledger over its material's density, else by the
        thickness or the permeability of the sheet, lying where the wall is (evenly in the body
        where only its volume is known); every other item of the ledger as a cube of its mass at
        2 g/cm³ at its place; foam; sealed compartments. What is in a sealed compartment is not
        counted again.
    """
    ledger = build.setup(craft.setup).of_ledger(build.ledger)
    items = [item for item in ledger.items if item.mass_g]
    told: list[Solid] = []
    shares: list[Share] = []
    walls: set[str] = set()
    grams = 0.0
    for body in craft.bodies:
        own = _own_items(build, craft, body, items)
        walls |= {item.name for item, _ in own}
        mass = sum((item.mass_g or 0.0) * share for item, share in own)
        inside = [one for one in compartments if one.body == body.name]
        wall, parts = _wall(body, _structure(build, body), mass, inside, sealed)
        told += [wall] if wall is not None else []
        shares += parts
        density = _structure(build, body).density_g_cm3 or EQUIPMENT_G_CM3
        grams += 0.0 if wall is None else wall.volume_cm3 * density
    rest = [item for item in items if item.name not in walls]
    loose = _items(craft, rest) if items else _unlisted(craft, grams)
    lumps = [*loose, *_foams(compartments, sealed)]
    kept = [one for one in lumps if not _is_in(craft, compartments, sealed, one.center_mm)]
    told += [*kept, *_sealed(compartments, sealed)]
    cubes = [cube_mm(one.volume_cm3 * MM3_PER_CM3, one.center_mm) for one in kept]
    if cubes:
        shares.append(Share(tree=MomentTree(np.concatenate(cubes)), share=1.0))
    return Solids(told=tuple(told), shares=tuple(shares))


def _structure(build: Build, body: Body) -> Structure:
    """Return what a body is made of."""
    return build.structures.get(body.name, Structure())


def _own_items(
    build: Build, craft: Craft, body: Body, items: Sequence[Item]
) -> list[tuple[Item, float]]:
    """Return the ledger's items that are a body's own wall, each with the body's share of it.

    An item is a body's by the body's name or that of a part's file; an item named by a role, such
    as "tip floats", is shared by the bodies of that role by area.
    """
    stems = {
        part.name.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0].lower()
        for skin in build.skins
        if skin.name == body.name
        for part in skin.parts
    }
    names = {body.name.lower(), *stems}
    same = [one for one in craft.bodies if one.role == body.role]
    share = body.shell.area_mm2 / sum(one.shell.area_mm2 for one in same)
    role = {body.role, f"{body.role}s"}
    found = []
    for item in items:
        if item.name.lower() in names:
            found.append((item, 1.0))
        elif item.name.lower() in role:
            found.append((item, share))
    return found


def _wall(
    body: Body,
    structure: Structure,
    mass_g: float,
    inside: Sequence[Compartment],
    sealed: Sequence[str],
) -> tuple[Solid | None, list[Share]]:
    """Return the wall of a body, and the shares that put it where it is."""
    skin = MomentTree(body.shell.triangles_mm)
    rest = skin.enclosed_mm3 - sum(one.volume_mm3 for one in inside)
    hollow = rest > _LEAST_WALL * skin.enclosed_mm3
    volume, told = _wall_volume(body, structure, mass_g, rest if hollow else None)
    closed = [one for one in inside if one.name in sealed]
    whole = [Share(tree=one.tree, share=1.0) for one in closed]
    if volume == 0.0:
        return None, whole
    if hollow:
        share = volume / rest
        parts = [Share(tree=skin, share=share)]
        parts += [Share(tree=one.tree, share=-share) for one in inside] + whole
    else:
        share = min(volume / skin.enclosed_mm3, 1.0)
        told = f"{told}, spread evenly"
        parts = [Share(tree=skin, share=share)]
        parts += [Share(tree=one.tree, share=1.0 - share) for one in closed]
        volume = share * (skin.enclosed_mm3 - sum(one.volume_mm3 for one in closed))
    wall = Solid(
        name=f"wall of {body.name}",
        kind="wall",
        volume_cm3=volume / MM3_PER_CM3,
        center_mm=_center(parts[: 1 + len(inside)] if hollow else parts[:1]),
        told_by=told,
    )
    return wall, parts


def _wall_volume(
    body: Body, structure: Structure, mass_g: float, around_mm3: float | None
) -> tuple[float, str]:
    """Return the volume of a body's wall [mm³], and what tells it.

    `around_mm3` is what lies between skin and inside [mm³]; None where the inside is the skin.
    """
    density, wall = structure.density_g_cm3, structure.wall_mm
    if mass_g and density:
        return mass_g / density * MM3_PER_CM3, f"{mass_g:.0f} g of it at {density:g} g/cm³"
    if around_mm3 is not None:
        return around_mm3, f"wall of {wall or 0.0:g} mm"
    if wall is not None:
        return wall * body.shell.area_mm2, f"wall of {wall:g} mm"
    if structure.permeability is not None:
        share = 1.0 - structure.permeability
        return share * body.shell.volume_mm3, f"permeability {structure.permeability:g}"
    return 0.0, "no wall is known"


def _center(shares: Sequence[Share]) -> Point:
    """Return the center of surfaces with shares [mm]."""
    volume, moment = 0.0, np.zeros(3)
    for one in shares:
        here, middle = _volume_and_middle(one.tree)
        volume += one.share * here
        moment += one.share * here * middle
    x, y, z = (moment / volume).tolist()
    return (x, y, z)


def _volume_and_middle(tree: MomentTree) -> tuple[float, FloatArray]:
    """Return the volume of a closed surface and its centroid [mm³, mm]."""
    up = np.array([0.0, 0.0, 1.0])
    under = tree.under(up, tree.length_mm)
    return under.volume, under.position_integral / under.volume + tree.origin_mm


def _items(craft: Craft, items: Sequence[Item]) -> list[Solid]:
    """Return items of the ledger as what they displace; without a place at her CG."""
    center = craft.center_of_gravity_mm or (0.0, 0.0, 0.0)
    return [
        Solid(
            name=item.name,
            kind="item",
            volume_cm3=(item.mass_g or 0.0) / EQUIPMENT_G_CM3,
            center_mm=item.center_mm or center,
            told_by=f"{item.mass_g:g} g at {EQUIPMENT_G_CM3:g} g/cm³",
        )
        for item in items
    ]


def _unlisted(craft: Craft, walls_g: float) -> list[Solid]:
    """Return what is not wall of a craft without a ledger, at her CG."""
    grams = craft.mass_g - walls_g
    if grams <= 0.0:
        return []
    return [
        Solid(
            name="all else aboard",
            kind="item",
            volume_cm3=grams / EQUIPMENT_G_CM3,
            center_mm=craft.center_of_gravity_mm or (0.0, 0.0, 0.0),
            told_by=f"{grams:.0f} g at {EQUIPMENT_G_CM3:g} g/cm³",
        )
    ]


def _foams(compartments: Sequence[Compartment], sealed: Sequence[str]) -> list[Solid]:
    """Return the sealed foam in compartments that are open."""
    found = []
    for one in compartments:
        if one.foam_mm3 > 0.0 and one.name not in sealed:
            x, y, z = _volume_and_middle(one.tree)[1].tolist()
            place = (x, y, z) if one.foam_mm is None else one.foam_mm
            foam = Solid(
                name=f"foam in {one.name}",
                kind="foam",
                volume_cm3=one.foam_mm3 / MM3_PER_CM3,
                center_mm=place,
                told_by="foam_cm3 of the sheet",
            )
            found.append(foam)
    return found


def _sealed(compartments: Sequence[Compartment], sealed: Sequence[str]) -> list[Solid]:
    """Return the compartments that stay closed."""
    found = []
    for one in compartments:
        if one.name in sealed:
            volume, middle = _volume_and_middle(one.tree)
            x, y, z = middle.tolist()
            closed = Solid(
                name=one.name,
                kind="sealed",
                volume_cm3=volume / MM3_PER_CM3,
                center_mm=(x, y, z),
                told_by="kept closed",
            )
            found.append(closed)
    return found


def _is_in(
    craft: Craft, compartments: Sequence[Compartment], names: Sequence[str], point_mm: Point
) -> bool:
    """Return whether a point is in one of some compartments."""
    return bool(names) and compartment_holding(craft, compartments, point_mm) in names
