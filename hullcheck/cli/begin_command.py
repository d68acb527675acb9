"""hullcheck begin: a first build sheet, ledger and form to fill in."""

from typing import Any

import click

from hullcheck.cli.main import EXIT_DONE
from hullcheck.cli.notes import print_notes
from hullcheck.cli.options import Progress, mesh_files_options
from hullcheck.files.bodies import read_bodies
from hullcheck.files.first_build import (
    bodies_of_meshes,
    name_for,
    write_first_build,
    write_offsets_build,
)
from hullcheck.files.reading import Reading

_EXAMPLE = "{form} holds an example hull: put the stations of your plan in its place."
_LIES = "She lies at stations {low:.0f} to {high:.0f}; datum_mm in [axes] moves the zero."
_NEXT = "Fill in weights.csv and the openings in {sheet}, then: hullcheck float {sheet}"


@click.command("begin")
@click.argument("meshes", nargs=-1, metavar="[MESH...]")
@mesh_files_options
@click.option(
    "--offsets",
    metavar="FILE",
    help="A hull from the stations of a plan: FILE, written as a form with an example if new.",
)
@click.option(
    "--out",
    "-o",
    default="build.toml",
    metavar="SHEET",
    help="The sheet to write; build.toml unless given. The ledger goes beside it.",
)
def command(meshes: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Write a first build sheet and a ledger to fill in; nothing is overwritten.

    MESH is a closed mesh of each body's outer skin. Without a mesh, --offsets hull.csv writes a
    form for the stations of a plan.
    """
    offsets, out = options["offsets"], options["out"]
    lie = {name: options[name] for name in ("unit", "forward", "up")}
    if bool(meshes) == (offsets is not None):
        raise click.UsageError("name mesh files, or --offsets FILE for a hull without a mesh.")
    if offsets is not None:
        if any(value is not None for value in lie.values()):
            raise click.UsageError("--unit, --forward and --up are for mesh files.")
        written, new = write_offsets_build(out, offsets, name=name_for(out))
        notes = [_EXAMPLE.format(form=offsets)] if new else []
    else:
        reading = Reading(**lie)
        found = read_bodies(meshes, reading, progress=Progress())
        bodies = bodies_of_meshes(meshes, found.bodies, out)
        written = write_first_build(out, name=name_for(out), bodies=bodies, reading=reading)
        print_notes([message for _, message in found.notes])
        low = min(float(body.shell.low_mm[0]) for body in found.bodies)
        high = max(float(body.shell.high_mm[0]) for body in found.bodies)
        notes = [_LIES.format(low=low, high=high)]
    for line in (f"Wrote {' '.join(map(str, written))}", *notes, _NEXT.format(sheet=written[0])):
        click.echo(line)
    return EXIT_DONE
