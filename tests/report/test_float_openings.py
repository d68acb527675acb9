"""Openings, limits and fittings on the sheet: true heights, patterns by state, none left out."""

import dataclasses

import numpy as np
import pytest

from hullcheck.answers.float_answer import float_answer
from hullcheck.craft.fittings import Fittings
from hullcheck.report import style
from hullcheck.report.float_drawing import float_drawing
from hullcheck.report.float_fittings import pencil_words, wing_tips
from hullcheck.report.float_scene import Scene
from hullcheck.report.sheet import drawable
from hullcheck.report.words import shown_name


@pytest.fixture(scope="module")
def drawn(sheet):
    """Return the demo with openings, her answer and her figure."""
    return *sheet, float_drawing(*sheet)


def _words(figure):
    """Return every text on a figure."""
    from matplotlib.text import Text

    return [t.get_text() for t in figure.findobj(Text) if t.get_text().strip()]


def _lines(figure, **wanted):
    """Return the lines of a figure with some properties, as arrays of spots."""
    from matplotlib.lines import Line2D

    return [
        np.asarray(line.get_xydata())
        for line in figure.findobj(Line2D)
        if all(getattr(line, f"get_{key}")() == value for key, value in wanted.items())
    ]


def _scale(figure, scene):
    """Return the side view's scale [pt/mm], from the width of the hull's silhouette."""
    from matplotlib.colors import to_hex
    from matplotlib.patches import PathPatch

    widths = [
        np.ptp(patch.get_path().vertices[:, 0])
        for patch in figure.findobj(PathPatch)
        if to_hex(patch.get_facecolor()).upper() == style.SKIN
    ]
    hull = np.concatenate(scene.hulls[0].side)
    return max(widths) / np.ptp(hull[:, 0])


def test_bars_are_as_high_as_openings(drawn):
    """Each bar stands on the water and is its opening's height by the scale of the view."""
    _, answer, figure = drawn
    scene = Scene.of(*drawn[:2])
    scale = _scale(figure, scene)
    bars = [
        line
        for width in (style.BAR, style.LIMIT_BAR, style.QUIET_BAR)
        for line in _lines(figure, linewidth=width)
        if len(line) == 2 and line[0, 0] == line[1, 0]
    ]
    heights = sorted(float(line[1, 1] - line[0, 1]) for line in bars)
    for point in answer.freeboard_mm.points[:4]:
        # A bar's foot stands on the upper edge of the water line; spots are rounded to 0.01 pt.
        want = point.height_mm * scale - 0.5 * style.WATER_LINE
        assert min(abs(height - want) for height in heights) < 0.02, point.name


def test_every_opening_is_named(state):
    """No opening is silently left out: it has a flag, shares one, or is listed beside them."""
    name, _, answer = state
    if answer.freeboard_mm is None or answer.rest in {"capsized", "sinks"}:
        return
    said = " ".join(_words(float_drawing(*state[1:])))
    for point in answer.freeboard_mm.points:
        if point.what == "opening":
            first = drawable(shown_name(point.name)).split(" ")[0].rstrip(",")[:14]
            assert first in said, f"{name}: {point.name}"


def test_what_has_no_flag_is_called_dry(states):
    """Openings without a flag are listed with their heights, sealed ones as such."""
    craft = states["eight openings"]()
    also = [w for w in _words(float_drawing(craft, float_answer(craft))) if "Also dry" in w]
    assert len(also) == 1
    assert "nose hatch (sealed) 36.5 mm" in also[0]


def test_the_least_is_never_dropped(states):
    """However crowded the row, the flag of what limits is there and the only filled one."""
    craft = states["openings close together"]()
    answer = float_answer(craft)
    figure = float_drawing(craft, answer)
    assert answer.freeboard_mm.at in _words(figure)
    filled = [w for w in _words(figure) if w == "30.5 mm"]
    assert len(filled) == 1


def test_twins_share_a_flag(states):
    """Two openings of one height, state and station stand under one flag."""
    craft = states["twin openings"]()
    words = _words(float_drawing(craft, float_answer(craft)))
    assert {"starboard vent,", "port vent"} <= set(words)
    assert words.count("36.5 mm") == 1


def test_states_differ_in_pattern_and_weight(states):
    """Sealed is thin and soft, not stated is dotted: neither by its word alone."""
    from matplotlib.lines import Line2D

    craft = states["eight openings"]()
    figure = float_drawing(craft, float_answer(craft))
    dotted = [
        line
        for line in figure.findobj(Line2D)
        if line.get_linewidth() == style.BAR and line.get_linestyle() == "--"
    ]
    assert len(dotted) == 1
    craft = states["all sealed"]()
    figure = float_drawing(craft, float_answer(craft))
    assert len(_lines(figure, linewidth=style.QUIET_BAR, color=style.SOFT)) == 4


