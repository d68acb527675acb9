"""Where she floats: the whole answer, from a craft."""

import math
from dataclasses import replace

import numpy as np

from hullcheck.answers.body_shares import body_shares, direct_moments
from hullcheck.answers.caveats import caveats
from hullcheck.answers.float_records import (
    AttitudeReport,
    BodyShare,
    FloatAnswer,
    Freeboard,
    Level,
    Pair,
    Point,
    Reserve,
    Residual,
    StepReport,
    Waterline,
    Waterplane,
)
from hullcheck.answers.freeboard import Deck, drafts, freeboard, height_mm, reserve_volume_mm3
from hullcheck.answers.grams_left import margin_of
from hullcheck.answers.heights import clearances
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.limits import limit_checks
from hullcheck.answers.load_report import load_report
from hullcheck.answers.place_caveats import deck_caveats, lever_caveats
from hullcheck.answers.rest import rest_of
from hullcheck.answers.uncertainty import height_plus_minus_mm
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating, Rest, float_at, held_at, short_by_g
from hullcheck.flotation.load import mass_of
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import level_directions
from hullcheck.geometry.moments import VolumeMoments
from hullcheck.geometry.sections import Cuts, cut_segments
from hullcheck.geometry.step import Step, find_step
from hullcheck.units import MM2_PER_CM2, MM3_PER_CM3

SCHEMA = "hullcheck.float/1"


def float_answer(craft: Craft, *, all_attitudes: bool = False) -> FloatAnswer:
    """Return where a craft floats.

    Parameters
    ----------
    craft : Craft
        What floats, what it weighs, in what water.
    all_attitudes : bool, default False
        Whether to look for every other stable attitude too.

    Returns
    -------
    FloatAnswer
        At rest, set down upright; held level when no center of gravity is known; with `short_by_g`
        when she sinks.

    Raises
    ------
    SolverError
        If no rest was found.
    SurfaceError
        If much of what is under water had to be invented; see `answers.invented`.
    """
    density = craft.water.density_kg_m3
    cuts = {body.name: Cuts(body.shell.triangles_mm) for body in craft.bodies}
    steps = {
        body.name: find_step(body.shell.triangles_mm, cuts=cuts[body.name]) for body in craft.bodies
    }
    short = short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=density)
    if short >= 0.0:
        return _sunk(craft, short, steps)
    level = held_at(craft.skin, mass_g=craft.mass_g, density_kg_m3=density)
    rest = None
    if craft.center_of_gravity_mm is not None:
        rest = float_at(
            craft.skin,
            mass_g=craft.mass_g,
            center_of_gravity_mm=craft.center_of_gravity_mm,
            density_kg_m3=density,
            all_attitudes=all_attitudes,
        )
    return _afloat(craft, level, rest, steps, Deck.of(craft, steps, cuts[craft.deck_body.name]))


def _begun(craft: Craft, rest: Rest | None, shares: tuple[BodyShare, ...]) -> FloatAnswer:
    """Return the answer as far as it needs no waterline."""
    return FloatAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        mass_g=craft.mass_g,
        center_of_gravity_mm=craft.center_of_gravity_mm,
        load=load_report(craft),
        water=craft.water,
        rest=None,
        bodies=shares,
        step=_step_of(craft, shares),
        warnings=caveats(craft, rest, shares),
    )


