"""hullcheck check: the list before the first water taxi."""

from typing import Any

import click

from hullcheck.answers.check_answer import check_answer
from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.cli.as_of import at_option
from hullcheck.cli.evidence import chosen_evidence
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import MESH_SUFFIXES, format_options, load_options, water_options
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.report.check_csv import csv_text
from hullcheck.report.check_table import all_lines
from hullcheck.report.check_text import first_screen
from hullcheck.report.display import shown_in

FORMS = Forms(csv=csv_text, first=first_screen, everything=all_lines)


@click.command("check")
@click.argument("what", default=".", metavar="[BUILD]")
@load_options
@water_options
@click.option("--setup", metavar="NAME", help="Judge her in a setup of the build sheet alone.")
@at_option
@click.option("--person", is_flag=True, help="A person is to be aboard: say who decides.")
@format_options
@click.option("--all", "everything", is_flag=True, help="Print evidence, next steps and numbers.")
def command(what: str, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Go through the list before the first water taxi: stop, not known, caution or pass.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. Freeboard, trim
    and heel are those of the worst setup; seams and leak tests are read off the logbook beside the
    sheet. Exit code 3 where a point stops her, or where weight, center, freeboard, a seam under
    water, or what comes in in a leak test is not known.
    """
    refuse_two_forms(options)
    if what.lower().endswith(MESH_SUFFIXES):
        raise click.UsageError("check needs a build sheet: hullcheck begin writes one.")
    with shown_in(options["show"]):
        return emit(chosen_evidence(what, options), options)


def emit(evidence: CheckEvidence, options: dict[str, Any]) -> int:
    """Go through the list, print it in the form asked for, and return the exit code."""
    answer = check_answer(evidence, person=options["person"])
    print_answer(with_notes(answer, evidence.build.notes), FORMS, options)
    return EXIT_FAILS if answer.holds_back else EXIT_DONE
