"""The texts on a drawing: where they stand, and that none stands on another or off the sheet."""

from itertools import combinations

import numpy as np

from hullcheck.report import style

PIXEL_PT = 72.0 / style.PNG_DPI
"""What a box is rounded to by the renderer."""


def texts_of(figure):
    """Return the texts on a figure that hold words."""
    from matplotlib.text import Text

    return [t for t in figure.findobj(Text) if t.get_text().strip() and t.get_visible()]


def boxes_of(figure, drawing):
    """Return each text of a kind of drawing with its box by the renderer, in points."""
    with style.context(drawing):
        renderer = figure.canvas.get_renderer()
        return [
            (t.get_text(), np.array(t.get_window_extent(renderer).extents) * PIXEL_PT)
            for t in texts_of(figure)
        ]


def assert_apart(name, boxes):
    """Assert that no two texts share more than the pixel their boxes are rounded to."""
    for (one, a), (two, b) in combinations(boxes, 2):
        shared = np.minimum(a[2:], b[2:]) - np.maximum(a[:2], b[:2])
        assert shared.min() <= PIXEL_PT, f"{name}: {one!r} and {two!r} overlap by {shared} pt"


def assert_on_sheet(name, figure, boxes, *, margin=0.0):
    """Assert that every text stands on the sheet, whole, and clear of its sides by a margin."""
    width, height = figure.get_size_inches() * 72.0
    for words, box in boxes:
        assert box[0] >= margin, f"{name}: {words!r} leaves the sheet"
        assert box[1] >= 0.0, f"{name}: {words!r} leaves the sheet"
        assert box[2] <= width - margin, f"{name}: {words!r} leaves the sheet"
        assert box[3] <= height, f"{name}: {words!r} leaves the sheet"


def assert_readable(figure, *, lowest_in, highest_in):
    """Assert that no text is under 8.5 pt, and the sheet 8 in wide and of a height."""
    from matplotlib.text import Text

    assert all(t.get_fontsize() >= style.LEAST_TYPE for t in figure.findobj(Text))
    width, height = figure.get_size_inches()
    assert abs(width - 8.0) <= 8e-6
    assert lowest_in <= height <= highest_in


def assert_titled(name, figure, words):
    """Assert that a title is short and no sentence, and that the figure's words begin with it."""
    assert len(words) <= 62, name
    assert not words.endswith(".")
    axes = figure.axes[0]
    assert axes.get_label() == words
    assert str(axes.get_gid()).startswith(f"{words}.")


def assert_narrow(name, screen, table, *, most):
    """Assert that a screen has few lines and begins the table, and that all of it is narrow."""
    assert len(screen) <= most
    assert table[: len(screen)] == screen
    for line in table:
        assert len(line) <= 80, f"{name}: {line}"
        assert "safe" not in line.lower()
        assert "nan" not in line.lower().split()
