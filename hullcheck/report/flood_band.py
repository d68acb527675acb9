"""The CG with water run aft against its band, on a scale of its own under the side view."""

from typing import Final

from hullcheck.answers.flood_records import FloodAnswer, WaterCase
from hullcheck.report import marks, style
from hullcheck.report.flood_words import band_words, behind_words
from hullcheck.report.label_rows import Label, draw_row, row_height
from hullcheck.report.numbers import mass_text, station_text
from hullcheck.report.sheet import Sheet, Spot
from hullcheck.report.style import Layer

_INSET: Final = 46.0
"""From the sheet's margin to the ends of the scale [pt]."""
_BAR: Final = 11.0
_RING: Final = 4.2
_UNDER: Final = 20.0


def draw_band(sheet: Sheet, answer: FloodAnswer, cases: tuple[WaterCase, ...], top: float) -> float:
    """Draw the block with its top at a height of the sheet and return where it ends [pt].

    Parameters
    ----------
    sheet : Sheet
    answer : FloodAnswer
        For her dry CG and its band.
    cases : tuple of WaterCase
        Water of one compartment, lightest first.
    top : float
        [pt]
    """
    dry = answer.center_of_gravity_mm[0]
    stations = [dry, *(case.nose_up.center_of_gravity_mm[0] for case in cases)]
    every = [*stations, *(answer.cg_range_mm or ())]
    low, high = min(every), max(every)
    room = sheet.width - 2.0 * (style.MARGIN + _INSET)
    scale = room / max(high - low, 1.0)
    start = 0.5 * sheet.width - 0.5 * scale * (low + high)
    labels = [Label(foot=(start + scale * dry, 0.0), number=station_text(dry), lines=("dry",))]
    first = next((one for one in cases if _is_out(one)), None)
    labels += [_label(one, start + scale * x, flag=one is first)
               for one, x in zip(cases, stations[1:], strict=True)]  # fmt: skip
    y = top - row_height(labels) - 22.0
    placed = [_moved(label, y) for label in labels]
    sheet.line([(style.MARGIN, y), (sheet.width - style.MARGIN, y)], color=style.FAINT)
    end = y - 12.0
    if answer.cg_range_mm is not None:
        end = _draw_bar(sheet, answer, start, scale, y)
    for x, case in zip(stations[1:], cases, strict=True):
        spot = (start + scale * x, y)
        fill = style.LIMIT if case is first else style.PAPER
        edge = style.LIMIT if case is first else style.INK
        sheet.disc(spot, _RING, fill=fill, edge=edge, layer=Layer.MARK)
    marks.center_of_gravity(sheet, (start + scale * dry, y))
    draw_row(sheet, placed, y + 22.0, up=True)
    return end


def _draw_bar(sheet: Sheet, answer: FloodAnswer, start: float, scale: float, y: float) -> float:
    """Draw the band with its stations under it and return where that ends [pt]."""
    low, high = (start + scale * end for end in answer.cg_range_mm or (0.0, 0.0))
    sheet.line([(low, y), (high, y)], color=style.BAND, width=_BAR, layer=Layer.FILL)
    for x in (low, high):
        sheet.line([(x, y - 7.0), (x, y + 7.0)], width=1.2, layer=Layer.BAR)
    words = f"band of her CG, {band_words(answer)}"
    half = 0.5 * sheet.width_of(words, style.NOTE)
    middle = min(max(0.5 * (low + high), style.MARGIN + half), sheet.width - style.MARGIN - half)
    sheet.text((middle, y - _UNDER), words, style.NOTE, side="center")
    return y - _UNDER - 6.0


def _label(case: WaterCase, x: float, *, flag: bool) -> Label:
    """Return the label of a case."""
    up = case.nose_up
    lines = [mass_text(case.water_g)]
    if up.behind_band_mm:
        lines.append(behind_words(up.behind_band_mm).split(" of")[0].removesuffix(" its band"))
    station = station_text(up.center_of_gravity_mm[0])
    return Label(foot=(x, 0.0), number=station, lines=tuple(lines), flag=flag)


def _is_out(case: WaterCase) -> bool:
    """Return whether a case takes the CG behind its band."""
    return (case.nose_up.behind_band_mm or 0.0) > 0.0


def _moved(label: Label, y: float) -> Label:
    """Return a label with its foot at a height [pt]."""
    foot: Spot = (label.foot[0], y)
    return Label(foot=foot, number=label.number, lines=label.lines, flag=label.flag)
