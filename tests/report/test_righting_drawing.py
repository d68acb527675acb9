"""The righting drawing: nothing overlaps, nothing leaves the sheet, the same bytes every time."""

import dataclasses
import functools
from itertools import pairwise

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

from hullcheck.answers.heeling import Heeling
from hullcheck.answers.righting_answer import righting_answer
from hullcheck.answers.upset_loads import Loads, loaded
from hullcheck.craft.fittings import Fittings, Wing
from hullcheck.errors import InputError
from hullcheck.report import style
from hullcheck.report.righting_curve import drawing_bytes, righting_drawing
from hullcheck.report.righting_events import all_spots, axis_end_deg, facts, title
from hullcheck.report.righting_front import views_of
from hullcheck.report.righting_table import all_lines
from hullcheck.report.righting_text import first_screen
from hullcheck.report.righting_words import fine_arm_text, upright_words

WIND = Loads(wind_m_s=4.0, off_center=(50.0, 10.0))
CASES = [
    ("upright", None),
    ("on a tip float", WIND),
    ("listing", None),
    ("capsized", WIND),
    ("capsized with floats", None),
    ("bow under", WIND),
    ("box", WIND),
    ("sphere", None),
    ("twin floats", WIND),
    ("6 m long", WIND),
    ("eight openings", Loads(wind_m_s=9.0, turn=(2.0, 3.0), wet_wing_g=15.0)),
    ("long names", WIND),
    ("openings on a tip float", None),
    ("wing tip under water by its float", WIND),
]
ROWS = (-90.0, 0.0, 5.0, 180.0)


@functools.cache
def _answered(make, loads):
    """Return a craft and its answer; each is worked out once."""
    craft = make()
    answer = righting_answer(craft, loads=loads or Loads(), heels_deg=ROWS)
    return loaded(craft, loads or Loads()), answer


@functools.cache
def _drawn(make, loads):
    """Return a craft's answer and its drawing; each is worked out once."""
    craft, answer = _answered(make, loads)
    return answer, righting_drawing(craft, answer)


@pytest.fixture(
    scope="module", params=CASES, ids=[f"{n}{'' if w is None else ' +'}" for n, w in CASES]
)
def drawn(request, states):
    """Return a case's name, answer and figure."""
    name, loads = request.param
    return (name, *_drawn(states[name], loads))


def test_no_two_texts_overlap_and_none_leaves_the_sheet(drawn):
    """No two texts share more than a pixel, and each stands on the sheet, whole."""
    name, _, figure = drawn
    boxes = boxes_of(figure, "righting")
    assert_apart(name, boxes)
    assert_on_sheet(name, figure, boxes)


def test_no_text_is_too_small_and_the_sheet_has_its_size(drawn):
    """No text is under 8.5 pt; the sheet is 8 in wide and 4 to 7.5 in high."""
    assert_readable(drawn[2], lowest_in=4.0, highest_in=7.5)


def test_title_and_alternative_text(drawn):
    """The title has at most 62 characters and no full stop; the words beside it begin with it."""
    name, answer, figure = drawn
    assert_titled(name, figure, title(answer))


def test_text_and_table_are_narrow(drawn):
    """The first screen has at most 8 lines, all lines at most 80 characters, none says "safe"."""
    name, answer, _ = drawn
    assert_narrow(name, first_screen(answer), all_lines(answer), most=8)


def test_the_axis_holds_what_the_model_knows(drawn):
    """Every event short of the model's edge is on the axis."""
    _, answer, _ = drawn
    edge = [abs(s.beyond_model_deg) for s in answer.sides if s.beyond_model_deg is not None]
    for spot in all_spots(answer):
        if spot.heel_deg <= min(edge, default=180.0):
            assert spot.heel_deg <= axis_end_deg(answer)


