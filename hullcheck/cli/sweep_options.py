"""Options of `hullcheck sweep`: masses, the place of an item, waters."""

from collections.abc import Callable
from typing import Any, Final, TypeVar

import click

from hullcheck.answers.sweep_loads import values_between
from hullcheck.answers.sweep_records import Axis
from hullcheck.cli.options import load_options
from hullcheck.errors import InputError
from hullcheck.water import Water, fresh_water, sea_water, water_of_density

Decorated = TypeVar("Decorated", bound=Callable[..., Any])
Values = tuple[float, ...]

_AXES: Final[tuple[Axis, ...]] = ("x", "y", "z")
_WATERS: Final = "fresh, sea, fresh@4, sea@0:30:5 (°C), 1010 or 995:1030:5 (kg/m³)"


def sweep_options(function: Decorated) -> Decorated:
    """Add what is swept over, and the CG."""
    for axis, way in (("z", "height"), ("y", "place across, to starboard"), ("x", "station")):
        function = click.option(
            f"--{axis}",
            callback=_range,
            metavar="A:B:STEP",
            help=f"Range of the item's {way} in mm, such as 60:140:5; with --item.",
        )(function)
    for decorate in (
        click.option(
            "--waters",
            callback=_waters,
            metavar="LIST",
            help=f"Sweep over waters, between commas: {_WATERS}.",
        ),
        click.option(
            "--item", metavar="NAME", help="Sweep over the place of this item of the ledger."
        ),
    ):
        function = decorate(function)
    return function


def mass_options(function: Decorated) -> Decorated:
    """Add the CG, and the masses to sweep over or the one that overrules hers."""
    function = load_options(function)
    # The shared --mass takes one number; here it is a range as well.
    shared: list[click.Parameter] = getattr(function, "__click_params__", [])
    shared[:] = [param for param in shared if param.name != "mass"]
    return click.option(
        "--mass",
        callback=_mass,
        metavar="A:B:STEP",
        help="Masses to sweep over in g, such as 600:900:25; from half of hers to a bit beyond the "
        "first limit unless given. A single mass stands in for the ledger's.",
    )(function)


def along(options: dict[str, Any]) -> tuple[Axis, Values] | None:
    """Return the axis and the values an item is moved over; None without an item."""
    given = [axis for axis in _AXES if options[axis] is not None]
    if options["item"] is None:
        if given:
            raise click.UsageError(f"--{given[0]} goes with --item NAME: what is moved there?")
        return None
    if len(given) != 1:
        raise click.UsageError(
            "--item needs one of --x, --y and --z with a range such as --x 60:140:5."
        )
    return given[0], options[given[0]]


def _mass(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[float | None, Values | None]:
    """Return the single mass that is given, or the masses of a range."""
    if value is None:
        return None, None
    if ":" in value:
        return None, _range(ctx, param, value)
    try:
        return float(value), None
    except ValueError as problem:
        raise click.BadParameter(
            f"{value!r} is neither a mass in g nor a range such as 600:900:25", param=param
        ) from problem


def _range(ctx: click.Context, param: click.Parameter, value: str | None) -> Values | None:
    """Return the values of a range "from:to:step"."""
    del ctx
    if value is None:
        return None
    try:
        start, stop, step = (float(part) for part in value.split(":"))
    except ValueError as problem:
        raise click.BadParameter(
            f"{value!r} is not a range from:to:step such as 60:140:5", param=param
        ) from problem
    try:
        return values_between(start, stop, step)
    except InputError as problem:
        raise click.BadParameter(str(problem), param=param) from problem


def _waters(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[tuple[str, Values | None], ...] | None:
    """Return kinds and temperatures, or densities, of the waters between commas."""
    if value is None:
        return None
    found: list[tuple[str, Values | None]] = []
    for part in (one.strip() for one in value.split(",")):
        kind, at, numbers = part.partition("@")
        if kind in {"fresh", "sea"}:
            found.append((kind, _numbers(ctx, param, numbers) if at else None))
        else:
            found.append(("given", _numbers(ctx, param, part)))
    return tuple(found)


def _numbers(ctx: click.Context, param: click.Parameter, text: str) -> Values:
    """Return a single number or those of a range."""
    if ":" in text:
        return _range(ctx, param, text) or ()
    try:
        return (float(text),)
    except ValueError as problem:
        raise click.BadParameter(f"{text!r} is no water: {_WATERS}", param=param) from problem


def waters_of(asked: tuple[tuple[str, Values | None], ...], temperature_c: float) -> list[Water]:
    """Return the waters asked for, at a temperature where none is said.

    Raises
    ------
    InputError
        If a temperature or a density is none that water has.
    """
    makers = {"fresh": fresh_water, "sea": sea_water}
    waters: list[Water] = []
    for kind, numbers in asked:
        if kind == "given":
            waters += [water_of_density(value) for value in numbers or ()]
            continue
        degrees = (temperature_c,) if numbers is None else numbers
        waters += [makers[kind](temperature_c=value) for value in degrees]
    return waters
