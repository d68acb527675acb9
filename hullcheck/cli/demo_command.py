"""hullcheck demo: the whole job on the demo craft."""

import shlex
from pathlib import Path

import click

from hullcheck.cli.float_command import answer_and_emit
from hullcheck.cli.options import Progress
from hullcheck.craft.craft import Craft
from hullcheck.files.bodies import Reading, read_bodies
from hullcheck.files.demo import DEMO_CG_MM, DEMO_MASS_G, DEMO_NAME, write_demo
from hullcheck.water import fresh_water


@click.command("demo")
@click.argument("folder", default="tarnwing-90", metavar="[DIR]")
def command(folder: str) -> int:
    """Write the demo craft's files into DIR (tarnwing-90) and run the whole job on them."""
    progress = Progress()
    paths = write_demo(folder)
    drawing = str(Path(folder) / "float.png")
    names = " ".join(shlex.quote(str(path)) for path in paths)
    center = ",".join(f"{value:g}" for value in DEMO_CG_MM)
    click.echo(f"Wrote {names}")
    click.echo(
        f"$ hullcheck float {names} --mass {DEMO_MASS_G:g} --cg {center} --unit mm --forward -x "
        f"--up +z --drawing {shlex.quote(drawing)}"
    )
    found = read_bodies(paths, Reading(unit="mm", forward="-x", up="+z"), progress=progress)
    craft = Craft(
        name=DEMO_NAME,
        bodies=found.bodies,
        mass_g=DEMO_MASS_G,
        center_of_gravity_mm=DEMO_CG_MM,
        water=fresh_water(),
    )
    return answer_and_emit(
        craft, found, as_json=False, everything=False, drawing=drawing, progress=progress
    )
