"""Her mass and center of gravity from scales under her: two, three, one, level and tilted."""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from hullcheck.answers.float_records import Caveat
from hullcheck.answers.scales_records import (
    ANGLE_PLUS_MINUS_DEG,
    POSITION_PLUS_MINUS_MM,
    SCALE_PLUS_MINUS_G,
    CenterHeight,
    OnScales,
    ScalesReport,
    Support,
    Three,
    check_plus_minus,
)
from hullcheck.answers.scales_trial import Trial
from hullcheck.errors import InputError
from hullcheck.units import DEG_PER_RAD

_ROUGH_MM: Final = 10.0
"""A height known no better than this is said to be rough."""


def weighed(weighings: Sequence[OnScales], *, height: CenterHeight | None = None) -> ScalesReport:
    """Return mass [g] and center of gravity [mm] from one or more weighings, each with its ±.

    Parameters
    ----------
    weighings : sequence of OnScales
        One: her center along (and across, with two scales abreast and one more). Two or more at
        attitudes at least 1° apart: its height too.
    height : CenterHeight, optional
        Height of the CG from elsewhere, for the correction of a weighing that was not level. Not
        used where a tilted weighing tells it.

    Returns
    -------
    ScalesReport

    Raises
    ------
    InputError
        If she was not level and no height is known; if a support has two places; if a second
        weighing is not tilted against the first.

    Notes
    -----
    The sum of the readings acts through their center P = Σ R p/Σ R, plumb under or over G, so
    e_L·(G − P) = 0 and e_T·(G − P) = 0 in each attitude, e_L and e_T level aft and level to
    starboard. On supports of equal z, bow up by τ: x_G = x_P − (z_G − z_P) tan τ. Two attitudes:
    z_G = z_P + (x_P2 − x_P1)/(tan τ₂ − tan τ₁): small tilts magnify every error by 1/tan.

    The ± come from linear propagation; each reading, place and angle is out independently of the
    others, but a support that serves twice is out by the same both times.
    """
    trial = Trial(weighings, height)
    found = trial.solve(trial.values)
    shares = trial.shares()
    told = trial.told
    spread = [
        math.hypot(*(getattr(share, field) for share in shares))
        for field in ("mass_g", "x_mm", "y_mm", "z_mm")
    ]
    first = weighings[0]
    as_read = math.fsum(s.x_mm * grams for s, grams in first.readings) / first.mass_g
    sums = [one.mass_g for one in weighings]
    report = ScalesReport(
        mass_g=float(found[0]),
        plus_minus_g=spread[0],
        center_of_gravity_mm=_three(found[1:].tolist(), told),
        center_plus_minus_mm=_three(spread[1:], told),
        height_from=trial.height_from,
        as_read_station_mm=as_read,
        correction_mm=float(found[1]) - as_read,
        sums_differ_g=max(sums) - min(sums) if len(sums) > 1 else None,
        shares=shares,
    )
    return replace(report, warnings=_caveats(report, weighings))


def two_scales(
    forward: tuple[float, float],
    aft: tuple[float, float],
    *,
    support_z_mm: float = 0.0,
    bow_up_deg: float = 0.0,
    plus_minus_g: float = SCALE_PLUS_MINUS_G,
    plus_minus_mm: float = POSITION_PLUS_MINUS_MM,
    plus_minus_deg: float = ANGLE_PLUS_MINUS_DEG,
) -> OnScales:
    """Return a weighing on two scales, each given as reading [g] and station [mm].

    Parameters
    ----------
    forward, aft : tuple of float
        Reading [g] and station [mm]. A tilted weighing on the same supports is the same call with
        other readings and `bow_up_deg`.
    support_z_mm : float
        Height in body axes at which both touch her [mm].
    bow_up_deg : float
        How far the datum line is bow up [deg].
    plus_minus_g, plus_minus_mm, plus_minus_deg : float
        How well each scale, each place and the angle are known.

    Examples
    --------
    >>> level = two_scales((420.0, 120.0), (286.0, 440.0))
    >>> weighed([level]).center_of_gravity_mm[0] == (420 * 120 + 286 * 440) / 706
    True
    """
    readings = tuple(
        (Support(name=name, x_mm=x, z_mm=support_z_mm, plus_minus_mm=plus_minus_mm), grams)
        for name, (grams, x) in (("forward scale", forward), ("aft scale", aft))
    )
    return OnScales(
        readings=readings,
        bow_up_deg=bow_up_deg,
        plus_minus_g=plus_minus_g,
        plus_minus_deg=plus_minus_deg,
    )


