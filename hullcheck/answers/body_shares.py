"""What each body carries, by one pass over every triangle, and the step it has."""

import numpy as np

from hullcheck.answers.float_records import BodyShare, Point, StepReport
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating
from hullcheck.geometry.moment_tree import under_directly
from hullcheck.geometry.moments import VolumeMoments
from hullcheck.geometry.step import Step
from hullcheck.units import MM3_PER_CM3


def step_report(step: Step, center_of_gravity_mm: Point | None) -> StepReport:
    """Return a step with its place behind a center of gravity [mm], where one is known."""
    behind = angle = None
    if center_of_gravity_mm is not None:
        behind, angle = step.behind(np.array(center_of_gravity_mm))
    return StepReport(
        station_mm=step.station_mm,
        depth_mm=step.depth_mm,
        keel_z_mm=step.keel_z_mm,
        behind_cg_mm=behind,
        angle_from_cg_deg=angle,
        forebody_keel_angle_deg=step.forebody_keel_angle_deg,
        forebody_fit_mm=step.forebody_fit_mm,
        afterbody_keel_angle_deg=step.afterbody_keel_angle_deg,
        afterbody_fit_mm=step.afterbody_fit_mm,
        sternpost_station_mm=step.sternpost_station_mm,
        sternpost_z_mm=step.sternpost_z_mm,
        sternpost_angle_deg=step.sternpost_angle_deg,
        forebody_length_mm=step.forebody_length_mm,
        beam_over_chines_mm=step.beam_over_chines_mm,
        deadrise_deg=step.deadrise_deg,
    )


def direct_moments(craft: Craft, floating: Floating) -> tuple[VolumeMoments, ...]:
    """Return what each body has under the surface, by one pass over every triangle."""
    origin = craft.skin.tree.origin_mm
    height = floating.height_mm - float(floating.normal @ origin)
    return tuple(
        under_directly(body.shell.triangles_mm, floating.normal, height, origin)
        for body in craft.bodies
    )


def body_shares(
    craft: Craft,
    floating: Floating | None,
    direct: tuple[VolumeMoments, ...] | None,
    steps: dict[str, Step | None],
) -> tuple[BodyShare, ...]:
    """Return what each body carries and how far it is clear of the water."""
    shares = []
    for i, body in enumerate(craft.bodies):
        step = steps[body.name]
        corners = body.shell.triangles_mm.reshape(-1, 3)
        clearance = None
        if floating is not None:
            clearance = float(floating.height_above_water_mm(corners).min())
        off = body.volume_error_mm3
        shares.append(
            BodyShare(
                name=body.name,
                role=body.role,
                volume_cm3=body.shell.volume_mm3 / MM3_PER_CM3,
                error_cm3=None if off is None else off / MM3_PER_CM3,
                displaced_volume_cm3=None if direct is None else direct[i].volume / MM3_PER_CM3,
                clearance_mm=clearance,
                step=None if step is None else step_report(step, craft.center_of_gravity_mm),
            )
        )
    return tuple(shares)
