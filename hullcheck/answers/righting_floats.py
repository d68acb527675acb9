"""Tip floats and sponsons: when they touch, when they go under, and what they then hold."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from hullcheck.answers.heeling import Heeling, degrees
from hullcheck.answers.righting_records import FloatReport, SizeReport
from hullcheck.answers.upset_records import Side
from hullcheck.craft.bodies import Body
from hullcheck.flotation.upsetting import Upset
from hullcheck.geometry.attitude import level_directions, trim_of
from hullcheck.geometry.moment_tree import under_directly
from hullcheck.units import G_PER_MM3_PER_KG_M3, MM3_PER_CM3


@dataclass(frozen=True, slots=True, kw_only=True)
class Moments:
    """Moments about the center of gravity with a float just wholly under [g·mm].

    Attributes
    ----------
    heel : float
        Where it just is [rad].
    righting : float
        Of the float's own buoyancy.
    upsetting : float
        Of all other buoyancy, to the float's side.
    load : float
        Of wind and turn.
    """

    heel: float
    righting: float
    upsetting: float
    load: float

    def spare(self, factor: float = 1.0) -> float:
        """Return what is left of the float's moment over so many times what upsets her [g·mm]."""
        return self.righting - factor * (self.upsetting + self.load)

    @property
    def ratio(self) -> float | None:
        """The float's moment over what upsets her; None where nothing does."""
        upset = self.upsetting + self.load
        return self.righting / upset if upset > 0.0 else None


def side_of(body: Body, center_plane_mm: float = 0.0) -> float:
    """Return the side a float stands on: 1 starboard, −1 port."""
    return 1.0 if body.shell.center_plane_mm >= center_plane_mm else -1.0


def moments_under(heeling: Heeling, body: Body, upset: Upset, heel: float) -> Moments:
    """Return the moments with a float just wholly under, at that heel [rad].

    Notes
    -----
    Sinkage and trim are free; a buoyancy of volume V at B rights with ρ V (B − G)·e_T to the side.
    The float's and all the rest's sum to mass times the righting arm.
    """
    craft, state = heeling.craft, heeling.curve.state(heel)
    side = side_of(body)
    across = side * level_directions(trim=trim_of(state.normal), heel=heel)[1]
    origin = craft.skin.tree.origin_mm
    own = under_directly(body.shell.triangles_mm, state.normal, state.height, origin)
    gravity = np.array(craft.center_of_gravity_mm) - origin
    arm = float((own.position_integral - own.volume * gravity) @ across)
    righting = craft.water.density_kg_m3 * G_PER_MM3_PER_KG_M3 * arm
    whole = craft.mass_g * side * heeling.curve.arm(heel)
    return Moments(
        heel=heel,
        righting=righting,
        upsetting=righting - whole,
        load=craft.mass_g * upset.arm_mm(heel),
    )


def float_reports(
    heeling: Heeling, upset: Upset, sizes: Callable[[Body], tuple[SizeReport, ...]]
) -> tuple[FloatReport, ...]:
    """Return what each tip float and sponson does.

    Parameters
    ----------
    heeling : Heeling
        The craft on her curve.
    upset : Upset
        Wind and turn.
    sizes : callable
        Returns the least sizes of a float that hold.
    """
    return tuple(_report(heeling, body, upset, sizes) for body in heeling.floats)


def under_heel(heeling: Heeling, body: Body) -> float | None:
    """Return the heel at which a float is just wholly under [rad]; None if it never is."""
    points = heeling.points_of(body)
    return heeling.falls_at(heeling.highest_mm(points), side_of(body))


def _report(
    heeling: Heeling,
    body: Body,
    upset: Upset,
    sizes: Callable[[Body], tuple[SizeReport, ...]],
) -> FloatReport:
    """Return what one float does."""
    points, side = heeling.points_of(body), side_of(body)
    under = under_heel(heeling, body)
    moments = None if under is None else moments_under(heeling, body, upset, under)
    floating = heeling.rest.floating
    name: Side = "starboard" if side > 0.0 else "port"
    return FloatReport(
        name=body.name,
        role=body.role,
        side=name,
        volume_cm3=body.shell.volume_mm3 / MM3_PER_CM3,
        reach_mm=abs(body.shell.center_plane_mm),
        gap_at_rest_mm=float(floating.height_above_water_mm(points).min()),
        touches_deg=degrees(heeling.falls_at(heeling.lowest_mm(points), side)),
        under_deg=degrees(under),
        under_beyond_model=under is not None and heeling.is_beyond(under),
        righting_moment_g_mm=None if moments is None else moments.righting,
        upsetting_moment_g_mm=None if moments is None else moments.upsetting,
        load_moment_g_mm=None if moments is None else moments.load,
        ratio=None if moments is None else moments.ratio,
        holds=None if moments is None else moments.spare() >= 0.0,
        sizes=sizes(body),
    )