@pytest.mark.parametrize("suffix", [".svg", ".png", ".pdf"])
def test_the_same_drawing_has_the_same_bytes(states, suffix):
    """Twice the same input gives the same bytes, under 300 kB."""
    craft, answer = _answered(states["openings on a tip float"], None)
    one, two = (drawing_bytes(righting_drawing(craft, answer), suffix) for _ in range(2))
    assert one == two
    assert len(one) < 300_000


def test_the_curve_is_bold_where_it_is_known_and_dashed_beyond(states):
    """Solid ink ends at the wing's heel, a soft dashed line goes on from there."""
    from matplotlib.lines import Line2D

    craft, answer = _answered(states["openings on a tip float"], None)
    figure = righting_drawing(craft, answer)
    lines = figure.findobj(Line2D)
    bold = next(x for x in lines if x.get_linewidth() == style.BOLD and x.get_color() == style.INK)
    soft = next(
        x
        for x in lines
        if x.get_linewidth() == style.MIDDLE
        and x.get_color() == style.SOFT
        and len(x.get_xydata()) > 20
    )
    assert bold.get_xydata()[-1] == pytest.approx(soft.get_xydata()[0])
    assert bold.get_linestyle() == "-"
    assert soft.get_linestyle() == "--"
    assert all(a[0] < b[0] for a, b in pairwise(bold.get_xydata()))


def test_no_drawing_of_a_craft_that_sinks(states):
    """She sinks: there is no curve, and that is refused in words."""
    craft = states["sinks"]()
    with pytest.raises(InputError, match="sinks: there is no curve to draw"):
        righting_drawing(craft, righting_answer(craft))


def test_the_finding_comes_first_under_load(states):
    """Under wind the second line says what holds her, with the heel and the side."""
    craft = dataclasses.replace(
        states["upright"](), fittings=Fittings(wing=Wing(tip_mm=(210.0, 450.0, 95.0)))
    )
    lines = first_screen(righting_answer(craft, loads=Loads(wind_m_s=4.0), heels_deg=ROWS))
    assert lines[1] == "Under 4 m/s of wind the float holds her at 1.4° to starboard."
    assert lines[2].startswith("Wind            starboard float under at 5.4°: ")
    alone = first_screen(righting_answer(craft, heels_deg=ROWS))
    assert alone[1].startswith("Rests upright")
    assert alone[2].startswith("Tip floats      4 mm clear; touches at 0.7°, under at 5.4°")


def test_what_is_past_the_model_is_said_so(states):
    """Range and opening past the wing's heel carry the words, in the screen and among the notes."""
    _, answer = _answered(states["openings"], None)
    lines = first_screen(answer)
    for label in ("Range", "Openings"):
        line = next(one for one in lines if one.startswith(label))
        assert line.endswith("(beyond the model)")
    assert "beyond-model" in {warning.code for warning in answer.warnings}


def _texts(figure):
    """Return every text of a figure."""
    from matplotlib.text import Text

    return [t.get_text() for t in figure.findobj(Text) if t.get_text().strip()]


def _open_under_load(states):
    """Return a craft with open openings and a wing, loaded, and her answer."""
    return _answered(states["openings"], WIND)


def test_every_event_is_in_the_drawing_or_said_to_lie_off_it(drawn):
    """Rest, greatest arm, first opening and range stand on the sheet with their words."""
    name, _, figure = drawn
    answer = drawn[1]
    said = _texts(figure)
    for spot in all_spots(answer):
        start = spot.words.split(",")[0][:14]
        assert any(text.startswith(start) for text in said), f"{name}: {spot.words}"


def test_the_first_opening_off_the_axis_is_told_beside_its_end(states):
    """Past the axis the first opening is called the first and off the drawing; with her heel."""
    craft, answer = _open_under_load(states)
    side = next(s for s in answer.sides if s.side == answer.upset.worse)
    assert abs(side.downflooding_deg) > axis_end_deg(answer)
    said = _texts(righting_drawing(craft, answer))
    name = side.downflooding_at
    assert f"first opening under: {name} (off the drawing, beyond the model)" in said
    assert f"{abs(side.downflooding_deg):.0f}°" in said
    assert "past this heel she goes over (off the drawing, beyond the model)" in said