def _afloat(
    craft: Craft,
    level: Floating,
    rest: Rest | None,
    steps: dict[str, Step | None],
    deck: Deck,
) -> FloatAnswer:
    """Return the answer of a craft that floats; held level when she has no rest."""
    floating = level if rest is None else rest.floating
    refuse_invented(craft, floating)
    direct = direct_moments(craft, floating)
    shares = body_shares(craft, floating, direct, steps)
    heights = freeboard(craft, deck, floating)
    volume, wanted = floating.displaced_volume_mm3, _level(craft, level)
    answer = replace(
        _begun(craft, rest, shares),
        displaced_volume_cm3=volume / MM3_PER_CM3,
        center_of_buoyancy_mm=_point(floating.center_of_buoyancy_mm),
        waterline=Waterline(normal=_point(floating.normal), height_mm=floating.height_mm),
        trim_deg=floating.trim_deg,
        heel_deg=floating.heel_deg,
        level=wanted,
        draft_mm=drafts(deck, floating, deepest_mm=_deepest(craft, shares)),
        freeboard_mm=heights,
        clearances_mm=clearances(craft, floating),
        waterplane=_waterplane(craft, floating),
        metacentric_radius_mm=_pair(floating.metacentric_radius_mm),
        sinkage_g_per_mm=_grams(craft, floating.waterplane_area_mm2),
        wetted_area_cm2=floating.wetted_area_mm2 / MM2_PER_CM2,
        reserve_buoyancy=_reserve(craft, floating, heights.least, heights.at),
        residual=_residual(craft, floating, direct),
        closure_error_cm2=sum(m.closure_area for m in direct) / MM2_PER_CM2,
    )
    answer = answer.with_warnings((*lever_caveats(craft, wanted), *deck_caveats(heights)))
    return answer if rest is None else _at_rest(answer, craft, rest, deck)


def _at_rest(answer: FloatAnswer, craft: Craft, rest: Rest, deck: Deck) -> FloatAnswer:
    """Return the answer with what only a known center of gravity tells: how stiffly she rests."""
    floating = rest.floating
    margin = margin_of(craft, deck, floating)
    least = None if answer.freeboard_mm is None else answer.freeboard_mm.least
    lever = floating.metacentric_height_mm
    per_degree = craft.mass_g * math.tan(math.radians(1.0))
    return replace(
        answer,
        rest=rest_of(craft, floating),
        upright_is_stable=rest.upright_is_stable,
        stable=floating.stable,
        metacentric_height_mm=None if lever is None else _pair(lever),
        moment_to_trim_g_mm_per_deg=None if lever is None else per_degree * lever[1],
        moment_to_heel_g_mm_per_deg=None if lever is None else per_degree * lever[0],
        attitudes=tuple(_attitude(craft, f) for f in rest.attitudes),
        limits=limit_checks(
            craft.limits,
            freeboard_mm=least,
            trim_deg=floating.trim_deg,
            heel_deg=floating.heel_deg,
        ),
        freeboard_mm=_read(answer.freeboard_mm, craft, deck),
        margin_g=None if margin is None else margin.mass_g,
        margin_plus_minus_g=None if margin is None else margin.plus_minus_g,
        margin_limited_by=None if margin is None else margin.limited_by,
        margin_at=None if margin is None else margin.at,
    )


def _read(board: Freeboard | None, craft: Craft, deck: Deck) -> Freeboard | None:
    """Return heights with how well the least of them is known."""
    if board is None or board.least is None:
        return board
    known = height_plus_minus_mm(craft, lambda floating: height_mm(craft, deck, floating))
    return replace(board, plus_minus=known)


def _sunk(craft: Craft, short: float, steps: dict[str, Step | None]) -> FloatAnswer:
    """Return the answer of a craft heavier than her whole skin's buoyancy."""
    return replace(
        _begun(craft, None, body_shares(craft, None, None, steps)),
        rest="sinks",
        short_by_g=short,
        margin_g=0.0 if craft.limits.afloat else None,
        margin_limited_by="sinks" if craft.limits.afloat else None,
        limits=limit_checks(craft.limits, freeboard_mm=None, trim_deg=None, heel_deg=None),
    )


def _step_of(craft: Craft, shares: tuple[BodyShare, ...]) -> StepReport | None:
    """Return the step of the body that freeboard is read off."""
    return next(share.step for share in shares if share.name == craft.deck_body.name)


