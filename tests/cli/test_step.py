"""hullcheck step: forms, units, exit codes, refusals."""

import csv
import dataclasses
import io
import json
from pathlib import Path

import jsonschema
import pytest
from schema_keys import assert_describes

from hullcheck.answers.step_records import RuleCheck, StepAnswer
from hullcheck.report.as_json import schema

ROOT = Path(__file__).resolve().parents[2]
HULL = str(ROOT / "meshes" / "tarnwing_hull.stl")
READ = ("--unit", "mm", "--forward", "-x", "--up", "+z")
LOADED = (HULL, "--mass", "690", "--cg", "252,0,31", *READ)
TWINS = str(ROOT / "examples" / "twin-floats")


def test_first_screen_of_the_demo_mesh(hullcheck):
    """The step of her lines (station 265, 11 mm) is 13 mm and 25° behind the CG."""
    done = hullcheck("step", *LOADED)
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert len(lines) <= 8
    assert lines[1].startswith("Step at station 265, 11 mm deep: 13 mm (2.1 % of length) behind")
    assert "25° from the keel's normal" in lines[2]
    assert "no clearance to go on the water" in done.stderr


def test_json_is_what_its_schema_says(hullcheck):
    """The document of a mesh, of a build with floats and of a body without a step are valid."""
    tip = str(ROOT / "meshes" / "tarnwing_tip_float.stl")
    for arguments in (LOADED, (TWINS,), (tip, "--mass", "60", *READ)):
        done = hullcheck("step", *arguments, "--json")
        assert done.returncode == 0
        jsonschema.validate(json.loads(done.stdout), schema("step"))


def test_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("step"), StepAnswer)


def test_csv_is_a_row_a_rule(hullcheck):
    """Rules of the step, or with --floats those of the floats."""
    rules = list(csv.DictReader(io.StringIO(hullcheck("step", *LOADED, "--csv").stdout)))
    assert set(rules[0]) == {field.name for field in dataclasses.fields(RuleCheck)}
    floats = list(csv.DictReader(io.StringIO(hullcheck("step", TWINS, "--floats", "--csv").stdout)))
    assert {row["quantity"] for row in rules} & {row["quantity"] for row in floats} == set()
    assert {row["quantity"] for row in floats} >= {"overhang", "incidence", "volume_ratio"}


def test_floats_of_the_example(hullcheck):
    """540 mm long, 250 mm apart, noses 37 mm behind the propeller: station 25 less −12."""
    done = hullcheck("step", TWINS, "--floats")
    assert done.returncode == 0
    assert "540 mm long" in done.stdout
    assert "250 mm apart" in done.stdout
    assert "noses 37 mm behind the propeller" in done.stdout
    whole = hullcheck("step", TWINS, "--floats", "--all")
    assert "14 CFR 25.751(a)" in whole.stdout
    assert "not comparable: the sheet does not say where the tailplane is" in whole.stdout


def test_floats_of_a_hull_are_refused(hullcheck):
    """Without a main float there is nothing to hold against the rules for them."""
    done = hullcheck("step", *LOADED, "--floats")
    assert done.returncode == 1
    assert done.stdout == ""
    assert 'role "main float"' in done.stderr
    assert "(hull)" in done.stderr


def test_a_setup_moves_the_cg(hullcheck):
    """An hour's fuel at station 205 moves the CG forward, so the step lies further behind it."""
    as_she_is, fueled = (
        json.loads(hullcheck("step", TWINS, "--json", *more).stdout)
        for more in ((), ("--setup", "fuel for an hour"))
    )
    assert fueled["setup"] == "fuel for an hour"
    assert fueled["place"]["behind_cg_mm"] > as_she_is["place"]["behind_cg_mm"]
    assert fueled["step"]["station_mm"] == as_she_is["step"]["station_mm"]


def test_all_and_show(hullcheck):
    """--all prints every rule; --show prints in other units and leaves JSON alone."""
    everything = hullcheck("step", *LOADED, "--all").stdout
    assert "Positions tried side by side" in everything
    assert "Full size and towing tanks" in everything
    assert " in deep" in hullcheck("step", *LOADED, "--show", "oz,in").stdout
    plain = hullcheck("step", *LOADED, "--json").stdout
    assert hullcheck("step", *LOADED, "--json", "--show", "oz,in").stdout == plain


@pytest.mark.parametrize("suffix", [".svg", ".png", ".pdf"])
def test_drawing_is_written(hullcheck, tmp_path, suffix):
    """The drawing is written under its name, over an older one; standard output stays the text."""
    name = f"step{suffix}"
    for _ in range(2):
        done = hullcheck("step", *LOADED, "--drawing", name)
        assert done.returncode == 0
        assert f"Drawing written to {name}" in done.stderr
    assert (tmp_path / name).stat().st_size > 5_000


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        ((HULL,), 2, "mesh files need --mass G"),
        ((*LOADED, "--setup", "x"), 2, "--setup needs a build sheet"),
        ((*LOADED, "--json", "--csv"), 2, "choose one of them"),
        (("missing.stl", "--mass", "690"), 1, "missing.stl"),
        ((TWINS, "--setup", "no such"), 1, "there is no setup 'no such'"),
        ((*LOADED, "--drawing", "step.gif"), 2, "does not end in"),
    ],
)
def test_what_is_refused(hullcheck, arguments, code, words):
    """A wrong line or input is one clear line on standard error, nothing on standard output."""
    done = hullcheck("step", *arguments)
    assert (done.returncode, done.stdout) == (code, "")
    assert words in done.stderr
