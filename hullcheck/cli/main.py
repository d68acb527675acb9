"""The command group, and the one place where refusals become a line and an exit code."""

import sys
from typing import Final, NoReturn

import click

from hullcheck import __version__
from hullcheck.cli.lazy_group import LazyGroup
from hullcheck.errors import HullcheckError

EXIT_DONE: Final = 0
EXIT_INPUT: Final = 1
EXIT_FAILS: Final = 3

_COMMANDS: Final = {
    "float": "Where she floats: lowest opening, freeboard, trim, grams left, stability, step.",
    "step": "Step and bottom against every rule of thumb, twin floats too; no verdict.",
    "righting": "What rights and upsets her: arms, range, tip floats, wind, openings, thrust.",
    "weights": "Planned against weighed: what each gram cost, what is left, scales and coats.",
    "compare": "Two builds, setups or ledgers: each change's grams, mm and degrees.",
    "sweep": "Freeboard and trim over her mass, or over the place of an item.",
    "place": "Where an item may sit to keep CG, trim and heel, or the least ballast.",
    "bath": "The bath test: bag, readings to expect, what readings and an inclining say.",
    "seams": "Every seam and opening: depth, sealed, tested, and which explains a leak.",
    "flood": "Water aboard: where it runs, compartments open, time afloat, swamped.",
    "log": "The logbook: weigh-ins, sealing, leak tests, notes; show, export, import.",
    "check": "The list before the first water taxi: stop, not known, caution, pass.",
    "report": "One page of all of it with the drawings, to read on a phone or to print.",
    "marks": "Full-size sheets to mark the waterline on the hull with, as PDF.",
    "skin": "How the files were read: parts, openings, the outer skin and its error.",
    "begin": "Write a first build sheet and ledger, or a form for offsets, to fill in.",
    "demo": "Write the demo craft's build and run the whole job on it.",
}


class _Commands(LazyGroup):
    """All commands."""

    known = _COMMANDS
    module_of = "hullcheck.cli.{}_command"


@click.group(
    cls=_Commands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"]},
)
@click.version_option(__version__, prog_name="hullcheck")
@click.pass_context
def cli(ctx: click.Context) -> None:
    """Where a small seaplane floats, from the mesh of her hull.

    Results go to standard output, all else to standard error. Exit codes: 0 done; 1 the input is
    wrong; 2 the command line is wrong; 3 worked out, and it fails (she sinks, capsizes, or breaks a
    limit of her build sheet).
    """
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


def run() -> NoReturn:
    """Run the command line; a refusal is one line on standard error and exit code 1."""
    try:
        code = cli.main(prog_name="hullcheck", standalone_mode=False)
    except click.UsageError as problem:
        if problem.ctx is not None:
            click.echo(problem.ctx.get_usage(), err=True)
        click.echo(f"hullcheck: {problem.format_message()}", err=True)
        sys.exit(problem.exit_code)
    except click.Abort:
        click.echo("hullcheck: stopped", err=True)
        sys.exit(130)
    except HullcheckError as problem:
        click.echo(f"hullcheck: {problem}", err=True)
        sys.exit(EXIT_INPUT)
    except BrokenPipeError:
        # Whoever read the output has enough; leave nothing for the interpreter to flush.
        sys.stdout = None
        sys.exit(EXIT_DONE)
    sys.exit(code if isinstance(code, int) else EXIT_DONE)
