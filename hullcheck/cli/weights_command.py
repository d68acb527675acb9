"""hullcheck weights: planned against weighed, what each gram cost, what is left."""

from typing import Any

import click

from hullcheck.answers.weights_answer import weights_answer
from hullcheck.answers.weights_records import WeightsAnswer
from hullcheck.cli.inputs import chosen_build
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import Progress, format_options
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.cli.weights_options import asked_of, asked_options
from hullcheck.report.display import shown_in
from hullcheck.report.weights_csv import csv_text
from hullcheck.report.weights_table import all_lines
from hullcheck.report.weights_text import CAUTION, first_screen

FORMS = Forms(csv=csv_text, first=first_screen, everything=all_lines, caution=CAUTION)


@click.command("weights")
@click.argument("what", default=".", metavar="[BUILD]")
@click.option("--setup", metavar="NAME", help="Her ledger in a setup of the build sheet.")
@asked_options
@format_options
@click.option("--all", "everything", is_flag=True, help="Print every item, group and limit.")
def command(what: str, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Set weighed against planned: what each item costs, and how many grams are left.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. Costs are found
    by floating her without the item; growth is put aboard in the ledger's order and adds up.
    """
    refuse_two_forms(options)
    progress, asked = Progress(), asked_of(options)
    with shown_in(options["show"]):
        build = chosen_build(what, options, progress)
        progress("floating her without each item")
        answer = weights_answer(build, options["setup"], asked=asked)
        return emit(with_notes(answer, build.notes), options)


def emit(answer: WeightsAnswer, options: dict[str, Any]) -> int:
    """Print the answer in the form asked for and return the exit code."""
    print_answer(answer, FORMS, options)
    fails = answer.afloat is not None and not answer.afloat.holds
    return EXIT_FAILS if fails else EXIT_DONE
