"""Where an item may sit so that CG, trim, heel and freeboard hold, or the least ballast instead."""

import math
from dataclasses import replace
from typing import Final

import numpy as np

from hullcheck.answers.afloat import Refloater
from hullcheck.answers.float_records import Point
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.limits import limit_checks
from hullcheck.answers.place_ballast import least_ballast, most_g
from hullcheck.answers.place_ends import inside_skin
from hullcheck.answers.place_floats import Floats
from hullcheck.answers.place_load import FreeItem, Wanted
from hullcheck.answers.place_records import (
    Arms,
    BallastCost,
    PlaceAnswer,
    PlaceRow,
)
from hullcheck.answers.place_room import Room, room_of
from hullcheck.answers.place_said import said_of
from hullcheck.answers.place_scan import Scan, across
from hullcheck.answers.place_spots import Spot, arms_of, end_spots
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.floating import held_at, short_by_g

SCHEMA: Final = "hullcheck.place/1"


def place_answer(
    build: Build, wanted: Wanted, *, ballast_at_mm: Point | None = None
) -> PlaceAnswer:
    """Return where an item may sit.

    Parameters
    ----------
    build : Build
        With a ledger that holds the item, and a CG band or limits.
    wanted : Wanted
        The item, the setup, and what is otherwise than in the ledger.
    ballast_at_mm : tuple of float, optional
        Where ballast would go if there is no place [mm]; else the nose or the tail.

    Returns
    -------
    PlaceAnswer
        The intervals of stations, her CG by moments and every limit by floating her again at each
        place; without one, the least ballast.

    Raises
    ------
    InputError
        If there is no such item, it has no mass or height, nothing is to be held, or a place lies
        outside the box it may be put in.
    SolverError
        If no rest was found.
    SurfaceError
        If much of what is under water had to be invented; see `answers.invented`.
    """
    free = FreeItem.of(build, wanted)
    craft = free.craft
    if craft.cg_range_mm is None and not craft.limits.afloat:
        raise InputError(
            f"{build.name}: nothing to place {free.item.name} by; write cg_range_mm under [craft], "
            "or freeboard_mm, trim_deg or heel_deg under [limits]"
        )
    floats = Floats(free, Refloater.of(craft))
    room = room_of(free, wanted)
    floating = floats.refloater.floating(*floats.load(room.place_mm(free.start_mm[0])))
    if floating is not None:
        refuse_invented(craft, floating)
    scan = _scanned(floats, room, wanted)
    answer = _answer(scan, free)
    if scan.best is None:
        answer = _with_ballast(answer, scan, ballast_at_mm)
    said = said_of(free, room, answer, ballast_is_given=ballast_at_mm is not None)
    return replace(answer, warnings=said)


def craft_of(build: Build, wanted: Wanted, answer: PlaceAnswer) -> Craft:
    """Return the craft as an answer has her: the item at its best place, or ballast aboard."""
    row = answer.best or (answer.ballast and answer.ballast.aboard) or answer.closest
    if row is None:
        raise AssertionError("an answer has a best or a closest place")
    return replace(
        FreeItem.of(build, wanted).craft_with((row.x_mm, row.y_mm, row.z_mm)),
        mass_g=row.mass_g,
        center_of_gravity_mm=(row.cg_x_mm, row.cg_y_mm, row.cg_z_mm),
    )


def _scanned(floats: Floats, room: Room, wanted: Wanted) -> Scan:
    """Return the item taken along at its own y, or beside it where only that holds."""
    scan = Scan.of(floats, room, room.y_mm)
    if scan.intervals or wanted.y_mm is not None or room.across_mm is None:
        return scan
    if not _lists(scan.closest):
        return scan
    low, high = room.across_mm
    others = sorted(np.linspace(low, high, 9).tolist(), key=lambda y: abs(y - room.y_mm))
    for y in others:
        if _lists(floats.row((scan.closest.x_mm, y, room.z_mm))):
            continue
        aside = Scan.of(floats, room, y)
        if aside.intervals:
            return aside
    return scan


