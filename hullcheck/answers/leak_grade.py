"""What one leak test says: its grade, its rate at the flying weight, the leak that explains it."""

from collections.abc import Mapping, Sequence
from typing import Final

from hullcheck.answers.leak_heads import Soak, at_her_load, soak_of
from hullcheck.answers.leak_records import GradedTest, LeakSize, ScaledRate
from hullcheck.craft.craft import Craft
from hullcheck.craft.fittings import Structure
from hullcheck.craft.leak_ladder import PER_MINUTES, grade_at, grade_of
from hullcheck.craft.log_records import LeakTest
from hullcheck.craft.seam_lines import SeamLine, seam_lines
from hullcheck.flotation.leak_laws import LEAK_LAWS, LeakLaw, fluid_factor
from hullcheck.flotation.leak_sizes import crack_of, hole_of, integral_of, tube_flow_g_s

ASSUMED_WALL_MM: Final = 1.0
"""Where the sheet gives no wall: what many printed hulls have; common practice, no source."""
_SECONDS_PER_MINUTE: Final = 60.0


def graded(
    craft: Craft,
    test: LeakTest,
    *,
    entry: int | None = None,
    lines: Sequence[SeamLine] | None = None,
    structures: Mapping[str, Structure] | None = None,
) -> GradedTest:
    """Return what one leak test says.

    Parameters
    ----------
    craft : Craft
        At the load that the rate is scaled to.
    test : LeakTest
        A finished test.
    entry : int or None
        Its number in the logbook.
    lines : sequence of SeamLine or None
        Her seams and openings; worked out where they are not given.
    structures : mapping of str to Structure or None
        What her bodies are made of (`Build.structures`), for the wall a crack goes through.

    Returns
    -------
    GradedTest

    Raises
    ------
    InputError
        If she sinks at the mass of the test.

    Notes
    -----
    The rate at the flying weight is that of the test times the head integral there over that in
    the test, by both laws: over the seams where water was found, each as strong by the millimeter
    as the others, else over every seam that lay under water, one at a time.
    """
    seams = seam_lines(craft) if lines is None else lines
    soak = soak_of(craft, test.setup, seams)
    found = tuple(name for name in soak.wet if name in test.found)
    return GradedTest(
        entry=entry,
        grade=grade_of(
            test,
            limit_g_per_30min=craft.limits.leak_g_per_30min,
            flying_mass_g=craft.mass_g,
        ),
        flying=_scaled(craft, test, soak, found, seams),
        size=_size(test, soak, found, seams, _walls_mm(craft, seams, structures or {})),
    )


def _scaled(
    craft: Craft,
    test: LeakTest,
    soak: Soak,
    found: tuple[str, ...],
    seams: Sequence[SeamLine],
) -> ScaledRate | None:
    """Return the rate at the craft's own load; None where she sinks or no seam was wet."""
    own = at_her_load(craft, seams)
    sources = [found] if found else [(name,) for name in soak.wet]
    if own is None or not sources:
        return None
    factors = [_factor(law, names, soak, own) for names in sources for law in LEAK_LAWS]
    rate = max(test.rate_g_per_min, 0.0) * PER_MINUTES
    ends = (rate * min(factors), rate * max(factors))
    return ScaledRate(
        mass_g=craft.mass_g,
        low_g_per_30min=ends[0],
        high_g_per_30min=ends[1],
        plus_minus_g_per_30min=test.rate_plus_minus_g_per_min * PER_MINUTES * max(factors),
        low_grade=grade_at(ends[0], craft.mass_g),
        high_grade=grade_at(ends[1], craft.mass_g),
        not_wetted=tuple(name for name in own.wet if name not in soak.wet),
    )


def _factor(law: LeakLaw, names: Sequence[str], soak: Soak, own: Soak) -> float:
    """Return the flow at her own load over that in the test, by one law, through some seams."""
    there = sum(integral_of(law, own.heads[name]) for name in names)
    here = sum(integral_of(law, soak.heads[name]) for name in names)
    return there / here * fluid_factor(law, own.water) / fluid_factor(law, soak.water)


def _size(
    test: LeakTest,
    soak: Soak,
    found: tuple[str, ...],
    seams: Sequence[SeamLine],
    walls: Mapping[str, float | None],
) -> LeakSize | None:
    """Return the one leak that would let in as much; None where no seam was under water."""
    names = found or tuple(soak.wet)
    if not names:
        return None
    seam = max(names, key=lambda name: soak.heads[name].deepest_mm)
    line = next(line for line in seams if line.name == seam)
    heads, at_most = soak.heads[seam], test.below_resolution
    rate = test.rate_plus_minus_g_per_min if at_most else 0.0
    flow = (max(test.rate_g_per_min, 0.0) + rate) / _SECONDS_PER_MINUTE
    if flow == 0.0:  # a scale that repeats exactly, and no gain
        return None
    wall = walls[seam]
    thick = ASSUMED_WALL_MM if wall is None else wall
    hole = hole_of(flow, heads.deepest_mm, soak.water)
    crack = crack_of(flow, heads, thick, soak.water) if len(line.points_mm) > 1 else None
    return LeakSize(
        seam=seam,
        sized_at="where water was found" if found else "the deepest seam",
        head_mm=heads.deepest_mm,
        hole_diameter_mm=hole.diameter_mm,
        hole_is_least=tube_flow_g_s(hole, thick, heads.deepest_mm, soak.water) < flow,
        crack_width_mm=None if crack is None else crack.width_mm,
        crack_length_mm=None if crack is None else crack.length_mm,
        wall_mm=thick,
        wall_assumed=wall is None,
        at_most=at_most,
    )


def _walls_mm(
    craft: Craft, seams: Sequence[SeamLine], structures: Mapping[str, Structure]
) -> dict[str, float | None]:
    """Return the wall at each seam [mm], at openings the largest body's; None: not stated."""
    walls = {name: structure.wall_mm for name, structure in structures.items()}
    return {line.name: walls.get(line.body or craft.deck_body.name) for line in seams}
