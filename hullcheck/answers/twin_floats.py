"""Main floats: length, overhang, spacing, incidence and reserve, against builders' rules."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.float_rules import FLOAT_RULES
from hullcheck.answers.rule_checks import Measures, measures_of, rule_checks
from hullcheck.answers.step_bottom import Bottom, carried_g
from hullcheck.answers.step_records import FloatsReport, OneFloat
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.flotation.load import mass_of
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.profile import lower_edge
from hullcheck.geometry.sections import Slices, envelope
from hullcheck.units import MM3_PER_CM3

_TOP: Final = (0.2, 0.7)
"""Shares of the length that the line of a float's top is fitted over: clear of its curved ends
(common practice, no source)."""
_STATIONS: Final = 201
_NO_PROPELLER: Final = "[propeller] is not in the sheet"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rig:
    """How floats and landplane lie to each other; a text stands for what is missing and why."""

    spacing_mm: float | str
    overhang_mm: float | str
    propeller_to_cg_mm: float | str
    propeller_clearance_mm: float | str
    incidence_deg: float | str
    keel_incidence_deg: float | str
    volume_ratio: float


def floats_report(craft: Craft) -> FloatsReport | None:
    """Return the main floats of a craft against the rules for them; None without main floats.

    Parameters
    ----------
    craft : Craft
        Its main floats are held against its propeller, wing and center of gravity.

    Returns
    -------
    FloatsReport or None
        Rules about what no sheet says, such as the elevator's hinge, are not comparable.
    """
    bodies = [body for body in craft.bodies if body.role == "main float"]
    if not bodies:
        return None
    bottoms = [Bottom.of(body) for body in bodies]
    floats = tuple(_one(craft, bottom) for bottom in bottoms)
    longest = max(range(len(floats)), key=lambda i: floats[i].length_mm)
    rig = _rig(craft, bodies, floats, longest)
    return FloatsReport(
        floats=floats,
        spacing_mm=_number(rig.spacing_mm),
        overhang_mm=_number(rig.overhang_mm),
        propeller_to_cg_mm=_number(rig.propeller_to_cg_mm),
        propeller_clearance_mm=_number(rig.propeller_clearance_mm),
        incidence_deg=_number(rig.incidence_deg),
        keel_incidence_deg=_number(rig.keel_incidence_deg),
        volume_ratio=rig.volume_ratio,
        rules=rule_checks(FLOAT_RULES, _measures(craft, floats[longest], rig)),
    )


def _one(craft: Craft, bottom: Bottom) -> OneFloat:
    """Return one float."""
    shell, mass, step = bottom.body.shell, carried_g(craft, bottom.body), bottom.step
    lift = mass_of(volume_mm3=shell.volume_mm3, density_kg_m3=craft.water.density_kg_m3)
    return OneFloat(
        name=bottom.body.name,
        length_mm=bottom.length_mm,
        bow_station_mm=float(shell.low_mm[0]),
        thickness_mm=_thickness_mm(shell.triangles_mm),
        beam_mm=float(shell.high_mm[1] - shell.low_mm[1]),
        center_plane_mm=shell.center_plane_mm,
        volume_cm3=shell.volume_mm3 / MM3_PER_CM3,
        mass_g=mass,
        volume_ratio=lift / mass,
        top_angle_deg=top_angle_deg(bottom.body),
        forebody_keel_angle_deg=None if step is None else step.forebody_keel_angle_deg,
        step_station_mm=None if step is None else step.station_mm,
    )


def top_angle_deg(body: Body) -> float | None:
    """Return the angle of a float's top to body x [deg], positive when it rises aft.

    Parameters
    ----------
    body : Body
        The float.

    Returns
    -------
    float or None
        Of the line fitted to the top of its center plane over a fifth to seven tenths of its
        length; None where the plane misses it.
    """
    shell = body.shell
    segments = Slices(shell.triangles_mm, axis=1).at(shell.center_plane_mm)[:, :, [0, 2]]
    mirrored = lower_edge(segments * np.array([1.0, -1.0]))
    if mirrored is None:
        return None
    low, high = float(shell.low_mm[0]), float(shell.high_mm[0])
    along = low + np.linspace(*_TOP, 51) * (high - low)
    heights = np.array([-mirrored.height_at(float(x)) for x in along])
    there = np.isfinite(heights)
    if there.sum() < 2:
        return None
    return float(np.degrees(np.arctan(np.polyfit(along[there], heights[there], 1)[0])))


def _thickness_mm(triangles_mm: FloatArray) -> float:
    """Return the greatest height of a float's sections [mm]."""
    x, z = triangles_mm[:, :, 0], triangles_mm[:, :, 2]
    lowest, highest = envelope(x, z, np.linspace(x.min(), x.max(), _STATIONS))
    return float(np.nanmax(highest - lowest))


