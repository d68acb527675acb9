"""The growth chart for a sheet as narrow as a phone: names in two lines, water to the edge."""

from typing import Final

from hullcheck.report.growth_chart import Chart, Curves
from hullcheck.report.growth_drawing import GrowthForm
from hullcheck.report.growth_labels import named, type_of
from hullcheck.report.labels import Room, evened, pushed_apart
from hullcheck.report.sheet import Sheet
from hullcheck.report.style import Type

_NAMES: Final = 70.0
"""Most room that names at the right end may take [pt]."""
_OFF: Final = 5.0
"""From the end of a line to its name [pt]."""
_FAR: Final = 1e4
"""Further than any sheet is high [pt]."""
_PITCH: Final = 10.6
_APART: Final = 3.5
"""Between two names [pt]."""
_HALF: Final = 3.0
"""From a baseline up to the middle of its line [pt]."""


class NarrowGrowth(GrowthForm):
    """A chart with its names in two lines at their right end, its water to the sheet's edge."""

    left = 30.0
    strokes = 0.0
    tight = True

    def names_width(self, sheet: Sheet, curves: Curves) -> float:
        """Return the room right of the chart that names take, the sheet's margin apart [pt]."""
        lines = [text for texts in _texts(sheet, curves) for text in texts]
        return max(sheet.width_of(words, kind) for words, kind in lines) + _OFF - 10.0

    def write_names(self, chart: Chart, curves: Curves, room: Room) -> None:
        """Name each line at its right end, in the order of the lines, clear of the surface."""
        every = list(zip(curves.heights, _texts(chart.sheet, curves), strict=True))
        surface = chart.y(0.0)
        for wet, low, high in (
            (True, -_FAR, surface - _APART),
            (False, surface + _APART, chart.box.top + _PITCH),
        ):
            named_here = [(one, lines) for one, lines in every if (one.last_mm < 0.0) == wet]
            highs = [_PITCH * len(lines) for _, lines in named_here]
            wanted = [
                chart.y(one.last_mm) - 0.5 * tall
                for (one, _), tall in zip(named_here, highs, strict=True)
            ]
            feet = pushed_apart(wanted, highs, _APART, low, high)
            for foot, tall, (_, lines) in zip(feet, highs, named_here, strict=True):
                _write(chart, foot + tall, lines, room)

    def water_end(self, chart: Chart) -> float:
        """Return where the water ends on the right: at the sheet's edge [pt]."""
        return chart.sheet.width

    def values_end(self, chart: Chart, curves: Curves) -> float:
        """Return where the values end: at the sheet's edge, unless a name stands there [pt]."""
        wet = any(one.last_mm < 0.0 for one in curves.heights)
        return (chart.box.right if wet else chart.sheet.width) - 3.0


def _write(chart: Chart, top: float, lines: list[tuple[str, Type]], room: Room) -> None:
    """Write a name under a height of the sheet."""
    y = top - 0.5 * _PITCH - _HALF
    for words, kind in lines:
        room.take(chart.sheet.text((chart.box.right + _OFF, y), words, kind))
        y -= _PITCH


def _texts(sheet: Sheet, curves: Curves) -> list[list[tuple[str, Type]]]:
    """Return the name of each line, the lowest first, in up to two lines with their type."""
    found = []
    for one, words in named(curves):
        kind = type_of(one, curves)
        short = words.replace("opening at station ", "opening ")
        found.append([(line, kind) for line in evened(sheet, short, kind, _NAMES)])
    return found
