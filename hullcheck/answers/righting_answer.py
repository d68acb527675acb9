"""What rights her and what upsets her: the whole answer, from a craft."""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from hullcheck.answers.float_sizing import float_sizes
from hullcheck.answers.heeling import Heeling, no_center
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.load_report import load_report
from hullcheck.answers.rest import rest_of
from hullcheck.answers.righting_caveats import righting_caveats
from hullcheck.answers.righting_floats import float_reports
from hullcheck.answers.righting_records import RightingAnswer
from hullcheck.answers.righting_sides import (
    curve_rows,
    jump_reports,
    leading_side,
    opening_reports,
    rest_reports,
    side_reports,
)
from hullcheck.answers.righting_thrust import thrust_report
from hullcheck.answers.righting_upset import push_downs, upset_report
from hullcheck.answers.upset_loads import Loads, loaded, side_area, upset_of
from hullcheck.answers.upset_records import PushDown
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.floating import short_by_g
from hullcheck.flotation.upsetting import Upset
from hullcheck.units import DEG_PER_RAD

SCHEMA: Final = "hullcheck.righting/1"
HEELS_DEG: Final = tuple(float(heel) for heel in range(-180, 181, 5))
"""Rows of the curve unless others are asked for [deg]."""
_NO_LOADS: Final = Loads()


def righting_answer(
    craft: Craft,
    *,
    loads: Loads = _NO_LOADS,
    heels_deg: Sequence[float] = HEELS_DEG,
    heaviest: Craft | None = None,
) -> RightingAnswer:
    """Return what rights a craft and what upsets her.

    Parameters
    ----------
    craft : Craft
        What floats; her center of gravity must be known.
    loads : Loads, optional
        Off-center mass, wet wing, wind, turn.
    heels_deg : sequence of float, default −180 to 180 by 5
        Heels of the curve's rows, absolute heel of the craft [deg].
    heaviest : Craft, optional
        The setup that is pushed down to the water; the craft itself unless given.

    Returns
    -------
    RightingAnswer
        With `short_by_g` when she sinks.

    Raises
    ------
    InputError
        If no center of gravity is known, or a heel is not from −180 to 180°.
    SolverError
        If no rest was found.
    SurfaceError
        If much of what is under water had to be invented; see `answers.invented`.

    Examples
    --------
    >>> answer = righting_answer(craft, loads=Loads(wind_m_s=4.0))  # doctest: +SKIP
    """
    _check(craft, heels_deg)
    craft = loaded(craft, loads)
    short = short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=craft.water.density_kg_m3)
    if short >= 0.0:
        return replace(_begun(craft, "sinks"), short_by_g=short)
    heeling = Heeling.of(craft, all_attitudes=True)
    floating = heeling.rest.floating
    refuse_invented(craft, floating)
    answer = replace(
        _begun(craft, rest_of(craft, floating)),
        trim_deg=floating.trim_deg,
        heel_deg=floating.heel_deg,
        slope_at_rest_mm_per_deg=heeling.curve.slope(heeling.rest_heel) / DEG_PER_RAD,
        upright_slope_mm_per_deg=heeling.curve.slope(0.0) / DEG_PER_RAD,
        rows=curve_rows(heeling, heels_deg),
        attitudes=rest_reports(heeling),
        thrust=thrust_report(heeling),
    )
    answer = _on_both_sides(answer, heeling, loads)
    answer = replace(
        answer,
        push_down=_push_down(heeling, answer, heaviest, loads),
        jumps=jump_reports(heeling),
    )
    return replace(answer, warnings=righting_caveats(heeling, answer))


def heaviest_setup(crafts: Sequence[Craft]) -> Craft:
    """Return the heaviest of some crafts, the first of equals."""
    return max(crafts, key=lambda craft: craft.mass_g)


def righting_fails(answer: RightingAnswer) -> bool:
    """Return whether she sinks, capsizes, or is pushed over by what was asked for."""
    if answer.rest in {"sinks", "capsized"}:
        return True
    return answer.upset is not None and any(one.heel_deg is None for one in answer.upset.pushed)


def _check(craft: Craft, heels_deg: Sequence[float]) -> None:
    """Refuse a craft without a center of gravity, and heels that are none."""
    if craft.center_of_gravity_mm is None:
        raise no_center(craft)
    for heel in heels_deg:
        if not (math.isfinite(heel) and abs(heel) <= 180.0):
            raise InputError(f"heel {heel:g}°: must be from -180 to 180")


def _begun(craft: Craft, rest: str) -> RightingAnswer:
    """Return the answer as far as it needs no curve."""
    x, y, z = craft.center_of_gravity_mm or (math.nan,) * 3
    return RightingAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        mass_g=craft.mass_g,
        center_of_gravity_mm=(x, y, z),
        load=load_report(craft),
        water=craft.water,
        rest=rest,
    )


def _on_both_sides(answer: RightingAnswer, heeling: Heeling, loads: Loads) -> RightingAnswer:
    """Return the answer with what it comes to on either side: range, openings, floats, wind."""
    craft = heeling.craft
    openings = opening_reports(heeling)
    sides = side_reports(heeling, openings)
    lead = leading_side(heeling, sides)
    area = side_area(craft, heeling.rest.floating, loads.side_area)
    upset = upset_of(heeling, loads, area)
    floats = float_reports(heeling, upset, lambda body: float_sizes(craft, body, upset))
    flooding = [abs(s.downflooding_deg) for s in sides if s.downflooding_deg is not None]
    return replace(
        answer,
        openings=openings,
        sides=sides,
        downflooding_deg=min(flooding, default=None),
        range_deg=None if lead.range_deg is None else abs(lead.range_deg),
        greatest=lead.greatest,
        area_mm_rad=lead.area_mm_rad,
        floats=floats,
        upset=upset_report(heeling, loads, area, sides, floats),
    )


def _push_down(
    heeling: Heeling, answer: RightingAnswer, heaviest: Craft | None, loads: Loads
) -> tuple[PushDown, ...]:
    """Return the push-down test of the heaviest setup, what lies off center in it too."""
    if heaviest is None or heaviest.setup == heeling.craft.setup:
        return push_downs(heeling, answer.floats)
    craft = loaded(heaviest, loads)
    short = short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=craft.water.density_kg_m3)
    if craft.center_of_gravity_mm is None or short >= 0.0:
        return ()
    heavy = Heeling.of(craft)
    return push_downs(heavy, float_reports(heavy, Upset(), lambda _: ()))
