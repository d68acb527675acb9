"""Options of `hullcheck flood`: water aboard, what is open, angles, points, leaks."""

from collections.abc import Callable
from typing import Any, Final, TypeVar

import click
import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.flood_asked import Asked
from hullcheck.answers.time_afloat_leaks import Breach
from hullcheck.cli.options import NUMBER, entries, three_numbers
from hullcheck.errors import InputError
from hullcheck.flotation.leak_laws import Crack, Hole

Decorated = TypeVar("Decorated", bound=Callable[..., Any])
_HOLE: Final = 4
_CRACK: Final = 6


def flood_options(function: Decorated) -> Decorated:
    """Add what is asked of water inside."""
    return _inside_options(_angle_options(_leak_options(_swamped_options(function))))


def _swamped_options(function: Decorated) -> Decorated:
    """Add what is asked of her swamped."""
    for decorate in (
        click.option(
            "--foam-at",
            callback=_point,
            metavar="X,Y,Z",
            help="Where foam goes for --keep-dry, in mm; at the station of her CG unless given.",
        ),
        click.option(
            "--keep-dry",
            callback=_named,
            metavar='"NAME X,Y,Z"',
            help="Swamped: the foam that keeps this point, or equipment by name, out of the water.",
        ),
        click.option(
            "--sealed",
            multiple=True,
            metavar="NAME",
            help="Swamped: a compartment that stays closed; may be given again.",
        ),
    ):
        function = decorate(function)
    return function


def _leak_options(function: Decorated) -> Decorated:
    """Add a hole or a crack of given size."""
    for decorate in (
        click.option(
            "--crack",
            "cracks",
            multiple=True,
            callback=_cracks,
            metavar="X,Y,Z,W,L,T",
            help="A crack at a point, its opening, its length and the wall, in mm, for time "
            "afloat; may be given again.",
        ),
        click.option(
            "--hole",
            "holes",
            multiple=True,
            callback=_holes,
            metavar="X,Y,Z,D",
            help="A hole at a point and of a diameter, in mm, for time afloat, in place of the "
            "log's last test and the sheet's [[leak]]; may be given again.",
        ),
    ):
        function = decorate(function)
    return function


def _angle_options(function: Decorated) -> Decorated:
    """Add angle, points and grams."""
    for decorate in (
        click.option(
            "--bilge",
            multiple=True,
            callback=_bilge,
            metavar='"NAME X,Y,Z"',
            help="A point to tell the water's level at, or equipment by name; may be given again.",
        ),
        click.option(
            "--grams",
            callback=_grams,
            metavar="LIST",
            help="Water put in each compartment in turn, in g; 25,50,100 unless given.",
        ),
        click.option(
            "--nose-up",
            type=NUMBER,
            metavar="DEG",
            help="Angle at which water runs aft; her rotation on the step unless given, 8 where "
            "she has no step.",
        ),
    ):
        function = decorate(function)
    return function


def _inside_options(function: Decorated) -> Decorated:
    """Add water aboard and compartments that are open."""
    for decorate in (
        click.option(
            "--open",
            "opened",
            multiple=True,
            metavar="NAME",
            help="A compartment open to the sea; may be given again.",
        ),
        click.option(
            "--aboard",
            multiple=True,
            callback=_aboard,
            metavar='"NAME=G"',
            help='Water in a compartment, such as "hull 2=150"; may be given again.',
        ),
    ):
        function = decorate(function)
    return function


def asked_of(options: dict[str, Any]) -> Asked:
    """Return what the options ask for."""
    if options["foam_at"] is not None and options["keep_dry"] is None:
        raise click.UsageError("--foam-at goes with --keep-dry: which point is it to keep dry?")
    twice = [name for name in options["opened"] if name in options["aboard"]]
    if twice:
        raise click.UsageError(f"--aboard and --open both name {twice[0]}: choose one of them.")
    usual = Asked()
    return Asked(
        aboard=options["aboard"],
        opened=tuple(dict.fromkeys(options["opened"])),
        nose_up_deg=options["nose_up"],
        grams=options["grams"] or tuple(sorted(set(options["aboard"].values()))) or usual.grams,
        bilge=options["bilge"],
        breaches=(*options["holes"], *options["cracks"]),
        sealed=tuple(dict.fromkeys(options["sealed"])),
        keep_dry=options["keep_dry"],
        foam_mm=options["foam_at"],
    )


