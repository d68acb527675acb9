"""A command group that imports a command only when it is run, so that it comes up at once."""

import importlib
from collections.abc import Mapping
from typing import ClassVar

import click


class LazyGroup(click.Group):
    """A group whose commands are named in a table.

    Attributes
    ----------
    known : mapping of str to str
        What each command is for, by its name.
    module_of : str
        Where a command is: a pattern of modules, each with a `command`.
    spoken : str
        What stands before a command's name when it is spoken of, such as "log ".
    """

    known: ClassVar[Mapping[str, str]] = {}
    module_of: ClassVar[str] = ""
    spoken: ClassVar[str] = ""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of all commands."""
        del ctx
        return list(self.known)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return a command by name, imported now."""
        del ctx
        if cmd_name not in self.known:
            return None
        module = importlib.import_module(self.module_of.format(cmd_name.replace("-", "_")))
        command: click.Command = module.command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return the command that is asked for; refused with the nearest name."""
        name = args[0] if args else ""
        if args and name not in self.known and not name.startswith("-"):
            # Not at the top: most runs name a command that is there.
            import difflib

            near = difflib.get_close_matches(name, self.known, n=1)
            hint = f"did you mean {self.spoken}{near[0]}?" if near else self.help_hint()
            ctx.fail(f"there is no command {self.spoken + name!r}; {hint}")
        return super().resolve_command(ctx, args)

    def help_hint(self) -> str:
        """Return where all commands are told."""
        return f"hullcheck {self.spoken}--help names them all."

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands without importing them."""
        del ctx
        with formatter.section("Commands"):
            formatter.write_dl(list(self.known.items()))
