"""hullcheck demo: the whole job on the demo craft."""

import shlex
import textwrap
from pathlib import Path
from typing import Final

import click

from hullcheck.cli import check_command, float_command, report_command, skin_command
from hullcheck.files.demo import DEMO_AT, DEMO_FOLDER, write_demo

_COLUMNS = 80
_LINES: Final = (
    (skin_command.command, ("--drawing", "skin.png")),
    (float_command.command, ("--drawing", "float.png")),
    (check_command.command, ("--at", DEMO_AT)),
    (report_command.command, ("--at", DEMO_AT, "-o", "report.html")),
)
"""What is run, each with an option or more; file names lie in the demo's folder."""


@click.command("demo")
@click.argument("folder", default=DEMO_FOLDER, metavar="[DIR]")
@click.pass_context
def command(ctx: click.Context, folder: str) -> int:
    """Write the demo craft's build into DIR (tarnwing-90) and run the whole job on it.

    How her parts are read, how she floats, the list before the first water taxi as it stood on the
    day after her last leak test, and one page of all of it. What is printed after each line with a
    $ is what that command prints.
    """
    names = [shlex.quote(str(path.relative_to(folder))) for path in write_demo(folder)]
    wrote = f"Wrote into {shlex.quote(folder)}: {' '.join(names)}"
    click.echo("\n".join(textwrap.wrap(wrote, _COLUMNS, break_on_hyphens=False)))
    code = 0
    for one, options in _LINES:
        arguments = [folder, *options[:-1], _within(folder, options[-1])]
        click.echo(f"$ hullcheck {one.name} {shlex.join(arguments)}")
        with one.make_context(one.name, arguments, parent=ctx) as typed:
            code = max(code, one.invoke(typed))
    return code


def _within(folder: str, last: str) -> str:
    """Return the last word of a line: a time as it is, a file's name within the folder."""
    return last if last == DEMO_AT else str(Path(folder) / last)