def balanced(
    mass_g: float,
    station_mm: float,
    *,
    z_mm: float = 0.0,
    bow_up_deg: float = 0.0,
    hung: bool = False,
    plus_minus_g: float = SCALE_PLUS_MINUS_G,
    plus_minus_mm: float = POSITION_PLUS_MINUS_MM,
    plus_minus_deg: float = ANGLE_PLUS_MINUS_DEG,
) -> OnScales:
    """Return a weighing at one point: her mass off a scale, and the station where she balances.

    Parameters
    ----------
    mass_g, station_mm : float
        [g, mm]
    z_mm : float
        Height in body axes of the edge she lies on or the point she hangs from [mm].
    bow_up_deg : float
        How she lies then [deg]. Two hangings from different points tell the height.
    hung : bool
        Hung from a point on her center plane: tells her center across too.
    plus_minus_g, plus_minus_mm, plus_minus_deg : float
        How well mass, place and angle are known.
    """
    name = f"point at station {station_mm:g}"
    support = Support(name=name, x_mm=station_mm, z_mm=z_mm, plus_minus_mm=plus_minus_mm)
    return OnScales(
        readings=((support, mass_g),),
        bow_up_deg=bow_up_deg,
        plus_minus_g=plus_minus_g,
        plus_minus_deg=plus_minus_deg,
        tells_across=hung,
    )


def tilt_of_block(
    forward: Support,
    aft: Support,
    block_mm: float,
    *,
    level_bow_up_deg: float = 0.0,
    plus_minus_mm: float = POSITION_PLUS_MINUS_MM,
) -> tuple[float, float]:
    """Return how far she is bow up on a block under the forward support, and its ± [deg].

    Parameters
    ----------
    forward, aft : Support
        Where she rests, in body axes.
    block_mm : float
        What the forward support was raised by [mm].
    level_bow_up_deg : float
        How she lay before [deg].
    plus_minus_mm : float
        How well the block is known [mm]; the distance between the supports as they are.

    Raises
    ------
    InputError
        If the block is higher than the supports are apart.

    Notes
    -----
    Both points stay where they are in her: with d = x₂ − x₁ and c = z₁ − z₂,
    d sin τ + c cos τ grows by the block.
    """
    check_plus_minus("block", "plus_minus_mm", plus_minus_mm)
    along, above = aft.x_mm - forward.x_mm, forward.z_mm - aft.z_mm
    distance = math.hypot(along, above)
    before = level_bow_up_deg / DEG_PER_RAD
    height = along * math.sin(before) + above * math.cos(before) + block_mm
    if not abs(height) < distance:
        raise InputError(
            f"block of {block_mm:g} mm under {forward.name}: the supports are {distance:.0f} mm "
            "apart, and it must be lower than that"
        )
    share = height / distance
    angle = math.asin(share) - math.atan2(above, along)
    places = math.hypot(forward.plus_minus_mm, aft.plus_minus_mm)
    spread = math.hypot(plus_minus_mm, share * places) / (distance * math.sqrt(1.0 - share**2))
    return angle * DEG_PER_RAD, spread * DEG_PER_RAD


def _three(values: Sequence[float], told: tuple[bool, bool, bool]) -> Three:
    """Return three values, None for those that are not told."""
    x, y, z = (float(v) if known else None for v, known in zip(values, told, strict=True))
    return x, y, z


def _caveats(report: ScalesReport, weighings: Sequence[OnScales]) -> tuple[Caveat, ...]:
    """Return what must be said beside what the scales tell."""
    found = []
    about = report.center_plus_minus_mm[2]
    if about is not None and about > _ROUGH_MM:
        worst = max(report.shares, key=lambda share: abs(share.z_mm))
        found.append(
            Caveat(
                code="height-rough",
                message=f"the height of the CG is known to ± {about:.0f} mm only, most of it from "
                f"{worst.of} (± {abs(worst.z_mm):.0f} mm): tilt her more",
            )
        )
    apart = report.sums_differ_g
    allowed = math.sqrt(2.0) * max(
        one.plus_minus_g * math.sqrt(len(one.readings)) for one in weighings
    )
    if apart is not None and apart > allowed:
        found.append(
            Caveat(
                code="weighings-differ",
                message=f"the weighings' sums differ by {apart:.1f} g, and scales that read to "
                f"± {weighings[0].plus_minus_g:g} g allow {allowed:.1f}: a stand not taken off, or "
                "something aboard moved or was taken out",
            )
        )
    if report.height_from == "not known":
        found.append(
            Caveat(
                code="height-not-known",
                message="the height of her CG is not known: what a datum line not quite level does "
                "to its station is left out of its ±",
            )
        )
    return tuple(found)
