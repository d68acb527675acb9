"""A sheet with each key wrong in turn: one clear line each, walked over the whole schema."""

import copy
import math
import re
from types import NoneType
from typing import Literal, get_args, get_origin

import pytest
from annotated_types import Ge, Gt, Le, Lt, MaxLen, MinLen
from full_sheet import FULL, Page, printed
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from hullcheck.errors import HullcheckError, InputError
from hullcheck.files.sheet import read_sheet
from hullcheck.files.sheet_model import SheetKeys


def model_in(hint):
    """Return the table class inside an annotation, or None."""
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        return hint
    return next((found for one in get_args(hint) if (found := model_in(one))), None)


def keys_of(model=SheetKeys, value=FULL, path=()):
    """Yield every key path of the schema with its field, into the last table of each list."""
    for name, field in model.model_fields.items():
        here = (*path, name)
        yield here, field
        inner = model_in(field.annotation)
        if inner is not None:
            below = value[name]
            many = isinstance(below, list)
            more = (*here, len(below) - 1) if many else here
            yield from keys_of(inner, below[-1] if many else below, more)


def values_of(value, path=()):
    """Yield every path of a document with its value, lists' elements too."""
    if path:
        yield path, value
    pairs = value.items() if isinstance(value, dict) else ()
    for step, inner in enumerate(value) if isinstance(value, list) else pairs:
        yield from values_of(inner, (*path, step))


def changed(path, value):
    """Return the full sheet with a value changed, or taken out where it is None."""
    document = copy.deepcopy(FULL)
    table = document
    for step in path[:-1]:
        table = table[step]
    if value is None:
        del table[path[-1]]
    else:
        table[path[-1]] = value
    return document


def metadata(hint, field=None):
    """Return all bounds in an annotation that stand for the value itself, and its bare type."""
    found = list(field.metadata) if field is not None else []
    inner = [one for one in get_args(hint) if one is not NoneType]
    if NoneType in get_args(hint):
        more, hint = metadata(inner[0])
        return [*found, *more], hint
    for one in getattr(hint, "__metadata__", ()):
        found += one.metadata if isinstance(one, FieldInfo) else [one]
    if hasattr(hint, "__metadata__"):
        more, hint = metadata(hint.__origin__)
        found += more
    return found, hint


def impossible(field, value):
    """Yield values of the right type that a key cannot have, by its bounds, with what is said."""
    bounds, hint = metadata(field.annotation, field)
    if get_origin(hint) is Literal:
        choices = ".*".join(re.escape(f'"{word}"') for word in get_args(hint))
        yield "nonesuch", f'"nonesuch" is not one of {choices}'
    for bound in bounds:
        if isinstance(bound, Gt):
            yield bound.gt, rf"{bound.gt} must be above {bound.gt:g}"
        if isinstance(bound, Ge):
            low = bound.ge - 0.5
            yield low, rf"{low} must be at least {re.escape(f'{bound.ge:.0f}')}"
        if isinstance(bound, Le):
            high = bound.le * 2.0
            yield high, rf"{re.escape(str(high))} must be at most {bound.le:.0f}"
        assert not isinstance(bound, Lt)
        if isinstance(bound, MinLen) and isinstance(value, list):
            short = value[: bound.min_length - 1]
            yield short, rf"holds {len(short)}, and needs at least {bound.min_length}"
        if isinstance(bound, MaxLen) and isinstance(value, list):
            long = [value[0]] * (bound.max_length + 1)
            yield long, rf"holds {len(long)}, and needs at most {bound.max_length}"
        if isinstance(bound, MaxLen) and isinstance(value, str):
            yield "x" * (bound.max_length + 1), r'"x{40}…" is not short enough'
        if isinstance(bound, MinLen) and isinstance(value, str):
            yield "", r'"" is not a name or a text'
        if getattr(bound, "pattern", None):
            yield (
                "a\tb",
                r'"a\?b" (is not a text on one line|holds a control character; write paths)',
            )
    if hint is float:
        yield math.nan, r"nan is not a finite number"
        yield math.inf, r"inf (must be at most|is not a finite number)"


def wrong_type(value):
    """Return a value of another type, and what is said of it."""
    if isinstance(value, str):
        return 7.5, r"7\.5 is (not (text in quotes|one of)|neither a file name nor a table)"
    if isinstance(value, bool):
        return "yes", r'"yes" is not true or false'
    if isinstance(value, int | float):
        return "much", r'"much" is not a number'
    if isinstance(value, list):
        return 7.5, r"7\.5 is not (a list in brackets|a table; write \[\[\w+\]\])"
    return 7.5, r"7\.5 is (not a table of keys|neither a file name nor a table of keys)"


