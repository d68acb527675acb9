"""The waterline of every body that the water meets, station by station."""

import math

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.marking_load import Loaded
from hullcheck.answers.marking_records import MarkedBody, Meets, SideMark, StationMark
from hullcheck.answers.marking_sections import KeelSection, keel_section
from hullcheck.answers.marking_spread import known_mm
from hullcheck.answers.marking_stations import (
    Station,
    asked_stations,
    refuse_outside,
    refuse_without_section,
    stations_of,
)
from hullcheck.craft.bodies import Body
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import plane_cut
from hullcheck.geometry.sections import Slices

Pairs = list[tuple[Station, KeelSection]]


def marked_bodies(
    build: Build,
    loaded: Loaded,
    floating: Floating,
    every_mm: float,
    stations_mm: tuple[float, ...],
) -> list[tuple[MarkedBody, tuple[KeelSection, ...]]]:
    """Return each body that the water meets, hull and main floats first, with its sections.

    Parameters
    ----------
    build : Build
        For its bulkheads.
    loaded : Loaded
        What floats.
    floating : Floating
        Where it rests.
    every_mm : float
        How far apart stations are [mm].
    stations_mm : tuple of float
        Only these stations instead, where there are any [mm].

    Raises
    ------
    InputError
        If a station meets no body that is in the water or has no section there, or there would be
        too many.
    """
    rings = _rings(loaded.craft, floating)
    if rings:
        refuse_outside(stations_mm, tuple(body for body, _ in rings))
    cuts: list[tuple[Body, FloatArray, Pairs]] = []
    for body, ring in rings:
        ends = (float(ring[:, 0].min()), float(ring[:, 0].max()))
        wanted = asked_stations(stations_mm, body)
        if not stations_mm:
            wanted = stations_of(build, loaded.craft, body, ends, every_mm)
        cuts.append((body, ring, _pairs(body, wanted)))
    if rings:
        found = [station.station_mm for *_, pairs in cuts for station, _ in pairs]
        refuse_without_section(stations_mm, found, tuple(body for body, _ in rings))
    sections = [section for *_, pairs in cuts for _, section in pairs]
    known = known_mm(loaded.craft, loaded.placed_mm, sections, floating)
    rows, done = [], 0
    for body, ring, pairs in cuts:
        about = None if known is None else known[done : done + len(pairs)]
        marks = tuple(
            _station(*pair, None if about is None else about[i], floating)
            for i, pair in enumerate(pairs)
        )
        marked = MarkedBody(
            name=body.name,
            role=body.role,
            fore_mm=_point(ring[int(ring[:, 0].argmin())]),
            aft_mm=_point(ring[int(ring[:, 0].argmax())]),
            stations=marks,
        )
        rows.append((marked, tuple(section for _, section in pairs)))
        done += len(pairs)
    return rows


def _rings(craft: Craft, floating: Floating) -> list[tuple[Body, FloatArray]]:
    """Return the bodies that the water meets, each with the points of its waterline."""
    deck = craft.deck_bodies
    rings = []
    for body in (*deck, *(b for b in craft.bodies if b not in deck)):
        loops = plane_cut(body.shell.triangles_mm, floating.normal, floating.height_mm)
        if loops:
            rings.append((body, np.concatenate(loops)))
    return rings


def _pairs(body: Body, wanted: tuple[Station, ...]) -> Pairs:
    """Return the stations where a body has a section, with it."""
    slices, middle = Slices(body.shell.triangles_mm), body.shell.center_plane_mm
    return [
        (one, section)
        for one in wanted
        if (section := keel_section(slices, one.station_mm, middle, ahead=one.is_step))
    ]


def _station(
    station: Station, section: KeelSection, known: FloatArray | None, floating: Floating
) -> StationMark:
    """Return the record of one station."""
    normal, height = floating.normal, floating.height_mm
    sides: list[SideMark | None] = []
    for number, way in enumerate((section.starboard, section.port)):
        found = way.crossing(normal, height)
        about = None if known is None else known[2 * number : 2 * number + 2]
        sides.append(None if found is None else _side(section, *found, about))
    depth = height - float(section.keel_mm @ normal)
    above = section.heights_mm(normal, height)
    meets: Meets = "meets the water"
    if above.min() >= 0.0:
        meets = "clear of the water"
    elif above.max() < 0.0:
        meets = "under water"
    return StationMark(
        station_mm=station.station_mm,
        at=station.at,
        keel_mm=_point(section.keel_mm),
        keel_depth_mm=depth,
        meets=meets,
        crossings=section.crossings(normal, height),
        starboard=sides[0],
        port=sides[1],
    )


def _side(
    section: KeelSection, girth_mm: float, place: FloatArray, known: FloatArray | None
) -> SideMark:
    """Return the record of one side of a station."""
    return SideMark(
        girth_mm=girth_mm,
        vertical_mm=float(place[2] - section.keel_mm[2]),
        point_mm=_point(place),
        girth_plus_minus_mm=None if known is None else _finite(known[0]),
        vertical_plus_minus_mm=None if known is None else _finite(known[1]),
    )


def _finite(value: float) -> float | None:
    """Return a number, or None where there is none."""
    return float(value) if math.isfinite(value) else None


def _point(place: FloatArray) -> Point:
    """Return a point as a record has it."""
    x, y, z = (float(value) + 0.0 for value in place)
    return (x, y, z)
