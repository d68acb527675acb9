"""What was measured in the bath, as it is typed: readings at the marks, heels of an inclining."""

import difflib
import math
import re
from collections.abc import Callable, Iterator
from typing import Any, TypeVar

import click

from hullcheck.answers.bath_fit_records import Reading, ReadingSide
from hullcheck.answers.bath_readings import MarkPoint, Side
from hullcheck.answers.incline_records import Shift
from hullcheck.cli.options import NUMBER, entries
from hullcheck.errors import InputError

Decorated = TypeVar("Decorated", bound=Callable[..., Any])
Given = tuple[tuple[str, tuple[float | None, ...]], ...]
"""A name and its values: one, or port and starboard, None where one of them is left out."""

MEASURED_SAMPLE = '"bow 31.5/32.0, stern 12"'
INCLINE_SAMPLE = '"50@300:3.2, 50@-300:-3.0"'
_ENTRY = re.compile(
    r"(?P<name>.+?)[\s:=]+"
    r"(?:(?P<port>[^\s/:=]*)\s*/\s*(?P<starboard>[^\s/:=]*)|(?P<one>[^\s/:=]+))(?:\s*mm)?"
)
_LEFT_OUT = frozenset({"", "-", "–"})
_SHIFT = re.compile(r"(?P<grams>[^@:]+)@(?P<arm>[^@:]+):(?P<angle>[^@:]+)")


def measured_options(function: Decorated) -> Decorated:
    """Add what was measured in the bath, and how well."""
    return _readings_options(_incline_options(function))


def _incline_options(function: Decorated) -> Decorated:
    """Add the inclining."""
    for decorate in (
        click.option(
            "--protractor",
            type=NUMBER,
            metavar="DEG",
            help="How well one angle of --incline was read, in degrees; 0.2 unless given.",
        ),
        click.option(
            "--added-z",
            type=NUMBER,
            metavar="Z",
            help="The weights of --incline were put aboard on top of what floats, at this z in mm; "
            "without it they are part of it and were moved across.",
        ),
        click.option(
            "--incline",
            callback=_shifts,
            metavar="TEXT",
            help="Inclining: grams @ arm in mm from the center plane : heel in degrees, both "
            f"positive to starboard, several with commas between, such as {INCLINE_SAMPLE}.",
        ),
    ):
        function = decorate(function)
    return function


def _readings_options(function: Decorated) -> Decorated:
    """Add the readings at the marks, and the mass."""
    for decorate in (
        click.option(
            "--ruler",
            type=NUMBER,
            metavar="MM",
            help="How well one reading of --measured is known, in mm; 1 unless given.",
        ),
        click.option(
            "--scale",
            type=NUMBER,
            metavar="G",
            help="How well the mass of --weighed is known, in g; 1 unless given.",
        ),
        click.option(
            "--weighed",
            type=NUMBER,
            metavar="G",
            help="What all that floated in the bath weighed on a scale, dry, the bag too.",
        ),
        click.option(
            "--measured",
            callback=_measured,
            metavar="TEXT",
            help="Readings at the marks in mm, port/starboard or the mean of both, such as "
            f"{MEASURED_SAMPLE}.",
        ),
    ):
        function = decorate(function)
    return function


def readings_of(given: Given, marks: tuple[MarkPoint, ...]) -> tuple[Reading, ...]:
    """Return the readings at the marks they name.

    Parameters
    ----------
    given : tuple
        From --measured.
    marks : tuple of MarkPoint
        Hers.

    Raises
    ------
    InputError
        If she has no marks, a name is none of theirs, is given twice, or has a value too many.
    """
    if not marks:
        raise InputError(
            "--measured: the build sheet has no [[mark]]; add name and point_mm of each mark that "
            "was read"
        )
    found: list[Reading] = []
    for name, values in given:
        sides = {mark.side for mark in marks if mark.mark == name}
        if not sides:
            raise InputError(_unknown(name, marks))
        if any(one.mark == name for one in found):
            raise InputError(f"--measured: the mark {name!r} is given twice")
        found += _of_mark(name, values, sides)
    return tuple(found)


