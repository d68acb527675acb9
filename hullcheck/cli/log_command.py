"""hullcheck log: what was weighed, sealed, tested and seen, in a book that is only added to."""

import importlib
from typing import Final

import click

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


class _LogGroup(click.Group):
    """A group that imports a command only when it is run: an entry is written in no time."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of all commands."""
        del ctx
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return a command by name, imported now."""
        del ctx
        if cmd_name not in _COMMANDS:
            return None
        module = importlib.import_module(f"hullcheck.cli.log_{cmd_name.replace('-', '_')}")
        command: click.Command = module.command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return the command that is asked for; refused with the nearest name."""
        name = args[0] if args else ""
        if args and name not in _COMMANDS and not name.startswith("-"):
            import difflib

            near = difflib.get_close_matches(name, _COMMANDS, n=1)
            hint = f"; did you mean log {near[0]}?" if near else f": {', '.join(_COMMANDS)}"
            ctx.fail(f"there is no command 'log {name}'{hint}")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands without importing them."""
        del ctx
        with formatter.section("Commands"):
            formatter.write_dl(list(_COMMANDS.items()))


@click.group("log", cls=_LogGroup, invoke_without_command=True)
@click.pass_context
def command(ctx: click.Context) -> None:
    """Keep the logbook: weigh-ins, sealing, leak tests, notes.

    It is the file logbook.sqlite beside the build sheet. An entry is never changed or taken out; a
    wrong one is struck out by a later one. Each command takes --build PATH (default: here), --at
    TIME for what happened earlier, and asks at a terminal for what is missing.
    """
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())
