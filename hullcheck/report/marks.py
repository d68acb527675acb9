"""The symbols every drawing shares, each drawn the same way everywhere."""

from collections.abc import Sequence
from typing import Final, Literal

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import style
from hullcheck.report.sheet import Box, Sheet, Side, Spot
from hullcheck.report.style import Layer, Pattern

CG_RADIUS: Final = 4.5
CB_RADIUS: Final = 4.4
DIAMOND: Final = 3.9
_HEAD_LONG: Final = 5.0
_HEAD_WIDE: Final = 1.9
_TICK_APART: Final = 4.4
SHORT: Final = 15.0
"""A dimension shorter than two heads and a stub gets its arrows outside [pt]."""


def water(sheet: Sheet, box: Box, *, strokes: bool) -> None:
    """Draw water: its tint, its surface along the top and, once a drawing, three short strokes."""
    sheet.block(box, style.TINT)
    sheet.line(
        [(box.left, box.top), (box.right, box.top)],
        color=style.WATER,
        width=style.WATER_LINE,
        layer=Layer.WATER,
    )
    if strokes:
        for down, half in ((3.4, 8.0), (6.7, 4.6), (10.0, 1.7)):
            sheet.line(
                [
                    (box.left + 12.0 - half, box.top - down),
                    (box.left + 12.0 + half, box.top - down),
                ],
                color=style.WATER,
                width=style.THIN,
                layer=Layer.WATER,
            )


Kind = Literal["limiting", "plain", "quiet"]
_BARS: Final = {
    "limiting": (style.LIMIT, style.LIMIT_BAR),
    "plain": (style.INK, style.BAR),
    "quiet": (style.SOFT, style.QUIET_BAR),
}


def height_bar(
    sheet: Sheet,
    at: Spot,
    water_y: float,
    *,
    kind: Kind,
    diamond: bool = True,
    dotted: bool = False,
) -> None:
    """Draw a height above the water: a bar from the surface to a point, a diamond on the point.

    Quiet is what is sealed; dotted what is only supposed, its state not being stated.
    """
    color, width = _BARS[kind]
    limiting = kind == "limiting"
    foot = water_y + np.sign(at[1] - water_y) * 0.5 * style.WATER_LINE
    sheet.line(
        [(at[0], foot), at],
        color=color,
        width=width,
        pattern=style.DOTTED_BAR if dotted else style.SOLID,
        casing=diamond,
        layer=Layer.BAR,
    )
    if diamond:
        size = DIAMOND + (0.4 if limiting else 0.0)
        corners = np.array([(0.0, -size), (size, 0.0), (0.0, size), (-size, 0.0)]) + at
        sheet.area(
            [corners],
            fill=color if limiting else style.PAPER,
            edge=color,
            width=1.3,
            layer=Layer.MARK,
        )


def mast(
    sheet: Sheet, at: Spot, top: Spot, *, kind: Kind, over_y: float, label_height: float
) -> list[Spot]:
    """Draw a thin mast from a point up to a label and return it; it jogs above the deck if it must.

    It runs plumb along the label's height [pt].
    """
    color = _BARS[kind][0]
    start = (at[0], at[1] + DIAMOND)
    path = [start, top]
    if abs(top[0] - at[0]) > 0.1:
        foot = max(at[1] + DIAMOND, over_y) + 3.0
        knee = min(foot + max(6.0, 0.35 * abs(top[0] - at[0])), top[1] - label_height)
        path = [start, (at[0], foot), (top[0], knee), top]
    sheet.line(path, color=color, width=style.THIN, layer=Layer.LINE)
    return path


def flag(sheet: Sheet, at: Spot, words: str, *, side: Side = "left") -> Box:
    """Write a value in a filled flag, its text on the baseline `at`, and return the flag's box."""
    inner = sheet.box_of(at, words, style.FLAG, side)
    box = Box(
        left=inner.left - 4.0, bottom=at[1] - 4.6, right=inner.right + 4.0, top=at[1] + 13.2
    )  # fmt: skip
    sheet.block(box, style.LIMIT, layer=Layer.MARK)
    sheet.text(at, words, style.FLAG, side=side)
    return box


def center_of_gravity(sheet: Sheet, at: Spot) -> None:
    """Draw the quartered disc."""
    from matplotlib.patches import Wedge

    sheet.disc(at, CG_RADIUS, fill=style.PAPER, layer=Layer.MARK + 0.2)
    for first in (0.0, 180.0):
        wedge = Wedge(
            at, CG_RADIUS, first, first + 90.0, facecolor=style.INK, lw=0.0, zorder=Layer.MARK + 0.2
        )
        sheet.axes.add_patch(wedge)
    sheet.disc(at, CG_RADIUS, edge=style.INK, width=1.2, layer=Layer.MARK + 0.3)


def center_of_buoyancy(sheet: Sheet, at: Spot, *, supposed: bool = False) -> None:
    """Draw the ring with its small rising stroke; dotted where it is that of another attitude."""
    pattern: Pattern = (0.0, (1.0, 1.1)) if supposed else style.SOLID
    layer = Layer.MARK + (0.0 if supposed else 0.1)
    sheet.disc(at, CB_RADIUS, fill=style.PAPER, layer=layer)
    sheet.disc(at, CB_RADIUS, edge=style.WATER, width=1.7, pattern=pattern, layer=layer)
    stroke = [(at[0] - 1.9, at[1] - 0.7), (at[0], at[1] + 1.4), (at[0] + 1.9, at[1] - 0.7)]
    sheet.line(stroke, color=style.WATER, width=1.2, layer=layer)


