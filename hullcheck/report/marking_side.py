"""The side view at full size: silhouette, waterline and stations, to tape onto the hull."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.marking_answer import Marking
from hullcheck.answers.marking_records import MarkedBody
from hullcheck.flotation.floating import Floating
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import EdgeWeb, below, plane_cut
from hullcheck.geometry.sections import loop_area
from hullcheck.report import style
from hullcheck.report.labels import pushed_apart
from hullcheck.report.marking_pieces import (
    PT_PER_MM,
    Fill,
    Frame,
    Piece,
    Stroke,
    Words,
    closed,
)
from hullcheck.report.marking_words import body_alike
from hullcheck.report.numbers import station_text
from hullcheck.report.style import Type
from hullcheck.report.words import capital

ABOVE_MM: Final = 40.0
"""How far the strip reaches above the water."""
_SMOOTH_MM: Final = 0.02
"""Silhouettes are simplified by no more than this."""
_LEVEL_DEG: Final = 0.05
_ROOM_MM: Final = 2.0
_LEADER_MM: Final = 4.0
_GAP_PT: Final = 5.0
_FAR_MM: Final = 200.0
"""How far beyond the ends numbers may be pushed."""
_LABEL: Final = style.NOTE
_UNDER_MM: Final = _LEADER_MM + 1.15 * _LABEL.size / PT_PER_MM
"""How far numbers reach under the foot of a station's line."""
CUT_OFF: Final = "a band at the water"

Measure = Callable[[str, Type], float]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _View:
    """A side view of level water: right and up in body axes, and the water's height along up."""

    side: str
    floating: Floating
    right: FloatArray
    up: FloatArray
    level: float

    @classmethod
    def of(cls, floating: Floating, side: str) -> "_View":
        """Return the view from a side."""
        n_x, _, n_z = (float(value) for value in floating.normal)
        size = float(np.hypot(n_x, n_z))
        aft = np.array([n_z, 0.0, -n_x]) / size
        return cls(
            side=side,
            floating=floating,
            right=aft if side == "port" else -aft,
            up=np.array([n_x, 0.0, n_z]) / size,
            level=floating.height_mm / size,
        )

    def seen(self, points: FloatArray) -> FloatArray:
        """Return points of the body, shape (k, 3), in the view, shape (k, 2) [mm]."""
        flat: FloatArray = points @ np.stack((self.right, self.up), axis=1) - (0.0, self.level)
        return flat


def side_pieces(
    marking: Marking, measure: Measure, *, several: bool, most_mm: float = np.inf
) -> list[Piece]:
    """Return the side view of every body that is marked, from starboard too where that differs.

    Parameters
    ----------
    marking : Marking
        Where she floats.
    measure : callable
        How wide words of a type are [pt].
    several : bool
        Whether the bodies must be named.
    most_mm : float, optional
        How high a piece may be [mm]: of a deeper one only a band at the water is drawn.
    """
    floating = marking.floating
    if floating is None:
        return []
    pieces = []
    for body in marking.answer.bodies:
        alike = body_alike(body)
        for side in ("port",) if alike else ("port", "starboard"):
            name = f"{' '.join(body.name.split())}, " if several else ""
            note = f"stations {'from the left' if side == 'port' else 'from the right'}"
            if alike:
                note += "; starboard is marked alike: turn the sheets over against the light"
            texts = (capital(f"{name}side view from {side}"), note)
            view = _View.of(floating, side)
            shell = marking.body(body.name).shell
            pieces.append(_piece(body, shell.triangles_mm, view, texts, measure, most_mm=most_mm))
    return pieces


