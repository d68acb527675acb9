"""What is wrong with a key of a build sheet, in words."""

import difflib
import math
import re
import tomllib
from collections.abc import Sequence
from typing import Any, Final

from hullcheck.files.guard import shown
from hullcheck.files.toml_lines import Path as KeyPath


def problem_words(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Return what is wrong with a key, from what pydantic found."""
    return str(_WORDS.get(problem["type"], _other)(key, problem))


def key_text(key: KeyPath) -> str:
    """Return a key path as it is printed, lists counted from 1: "body[2].parts[1].file"."""
    text = ""
    for step in key:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            text += ("." if text else "") + (step if _BARE.fullmatch(step) else value_text(step))
    return text


def syntax_words(text: str, problem: tomllib.TOMLDecodeError) -> str:
    """Return where a document is no TOML and what is wrong there, with a hint where it is plain."""
    words, _, where = str(problem).partition(" (at ")
    words = next((ours for theirs, ours in _SYNTAX if theirs in words), _lowered(words))
    found = re.match(r"line (\d+)", where)
    line = int(found[1]) if found else text.rstrip("\n").count("\n") + 1
    if "\0" in text:
        return f"line {line}: is not UTF-8 text; save the build sheet as UTF-8 from a text editor"
    written = text.split("\n")[line - 1].strip()
    value = written.partition("=")[2].strip()
    hint = next((hint for sign, hint in _HINTS if re.match(sign, value)), "")
    shown_line = f": {shown(written, 60)}" if written else ""
    return f"line {line} is no TOML{shown_line} ({words}){hint}"


def nearest(word: str, known: Sequence[str]) -> str:
    """Return a hint at the nearest of the known words, "" where none is near."""
    lower = {one.lower(): one for one in known}
    close = difflib.get_close_matches(word.lower(), list(lower), n=1, cutoff=0.5)
    if not close:
        # A name without its unit, or one with another, is near whatever its length.
        close = [one for one in lower if one.split("_")[0] == word.lower().split("_")[0]][:1]
    return f"did you mean {lower[close[0]]}?" if close else ""


def value_text(what: Any) -> str:  # noqa: ANN401 - any value of a document
    """Return a value as TOML writes it, short."""
    if isinstance(what, bool):
        return "true" if what else "false"
    if isinstance(what, str):
        return f'"{shown(what)[1:-1]}"'
    if isinstance(what, dict):
        return "{…}" if what else "{}"
    if isinstance(what, list):
        # One level only: lists may lie in each other as deep as the reader goes.
        inner = ("[…]" if isinstance(one, list) and one else value_text(one) for one in what[:12])
        text = f"[{', '.join(inner)}{', …' if len(what) > 12 else ''}]"
    elif isinstance(what, int) and abs(what) >= 10**40:
        return "a number of over 40 digits"
    else:
        text = str(what)
    return text if len(text) <= 40 else f"{text[:40]}…"


def _unknown(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Say that a key is not known, and which are."""
    from hullcheck.files.sheet_model import SheetKeys
    from hullcheck.files.sheet_types import keys_at

    del problem
    known = keys_at(SheetKeys, key[:-1])
    hint = nearest(str(key[-1]), known)
    return f"there is no such key; {hint or 'keys here are: ' + ', '.join(known)}"


def _missing(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Say that a key is needed."""
    del problem
    if key == ("body",):
        return "is needed; write [[body]] and below it her name, role and parts"
    return f"is needed; write {'[craft]' if key == ('craft',) else f'{key[-1]} = …'} there"


def _choice(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Say which words may stand there."""
    del key
    expected = problem["ctx"]["expected"].replace("'", '"')
    said = f"{value_text(problem['input'])} is not one of {expected}"
    # Of "+x" and "-x" none is nearer to "x", and the wrong one turns her about.
    if isinstance(problem["input"], str) and len(problem["input"]) > 2:
        hint = nearest(
            problem["input"], expected.replace(" or ", ", ").replace('"', "").split(", ")
        )
        return f"{said}; {hint}" if hint else said
    return said


def _typed(wanted: str) -> Any:  # noqa: ANN401 - a function of two
    """Return what says that another type is wanted."""

    def say(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
        """Say that another type is wanted."""
        del key
        return f"{value_text(problem['input'])} is not {wanted}"

    return say


def _length(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Say how many there must be."""
    del key
    context = problem["ctx"]
    count = context.get("min_length", context.get("max_length"))
    few = "at least" if problem["type"] == "too_short" else "at most"
    said = (
        f"{value_text(problem['input'])} holds {context['actual_length']}, and needs {few} {count}"
    )
    numbers = all(isinstance(one, int | float) for one in problem["input"])
    return (
        f"{said}; a decimal comma parts numbers: write 1.5"
        if numbers and few == "at most"
        else said
    )


def _range(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Say what range a number must lie in."""
    del key
    words = {"gt": "above", "ge": "at least", "lt": "below", "le": "at most"}
    (name, limit), *_ = problem["ctx"].items()
    if math.isnan(problem["input"]):
        return "nan is not a finite number"
    return f"{value_text(problem['input'])} must be {words[name]} {limit:.15g}"


def _listed(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Say that a list is wanted."""
    if len(key) == 1 and isinstance(problem["input"], dict):
        return f"is one of several; write it in double brackets: [[{key[0]}]]"
    if len(key) == 1:
        return (
            f"{value_text(problem['input'])} is not a table; write [[{key[0]}]] and its keys below"
        )
    said = f"{value_text(problem['input'])} is not a list in brackets, […]"
    if len(key) > 1 and isinstance(key[-1], int) and isinstance(problem["input"], int | float):
        return f"{said}; points stand in brackets of their own: [[x, y, z], …]"
    return said


def _table(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Say that a table is wanted."""
    if len(key) == 1 and isinstance(problem["input"], list):
        return f"stands once; write it in single brackets: [{key[0]}]"
    if "parts" in key or key[-1] == "offsets":
        return f"{value_text(problem['input'])} is neither a file name nor a table of keys"
    return f"{value_text(problem['input'])} is not a table of keys"


def _patterned(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Say that a text holds signs that it cannot."""
    if key[-1] == "file":
        # In "parts\\nose.stl" a backslash and an n are a line break.
        held = f"{value_text(problem['input'])} holds a control character"
        return f"{held}; write paths with / or in 'single quotes'"
    return f"{value_text(problem['input'])} is not a text on one line, without blanks around it"


def _other(key: KeyPath, problem: Any) -> str:  # noqa: ANN401 - pydantic's details
    """Say that a value cannot stand there."""
    del key
    return f"{value_text(problem['input'])} cannot stand there"


def _lowered(words: str) -> str:
    """Return words with a small first letter, to stand within a sentence."""
    return words[:1].lower() + words[1:]


_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")
_SYNTAX: Final = (
    ("Cannot declare", "it stands there twice: one of several has double brackets, [[…]]"),
    ("Cannot overwrite", "the key stands there twice"),
    ("Cannot mutate immutable", "the key is another table's already"),
)
_HINTS: Final = (
    (r"[“”‘’„«»]", '; quotes are straight: "…"'),
    (r"[-+]?\d+,\d+\s*(#|$)", "; numbers take a decimal point: 1.5, not 1,5"),
    (r"(True|False|TRUE|FALSE|yes|no|on|off)\b", "; write true or false"),
    (r"[-+]?(\.\d|\d+\.(\D|$))", "; a decimal point stands between digits: 0.5, 5.0"),
    (r"\"[^\"\\]*$|'[^']*$", "; the quote is not closed"),
    (r"\"[^\"]*\\", "; write paths with / or in 'single quotes'"),
    (r"[^\W\d]", '; text stands in quotes: "…"'),
)
_NUMBER = _typed("a number")
_WORDS: Final = {
    "extra_forbidden": _unknown,
    "missing": _missing,
    "literal_error": _choice,
    "string_type": _typed('text in quotes, "…"'),
    "float_type": _NUMBER,
    "float_parsing": _NUMBER,
    "finite_number": _typed("a finite number"),
    "bool_type": _typed("true or false"),
    "list_type": _listed,
    "mapping_type": _table,
    "dict_type": _table,
    "model_type": _table,
    "too_short": _length,
    "too_long": _length,
    "string_too_short": _typed("a name or a text; write one"),
    "string_too_long": _typed("short enough"),
    "string_pattern_mismatch": _patterned,
    "greater_than": _range,
    "greater_than_equal": _range,
    "less_than": _range,
    "less_than_equal": _range,
}