def plumb_line(sheet: Sheet, x: float, top: float, bottom: float) -> None:
    """Draw a thin plumb line that ends in a pointed bob."""
    sheet.line([(x, top), (x, bottom + 6.0)], width=style.THIN, layer=Layer.LINE)
    bob = np.array([(x - 2.1, bottom + 6.5), (x + 2.1, bottom + 6.5), (x, bottom)])
    sheet.area([bob], fill=style.INK, layer=Layer.MARK)


def arrow(sheet: Sheet, tail: Spot, tip: Spot, color: str = style.INK) -> None:
    """Draw a thin line ending in an arrow head."""
    start, end = np.array(tail), np.array(tip)
    along = (end - start) / np.hypot(*(end - start))
    aside = np.array([-along[1], along[0]])
    back = end - _HEAD_LONG * along
    sheet.line([tail, tuple(back + 0.5 * along)], color=color, width=style.THIN)
    head = np.array([end, back + _HEAD_WIDE * aside, back - _HEAD_WIDE * aside])
    sheet.area([head], fill=color, layer=Layer.LINE)


def dimension(sheet: Sheet, one: Spot, two: Spot, color: str = style.INK) -> None:
    """Draw a dimension between two points, its arrows outside where it is short."""
    start, end = np.array(one), np.array(two)
    size = float(np.hypot(*(end - start)))
    middle: Spot = tuple(0.5 * (start + end))
    if size >= SHORT:
        arrow(sheet, middle, two, color)
        arrow(sheet, middle, one, color)
        return
    along = (end - start) / size if size > 0.0 else np.array([1.0, 0.0])
    sheet.line([one, two], color=color, width=style.THIN)
    arrow(sheet, tuple(start - 2.0 * _HEAD_LONG * along), one, color)
    arrow(sheet, tuple(end + 2.0 * _HEAD_LONG * along), two, color)


def draft(sheet: Sheet, x: float, surface_y: float, keel_y: float) -> None:
    """Draw the arrow of a draft, in water blue, from the surface to the keel."""
    if surface_y - keel_y >= SHORT:
        dimension(sheet, (x, surface_y), (x, keel_y), style.WATER)
        return
    # Outside arrows would stand on the paper above the surface; small heads fit inside.
    size = surface_y - keel_y
    sheet.line([(x, surface_y), (x, keel_y)], color=style.WATER, width=style.THIN)
    long = min(3.4, 0.45 * size)
    for tip, way in ((surface_y, -1.0), (keel_y, 1.0)):
        head = np.array([(x, tip), (x - 1.7, tip + way * long), (x + 1.7, tip + way * long)])
        sheet.area([head], fill=style.WATER, layer=Layer.LINE)


def step_triangle(sheet: Sheet, corner: Spot) -> None:
    """Draw the filled triangle under the step's corner."""
    x, y = corner
    sheet.area(
        [np.array([(x, y - 1.6), (x - 4.2, y - 9.2), (x + 4.2, y - 9.2)])],
        fill=style.INK,
        layer=Layer.MARK,
    )


def step_wedge(sheet: Sheet, apex: Spot, one: Spot, two: Spot, *, filled: bool) -> None:
    """Draw the white wedge from the center of gravity that is the step's angle.

    It is open where the step lies ahead: its foot would then stand outside the hull.
    """
    if filled:
        corners = np.array([apex, one, two])
        sheet.area([corners], fill=style.PAPER, layer=Layer.OUTLINE - 0.1)
    sheet.line([one, apex, two], width=style.HAIR, layer=Layer.OUTLINE - 0.1)


def flotation_cross(sheet: Sheet, at: Spot) -> None:
    """Draw the cross of the center of flotation."""
    for dx, dy in ((4.6, 0.0), (0.0, 4.6)):
        sheet.line(
            [(at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy)],
            color=style.WATER,
            width=1.9,
            layer=Layer.MARK,
        )


def limit_line(sheet: Sheet, left: float, right: float, y: float) -> None:
    """Draw a limit: a line with short ticks on its forbidden side, below it."""
    sheet.line([(left, y), (right, y)], width=style.THIN, casing=True, layer=Layer.MARK)
    count = int((right - left) // _TICK_APART)
    for i in range(count):
        x = left + (i + 0.7) * (right - left) / count
        sheet.line([(x, y), (x - 2.6, y - 3.0)], width=style.HAIR, layer=Layer.MARK)


def pencil_mark(sheet: Sheet, at: Spot) -> None:
    """Draw a pencil mark on the hull: a short level stroke over a plumb one."""
    x, y = at
    sheet.line([(x - 3.2, y), (x + 3.2, y)], color=style.SOFT, width=1.2, layer=Layer.LINE)
    sheet.line([(x, y), (x, y - 3.4)], color=style.SOFT, width=style.THIN, layer=Layer.LINE)


def dotted(sheet: Sheet, points: Sequence[Spot] | FloatArray) -> None:
    """Draw a dotted line: what is not in the mesh."""
    sheet.line(points, color=style.SOFT, width=1.2, pattern=style.DOTTED, layer=Layer.HAIR)


def left_out(sheet: Sheet, at: Spot, color: str = style.INK) -> None:
    """Draw the two slashes that say a length is left out."""
    x, y = at
    for shift in (-1.4, 1.4):
        line = [(x + shift - 1.6, y - 3.4), (x + shift + 1.6, y + 3.4)]
        sheet.line(line, color=color, width=style.THIN, layer=Layer.MARK)