def wrongs():
    """Yield (path, value, what is said) of every impossible value in the schema."""
    for path, field in keys_of():
        value = FULL
        for step in path:
            value = value[step]
        for bad, said in impossible(field, value):
            yield path, bad, said


def ids(value):
    """Return what a test is called after."""
    return printed(value) if isinstance(value, tuple) else None


def refusal(folder, document):
    """Return the one line said of a document, its file's name replaced, and the writer's page."""
    page = Page(document)
    path = folder / "build.toml"
    path.write_text(page.text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_sheet(path)
    message = str(caught.value)
    assert isinstance(caught.value, HullcheckError)
    assert message.isprintable()
    assert not re.search(r"pydantic|Input should|validation|error|Keys\b|\bdict", message)
    assert message.startswith(str(path))
    return message.replace(str(path), "build.toml"), page


ALL = dict(values_of(FULL))
KEYS = [path for path, _ in keys_of()]
NEEDED = [path for path, field in keys_of() if field.is_required()]
NUMBERS = [p for p, v in ALL.items() if isinstance(p[-1], int) and isinstance(v, int | float)]
BY_NAME = ("add", "move", "openings")
TABLES = [p for p, v in ALL.items() if isinstance(v, dict) and p[-1] not in BY_NAME]


def test_the_full_sheet_has_every_key_and_is_read(tmp_path):
    """The sheet the others are made from holds every key of the schema, and nothing is refused."""
    assert len(KEYS) > 90
    assert set(KEYS) <= set(ALL)
    page = Page(FULL)
    path = tmp_path / "build.toml"
    path.write_text(page.text, encoding="utf-8")
    sheet = read_sheet(path)
    assert sheet.keys.body[1].bulkheads[1].limber_mm == 4.0
    assert sheet.keys.body[0].parts[0].file == "hull.stl"
    assert sheet.lines == page.lines


@pytest.mark.parametrize("path", ALL, ids=printed)
def test_a_wrong_type_is_one_clear_line(tmp_path, path):
    """Each value of another type: file, line, key, value and what is wanted."""
    bad, said = wrong_type(ALL[path])
    message, page = refusal(tmp_path, changed(path, bad))
    key = printed(path)
    assert message.startswith(f"build.toml line {page.lines[path]}, {key}")
    assert re.fullmatch(rf"build\.toml line \d+, {re.escape(key)}(\.file)?: {said}.*", message)


@pytest.mark.parametrize(("path", "bad", "said"), list(wrongs()), ids=ids)
def test_an_impossible_value_is_one_clear_line(tmp_path, path, bad, said):
    """Each value out of bounds, no word of the list, of another length: with value and limit."""
    message, page = refusal(tmp_path, changed(path, bad))
    where = f"build.toml line {page.lines[path]}, {printed(path)}"
    assert re.fullmatch(rf"{re.escape(where)}: .*{said}.*", message)


@pytest.mark.parametrize("path", NUMBERS, ids=printed)
def test_an_impossible_number_in_a_list_is_one_clear_line(tmp_path, path):
    """Each coordinate and angle of a list that is no finite number: the element is named."""
    message, page = refusal(tmp_path, changed(path, math.nan))
    where = f"build.toml line {page.lines[path]}, {printed(path)}"
    assert message == f"{where}: nan is not a finite number"


@pytest.mark.parametrize(
    ("path", "bad", "said"),
    [
        (("craft", "cg_mm", 0), 2e6, r"2000000\.0 must be at most 1000000"),
        (("opening", 1, "points_mm", 1, 2), -2e6, r"-2000000\.0 must be at least -1000000"),
        (("body", 1, "parts", 1, "turn_deg", 2), -361, r"-361 must be at least -360"),
        (("body", 1, "parts", 1, "turn_deg", 0), 361, r"361 must be at most 360"),
        (("limits", "trim_deg", 0), -91, r"-91 must be at least -90"),
        (("setup", 1, "move", "battery", 1), 2e6, r"2000000\.0 must be at most 1000000"),
        (("setup", 1, "add", "battery"), math.inf, r"inf is not a finite number"),
        (("body", 1, "parts", 1, "place", 3, 3), math.inf, r"inf is not a finite number"),
    ],
    ids=ids,
)
def test_a_number_in_a_list_out_of_bounds_is_one_clear_line(tmp_path, path, bad, said):
    """Coordinates beyond a kilometer, turns beyond a whole one, trims beyond upright."""
    message, page = refusal(tmp_path, changed(path, bad))
    where = f"build.toml line {page.lines[path]}, {printed(path)}"
    assert re.fullmatch(rf"{re.escape(where)}: {said}", message)


@pytest.mark.parametrize("path", KEYS, ids=printed)
def test_a_misspelt_key_is_told_the_nearest_right_one(tmp_path, path):
    """Each key with a letter too many, in its own line: refused with the right key."""
    *table, key = path
    wrong = (*table, key + key[-1])
    document = changed(path, None)
    inner = document
    for step in table:
        inner = inner[step]
    inner[wrong[-1]] = ALL[path]
    message, page = refusal(tmp_path, document)
    where = f"build.toml line {page.lines[wrong]}, {printed(wrong)}"
    more = " (1 more after it)" if path in NEEDED else ""
    assert message == f"{where}: there is no such key; did you mean {key}?{more}"


@pytest.mark.parametrize("path", TABLES, ids=printed)
def test_a_key_like_no_other_is_told_which_there_are(tmp_path, path):
    """A key that is near none, in every table: all keys of that table are listed."""
    message, page = refusal(tmp_path, changed((*path, "zzz9"), 1))
    where = f"build.toml line {page.lines[(*path, 'zzz9')]}, {printed(path)}.zzz9"
    assert message.startswith(f"{where}: there is no such key; keys here are: ")
    assert all(str(key) in message for key in ALL[path])


@pytest.mark.parametrize("path", NEEDED, ids=printed)
def test_a_missing_key_is_one_clear_line(tmp_path, path):
    """Each key that must be there, left out: the line of its table, and what to write."""
    message, page = refusal(tmp_path, changed(path, None))
    line = f" line {page.lines[path[:-1]]}" if len(path) > 1 else ""
    assert message.startswith(f"build.toml{line}, {printed(path)}: is needed; write ")
    assert path[-1] in message.partition("; write ")[2]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[body]\nname = 'a'", r"line 1, body: is one of several; .*: \[\[body\]\]"),
        ("[[craft]]\nname = 'a'", r"line 1, craft: stands once; .*brackets: \[craft\]"),
        ("[craft]\nname = 'a'\nnmae = 'b'", r"line 3, craft\.nmae: .* did you mean name\?"),
        ("craft.mass_kg = 1", r"line 1, craft\.mass_kg: there is no such key; did you mean mass_g"),
        ("axes.forward = 'x'", r'"x" is not one of "\+x", "-x", "\+y", "-y", "\+z" or "-z" \(2'),
        ("axes.unit = 'milimeter'", r'"milimeter" is not one of "mm", "cm", "m" or "inch"'),
        ('craft.name = "bob\'s\\n"', r'"bob\'s\?" is not a text on one line'),
        ("craft.name = 'a\tb'", r'"a\?b" is not a text on one line'),
        ("craft.name = ' a'", r'" a" is not a text on one line, without blanks around it'),
        ("craft.mass_g = 0x" + "f" * 9000, r"a number of over 40 digits is not a number"),
        ("craft.mass_g = 2021-02-03", r"2021-02-03 is not a number"),
        ("craft.mass_g = true", r"craft\.mass_g: true is not a number"),
        ('"a\\nb" = 1', r'line 1, "a\?b": there is no such key; keys here are: craft, water'),
        (
            "craft.cg_mm = [[[[1]]], 'a', {b = 1}, {}]",
            r'\[\[…\], "a", {…}, {}\] holds 4, and needs',
        ),
        ("craft.cg_mm = [" + "1, " * 99 + "]", r"\[1, 1, .*…\] holds 99, and needs at most 3"),
    ],
)
def test_slips_a_newcomer_makes(tmp_path, text, said):
    """Single for double brackets, kilograms, names over lines: told in one line each."""
    path = tmp_path / "build.toml"
    path.write_text(text)
    with pytest.raises(InputError, match=said) as caught:
        read_sheet(path)
    assert str(caught.value).isprintable()


def test_the_first_of_several_faults_is_told_and_the_rest_counted(tmp_path):
    """Three faults: the first in the file, whatever the schema's order, and two more after it."""
    path = tmp_path / "build.toml"
    path.write_text(
        '[[body]]\nname = "a"\nrole = 5\nparts = []\n[craft]\nname = "x"\nmass_g = "y"\n'
    )
    with pytest.raises(InputError, match=r"line 3, body\[1\]\.role: .*\(2 more after it\)$"):
        read_sheet(path)
