"""What is written down about the commands is what they are."""

import re
import shutil
import tomllib
from pathlib import Path

import click
import jsonschema
import pytest
from schema_keys import assert_describes, keys_in, keys_of

import hullcheck as hullcheck_package
from hullcheck.answers import float_records, setups_answer
from hullcheck.cli.main import cli
from hullcheck.files.demo import write_demo
from hullcheck.files.ledger_file import LEDGER_COLUMNS
from hullcheck.files.offsets_file import OFFSETS_COLUMNS
from hullcheck.files.sheet_model import SheetKeys
from hullcheck.files.sheet_types import _keys_in as _keys_in_hint
from hullcheck.report.as_json import schema

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def _commands():
    """Return every command by name."""
    context = click.Context(cli)
    return {name: cli.get_command(context, name) for name in cli.list_commands(context)}


def test_every_command_has_help_and_stands_in_the_readme():
    """Each command says what it is for and is named in the README."""
    for name, command in _commands().items():
        assert command is not None
        assert command.help, name
        assert f"hullcheck {name}" in README, name


def test_every_option_has_help_and_stands_in_the_readme():
    """Each option says what it does and is named in the README."""
    for name, command in _commands().items():
        for option in command.params:
            if isinstance(option, click.Option):
                assert option.help, (name, option.name)
                assert f"`{option.opts[0]}" in README, (name, option.opts[0])


def test_readme_names_no_option_that_is_not_there():
    """An option in the README's option table exists."""
    known = {
        text
        for command in _commands().values()
        for option in command.params
        for text in option.opts
    }
    listed = re.findall(r"^\| `(--[a-z-]+)", README, flags=re.MULTILINE)
    assert listed
    assert set(listed) <= known


def test_schema_of_float_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("float"), float_records.FloatAnswer, or_one_of=True)


def test_schema_of_all_setups_holds_the_answers_schema():
    """Its keys are the record's, and each answer in it is what float alone prints."""
    document, one = schema("float-setups"), schema("float")
    jsonschema.Draft202012Validator.check_schema(document)
    assert keys_in(document, document["$defs"]) == keys_of(setups_answer.SetupsAnswer)
    inner = document["$defs"].pop("float")
    assert document["$defs"] == one["$defs"]
    assert inner == {k: v for k, v in one.items() if k not in {"$schema", "$id", "$defs"}}


def _sheet_in_the_readme():
    """Return the README's build sheet."""
    return README.split("### The build sheet", 1)[1].split("```toml\n", 1)[1].split("```", 1)[0]


def _sheet_keys(model):
    """Return every key of a sheet's table with those of the tables in it."""
    keys = set()
    for name, field in model.model_fields.items():
        keys.add(name)
        inner = _keys_in_hint(field.annotation)
        keys |= set() if inner is None else _sheet_keys(inner)
    return keys


def test_readme_sheet_has_every_key_and_no_other():
    """Each key of the schema stands in the README's sheet, and each key there is in the schema."""
    sheet = _sheet_in_the_readme()
    known = _sheet_keys(SheetKeys)
    assert {key for key in known if not re.search(rf"\b{key}\b", sheet)} == set()
    SheetKeys.model_validate(tomllib.loads(sheet))
    commented = sheet.replace("# mass_g", "mass_g").replace("# cg_mm", "cg_mm")
    SheetKeys.model_validate(tomllib.loads(commented))


def test_readme_sheet_loads(tmp_path):
    """The README's sheet, its files beside it, is a build that floats in its setup."""
    write_demo(tmp_path)
    (tmp_path / "build.toml").unlink()
    shutil.copy(ROOT / "examples" / "twin-floats" / "float.csv", tmp_path / "float.csv")
    (tmp_path / "build.toml").write_text(_sheet_in_the_readme(), encoding="utf-8")
    build = hullcheck_package.load(tmp_path)
    assert [body.name for body in build.bodies] == [
        "hull",
        "starboard tip float",
        "port tip float",
        "old float",
    ]
    assert [code for code, _ in build.notes if code == "lids-idle"] == []
    assert {patch.name: patch.kind for patch in build.skins[0].patches}["motor pylon"] == "lid"
    assert build.craft("heavy battery, sea, hatch open").water.kind == "sea"


def test_readme_names_the_columns_of_ledger_and_offsets():
    """The columns the readers know stand in the README, in their order."""
    listed = re.findall(r"`(\w+)`", README.split("| column |", 1)[1].split("### ", 1)[0])
    assert [name for name in listed if name in LEDGER_COLUMNS] == list(LEDGER_COLUMNS)
    assert f"`{','.join(OFFSETS_COLUMNS)}`" in README


@pytest.mark.parametrize("heading", ["Run it", "Test it"])
def test_readme_has_one_command_line_under_each_heading(heading):
    """The two commands of the README are one fenced line each."""
    section = README.split(f"## {heading}\n", 1)[1].split("\n## ", 1)[0]
    blocks = re.findall(r"```[a-z]*\n(.*?)```", section, flags=re.DOTALL)
    assert len(blocks) == 1
    assert len(blocks[0].strip().splitlines()) == 1
