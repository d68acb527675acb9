"""The inclining experiment in the tub: how high the center of gravity lies."""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hullcheck.answers.bath_fit_plane import HALF_WIDTH
from hullcheck.answers.float_records import Point
from hullcheck.answers.incline_arms import Arms, arms_of, fine_heels, metacenter_of, nodes_about
from hullcheck.answers.incline_fit import Heels, center_of, combined, height_of
from hullcheck.answers.incline_line import Case, inverse_interval, record_of
from hullcheck.answers.incline_records import Inclining, Mode, Shift
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError, SolverError
from hullcheck.flotation.floating import short_by_g
from hullcheck.flotation.load import check_mass
from hullcheck.geometry.arrays import FloatArray

ANGLE_DEG: Final = 0.2
"""Standard uncertainty of one angle read (common practice, no source)."""
_MARGIN: Final = 15.0
"""Standard deviations of an angle beyond those read that the arms are worked out to."""
_ROUNDS: Final = 12
_SETTLED: Final = 1e-8
_ENOUGH_MM: Final = 0.05
"""Where noisy angles catch on a bend of the arms; far less than they tell z to."""
_SCAN: Final = 41


def metacentric_height(
    shifts: tuple[Shift, ...],
    *,
    mass_g: float,
    metacenter_mm: float | None = None,
    angle_deg: float = ANGLE_DEG,
    mass_uncertainty_g: float = 0.0,
) -> Inclining:
    """Return the metacentric height from weights moved across, by the classical formula.

    Parameters
    ----------
    shifts : tuple of Shift
        Each weight is part of the mass and was moved from the center plane.
    mass_g : float
        Of the craft, weights included [g].
    metacenter_mm : float, optional
        KM [mm], from wherever KG is wanted.
    angle_deg : float, default 0.2
        Standard uncertainty of one angle [deg] (common practice, no source).
    mass_uncertainty_g : float, default 0
        Standard uncertainty of the mass [g].

    Returns
    -------
    Inclining

    Raises
    ------
    InputError
        If a value makes no sense, no weight was put across, or she heels away from the weights.

    Notes
    -----
    GM = w d/(m tan φ) through all shifts: tan φ is regressed on w d, weighted by how well each
    tangent is known. From three shifts on, or with one that has no weight across, the list without
    a weight is the intercept; else it is taken as 0. For small heels only: incline heeds how a
    hull's arm bends.

    Examples
    --------
    >>> found = metacentric_height((Shift(mass_g=50, arm_mm=300, heel_deg=3.2),), mass_g=700)
    >>> round(found.metacentric_height_mm, 1), round(found.plus_minus_mm, 1)
    (383.3, 47.8)
    """
    check_mass(mass_g)
    case = Case(shifts=shifts, mass_g=mass_g, angle_deg=angle_deg)
    line = case.line()
    return record_of(
        case,
        mode="moved",
        height_mm=1.0 / line.inverse,
        interval_mm=inverse_interval(line, mass_uncertainty_g / mass_g),
        metacenter_mm=metacenter_mm,
        initial_heel=line.initial_heel,
        explained=line.explained,
        chi_square=line.chi_square,
    )


