"""Printed numbers: rounded once, clearances down and depths up, the unit after a space."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullcheck.report.numbers import (
    angle_text,
    area_text,
    arm_text,
    depth_text,
    draft_text,
    grams_left_text,
    height_text,
    mass_text,
    plus_minus_text,
    sinkage_text,
    station_text,
)


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        (height_text(24.0), "24 mm"),
        (height_text(24.49), "24 mm"),
        (height_text(24.5), "24.5 mm"),
        (height_text(23.999999999999996), "24 mm"),
        (height_text(9.74), "9.5 mm"),
        (height_text(0.4), "0 mm"),
        (height_text(-0.1), "−0.5 mm"),
        (height_text(-2.6), "−3 mm"),
        (depth_text(2.6), "3 mm"),
        (depth_text(3.0000000000000004), "3 mm"),
        (draft_text(37.74), "37.5 mm"),
        (draft_text(37.75), "38 mm"),
        (draft_text(-0.2), "0 mm"),
        (angle_text(2.66), "2.7°"),
        (angle_text(9.94), "9.9°"),
        (angle_text(9.96), "10°"),
        (angle_text(25.25), "25°"),
        (angle_text(-6.66), "−6.7°"),
        (angle_text(-0.04), "0°"),
        (arm_text(6.68), "7 mm"),
        (arm_text(0.38), "0.4 mm"),
        (arm_text(0.97), "1 mm"),
        (station_text(-50.2), "−50"),
        (mass_text(689.6), "690 g"),
        (mass_text(9.96), "10 g"),
        (mass_text(1.44), "1.4 g"),
        (mass_text(9999.6), "10 kg"),
        (mass_text(12_345.0), "12.3 kg"),
        (mass_text(312_400.0), "312 kg"),
        (grams_left_text(318.9), "310 g"),
        (grams_left_text(300.0), "300 g"),
        (grams_left_text(48.96), "48 g"),
        (grams_left_text(7.39), "7.3 g"),
        (grams_left_text(-1.0), "0 g"),
        (area_text(397.3), "397 cm²"),
        (area_text(0.4066), "0.41 cm²"),
        (sinkage_text(39.7), "40 g a mm"),
        (plus_minus_text("24 mm", 1.0), "24 ± 1 mm"),
    ],
)
def test_number_is_printed_as_drawings_and_tables_need_it(said, wanted):
    """Each kind of number has its rounding."""
    assert said == wanted


def _read(text):
    """Return the number a text begins with."""
    return float(text.split(" ")[0].rstrip("°").replace("−", "-"))


@given(st.floats(min_value=-5000.0, max_value=5000.0))
def test_height_never_flatters(height):
    """A printed height is at most the true one and less than a step below it."""
    # 1e-8 of the value: the rounding noise that does not count as below.
    noise = 1e-8 * max(1.0, abs(height))
    assert height - 0.5 - noise <= _read(height_text(height)) <= height + noise


@given(st.floats(min_value=0.0, max_value=5000.0))
def test_depth_and_height_say_the_same(depth):
    """A depth under water and the negative height read alike."""
    assert _read(depth_text(depth)) == -_read(height_text(-depth))


@given(st.floats(min_value=0.01, max_value=1e6))
def test_grams_left_are_rounded_down_to_two_figures(grams):
    """Grams left never promise more than there are, and lose less than a tenth."""
    printed = _read(grams_left_text(grams))
    assert 0.9 * grams < printed <= grams * (1.0 + 1e-8)


@given(st.floats(min_value=-180.0, max_value=180.0))
def test_angle_is_the_nearest(angle):
    """A printed angle is within half its step of the true one, and zero has no sign."""
    text = angle_text(angle)
    half = 0.05 if abs(angle) < 9.95 else 0.5
    assert abs(_read(text) - angle) <= half + 1e-9
    assert text not in {"−0°", "-0°"}
