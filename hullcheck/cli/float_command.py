"""hullcheck float: where she floats."""

from pathlib import Path
from typing import Any

import click

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.float_records import Caveat, FloatAnswer
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import (
    Progress,
    chosen_water,
    drawing_option,
    load_options,
    mesh_options,
    refuse_build_folder,
    water_options,
)
from hullcheck.craft.craft import Craft
from hullcheck.files.atomic import write_new_bytes
from hullcheck.files.bodies import Found, Reading, read_bodies
from hullcheck.report.as_json import json_text
from hullcheck.report.float_table import all_lines
from hullcheck.report.float_text import CAUTION, first_screen


@click.command("float")
@mesh_options
@load_options
@water_options
@click.option("--json", "as_json", is_flag=True, help="Print every number as JSON, unrounded.")
@click.option("--all", "everything", is_flag=True, help="Print every number as a table.")
@drawing_option
def command(meshes: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Where she floats: waterline, freeboard, trim, stability and step.

    MESH is a closed mesh of the outer skin (STL, OBJ, PLY, OFF, 3MF, GLB); several files are
    several bodies. Coordinates of the CG are in body axes: x aft from the file's origin, y to
    starboard, z up.
    """
    refuse_build_folder(meshes)
    progress = Progress()
    reading = Reading(unit=options["unit"], forward=options["forward"], up=options["up"])
    water = chosen_water(options["water"], options["temperature"], options["density"])
    found = read_bodies(meshes, reading, progress=progress)
    craft = Craft(
        name=_name(meshes),
        bodies=found.bodies,
        mass_g=options["mass"],
        center_of_gravity_mm=options["cg"],
        water=water,
    )
    return answer_and_emit(
        craft,
        found,
        as_json=options["as_json"],
        everything=options["everything"],
        drawing=options["drawing"],
        progress=progress,
    )


def answer_and_emit(
    craft: Craft,
    found: Found,
    *,
    as_json: bool,
    everything: bool,
    drawing: str | None,
    progress: Progress,
) -> int:
    """Float a craft, print the answer in the form asked for, and return the exit code."""
    progress("solving for the waterline")
    answer = float_answer(craft, all_attitudes=as_json or everything)
    notes = tuple(Caveat(code=code, message=message) for code, message in found.notes)
    if drawing is not None:
        progress(f"drawing {drawing}")
        _draw(craft, answer, drawing)
    if as_json:
        click.echo(json_text(answer.with_warnings(notes)), nl=False)
    else:
        lines = all_lines(answer) if everything else first_screen(answer)
        click.echo("\n".join(lines))
        for note in (*notes, *answer.warnings):
            click.echo(f"Note: {note.message}.", err=True)
        click.echo(f"Note: {CAUTION}", err=True)
    if drawing is not None:
        click.echo(f"Drawing written to {drawing}", err=True)
    return EXIT_FAILS if answer.rest in {"sinks", "capsized"} else EXIT_DONE


def _draw(craft: Craft, answer: FloatAnswer, name: str) -> None:
    """Write the drawing, over an older one of the same name."""
    from hullcheck.report.float_drawing import drawing_bytes, float_drawing

    figure = float_drawing(craft, answer)
    write_new_bytes(name, drawing_bytes(figure, Path(name).suffix.lower()), overwrite=True)


def _name(meshes: tuple[str, ...]) -> str:
    """Return what a craft without a build sheet is called: her first file and how many more."""
    first = Path(meshes[0]).name
    return first if len(meshes) == 1 else f"{first} + {len(meshes) - 1} more"
