"""Heights above the water over what is swept: the chart on the sheet, its axes and its lines."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from hullcheck.answers.sweep_ends import LEAST_SAMPLES
from hullcheck.answers.sweep_records import SweepAnswer, SweepRow
from hullcheck.answers.sweep_samples import CG_LIMIT, Samples
from hullcheck.geometry.arrays import BoolArray, FloatArray
from hullcheck.report import style
from hullcheck.report.display import shown
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer
from hullcheck.report.sweep_words import in_unit, signed, unit_of
from hullcheck.report.words import shown_name

EDGE: Final = "lowest edge of the hull"
_JUMP_DEG: Final = 8.0
"""A change of heel between two samples next to each other that is a fall, and no line."""
_TICKS: Final = 9.0
_UNDER: Final = 0.3
"""How far under water lines are followed, as a share of the greatest height above it."""
_MOST_LINES: Final = 5
"""So many openings get a line: the lowest ones."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Chart:
    """A quantity over what is swept: the box on the sheet, and what its axes hold."""

    sheet: Sheet
    box: Box
    first: float
    last: float
    low: float
    high: float

    def x(self, value: float) -> float:
        """Return where a value stands across the sheet [pt]."""
        return self.box.left + self.box.width * (value - self.first) / (self.last - self.first)

    def y(self, quantity: float) -> float:
        """Return where a quantity stands up the sheet [pt]."""
        share = (quantity - self.low) / (self.high - self.low)
        return self.box.bottom + share * (self.box.top - self.box.bottom)

    def spot(self, value: float, quantity: float) -> Spot:
        """Return where a value with its quantity stands on the sheet."""
        return self.x(value), self.y(quantity)

    def holds(self, value: float) -> bool:
        """Return whether a value lies on the chart."""
        return self.first <= value <= self.last


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Height:
    """One opening's height over what is swept [mm], NaN where she sinks or lies capsized."""

    name: str
    heights_mm: FloatArray
    lowest: BoolArray

    @property
    def last_mm(self) -> float:
        """Its last height that is known [mm]."""
        return float(self.heights_mm[np.isfinite(self.heights_mm)][-1])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Curves:
    """How she floats at many values of a sweep.

    Attributes
    ----------
    values : ndarray, shape (n,)
        In the unit of the sweep.
    rows : tuple of SweepRow
        Of each value.
    heights : tuple of Height
        Of what lets water in, or of the hull's lowest edge, the lowest at the end first.
    left_out : int
        Openings that let water in and have no line, as they are higher.
    known : ndarray of bool, shape (n,)
        Where the model knows and no water comes in.
    """

    values: FloatArray
    rows: tuple[SweepRow, ...]
    heights: tuple[Height, ...]
    left_out: int
    known: BoolArray

    @classmethod
    def of(cls, samples: Samples, answer: SweepAnswer) -> "Curves":
        """Return the curves of a sweep, floated at its values, its ends and between."""
        low, high = answer.rows[0].value, answer.rows[-1].value
        ends = [e.value for k in answer.kept for e in (k.least_end, k.most_end) if e is not None]
        more = [c.value for c in answer.rest_changes]
        today = [] if answer.today is None else [answer.today.value]
        own = [row.value for row in answer.rows]
        # The very values that ends were looked for at, floated already.
        even = np.linspace(low, high, LEAST_SAMPLES).tolist()
        values = sorted({v for v in (*even, *own, *ends, *more, *today) if low <= v <= high})
        rows = tuple(samples.at(value) for value in values)
        heights = _heights(rows, today)
        return cls(
            values=np.array(values),
            rows=rows,
            heights=heights[:_MOST_LINES],
            left_out=len(heights[_MOST_LINES:]),
            known=np.array([not r.beyond_model and (r.freeboard_mm or 0.0) >= 0.0 for r in rows]),
        )

    @property
    def afloat(self) -> BoolArray:
        """Where she is on her feet, bool, shape (n,)."""
        return np.array([row.rest not in {"sinks", "capsized"} for row in self.rows])

    @property
    def breaks(self) -> BoolArray:
        """Where a line may not go on to the next value as she falls between, bool, (n − 1,)."""
        heels = np.array([math.nan if r.heel_deg is None else r.heel_deg for r in self.rows])
        falls: BoolArray = np.abs(np.diff(heels)) > _JUMP_DEG
        return falls

    def of_rows(self, name: str) -> FloatArray:
        """Return a number of every row, such as "trim_deg"; NaN where she is not on her feet."""
        found = [getattr(row, name) for row in self.rows]
        values = np.array([math.nan if v is None else v for v in found], dtype=np.float64)
        return np.where(self.afloat, values, math.nan)


