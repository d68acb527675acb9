"""Options of `hullcheck righting`: heels, and what upsets her."""

from collections.abc import Callable
from typing import Any, Final, TypeVar

import click

from hullcheck.answers.upset_loads import Loads
from hullcheck.cli.options import NUMBER
from hullcheck.flotation.upsetting import DRAG_COEFFICIENT

Decorated = TypeVar("Decorated", bound=Callable[..., Any])
_MOST_HEELS: Final = 3601


def heels_option(function: Decorated) -> Decorated:
    """Add the heels of the curve."""
    return click.option(
        "--heels",
        callback=_heels,
        metavar="LIST",
        help="Heels of the curve in degrees: 5,10,20 or -90:180:5 (from, to, step); "
        "-180:180:5 unless given.",
    )(function)


def upset_options(function: Decorated) -> Decorated:
    """Add what upsets her."""
    for decorate in (
        click.option(
            "--turn", callback=_pair, metavar="M/S,M", help="A flat turn: its speed and its radius."
        ),
        click.option(
            "--wet-wing",
            type=NUMBER,
            metavar="G",
            help="Grams of water in the starboard half of the wing, at its middle.",
        ),
        click.option(
            "--off-center",
            callback=_pair,
            metavar="G,MM",
            help="A mass aboard that lies so far to starboard (port: below 0) of its place.",
        ),
        click.option(
            "--drag",
            type=NUMBER,
            metavar="CD",
            help=f"Drag coefficient of her side; {DRAG_COEFFICIENT:g} unless given.",
        ),
        click.option(
            "--side-area",
            callback=_pair,
            metavar="CM2,Z",
            help="Side area above the water and z of its center in mm, wing, fin and motor in it; "
            "that of the meshes unless given.",
        ),
        click.option(
            "--wind", type=NUMBER, metavar="M/S", help="A steady wind square on her side."
        ),
    ):
        function = decorate(function)
    return function


def loads_of(options: dict[str, Any]) -> Loads:
    """Return the loads that options ask for."""
    if options["wind"] is None and (options["side_area"] or options["drag"] is not None):
        raise click.UsageError("--side-area and --drag go with --wind.")
    return Loads(
        wind_m_s=options["wind"],
        side_area=options["side_area"],
        drag_coefficient=DRAG_COEFFICIENT if options["drag"] is None else options["drag"],
        off_center=options["off_center"],
        wet_wing_g=options["wet_wing"],
        turn=options["turn"],
    )


def _pair(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[float, float] | None:
    """Return two numbers between a comma."""
    del ctx
    if value is None:
        return None
    try:
        one, two = (float(part) for part in value.split(","))
    except ValueError as problem:
        raise click.BadParameter(
            f"{value!r} is not two numbers such as 180,10", param=param
        ) from problem
    return one, two


def _heels(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[float, ...] | None:
    """Return heels from a list or a range [deg]."""
    del ctx
    if value is None:
        return None
    try:
        heels = _range(value) if ":" in value else tuple(float(p) for p in value.split(","))
    except ValueError as problem:
        raise click.BadParameter(
            f"{value!r} is neither heels such as 5,10,20 nor a range such as -90:180:5", param=param
        ) from problem
    outside = next((heel for heel in heels if not abs(heel) <= 180.0), None)
    if outside is not None:
        raise click.BadParameter(f"heel {outside:g}: must be from -180 to 180", param=param)
    return heels


def _range(text: str) -> tuple[float, ...]:
    """Return the heels of a range "from:to:step"; ValueError if it is none."""
    start, stop, step = (float(part) for part in text.split(":"))
    count = (stop - start) / step if step else -1.0
    if not 0.0 <= count < _MOST_HEELS:
        raise ValueError(text)
    return tuple(start + k * step for k in range(int(count + 1e-9) + 1))
