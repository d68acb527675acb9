"""hullcheck seams: every seam and opening, crossed with the logbook."""

from datetime import datetime
from typing import TYPE_CHECKING, Any

import click

from hullcheck.answers.seams_answer import seams_answer
from hullcheck.answers.seams_records import SeamsAnswer
from hullcheck.cli.as_of import at_option, book_as_of
from hullcheck.cli.inputs import chosen_build
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import (
    MESH_SUFFIXES,
    Progress,
    drawing_option,
    format_options,
    load_options,
    water_options,
)
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.craft.logbook import Logbook
from hullcheck.report.display import shown_in
from hullcheck.report.seams_csv import csv_text
from hullcheck.report.seams_table import all_lines
from hullcheck.report.seams_text import CAUTION, first_screen

if TYPE_CHECKING:
    from matplotlib.figure import Figure

FORMS = Forms(csv=csv_text, first=first_screen, everything=all_lines, caution=CAUTION)


@click.command("seams")
@click.argument("what", default=".", metavar="[BUILD]")
@load_options
@water_options
@click.option("--setup", metavar="NAME", help="Float her in a setup of the build sheet.")
@at_option
@format_options
@click.option("--all", "everything", is_flag=True, help="Print every seam and every number.")
@drawing_option
def command(what: str, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Every seam and opening: depth under water, sealed, tested, and which explains a leak.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. Seams are those
    of [[seam]] and those found between two parts; openings those of [[opening]] and those the files
    show. What was sealed and tested is read off the logbook beside the sheet (hullcheck log).
    Exit code 3 where she sinks, or the last leak test broke the sheet's limit.
    """
    refuse_two_forms(options)
    if what.lower().endswith(MESH_SUFFIXES):
        raise click.UsageError("seams needs a build sheet: hullcheck begin writes one.")
    progress = Progress()
    with shown_in(options["show"]):
        build = chosen_build(what, options, progress)
        return emit(build, book_as_of(what, options), options, progress)


def emit(
    build: Build, book: tuple[Logbook, datetime], options: dict[str, Any], progress: Progress
) -> int:
    """Look at every seam, print the answer in the form asked for, and return the exit code."""
    logbook, now = book
    progress("floating her in every leak test")
    answer = seams_answer(build, logbook, now, setup=options["setup"])
    print_answer(
        with_notes(answer, build.notes),
        FORMS,
        options,
        figure=lambda: _drawing(build.craft(options["setup"]), answer),
        progress=progress,
    )
    return EXIT_FAILS if fails(answer) else EXIT_DONE


def fails(answer: SeamsAnswer) -> bool:
    """Return whether she sinks, or the last leak test broke the sheet's limit."""
    return answer.short_by_g is not None or not all(limit.ok for limit in answer.limits)


def _drawing(craft: Craft, answer: SeamsAnswer) -> "Figure":
    """Return the drawing of her seams by state."""
    from hullcheck.report.seams_drawing import seams_drawing

    return seams_drawing(craft, answer)
