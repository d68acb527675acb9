"""The drawing of a sweep: nothing overlaps, nothing leaves the sheet, the same bytes every time."""

import dataclasses
import functools
import io

import numpy as np
import pytest
from drawn_texts import (
    assert_apart,
    assert_narrow,
    assert_on_sheet,
    assert_readable,
    assert_titled,
    boxes_of,
)

from hullcheck.answers.sweep_answer import sweep_answer, usual_mass_sweep
from hullcheck.answers.sweep_loads import item_sweep, mass_sweep, values_between, water_sweep
from hullcheck.answers.sweep_samples import Samples
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.errors import InputError
from hullcheck.report import style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.growth_chart import spread_names
from hullcheck.report.numbers import height_text, plus_minus_text
from hullcheck.report.sweep_drawing import sweep_drawing
from hullcheck.report.sweep_table import all_lines
from hullcheck.report.sweep_text import first_screen
from hullcheck.report.sweep_titles import title
from hullcheck.water import fresh_water, sea_water, water_of_density

WATERS = (fresh_water(temperature_c=4), fresh_water(temperature_c=25), sea_water(),
          water_of_density(1010.0))  # fmt: skip
BATTERY = 0.24
"""Of her mass that is the battery in the builds made here."""


def _mass(craft):
    """Return the usual sweep over her mass."""
    return usual_mass_sweep(craft)


def _freeboard_alone(craft):
    """Return the usual sweep over her mass with no other limit than that of freeboard."""
    return usual_mass_sweep(dataclasses.replace(craft, limits=Limits(freeboard_mm=15.0)))


def _wide(craft):
    """Return a sweep over her mass from next to nothing until she sinks."""
    carried = 1e-3 * craft.skin.volume_mm3 * 1e-3 * craft.water.density_kg_m3
    return mass_sweep(craft, np.linspace(0.05 * carried, 1.1 * carried, 12).tolist())


def _waters(craft):
    """Return a sweep over four waters."""
    return water_sweep(craft, WATERS)


def _seas(craft):
    """Return a sweep over fresh water and the sea from 0 to 30 °C: today stands at its left end."""
    return water_sweep(
        craft, [fresh_water(), *(sea_water(temperature_c=5.0 * k) for k in range(7))]
    )


def _build(craft, item, cg_range):
    """Return a build of the craft's bodies: a battery 110 mm ahead of her CG, the rest aft."""
    x, y, z = craft.center_of_gravity_mm
    aft = 110.0 * BATTERY / (1.0 - BATTERY)
    items = (
        Item(name=item, weighed_g=BATTERY * craft.mass_g, x_mm=x - 110.0, y_mm=y, z_mm=z),
        Item(
            name="all else", planned_g=(1.0 - BATTERY) * craft.mass_g, x_mm=x + aft, y_mm=y, z_mm=z
        ),
    )
    return Build(
        name=craft.name,
        bodies=craft.bodies,
        water=craft.water,
        ledger=Ledger(items=items),
        openings=craft.openings,
        limits=craft.limits,
        fittings=craft.fittings,
        cg_range_mm=cg_range,
    )


def _item(axis, start, stop, *, item="battery", cg_range=(246.0, 258.0)):
    """Return what makes a sweep over the place of an item."""

    def make(craft):
        """Return the sweep of a craft."""
        values = values_between(start, stop, (stop - start) / 10.0)
        return item_sweep(_build(craft, item, cg_range), None, item, axis, values)

    return make


CASES = {
    "mass, openings": ("openings", _mass),
    "mass, eight openings": ("eight openings", _mass),
    "mass, long names": ("long names", _mass),
    "mass, an opening under water": ("an opening under water", _mass),
    "mass, until she sinks": ("eight openings", _wide),
    "mass, 20 mm long": ("20 mm long", _wide),
    "mass, 6 m long": ("6 m long", _mass),
    "water, openings": ("openings", _waters),
    "water, seven seas": ("eight openings", _seas),
    "water, twin openings": ("twin openings", _seas),
    "item x": ("openings", _item("x", 60.0, 260.0)),
    "item x, long names": (
        "long names",
        _item(
            "x", 100.0, 200.0, item="flight battery, four cells, in its tray behind the bulkhead"
        ),
    ),
    "item x, far": ("eight openings", _item("x", -200.0, 900.0)),
    "item y": ("openings", _item("y", 0.0, 60.0)),
    "item z": ("openings", _item("z", -10.0, 60.0)),
}


@functools.cache
def _drawn(make, sweep_of):
    """Return a sweep's samples, answer and drawing; each is worked out once."""
    samples = Samples.of(sweep_of(make()))
    answer = sweep_answer(samples.sweep, samples)
    return samples, answer, sweep_drawing(samples, answer)


@pytest.fixture(scope="module", params=CASES)
def drawn(request, states):
    """Return a case's name, answer and figure."""
    state, sweep_of = CASES[request.param]
    return (request.param, *_drawn(states[state], sweep_of)[1:])


def test_no_two_texts_overlap_and_none_leaves_the_sheet(drawn):
    """No two texts share more than a pixel, and each stands on the sheet, whole."""
    name, _, figure = drawn
    boxes = boxes_of(figure, "sweep")
    assert_apart(name, boxes)
    assert_on_sheet(name, figure, boxes)


def test_no_text_is_too_small_and_the_sheet_has_its_size(drawn):
    """No text is under 8.5 pt; the sheet is 8 in wide and 3.5 to 7.5 in high."""
    assert_readable(drawn[2], lowest_in=3.5, highest_in=7.5)


def test_title_and_alternative_text(drawn):
    """The title has at most 62 characters and no full stop; the words beside it begin with it."""
    name, answer, figure = drawn
    assert_titled(name, figure, title(answer))


