"""Drawings made lean for the page: the same picture in fewer bytes, and addresses that carry it."""

import re
from urllib.parse import unquote

import numpy as np
import pytest
from defusedxml.ElementTree import fromstring

from hullcheck.report import marks, style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.page_svg import lean_svg, size_px, svg_uri
from hullcheck.report.sheet import Box, Sheet

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
WORDS = "24 ± 1 mm <&> 'Ünï'"


@pytest.fixture(scope="module")
def svg():
    """Return a drawing with areas, patterns, text and clipped lines, as it is written."""
    with style.context("page svg"):
        sheet = Sheet("page svg")
        marks.water(sheet, Box(left=0.0, bottom=-80.0, right=200.0, top=-40.0), strokes=True)
        marks.dotted(sheet, [(10.123456, -20.0), (100.98765, -35.4321)])
        marks.center_of_gravity(sheet, (60.0, -50.0))
        sheet.text((14.4, -20.0), WORDS, style.HEADLINE)
        sheet.text((14.4, -60.0), "words", style.NOTE)
        sheet.cut(100.0)
        sheet.caption("title <&>", "what is seen")
    return drawing_bytes(sheet.figure, ".svg")


def paths(text):
    """Return the numbers of every path that is drawn, in order."""
    root = fromstring(text)
    drawn = [e.get("d") or "" for e in root.iter() if e.tag.endswith("}path")]
    return [np.array([float(n) for n in NUMBER.findall(d)]) for d in drawn]


def test_lean_svg_is_the_same_picture(svg):
    """Every path is there with its points to 0.01 pt, every glyph where it stood, every color."""
    lean = lean_svg(svg)
    assert len(lean) < 0.7 * len(svg)
    full, thin = paths(svg.decode()), paths(lean)
    assert len(full) == len(thin) > 10
    for a, b in zip(full, thin, strict=True):
        assert len(a) == len(b)
        assert np.abs(a - b).max(initial=0.0) <= 0.0051
    assert np.abs(np.subtract(glyphs(svg.decode()), glyphs(lean))).max() <= 0.0051
    colors = [re.findall(r"(?:fill|stroke): ?(#\w{6}|none)", text) for text in (svg.decode(), lean)]
    assert colors[0] == colors[1]
    assert len(set(colors[0])) > 4


def glyphs(text):
    """Return how far along its line each glyph stands, in order."""
    spots = []
    for use in (e for e in fromstring(text).iter() if e.tag.endswith("}use")):
        moved = re.match(r"translate\(([-\d.]+)", use.get("transform", ""))
        spots.append(float(moved[1] if moved else use.get("x", 0.0)))
    assert len(spots) > 10
    return spots


def test_lean_svg_is_well_formed_and_stays_as_it_is(svg):
    """Ids that are used are all defined, and what is lean already is not changed again."""
    lean = lean_svg(svg)
    root = fromstring(lean)
    ids = {e.get("id") for e in root.iter() if e.get("id")}
    used = {e.get("href")[1:] for e in root.iter() if e.get("href")}
    used |= set(re.findall(r"url\(#(\w+)\)", lean))
    assert used == ids
    assert used
    assert lean_svg(lean.encode()) == lean
    assert "metadata" not in lean


def test_address_carries_the_drawing_whole(svg):
    """Decoded it is the drawing again; nothing in it ends an attribute or a list of addresses."""
    lean = lean_svg(svg)
    address = svg_uri(lean)
    assert unquote(address.removeprefix("data:image/svg+xml,")) == lean
    assert not re.search(r"[\s<>\"&#]", address)
    assert not address.endswith(",")


def test_size_is_at_100_px_an_inch(svg):
    """8 in are 800 px; 100 pt are 139 px."""
    assert size_px(svg) == (800, 139)
    with pytest.raises(ValueError, match="no width and height in points"):
        size_px(b"<svg/>")
