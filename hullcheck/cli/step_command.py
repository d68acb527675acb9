"""hullcheck step: the step and the bottom against every rule of thumb."""

from pathlib import Path
from typing import Any

import click

from hullcheck.answers.float_records import Caveat
from hullcheck.answers.step_answer import step_answer
from hullcheck.answers.step_records import StepAnswer
from hullcheck.cli.inputs import Notes, chosen_build, chosen_craft
from hullcheck.cli.main import EXIT_DONE
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
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.files.atomic import write_new_bytes
from hullcheck.report.as_json import json_text
from hullcheck.report.display import shown_in
from hullcheck.report.step_csv import csv_text
from hullcheck.report.step_table import all_lines, floats_lines
from hullcheck.report.step_text import CAUTION, first_screen


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
    if options["as_json"] and options["as_csv"]:
        raise click.UsageError("--json and --csv: choose one of them.")
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
    said = tuple(Caveat(code=code, message=message) for code, message in notes)
    if options["drawing"] is not None:
        progress(f"drawing {options['drawing']}")
        _draw(craft, answer, options["drawing"], floats=floats)
    if options["as_json"]:
        click.echo(json_text(answer.with_warnings(said)), nl=False)
    elif options["as_csv"]:
        rules = report.rules if floats and report is not None else answer.rules
        click.echo(csv_text(rules), nl=False)
    else:
        click.echo("\n".join(_lines(answer, options)))
        print_notes([note.message for note in (*said, *answer.warnings)], CAUTION)
    if options["drawing"] is not None:
        click.echo(f"Drawing written to {options['drawing']}", err=True)
    return EXIT_DONE


def _lines(answer: StepAnswer, options: dict[str, Any]) -> list[str]:
    """Return the text that is asked for."""
    if options["floats"]:
        return floats_lines(answer, everything=options["everything"])
    return all_lines(answer) if options["everything"] else first_screen(answer)


def _draw(craft: Craft, answer: StepAnswer, name: str, *, floats: bool) -> None:
    """Write the drawing, over an older one of the same name."""
    from hullcheck.report.drawing_file import drawing_bytes
    from hullcheck.report.step_drawing import step_drawing

    figure = step_drawing(craft, answer, floats=floats)
    write_new_bytes(name, drawing_bytes(figure, Path(name).suffix.lower()), overwrite=True)
