"""hullcheck log: what was weighed, sealed, tested and seen, in a book that is only added to."""

from typing import Final

import click

from hullcheck.cli.lazy_group import LazyGroup

_COMMANDS: Final = {
    "weigh": "Her mass, or an item's, as the scale showed it.",
    "seal": "A seam or opening sealed: with what, which batch, how long it cures.",
    "reopen": "A seam that is not sealed any more, and why.",
    "leak-test": "A leak test: started, finished, or told in one; what it means.",
    "note": "Anything in your own words.",
    "strike": "Strike out a wrong entry; it stays to be read.",
    "show": "What the book says, the last entries or all of them.",
    "export": "The whole book as CSV, to keep and to restore from.",
    "import": "Add the entries of an export, all of them or none.",
}


class _LogCommands(LazyGroup):
    """The commands of the logbook: an entry is written in no time."""

    known = _COMMANDS
    module_of = "hullcheck.cli.log_{}"
    spoken = "log "


@click.group("log", cls=_LogCommands, invoke_without_command=True)
@click.pass_context
def command(ctx: click.Context) -> None:
    """Keep the logbook: weigh-ins, sealing, leak tests, notes.

    It is the file logbook.sqlite beside the build sheet. An entry is never changed or taken out; a
    wrong one is struck out by a later one. Each command takes --build PATH (default: here), --at
    TIME for what happened earlier, and asks at a terminal for what is missing.
    """
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())
