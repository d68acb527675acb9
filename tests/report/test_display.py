"""Numbers shown in other units: converted exactly, rounded the same ways, by default not at all."""

import contextvars

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullcheck import units
from hullcheck.errors import InputError
from hullcheck.report.display import Display, display_units, shown, shown_in
from hullcheck.report.float_words import alt_text, title
from hullcheck.report.numbers import (
    area_text,
    arm_text,
    depth_text,
    draft_text,
    given_length_text,
    grams_left_text,
    height_text,
    mass_text,
    plus_minus_text,
    sinkage_parts,
    sinkage_text,
    station_text,
    volume_text,
)
from hullcheck.report.words import height_words, shown_name, stations_words

# International Yard and Pound Agreement, 1959: the pound is 0.45359237 kg, the yard 0.9144 m.
OUNCE_G, INCH_MM = 453.59237 / 16.0, 914.4 / 36.0


def test_factors_are_those_of_the_agreement():
    """An ounce is a sixteenth of the pound of 1959; the inch a thirty-sixth of its yard."""
    assert units.G_PER_POUND == 453.59237
    assert pytest.approx(OUNCE_G, rel=1e-15) == units.G_PER_OUNCE
    assert units.MM_PER_UNIT["inch"] == pytest.approx(INCH_MM, rel=1e-15)


@pytest.mark.parametrize(
    ("show", "wanted"),
    [
        (lambda: height_text(24.4), "0.96 in"),  # 24.4 / 25.4 = 0.9606
        (lambda: height_text(25.39), "0.98 in"),  # 0.9996: never up to 1
        (lambda: height_text(25.4), "1 in"),
        (lambda: height_text(-2.6), "−0.12 in"),  # 0.1024, a depth rounds up
        (lambda: depth_text(2.6), "0.12 in"),
        (lambda: draft_text(37.9), "1.5 in"),  # 1.4921, the nearest 0.02 is 1.5
        (lambda: arm_text(13.0), "0.52 in"),  # 0.5118
        (lambda: arm_text(0.38), "0.015 in"),  # 0.01496
        (lambda: station_text(252.0), "9.92"),  # 9.9213
        (lambda: station_text(-0.2), "0"),
        (lambda: given_length_text(15.0), "0.59 in"),  # 0.5906
        (lambda: mass_text(690.0), "24.3 oz"),  # 24.339
        (lambda: mass_text(15.0), "0.53 oz"),  # 0.5291
        (lambda: mass_text(5000.0), "11.02 lb"),  # 176.4 oz are 11.023 lb
        (lambda: mass_text(312_400.0), "689 lb"),  # 688.7
        (lambda: grams_left_text(318.9), "11 oz"),  # 11.249
        (lambda: grams_left_text(48.96), "1.7 oz"),  # 1.7270
        (lambda: grams_left_text(318.9, 32.0), "11 ± 1 oz"),  # ± 1.13
        (lambda: area_text(397.0), "61.5 in²"),  # 61.535
        (lambda: volume_text(690.0), "42.1 in³"),  # 42.106
        (lambda: sinkage_text(39.7), "3.6 oz per 0.1 in"),  # 39.7 × 2.54 / 28.3495 = 3.557
        (lambda: plus_minus_text(height_text(24.4), 1.0), "0.96 ± 0.04 in"),
        (lambda: height_words(-2.6), "0.12 in under water"),
        (lambda: shown_name("opening at station 250, 140 × 52 mm"),
         "opening at station 9.84, 5.52 × 2.04 in"),
        (lambda: shown_name("hatch at station 250"), "hatch at station 250"),
        (stations_words, "Stations are in aft of the datum."),
    ],
)  # fmt: skip
def test_ounces_and_inches(show, wanted):
    """Each kind of number converts, and heights go down, depths up, grams left down."""
    with shown_in(("oz", "in")):
        assert show() == wanted