def _lists(row: PlaceRow) -> bool:
    """Return whether she lists too much, or falls over."""
    return "heel_deg" in row.breaks or "capsizes" in row.breaks


def _answer(scan: Scan, free: FreeItem) -> PlaceAnswer:
    """Return the answer without ballast and without what is to be said beside it."""
    craft, best, level = free.craft, scan.best, _level_cg_mm(free)
    at = None if best is None else (best.x_mm, best.y_mm, best.z_mm)
    return replace(
        _begun(scan, free),
        intervals=scan.intervals,
        best=best,
        best_inside_skin=None if at is None else inside_skin(craft, (at,)),
        level_cg_x_mm=level,
        level_at_mm=None if level is None else free.station_for(level),
        level_holds=None if level is None else scan.holds(free.station_for(level)),
        across=across(scan),
        closest=None if best is not None else scan.closest,
        arms=_arms(free, level),
        short_by_g=_short_by_g(free),
        scan=scan.rows,
    )


def _begun(scan: Scan, free: FreeItem) -> PlaceAnswer:
    """Return the answer as far as it says what was asked."""
    floats, room, craft = scan.floats, scan.room, free.craft
    shown = scan.best or scan.closest
    return PlaceAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        water=craft.water,
        item=free.item.name,
        item_mass_g=free.item_mass_g,
        item_mass_from=free.mass_from,
        mass_g=free.mass_g,
        cg_moves_mm_per_mm=free.share,
        cg_range_mm=craft.cg_range_mm,
        limits=limit_checks(
            craft.limits,
            freeboard_mm=shown.freeboard_mm,
            trim_deg=shown.trim_deg,
            heel_deg=shown.heel_deg,
        ),
        now=None if free.now_mm is None else floats.row(free.now_mm),
        y_mm=scan.y_mm,
        z_mm=room.z_mm,
        within_mm=room.within_mm,
        along=room.along,
        along_mm=room.along_mm,
        step_mm=room.step_mm,
        across_mm=room.across_mm,
    )


def _arms(free: FreeItem, level: float | None) -> Arms | None:
    """Return the arms of nose and tail about the middle of the band, or where she floats level."""
    band = free.craft.cg_range_mm
    if band is not None:
        return arms_of(*end_spots(free.craft), "cg_range_mm", 0.5 * (band[0] + band[1]))
    return None if level is None else arms_of(*end_spots(free.craft), "level", level)


def _short_by_g(free: FreeItem) -> float | None:
    """Return how many grams too heavy she is; None where she floats."""
    density = free.craft.water.density_kg_m3
    short = short_by_g(free.craft.skin, mass_g=free.mass_g, density_kg_m3=density)
    return short if short >= 0.0 else None


def _with_ballast(answer: PlaceAnswer, scan: Scan, given_mm: Point | None) -> PlaceAnswer:
    """Return the answer with the least ballast that helps, where there is no place."""
    if answer.short_by_g is not None:
        return answer
    floats, room = scan.floats, scan.room
    spots: tuple[Spot, ...] = end_spots(floats.free.craft)
    if given_mm is not None:
        spots = (Spot(name="given", points_mm=(given_mm,)),)
    stations = dict.fromkeys((*room.along_mm, scan.closest.x_mm, *room.inside(answer.now)))
    places = [(x, scan.y_mm, room.z_mm) for x in stations]
    found: BallastCost | None = least_ballast(floats, spots, places)
    return replace(answer, ballast=found, ballast_tried_g=most_g(floats))


def _level_cg_mm(free: FreeItem) -> float | None:
    """Return the station of her CG with which she floats level [mm]; None if she sinks."""
    if _short_by_g(free) is not None:
        return None
    craft = free.craft
    level = held_at(craft.skin, mass_g=free.mass_g, density_kg_m3=craft.water.density_kg_m3)
    station = float(level.center_of_buoyancy_mm[0])
    return None if math.isnan(station) else station
