"""From a build sheet's checked keys to what is at her besides bodies and weights."""

from collections.abc import Sequence
from functools import partial

import numpy as np

from hullcheck.craft.fittings import (
    G_PER_CM3,
    Bulkhead,
    Equipment,
    Fittings,
    Leak,
    Lid,
    Mark,
    Propeller,
    Reference,
    Seam,
    Structure,
    Wing,
)
from hullcheck.craft.ledger import Ledger
from hullcheck.files.sheet import SheetFile
from hullcheck.files.sheet_model import BodyKeys, LeakKeys, SeamKeys
from hullcheck.files.toml_lines import Path as KeyPath

Point = tuple[float, float, float]


def point(values: Sequence[float]) -> Point:
    """Return three numbers of the sheet as a point."""
    x, y, z = (float(value) for value in values)
    return (x, y, z)


def fittings_of(sheet: SheetFile, ledger: Ledger) -> Fittings:
    """Return wing, propeller, lids, seams, equipment, marks and leaks."""
    keys = sheet.keys
    line = keys.reference.line_mm
    wing, propeller = keys.wing, keys.propeller
    return Fittings(
        reference=Reference(
            wing_angle_deg=keys.reference.wing_angle_deg,
            line_mm=None if line is None else (point(line[0]), point(line[1])),
        ),
        wing=None
        if wing is None
        else Wing(tip_mm=point(wing.tip_mm), chord_mm=wing.chord_mm or 0.0),
        propeller=None
        if propeller is None
        else Propeller(
            hub_mm=point(propeller.hub_mm),
            diameter_mm=propeller.diameter_mm,
            thrust_g=propeller.thrust_g,
            up_deg=propeller.up_deg,
        ),
        lids=tuple(Lid(name=lid.name, outline_mm=np.array(lid.outline_mm)) for lid in keys.lid),
        seams=_seams(sheet),
        equipment=_equipment(sheet, ledger),
        marks=tuple(
            Mark(name=mark.name, point_mm=point(mark.point_mm), along=mark.along)
            for mark in keys.mark
        ),
        leaks=_leaks(sheet),
    )


def structure_of(sheet: SheetFile, index: int) -> Structure:
    """Return what a body is made of and how it is divided."""
    keys: BodyKeys = sheet.keys.body[index]
    path: KeyPath = ("body", index)
    if keys.wall_mm is not None and keys.permeability is not None:
        raise sheet.refused((*path, "permeability"), "stands beside wall_mm; keep one of them")
    density = keys.density_g_cm3
    if density is not None and keys.material in G_PER_CM3:
        raise sheet.refused(
            (*path, "density_g_cm3"),
            f"stands beside material {keys.material}, whose density is known "
            f"({G_PER_CM3[keys.material]:g}); keep one of them",
        )
    if keys.foam_mm is not None and keys.foam_cm3 is None:
        raise sheet.refused((*path, "foam_mm"), "says where foam is; foam_cm3 must say how much")
    stations = [bulkhead.station_mm for bulkhead in keys.bulkheads]
    for i, station in enumerate(stations[1:], start=1):
        if not station > stations[i - 1]:
            raise sheet.refused(
                (*path, "bulkheads", i, "station_mm"),
                f"{station:g} does not lie aft of {stations[i - 1]:g}; list them from the bow",
            )
    return Structure(
        wall_mm=keys.wall_mm,
        permeability=keys.permeability,
        density_g_cm3=G_PER_CM3.get(keys.material or "") if density is None else density,
        material=keys.material,
        foam_cm3=keys.foam_cm3 or 0.0,
        foam_mm=None if keys.foam_mm is None else point(keys.foam_mm),
        bulkheads=tuple(
            Bulkhead(station_mm=b.station_mm, watertight=b.watertight, limber_mm=b.limber_mm)
            for b in keys.bulkheads
        ),
    )


def _seams(sheet: SheetFile) -> tuple[Seam, ...]:
    """Return the seams, each in a body that is there."""
    bodies = [body.name for body in sheet.keys.body]
    bodies += [body.mirror for body in sheet.keys.body if body.mirror]
    for i, keys in enumerate(sheet.keys.seam):
        sheet.check_known(("seam", i, "body"), keys.body, bodies, "body of the sheet")
    return tuple(
        sheet.kept(("seam", i), partial(_seam, keys)) for i, keys in enumerate(sheet.keys.seam)
    )


def _seam(keys: SeamKeys) -> Seam:
    """Return one seam."""
    points = None if keys.points_mm is None else np.array(keys.points_mm)
    return Seam(name=keys.name, body=keys.body, station_mm=keys.station_mm, points_mm=points)


def _equipment(sheet: SheetFile, ledger: Ledger) -> tuple[Equipment, ...]:
    """Return the equipment, each an item of the ledger and named once."""
    found: list[Equipment] = []
    for i, keys in enumerate(sheet.keys.equipment):
        path: KeyPath = ("equipment", i, "item")
        sheet.check_known(path, keys.item, ledger.names, "item of the ledger")
        if any(one.item == keys.item for one in found):
            raise sheet.refused(path, f'"{keys.item}" is there already; names are used once')
        room = keys.within_mm
        found.append(
            Equipment(
                item=keys.item,
                lowest_mm=None if keys.lowest_mm is None else point(keys.lowest_mm),
                within_mm=None if room is None else _room(sheet, i, room),
            )
        )
    return tuple(found)


def _room(sheet: SheetFile, index: int, room: Sequence[Sequence[float]]) -> tuple[Point, Point]:
    """Return a box's corners, the lesser coordinates first."""
    low, high = point(room[0]), point(room[1])
    if any(a > b for a, b in zip(low, high, strict=True)):
        raise sheet.refused(
            ("equipment", index, "within_mm"),
            f"{list(room)}: the corner with the lesser coordinates comes first",
        )
    return low, high


def _leaks(sheet: SheetFile) -> tuple[Leak, ...]:
    """Return the leaks."""
    return tuple(
        sheet.kept(("leak", i), partial(_leak, keys)) for i, keys in enumerate(sheet.keys.leak)
    )


def _leak(keys: LeakKeys) -> Leak:
    """Return one leak."""
    return Leak(
        name=keys.name,
        point_mm=point(keys.point_mm),
        diameter_mm=keys.diameter_mm,
        crack_width_mm=keys.crack_width_mm,
        crack_length_mm=keys.crack_length_mm,
        wall_mm=keys.wall_mm,
    )
