"""The skin drawing's view of the whole from port, in the water, and what all its views share."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from hullcheck.geometry.outlines import Loops, below
from hullcheck.report import marks, style
from hullcheck.report.numbers import station_text
from hullcheck.report.sheet import Box, Sheet
from hullcheck.report.skin_labels import (
    FOOT_HEIGHT,
    GAP,
    Label,
    foot_row,
    label_row,
    patch_label,
    row_height,
    twins_once,
)
from hullcheck.report.skin_page import Page, Place
from hullcheck.report.skin_scene import BodyShape, Facing, PatchShape, SeamShape, SkinScene
from hullcheck.report.skin_words import LEAST_MISMATCH_MM, count_words, fine_text, gap_text
from hullcheck.report.style import Layer

_WATER_UNDER: Final = 8.0
_BAND: Final = 0.1
"""Of a layer: what one body takes, so that a nearer one covers all of a farther one."""
_MOST_BODIES: Final = 8
_SAME_STATION_MM: Final = 0.5
_SEAM_AT: Final = "seam at "
_FEW_SEAMS: Final = 6
_STROKES_ROOM: Final = 26.0


def side_view(page: Page, top: float) -> float:
    """Draw the skin from port below a height of the sheet and return where it ends [pt]."""
    sheet, scene, scale = page.sheet, page.scene, page.scale
    every = np.concatenate([loop for body in scene.bodies for loop in body.side])
    low, high = float(every[:, 1].min()), float(every[:, 1].max())
    if scene.in_water:
        low, high = min(low, 0.0), max(high, 0.0)
    named = labeled(scene.patches, "port")
    # Where a label stands up and down changes nothing of its height.
    flat = Place(right=scale, up=scale, zero=(page.left, 0.0))
    row = row_height(sheet, twins_once(_side_labels(scene, named, flat)))
    surface = top - (row + GAP if named else 0.0) - high * scale
    place = Place(right=scale, up=scale, zero=(page.left, surface))
    floor = surface + low * scale
    seams, told = _all_alike(_seam_labels(scene, place))
    end = floor - (FOOT_HEIGHT if seams else _WATER_UNDER)
    if scene.in_water:
        box = Box(left=0.0, bottom=end, right=sheet.width, top=surface)
        marks.water(sheet, box, strokes=place.at(every)[:, 0].min() > _STROKES_ROOM)
    for i, body in enumerate(scene.bodies):
        _side_of(page, body, place, _layer(i))
    labels = twins_once(_side_labels(scene, named, place))
    dropped = label_row(sheet, labels, top, float(place.at(every)[:, 1].max()))
    more = len(foot_row(sheet, seams, floor))
    if told:
        sheet.text((0.5 * sheet.width, floor - 26.5), told, style.NOTE, side="center")
    end = also(sheet, dropped, end)
    if more:
        words = f"and {count_words(more, 'more seam')}, named in the table"
        sheet.text((style.MARGIN, end - 11.5), words, style.NOTE)
        end -= 14.5
    return end


def _all_alike(seams: list[Label]) -> tuple[list[Label], str]:
    """Return the labels of many seams that are all alike by their stations alone, and what all are.

    Few, and such as differ, keep their labels, and nothing is said of all.
    """
    gaps = {label.lines[0] for label in seams}
    if len(seams) <= _FEW_SEAMS or len(gaps) > 1:
        return seams, ""
    ((words, _),) = gaps
    short = [replace(one, lines=((one.name.removeprefix(_SEAM_AT), style.NAME),)) for one in seams]
    return short, f"seams at these stations: all {words}"


def _side_labels(scene: SkinScene, named: Sequence[PatchShape], place: Place) -> list[Label]:
    """Return the labels of the pieces named in the side view."""
    return [patch_label(p, place.spot(scene.frame.side(p.middle_mm))) for p in named]


def labeled(patches: Sequence[PatchShape], view: Facing) -> list[PatchShape]:
    """Return the pieces that are named in a view: where each is seen best; seams are not named."""
    return [p for p in patches if p.facing == view and p.report.kind != "seam"]


def _layer(number: int) -> float:
    """Return the layer of a body, farther ones first."""
    return Layer.FILL + _BAND * min(number, _MOST_BODIES)


def _side_of(page: Page, body: BodyShape, place: Place, layer: float) -> None:
    """Draw a body from port; a tip float before the hull only in outline."""
    sheet, main = page.sheet, page.scene.main
    side = place.all(body.side)
    before = body not in main and body.middle_mm[1] < main[-1].middle_mm[1]
    if before:
        sheet.area(side, edge=style.SOFT, width=style.THIN, layer=Layer.OUTLINE)
    else:
        sheet.area(side, fill=style.SKIN, layer=layer)
        if page.scene.in_water:
            wet = place.all(below(body.side, 0.0))
            sheet.area(wet, fill=style.WET_SKIN, layer=layer + 0.01)
        sheet.area(side, edge=style.INK, layer=layer + 0.05)
    for seam in body.seams:
        draw_seam(sheet, place.all(seam.side), layer + 0.03)
    for patch in body.patches:
        faces = "port" in patch.seen_from and not before
        draw_patch(sheet, patch, place.all(patch.side), layer + 0.06, filled=faces)


def draw_patch(
    sheet: Sheet, patch: PatchShape, loops: Loops, layer: float, *, filled: bool
) -> None:
    """Draw an invented piece: another tone, a dotted edge, in limit color where water gets in."""
    if patch.report.kind == "seam":
        draw_seam(sheet, loops, layer)
        return
    leak = patch.is_leak
    sheet.area(loops, fill=style.PAPER if filled else None, layer=layer)
    sheet.area(
        loops,
        edge=style.LIMIT if leak else style.INK,
        width=style.BOLD if leak else 1.2,
        pattern=style.DOTTED,
        layer=layer + 0.01,
    )


def draw_seam(sheet: Sheet, loops: Loops, layer: float) -> None:
    """Draw a seam: a hair line."""
    for loop in loops:
        closed = np.concatenate((loop, loop[:1]))
        sheet.line(closed, color=style.INK, width=style.HAIR, layer=layer)


def _seam_labels(scene: SkinScene, place: Place) -> list[Label]:
    """Return the label of each seam: its gap and its station, those of twins once."""
    seams: list[SeamShape] = []
    for body in scene.bodies:
        for seam in body.seams:
            alike = any(
                abs(seam.report.station_mm - one.report.station_mm) < _SAME_STATION_MM
                and gap_text(seam.report.gap_mm) == gap_text(one.report.gap_mm)
                for one in seams
            )
            if seam.side and not alike:
                seams.append(seam)
    labels = []
    for seam in seams:
        every = np.concatenate(seam.side)
        lowest = every[int(every[:, 1].argmin())]
        name = f"{_SEAM_AT}{station_text(seam.report.station_mm)}"
        off = seam.report.mismatch_mm
        out = off > LEAST_MISMATCH_MM
        gap = (gap_text(seam.report.gap_mm), style.NAME)
        first = (f"{fine_text(off)} out of line", style.BOLD_NAME) if out else gap
        lines = (first, (name, style.NOTE))
        rank = (out, abs(seam.report.gap_mm))
        labels.append(Label(at=place.spot(lowest), lines=lines, rank=rank, name=name))
    return labels


def also(sheet: Sheet, dropped: Sequence[str], end: float) -> float:
    """Write what found no room for a label, and return where that ends [pt]."""
    if not dropped:
        return end
    words = f"Also closed: {', '.join(sorted(dropped))}"
    width = sheet.width - 2.0 * style.MARGIN
    sheet.text((style.MARGIN, end - 11.5), sheet.fitted(words, style.NOTE, width), style.NOTE)
    return end - 14.5