def test_the_marked_greatest_arm_is_the_highest_of_the_curve(states):
    """No arm of a fine sampling of the curve, out to the range, is above the one marked."""
    craft, answer = _open_under_load(states)
    side = next(s for s in answer.sides if s.side == answer.upset.worse)
    spot = next(s for s in all_spots(answer) if s.words.startswith("greatest arm"))
    curve = Heeling.of(craft).curve
    sign = np.sign(side.range_deg)
    heels = np.radians(np.linspace(abs(answer.heel_deg), abs(side.range_deg), 200))
    most = max(sign * curve.arm(sign * h) for h in heels)
    assert sign * curve.arm(sign * np.radians(spot.heel_deg)) >= most - 1e-3
    assert spot.words == f"greatest arm, {most:.0f} mm"
    assert spot.mark == "beyond"


def test_upright_is_said_stable_or_not_as_a_small_heel_shows(states):
    """The sentence agrees with the sign of the arm at 0.05° of the craft without her load."""
    craft, answer = _open_under_load(states)
    arm = Heeling.of(states["openings"]()).curve.arm(np.radians(0.05))
    how = "stable" if arm > 0.0 else "unstable"
    assert (
        upright_words(answer, craft.center_of_gravity_mm)
        == f"Without the load she is {how} upright."
    )
    first = " ".join(facts(answer, Heeling.of(craft)))
    assert "With 50 g 10 mm to starboard, which the curve includes, she rests" in first
    assert "The wind is drawn pushing her to starboard, the worse side." in first


@pytest.mark.parametrize(
    ("slope", "how"), [(0.2, "stable"), (-0.2, "unstable"), (0.0, "neutral"), (-1e-9, "neutral")]
)
def test_upright_words_follow_the_slope(states, slope, how):
    """A positive slope at heel 0 is stable; a center off the middle is said."""
    _, answer = _answered(states["upright"], None)
    answer = dataclasses.replace(answer, upright_slope_mm_per_deg=slope)
    assert upright_words(answer, (250.0, 0.0, 30.0)) == f"Upright she is {how}."
    aside = f"With her CG on the center line she is {how} upright."
    assert upright_words(answer, (250.0, 2.0, 30.0)) == aside


def test_rest_and_pushed_share_a_view_where_they_look_the_same(states):
    """Under 1° apart there is one view titled with both; further apart there are two."""
    craft, answer = _open_under_load(states)
    heeling = Heeling.of(craft)
    titles = [view.title for view in views_of(answer, heeling)]
    pushed = next(one for one in answer.upset.pushed if one.side == answer.upset.worse)
    assert abs(pushed.heel_deg - answer.heel_deg) < 1.0
    assert titles[0].startswith("At rest, ")
    assert "; pushed, " in titles[0]
    assert not any(title.startswith("Pushed") for title in titles)
    far = dataclasses.replace(pushed, heel_deg=answer.heel_deg + 2.0)
    others = tuple(far if one is pushed else one for one in answer.upset.pushed)
    upset = dataclasses.replace(answer.upset, pushed=others)
    apart = views_of(dataclasses.replace(answer, upset=upset), heeling)
    assert [view.title.split(",")[0] for view in apart[:2]] == ["At rest", "Pushed"]


def test_the_arm_of_the_wind_is_printed_as_fine_as_it_is_read(states):
    """1.7 mm is not printed as 2 mm; the arm is moment over weight (definition)."""
    assert fine_arm_text(1.711) == "1.7 mm"
    craft, answer = _open_under_load(states)
    arm = answer.upset.wind.moment_n_mm / (answer.mass_g * 1e-3 * 9.80665)
    assert any(f"arm of wind: {arm:.2g} mm" in t for t in _texts(righting_drawing(craft, answer)))
