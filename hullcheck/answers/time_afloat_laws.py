"""How long a leak takes to fill her to each limit, by quadrature over the water that is in."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Self

import numpy as np

from hullcheck.answers.time_afloat_fill import Break, Filled, Filling, crossing
from hullcheck.answers.time_afloat_leaks import Breach, NetHeads, net_heads
from hullcheck.answers.time_afloat_records import Law, LeakTime, LimitBreak
from hullcheck.flotation.heads import heads_along

_NODES: Final = 5
_PANEL: Final = 2
"""Steps of the filling to a panel of the quadrature."""
_EXACT: Final = 1e-10
_NEAR_END: Final = 1e-9
"""Of the water at which the flow ends: a limit that breaks this close to it is not met."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """A leak with the compartment it fills, ready to be timed.

    Attributes
    ----------
    breach : Breach
        The leak.
    filling : Filling
        The compartment.
    end_g : float
        Water aboard when the flow ends, she sinks or the compartment is full [g].
    levels_out : bool
        Whether the flow ends before she sinks.
    kinks_g : tuple of float
        Where the flow bends: the water inside reaches the leak [g].
    """

    breach: Breach
    filling: Filling
    end_g: float
    levels_out: bool
    kinks_g: tuple[float, ...]

    @classmethod
    def of(cls, breach: Breach, filling: Filling) -> Self:
        """Return the course of a leak into a compartment."""
        grams = [g for g in filling.steps_g if filling.fills_up or g < filling.most_g]
        if not grams or _drive_mm(breach, filling.at(0.0)) <= 0.0:
            return cls(
                breach=breach, filling=filling, end_g=0.0, levels_out=bool(grams), kinks_g=()
            )
        lost = filling.lost_g
        end, levels = (filling.most_g, True) if lost is None else (lost, False)
        exact = _EXACT * filling.most_g
        for before, after in itertools.pairwise(grams):
            if _drive_mm(breach, filling.at(after)) < 0.0:
                end = crossing(lambda g: _drive_mm(breach, filling.at(g)), before, after, exact)
                levels = True
                break
        reached = [g for g in grams if g < end]
        kinks: tuple[float, ...] = ()
        for before, after in itertools.pairwise(reached):
            if _dry_mm(breach, filling.at(before)) < 0.0:
                break
            if _dry_mm(breach, filling.at(after)) < 0.0:
                at = crossing(lambda g: _dry_mm(breach, filling.at(g)), before, after, exact)
                kinks = (at,)
                break
        return cls(breach=breach, filling=filling, end_g=end, levels_out=levels, kinks_g=kinks)

    def breaks(self) -> tuple[Break, ...]:
        """Return the limits that break before the flow ends, in order."""
        end = self.end_g * (1.0 - _NEAR_END) if self.levels_out else self.end_g
        return tuple(one for one in self.filling.breaks if one.water_g <= end)

    def heads(self, water_g: float) -> NetHeads:
        """Return what drives water in once so much is in [g]."""
        here = self.filling.at(water_g)
        return net_heads(self.breach.lines_mm, here.normal, here.outside_mm, here.inside_mm)

    def rate(self, law: Law, water_g: float) -> float:
        """Return what comes in once so much is in [g/min]."""
        water = self.filling.flooder.craft.water
        return self.breach.rate_g_per_min(law, self.heads(water_g), water)

    def leaks(self, law: Law) -> bool:
        """Return whether anything comes in by a law."""
        return self.end_g > 0.0 and self.rate(law, 0.0) > 0.0

    def minutes(self, law: Law, to_g: Sequence[float]) -> list[float]:
        """Return when so much water is in [min], by one law.

        Parameters
        ----------
        law : str
            "hole" or "crack".
        to_g : sequence of float
            Rising, none beyond where the flow ends [g].

        Notes
        -----
        t = ∫ dw/q(w) by Gauss's rule between the points where q may bend: the steps of the
        filling, the limits asked for, and where the water inside reaches the leak.
        """
        last = max(to_g, default=0.0)
        ends = {0.0, *to_g, *self.kinks_g, *self.filling.grid_g[::_PANEL]}
        ends = {g for g in ends if 0.0 <= g <= last}
        knots, weights = np.polynomial.legendre.leggauss(_NODES)
        clock, known, before = 0.0, {0.0: 0.0}, 0.0
        for end in sorted(ends)[1:]:
            half = 0.5 * (end - before)
            spent = [
                weight / self.rate(law, before + half * (1.0 + float(knot)))
                for knot, weight in zip(knots, weights, strict=True)
            ]
            clock += half * math.fsum(spent)
            known[end], before = clock, end
        return [known[grams] for grams in to_g]


def leak_time(breach: Breach, filling: Filling) -> LeakTime:
    """Return what comes of a leak into a compartment.

    Parameters
    ----------
    breach : Breach
        The leak.
    filling : Filling
        The compartment it fills; leaks into the same one may share it.

    Returns
    -------
    LeakTime
        By the leak's own law, or by both where it comes from a test.
    """
    course = Course.of(breach, filling)
    flows = [law for law in breach.laws if course.leaks(law)]
    # What is broken before any water is in is broken whether it leaks or not.
    broken = [one for one in course.breaks() if flows or one.water_g == 0.0]
    grams = [one.water_g for one in broken]
    times = {
        law: course.minutes(law, grams) if law in flows else [0.0] * len(broken)
        for law in breach.laws
    }
    rows = tuple(
        LimitBreak(
            limit=one.held.limit,
            at=one.held.at,
            water_g=one.water_g,
            hole_min=times["hole"][i] if "hole" in times else None,
            crack_min=times["crack"][i] if "crack" in times else None,
        )
        for i, one in enumerate(broken)
    )
    first = rows[0] if rows else None
    floating = filling.most_g > 0.0
    return LeakTime(
        name=breach.name,
        what=breach.what,
        compartment=filling.compartment,
        head_mm=_depth_mm(breach, filling.at(0.0)) if floating else 0.0,
        hole_g_per_min=course.rate("hole", 0.0) if floating and "hole" in breach.laws else None,
        crack_g_per_min=course.rate("crack", 0.0) if floating and "crack" in breach.laws else None,
        hole_min=None if first is None else first.hole_min,
        crack_min=None if first is None else first.crack_min,
        limited_by=None if first is None else first.limit,
        at=None if first is None else first.at,
        breaks=rows,
        levels_out=course.levels_out,
        levels_at_g=course.end_g if course.levels_out else None,
    )


def _depth_mm(breach: Breach, here: Filled) -> float:
    """Return the depth of a leak's lowest point under the sea [mm]; below 0 above it."""
    return heads_along(breach.lines_mm, here.normal, here.outside_mm).deepest_mm


def _drive_mm(breach: Breach, here: Filled) -> float:
    """Return a number [mm] that is above 0 just where water comes in."""
    depth = _depth_mm(breach, here)
    return depth if here.inside_mm is None else min(depth, here.outside_mm - here.inside_mm)


def _dry_mm(breach: Breach, here: Filled) -> float:
    """Return how far the water inside is below a leak's lowest point [mm]; infinite where none."""
    if here.inside_mm is None:
        return math.inf
    return -heads_along(breach.lines_mm, here.normal, here.inside_mm).deepest_mm
