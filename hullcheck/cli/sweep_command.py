"""hullcheck sweep: how she floats over her mass, the place of an item, or the water."""

from typing import TYPE_CHECKING, Any, Final

import click

from hullcheck.answers.sweep_answer import sweep_answer, sweep_fails, usual_mass_sweep
from hullcheck.answers.sweep_loads import Sweep, item_sweep, mass_sweep, water_sweep
from hullcheck.answers.sweep_records import SweepAnswer
from hullcheck.answers.sweep_samples import Samples
from hullcheck.cli.inputs import Notes, chosen_build, chosen_craft
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import (
    Progress,
    drawing_option,
    format_options,
    is_build,
    mesh_options,
    water_options,
)
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.cli.sweep_options import along, mass_options, sweep_options, waters_of
from hullcheck.craft.craft import Craft
from hullcheck.craft.setups import USUAL_TEMPERATURE_C
from hullcheck.report.display import shown_in
from hullcheck.report.sweep_csv import csv_text
from hullcheck.report.sweep_table import all_lines, table_lines
from hullcheck.report.sweep_text import CAUTION

if TYPE_CHECKING:
    from matplotlib.figure import Figure

FORMS = Forms(csv=csv_text, first=table_lines, everything=all_lines, caution=CAUTION)
_WATER_OPTIONS: Final = ("water", "temperature", "density")


@click.command("sweep")
@mesh_options
@mass_options
@sweep_options
@water_options
@click.option("--setup", metavar="NAME", help="Sweep her in a setup of the build sheet.")
@format_options
@click.option("--all", "everything", is_flag=True, help="Print drafts, CG and every opening too.")
@drawing_option
def command(what: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Freeboard and trim over her mass, over the place of an item, or over the water.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. MESH is a
    closed mesh of the outer skin; several files are several bodies; they need --mass and --cg.
    Over her mass grams come and go at her CG. Nothing in your files is changed.
    """
    refuse_two_forms(options)
    progress = Progress()
    with shown_in(options["show"]):
        sweep, notes = chosen_sweep(what, options, progress)
        return emit(sweep, notes, options, progress)


def chosen_sweep(
    what: tuple[str, ...], options: dict[str, Any], progress: Progress
) -> tuple[Sweep, Notes]:
    """Return what is swept, and what was assumed in reading."""
    single, masses = options["mass"]
    moved, waters = along(options), options["waters"]
    _refuse_two(moved is not None, waters is not None, masses is not None, options)
    if is_build(what):
        build = chosen_build(what[0] if what else ".", {**options, "mass": single}, progress)
        if moved is not None:
            return item_sweep(build, options["setup"], options["item"], *moved), build.notes
        craft, notes = build.craft(options["setup"]), build.notes
    else:
        if moved is not None:
            raise click.UsageError("--item needs a build sheet with a ledger.")
        if options["cg"] is None and options["setup"] is None and (single or masses):
            raise click.UsageError("mesh files need --cg X,Y,Z: without it she is held level only.")
        first = single if masses is None else masses[0]
        craft, notes = chosen_craft(what, {**options, "mass": first}, progress)
    progress("floating her again and again")
    if waters is not None:
        degrees = craft.water.temperature_c
        usual = USUAL_TEMPERATURE_C if degrees is None else degrees
        return water_sweep(craft, waters_of(waters, usual)), notes
    return _over_mass(craft, masses, known=is_build(what)), notes


def _over_mass(craft: Craft, masses: tuple[float, ...] | None, *, known: bool) -> Sweep:
    """Return the sweep over masses that are given, or over the usual ones."""
    if masses is None:
        return usual_mass_sweep(craft)
    return mass_sweep(craft, masses, today=known)


def emit(sweep: Sweep, notes: Notes, options: dict[str, Any], progress: Progress) -> int:
    """Float her at every value, print the answer in the form asked for; return the code."""
    samples = Samples.of(sweep)
    answer = sweep_answer(sweep, samples)
    print_answer(
        with_notes(answer, notes),
        FORMS,
        options,
        figure=lambda: _drawing(samples, answer),
        progress=progress,
    )
    return EXIT_FAILS if sweep_fails(answer) else EXIT_DONE


def _refuse_two(moved: bool, waters: bool, masses: bool, options: dict[str, Any]) -> None:  # noqa: FBT001 - three yes or no of one question
    """Refuse two things swept at once, and waters beside a water."""
    if moved + waters + masses > 1:
        raise click.UsageError(
            "sweep one thing at a time: a range of --mass, an --item, or --waters."
        )
    beside = [name for name in _WATER_OPTIONS if options[name] is not None]
    if waters and beside:
        raise click.UsageError(f"--waters says the water itself: leave out --{beside[0]}.")


def _drawing(samples: Samples, answer: SweepAnswer) -> "Figure":
    """Return the drawing of a sweep."""
    from hullcheck.report.sweep_drawing import sweep_drawing

    return sweep_drawing(samples, answer)
