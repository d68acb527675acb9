"""The demo command: a build written, the job run on it, nothing overwritten."""

import shlex
from pathlib import Path


def test_demo_writes_its_build_and_prints_the_answer(hullcheck, tmp_path):
    """In an empty folder the demo writes sheet, ledger, two parts and a drawing, seven lines."""
    done = hullcheck("demo", "here")
    assert done.returncode == 0, done.stderr
    names = {str(p.relative_to(tmp_path / "here")) for p in (tmp_path / "here").rglob("*.*")}
    assert names == {
        "build.toml",
        "weights.csv",
        "parts/hull.stl",
        "parts/tip_float.stl",
        "float.png",
    }
    assert "Tarnwing 90 · 702 g all-up (9 of 14 items weighed)" in done.stdout
    assert "Floats upright" in done.stdout
    assert "Grams left" in done.stdout
    assert len(done.stdout.splitlines()) == 2 + 7


def test_the_line_the_demo_prints_gives_the_same_answer(hullcheck):
    """The command shown by the demo can be typed and says the same."""
    done = hullcheck("demo", "here")
    line = next(line for line in done.stdout.splitlines() if line.startswith("$ "))
    again = hullcheck(*shlex.split(line)[2:])
    assert again.returncode == 0, again.stderr
    assert again.stdout.splitlines() == done.stdout.splitlines()[-7:]


def test_demo_runs_twice_but_overwrites_nothing(hullcheck, tmp_path):
    """A second run is fine; a file of that name with other content is refused by name."""
    assert hullcheck("demo", "here").returncode == 0
    assert hullcheck("demo", "here").returncode == 0
    Path(tmp_path / "here" / "build.toml").write_text("mine")
    done = hullcheck("demo", "here")
    assert done.returncode == 1
    assert "build.toml is there already and is not the demo's" in done.stderr
    assert (tmp_path / "here" / "build.toml").read_text() == "mine"


def test_demo_into_a_file_is_refused(hullcheck, tmp_path):
    """A file where the folder should be is named."""
    (tmp_path / "taken").write_text("x")
    done = hullcheck("demo", "taken")
    assert done.returncode == 1
    assert "taken: cannot be made a folder" in done.stderr