def pieces(curves: Curves, quantity: FloatArray, chosen: BoolArray) -> list[npt.NDArray[np.intp]]:
    """Return the runs of indices over which a line may be drawn, each of two values at least.

    A piece is drawn between two neighbors if both are chosen, both are known numbers and she does
    not fall between them.
    """
    whole = np.isfinite(quantity)
    drawn = (chosen[:-1] & chosen[1:]) & whole[:-1] & whole[1:] & ~curves.breaks
    runs, start = [], None
    for i, there in enumerate([*drawn.tolist(), False]):
        if there and start is None:
            start = i
        elif not there and start is not None:
            runs.append(np.arange(start, i + 1))
            start = None
    return runs


def draw_line(
    chart: Chart,
    curves: Curves,
    quantity: FloatArray,
    *,
    color: str,
    width: float,
    within: BoolArray | None = None,
) -> list[list[Spot]]:
    """Draw a line: solid where it is known, dashed beyond the model and once water comes in.

    Only within the values that are chosen, where some are; return its pieces on the sheet.
    """
    inside = np.ones(len(curves.values), dtype=bool) if within is None else within
    # The dashed line begins where the solid one ends.
    beyond = ~curves.known
    beyond[1:] |= ~curves.known[:-1]
    beyond[:-1] |= ~curves.known[1:]
    drawn = []
    layer = Layer.BAR if width >= style.BOLD else Layer.LINE
    for chosen, pattern in ((curves.known, style.SOLID), (beyond, style.DASHED)):
        for run in pieces(curves, quantity, chosen & inside):
            points = [chart.spot(curves.values[i], quantity[i]) for i in run]
            chart.sheet.line(points, color=color, width=width, pattern=pattern, layer=layer)
            drawn.append(points)
    return drawn


def cg_ends(answer: SweepAnswer) -> list[tuple[float, bool]]:
    """Return the values at which her CG meets an end of its stations, and whether it is the aft.

    The CG goes as the item does, so that is a straight line through the first and the last row.
    """
    band = answer.cg_range_mm
    if band is None or not any(check.name == CG_LIMIT for check in answer.rows[0].limits):
        return []
    first, last = answer.rows[0], answer.rows[-1]
    start = first.center_of_gravity_mm[0]
    run = last.center_of_gravity_mm[0] - start
    values = [
        (first.value + (end - start) / run * (last.value - first.value), end == band[1])
        for end in band
        if run != 0.0
    ]
    return [(value, aft) for value, aft in values if first.value <= value <= last.value]


def round_step(span: float, count: float) -> float:
    """Return a round step that divides a span into at most so many parts."""
    rough = span / count
    size = 10.0 ** math.floor(math.log10(rough))
    return next(size * k for k in (1.0, 2.0, 5.0, 10.0) if size * k >= rough * (1.0 - 1e-9))


def height_ends(curves: Curves, limit_mm: float | None) -> tuple[float, float, float]:
    """Return the ends of the axis of heights and its step [mm], round in the unit shown."""
    found = [h.heights_mm[np.isfinite(h.heights_mm)] for h in curves.heights]
    every = np.concatenate([*found, [0.0, limit_mm or 0.0]])
    unit = 1.0 / shown().length_of(1.0)
    low, high = float(every.min()), max(float(every.max()), 1e-3)
    step = round_step((high - min(low, 0.0)) / unit, 5.0) * unit
    return min(low, 0.0), high, step