def _rig(craft: Craft, bodies: list[Body], floats: tuple[OneFloat, ...], main: int) -> _Rig:
    """Return how floats and landplane lie to each other."""
    propeller, center = craft.fittings.propeller, craft.center_of_gravity_mm
    overhang: float | str = _NO_PROPELLER
    to_center: float | str = _NO_PROPELLER if propeller is None else "her CG is not known"
    if propeller is not None:
        overhang = propeller.hub_mm[0] - floats[main].bow_station_mm
        if center is not None:
            to_center = center[0] - propeller.hub_mm[0]
    planes = [one.center_plane_mm for one in floats]
    volume = sum(body.shell.volume_mm3 for body in bodies)
    lift = mass_of(volume_mm3=volume, density_kg_m3=craft.water.density_kg_m3)
    wing, one = craft.fittings.reference.wing_angle_deg, floats[main]
    no_wing = "wing_angle_deg is not in the sheet's [reference]"
    return _Rig(
        spacing_mm=max(planes) - min(planes) if len(planes) > 1 else "there is one float only",
        overhang_mm=overhang,
        propeller_to_cg_mm=to_center,
        propeller_clearance_mm=_clearance_mm(craft, bodies[main]),
        incidence_deg=_against(wing, one.top_angle_deg, no_wing, "the float has no top line"),
        keel_incidence_deg=_against(
            wing, one.forebody_keel_angle_deg, no_wing, "no step was found"
        ),
        volume_ratio=lift / craft.mass_g,
    )


def _against(
    wing_deg: float | None, line_deg: float | None, no_wing: str, no_line: str
) -> float | str:
    """Return the wing's angle to a line [deg]: a line that rises aft lies nose down."""
    if wing_deg is None:
        return no_wing
    return no_line if line_deg is None else wing_deg + line_deg


def _clearance_mm(craft: Craft, body: Body) -> float | str:
    """Return how far the propeller's lowest point lies above a float's top at its station [mm]."""
    propeller = craft.fittings.propeller
    if propeller is None:
        return _NO_PROPELLER
    lowest = propeller.lowest_mm(np.array([0.0, 0.0, 1.0]))
    section = Slices(body.shell.triangles_mm).at(float(lowest[0]))
    if len(section) == 0:
        return "the floats do not reach the propeller's station"
    return float(lowest[2] - section[:, :, 2].max())


def _measures(craft: Craft, one: OneFloat, rig: _Rig) -> Measures:
    """Return what the rules are held against, by name."""
    propeller, wing = craft.fittings.propeller, craft.fittings.wing
    step = one.step_station_mm
    return measures_of(
        {
            "float_length_mm": one.length_mm,
            "float_thickness_mm": one.thickness_mm,
            "overhang_mm": rig.overhang_mm,
            "propeller_to_cg_mm": rig.propeller_to_cg_mm,
            "propeller_to_hinge_mm": "the sheet does not say where the hinges are",
            "propeller_diameter_mm": _NO_PROPELLER if propeller is None else propeller.diameter_mm,
            "propeller_clearance_mm": rig.propeller_clearance_mm,
            "step_from_nose_mm": "no step was found" if step is None else step - one.bow_station_mm,
            "float_rear_end_mm": one.bow_station_mm + one.length_mm,
            "wing_to_tailplane_mm": "the sheet does not say where the tailplane is",
            "float_spacing_mm": rig.spacing_mm,
            "wheel_track_mm": "the sheet does not say how wide the wheels stood",
            "span_mm": "[wing] is not in the sheet" if wing is None else 2.0 * abs(wing.tip_mm[1]),
            "incidence_deg": rig.incidence_deg,
            "volume_ratio": rig.volume_ratio,
        }
    )


def _number(value: float | str) -> float | None:
    """Return a measure, None where a text says why it is missing."""
    return None if isinstance(value, str) else value
