"""The demo command: a build written, the job run on it, nothing overwritten."""

import contextlib
import io
import shlex
import sys
from pathlib import Path

import pytest

from hullcheck.cli.main import run as run_command_line
from hullcheck.files.demo import write_demo

PARTS = ("nose", "fore", "mid", "aft", "stern", "hatch", "tip_float")
README = Path(__file__).resolve().parents[2] / "README.md"


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    """Run the demo once; return the folder it ran in, and what it printed."""
    folder, printed = tmp_path_factory.mktemp("demo"), io.StringIO()
    with (
        contextlib.chdir(folder),
        contextlib.redirect_stdout(printed),
        pytest.MonkeyPatch.context() as patch,
    ):
        patch.setattr(sys, "argv", ["hullcheck", "demo"])
        with pytest.raises(SystemExit) as stopped:
            run_command_line()
    assert not stopped.value.code
    return folder, printed.getvalue()


def answers(text):
    """Return what was printed after each command line, by that line."""
    _, *runs = text.split("$ ")
    return {run.splitlines()[0]: run.splitlines()[1:] for run in runs}


def test_demo_writes_its_build_drawings_and_page(run):
    """In an empty folder: sheet, ledger, printed parts, logbook, two drawings and the report."""
    folder, printed = run
    kept = folder / "tarnwing-90"
    names = {str(p.relative_to(kept)) for p in kept.rglob("*.*") if ".hullcheck" not in p.parts}
    parts = {f"parts/{name}.stl" for name in PARTS}
    written = {"build.toml", "weights.csv", "logbook.sqlite"}
    assert names == written | {"skin.png", "float.png", "report.html"} | parts
    wrote = printed.split("\n$ ", 1)[0]
    assert wrote.startswith("Wrote into tarnwing-90: build.toml weights.csv parts/nose.stl ")
    assert all(name in wrote for name in parts)
    page = (kept / "report.html").read_text(encoding="utf-8")
    assert "<title>Tarnwing 90: Nothing on the list stops her" in page


def test_demo_goes_from_the_parts_to_the_list_and_the_page(run):
    """How she was read, how she floats, the check list, and where the page is."""
    skin, afloat, listed, page = answers(run[1]).values()
    lines = [*skin, *afloat, *listed, *page]
    assert max(map(len, lines)) <= 80
    assert skin[0].startswith("Tarnwing 90 · 8 parts → 3 bodies of 2662 cm³")
    assert any(line.startswith("Openings        4 closed for buoyancy") for line in skin)
    assert "Tarnwing 90 · 701 g all-up (11 of 15 items weighed)" in afloat[0]
    assert afloat[1].startswith("Floats upright")
    assert any(line.startswith("Grams left") for line in afloat)
    assert afloat[-1] == "Not known       state of opening at station 416 to port"
    assert len(afloat) == 7
    assert listed[0] == "Nothing on the list stops her; 1 not known, 6 need care"
    assert sum(line.startswith("PASS ") for line in listed) == 10
    assert page[:5] == listed[:5]
    assert page[5:] == ["Page            tarnwing-90/report.html"]


def test_the_lines_the_demo_prints_give_the_same_answers(run, hullcheck, monkeypatch):
    """Each command shown by the demo can be typed and says the same; the page's bytes too."""
    folder, printed = run
    monkeypatch.chdir(folder)
    page = Path("tarnwing-90/report.html").read_bytes()
    shown = answers(printed)
    assert [line.split()[1] for line in shown] == ["skin", "float", "check", "report"]
    for line, said in shown.items():
        again = hullcheck(*shlex.split(line)[1:])
        assert again.returncode == 0, again.stderr
        assert again.stdout.splitlines() == said
    assert Path("tarnwing-90/report.html").read_bytes() == page


def test_readme_shows_what_the_demo_prints(run):
    """The first sample of the README is what the demo prints today."""
    sample = README.read_text(encoding="utf-8").split("```text\n", 1)[1].split("```", 1)[0]
    assert run[1].strip() == sample.strip()


def test_demo_overwrites_nothing(hullcheck, tmp_path):
    """Its own files may be there already; one with other content is refused by name."""
    first = write_demo(tmp_path / "here")
    assert write_demo(tmp_path / "here") == first
    Path(tmp_path / "here" / "build.toml").write_text("mine")
    done = hullcheck("demo", "here")
    assert done.returncode == 1
    assert "build.toml is there already and is not the demo's" in done.stderr
    assert (tmp_path / "here" / "build.toml").read_text() == "mine"


def test_a_logbook_with_entries_of_ones_own_is_kept(hullcheck, tmp_path):
    """A second run after an entry was written names the logbook and changes nothing."""
    write_demo(tmp_path / "here")
    assert hullcheck("log", "note", "mine", "--build", "here").returncode == 0
    before = (tmp_path / "here" / "logbook.sqlite").read_bytes()
    done = hullcheck("demo", "here")
    assert done.returncode == 1
    assert "logbook.sqlite is there already" in done.stderr
    assert (tmp_path / "here" / "logbook.sqlite").read_bytes() == before


def test_demo_into_a_file_is_refused(hullcheck, tmp_path):
    """A file where the folder should be is named."""
    (tmp_path / "taken").write_text("x")
    done = hullcheck("demo", "taken")
    assert done.returncode == 1
    assert "taken: cannot be made a folder" in done.stderr
