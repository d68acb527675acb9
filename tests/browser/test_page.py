"""The report's page in a real browser: from a file, offline, on a desk, a phone and paper."""

import io
import re
import sys
from unicodedata import normalize

import numpy as np
import pytest
from page_making import NAMES, hostile_page
from PIL import Image
from pypdf import PdfReader

from hullcheck.cli.main import run as run_command_line
from hullcheck.files.demo import write_demo

AT = "2026-10-11 18:00+02:00"
"""An evening on which the demo craft leaks."""
A4_PT, LETTER_PT = (595, 842), (612, 792)
DESK, PHONE, SMALL_PHONE = (1280, 830), (390, 844), (360, 740)


@pytest.fixture(scope="session")
def demo_page(tmp_path_factory):
    """Return the demo craft's report as a file, written by the command itself."""
    folder = tmp_path_factory.mktemp("report")
    write_demo(folder / "build")
    path = folder / "report.html"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            sys, "argv", ["hullcheck", "report", str(folder / "build"), "--at", AT, "-o", str(path)]
        )
        with pytest.raises(SystemExit) as stopped:
            run_command_line()
    assert stopped.value.code == 3  # she leaks
    return path


@pytest.fixture
def hostile_file(tmp_path):
    """Return the page of a craft whose every name is hostile, as a file."""
    path = tmp_path / "hostile.html"
    path.write_text(hostile_page(), encoding="utf-8")
    return path


def width_of(page):
    """Return how wide the page is, and how wide the window [px]."""
    return page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")


def bottom_of(page, selector):
    """Return how far down something ends [px]."""
    box = page.locator(selector).bounding_box()
    return box["y"] + box["height"]


def test_demo_page_opens_offline_without_a_word_of_complaint(demo_page, visit):
    """No console error or warning, no request leaves, every picture is decoded, under 1 MB."""
    seen = visit(demo_page)
    assert demo_page.stat().st_size <= 1_000_000
    assert seen.console == []
    assert seen.requests == []
    sizes = seen.page.evaluate("[...document.images].map(i => [i.complete, i.naturalWidth])")
    assert len(sizes) >= 8
    assert all(complete and width >= 300 for complete, width in sizes)
    assert all(seen.page.evaluate("[...document.images].map(i => i.alt.length > 40)"))
    assert seen.page.title().startswith("Tarnwing 90: Not ready for water: the aft joint leaked")


def test_first_screen_holds_list_and_drawing_on_a_desk(demo_page, visit):
    """On 1280 × 830 the verdict, the list and how she floats are seen without scrolling."""
    page = visit(demo_page, width=DESK[0], height=DESK[1]).page
    assert width_of(page) == [DESK[0], DESK[0]]
    assert bottom_of(page, ".list") <= DESK[1]
    assert bottom_of(page, ".afloat img") <= DESK[1]
    assert page.locator(".afloat img").bounding_box()["width"] == pytest.approx(800.0, abs=1.0)
    first = page.locator("header").inner_text()
    for words in ("Not ready for water", "before the first 3 lines", "540 ± 60 g", "aft joint"):
        assert words in first.replace("\N{NBSP}", " ")


def test_first_screen_holds_list_and_narrow_drawing_on_a_phone(demo_page, visit):
    """On 390 × 844 the same, the drawing the one made for a phone, passes folded into a line."""
    page = visit(demo_page, width=PHONE[0], height=PHONE[1]).page
    assert bottom_of(page, ".afloat img") <= PHONE[1] + 2.0
    shown = page.evaluate("document.querySelector('.afloat img').currentSrc")
    assert shown == page.locator(".afloat source").get_attribute("srcset")
    passes = page.locator("details:visible").last
    assert re.match(r"8 pass: nose joint, freeboard, ", passes.inner_text())
    assert passes.locator("li").first.is_hidden()
    passes.locator("summary").click()
    assert passes.locator("li").first.is_visible()


def test_nothing_scrolls_sideways(demo_page, visit):
    """At no width does the page scroll sideways; wide drawings do so within their own boxes."""
    page = visit(demo_page).page
    for width in (360, 390, 700, 900, 1280, 1600):
        page.set_viewport_size({"width": width, "height": 740})
        assert width_of(page) == [width, width]
        boxes = page.evaluate(
            "[...document.querySelectorAll('.scroll')].map(b => [b.scrollWidth, b.clientWidth])"
        )
        assert len(boxes) > 10
        if width < 400:
            assert any(inside > outside for inside, outside in boxes)


