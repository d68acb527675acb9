"""What the reader must know beside righting arms."""

import math
from typing import Final

from hullcheck.answers.caveats import caveats
from hullcheck.answers.float_records import Caveat
from hullcheck.answers.heeling import SIDES, Heeling
from hullcheck.answers.rest import CAPSIZED_DEG
from hullcheck.answers.righting_records import RightingAnswer

_OFF_BRANCH: Final = 1e-6
"""Of the length: an arm at rest above this is that of another branch [mm per mm]."""
_PASSED_ON: Final = {
    "person-scale",
    "cg-outside",
    "one-sided-tip-floats",
    "either-side",
    "neutral",
    "state-not-stated",
    "mass-light",
    "not-all-up",
    "places-missing",
}
"""What `float` says and what matters here too."""


def righting_caveats(heeling: Heeling, answer: RightingAnswer) -> tuple[Caveat, ...]:
    """Return what must be said beside the answer, the gravest first.

    Parameters
    ----------
    heeling : Heeling
        The craft on her curve.
    answer : RightingAnswer
        What was worked out, without its warnings.
    """
    found = [one for one in caveats(heeling.craft, heeling.rest, ()) if one.code in _PASSED_ON]
    found += _of_curve(heeling, answer)
    found += _of_model(heeling, answer)
    if answer.upset is not None:
        found += _of_upset(answer)
    if answer.thrust is not None:
        found.append(
            Caveat(
                code="thrust-band",
                message="trim under thrust is a band, from resistance at the waterline to "
                "resistance at the keel: where it acts at rest is not known; no planing lift, no "
                "spray, no waves",
            )
        )
    return tuple(found)


def _of_curve(heeling: Heeling, answer: RightingAnswer) -> list[Caveat]:
    """Return jumps of the curve, and a rest that is not on it."""
    found = [
        Caveat(
            code="jump",
            message=f"at {jump.heel_deg:.1f}° of heel her trim gives way, from "
            f"{jump.trim_before_deg:.0f}° to {jump.trim_after_deg:.0f}°: the curve jumps there",
        )
        for jump in answer.jumps
    ]
    for name, side in SIDES:
        end = math.degrees(heeling.curve.end(side))
        if abs(end) < 180.0 - 1e-9:
            found.append(
                Caveat(
                    code="curve-ends",
                    message=f"to {name} the curve ends at {abs(end):.0f}°: past that nothing holds "
                    "her trim, she goes over bow or stern first",
                )
            )
    off = abs(heeling.curve.arm(heeling.rest_heel))
    if off > _OFF_BRANCH * heeling.curve.descent.length:
        found.append(
            Caveat(
                code="rest-off-curve",
                message="she rests in another trim than the curve has at that heel: ranges and "
                "areas are those of the curve that passes through upright",
            )
        )
    return found


def _of_model(heeling: Heeling, answer: RightingAnswer) -> list[Caveat]:
    """Return where the meshes end: a wing that is not in them, a curve past upright."""
    edges = [s.beyond_model_deg for s in answer.sides if s.beyond_model_deg is not None]
    if edges:
        return [
            Caveat(
                code="beyond-model",
                message=f"past {min(map(abs, edges)):.0f}° the wing, which is not in the meshes, "
                "is in the water: rows beyond are those of the bodies alone",
            )
        ]
    if heeling.wing_mm is None and not any(b.role == "wing" for b in heeling.craft.bodies):
        return [
            Caveat(
                code="no-wing",
                message="no wing is given ([wing] in the build sheet): where it would reach the "
                "water is not known, and the curve is that of the bodies alone",
            )
        ]
    return []


def _of_upset(answer: RightingAnswer) -> list[Caveat]:
    """Return what the sums of wind and turn leave out."""
    found: list[Caveat] = []
    upset = answer.upset
    if upset is None:
        return found
    if upset.wind is not None:
        side = upset.wind.side
        where = (
            "side area as given"
            if side.given
            else "side area of the meshes alone: wing, fin and motor are not in it (--side-area)"
        )
        found.append(
            Caveat(
                code="wind-left-out",
                message=f"wind: M = ½ ρ C_D A v² b cos² φ with ρ "
                f"{upset.wind.air_density_kg_m3:g} kg/m³, C_D {upset.wind.drag_coefficient:g}, A "
                f"{side.area_cm2:.0f} cm², b {side.lever_mm:.0f} mm; {where}. Lift of a raised "
                "wing, waves, gusts from ahead and the propeller's torque are left out, and a "
                "raised wing in wind lifts",
            )
        )
    if any(p.beyond_model for p in upset.pushed):
        found.append(
            Caveat(
                code="pushed-beyond-model",
                message="she comes to stand with her wing in the water: beyond the model",
            )
        )
    if any(p.heel_deg is None for p in upset.pushed):
        found.append(
            Caveat(
                code="pushed-over",
                message=f"nothing in the meshes holds her short of {CAPSIZED_DEG:g}° of heel: that "
                "counts as going over",
            )
        )
    return found