@pytest.mark.parametrize(
    ("names", "show", "wanted"),
    [
        (("kg",), lambda: mass_text(690.0), "0.69 kg"),
        (("lb",), lambda: mass_text(690.0), "1.52 lb"),  # 1.5212
        (("lb",), lambda: height_text(24.4), "24 mm"),
        (("cm",), lambda: height_text(24.4), "2.4 cm"),
        (("cm",), lambda: height_text(-2.6), "−0.3 cm"),
        (("cm",), lambda: station_text(252.3), "25.2"),
        (("cm",), lambda: area_text(397.0), "397 cm²"),
        (("kg", "cm"), lambda: sinkage_text(40.0), "0.4 kg a cm"),
        (("oz",), lambda: sinkage_text(40.0), "1.4 oz a mm"),  # 1.411
        (("oz",), lambda: volume_text(690.4), "690 cm³"),
    ],
)
def test_other_units(names, show, wanted):
    """Pounds, kilograms and centimeters; a kind that is not named stays as it is."""
    with shown_in(names):
        assert show() == wanted


def test_parts_of_what_sinks_her():
    """Text that words it otherwise gets mass and depth apart."""
    assert sinkage_parts(39.7) == ("40 g", "1 mm")
    with shown_in(("oz", "in")):
        assert sinkage_parts(39.7) == ("3.6 oz", "0.1 in")


@given(st.floats(min_value=-5000.0, max_value=5000.0))
def test_a_height_in_inches_never_flatters(height_mm):
    """In inches too a printed height is at most the true one, and less than 0.02 in below it."""
    with shown_in(("in",)):
        printed = float(height_text(height_mm).removesuffix(" in").replace("−", "-"))
    # 1e-8 of the value: the rounding noise that does not count as below.
    noise = 1e-8 * max(1.0, abs(height_mm))
    assert height_mm - 0.02 * INCH_MM - noise < printed * INCH_MM <= height_mm + noise


@given(st.floats(min_value=0.1, max_value=1e6), st.sampled_from(["g", "oz", "lb", "kg"]))
def test_grams_left_never_promise_more(mass_g, unit):
    """In every unit grams left are rounded down, by less than a tenth."""
    with shown_in((unit,)):
        number, printed_in = grams_left_text(mass_g).split(" ")
    factor = {"g": 1.0, "oz": OUNCE_G, "lb": 16.0 * OUNCE_G, "kg": 1000.0}[printed_in]
    # 1e-8: the rounding noise that does not count as more.
    assert 0.9 * mass_g < float(number) * factor <= mass_g * (1.0 + 1e-8)


def test_the_units_end_with_the_block():
    """After the block, and in another context, numbers are in grams and millimeters again."""
    elsewhere = contextvars.copy_context()
    with shown_in(("oz", "in")):
        assert shown() == Display(mass="oz", length="in")
        assert elsewhere.run(mass_text, 690.0) == "690 g"
        with shown_in(("lb",)):
            assert mass_text(690.0) == "1.52 lb"
        assert mass_text(690.0) == "24.3 oz"
    assert mass_text(690.0) == "690 g"


def test_units_are_read_from_a_text():
    """Names stand between commas, spaces do not matter."""
    assert display_units("oz,in") == ("oz", "in")
    assert display_units(" kg ") == ("kg",)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("oz,inch", r"'inch' is no unit .* one of g, oz, lb, kg for mass and one of mm, cm, in"),
        ("", r"'' is no unit"),
        ("oz,lb", r"'oz,lb' names two units of mass: give one"),
    ],
)
def test_what_is_no_unit_is_refused(text, message):
    """A name that is none is refused with those that are, two of a kind with the kind."""
    with pytest.raises(InputError, match=message):
        display_units(text)


def test_the_drawing_speaks_no_metric_when_shown_in_inches(sheet):
    """Title and alternative text carry neither gram nor millimeter in ounces and inches."""
    with shown_in(("oz", "in")):
        said = f"{title(sheet[1])} {alt_text(sheet[1])}"
    assert " in " in said
    assert " oz" in said
    assert not [word for word in said.split() if word.strip(".,;") in {"g", "mm", "cm", "kg"}]
