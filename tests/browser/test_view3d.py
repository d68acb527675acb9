"""The turnable view in a real browser: it draws, it turns, it stays a picture without script."""

import dataclasses
import io
from itertools import pairwise

import jinja2
import numpy as np
import pytest
from crafts import box_body, craft_of, opening_at
from PIL import Image

from hullcheck.answers.float_answer import float_answer
from hullcheck.craft.fittings import Fittings, Seam
from hullcheck.report import style
from hullcheck.report.view3d import view3d

HOSTILE = '<script>alert(1)</script> & "Ünï"'
PAGE = """<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>view</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:;
style-src 'unsafe-inline'; script-src '{{ view.script_hash }}' {{ more }}">
<style>body { margin: 10px; } {{ view.css|safe }}</style>{{ before|safe }}</head>
<body>{% include "view3d.html.j2" %}<p style="height: 2000px">below</p></body></html>"""
NO_WEBGL = "<script>HTMLCanvasElement.prototype.getContext = () => null;</script>"


@pytest.fixture(scope="module")
def view():
    """Return the view of a box with a hostile opening, to port, and a seam."""
    body = box_body()
    craft = dataclasses.replace(
        craft_of(body, mass_g=1200.0, cg=(300.0, 0.0, 30.0)),
        name=HOSTILE,
        openings=(opening_at((150.0, -50.0, 60.0), name=HOSTILE),),
        fittings=Fittings(seams=(Seam(name="mid joint", body=body.name, station_mm=400.0),)),
    )
    return view3d(craft, float_answer(craft))


@pytest.fixture(scope="module")
def page_file(view, tmp_path_factory):
    """Return a page that holds nothing but the view."""
    return _written(view, tmp_path_factory.mktemp("view") / "page.html")


def _written(view, path, *, before="", more=""):
    """Write a page that holds the view and return its path."""
    loader = jinja2.PackageLoader("hullcheck.report")
    template = jinja2.Environment(loader=loader, autoescape=True).from_string(PAGE)
    path.write_text(template.render(view=view, before=before, more=more), encoding="utf-8")
    return path


def seen(page):
    """Return the canvas as it shows on the screen, shape (high, wide, 3)."""
    page.locator(".view3d-on").wait_for()
    page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    data = page.locator(".view3d-stage").screenshot(animations="disabled")
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB")).astype(int)


def share(picture, color):
    """Return the share of a picture that has a color to 3 of 255."""
    wanted = [int(color[i : i + 2], 16) for i in (1, 3, 5)]
    return float((np.abs(picture - wanted) <= 3).all(axis=2).mean())


def drag(page, right, down):
    """Drag over the canvas by so many pixels from its middle."""
    box = page.locator(".view3d-canvas").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right, y + down, steps=3)
    page.mouse.up()


def test_it_draws_turns_and_comes_back(visit, view, page_file):
    """Skin and water are seen; drag, keys and buttons change them; a double click resets."""
    opened = visit(page_file, width=800, height=600)
    page = opened.page
    first = seen(page)
    assert share(first, style.SKIN) > 0.05
    assert share(first, style.WET_SKIN) > 0.01
    assert share(first, style.TINT) > 0.2
    assert not page.locator(".view3d-still").is_visible()
    said = page.locator("figcaption").inner_text()
    assert said == f"{view.caption} {view.how}"
    assert "Skin drawn within about 0.008 mm." in said  # half √3 of 600 mm in 65535 steps
    pictures = [first]
    drag(page, 90, 30)
    pictures.append(seen(page))
    page.locator(".view3d-canvas").press("ArrowLeft")
    pictures.append(seen(page))
    for button in ("from port", "from astern", "from above", "nearer"):
        page.get_by_role("button", name=button, exact=True).click()
        pictures.append(seen(page))
    for one, two in pairwise(pictures):
        assert (one != two).any(axis=2).mean() > 0.01
    page.locator(".view3d-canvas").dblclick()
    assert (seen(page) == first).all()
    assert opened.console == []
    assert opened.requests == []


