"""The report command: one page where it is asked for, no other file lost, hashes that hold."""

import hashlib
import re
import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from hullcheck.cli.evidence import to_the_minute
from hullcheck.cli.report_files import without_folder
from hullcheck.craft.log_records import Entry, Note
from hullcheck.craft.logbook import Logbook

MESHES = Path(__file__).parents[2] / "meshes"
NAME = '<b>Box</b> & "Ünï"'
SHEET = """
[craft]
name = '<b>Box</b> & "Ünï"'
mass_g = 500
cg_mm = [120, 0, 28]
cg_range_mm = [110, 130]
[[body]]
name = "hull"
role = "hull"
parts = ["box.stl"]
wall_mm = 1.0
[[opening]]
name = "hatch"
state = "taped"
points_mm = [[120, 0, 64]]
[limits]
freeboard_mm = 10
"""


@pytest.fixture
def build(tmp_path):
    """Write a build of one box into the folder the command runs in, and return its folder."""
    folder = tmp_path / "box"
    folder.mkdir()
    (folder / "build.toml").write_text(SHEET, encoding="utf-8")
    shutil.copy(MESHES / "box.stl", folder / "box.stl")
    return folder


def test_report_is_written_and_told_of(hullcheck, build, tmp_path):
    """Verdict and facts on standard output, the page's name on standard error, exit code 3."""
    done = hullcheck("report", "box")
    assert done.returncode == 3, done.stderr  # no leak test is in the log
    lines = done.stdout.splitlines()
    assert lines[0] == "Not ready for water: no leak test is in the log"
    assert lines[1].startswith(f"{NAME} · 500 g · fresh water, 15 °C")
    assert len(lines) <= 7
    assert max(map(len, lines)) <= 80
    path = tmp_path / "b-box-b-n-report.html"
    assert f"Report written to {path.name} (" in done.stderr
    page = path.read_text(encoding="utf-8")
    assert "<title>&lt;b&gt;Box&lt;/b&gt; &amp; &#34;Ünï&#34;: Not ready" in page
    assert "no logbook entry" in page
    # --at with the time that it names gives it again.
    told = re.search(r"the same options and --at &#34;([^&]+:\d\d[+-]\d\d:\d\d)&#34;", page)[1]
    hullcheck("report", "box", "--at", told, "-o", "again.html")
    assert (tmp_path / "again.html").read_text(encoding="utf-8") == page
    # Hashes are those of the files' bytes, worked out here by the standard library.
    for name in ("build.toml", "box.stl"):
        digest = hashlib.sha256((build / name).read_bytes()).hexdigest()
        assert re.search(rf">{re.escape(name)}</th>(?s:.){{1,200}}{digest}</td>", page), name


def test_only_an_older_report_is_written_over(hullcheck, build, tmp_path):
    """A report gives the same bytes again; a file that is none stays unless told not to."""
    at = ("--at", "2026-05-16 09:00+02:00", "-o", "page.html")
    assert hullcheck("report", "box", *at).returncode == 3
    first = (tmp_path / "page.html").read_bytes()
    assert hullcheck("report", str(build / "build.toml"), *at).returncode == 3
    assert (tmp_path / "page.html").read_bytes() == first
    assert str(tmp_path).encode() not in first
    other = tmp_path / "other.html"
    other.write_text("<p>mine</p>", encoding="utf-8")
    done = hullcheck("report", "box", "-o", "other.html")
    assert done.returncode == 1
    assert "other.html: is there already, and is no report" in done.stderr
    assert "--overwrite" in done.stderr
    assert other.read_text(encoding="utf-8") == "<p>mine</p>"
    assert hullcheck("report", "box", "-o", "other.html", "--overwrite").returncode == 3
    assert "<p>mine</p>" not in other.read_text(encoding="utf-8")


def test_a_page_without_a_place_is_refused_before_anything_is_read(hullcheck, build, tmp_path):
    """A folder's name, or a folder that is not there, is told of before the build is looked for."""
    (tmp_path / "folder.html").mkdir()
    for name, said in (
        ("folder.html", "folder.html: is a folder; name a file in it (-o)"),
        ("none/page.html", "none/page.html: there is no folder none"),
    ):
        done = hullcheck("report", "no such build", "-o", name)
        assert (done.returncode, done.stdout) == (1, "")
        assert said in done.stderr
    # Without -o it is the name that she gives the page.
    (tmp_path / "b-box-b-n-report.html").mkdir()
    done = hullcheck("report", build.name)
    assert done.returncode == 1
    assert "b-box-b-n-report.html: is a folder" in done.stderr


def test_folders_are_left_out_where_a_path_begins_alone(tmp_path, monkeypatch):
    """The build's folder goes from the front of paths, and stays in words that end as it does."""
    (tmp_path / "s").mkdir()
    (tmp_path / "s" / "build.toml").write_text(SHEET, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    notes = (("a", "s/box.stl: parts/box.stl and lids/s/lid.stl, ounces/pounds, 's/lid.stl'"),)
    said = "box.stl: parts/box.stl and lids/s/lid.stl, ounces/pounds, 'lid.stl'"
    assert without_folder(notes, "s") == (("a", said),)


def test_without_a_time_it_is_told_for_a_full_minute_that_has_all_entries():
    """The minute that began last; the next where the logbook has an entry of the one that runs."""
    at = datetime(2026, 5, 16, 9, 0, tzinfo=UTC)
    for now, written, told in ((59, -1, 0), (59, 0, 0), (59, 1, 60), (0, 0, 0)):
        then = at + timedelta(seconds=written)
        entry = Entry(number=1, at=then, written=then, record=Note(text="n"))
        found = to_the_minute(at + timedelta(seconds=now), Logbook(entries=(entry,)))
        assert found == at + timedelta(seconds=told)
        assert Logbook(entries=(entry,)).as_of(found).entries == (entry,)


@pytest.mark.usefixtures("build")
def test_units_and_water_are_those_asked_for(hullcheck, tmp_path):
    """Ounces and inches, and sea water, stand on the page; a setup that is not there is refused."""
    hullcheck("report", "box", "-o", "p.html", "--show", "oz,in", "--water", "sea")
    page = (tmp_path / "p.html").read_text(encoding="utf-8").replace("\N{NBSP}", " ")
    assert "<span>17.6 ± 0.04 oz</span> <span>sea water, 15 °C</span>" in page
    done = hullcheck("report", "box", "-o", "q.html", "--setup", "none")
    assert done.returncode == 1
    assert "there is no setup 'none'" in done.stderr
    assert not (tmp_path / "q.html").exists()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("hull.stl",), "report needs a build sheet"),
        (("box", "-o", "page.txt"), "'page.txt' does not end in .html"),
        (("box", "--show", "ell"), "ell"),
        (("box", "--at", "soon"), "'soon' is not a time"),
    ],
)
def test_what_makes_no_sense_is_refused(hullcheck, arguments, said):
    """A mesh, another ending, an unknown unit, no time: exit code 2 and what was wrong."""
    done = hullcheck("report", *arguments)
    assert done.returncode == 2
    assert said in done.stderr
