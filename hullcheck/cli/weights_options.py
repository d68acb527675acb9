"""Options of `hullcheck weights`: scales under her, coats, soaked walls."""

from collections.abc import Callable
from typing import Any, Final, TypeVar, get_args

import click

from hullcheck.answers.coats_records import Coat, Sides
from hullcheck.answers.scales_records import OnScales, Support
from hullcheck.answers.weights_records import Asked
from hullcheck.cli.options import NUMBER, entries

Decorated = TypeVar("Decorated", bound=Callable[..., Any])
_SIDES: Final = get_args(Sides)


def asked_options(function: Decorated) -> Decorated:
    """Add scales, coats and soaked walls."""
    return _scales_options(_coat_options(function))


def _coat_options(function: Decorated) -> Decorated:
    """Add coats and soaked walls."""
    for decorate in (
        click.option(
            "--wet",
            multiple=True,
            metavar="BODY=G",
            help="Grams of water that the foam or wood of a body soaked up; may be repeated.",
        ),
        click.option(
            "--coat",
            multiple=True,
            metavar="[WHAT=]G/M2[:SIDES]",
            help="A coat of so many grams a square meter on a body or part (without WHAT on all), "
            "outside, inside or both (outside unless said); may be repeated.",
        ),
    ):
        function = decorate(function)
    return function


def _scales_options(function: Decorated) -> Decorated:
    """Add scales under her."""
    for decorate in (
        click.option(
            "--aboard",
            is_flag=True,
            help="What stands on the scales is what is built in so far.",
        ),
        click.option(
            "--tilt",
            type=NUMBER,
            metavar="DEG",
            help="How far her datum line is bow up in the weighing of --tilted.",
        ),
        click.option(
            "--tilted",
            metavar="G,G",
            help="Second readings of the same scales with her tilted by --tilt: the CG's height.",
        ),
        click.option(
            "--bow-up",
            type=NUMBER,
            metavar="DEG",
            help="How far her datum line is bow up in the weighing of --scales; 0 unless given.",
        ),
        click.option(
            "--scales",
            metavar="G@X[/Y[/Z]],…",
            help="What each scale under her reads at the place of its support: 412@120,290@380; "
            "one alone is where she balances. A missing y or z is 0.",
        ),
    ):
        function = decorate(function)
    return function


def asked_of(options: dict[str, Any]) -> Asked:
    """Return what options ask for; click.UsageError where they do not go together."""
    if options["scales"] is None and (
        options["tilted"] is not None or options["bow_up"] is not None or options["aboard"]
    ):
        raise click.UsageError("--tilted, --bow-up and --aboard go with --scales.")
    if (options["tilted"] is None) != (options["tilt"] is None):
        raise click.UsageError("--tilted and --tilt go together.")
    return Asked(
        weighings=_weighings(options),
        aboard_only=options["aboard"],
        coats=tuple(_coat(text) for text in options["coat"]),
        soaked_g=tuple(_wet(text) for text in options["wet"]),
    )


def _weighings(options: dict[str, Any]) -> tuple[OnScales, ...]:
    """Return one weighing, or two with the same supports."""
    if options["scales"] is None:
        return ()
    rows = [_reading(text, n) for n, text in enumerate(entries(options["scales"]), start=1)]
    first = OnScales(readings=tuple(rows), bow_up_deg=options["bow_up"] or 0.0)
    if options["tilted"] is None:
        return (first,)
    again = [_number(text, "--tilted") for text in entries(options["tilted"])]
    if len(again) != len(rows):
        raise click.UsageError(
            f"--tilted has {len(again)} readings, --scales {len(rows)}: one for each, in order."
        )
    readings = tuple((support, grams) for (support, _), grams in zip(rows, again, strict=True))
    return first, OnScales(readings=readings, bow_up_deg=options["tilt"])


def _reading(text: str, number: int) -> tuple[Support, float]:
    """Return a support and what its scale reads, from "412@120/0/-5"."""
    grams, at, place = text.partition("@")
    parts = place.split("/")
    if not at or len(parts) > 3:
        raise click.UsageError(
            f"--scales {text.strip()!r}: grams, @ and the station of the support, such as 412@120, "
            "or 412@120/30/5 with y and z; with decimal commas write semicolons between scales."
        )
    x, y, z = ([_number(part, "--scales") for part in parts] + [0.0, 0.0])[:3]
    support = Support(name=f"scale {number}", x_mm=x, y_mm=y, z_mm=z)
    return support, _number(grams, "--scales")


def _coat(text: str) -> Coat:
    """Return a coat from "hull=60:both" or "60"."""
    what, equals, amount = text.rpartition("=")
    grams, colon, sides = amount.partition(":")
    if colon and sides not in _SIDES:
        raise click.UsageError(f"--coat {text!r}: {sides!r} is none of {', '.join(_SIDES)}.")
    name = what.strip() if equals else ""
    return Coat(
        name=f"coat on {name}" if name else "coat",
        g_per_m2=_number(grams, "--coat"),
        sides=sides or "outside",  # type: ignore[arg-type]  # held against the names above
        parts=(name,) if name else (),
    )


def _wet(text: str) -> tuple[str, float]:
    """Return a body and its grams from "hull=15"."""
    name, equals, grams = text.rpartition("=")
    if not equals or not name.strip():
        raise click.UsageError(f"--wet {text!r}: a body, = and grams, such as hull=15.")
    return name.strip(), _number(grams, "--wet")


def _number(text: str, option: str) -> float:
    """Return the number a text stands for."""
    try:
        return float(text)
    except ValueError as problem:
        raise click.UsageError(f"{option}: {text.strip()!r} is not a number.") from problem
