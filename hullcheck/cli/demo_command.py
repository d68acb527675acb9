"""hullcheck demo: the whole job on the demo craft."""

import shlex
from pathlib import Path

import click

from hullcheck.cli.float_command import emit
from hullcheck.cli.options import Progress
from hullcheck.files.build_folder import load
from hullcheck.files.demo import DEMO_FOLDER, write_demo


@click.command("demo")
@click.argument("folder", default=DEMO_FOLDER, metavar="[DIR]")
def command(folder: str) -> int:
    """Write the demo craft's build into DIR (tarnwing-90) and run the whole job on it."""
    progress = Progress()
    names = " ".join(shlex.quote(str(path)) for path in write_demo(folder))
    drawing = str(Path(folder) / "float.png")
    click.echo(f"Wrote {names}")
    click.echo(f"$ hullcheck float {shlex.quote(folder)} --drawing {shlex.quote(drawing)}")
    build = load(folder, progress=progress)
    options = {"as_json": False, "as_csv": False, "everything": False, "drawing": drawing}
    return emit(build.craft(), build.notes, options, progress)
