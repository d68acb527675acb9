"""The drawing of water run aft: nothing overlaps or is cut off, the same twice, true to scale."""

import dataclasses
import re

import numpy as np
import pytest
from drawn_texts import (
    assert_apart,
    assert_on_sheet,
    assert_readable,
    assert_titled,
    boxes_of,
    texts_of,
)
from flood_making import EQUIPMENT, answered, box_build

from hullcheck.craft.fittings import Bulkhead, Equipment, Fittings, Structure
from hullcheck.errors import InputError
from hullcheck.report import style
from hullcheck.report.display import shown_in
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.flood_drawing import flood_drawing, title

MANY = Fittings(
    equipment=(
        *EQUIPMENT,
        *(Equipment(item=f"servo {k} behind the wing", lowest_mm=(470.0 + 15.0 * k, 0.0, 2.0 + k))
          for k in range(8)),
    )
)  # fmt: skip
STATES = {
    "usual": lambda: (box_build(), {}),
    "no band": lambda: (box_build(cg_range_mm=None), {}),
    "in its band": lambda: (box_build(cg_range_mm=(250.0, 350.0)), {}),
    "dry outside its band": lambda: (box_build(cg_range_mm=(320.0, 325.0)), {"nose_up_deg": 3.0}),
    "many items": lambda: (box_build(fittings=MANY), {"grams": (5.0, 50.0, 100.0, 200.0)}),
    "one mass": lambda: (box_build(), {"grams": (100.0,)}),
    "many masses": lambda: (box_build(), {"grams": (10.0, 12.0, 14.0, 16.0, 18.0, 20.0)}),
    "close together": lambda: (box_build(mass_g=2400.0), {"grams": (1.0, 1.1, 1.2)}),
    "nose down": lambda: (box_build(), {"nose_up_deg": -10.0}),
    "steep": lambda: (box_build(), {"nose_up_deg": 40.0}),
    "bulkheads close": lambda: (
        box_build(structure=Structure(bulkheads=(Bulkhead(station_mm=590.0),))),
        {},
    ),
    "a long name": lambda: (
        box_build(name="a very long name of a craft, with what it is for and who drew it, " * 2),
        {},
    ),
}


@pytest.fixture(scope="module", params=STATES)
def drawn(request):
    """Return a state's name, its answer and its figure."""
    build, asked = STATES[request.param]()
    answer = answered(build, **asked)
    return request.param, answer, flood_drawing(build, answer)


def test_no_two_texts_overlap(drawn):
    """No two texts share more than the pixel their boxes are rounded to."""
    name, _, figure = drawn
    assert_apart(name, boxes_of(figure, "flood"))


def test_every_text_stands_on_the_sheet_and_can_be_read(drawn):
    """Whole, within the margins, level, 8.5 pt at least; the sheet 8 in wide."""
    name, _, figure = drawn
    assert_on_sheet(name, figure, boxes_of(figure, "flood"), margin=style.MARGIN - 1.0)
    assert_readable(figure, lowest_in=3.0, highest_in=7.0)
    assert all(text.get_rotation() == 0.0 for text in texts_of(figure))


def test_the_title_says_the_finding(drawn):
    """At most 62 characters, no full stop, no bare sign, no praise anywhere."""
    name, answer, figure = drawn
    words = title(answer)
    assert_titled(name, figure, words)
    said = [text.get_text() for text in texts_of(figure)]
    assert words in said
    assert not re.search(r"\b(safe|error|OK|good|bad)\b", " ".join(said))
    assert not any(re.search(r"(?<!\w)-\d", text) for text in said)


def test_the_accent_stands_for_what_is_out_of_its_band_or_wet(drawn):
    """Limit color where the CG leaves its band or equipment gets wet, and nowhere else."""
    _, answer, figure = drawn
    svg = drawing_bytes(figure, ".svg").decode().lower()
    worst = max(answer.water_cases, key=lambda one: one.nose_up.center_of_gravity_mm[0])
    cases = [one for one in answer.water_cases if one.compartment == worst.compartment]
    out = any((case.nose_up.behind_band_mm or 0.0) > 0.0 for case in cases)
    wet = any(one.wet for one in cases[-1].nose_up.bilge)
    assert (style.LIMIT.lower() in svg) == (out or wet)
    assert len(svg) < 400_000


