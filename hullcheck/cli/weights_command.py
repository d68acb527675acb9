"""hullcheck weights: planned against weighed, what each gram cost, what is left."""

from typing import TYPE_CHECKING, Any

import click

from hullcheck.answers.weights_answer import weights_answer
from hullcheck.cli.inputs import chosen_build
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import Progress, drawing_option, format_options
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.cli.weights_options import asked_of, asked_options
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.report.display import shown_in
from hullcheck.report.weights_csv import csv_text
from hullcheck.report.weights_table import all_lines
from hullcheck.report.weights_text import CAUTION, first_screen

if TYPE_CHECKING:
    from matplotlib.figure import Figure

FORMS = Forms(csv=csv_text, first=first_screen, everything=all_lines, caution=CAUTION)


@click.command("weights")
@click.argument("what", default=".", metavar="[BUILD]")
@click.option("--setup", metavar="NAME", help="Her ledger in a setup of the build sheet.")
@asked_options
@format_options
@click.option("--all", "everything", is_flag=True, help="Print every item, group and limit.")
@drawing_option
@click.option(
    "--by-date",
    is_flag=True,
    help="Each weigh-in of the logbook against the freeboard it left her, instead.",
)
def command(what: str, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Set weighed against planned: what each item costs, and how many grams are left.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. Costs are found
    by floating her without the item; growth is put aboard in the ledger's order and adds up.
    """
    refuse_two_forms(options)
    progress, asked = Progress(), asked_of(options)
    with shown_in(options["show"]):
        build = chosen_build(what, options, progress)
        if options["by_date"]:
            return _by_date(build, what, options, progress)
        progress("floating her without each item")
        answer = weights_answer(build, options["setup"], asked=asked)
        answer = with_notes(answer, build.notes)
        craft = build.craft(options["setup"])
        print_answer(answer, FORMS, options, figure=lambda: _drawing(craft), progress=progress)
    fails = answer.afloat is not None and not answer.afloat.holds
    return EXIT_FAILS if fails else EXIT_DONE


def _by_date(build: Build, what: str, options: dict[str, Any], progress: Progress) -> int:
    """Print how she grew, weigh-in by weigh-in; return the code of the last one."""
    from hullcheck.answers.history_answer import history_answer
    from hullcheck.files.logbook import read_logbook
    from hullcheck.report import history_text

    if any(options[name] for name in ("scales", "coat", "wet")):
        raise click.UsageError("--by-date tells of the logbook alone; leave scales and coats out.")
    progress("floating her as she was after each weigh-in")
    answer = history_answer(build, read_logbook(what), options["setup"])
    lines = history_text.history_lines
    forms = Forms(
        csv=history_text.csv_text, first=lines, everything=lines, caution=history_text.CAUTION
    )

    def figure() -> "Figure":
        """Return the drawing of heights by date."""
        from hullcheck.report.history_drawing import history_drawing

        return history_drawing(answer)

    print_answer(with_notes(answer, build.notes), forms, options, figure=figure, progress=progress)
    return EXIT_DONE if answer.rows[-1].holds else EXIT_FAILS


def _drawing(craft: Craft) -> "Figure":
    """Return the heights above the water over her mass, as `hullcheck sweep` draws them."""
    from hullcheck.answers.sweep_answer import sweep_answer, usual_mass_sweep
    from hullcheck.answers.sweep_samples import Samples
    from hullcheck.report.sweep_drawing import sweep_drawing

    if craft.center_of_gravity_mm is None:
        raise InputError(
            f"{craft.name}: without her CG there is no height to draw; give every item x and z, or "
            "cg_mm under [craft]"
        )
    sweep = usual_mass_sweep(craft)
    samples = Samples.of(sweep)
    return sweep_drawing(samples, sweep_answer(sweep, samples))
