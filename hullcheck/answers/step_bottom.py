"""What the bottom of one body is like: its step, what lies around it, how heavily it is loaded."""

from dataclasses import dataclass

from hullcheck.answers.step_records import Coefficients, OtherStep, Rotation, StepPlanPoint
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.geometry.profile import Profile, buttock_profile
from hullcheck.geometry.sections import Cuts
from hullcheck.geometry.step import Step, find_step
from hullcheck.geometry.step_plan import Break, first_touch, other_steps, ramps, step_plan
from hullcheck.units import G_PER_MM3_PER_KG_M3

_AT_STERNPOST: float = 0.01
"""Of the length: what touches nearer to the sternpost than this is the sternpost."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bottom:
    """The bottom of one body.

    Attributes
    ----------
    body : Body
        Whose it is.
    step : Step or None
        Its step.
    profile : Profile or None
        Its keel line.
    others, ramps : tuple of OtherStep
        Further steps, and rises too gentle for one.
    plan : tuple of StepPlanPoint
        The step's edge across the bottom.
    """

    body: Body
    step: Step | None
    profile: Profile | None
    others: tuple[OtherStep, ...]
    ramps: tuple[OtherStep, ...]
    plan: tuple[StepPlanPoint, ...]

    @classmethod
    def of(cls, body: Body) -> "Bottom":
        """Return the bottom of a body."""
        cuts, shell = Cuts(body.shell.triangles_mm), body.shell
        length = float(shell.high_mm[0] - shell.low_mm[0])
        profile = buttock_profile(cuts.buttocks, shell.center_plane_mm)
        step = find_step(shell.triangles_mm, cuts=cuts)
        if step is None or profile is None:
            found = () if profile is None else _as_others(ramps(profile, length))
            return cls(body=body, step=None, profile=profile, others=(), ramps=found, plan=())
        beam = step.beam_over_chines_mm or float(shell.high_mm[1] - shell.low_mm[1])
        plan = step_plan(cuts.buttocks, step, half_beam_mm=0.5 * beam, length_mm=length)
        others = other_steps(profile, step, length)
        steps = {step.station_mm, *(other.station_mm for other in others)}
        return cls(
            body=body,
            step=step,
            profile=profile,
            others=_as_others(others),
            ramps=_as_others(
                tuple(
                    ramp
                    for ramp in ramps(profile, length)
                    if all(abs(ramp.station_mm - x) > 0.02 * length for x in steps)
                )
            ),
            plan=tuple(
                StepPlanPoint(half_breadth_mm=p.half_breadth_mm, station_mm=p.station_mm)
                for p in plan
            ),
        )

    @property
    def length_mm(self) -> float:
        """Length of the body along x [mm]."""
        return float(self.body.shell.high_mm[0] - self.body.shell.low_mm[0])

    @property
    def afterbody_angle_deg(self) -> float | None:
        """Rise of the afterbody keel against the forebody keel [deg]."""
        if self.step is None:
            return None
        return self.step.afterbody_keel_angle_deg - self.step.forebody_keel_angle_deg

    def rotation(self, wing_angle_deg: float | None) -> Rotation | None:
        """Return how far she turns about the step until what lies aft touches.

        Parameters
        ----------
        wing_angle_deg : float or None
            Wing's chord to body x [deg], positive when its nose is higher.

        Notes
        -----
        Level water under the step's corner: turned bow up until the line from the corner to the
        point that touches is level, body x stands at that line's angle to it, the forebody keel at
        that angle less its own.
        """
        if self.step is None or self.profile is None:
            return None
        touch = first_touch(self.profile, self.step)
        away = abs(touch.station_mm - self.step.sternpost_station_mm)
        at_post = away <= _AT_STERNPOST * self.length_mm
        return Rotation(
            touches="sternpost" if at_post else f"keel at station {touch.station_mm:.0f}",
            station_mm=touch.station_mm,
            keel_deg=touch.angle_deg - self.step.forebody_keel_angle_deg,
            body_deg=touch.angle_deg,
            wing_deg=None if wing_angle_deg is None else touch.angle_deg + wing_angle_deg,
        )


def carried_g(craft: Craft, body: Body) -> float:
    """Return what a body has to carry [g]: all of her, a main float its share by volume.

    Tip floats, sponsons and wings are left out of account, as in the coefficients' definition.
    """
    if body.role != "main float":
        return craft.mass_g
    mains = [one.shell.volume_mm3 for one in craft.bodies if one.role == "main float"]
    return craft.mass_g * body.shell.volume_mm3 / sum(mains)


def coefficients(craft: Craft, bottom: Bottom) -> Coefficients | None:
    """Return load coefficient, forebody length–beam ratio and k; None without step or chine.

    Notes
    -----
    C_Δ0 = m/(ρ b³) with b the greatest beam over the chines; k = C_Δ0/(L_f/b)², L_f from the
    foremost point to the step's keel corner. All three are pure numbers: a hull and its mass
    scaled together keep them. Worked by hand: 690 g on 999.1026 kg/m³ and a beam of 100 mm give
    690/(999.1026e-6 · 1e6) = 0.69062; with L_f = 262 mm, L_f/b = 2.62 and
    k = 0.69062/6.8644 = 0.10061.

    References
    ----------
    J. B. Parkinson, "Design criterions for the dimensions of the forebody of a long-range flying
    boat", NACA ARR 3K08, 1943 (title from memory).
    """
    step = bottom.step
    if step is None or step.beam_over_chines_mm is None:
        return None
    beam, fore = step.beam_over_chines_mm, step.forebody_length_mm
    mass = carried_g(craft, bottom.body)
    load = mass / (craft.water.density_kg_m3 * G_PER_MM3_PER_KG_M3 * beam**3)
    return Coefficients(
        mass_g=mass,
        beam_over_chines_mm=beam,
        forebody_length_mm=fore,
        load_coefficient=load,
        forebody_length_beam_ratio=fore / beam,
        spray=load / (fore / beam) ** 2,
    )


def _as_others(breaks: tuple[Break, ...]) -> tuple[OtherStep, ...]:
    """Return breaks of a keel line as they are reported."""
    return tuple(
        OtherStep(station_mm=b.station_mm, depth_mm=b.rise_mm, run_mm=b.run_mm) for b in breaks
    )
