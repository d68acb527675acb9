"""hullcheck righting: what rights her and what upsets her."""

from pathlib import Path
from typing import Any

import click

from hullcheck.answers.float_records import Caveat
from hullcheck.answers.righting_answer import (
    HEELS_DEG,
    heaviest_setup,
    righting_answer,
    righting_fails,
)
from hullcheck.answers.righting_records import RightingAnswer
from hullcheck.answers.upset_loads import Loads, loaded
from hullcheck.cli.inputs import Notes, chosen_build, chosen_craft
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.notes import print_notes
from hullcheck.cli.options import (
    Progress,
    drawing_option,
    format_options,
    is_build,
    load_options,
    mesh_options,
    water_options,
)
from hullcheck.cli.righting_options import heels_option, loads_of, upset_options
from hullcheck.craft.craft import Craft
from hullcheck.files.atomic import write_new_bytes
from hullcheck.report.as_json import json_text
from hullcheck.report.display import shown_in
from hullcheck.report.righting_csv import csv_text
from hullcheck.report.righting_table import all_lines
from hullcheck.report.righting_text import CAUTION, first_screen


@click.command("righting")
@mesh_options
@load_options
@water_options
@click.option("--setup", metavar="NAME", help="Heel her in a setup of the build sheet.")
@heels_option
@upset_options
@format_options
@click.option("--all", "everything", is_flag=True, help="Print the curve and every number.")
@drawing_option
def command(what: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Show what rights and what upsets her: arms, range, openings, tip floats, wind, thrust.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. MESH is a
    closed mesh of the outer skin; several files are several bodies; they need --mass and --cg.
    The curve starts at heel 0, trim and draft free; a positive arm turns her to port.
    """
    if options["as_json"] and options["as_csv"]:
        raise click.UsageError("--json and --csv: choose one of them.")
    progress, loads = Progress(), loads_of(options)
    with shown_in(options["show"]):
        if not is_build(what):
            craft, notes = _of_meshes(what, options, progress)
            progress("heeling her")
            return emit(craft, craft, notes, loads, options)
        build = chosen_build(what[0] if what else ".", options, progress)
        craft = build.craft(options["setup"])
        heaviest = heaviest_setup(
            [craft, *(build.craft(name) for name in (None, *(s.name for s in build.setups)))]
        )
        progress("heeling her")
        return emit(craft, heaviest, build.notes, loads, options)


def emit(craft: Craft, heaviest: Craft, notes: Notes, loads: Loads, options: dict[str, Any]) -> int:
    """Heel a craft, print the answer in the form asked for, and return the exit code."""
    answer = righting_answer(
        craft, loads=loads, heels_deg=options["heels"] or HEELS_DEG, heaviest=heaviest
    )
    said = tuple(Caveat(code=code, message=message) for code, message in notes)
    if options["drawing"] is not None:
        _draw(loaded(craft, loads), answer, options["drawing"])
    if options["as_json"]:
        click.echo(json_text(answer.with_warnings(said)), nl=False)
    elif options["as_csv"]:
        click.echo(csv_text(answer), nl=False)
    else:
        lines = all_lines(answer) if options["everything"] else first_screen(answer)
        click.echo("\n".join(lines))
        print_notes([note.message for note in (*said, *answer.warnings)], CAUTION)
    if options["drawing"] is not None:
        click.echo(f"Drawing written to {options['drawing']}", err=True)
    return EXIT_FAILS if righting_fails(answer) else EXIT_DONE


def _of_meshes(
    meshes: tuple[str, ...], options: dict[str, Any], progress: Progress
) -> tuple[Craft, Notes]:
    """Return the craft that mesh files and options make; refused without a CG."""
    if options["cg"] is None and options["mass"] is not None and options["setup"] is None:
        raise click.UsageError("mesh files need --cg X,Y,Z: arms are about the CG of a mass.")
    return chosen_craft(meshes, options, progress)


def _draw(craft: Craft, answer: RightingAnswer, name: str) -> None:
    """Write the drawing, over an older one of the same name."""
    from hullcheck.report.drawing_file import drawing_bytes
    from hullcheck.report.righting_curve import righting_drawing

    figure = righting_drawing(craft, answer)
    write_new_bytes(name, drawing_bytes(figure, Path(name).suffix.lower()), overwrite=True)