def test_the_limit_stands_at_its_height(drawn):
    """The limit's line crosses the limiting bar as high over the water as the limit says."""
    craft, answer, figure = drawn
    scale = _scale(figure, Scene.of(craft, answer))
    surface = max(line[0, 1] for line in _lines(figure, linewidth=style.WATER_LINE))
    levels = [
        line[0, 1] - surface
        for line in _lines(figure, linewidth=style.THIN, color=style.INK)
        if len(line) == 2 and line[0, 1] == line[1, 1] and np.ptp(line[:, 0]) == pytest.approx(26.0)
    ]
    assert levels == [pytest.approx(craft.limits.freeboard_mm * scale, abs=0.02)]
    assert "limit 15 mm" in _words(figure)


def test_wing_tips_are_drawn_where_they_are(states):
    """The dotted wing ends at its true height over the water, and a tip under it has its flag."""
    craft = states["wing tip under water"]()
    answer = float_answer(craft)
    scene = Scene.of(craft, answer)
    starboard, port = wing_tips(scene)
    by_name = {point.name: point.height_mm for point in answer.clearances_mm}
    assert starboard.height_mm == pytest.approx(by_name["starboard wing tip"], abs=1e-9)
    assert port.height_mm == pytest.approx(by_name["port wing tip"], abs=1e-9)
    figure = float_drawing(craft, answer)
    scale = _scale(figure, scene)
    surface = min(line[0, 1] for line in _lines(figure, linewidth=style.WATER_LINE))
    ends = [
        float(y) - surface
        for line in _lines(figure, linestyle="--", linewidth=1.2)
        for y in line[:, 1]
    ]
    for tip in (starboard, port):
        # Spots are not rounded on lines: what is left is the scale's own rounding.
        assert min(abs(end - tip.height_mm * scale) for end in ends) < 0.05, tip.name
    assert {"−34 mm", "starboard wing tip"} <= set(_words(figure))


def test_the_propeller_tilts_and_keeps_its_size(states):
    """The disc is a line across the thrust, as long as its diameter where it is whole."""
    craft = states["propeller in the water"]()
    answer = float_answer(craft)
    figure = float_drawing(craft, answer)
    scale = _scale(figure, Scene.of(craft, answer))
    propeller = craft.fittings.propeller
    steep = [
        line
        for line in _lines(figure, linestyle="--", linewidth=1.2)
        if len(line) == 2 and np.ptp(line[:, 1]) > 5.0 * np.ptp(line[:, 0])
    ]
    longest = max(steep, key=lambda line: np.ptp(line[:, 1]))
    along = longest[1] - longest[0]
    # The rim is 72 points, the two ends among them.
    assert np.hypot(*along) == pytest.approx(propeller.diameter_mm * scale, rel=1e-3)
    # Bow up turns the disc's upper end aft of its lower one.
    assert np.degrees(np.arctan2(along[0], along[1])) == pytest.approx(answer.trim_deg, abs=0.05)
    assert {"propeller", "41.5 mm under water"} <= set(_words(figure))


def test_the_propeller_takes_next_to_no_scale(drawn):
    """A disc high over the hull is cut rather than the hull drawn small."""
    craft, answer, figure = drawn
    scene = Scene.of(craft, answer)
    bare = dataclasses.replace(craft, fittings=Fittings())
    plain = float_drawing(bare, float_answer(bare))
    assert _scale(figure, scene) > 0.9 * _scale(plain, scene)


def test_pencil_marks_are_said(drawn):
    """Each mark's plumb distance to the water is in the description the file carries."""
    craft, answer, figure = drawn
    scene = Scene.of(craft, answer)
    said = pencil_words(scene)
    mark = craft.fittings.marks[0]
    height = float(np.dot(answer.waterline.normal, mark.point_mm)) - answer.waterline.height_mm
    assert height > 0.0
    assert f"Mark bow: {np.floor(2.0 * height) / 2.0:g} mm plumb above the water." in said
    assert "Mark chine: 23.5 mm plumb under the water." in said
    assert said in figure.axes[0].get_gid()


def test_a_name_is_text_and_nothing_else(states):
    """Dollar signs are no mathematics, line feeds no lines, and a missing glyph is an empty box."""
    craft = states["long names"]()
    words = _words(float_drawing(craft, float_answer(craft)))
    assert any("$5 or $6" in line for line in words)
    assert any("□" in line for line in words)
    assert not any("\n" in line for line in words)


def test_all_fits_in_other_units(states):
    """In inches and ounces too no two texts overlap and none leaves the sheet."""
    from itertools import combinations

    from matplotlib.text import Text

    from hullcheck.report.display import shown_in

    craft = states["eight openings"]()
    answer = float_answer(craft)
    with shown_in(("oz", "in")):
        figure = float_drawing(craft, answer)
    with style.context("float"):
        renderer = figure.canvas.get_renderer()
        boxes = [
            (t.get_text(), np.array(t.get_window_extent(renderer).extents) * 72.0 / style.PNG_DPI)
            for t in figure.findobj(Text)
            if t.get_text().strip()
        ]
    for (one, a), (two, b) in combinations(boxes, 2):
        shared = np.minimum(a[2:], b[2:]) - np.maximum(a[:2], b[:2])
        assert shared.min() <= 72.0 / style.PNG_DPI, f"{one!r} and {two!r} overlap"
    assert min(box[0] for _, box in boxes) >= 0.0
    assert max(box[2] for _, box in boxes) <= style.SHEET_WIDTH
