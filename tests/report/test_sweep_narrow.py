"""Heights over her mass for a phone: nothing overlaps, type as large, the finding kept."""

import functools

import pytest
from drawn_texts import assert_apart, assert_on_sheet, boxes_of, texts_of

from hullcheck.answers.sweep_answer import sweep_answer, usual_mass_sweep
from hullcheck.answers.sweep_samples import Samples
from hullcheck.errors import InputError
from hullcheck.report import style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.numbers import grams_left_text, height_text
from hullcheck.report.sweep_narrow import NAME, sweep_narrow
from hullcheck.report.sweep_titles import alt_text, title

SHOWN = (
    "openings",
    "eight openings",
    "openings close together",
    "long names",
    "too low",
    "an opening under water",
    "all sealed",
    "6 m long",
    "twin floats",
)


@functools.cache
def _answered(make):
    """Return a craft's samples and answer over her mass."""
    samples = Samples.of(usual_mass_sweep(make()))
    return samples, sweep_answer(samples.sweep, samples)


@pytest.fixture(scope="module", params=SHOWN)
def drawn(request, states):
    """Return a state's name, answer and narrow drawing."""
    samples, answer = _answered(states[request.param])
    return request.param, answer, sweep_narrow(samples, answer)


def test_texts_stand_apart_on_360_px(drawn):
    """No two texts overlap or leave the sheet; it is 3.6 in wide, 360 px at 100 px an inch."""
    name, _, figure = drawn
    boxes = boxes_of(figure, NAME)
    assert_apart(name, boxes)
    assert_on_sheet(name, figure, boxes)
    assert figure.get_size_inches()[0] == pytest.approx(3.6)


def test_type_is_not_shrunken(drawn):
    """No text is under 8.5 pt, and the sizes are those of the wide drawing."""
    sizes = {text.get_fontsize() for text in texts_of(drawn[2])}
    assert sizes <= {kind.size for kind in (style.NUMBER, style.NAME, style.NOTE)}
    assert min(sizes) >= style.LEAST_TYPE


def test_today_and_what_is_left_are_told(drawn):
    """Today's height and the grams left are there; title and words are those of the wide one."""
    _, answer, figure = drawn
    said = " ".join(text.get_text() for text in texts_of(figure))
    assert height_text(answer.today.freeboard_mm).partition(" ")[0] in said
    if answer.margin_g:
        assert grams_left_text(answer.margin_g).partition(" ")[0] in said
    assert figure.axes[0].get_label() == title(answer)
    assert figure.axes[0].get_gid() == alt_text(answer)


def test_same_bytes_twice(states):
    """The same input gives the same file."""
    samples, answer = _answered(states["openings"])
    one, two = (drawing_bytes(sweep_narrow(samples, answer), ".svg") for _ in range(2))
    assert one == two


def test_what_cannot_be_drawn_is_refused(states):
    """Sinking all the way is no drawing, as on the wide one."""
    from hullcheck.answers.sweep_loads import mass_sweep

    samples = Samples.of(mass_sweep(states["openings"](), (5000.0, 6000.0)))
    with pytest.raises(InputError, match="sinks or capsizes"):
        sweep_narrow(samples, sweep_answer(samples.sweep, samples))