def test_a_phone_gets_the_drawings_made_for_it(demo_page, visit):
    """On a phone seams and freeboard are the narrow ones; "drag" stands where one scrolls only."""
    page = visit(demo_page, width=PHONE[0], height=PHONE[1]).page
    for key in ("seams", "growth"):
        page.locator(f"#{key} img").scroll_into_view_if_needed()
        shown = page.evaluate(f"document.querySelector('#{key} img').currentSrc")
        assert shown == page.locator(f"#{key} source").get_attribute("srcset")
        assert shown != page.locator(f"#{key} img").get_attribute("src")
    for width in (*(size[0] for size in (SMALL_PHONE, PHONE)), 699, 700, 859, 900, DESK[0]):
        page.set_viewport_size({"width": width, "height": 740})
        found = page.evaluate("""[...document.querySelectorAll('.part')].filter(
            part => part.querySelector('picture')).map(part => {
            const box = part.querySelector('.scroll'), line = part.querySelector('.drag')
            return [part.id, box.scrollWidth > box.clientWidth,
                    line !== null && line.getClientRects().length > 0] })""")
        assert len(found) >= 6
        assert [key for key, scrolls, said in found if scrolls != said] == [], width
        assert any(said for *_, said in found) == (width < 700)
    page.set_viewport_size({"width": DESK[0], "height": DESK[1]})
    for key in ("seams", "growth"):
        shown = page.evaluate(f"document.querySelector('#{key} img').currentSrc")
        assert shown == page.locator(f"#{key} img").get_attribute("src")


def test_it_is_read_without_a_script(demo_page, visit):
    """With scripts off all text is there, and a still picture stands for the view that turns."""
    page = visit(demo_page, script=False).page
    still = page.locator(".view3d-still")
    assert still.is_visible()
    assert still.bounding_box()["width"] > 400
    assert "Which files, which versions?" in page.inner_text("main")


def test_view_is_drawn_and_turns(demo_page, visit):
    """The canvas is not blank, and shows something else once she is turned."""
    seen = visit(demo_page)
    canvas = seen.page.locator(".view3d-canvas")
    canvas.scroll_into_view_if_needed()
    before = pixels(canvas)
    assert len(np.unique(before.reshape(-1, 3), axis=0)) > 10
    box = canvas.bounding_box()
    middle = (box["x"] + 0.5 * box["width"], box["y"] + 0.5 * box["height"])
    seen.page.mouse.move(*middle)
    seen.page.mouse.down()
    seen.page.mouse.move(middle[0] + 140, middle[1] + 30, steps=4)
    seen.page.mouse.up()
    changed = (np.abs(pixels(canvas) - before) > 30).any(axis=2).mean()
    assert changed > 0.02
    assert seen.console == []


def pixels(canvas):
    """Return what a canvas shows, shape (high, wide, 3)."""
    picture = Image.open(io.BytesIO(canvas.screenshot())).convert("RGB")
    return np.asarray(picture, dtype=np.int16)


def test_prints_to_clean_pages(demo_page, visit):
    """A dozen numbered pages, none blank; list and drawing on the first, no block broken."""
    page = visit(demo_page).page
    pdf = PdfReader(io.BytesIO(page.pdf(format="A4")))
    texts = [normalize("NFKC", page.extract_text()) for page in pdf.pages]
    assert 10 <= len(texts) <= 16
    for number, (sheet, text) in enumerate(zip(pdf.pages, texts, strict=True), start=1):
        assert sheet.mediabox[2:] == pytest.approx(A4_PT, abs=1)
        assert f"{number} of {len(texts)}" in text
        assert len(text) > 60 or drawn(sheet), f"page {number} is blank"
    assert "Not ready for water" in texts[0]
    assert "8 pass" in texts[0]
    assert drawn(pdf.pages[0])
    # A question stands on the page on which its answer begins.
    for question, answer in (
        ("What did the leak tests say?", "Leak tests, the newest first"),
        ("How does she lie, all round?", "What is under water"),
        ("What is left to your judgment?", "Fetching her"),
        ("Are her seams ready for the water?", "The worst first"),
    ):
        held = [i for i, text in enumerate(texts) if question in text]
        assert len(held) == 1
        assert answer in texts[held[0]], question
    letter = PdfReader(io.BytesIO(page.pdf(format="Letter"))).pages
    assert 10 <= len(letter) <= 17
    assert letter[0].mediabox[2:] == pytest.approx(LETTER_PT, abs=1)
    assert drawn(letter[0])


def drawn(page):
    """Return whether a drawing stands on a page: SVG comes out as many paths, or as a form."""
    data = page.get_contents().get_data()
    return data.count(b" l\n") + data.count(b" c\n") > 100 or b" Do\n" in data


def test_hostile_names_do_nothing_in_a_browser(hostile_file, visit):
    """Names made of script and tags are read as text; no dialog opens, nothing is asked for."""
    seen = visit(hostile_file, width=SMALL_PHONE[0], height=SMALL_PHONE[1])
    opened = []
    seen.page.on("dialog", lambda dialog: (opened.append(dialog.message), dialog.dismiss()))
    seen.page.reload()
    text = " ".join(seen.page.inner_text("body").replace("\N{NBSP}", " ").split())
    for name in NAMES:
        assert " ".join(name.split()) in text, name
    assert opened == []
    assert seen.console == []
    assert seen.requests == []
    assert width_of(seen.page) == [SMALL_PHONE[0], SMALL_PHONE[0]]
