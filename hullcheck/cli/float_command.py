"""hullcheck float: where she floats."""

from typing import TYPE_CHECKING, Any

import click

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.setups_answer import fails, setups_answer
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
    setup_options,
    water_options,
)
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.report.as_json import json_text
from hullcheck.report.display import shown_in
from hullcheck.report.float_csv import csv_text
from hullcheck.report.float_table import all_lines
from hullcheck.report.float_text import CAUTION, first_screen
from hullcheck.report.setups_table import setups_lines, setups_notes

if TYPE_CHECKING:
    from matplotlib.figure import Figure

FORMS = Forms(
    csv=lambda answer: csv_text((answer,)),
    first=first_screen,
    everything=all_lines,
    caution=CAUTION,
)


@click.command("float")
@mesh_options
@load_options
@water_options
@setup_options
@format_options
@click.option("--all", "everything", is_flag=True, help="Print every number as a table.")
@drawing_option
def command(what: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Where she floats: lowest opening, freeboard, trim, grams left, stability, step.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. MESH is a
    closed mesh of the outer skin (STL, OBJ, PLY, OFF, 3MF, GLB); several files are several bodies.
    Parts as they are printed want a build sheet: hullcheck begin.
    Coordinates are in body axes: x aft from the datum, y to starboard, z up.
    """
    refuse_two_forms(options)
    progress = Progress()
    with shown_in(options["show"]):
        if not is_build(what):
            craft, notes = chosen_craft(what, options, progress)
            return emit(craft, notes, options, progress)
        build = chosen_build(what[0] if what else ".", options, progress)
        if options["all_setups"]:
            return _emit_setups(build, options, progress)
        return emit(build.craft(options["setup"]), build.notes, options, progress)


def emit(craft: Craft, notes: Notes, options: dict[str, Any], progress: Progress) -> int:
    """Float a craft, print the answer in the form asked for, and return the exit code."""
    progress("solving for the waterline")
    answer = float_answer(craft, all_attitudes=options["as_json"] or options["everything"])
    print_answer(
        with_notes(answer, notes),
        FORMS,
        options,
        figure=lambda: _drawing(craft, answer),
        progress=progress,
    )
    return EXIT_FAILS if fails(answer) else EXIT_DONE


def _emit_setups(build: Build, options: dict[str, Any], progress: Progress) -> int:
    """Float a build in every setup, print them with the worst, and return the exit code."""
    if options["setup"] is not None or options["drawing"] is not None or options["everything"]:
        raise click.UsageError("--all-setups goes without --setup, --drawing and --all.")
    progress(f"floating her in {len(build.setups) + 1} setups")
    answer = setups_answer(build)
    if options["as_json"]:
        click.echo(json_text(answer), nl=False)
    elif options["as_csv"]:
        click.echo(csv_text(answer.setups), nl=False)
    else:
        click.echo("\n".join(setups_lines(answer)))
        print_notes(setups_notes(answer), CAUTION)
    return EXIT_FAILS if any(fails(one) for one in answer.setups) else EXIT_DONE


def _drawing(craft: Craft, answer: FloatAnswer) -> "Figure":
    """Return the drawing of how she floats."""
    from hullcheck.report.float_drawing import float_drawing

    return float_drawing(craft, answer)
