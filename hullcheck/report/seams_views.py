"""The two views of the seams' drawing: hull, water, seams by state, labels."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Self

import numpy as np

from hullcheck.answers.seams_records import SeamReport
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import below
from hullcheck.report import marks, seams_marks, style
from hullcheck.report.float_scene import Scene
from hullcheck.report.float_side import Placed
from hullcheck.report.seams_labels import Label, RowForm, label_of
from hullcheck.report.seams_scene import Drawn, Facing
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer

_KEEL_ROOM: Final = 22.0
_CLEAR: Final = 9.0
"""Between a row of labels and its view [pt]."""
_UNDER: Final = 22.0
"""Between the view from below and the labels under it [pt]."""
_LEAST_GAP: Final = 12.0
_STROKES_ROOM: Final = 26.0
_ALONG: Final = 0.4
"""Of what runs along her: where its leader comes from."""
_CENTRAL: Final = 1.0
"""What lies this near the middle is led to the row with more room [pt]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scheme:
    """How large she is drawn, and how her labels stand.

    Attributes
    ----------
    share : float
        Of the sheet's width that she is long, at most.
    tallest, widest : float
        Of the view from port and of that from below [pt].
    form : RowForm
        Of the rows of labels.
    """

    share: float
    tallest: float
    widest: float
    form: RowForm


WIDE: Final = Scheme(share=0.82, tallest=150.0, widest=210.0, form=RowForm())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rows:
    """The labels over the view from port, and over and under that from below."""

    side: list[Label]
    over: list[Label]
    under: list[Label]


@dataclass(frozen=True, kw_only=True, eq=False)
class Views:
    """Both views, before they are drawn.

    Attributes
    ----------
    sheet, scene
        Where and what.
    drawn : tuple of Drawn
        The seams, the worst first.
    now : str
        The time the states are told for (ISO 8601).
    form : RowForm
        Of the rows of labels.
    scale : float
        [pt/mm]
    zero_mm : float
        What stands in the middle of the sheet, along her [mm].
    rows : _Rows
        The labels, with heights from each view's own zero [pt].
    unnamed : tuple of SeamReport
        Those that found no room.
    """

    sheet: Sheet
    scene: Scene
    drawn: tuple[Drawn, ...]
    now: str
    form: RowForm
    scale: float
    zero_mm: float
    rows: _Rows
    unnamed: tuple[SeamReport, ...]

    @classmethod
    def of(
        cls,
        sheet: Sheet,
        scene: Scene,
        drawn: tuple[Drawn, ...],
        now: str,
        scheme: Scheme = WIDE,
    ) -> Self:
        """Return both views of a scene, scale and labels settled."""
        side = np.concatenate([loop for shape in scene.hulls for loop in shape.side])
        plan = np.concatenate([loop for shape in scene.hulls for loop in shape.plan])
        fore, aft = float(side[:, 0].min()), float(side[:, 0].max())
        scale = min(
            scheme.share * sheet.width / max(aft - fore, 1e-9),
            scheme.tallest / max(float(np.ptp(side[:, 1])), 1e-9),
            scheme.widest / max(float(np.ptp(plan[:, 1])), 1e-9),
        )
        zero = 0.5 * (fore + aft)
        flat = Placed(scale=scale, spot=(0.5 * sheet.width, 0.0), zero_mm=zero)
        rows, named = _rows(sheet, drawn, flat, now, scheme.form)
        unnamed = tuple(one.seam for i, one in enumerate(drawn) if i not in named)
        return cls(
            sheet=sheet,
            scene=scene,
            drawn=drawn,
            now=now,
            form=scheme.form,
            scale=scale,
            zero_mm=zero,
            rows=rows,
            unnamed=unnamed,
        )

    def draw(self, top: float) -> float:
        """Draw both views below a height of the sheet and return where they end [pt]."""
        return self._from_below(self._from_port(top) - _LEAST_GAP)

    def _placed(self, y: float) -> Placed:
        """Return a view's place with its zero at a height of the sheet."""
        return Placed(scale=self.scale, spot=(0.5 * self.sheet.width, y), zero_mm=self.zero_mm)

    def _from_port(self, top: float) -> float:
        """Draw her from port, in the water, and return where that ends [pt]."""
        sheet, row = self.sheet, self.rows.side
        every = np.concatenate([loop for shape in self.scene.hulls for loop in shape.side])
        low, high = float(every[:, 1].min()), float(every[:, 1].max())
        room = self.form.height(sheet, row) + 2.0 * _CLEAR if row else _CLEAR
        placed = self._placed(top - room - max(high, 0.0) * self.scale)
        surface = placed.spot[1]
        floor = surface + min(low, 0.0) * self.scale - _KEEL_ROOM
        for i, shape in enumerate(self.scene.hulls):
            loops, layer = placed.all(shape.side), 0.01 * i
            wet = placed.all(below(shape.side, 0.0))
            sheet.area(loops, fill=style.SKIN, layer=Layer.FILL + layer)
            sheet.area(wet, fill=style.WET_SKIN, layer=Layer.FILL + layer)
            sheet.area(loops, edge=style.SOFT, width=1.0, layer=Layer.OUTLINE + layer)
        box = Box(left=0.0, bottom=floor, right=sheet.width, top=surface)
        fore = float(placed.at(every)[:, 0].min())
        marks.water(sheet, box, strokes=fore > _STROKES_ROOM)
        self._seams("side", placed)
        kind = style.NOTE.colored(style.WATER)
        sheet.text((style.MARGIN, floor + 6.0), "from port", kind)
        if row:
            edge = surface + max(high, 0.0) * self.scale
            self.form.draw(sheet, _moved(row, surface), top, edge, over=True)
        return floor

    def _from_below(self, top: float) -> float:
        """Draw her from below, port up, and return where that ends [pt]."""
        sheet, over, under = self.sheet, self.rows.over, self.rows.under
        flip = np.array([1.0, -1.0])
        every = np.concatenate([loop * flip for s in self.scene.hulls for loop in s.plan])
        low, high = float(every[:, 1].min()), float(every[:, 1].max())
        room = self.form.height(sheet, over) + 2.0 * _CLEAR if over else 0.0
        placed = self._placed(top - room - high * self.scale)
        zero = placed.spot[1]
        sinks = self.scene.answer.rest == "sinks"
        for i, shape in enumerate(self.scene.hulls):
            plan = placed.all([loop * flip for loop in shape.plan])
            water = placed.all([loop * flip for loop in shape.waterline])
            layer = 0.01 * i
            fill = style.WET_SKIN if sinks else style.SKIN
            sheet.area(plan, fill=fill, edge=style.SOFT, width=1.0, layer=Layer.FILL + layer)
            sheet.area(
                water, fill=style.WET_SKIN, edge=style.WATER, width=1.0, layer=Layer.WET + layer
            )
        self._seams("below", placed)
        edges = zero + low * self.scale, zero + high * self.scale
        if over:
            self.form.draw(sheet, _moved(over, zero), top, edges[1], over=True)
        end = edges[0] - 4.0
        if under:
            self.form.draw(sheet, _moved(under, zero), end - _UNDER, edges[0], over=False)
            end -= _UNDER + self.form.height(sheet, under)
        words = "from below, port up"
        sheet.text((style.MARGIN, end - 11.0), words, style.NOTE)
        return end - 13.0

    def _seams(self, facing: Facing, placed: Placed) -> None:
        """Draw what is seen of every seam in a view, the worst on top."""
        for one in reversed(self.drawn):
            if not one.on_hull:
                continue
            for piece in one.pieces(facing):
                seams_marks.line(self.sheet, placed.at(piece), one.seam.state)
            if facing == "side" and not one.side and not one.below:
                seams_marks.spot(self.sheet, _spot(placed.at(one.at_side)), one.seam.state)


