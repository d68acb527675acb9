"""The report's page: valid, closed to the outside, what the user wrote as text, the same twice."""

import base64
import hashlib
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from urllib.parse import unquote

import html5lib
import pytest
from defusedxml.ElementTree import fromstring
from page_making import (
    HOSTILE,
    ITEM,
    NAMES,
    NOTE,
    OPENING,
    SEAM,
    curing,
    hostile_build,
    hostile_page,
    hostile_told,
    told,
    with_log,
)
from seams_making import EMPTY, book, on, soak

from hullcheck.craft.log_records import Note
from hullcheck.errors import SurfaceError
from hullcheck.report.page import page_html
from hullcheck.report.page_answers import MOST_ROWS
from hullcheck.report.page_end import assumptions_section, files_section, list_section
from hullcheck.report.page_flood import flood_section
from hullcheck.report.page_rows import glued, labeled, sentences, started
from hullcheck.report.page_seams import leaks_section, seams_section
from hullcheck.report.page_stability import righting_section
from hullcheck.report.page_style import hash_of, variables
from hullcheck.report.page_weights import growth_section, weights_section

TESTS = Path(__file__).parents[1]
QUESTIONS = (
    "What does she weigh, and how did she grow?",
    "How much heavier may she get?",
    "What keeps her upright?",
    "Where does her step stand?",
    "Are her seams ready for the water?",
    "What did the leak tests say?",
    "What if water gets in?",
    "What does each point rest on?",
    "What is left to your judgment?",
    "How does she lie, all round?",
    "What was assumed?",
    "Which files, which versions?",
)


@pytest.fixture(scope="module")
def page():
    """Return the text of the page."""
    return hostile_page()


@pytest.fixture(scope="module")
def tree(page):
    """Return the page as an HTML parser that follows the standard builds it."""
    return html5lib.parse(page, treebuilder="etree", namespaceHTMLElements=False)


def words_of(element):
    """Return an element's text on one line, spaces that do not break as spaces."""
    return " ".join("".join(element.itertext()).replace("\N{NO-BREAK SPACE}", " ").split())


def test_html_is_valid(page):
    """The HTML standard's parser finds no error; html5lib in strict mode raises at the first."""
    html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)
    with pytest.raises(html5lib.html5parser.ParseError):
        html5lib.HTMLParser(strict=True).parse(page.replace("</ul>", "", 1))


def test_ids_are_used_once_and_links_lead_somewhere(tree):
    """No id stands twice, and every link of the page leads to one of them."""
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    links = [element.get("href") for element in tree.iter("a")]
    assert len(links) >= len(QUESTIONS)
    assert all(link.startswith("#") and link[1:] in ids for link in links)
    labels = [e.get("aria-labelledby") for e in tree.iter() if e.get("aria-labelledby")]
    assert set(labels) <= set(ids)


def test_hostile_names_come_out_as_text(tree):
    """Names of craft, seam, opening, item and note are read as they were typed, no more."""
    whole = words_of(tree)
    for name in NAMES:
        assert " ".join(name.split()) in whole, name
    assert words_of(tree.find(".//title")).startswith(HOSTILE)
    assert words_of(tree.find(".//header").find(".//b")) == HOSTILE
    cells = [words_of(cell) for cell in tree.iter("th")]
    assert ITEM in cells
    assert any(OPENING in cell for cell in cells)
    assert any(SEAM[1:] in cell for cell in cells)
    assert NOTE in [words_of(cell) for cell in tree.iter("td")]
    kinds = [script.get("type") for script in tree.iter("script")]
    assert kinds == ["application/json", None]
    assert "alert" not in "".join(s.text or "" for s in tree.iter("script") if not s.get("type"))
    assert not any(key.startswith("on") for element in tree.iter() for key in element.attrib)
    assert "{{ 7 * 7 }}" in whole


def test_hostile_names_are_text_in_every_picture(tree):
    """Alternatives hold the names as they are; the pictures hold no script, no outside address."""
    alts = [img.get("alt") for img in tree.iter("img")]
    assert any(HOSTILE in alt for alt in alts)
    assert any(OPENING in alt for alt in alts)
    for svg in pictures(tree):
        tags = {element.tag.rpartition("}")[2] for element in svg.iter()}
        assert tags <= {"svg", "defs", "style", "g", "path", "use", "clipPath", "rect"}
        for element in svg.iter():
            for key, value in element.attrib.items():
                assert not key.startswith("on")
                assert not key.endswith("href") or value.startswith("#")


