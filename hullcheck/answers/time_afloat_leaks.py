"""Leaks as what lets water in: a hole or a crack of given size, or what a leak test tells."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from hullcheck.answers.time_afloat_records import Law
from hullcheck.craft.fittings import Leak
from hullcheck.flotation.heads import POINT_LENGTH_MM, Heads, heads_along
from hullcheck.flotation.leak_laws import Crack, Flow, Hole
from hullcheck.flotation.leak_sizes import integral_of
from hullcheck.geometry.arrays import FloatArray
from hullcheck.water import Water

S_PER_MIN: Final = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class NetHeads:
    """What drives water in along a line: the head outside less the head inside, neither below 0.

    Attributes
    ----------
    hole_integral_mm15, crack_integral_mm2 : float
        ∫ √Δ dl [mm^1.5] and ∫ Δ dl [mm²] over what lies under water outside, Δ the net head.
    """

    hole_integral_mm15: float
    crack_integral_mm2: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Breach:
    """A place where water comes in.

    Attributes
    ----------
    name, what : str
        What it is called, and what it is in words.
    lines_mm : tuple of ndarray, shape (k, 3)
        Where it is [mm]; one point for a hole or a crack of given size.
    flow : Flow or None
        A hole or a crack of given size, at one point.
    strengths : mapping of str to float
        Of what a test told, by law: flow over head integral [g/min per mm^1.5 or mm²].
    """

    name: str
    what: str
    lines_mm: tuple[FloatArray, ...]
    flow: Flow | None = None
    strengths: Mapping[Law, float] = field(default_factory=dict)

    @property
    def laws(self) -> tuple[Law, ...]:
        """The laws it is to be worked out by: its own, or both where a test told of it."""
        if self.flow is None:
            return tuple(self.strengths)
        return ("crack",) if isinstance(self.flow, Crack) else ("hole",)

    @property
    def points_mm(self) -> FloatArray:
        """All its points, shape (n, 3) [mm]."""
        return np.concatenate(self.lines_mm)

    def rate_g_per_min(self, law: Law, heads: NetHeads, water: Water) -> float:
        """Return what comes in under net heads [g/min]; a crack never passes its hole law."""
        if self.flow is not None:
            head = heads.crack_integral_mm2 / POINT_LENGTH_MM
            return S_PER_MIN * self.flow.flow_g_s(head, water)
        integral = heads.hole_integral_mm15 if law == "hole" else heads.crack_integral_mm2
        return self.strengths[law] * integral


def sheet_breach(leak: Leak) -> Breach:
    """Return a [[leak]] of the sheet as what lets water in."""
    flow: Flow
    if leak.diameter_mm is not None:
        flow = Hole(diameter_mm=leak.diameter_mm)
        what = f"a hole of {leak.diameter_mm:g} mm"
    else:
        # A crack is refused unless all three are given: see `Leak`.
        width, length = leak.crack_width_mm or 0.0, leak.crack_length_mm or 0.0
        flow = Crack(width_mm=width, length_mm=length, wall_mm=leak.wall_mm or 0.0)
        what = f"a crack of {width:g} × {length:g} mm"
    return Breach(
        name=leak.name,
        what=what,
        lines_mm=(np.array([leak.point_mm], dtype=np.float64),),
        flow=flow,
    )


def breach_of_test(
    name: str, lines_mm: tuple[FloatArray, ...], heads: Heads, rates: Mapping[Law, float]
) -> Breach:
    """Return a seam or an opening that let in, in a test, what came in.

    Parameters
    ----------
    name : str
        Its name.
    lines_mm : tuple of ndarray, shape (k, 3)
        Where it runs [mm].
    heads : Heads
        Along it in the test; some of it under water.
    rates : mapping of str to float
        By law: what would come in in her own water [g/min], all of it through here.
    """
    return Breach(
        name=name,
        what="if all came in there",
        lines_mm=lines_mm,
        strengths={law: rate / integral_of(law, heads) for law, rate in rates.items()},
    )


def net_heads(
    lines_mm: Sequence[FloatArray], normal: FloatArray, outside_mm: float, inside_mm: float | None
) -> NetHeads:
    """Return what drives water in along lines, the water inside pressing back.

    Parameters
    ----------
    lines_mm : sequence of ndarray, shape (k, 3)
        Open polylines or single points in body axes [mm].
    normal : ndarray, shape (3,)
        Out of the water.
    outside_mm, inside_mm : float
        Heights of both surfaces along the normal [mm]; None inside: no water there.

    Returns
    -------
    NetHeads
        All 0 where the water inside stands as high as outside.

    Notes
    -----
    With depths a under the outer and b under the inner surface, Δ = max(a, 0) − max(b, 0). Both
    surfaces being parallel, Δ is the same all along what lies under both, and a alone where no
    water stands above inside.
    """
    outer = heads_along(lines_mm, normal, outside_mm)
    if inside_mm is None:
        return NetHeads(
            hole_integral_mm15=outer.hole_integral_mm15,
            crack_integral_mm2=outer.crack_integral_mm2,
        )
    apart = outside_mm - inside_mm
    if apart <= 0.0:
        return NetHeads(hole_integral_mm15=0.0, crack_integral_mm2=0.0)
    inner = heads_along(lines_mm, normal, inside_mm)
    free = _above(lines_mm, normal, inside_mm)
    above = heads_along(free, normal, outside_mm).hole_integral_mm15 if free else 0.0
    return NetHeads(
        hole_integral_mm15=above + float(np.sqrt(apart)) * inner.wet_length_mm,
        crack_integral_mm2=outer.crack_integral_mm2 - inner.crack_integral_mm2,
    )


def _above(
    lines_mm: Sequence[FloatArray], normal: FloatArray, height_mm: float
) -> list[FloatArray]:
    """Return what of lines lies above a plane, as stretches of two points or single points."""
    kept: list[FloatArray] = []
    for line in lines_mm:
        heights = line @ normal - height_mm
        if len(line) == 1:
            kept += [line] if heights[0] >= 0.0 else []
            continue
        for start, end, a, b in zip(line[:-1], line[1:], heights[:-1], heights[1:], strict=True):
            if a < 0.0 and b < 0.0:
                continue
            foot = start + a / (a - b) * (end - start) if a * b < 0.0 else None
            one = foot if a < 0.0 and foot is not None else start
            two = foot if b < 0.0 and foot is not None else end
            kept.append(np.stack((one, two)))
    return kept