def _rows(
    sheet: Sheet, drawn: Sequence[Drawn], placed: Placed, now: str, form: RowForm
) -> tuple[_Rows, frozenset[int]]:
    """Return the rows of labels, and the numbers of the seams named in them.

    What finds no room beside the view that shows it best is named in the other, if it is seen
    there.
    """
    shown = [(i, one) for i, one in enumerate(drawn) if one.on_hull]
    wanted = [_label(one, "side", placed, now, i) for i, one in shown if one.facing == "side"]
    seen_below = {i for i, one in shown if one.below}
    side, left = form.kept(sheet, wanted, seen_below)
    if left:
        # Where not all find room, those seen from below are named there: no leader runs far.
        left = [one for one in wanted if one not in side or one.rank in seen_below]
        side = [one for one in side if one.rank not in seen_below]
    flat = [(i, one) for i, one in shown if one.facing == "below"]
    flat += [(one.rank, drawn[one.rank]) for one in left if drawn[one.rank].below]
    over: list[Label] = []
    under: list[Label] = []
    for i, one in sorted(flat, key=lambda pair: pair[0]):
        height = float(_middle(one, placed)[1])
        central = abs(height) <= _CENTRAL
        up = len(over) <= len(under) if central else height > 0.0
        rows = (over, under) if up else (under, over)
        for row in rows:
            label = _label(one, "below", placed, now, i, up=row is over)
            if not form.kept(sheet, [*row, label])[1]:
                row.append(label)
                break
    order = [form.kept(sheet, row)[0] for row in (over, under)]
    named = frozenset(label.rank for row in (side, *order) for label in row)
    return _Rows(side=side, over=order[0], under=order[1]), named


def _label(
    one: Drawn, facing: Facing, placed: Placed, now: str, rank: int, *, up: bool = True
) -> Label:
    """Return the label of a seam in a view, its leader from the end nearest to its row."""
    pieces = one.pieces(facing)
    if not pieces:
        at = placed.at(one.at_side if facing == "side" else one.at_below)
        return label_of(one.seam, _spot(at), now, rank)
    points = placed.at(np.concatenate(pieces))
    size = np.ptp(points, axis=0)
    if size[0] > 2.0 * size[1]:
        # What runs along her is led from off its middle, where fewer joints cross it.
        wanted = points[:, 0].min() + _ALONG * size[0]
        at = points[int(np.abs(points[:, 0] - wanted).argmin())]
    else:
        at = points[int(points[:, 1].argmax() if up else points[:, 1].argmin())]
    return label_of(one.seam, _spot(at), now, rank)


def _middle(one: Drawn, placed: Placed) -> FloatArray:
    """Return the middle of what is seen of a seam from below, on the sheet."""
    middle: FloatArray = placed.at(np.concatenate(one.below)).mean(axis=0)
    return middle


def _moved(labels: Sequence[Label], up: float) -> list[Label]:
    """Return labels with their spots moved up [pt]."""
    return [replace(one, at=(one.at[0], one.at[1] + up)) for one in labels]


def _spot(point: FloatArray) -> Spot:
    """Return a flat point as a spot."""
    return float(point[0]), float(point[1])