def _of_mark(
    name: str, values: tuple[float | None, ...], sides: set[Side]
) -> Iterator[Reading]:  # fmt: skip
    """Return the readings of one mark: of its sides, or the mean of both."""
    if len(values) == 1:
        side: ReadingSide = "both" if len(sides) == 2 else sides.pop()
        yield Reading(mark=name, side=side, distance_mm=float(values[0] or 0.0))
        return
    if len(sides) == 1:
        raise InputError(
            f"--measured: {name!r} is one mark, {sides.pop()}, with no twin: give one value"
        )
    port, starboard = values
    if port is not None:
        yield Reading(mark=name, side="port", distance_mm=port)
    if starboard is not None:
        yield Reading(mark=name, side="starboard", distance_mm=starboard)


def _unknown(name: str, marks: tuple[MarkPoint, ...]) -> str:
    """Return the refusal of a mark she does not have, with the nearest name."""
    names = tuple(dict.fromkeys(mark.mark for mark in marks))
    near = difflib.get_close_matches(name, names, n=1, cutoff=0.5)
    meant = f"; did you mean {near[0]!r}?" if near else "."
    return f"--measured: there is no mark {name!r}{meant} The build sheet has: {', '.join(names)}"


def _measured(ctx: click.Context, param: click.Parameter, value: str | None) -> Given | None:
    """Return names and values of a text such as "bow 31.5/32.0, stern 12"."""
    del ctx
    if value is None:
        return None
    given: list[tuple[str, tuple[float | None, ...]]] = []
    for entry in _entries(value, param, MEASURED_SAMPLE):
        parts = _ENTRY.fullmatch(entry)
        if parts is None:
            raise click.BadParameter(
                f"{entry!r} is not a mark and its reading, such as {MEASURED_SAMPLE}", param=param
            )
        texts = [parts["one"]] if parts["one"] else [parts["port"], parts["starboard"]]
        numbers = tuple(None if t in _LEFT_OUT else _number(t, entry, param) for t in texts)
        if not any(number is not None for number in numbers):
            raise click.BadParameter(f"{entry!r}: no reading is given", param=param)
        given.append((" ".join(parts["name"].split()), numbers))
    return tuple(given)


def _shifts(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[Shift, ...] | None:
    """Return the shifts of a text such as "50@300:3.2"."""
    del ctx
    if value is None:
        return None
    shifts = []
    for entry in _entries(value, param, INCLINE_SAMPLE):
        parts = _SHIFT.fullmatch(entry)
        if parts is None:
            raise click.BadParameter(
                f"{entry!r} is not grams @ arm : degrees, such as {INCLINE_SAMPLE}", param=param
            )
        grams, arm, angle = (_number(text.strip(), entry, param) for text in parts.groups())
        if grams < 0.0 or abs(angle) >= 90.0:
            raise click.BadParameter(
                f"{entry!r}: the grams must not be below 0, the angle lie between -90 and 90",
                param=param,
            )
        shifts.append(Shift(mass_g=grams, arm_mm=arm, heel_deg=angle))
    return tuple(shifts)


def _entries(value: str, param: click.Parameter, sample: str) -> list[str]:
    """Return the entries of a text, those that hold something; refused where none does."""
    found = [entry for entry in entries(value) if entry]
    if not found:
        raise click.BadParameter(f"nothing is given; write it as {sample}", param=param)
    return found


def _number(text: str, entry: str, param: click.Parameter) -> float:
    """Return a number, refused with the entry it stands in."""
    try:
        number = float(text.replace("−", "-"))
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise click.BadParameter(
            f"{entry!r}: {text!r} is not a number. With decimal commas write semicolons between "
            "the entries",
            param=param,
        )
    return number