def test_text_and_table_are_narrow(drawn):
    """The first screen has at most 7 lines, all lines at most 80 characters, none says "safe"."""
    name, answer, _ = drawn
    assert_narrow(name, first_screen(answer), all_lines(answer), most=7)


def test_the_lowest_line_alone_is_bold_and_named_in_the_color_of_limits(states):
    """Today's bar, its value, the lowest line and its name carry the accent; no other text does."""
    from matplotlib.lines import Line2D
    from matplotlib.text import Text

    _, answer, figure = _drawn(states["openings"], _mass)
    red = {t.get_text() for t in figure.findobj(Text) if t.get_color() == style.LIMIT}
    height = height_text(answer.today.freeboard_mm)
    assert red == {plus_minus_text(height, 1.0), "pushrod exit, open"}
    widths = {x.get_linewidth() for x in figure.findobj(Line2D) if x.get_color() == style.LIMIT}
    assert widths == {style.LIMIT_BAR}
    assert answer.today.at == "pushrod exit"


def test_in_gray_what_limits_is_still_told_apart(states):
    """What limits is bolder than the rest, so that gray print tells it; no text fades to tint.

    Of the pixels of a PNG turned gray, text and lines keep 4.5:1 against the paper (WCAG 2.1, 1.4.3
    asks 4.5:1 of text).
    """
    from matplotlib.lines import Line2D
    from matplotlib.text import Text
    from PIL import Image, ImageColor

    def gray(color):
        """Return the relative luminance of a color turned gray."""
        value = Image.new("RGB", (1, 1), ImageColor.getrgb(color)).convert("L").getpixel((0, 0))
        share = value / 255.0
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    _, _, figure = _drawn(states["openings"], _item("x", 60.0, 260.0))
    grounds = (style.PAPER, style.TINT)
    for text in figure.findobj(Text):
        if text.get_text().strip():
            for ground in grounds:
                ratio = (gray(ground) + 0.05) / (gray(text.get_color()) + 0.05)
                assert ratio >= 4.5, text.get_text()
    lines = figure.findobj(Line2D)
    limiting = [x.get_linewidth() for x in lines if x.get_color() == style.LIMIT]
    soft = [x.get_linewidth() for x in lines if x.get_color() == style.SOFT]
    assert min(limiting) > 1.5 * max(soft)


def test_bar_and_diamond_stand_at_today_and_at_the_end(states):
    """Read off the drawing: the bar's diamond and the open one lie at today's mass and at the end.

    The scale across is that of the printed masses under the chart, up that of the printed heights.
    """
    from matplotlib.patches import PathPatch
    from matplotlib.text import Text

    _, answer, figure = _drawn(states["openings"], _freeboard_alone)
    diamonds = sorted(
        p.get_path().vertices[:4].mean(axis=0).tolist()
        for p in figure.findobj(PathPatch)
        if p.get_edgecolor()[:3] == pytest.approx(_rgb(style.LIMIT))
    )
    texts = {t.get_text(): t for t in figure.findobj(Text)}
    masses = [f"{round(m)} g" for m in range(0, 2000, 100) if f"{m} g" in texts]
    across = np.polyfit(
        [texts[m].get_position()[0] for m in masses], [float(m[:-2]) for m in masses], 1
    )
    heights = [h for h in ("0", "10", "20", "30") if h in texts]
    up = np.polyfit(
        [texts[h].get_position()[1] + 3.0 for h in heights], list(map(float, heights)), 1
    )
    today, end = answer.today, answer.kept[0].most
    read = [(np.polyval(across, x), np.polyval(up, y)) for x, y in diamonds]
    # Paths are rounded to a hundredth of a point.
    assert read[0] == pytest.approx((today.value, today.freeboard_mm), abs=0.05)
    assert read[1] == pytest.approx((end, 15.0), abs=0.05)
    assert end == pytest.approx(today.value + answer.margin_g, abs=1e-6 * end)


def _rgb(color):
    """Return a color as three shares."""
    from PIL import ImageColor

    return tuple(v / 255.0 for v in ImageColor.getrgb(color))


@pytest.mark.parametrize("suffix", [".svg", ".png"])
def test_the_same_drawing_has_the_same_bytes(states, suffix):
    """Twice the same input gives the same bytes, under 300 kB."""
    samples, answer, _ = _drawn(states["openings"], _item("x", 60.0, 260.0))
    one, two = (drawing_bytes(sweep_drawing(samples, answer), suffix) for _ in range(2))
    assert one == two
    assert len(one) < 300_000
    if suffix == ".png":
        from PIL import Image

        assert Image.open(io.BytesIO(one)).info["Title"] == title(answer)


def test_what_cannot_be_drawn_is_refused(states):
    """One value, or sinking all the way, is no drawing: said in a line."""
    craft = states["openings"]()
    for values, said in (
        ((690.0,), "two values at least"),
        ((5000.0, 6000.0), "sinks or capsizes"),
    ):
        samples = Samples.of(mass_sweep(craft, values))
        with pytest.raises(InputError, match=said):
            sweep_drawing(samples, sweep_answer(samples.sweep, samples))


def test_names_keep_their_distance_and_order():
    """Names at the right end keep 12 pt apart, in the order of the lines, near their own."""
    placed = spread_names([0.0, 3.0, 40.0, 1.0], 12.0)
    order = sorted(range(4), key=lambda i: [0.0, 3.0, 40.0, 1.0][i])
    gaps = np.diff([placed[i] for i in order])
    assert (gaps >= 12.0 - 1e-9).all()
    assert placed[2] == 40.0
    assert np.mean([placed[i] for i in (0, 1, 3)]) == pytest.approx(4.0 / 3.0)
