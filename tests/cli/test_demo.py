"""The demo command: files written, the job run, nothing overwritten."""

from pathlib import Path


def test_demo_writes_its_files_and_prints_the_answer(hullcheck, tmp_path):
    """In an empty folder the demo writes three meshes and a drawing and prints seven lines."""
    done = hullcheck("demo", "here")
    assert done.returncode == 0, done.stderr
    names = sorted(path.name for path in (tmp_path / "here").iterdir())
    assert names == ["float.png", "hull.stl", "port_tip_float.stl", "starboard_tip_float.stl"]
    assert "Tarnwing 90 · 690 g all-up · fresh water, 15 °C" in done.stdout
    assert "Floats upright" in done.stdout


def test_the_line_the_demo_prints_gives_the_same_answer(hullcheck, tmp_path):
    """The command shown by the demo can be typed and says the same."""
    import shlex

    done = hullcheck("demo", "here")
    line = next(line for line in done.stdout.splitlines() if line.startswith("$ "))
    again = hullcheck(*shlex.split(line)[2:])
    assert again.returncode == 0, again.stderr
    assert again.stdout.splitlines()[1:] == done.stdout.splitlines()[-6:]
    assert tmp_path.exists()


def test_demo_runs_twice_but_overwrites_no_mesh(hullcheck, tmp_path):
    """A second run is fine; a file of that name with other content is refused by name."""
    assert hullcheck("demo", "here").returncode == 0
    assert hullcheck("demo", "here").returncode == 0
    Path(tmp_path / "here" / "hull.stl").write_text("mine")
    done = hullcheck("demo", "here")
    assert done.returncode == 1
    assert "hull.stl is there already and is not the demo's" in done.stderr
    assert (tmp_path / "here" / "hull.stl").read_text() == "mine"


def test_demo_into_a_file_is_refused(hullcheck, tmp_path):
    """A file where the folder should be is named."""
    (tmp_path / "taken").write_text("x")
    done = hullcheck("demo", "taken")
    assert done.returncode == 1
    assert "taken: cannot be made a folder" in done.stderr
