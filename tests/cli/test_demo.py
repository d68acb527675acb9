"""The demo command: a build written, the job run on it, nothing overwritten."""

import shlex
from pathlib import Path

PARTS = ("nose", "fore", "mid", "aft", "stern", "hatch", "tip_float")


def answers(text):
    """Return what was printed after each command line, by that line."""
    _, *runs = text.split("$ ")
    return {run.splitlines()[0]: run.splitlines()[1:] for run in runs}


def test_demo_writes_its_build_and_runs_skin_and_float(hullcheck, tmp_path):
    """In an empty folder: sheet, ledger, printed parts and two drawings; two answers."""
    done = hullcheck("demo", "here")
    assert done.returncode == 0, done.stderr
    kept = tmp_path / "here"
    names = {str(p.relative_to(kept)) for p in kept.rglob("*.*") if ".hullcheck" not in p.parts}
    parts = {f"parts/{name}.stl" for name in PARTS}
    assert (
        names
        == {
            "build.toml",
            "weights.csv",
            "logbook.sqlite",
            "skin.png",
            "float.png",
        }
        | parts
    )
    wrote = done.stdout.split("\n$ ", 1)[0]
    assert wrote.startswith("Wrote into here: build.toml weights.csv parts/nose.stl ")
    assert all(name in wrote for name in parts)
    assert max(map(len, done.stdout.splitlines())) <= 80
    skin, afloat = answers(done.stdout).values()
    assert skin[0].startswith("Tarnwing 90 · 8 parts → 3 bodies of 2662 cm³")
    assert any(line.startswith("Openings        4 closed for buoyancy") for line in skin)
    assert "Tarnwing 90 · 701 g all-up (11 of 15 items weighed)" in afloat[0]
    assert afloat[1].startswith("Floats upright")
    assert any(line.startswith("Grams left") for line in afloat)
    assert afloat[-1] == "Not known       state of opening at station 416 to port"
    assert len(afloat) == 7


def test_the_lines_the_demo_prints_give_the_same_answers(hullcheck):
    """Each command shown by the demo can be typed and says the same."""
    done = hullcheck("demo", "here")
    shown = answers(done.stdout)
    assert [line.split()[1] for line in shown] == ["skin", "float"]
    for line, said in shown.items():
        again = hullcheck(*shlex.split(line)[1:])
        assert again.returncode == 0, again.stderr
        assert again.stdout.splitlines() == said


def test_demo_runs_twice_but_overwrites_nothing(hullcheck, tmp_path):
    """A second run is fine; a file of that name with other content is refused by name."""
    assert hullcheck("demo", "here").returncode == 0
    assert hullcheck("demo", "here").returncode == 0
    Path(tmp_path / "here" / "build.toml").write_text("mine")
    done = hullcheck("demo", "here")
    assert done.returncode == 1
    assert "build.toml is there already and is not the demo's" in done.stderr
    assert (tmp_path / "here" / "build.toml").read_text() == "mine"


def test_a_logbook_with_entries_of_ones_own_is_kept(hullcheck, tmp_path):
    """A second run after an entry was written names the logbook and changes nothing."""
    assert hullcheck("demo", "here").returncode == 0
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
