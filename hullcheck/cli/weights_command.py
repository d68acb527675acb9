"""hullcheck weights: planned against weighed, what each gram cost, what is left."""

from typing import Any

import click

from hullcheck.answers.float_records import Caveat
from hullcheck.answers.weights_answer import weights_answer
from hullcheck.answers.weights_records import WeightsAnswer
from hullcheck.cli.inputs import chosen_build
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.notes import print_notes
from hullcheck.cli.options import Progress, format_options
from hullcheck.cli.weights_options import asked_of, asked_options
from hullcheck.report.as_json import json_text
from hullcheck.report.display import shown_in
from hullcheck.report.weights_csv import csv_text
from hullcheck.report.weights_table import all_lines
from hullcheck.report.weights_text import CAUTION, first_screen


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
    if options["as_json"] and options["as_csv"]:
        raise click.UsageError("--json and --csv: choose one of them.")
    progress, asked = Progress(), asked_of(options)
    with shown_in(options["show"]):
        build = chosen_build(what, options, progress)
        progress("floating her without each item")
        answer = weights_answer(build, options["setup"], asked=asked)
        said = tuple(Caveat(code=code, message=message) for code, message in build.notes)
        return emit(answer.with_warnings(said), options)


def emit(answer: WeightsAnswer, options: dict[str, Any]) -> int:
    """Print the answer in the form asked for and return the exit code."""
    if options["as_json"]:
        click.echo(json_text(answer), nl=False)
    elif options["as_csv"]:
        click.echo(csv_text(answer), nl=False)
    else:
        lines = all_lines(answer) if options["everything"] else first_screen(answer)
        click.echo("\n".join(lines))
        print_notes([note.message for note in answer.warnings], CAUTION)
    fails = answer.afloat is not None and not answer.afloat.holds
    return EXIT_FAILS if fails else EXIT_DONE