def value_axis(
    chart: Chart, answer: SweepAnswer, y: float, *, ticks: float = _TICKS, bare: bool = False
) -> None:
    """Write at most so many values under the chart, each with its unit unless they stand bare."""
    scale = in_unit(answer, 1.0)
    low, high = chart.first * scale, chart.last * scale
    step = round_step(high - low, ticks)
    unit = "" if bare or answer.over == "item" else f" {unit_of(answer)}"
    count = math.floor(high / step + 1e-9)
    for k in range(math.ceil(low / step - 1e-9), count + 1):
        x = chart.x(k * step / scale)
        chart.sheet.line([(x, y + 12.5), (x, y + 9.5)], layer=Layer.HAIR)
        chart.sheet.text((x, y), f"{signed(round(k * step, 6))}{unit}", style.NAME, side="center")


def spread_names(ys: Sequence[float], gap: float) -> list[float]:
    """Return where names stand so that they keep a gap, in order, each near its own [pt]."""
    order = sorted(range(len(ys)), key=lambda i: ys[i])
    placed = list(ys)
    groups: list[list[int]] = []
    for i in order:
        groups.append([i])
        while len(groups) > 1 and _first(groups[-1], ys, gap) < _last(groups[-2], ys, gap) + gap:
            above = groups.pop()
            groups[-1] += above
    for group in groups:
        start = _first(group, ys, gap)
        for k, i in enumerate(group):
            placed[i] = start + k * gap
    return placed


def _first(group: Sequence[int], ys: Sequence[float], gap: float) -> float:
    """Return where the lowest of a group of names stands [pt]."""
    return float(np.mean([ys[i] - k * gap for k, i in enumerate(group)]))


def _last(group: Sequence[int], ys: Sequence[float], gap: float) -> float:
    """Return where the highest of a group of names stands [pt]."""
    return _first(group, ys, gap) + gap * (len(group) - 1)


def _heights(rows: Sequence[SweepRow], today: Sequence[float]) -> tuple[Height, ...]:
    """Return the heights of all that lets water in, the lowest at the end first.

    Lines are not followed far under water, though to today's at the least.
    """
    names = [p.name for p in next((r.openings for r in rows if r.openings), ())
             if p.state != "sealed"]  # fmt: skip
    found = []
    for name in names:
        heights = [_height(row, name) for row in rows]
        lowest = np.array([row.at == name for row in rows])
        found.append(Height(name=name, heights_mm=np.array(heights), lowest=lowest))
    if not found:
        heights = [_height(row, None) for row in rows]
        lowest = np.ones(len(rows), dtype=bool)
        found.append(Height(name=EDGE, heights_mm=np.array(heights), lowest=lowest))
    top = max((float(np.nanmax(h.heights_mm)) for h in found if np.isfinite(h.heights_mm).any()),
              default=0.0)  # fmt: skip
    here = [row.freeboard_mm for row in rows if row.value in today and row.freeboard_mm is not None]
    deep = min(-_UNDER * max(top, 0.0), *here, 0.0)
    for one in found:
        one.heights_mm[one.heights_mm < deep] = math.nan
    found = [one for one in found if np.isfinite(one.heights_mm).any()]
    return tuple(sorted(found, key=lambda one: one.last_mm))


def _height(row: SweepRow, name: str | None) -> float:
    """Return the height of an opening in a row, of what counts where none is named [mm]."""
    if row.rest in {"sinks", "capsized"}:
        return math.nan
    if name is None:
        return math.nan if row.freeboard_mm is None else row.freeboard_mm
    return next(p.height_mm for p in row.openings if p.name == name)


def name_of(height: Height) -> str:
    """Return what a line is called."""
    return shown_name(height.name, size=False)
