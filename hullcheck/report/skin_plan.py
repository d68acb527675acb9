"""The skin drawing's views from above and from below: body by body, labels beside their own."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from hullcheck.report import marks, style
from hullcheck.report.sheet import Sheet
from hullcheck.report.skin_labels import (
    GAP,
    Label,
    have_room,
    label_row,
    patch_label,
    row_height,
    twins_once,
    under_row,
)
from hullcheck.report.skin_page import TITLE_APART, TITLE_ROOM, Page, Place
from hullcheck.report.skin_scene import BodyShape
from hullcheck.report.skin_views import also, draw_patch, draw_seam, labeled
from hullcheck.report.style import Layer
from hullcheck.report.words import shown_name

Flat = Literal["above", "below"]

NAME_APART: Final = 6.0
"""Between a body's stern and its name [pt]."""
_BETWEEN: Final = 30.0
"""Between bodies whose distance is shortened [pt]."""
_SLASHES: Final = 15.0
"""The same beside a row of labels [pt]."""
_LEAST_HALF: Final = 6.0
"""Room for a body's name beside it, either way from its middle [pt]."""
_SAME_STATION: Final = 12.0
"""Labels whose places are closer along her than this would share a leader [pt]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Band:
    """A body with the labels over and under it, and its lowest and highest place in the view [pt].

    Places are counted from the view's zero line, before anything is shortened. `is_true` where its
    distance to the one above it must not be.
    """

    body: BodyShape
    low: float
    high: float
    over: list[Label]
    under: list[Label]
    is_true: bool = False


def flat_view(page: Page, top: float, view: Flat, beside: float) -> float:
    """Draw the skin from above or from below and return where it ends [pt].

    Parameters
    ----------
    top : float
        Where the view's title ends, downwards [pt].
    beside : float
        Where it ends to the right [pt].

    Notes
    -----
    The labels of a body's openings stand right over it, or under it, so that no leader crosses
    another body; lengths between bodies are left out to make the room.
    """
    sheet = page.sheet
    bands = _bands(page, view)
    over = [row_height(sheet, band.over) for band in bands]
    under = [row_height(sheet, band.under) for band in bands]
    if not over[0] and _left(page, bands[0].body) > beside + TITLE_APART:
        # A tip float is short, and stands free of the title.
        top += min(TITLE_ROOM, bands[0].high - bands[0].low)
    shift = top - (over[0] + GAP if over[0] else 0.0) - bands[0].high
    lowest = bands[0].high
    dropped: list[str] = []
    ends = []
    for i, band in enumerate(bands):
        if i:
            rows = (over[i] + GAP if over[i] else 0.0) + (
                under[i - 1] + GAP if under[i - 1] else 0.0
            )
            gap, room = (
                lowest - band.high,
                max(_BETWEEN, rows + 2.0 * _SLASHES - GAP if rows else 0.0),
            )
            if gap > room and not band.is_true:
                shift += gap - room
                free = lowest + shift - (gap - room) - (under[i - 1] + GAP if under[i - 1] else 0.0)
                half = 0.5 * (_BETWEEN if not rows else 2.0 * _SLASHES - GAP)
                marks.left_out(sheet, (_middle(page, bands), free - half))
        dropped += _draw(page, band, view, shift)
        lowest = min(lowest, band.low)
        ends.append(band.low + shift - (under[i] + GAP if under[i] else 0.0))
    return also(sheet, dropped, min(ends))


def _left(page: Page, body: BodyShape) -> float:
    """Return where a body begins across the sheet [pt]."""
    return float(np.concatenate(body.plan)[:, 0].min()) * page.scale + page.left


def _middle(page: Page, bands: Sequence[Band]) -> float:
    """Return where length left out is marked across the sheet [pt]."""
    frame = page.scene.frame
    middles = [frame.plan(band.body.middle_mm)[0] for band in bands]
    return float(np.mean(middles)) * page.scale + page.left


def _bands(page: Page, view: Flat) -> list[Band]:
    """Return the bodies from the top of the view down, each with its labels."""
    turn = 1.0 if view == "above" else -1.0
    place = Place(right=page.scale, up=page.scale * turn, zero=(page.left, 0.0))
    bands = []
    for body in page.scene.bodies:
        heights = place.at(np.concatenate(body.plan))[:, 1]
        low, high = float(heights.min()), float(heights.max())
        spare = max(_LEAST_HALF - 0.5 * (high - low), 0.0)
        labels = twins_once(
            [
                patch_label(p, place.spot(page.scene.frame.plan(p.middle_mm)))
                for p in labeled(body.patches, view)
            ]
        )
        over, under = _shared(page.sheet, labels)
        bands.append(Band(body=body, low=low - spare, high=high + spare, over=over, under=under))
    bands.sort(key=lambda band: -band.high)
    return _with_true_distances(page.sheet, bands)


def _shared(sheet: Sheet, labels: Sequence[Label]) -> tuple[list[Label], list[Label]]:
    """Return which labels of a body stand over it and which under it.

    Of two at one station the lower goes under; where a row has no room for all, every other one.
    """
    over: list[Label] = []
    under: list[Label] = []
    for label in sorted(labels, key=lambda one: -one.at[1]):
        near = any(abs(one.at[0] - label.at[0]) < _SAME_STATION for one in over)
        (under if near else over).append(label)
    if not have_room(sheet, over):
        order = sorted(over, key=lambda one: one.at)
        over, under = order[::2], [*under, *order[1::2]]
    return over, under


def _with_true_distances(sheet: Sheet, bands: list[Band]) -> list[Band]:
    """Return bands with the labels that have no room between two bodies moved where there is some.

    Those of the lowest body go under it, others over the highest one.
    """
    told = list(bands)
    lowest = bands[0].low
    for i in range(1, len(told)):
        band, before = told[i], told[i - 1]
        need = sum(row_height(sheet, row) + GAP for row in (band.over, before.under) if row)
        if need > lowest - band.high:
            last = i == len(told) - 1
            told[i - 1] = replace(before, under=[])
            over = [*told[0].over, *before.under, *([] if last else band.over)]
            told[0] = replace(told[0], over=over)
            told[1 : i + 1] = [replace(one, is_true=True) for one in told[1 : i + 1]]
            under = [*band.over, *band.under] if last else band.under
            told[i] = replace(told[i], over=[], under=under)
        lowest = min(lowest, band.low)
    return told


def _draw(page: Page, band: Band, view: Flat, shift: float) -> list[str]:
    """Draw a body with its name and its labels and return which labels found no room."""
    sheet, body = page.sheet, band.body
    turn = 1.0 if view == "above" else -1.0
    place = Place(right=page.scale, up=page.scale * turn, zero=(page.left, shift))
    sheet.area(place.all(body.plan), fill=style.SKIN, edge=style.INK, width=1.3)
    for seam in body.seams:
        draw_seam(sheet, place.all(seam.plan), Layer.FILL + 0.1)
    for patch in body.patches:
        # A seam runs all round: its mean says nothing of where it is seen from.
        if view in patch.seen_from or patch.report.kind == "seam":
            draw_patch(sheet, patch, place.all(patch.plan), Layer.FILL + 0.2, filled=True)
    if len(page.scene.bodies) > 1:
        _name_beside(sheet, body, place)
    high, low = band.high + shift, band.low + shift
    over, under = (_moved(row, shift) for row in (band.over, band.under))
    dropped: list[str] = []
    if over:
        dropped += label_row(sheet, over, high + GAP + row_height(sheet, over), high)
    if under:
        dropped += under_row(sheet, under, low - GAP - row_height(sheet, under), low)
    return dropped


def _moved(labels: Sequence[Label], up: float) -> list[Label]:
    """Return labels whose spots are moved up [pt]."""
    return [
        replace(
            one,
            at=(one.at[0], one.at[1] + up),
            dots=tuple((x, y + up) for x, y in one.dots),
        )
        for one in labels
    ]


def _name_beside(sheet: Sheet, body: BodyShape, place: Place) -> None:
    """Write a body's name aft of it."""
    spots = place.at(np.concatenate(body.plan))
    x = float(spots[:, 0].max()) + NAME_APART
    y = 0.5 * float(spots[:, 1].min() + spots[:, 1].max()) - 3.2
    words = sheet.fitted(shown_name(body.name), style.NAME, sheet.width - 4.0 - x)
    sheet.text((x, y), words, style.NAME)
