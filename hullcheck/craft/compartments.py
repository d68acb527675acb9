"""The compartments of a build: the inside of each body between its watertight bulkheads."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

from hullcheck.craft.bodies import Body
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.build import Build
from hullcheck.craft.compartment import (
    Compartment,
    Method,
    adjacent_pairs,
    compartment_named,
)
from hullcheck.craft.fittings import Point, Structure
from hullcheck.errors import InputError, SurfaceError
from hullcheck.geometry.compartments import cut_at_stations
from hullcheck.geometry.inset import inset
from hullcheck.geometry.topology import Mesh, merged
from hullcheck.units import MM3_PER_CM3

__all__ = [
    "Compartment",
    "adjacent_pairs",
    "compartment_named",
    "compartments_in",
    "compartments_of",
]

_LEAST: Final = 1e-6
"""Permeability left where sealed foam fills a compartment up: next to no water fits in."""

_OVERFULL: Final = 1e-9

Foam = tuple[float, Point | None]
"""Sealed foam [mm³] and where it is [mm]; None where that is not said."""


@lru_cache(maxsize=2)
def compartments_of(build: Build) -> tuple[Compartment, ...]:
    """Return the compartments of a build; see `compartments_in`. The last two builds' are kept."""
    return compartments_in(build.bodies, build.structures, build.skins)


def compartments_in(
    bodies: Sequence[Body],
    structures: Mapping[str, Structure],
    skins: Sequence[BodySkin] = (),
) -> tuple[Compartment, ...]:
    """Return the compartments of bodies, body after body, each from the bow.

    Parameters
    ----------
    bodies : sequence of Body
        In body axes.
    structures : mapping of str to Structure
        What each is made of, by its name; a body that is not there may fill altogether.
    skins : sequence of BodySkin, optional
        What the bodies are made of: foam of a sheet's body of several shells, or of its twin, is
        put into the right one.

    Returns
    -------
    tuple of Compartment
        Only watertight bulkheads part a body; through limber holes water runs.

    Raises
    ------
    InputError
        If sealed foam is given that does not fit in.
    SurfaceError
        If a body cannot be cut at its bulkheads.
    """
    foams = _foams(bodies, structures, skins)
    found = [
        one
        for body in bodies
        for one in _of_body(body, structures.get(body.name, Structure()), foams.get(body.name))
    ]
    names = Counter(one.name for one in found)
    return tuple(
        replace(one, name=f"{one.body}.{one.number}") if names[one.name] > 1 else one
        for one in found
    )


def _of_body(body: Body, structure: Structure, foam: Foam | None) -> list[Compartment]:
    """Return the compartments of one body."""
    mesh, permeability, method, note = _inside(body, structure)
    stations = [bulkhead.station_mm for bulkhead in structure.bulkheads if bulkhead.watertight]
    parts = cut_at_stations(body.name, mesh, stations)
    made = []
    for number, part in enumerate(parts, start=1):
        name = body.name
        if len(parts) > 1:
            name += f".{number}" if body.name[-1:].isdigit() else f" {number}"
        made.append(
            Compartment(
                name=name,
                body=body.name,
                number=number,
                mesh=part.mesh,
                volume_mm3=part.volume_mm3,
                permeability=permeability,
                first_station_mm=part.first_station_mm,
                last_station_mm=part.last_station_mm,
                method=method,
                note=note,
            )
        )
    return made if foam is None else _with_foam(body.name, made, foam)


def _inside(body: Body, structure: Structure) -> tuple[Mesh, float, Method, str]:
    """Return a body's inside, its permeability, how they were found, and what to say of it."""
    skin = merged(body.shell.triangles_mm)
    if structure.permeability is not None:
        return skin, structure.permeability, "whole skin", ""
    if structure.wall_mm is None:
        return (
            skin,
            1.0,
            "whole skin",
            f"{body.name}: neither wall_mm nor permeability is given, so water may fill all of it",
        )
    try:
        return (
            inset(body.name, body.shell.triangles_mm, structure.wall_mm).mesh,
            1.0,
            "skin less the wall",
            "",
        )
    except SurfaceError as problem:
        share = 1.0 - structure.wall_mm * body.shell.area_mm2 / body.shell.volume_mm3
        if not share > _LEAST:
            raise
        return (
            skin,
            share,
            "whole skin less the wall's share",
            f"{problem}; its wall was taken off as a share of the volume instead",
        )


def _with_foam(name: str, parts: list[Compartment], foam: Foam) -> list[Compartment]:
    """Return the compartments of a body with sealed foam taken off what water can fill."""
    volume, place = foam
    if place is None:
        whole = sum(one.volume_mm3 for one in parts)
        shares = [volume * one.volume_mm3 / whole for one in parts]
        said = f"{name}: foam_mm is not given, so its foam is spread evenly through the inside"
    else:
        ends = [one.last_station_mm for one in parts[:-1]]
        there = sum(place[0] > end for end in ends)
        shares = [volume if i == there else 0.0 for i in range(len(parts))]
        said = ""
    return [
        _less_foam(one, share, place, said) if share > 0.0 else one
        for one, share in zip(parts, shares, strict=True)
    ]


def _less_foam(one: Compartment, foam_mm3: float, place: Point | None, said: str) -> Compartment:
    """Return a compartment with foam in it; InputError if it does not fit."""
    if foam_mm3 > one.capacity_mm3 * (1.0 + _OVERFULL):
        raise InputError(
            f"{one.name}: {foam_mm3 / MM3_PER_CM3:.4g} cm³ of foam do not fit in it; it holds "
            f"{one.capacity_mm3 / MM3_PER_CM3:.4g} cm³"
        )
    return replace(
        one,
        permeability=max(one.permeability - foam_mm3 / one.volume_mm3, _LEAST),
        foam_mm3=foam_mm3,
        foam_mm=place,
        note=". ".join(text for text in (one.note, said) if text),
    )


def _foams(
    bodies: Sequence[Body], structures: Mapping[str, Structure], skins: Sequence[BodySkin]
) -> dict[str, Foam]:
    """Return the sealed foam in each body by its name.

    A sheet's body of several shells has its foam once: in the shell it lies in, else the largest.
    """
    found: dict[str, Foam] = {}
    groups = [
        [body for body in bodies if any(body.shell is shell for shell in skin.shells)]
        for skin in skins
    ]
    grouped = {body.name for group in groups for body in group}
    groups += [[body] for body in bodies if body.name not in grouped]
    for group in groups:
        structure = structures.get(group[0].name) if group else None
        if structure is None or structure.foam_cm3 == 0.0:
            continue
        volume = structure.foam_cm3 * MM3_PER_CM3
        largest = max(group, key=lambda body: body.shell.volume_mm3)
        if structure.foam_mm is None:
            found[largest.name] = (volume, None)
            continue
        x, y, z = structure.foam_mm
        # A twin has what its body has, on the other side.
        places: tuple[Point, ...] = ((x, y, z), (x, -y, z))
        body, place = next(
            ((body, at) for at in places for body in group if _in_box(body, at)),
            (largest, places[0]),
        )
        found[body.name] = (volume, place)
    return found


def _in_box(body: Body, place: Point) -> bool:
    """Return whether a place lies in the box around a body."""
    return all(
        low <= at <= high
        for low, at, high in zip(
            body.shell.low_mm.tolist(), place, body.shell.high_mm.tolist(), strict=True
        )
    )