def _deepest(craft: Craft, shares: tuple[BodyShare, ...]) -> float:
    """Return how deep the lowest point of the hulls and main floats lies [mm]."""
    names = {body.name for body in craft.deck_bodies}
    return max(-(share.clearance_mm or 0.0) for share in shares if share.name in names)


def _level(craft: Craft, level: Floating) -> Level:
    """Return what holding her level says of where her center of gravity must be."""
    deepest = min(float(body.shell.low_mm[2]) for body in craft.deck_bodies)
    center = craft.center_of_gravity_mm
    buoyancy = level.center_of_buoyancy_mm
    return Level(
        draft_mm=level.height_mm - deepest,
        center_of_buoyancy_mm=_point(buoyancy),
        cg_aft_of_cb_mm=None if center is None else center[0] - float(buoyancy[0]),
        highest_cg_z_mm=float(buoyancy[2]) + level.metacentric_radius_mm[0],
    )


def _waterplane(craft: Craft, floating: Floating) -> Waterplane:
    """Return the waterplane of all bodies with its length and beam along and across."""
    segments = cut_segments(craft.skin.triangles_mm, floating.normal, floating.height_mm)
    along, across = level_directions(
        trim=math.radians(floating.trim_deg), heel=math.radians(floating.heel_deg)
    )
    points = segments.reshape(-1, 3)
    return Waterplane(
        area_cm2=floating.waterplane_area_mm2 / MM2_PER_CM2,
        centroid_mm=_point(floating.center_of_flotation_mm),
        length_mm=float(np.ptp(points @ along)) if len(points) else 0.0,
        beam_mm=float(np.ptp(points @ across)) if len(points) else 0.0,
    )


def _reserve(craft: Craft, floating: Floating, least: float | None, at: str | None) -> Reserve:
    """Return the buoyancy left until the water stands at the point that limits."""
    volume = floating.displaced_volume_mm3
    reserve = None if least is None else reserve_volume_mm3(craft, floating, least)
    return Reserve(
        to_first_opening_cm3=None if reserve is None else reserve / MM3_PER_CM3,
        to_first_opening_percent=None if reserve is None else 100.0 * reserve / volume,
        limited_by=at,
        envelope_ratio=craft.skin.volume_mm3 / volume,
    )


def _residual(craft: Craft, floating: Floating, direct: tuple[VolumeMoments, ...]) -> Residual:
    """Return |ρV − m| and m |G − B across n| from the direct pass."""
    volume = sum(m.volume for m in direct)
    moment = None
    if craft.center_of_gravity_mm is not None:
        position = np.sum([m.position_integral for m in direct], axis=0)
        buoyancy = craft.skin.tree.origin_mm + position / volume
        lever = np.array(craft.center_of_gravity_mm) - buoyancy
        across = lever - (lever @ floating.normal) * floating.normal
        moment = craft.mass_g * float(np.linalg.norm(across))
    return Residual(mass_g=abs(_grams(craft, volume) - craft.mass_g), moment_g_mm=moment)


def _grams(craft: Craft, volume_mm3: float) -> float:
    """Return what a volume of her water weighs [g]."""
    return mass_of(volume_mm3=volume_mm3, density_kg_m3=craft.water.density_kg_m3)


def _attitude(craft: Craft, floating: Floating) -> AttitudeReport:
    """Return a stable attitude as it is listed."""
    return AttitudeReport(
        trim_deg=floating.trim_deg,
        heel_deg=floating.heel_deg,
        height_mm=floating.height_mm,
        normal=_point(floating.normal),
        rest=rest_of(craft, floating),
    )


def _point(values: FloatArray) -> Point:
    """Return an array of three as a plain tuple, without negative zeros."""
    x, y, z = (float(v) + 0.0 for v in values)
    return (x, y, z)


def _pair(values: tuple[float, float]) -> Pair:
    """Return across and along as a record."""
    return Pair(transverse=values[0], longitudinal=values[1])
