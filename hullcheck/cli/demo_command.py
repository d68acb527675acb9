"""hullcheck demo: the whole job on the demo craft."""

import shlex
import textwrap
from pathlib import Path

import click

from hullcheck.cli import float_command, skin_command
from hullcheck.files.demo import DEMO_FOLDER, write_demo

_COLUMNS = 80
_COMMANDS = {"skin": skin_command.command, "float": float_command.command}


@click.command("demo")
@click.argument("folder", default=DEMO_FOLDER, metavar="[DIR]")
@click.pass_context
def command(ctx: click.Context, folder: str) -> int:
    """Write the demo craft's build into DIR (tarnwing-90) and run the whole job on it.

    What is printed after each line with a $ is what that command prints.
    """
    names = [shlex.quote(str(path.relative_to(folder))) for path in write_demo(folder)]
    wrote = f"Wrote into {shlex.quote(folder)}: {' '.join(names)}"
    click.echo("\n".join(textwrap.wrap(wrote, _COLUMNS, break_on_hyphens=False)))
    code = 0
    for name, one in _COMMANDS.items():
        arguments = [folder, "--drawing", str(Path(folder) / f"{name}.png")]
        click.echo(f"$ hullcheck {name} {shlex.join(arguments)}")
        with one.make_context(name, arguments, parent=ctx) as typed:
            code = max(code, one.invoke(typed))
    return code