def pictures(tree):
    """Return every picture of the page, read back from its address."""
    found = [img.get("src") for img in tree.iter("img")]
    found += [source.get("srcset") for source in tree.iter("source")]
    read = []
    for address in found:
        kind, _, data = address.partition(",")
        assert kind == "data:image/svg+xml"
        assert not re.search(r"[\s<>\"&]", address)
        read.append(fromstring(unquote(data)))
    assert len(read) >= 9
    return read


def test_every_picture_says_what_it_shows(tree):
    """Each picture has its finding and numbers as text; marks beside words need none."""
    for img in tree.iter("img"):
        assert len(img.get("alt")) > 40
        assert re.search(r"\d", img.get("alt"))
    assert all(svg.get("aria-hidden") == "true" for svg in tree.iter("svg"))
    assert all(c.get("aria-label") or c.get("aria-hidden") for c in tree.iter("canvas"))


def test_sections_are_the_builders_questions_in_order(tree):
    """Verdict first; then a section a question, the worst news not last."""
    body = tree.find("body")
    assert [e.tag for e in body] == ["header", "main", "footer"]
    asked = [words_of(h) for section in body.iter("section") for h in section.iter("h2")]
    assert [words for words in asked if words.endswith("?")] == list(QUESTIONS)
    assert words_of(tree.find(".//h1")) == "Not ready for water: no band is given for her CG"


