"""hullcheck log leak-test: started, finished, or told in one; and what it means."""

from collections.abc import Callable
from typing import Any, TypeVar

import click

from hullcheck.cli.log_options import entry_options
from hullcheck.cli.log_values import MASS, NOT_NEGATIVE, NUMBER, POSITIVE, YES_NO

Decorated = TypeVar("Decorated", bound=Callable[..., Any])


def _setup_options(function: Decorated) -> Decorated:
    """Add how she is set on the water."""
    for decorate in (
        click.option("--running", is_flag=True, help="She is run, not left still."),
        click.option("--ballast", metavar="TEXT", help="What stands in for missing parts, where."),
        click.option(
            "--heel", type=NUMBER, metavar="DEG", help="Heel she is held to; starboard down is +."
        ),
        click.option(
            "--trim", type=NUMBER, metavar="DEG", help="Trim she is held to; bow up is +."
        ),
        click.option("--temperature", type=NUMBER, metavar="C", help="Of the water in °C."),
        click.option(
            "--water", type=click.Choice(["fresh", "sea"]), help="Default: the build sheet's."
        ),
        click.option(
            "--scale",
            type=MASS,
            metavar="G",
            help="The scale's resolution in g; default: the last digit of --before.",
        ),
        click.option(
            "--wet-baseline",
            type=NOT_NEGATIVE,
            metavar="G",
            help="What only dipping and toweling her adds in g; default 0.",
        ),
        click.option(
            "--before", type=MASS, metavar="G", help="What the scale shows before the test in g."
        ),
        click.option(
            "--mass", type=MASS, metavar="G", help="Her mass as she floats, ballast and all, in g."
        ),
    ):
        function = decorate(function)
    return function


def _finish_options(function: Decorated) -> Decorated:
    """Add what a test that is over has shown."""
    for decorate in (
        click.option("--new-seam", is_flag=True, help="Keep a name the sheet does not know."),
        click.option("--stream", is_flag=True, help="Water came in as a visible stream."),
        click.option(
            "--aft-of-step", type=YES_NO, metavar="YES|NO", help="Whether water stood aft of it."
        ),
        click.option(
            "--found", multiple=True, metavar="SEAM", help="Where water came in; may be repeated."
        ),
        click.option(
            "--after", type=MASS, metavar="G", help="What the scale shows after, dried outside."
        ),
        click.option(
            "--minutes",
            type=POSITIVE,
            metavar="MIN",
            help="How long: planned with --start; with --finish instead of the clock's.",
        ),
    ):
        function = decorate(function)
    return function


@click.command("leak-test")
@click.option("--start", is_flag=True, help="She goes on the water now: start the clock.")
@click.option("--finish", is_flag=True, help="She is out of the water: stop the clock.")
@click.option("--again", is_flag=True, help="Set up as in the last test; she is weighed anew.")
@_setup_options
@_finish_options
@entry_options
def command(**options: Any) -> int:  # noqa: ANN401 - click's options
    """Keep a leak test: --start, then --finish; or neither, to tell a whole test at once.

    Weigh her, dried outside the same way, before and after on the same scale. What is missing is
    asked for at a terminal. The gain, its ± and its grade are printed, and the one hole and the one
    crack that would let in as much, where the build can be read.
    """
    if options["start"] and options["finish"]:
        raise click.UsageError("--start and --finish: one of them, or neither for a whole test.")
    if options["finish"]:
        _refuse_setup(options)
        from hullcheck.cli.log_leak_finish import finish

        return finish(options)
    if options["start"]:
        from hullcheck.cli.log_leak_start import start

        return start(options)
    from hullcheck.cli.log_leak_finish import whole

    return whole(options)


def _refuse_setup(options: dict[str, Any]) -> None:
    """Refuse with --finish what was said at the start."""
    names = ("mass", "before", "scale", "wet_baseline", "water", "temperature", "trim", "heel")
    given = [name for name in (*names, "ballast") if options[name] is not None]
    given += [name for name in ("running", "again") if options[name]]
    if given:
        raise click.UsageError(
            f"--{given[0].replace('_', '-')} is said at the start; with --finish say --after. To "
            "mend the start, strike it out and tell the whole test without --finish."
        )