def _aboard(ctx: click.Context, param: click.Parameter, value: tuple[str, ...]) -> dict[str, float]:
    """Return grams by compartment."""
    del ctx
    found: dict[str, float] = {}
    for text in value:
        name, _, grams = text.rpartition("=")
        try:
            mass = float(grams)
        except ValueError as problem:
            raise click.BadParameter(
                f'{text!r} is not a compartment with grams, such as "hull 2=150"', param=param
            ) from problem
        if not name.strip() or not (np.isfinite(mass) and mass >= 0.0):
            raise click.BadParameter(
                f'{text!r} is not a compartment with grams of 0 or more, such as "hull 2=150"',
                param=param,
            )
        if name.strip() in found:
            raise click.BadParameter(f"{name.strip()!r} is given twice", param=param)
        found[name.strip()] = mass
    return {name: mass for name, mass in found.items() if mass > 0.0}


def _grams(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[float, ...] | None:
    """Return the grams of a list."""
    del ctx
    if value is None:
        return None
    try:
        grams = tuple(sorted({float(part) for part in entries(value)}))
    except ValueError as problem:
        raise click.BadParameter(
            f"{value!r} is not grams such as 25,50,100", param=param
        ) from problem
    if not all(np.isfinite(one) and one > 0.0 for one in grams):
        raise click.BadParameter(f"{value!r}: every mass must be above 0 g", param=param)
    return grams


def _point(ctx: click.Context, param: click.Parameter, value: str | None) -> Point | None:
    """Return X,Y,Z as a point."""
    del ctx
    return None if value is None else three_numbers(value, param, sample="255,0,60")


def _named(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[str, Point | None] | None:
    """Return a name with its point, or without one the name of equipment."""
    del ctx
    if value is None:
        return None
    name, _, last = value.strip().rpartition(" ")
    if "," not in last or not name.strip():
        return value.strip(), None
    return name.strip(), three_numbers(last, param, sample="180,0,22")


def _bilge(
    ctx: click.Context, param: click.Parameter, value: tuple[str, ...]
) -> tuple[tuple[str, Point | None], ...]:
    """Return names with their points."""
    return tuple(one for text in value if (one := _named(ctx, param, text)) is not None)


def _holes(
    ctx: click.Context, param: click.Parameter, value: tuple[str, ...]
) -> tuple[Breach, ...]:
    """Return holes of given size."""
    del ctx
    found = []
    for text in value:
        x, y, z, diameter = _numbers(text, param, count=_HOLE, sample="262,10,-8,0.5")
        try:
            flow = Hole(diameter_mm=diameter)
        except InputError as problem:
            raise click.BadParameter(str(problem), param=param) from problem
        found.append(
            Breach(
                name=f"hole at station {x:g}",
                what=f"of {diameter:g} mm",
                lines_mm=(np.array([[x, y, z]]),),
                flow=flow,
            )
        )
    return tuple(found)


def _cracks(
    ctx: click.Context, param: click.Parameter, value: tuple[str, ...]
) -> tuple[Breach, ...]:
    """Return cracks of given size."""
    del ctx
    found = []
    for text in value:
        numbers = _numbers(text, param, count=_CRACK, sample="262,10,-8,0.05,100,1")
        x, y, z, width, length, wall = numbers
        try:
            flow = Crack(width_mm=width, length_mm=length, wall_mm=wall)
        except InputError as problem:
            raise click.BadParameter(str(problem), param=param) from problem
        found.append(
            Breach(
                name=f"crack at station {x:g}",
                what=f"of {width:g} × {length:g} mm",
                lines_mm=(np.array([[x, y, z]]),),
                flow=flow,
            )
        )
    return tuple(found)


def _numbers(text: str, param: click.Parameter, *, count: int, sample: str) -> list[float]:
    """Return so many numbers between commas."""
    try:
        numbers = [float(part) for part in entries(text)]
    except ValueError:
        numbers = []
    if len(numbers) != count or not np.isfinite(numbers).all():
        raise click.BadParameter(
            f"{text!r} is not {count} numbers between commas, such as {sample}", param=param
        )
    return numbers
