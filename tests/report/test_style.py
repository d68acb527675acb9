"""The palette: one place, and readable by the published contrast formula."""

import re
from pathlib import Path

import pytest

from hullcheck.report import style

PACKAGE = Path(style.__file__).parents[1]
LEAST_CONTRAST = 4.5
"""For text under 18 pt: W3C, Web Content Accessibility Guidelines 2.1 (2018), criterion 1.4.3."""


def _luminance(color):
    """Return the relative luminance of a color as WCAG 2.1 defines it."""
    channels = [int(color[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(one, two):
    """Return the contrast ratio of two colors as WCAG 2.1 defines it."""
    light, dark = sorted((_luminance(one), _luminance(two)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_formula_gives_the_published_extremes():
    """White on black is 21:1, and #777777 on white is the guidelines' well-known near miss."""
    assert _contrast("#FFFFFF", "#000000") == pytest.approx(21.0)
    assert _contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize(
    ("color", "ground"),
    [(color, ground) for color, grounds in style.GROUNDS.items() for ground in grounds],
)
def test_text_is_readable_on_its_grounds(color, ground):
    """Every color of text has 4.5:1 or more on each ground it may stand on."""
    assert _contrast(color, ground) >= LEAST_CONTRAST


def test_accent_is_told_from_soft_ink_without_color():
    """In gray the accent is close to soft ink, so it is always bolder too."""
    assert _contrast(style.LIMIT, style.SOFT) < 1.5
    assert style.LIMIT_BAR > style.BAR


def test_colors_are_named_in_one_place():
    """No module but the style holds a color by its hex value."""
    for path in sorted(PACKAGE.rglob("*.py")):
        if path.name == "style.py":
            continue
        assert not re.search(r"[\"']#[0-9A-Fa-f]{6}\b", path.read_text(encoding="utf-8")), path


def test_no_type_is_under_the_least():
    """Every named type is 8.5 pt or more."""
    types = [value for value in vars(style).values() if isinstance(value, style.Type)]
    assert len(types) >= 8
    assert min(kind.size for kind in types) >= style.LEAST_TYPE
