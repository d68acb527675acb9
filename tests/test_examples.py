"""The examples and the README's Python run."""

import re
import runpy
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


@pytest.mark.parametrize("script", sorted((ROOT / "examples").glob("*.py")), ids=lambda p: p.name)
def test_example_runs_and_prints(script, capsys):
    """Each example script runs to its end and prints something."""
    runpy.run_path(str(script), run_name="__main__")
    assert capsys.readouterr().out.strip()


def test_python_in_the_readme_runs(monkeypatch, capsys):
    """The Python of the README runs from the top folder of a checkout."""
    monkeypatch.chdir(ROOT)
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```python\n(.*?)```", text, flags=re.DOTALL)
    assert blocks
    for block in blocks:
        exec(compile(block, "README.md", "exec"), {})  # noqa: S102 - the project's own text
    assert "bow up" in capsys.readouterr().out


def test_public_names_load_lazily_and_all_exist():
    """Every public name can be had, and an unknown one is refused by name."""
    import hullcheck

    for name in hullcheck.__all__:
        assert getattr(hullcheck, name) is not None
    assert set(hullcheck.__all__) <= set(dir(hullcheck))
    with pytest.raises(AttributeError, match="no attribute 'sail_area'"):
        _ = hullcheck.sail_area


def test_the_twin_floats_of_the_examples_float_upright():
    """The example build of offsets rests upright within its limits, in every setup."""
    import hullcheck

    answer = hullcheck.setups_answer(hullcheck.load(ROOT / "examples" / "twin-floats"))
    assert [one.rest for one in answer.setups] == ["upright"] * 3
    assert all(check.ok for one in answer.setups for check in one.limits)
    assert answer.worst == "fuel for an hour"


def test_the_finished_build_has_one_caution_left():
    """On the day after her last run nothing stops her or is not known; her book is its export."""
    from datetime import datetime

    import hullcheck
    from hullcheck.files.logbook_csv import export_csv

    folder = ROOT / "examples" / "tarnwing-90-finished"
    now = datetime.fromisoformat("2026-11-09T12:00:00+01:00")
    book = hullcheck.read_logbook(folder)
    evidence = hullcheck.check_evidence(hullcheck.load(folder), book.as_of(now), now)
    answer = hullcheck.check_answer(evidence)
    assert {one.key for one in answer.points if one.state != "pass"} == {"propeller"}
    assert not answer.holds_back
    exported = export_csv(folder).replace("\r\n", "\n")
    assert exported == (folder / "logbook.csv").read_text(encoding="utf-8")


def test_examples_in_docstrings_run():
    """The examples in the docstrings of the public names give what they say, from a checkout."""
    import doctest
    import importlib
    import os

    import hullcheck

    here = Path.cwd()
    os.chdir(ROOT)
    try:
        names = {"hullcheck", *(module for module in hullcheck._PUBLIC.values())}
        results = [doctest.testmod(importlib.import_module(name)) for name in sorted(names)]
    finally:
        os.chdir(here)
    assert sum(result.attempted for result in results) > 10
    assert sum(result.failed for result in results) == 0