def test_level_views_show_the_water_where_it_is(visit, page_file):
    """From port a box of 600 × 100 × 80 mm and 1,200 g lies a quarter in the water."""
    page = visit(page_file, width=800, height=600).page
    page.get_by_role("button", name="from port").click()
    column = seen(page)[:, 120:122]  # well ahead of marks and their words
    dry, wet = share(column, style.SKIN), share(column, style.WET_SKIN)
    assert dry / (dry + wet) == pytest.approx(0.75, abs=0.03)


def test_the_wheel_is_the_pages_until_the_view_is_chosen(visit, page_file):
    """Scrolling over the view scrolls the page; after a click the wheel brings her nearer."""
    page = visit(page_file, width=800, height=600).page
    first = seen(page)
    box = page.locator(".view3d-canvas").bounding_box()
    page.mouse.move(box["x"] + 300, box["y"] + 100)
    page.mouse.wheel(0, 100)
    page.wait_for_timeout(300)
    assert page.evaluate("window.scrollY") > 50
    page.evaluate("window.scrollTo(0, 0)")
    assert (seen(page) == first).all()
    page.mouse.click(box["x"] + 300, box["y"] + 100)
    page.mouse.wheel(0, -300)
    nearer = seen(page)
    assert (nearer != first).any(axis=2).mean() > 0.01
    assert page.evaluate("window.scrollY") == 0
    page.mouse.wheel(0, -20_000)
    nearest = seen(page)
    page.mouse.wheel(0, -20_000)
    assert (seen(page) == nearest).all()  # bounded


def test_words_are_text_stand_apart_and_keep_inside(visit, page_file):
    """Hostile names come out as text; labels that show do not overlap, at phone width too."""
    for width in (1000, 360):
        page = visit(page_file, width=width, height=700).page
        seen(page)
        shown = page.locator(".view3d-labels > div:not([hidden])")
        words = shown.all_inner_texts()
        assert any(HOSTILE in one for one in words)
        stage = page.locator(".view3d-stage").bounding_box()
        boxes = [shown.nth(i).bounding_box() for i in range(shown.count())]
        for i, a in enumerate(boxes):
            assert a["x"] >= stage["x"]
            assert a["x"] + a["width"] <= stage["x"] + stage["width"]
            for b in boxes[i + 1 :]:
                apart = (
                    a["x"] + a["width"] <= b["x"]
                    or b["x"] + b["width"] <= a["x"]
                    or a["y"] + a["height"] <= b["y"]
                    or b["y"] + b["height"] <= a["y"]
                )
                assert apart
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_without_script_or_webgl_the_still_picture_stays(visit, view, page_file, tmp_path):
    """The picture with its text is seen, no dead button, and no complaint in the console."""
    hobbled = _written(
        view, tmp_path / "hobbled.html", before=NO_WEBGL, more="'unsafe-hashes' 'unsafe-inline'"
    )
    text = hobbled.read_text(encoding="utf-8").replace(f"'{view.script_hash}'", "")
    hobbled.write_text(text, encoding="utf-8")
    for path, script in ((page_file, False), (hobbled, True)):
        opened = visit(path, script=script)
        still = opened.page.locator(".view3d-still")
        assert still.is_visible()
        assert still.get_attribute("alt") == view.alt
        # What is said of the skin is said of the skin that is seen: the picture's.
        said = opened.page.locator("figcaption").inner_text()
        assert said == f"{view.seen_from} {view.caption}"
        assert "Every triangle of her skin is drawn." in said
        assert not opened.page.locator("button").first.is_visible()
        assert not opened.page.locator(".view3d-canvas").is_visible()
        assert opened.console == []


def test_in_print_the_still_picture_comes_back(visit, page_file):
    """Printed, the page shows the picture and neither canvas nor buttons."""
    page = visit(page_file).page
    seen(page)
    page.emulate_media(media="print")
    assert page.locator(".view3d-still").is_visible()
    assert not page.locator(".view3d-canvas").is_visible()
    assert not page.locator("button").first.is_visible()