def incline(
    craft: Craft,
    shifts: tuple[Shift, ...],
    *,
    mass_g: float,
    center_of_gravity_mm: Point,
    mode: Mode = "moved",
    added_z_mm: float | None = None,
    added_x_mm: float | None = None,
    angle_deg: float = ANGLE_DEG,
    mass_uncertainty_g: float = 0.0,
) -> Inclining:
    """Return the metacentric height of a craft and the height of her center of gravity.

    Parameters
    ----------
    craft : Craft
        Whose skin and water count; her own mass and center do not.
    shifts : tuple of Shift
        See `Shift`.
    mass_g : float
        Of the craft as she floats [g]; without the weights where they are added.
    center_of_gravity_mm : tuple of float
        [mm]; its x counts, its z begins the search, its y is not used.
    mode : {"moved", "added"}, default "moved"
        "moved": each weight is part of the mass and was moved across by its arm. "added": each came
        on top of the mass, one at a time, and sank and raised her by what it weighs.
    added_z_mm, added_x_mm : float, optional
        Height and station the added weights lie at [mm, body axes]; the height is needed for
        "added", the station is the center of gravity's unless given.
    angle_deg : float, default 0.2
        Standard uncertainty of one angle [deg] (common practice, no source).
    mass_uncertainty_g : float, default 0
        Standard uncertainty of the mass [g].

    Returns
    -------
    Inclining
        GM and KM with no heel, her trim free; what is found is for the craft without added weights.

    Raises
    ------
    InputError
        If a value makes no sense, she sinks, no weight was put across, or she heels away from it.
    SolverError
        If no height of the center was met.

    Notes
    -----
    At a heel φ, trim free, a center at (y, z) rests where y + z tan φ = k = B_y + B_z tan φ, and a
    weight moved across adds w d/m to y. k is worked out on the hull, for it bends: on a wall-sided
    body it is (KB + BM) tan φ + ½ BM tan³ φ, and a tip float that dips bends it sharply. z, and the
    list where it can be told, are those that explain the heels read best (least squares in the
    angles); the interval is that of the likelihood, so it is uneven where the hull is. GM = BM −
    (z − B_z)/cos τ and KG = KM − GM are along the water's normal, not along z.
    """
    check_mass(mass_g)
    density = craft.water.density_kg_m3
    heaviest = mass_g + (max((s.mass_g for s in shifts), default=0.0) if mode == "added" else 0.0)
    if short_by_g(craft.skin, mass_g=heaviest, density_kg_m3=density) >= 0.0:
        raise InputError(f"she sinks at {heaviest:g} g, so there is nothing to incline")
    if mode == "added" and added_z_mm is None:
        raise InputError("weights that are added need the height they lie at, added_z_mm")
    x, _, z = center_of_gravity_mm
    tub = _Tub(
        craft=craft,
        case=Case(shifts=shifts, mass_g=mass_g, angle_deg=angle_deg),
        x_mm=x,
        added=mode == "added",
        added_mm=(x if added_x_mm is None else added_x_mm, z if added_z_mm is None else added_z_mm),
    )
    bare, heels = tub.solve(z)
    return _answer(tub, bare, heels, mode, mass_uncertainty_g / mass_g)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Tub:
    """A craft with the shifts of an experiment."""

    craft: Craft
    case: Case
    x_mm: float
    added: bool
    added_mm: tuple[float, float]

    def solve(self, z_mm: float) -> tuple[Arms, Heels]:
        """Return her arms without added weights and the heels against them, from a height z.

        The arms hang on z a little, by the trim: they are worked out again until z stays.
        """
        nodes = nodes_about(self.case.heels, _MARGIN * math.radians(self.case.angle_deg))
        known: dict[float, Arms] = {}
        for number in range(_ROUNDS):
            known = {more: self._arms(more, z_mm, nodes, known) for more in {0.0, *self._more}}
            heels = self._heels(known, nodes)
            starts = np.array([z_mm]) if number else self.scan(known[0.0])
            before, z_mm = z_mm, center_of(heels, starts)[0]
            if abs(z_mm - before) <= _SETTLED * self.craft.skin.tree.length_mm:
                return known[0.0], heels
        if abs(z_mm - before) <= _ENOUGH_MM:
            return known[0.0], heels
        raise SolverError(f"no height of the center within {_ROUNDS} rounds")

    def scan(self, bare: Arms) -> FloatArray:
        """Return the heights z is looked for at [mm]: keel to as far over the metacenter."""
        low = float(self.craft.skin.tree.low_mm[2])
        top = low + 2.0 * metacenter_of(self.craft, bare.upright)[1]
        return np.linspace(low, top, _SCAN)

    @property
    def _more(self) -> tuple[float, ...]:
        """What each shift adds to the mass [g]."""
        return tuple(shift.mass_g if self.added else 0.0 for shift in self.case.shifts)

    def _arms(self, more: float, z_mm: float, nodes: FloatArray, known: dict[float, Arms]) -> Arms:
        """Return the arms with an added weight [g]."""
        mass = self.case.mass_g
        x, z = (
            (mass * own + more * at) / (mass + more)
            for own, at in zip((self.x_mm, z_mm), self.added_mm, strict=True)
        )
        return arms_of(
            self.craft, mass_g=mass + more, x_mm=x, z_mm=z, heels=nodes, before=known.get(more)
        )

    def _heels(self, known: dict[float, Arms], nodes: FloatArray) -> Heels:
        """Return the heels read against the arms, added weights taken out of them."""
        fine, mass = fine_heels(nodes), self.case.mass_g
        levers = [
            ((mass + more) * known[more].finely(fine) - more * self.added_mm[1] * np.tan(fine))
            / mass
            for more in self._more
        ]
        bare = known[0.0]
        return Heels(
            heels=self.case.heels,
            moments_mm=self.case.moments_mm,
            fine=fine,
            levers_mm=np.array(levers),
            angle=math.radians(self.case.angle_deg),
            list_is_free=self.case.tells_list,
            across_mm=float(bare.levers_mm[bare.heels == 0.0][0]),
        )


def _answer(tub: _Tub, bare: Arms, heels: Heels, mode: Mode, mass_share: float) -> Inclining:
    """Return the answer from the arms and the heels against them."""
    found = height_of(heels, tub.scan(bare))
    radius, metacenter, cosine = metacenter_of(tub.craft, bare.upright)
    middle = float(bare.upright.buoyancy[2] + tub.craft.skin.tree.origin_mm[2])
    gm = radius - (found.z_mm - middle) / cosine
    # How the mass enters: z is what the moments w d/m leave of the arm.
    by_mass = HALF_WIDTH * mass_share * abs(gm) * cosine
    low, high = (combined(found.z_mm, end, by_mass) for end in (found.low_mm, found.high_mm))
    own = bare.finely(heels.fine) - found.z_mm * np.tan(heels.fine)
    answer = record_of(
        tub.case,
        mode=mode,
        height_mm=gm,
        interval_mm=(
            None if high is None else radius - (high - middle) / cosine,
            None if low is None else radius - (low - middle) / cosine,
        ),
        metacenter_mm=metacenter,
        initial_heel=float(np.interp(found.y_mm, np.maximum.accumulate(own), heels.fine)),
        explained=heels.explained(heels.arms(found.z_mm), found.y_mm),
        chi_square=found.chi_square,
    )
    return replace(answer, center_z_mm=found.z_mm, center_z_interval_mm=(low, high))
