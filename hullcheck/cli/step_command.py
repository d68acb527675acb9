"""hullcheck step: the step and the bottom against every rule of thumb."""

from typing import TYPE_CHECKING, Any

import click

from hullcheck.answers.step_answer import step_answer
from hullcheck.answers.step_records import StepAnswer
from hullcheck.cli.inputs import Notes, chosen_build, chosen_craft
from hullcheck.cli.main import EXIT_DONE
from hullcheck.cli.options import (
    Progress,
    drawing_option,
    format_options,
    is_build,
    load_options,
    mesh_options,
    water_options,
)
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.report.display import shown_in
from hullcheck.report.step_csv import csv_text
from hullcheck.report.step_table import all_lines, floats_lines
from hullcheck.report.step_text import CAUTION, first_screen

if TYPE_CHECKING:
    from matplotlib.figure import Figure


@click.command("step")
@mesh_options
@load_options
@water_options
@click.option("--setup", metavar="NAME", help="Her CG and mass in a setup of the build sheet.")
@format_options
@click.option(
    "--floats",
    is_flag=True,
    help="Length, overhang, spacing, incidence and reserve of her main floats instead.",
)
@click.option("--all", "everything", is_flag=True, help="Print every rule and number as a table.")
@drawing_option
def command(what: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Where the step lies by every rule of thumb at once, each by its own line, without verdict.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. MESH is a
    closed mesh of the outer skin; several files are several bodies. The step is read off the
    largest of hull and main floats. Model practice is kept apart from full size and towing tanks.
    """
    refuse_two_forms(options)
    progress = Progress()
    with shown_in(options["show"]):
        if is_build(what):
            build = chosen_build(what[0] if what else ".", options, progress)
            craft, notes = build.craft(options["setup"]), build.notes
        else:
            craft, notes = chosen_craft(what, options, progress)
        return emit(craft, notes, options, progress)


def emit(craft: Craft, notes: Notes, options: dict[str, Any], progress: Progress) -> int:
    """Hold a craft against the rules, print the answer in the form asked for; return the code."""
    progress("reading the step off the bottom")
    answer = step_answer(craft)
    report, floats = answer.floats, options["floats"]
    if floats and report is None:
        roles = ", ".join(f"{body.name} ({body.role})" for body in craft.bodies)
        raise InputError(
            f'--floats: none of her bodies has the role "main float": {roles}; say so in the build '
            "sheet's [[body]]"
        )
    forms = Forms(
        csv=lambda answer: csv_text(report.rules if floats and report else answer.rules),
        first=(lambda answer: floats_lines(answer, everything=False)) if floats else first_screen,
        everything=(lambda answer: floats_lines(answer, everything=True)) if floats else all_lines,
        caution=CAUTION,
    )
    print_answer(
        with_notes(answer, notes),
        forms,
        options,
        figure=lambda: _drawing(craft, answer, floats=floats),
        progress=progress,
    )
    return EXIT_DONE


def _drawing(craft: Craft, answer: StepAnswer, *, floats: bool) -> "Figure":
    """Return the drawing of the step, or of the floats, against the rules."""
    from hullcheck.report.step_drawing import step_drawing

    return step_drawing(craft, answer, floats=floats)