def test_policy_allows_nothing_from_outside(tree):
    """All is forbidden but pictures that carry their data, and the page's own style and script."""
    metas = {m.get("http-equiv"): m.get("content") for m in tree.iter("meta")}
    rules = dict(part.strip().split(" ", 1) for part in metas["Content-Security-Policy"].split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["img-src"] == "data:"
    for kind, tag in (("style", "style"), ("script", "script")):
        texts = [e.text for e in tree.iter(tag) if e.get("type") != "application/json"]
        assert len(texts) == 1
        digest = base64.b64encode(hashlib.sha256(texts[0].encode()).digest()).decode()
        assert rules[f"{kind}-src"] == f"'sha256-{digest}'" == f"'{hash_of(texts[0])}'"
    assert not any(element.get("style") for element in tree.iter())
    named = [e.get(key) for e in tree.iter() for key in ("src", "srcset", "href") if e.get(key)]
    assert named
    assert all(address.startswith(("data:", "#")) for address in named)


def test_same_input_told_for_the_same_time_gives_same_bytes_in_another_process(page):
    """Hash seed, process and what the clock says by now change nothing."""
    code = "import page_making as m, sys; sys.stdout.buffer.write(m.hostile_page().encode())"
    paths = os.pathsep.join(map(str, (TESTS, TESTS.parent / "meshes", TESTS.parent)))
    again = subprocess.run(
        [sys.executable, "-c", code],
        env=os.environ | {"PYTHONHASHSEED": "12345", "PYTHONPATH": paths},
        capture_output=True,
        check=True,
    )
    assert again.stdout == page.encode()


def test_the_time_told_for_is_on_the_page_and_makes_a_difference():
    """A joint that cures between two hours of one day changes the page; each names its time."""
    said = []
    for hours, state, time in ((0, "curing", "09:00"), (5, "sealed", "14:00")):
        then = curing(hours)
        files = files_section(then).answer
        assert files.startswith(f"Told for 16 May 2026, {time} (+02:00). Read: logbook to entry 1")
        assert f'--at "2026-05-16 {time}+02:00"' in files
        joint = next(row[0] for row in seams_section(then).tables[0].rows if row[0].seam == state)
        said.append(joint.more)
    assert said[0] != said[1]


def test_the_report_is_not_lost_where_the_view_cannot_be_drawn(monkeypatch):
    """The view's section then says why, valid and without a script; any other fault is raised."""

    def refused(*_):
        """Refuse to draw her."""
        raise SurfaceError("hull: its surface <cannot> be simplified")

    monkeypatch.setattr("hullcheck.report.page.view3d", refused)
    found = page_html(hostile_told())
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(found)
    turn = next(e for e in tree.iter("section") if e.get("id") == "turn")
    assert "hull: its surface <cannot> be simplified" in words_of(turn)
    metas = {m.get("http-equiv"): m.get("content") for m in tree.iter("meta")}
    assert "script-src 'none'" in metas["Content-Security-Policy"]
    assert list(tree.iter("script")) == []


def test_long_logbooks_leave_the_oldest_rows_to_the_terminal():
    """Of 45 leak tests and 43 notes the newest 40 are rows, and the rest is counted."""
    entries = [(on(1 + i // 3, 6 + i % 3), soak(0.0, mass_g=1205.0)) for i in range(45)]
    entries += [(on(1 + i // 3, 12 + i % 3), Note(text=f"note {i}")) for i in range(43)]
    tests, notes = leaks_section(with_log(book(*entries))).tables
    assert (len(tests.rows), len(notes.rows)) == (MOST_ROWS, MOST_ROWS) == (40, 40)
    assert tests.notes == ("And 5 more, older: hullcheck log show --all.",)
    assert notes.notes == ("And 3 more, older: hullcheck log show --all.",)
    assert [row[2].text for row in (notes.rows[0], notes.rows[-1])] == ["note 42", "note 3"]
    assert all(table.notes == () for table in leaks_section(hostile_told()).tables)


def test_it_never_says_safe_and_says_what_it_is_not(tree):
    """No clearance is given: the closing sentence stands on the page, the word for it nowhere."""
    whole = words_of(tree.find("body").find("main"))
    assert not re.search(r"\bsafe", whole, re.IGNORECASE)
    assert "no clearance to fly" in whole


def test_what_is_not_there_is_said():
    """Without center, ledger, logbook or rest each section says why, and what would help."""
    bare = told(replace(hostile_build(), center_of_gravity_mm=None, mass_g=1200.0), EMPTY)
    light = replace(
        hostile_build(), ledger=type(hostile_build().ledger)(), mass_g=1205.0, setups=(),
        fittings=replace(hostile_build().fittings, equipment=()),
    )  # fmt: skip
    lone = told(light, EMPTY)
    sunk = told(replace(light, mass_g=9000.0, center_of_gravity_mm=(275.0, 0.0, 30.0)), EMPTY)
    assert "hullcheck log weigh" in weights_section(bare).missing
    assert "She has no ledger" in weights_section(lone).missing
    assert "has no known CG" in growth_section(lone).missing
    assert "Her CG is not known" in righting_section(lone).missing
    assert "Her CG is not known" in flood_section(lone).missing
    assert "She sinks dry" in flood_section(sunk).missing
    assert "sinks" in growth_section(sunk).missing
    assert "sinks" in righting_section(sunk).missing
    assert leaks_section(lone).tables == ()
    assert "No leak test" in leaks_section(lone).answer
    assert seams_section(sunk).answer.startswith("Sinks")


def test_list_and_assumptions_hold_every_point_once():
    """Each point of the list stands in its table with evidence; every assumption is told once."""
    all_told = hostile_told()
    rows = list_section(all_told).tables[0].rows
    assert [row[0].state for row in rows] == [point.state for point in all_told.check.points]
    assert all(row[1].more for row in rows)
    notes = assumptions_section(all_told).notes
    assert len(notes) == len(set(notes)) > len(all_told.check.assumptions)


def test_style_sheet_is_filled_from_the_look():
    """Every color and size of the style sheet comes from the one look, at 100 px an inch."""
    values = variables()
    assert values["note"] == "11.81px"  # 8.5 pt at 100 px an inch, of 72 pt
    assert values["headline"] == "19.44px"  # 14 pt
    css = (Path(TESTS.parent) / "hullcheck/report/templates/page.css.j2").read_text()
    used = set(re.findall(r"\{\{ (\w+) \}\}", css))
    assert used <= set(values)
    assert not re.search(r"#[0-9a-fA-F]{3,8}\b|\brgb|\bhsl", css)
    assert not re.search(r"font-size: *[\d.]+(?:px|pt|em)", css)


def test_rows_are_read_off_a_first_screen():
    """A label, two blanks, its words; hints for the terminal go, commands keep their case."""
    table = labeled(["Grams left      540 ± 60 g", "Loading         k 0.1 (from memory: --all)"])
    assert [[cell.text for cell in row] for row in table.rows] == [
        ["Grams left", "540 ± 60 g"],
        ["Loading", "K 0.1 (from memory)"],
    ]
    assert labeled(["Drain  hull 1 at 120, …: --all"]).rows[0][1].text == "Hull 1 at 120, …"
    assert labeled(["Found  a gap; 2 more, see --all"]).rows[0][1].text == "A gap; 2 more"
    said = labeled(["Swamped  sinks; 288 cm³ of foam would hold her up (--keep-dry)"])
    assert said.rows[0][1].text == "Sinks; 288 cm³ of foam would hold her up"
    # What a user calls --all keeps its name.
    assert labeled(["Lowest  hatch: --all two, 3 mm"]).rows[0][1].text == "Hatch: --all two, 3 mm"
    assert labeled(["Lowest  (--all) hatch"]).rows[0][1].text == "(--all) hatch"
    assert started("hullcheck skin --all") == "hullcheck skin --all"
    assert started("cg_range_mm is not given") == "cg_range_mm is not given"
    assert sentences(["still water", "still water", "Why?"]) == ("Still water.", "Why?")
    assert glued("25 ± 1 mm, 3 of 4") == "25\N{NBSP}±\N{NBSP}1\N{NBSP}mm, 3 of 4"