def _piece(
    body: MarkedBody,
    triangles: FloatArray,
    view: _View,
    texts: tuple[str, str],
    measure: Measure,
    *,
    most_mm: float,
) -> Piece:
    """Return the side view of one body as far as 40 mm above the water; its level is height 0.

    Of one that would be too high only a band at the water is drawn, and its title says so.
    """
    outline = EdgeWeb.of(triangles).silhouette(view.right, view.up, _SMOOTH_MM)
    silhouette = [loop - (0.0, view.level) for loop in outline]
    points = np.concatenate(silhouette)
    low, high = points.min(axis=0), points.max(axis=0)
    level = abs(view.floating.heel_deg) < _LEVEL_DEG
    top = min(float(high[1]) + _ROOM_MM, ABOVE_MM)
    base = max(float(low[1]), top - most_mm + _LEADER_MM + _UNDER_MM) - _LEADER_MM
    if base > low[1]:
        texts = (f"{texts[0]}, {CUT_OFF}", texts[1])
    lines, words, lowest = _stations(body, view, base, (float(low[0]), float(high[0])), measure)
    halves = [(word.at[0], 0.5 * measure(word.words, _LABEL) / PT_PER_MM) for word in words]
    return Piece(
        kind="side view",
        title=texts[0],
        note=texts[1],
        frame=Frame(
            left=min([float(low[0]), *(x - half for x, half in halves)]) - _ROOM_MM,
            bottom=lowest,
            right=max([float(high[0]), *(x + half for x, half in halves)]) + _ROOM_MM,
            top=top,
        ),
        strokes=[
            *(Stroke(points=closed(loop), width=style.MIDDLE) for loop in silhouette),
            *_water(triangles, view),
            *lines,
        ],
        fills=[Fill(loops=below(silhouette, 0.0), color=style.TINT)] if level else [],
        words=words,
    )


def _water(triangles: FloatArray, view: _View) -> list[Stroke]:
    """Return where the water meets a body on the side that is looked at."""
    floating = view.floating
    return [
        Stroke(points=view.seen(_half(loop, view.side)), color=style.WATER)
        for loop in plane_cut(triangles, floating.normal, floating.height_mm)
    ]


def _half(loop: FloatArray, side: str) -> FloatArray:
    """Return a waterline from its foremost to its aftmost point along one side.

    Seen from above an outer one runs counter-clockwise, from the bow along the port side; one round
    a well or a trunk inside her runs the other way, and is turned.
    """
    if loop_area(loop[:, :2]) < 0.0:
        loop = loop[::-1]
    fore = int(loop[:, 0].argmin())
    turned = np.roll(loop, -fore, axis=0)
    aft = int(turned[:, 0].argmax())
    if side == "port":
        return turned[: aft + 1]
    return np.concatenate((turned[aft:], turned[:1]))


def _stations(
    body: MarkedBody, view: _View, base: float, ends: tuple[float, float], measure: Measure
) -> tuple[list[Stroke], list[Words], float]:
    """Return a line and a number for every station, and how low these reach [mm]."""
    # A station is square to the body: tilted against level water by the trim.
    lean = float(view.right[2] / view.up[2])
    names = [station_text(station.station_mm) for station in body.stations]
    keels = np.array([station.keel_mm for station in body.stations]).reshape(-1, 3)
    spots = [(float(x), float(y)) for x, y in view.seen(keels)]
    feet = [x + (base - y) * lean for x, y in spots]
    widths = [measure(name, _LABEL) / PT_PER_MM for name in names]
    order = sorted(range(len(feet)), key=lambda i: feet[i])
    placed = pushed_apart(
        [(feet[i] - 0.5 * widths[i]) * PT_PER_MM for i in order],
        [widths[i] * PT_PER_MM for i in order],
        _GAP_PT,
        (ends[0] - _FAR_MM) * PT_PER_MM,
        (ends[1] + _FAR_MM) * PT_PER_MM,
    )
    text_y = base - _UNDER_MM + 0.3 * _LABEL.size / PT_PER_MM
    strokes, words = [], []
    for i, left in zip(order, placed, strict=True):
        x, y = spots[i]
        top = max(y, 0.0) + _LEADER_MM
        middle = left / PT_PER_MM + 0.5 * widths[i]
        path = [(x + (top - y) * lean, top), (feet[i], base), (middle, base - _LEADER_MM)]
        strokes.append(Stroke(points=np.array(path), width=style.HAIR))
        words.append(Words(at=(middle, text_y), words=names[i], kind=_LABEL))
    return strokes, words, base - _UNDER_MM