def test_the_marks_stand_at_their_stations():
    """On the scale of the CG distances go as stations: dry, band and every mass."""
    from matplotlib.patches import Circle

    build, asked = STATES["usual"]()
    answer = answered(build, **asked)
    figure = flood_drawing(build, answer)
    rings = sorted(
        {one.center[0] for one in figure.findobj(Circle) if abs(one.radius - 4.2) < 1e-9}
    )
    worst = max(answer.water_cases, key=lambda one: one.nose_up.center_of_gravity_mm[0])
    stations = sorted(
        one.nose_up.center_of_gravity_mm[0]
        for one in answer.water_cases
        if one.compartment == worst.compartment
    )
    assert len(rings) == len(stations) == 3
    scale = np.diff(rings) / np.diff(stations)
    assert scale[0] == pytest.approx(scale[1], rel=1e-9)
    assert scale[0] > 0.0


def test_the_water_inside_has_a_level_of_its_own():
    """The filled water's top is level on the sheet, and its lower than the sea's by their heights.

    Drawn true to scale: area filled over scale squared is the water's section along the middle.
    """
    from matplotlib.patches import PathPatch

    build = box_build()
    answer = answered(build, grams=(100.0,), nose_up_deg=10.0)
    figure = flood_drawing(build, answer)
    filled = [one for one in figure.findobj(PathPatch)
              if one.get_facecolor()[:3] == _rgb(style.WATER)]  # fmt: skip
    assert len(filled) == 1
    points = filled[0].get_path().vertices[:-1]
    top = points[np.isclose(points[:, 1], points[:, 1].max(), atol=0.05)]
    assert len(top) >= 2
    edged = [one for one in figure.findobj(PathPatch) if one.get_linewidth() >= style.MIDDLE]
    outline = max((one.get_path().vertices for one in edged), key=lambda p: np.ptp(p[:, 0]))
    # The box's section turned by 10°: 600 cos + 80 sin wide.
    turn = np.radians(10.0)
    scale = np.ptp(outline[:, 0]) / (600.0 * np.cos(turn) + 80.0 * np.sin(turn))
    x, y = points.T
    area = 0.5 * abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    # 100 cm³ over 100 mm of beam; outlines are thinned and coordinates rounded to 0.01 pt.
    assert area / scale**2 == pytest.approx(1000.0, rel=0.02)


def _rgb(color):
    """Return a color's three parts."""
    from matplotlib.colors import to_rgb

    return to_rgb(color)


def test_nothing_to_draw_is_refused():
    """No compartment holds the water: by name, with the next step."""
    build = box_build()
    with pytest.raises(InputError, match=r"no compartment holds the water .* by --grams"):
        flood_drawing(build, answered(build, grams=(9000.0,)))
    heavy = box_build(mass_g=4700.0, openings=(), limits=dataclasses.replace(build.limits))
    with pytest.raises(InputError, match="with 200 g in hull 3 she sinks"):
        flood_drawing(heavy, answered(heavy, grams=(200.0,)))


def test_same_twice_in_every_form():
    """The same input gives the same bytes, in every form, and inches where they are shown."""
    build, asked = STATES["usual"]()
    answer = answered(build, **asked)
    figures = [flood_drawing(build, answer) for _ in range(2)]
    for suffix in (".svg", ".png", ".pdf"):
        one, two = (drawing_bytes(figure, suffix) for figure in figures)
        assert one == two
    with shown_in(("oz", "in")):
        said = " ".join(text.get_text() for text in texts_of(flood_drawing(build, answer)))
    assert " oz " in said
    assert " g " not in said
