"""hullcheck flood: water aboard, where it runs, open compartments, swamped, time afloat."""

from typing import TYPE_CHECKING, Any

import click

from hullcheck.answers.flood_answer import flood_answer, flood_fails
from hullcheck.answers.flood_records import FloodAnswer
from hullcheck.cli.as_of import at_option, book_as_of
from hullcheck.cli.flood_options import asked_of, flood_options
from hullcheck.cli.inputs import chosen_build, chosen_craft
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
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
from hullcheck.craft.build import Build
from hullcheck.craft.logbook import Logbook
from hullcheck.report.display import shown_in
from hullcheck.report.flood_csv import csv_text
from hullcheck.report.flood_table import all_lines
from hullcheck.report.flood_text import CAUTION, first_screen

if TYPE_CHECKING:
    from matplotlib.figure import Figure

FORMS = Forms(csv=csv_text, first=first_screen, everything=all_lines, caution=CAUTION)


@click.command("flood")
@mesh_options
@load_options
@water_options
@click.option("--setup", metavar="NAME", help="Flood her in a setup of the build sheet.")
@at_option
@flood_options
@format_options
@click.option("--all", "everything", is_flag=True, help="Print every case and number.")
@drawing_option
def command(what: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Show what water inside does: where it runs, one and two open, swamped, time afloat.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. MESH is a
    closed mesh of the outer skin; several files are several bodies; they need --mass and --cg.
    Compartments are named from the bow: "hull 1", "hull 2". Time afloat is from --hole or --crack,
    else the logbook's last leak test, else the sheet's [[leak]].

    Exit 3: with --aboard or --open a limit breaks, she sinks or falls over; or the time afloat by
    the last test, --hole or --crack is under the sheet's time_on_water_min. What is shown unasked,
    and a leak that the sheet only supposes, fails nothing.
    """
    refuse_two_forms(options)
    progress, asked = Progress(), asked_of(options)
    with shown_in(options["show"]):
        build, logbook, notes = _given(what, options, progress)
        progress("letting water in")
        answer = flood_answer(build, logbook, setup=options["setup"], asked=asked)
        print_answer(
            with_notes(answer, notes),
            FORMS,
            options,
            figure=lambda: _drawing(build, answer),
            progress=progress,
        )
    return EXIT_FAILS if flood_fails(answer) else EXIT_DONE


def _given(
    what: tuple[str, ...], options: dict[str, Any], progress: Progress
) -> tuple[Build, Logbook, tuple[tuple[str, str], ...]]:
    """Return the build, its logbook, and what was assumed in reading."""
    if is_build(what):
        path = what[0] if what else "."
        build = chosen_build(path, options, progress)
        return build, book_as_of(path, options)[0], build.notes
    if options["cg"] is None and options["mass"] is not None and options["setup"] is None:
        raise click.UsageError("mesh files need --cg X,Y,Z: where her CG is decides where water "
                               "runs.")  # fmt: skip
    craft, notes = chosen_craft(what, options, progress)
    build = Build(
        name=craft.name,
        bodies=craft.bodies,
        water=craft.water,
        mass_g=craft.mass_g,
        center_of_gravity_mm=craft.center_of_gravity_mm,
    )
    return build, Logbook(), notes


def _drawing(build: Build, answer: FloodAnswer) -> "Figure":
    """Return the drawing of the water run aft."""
    from hullcheck.report.flood_drawing import flood_drawing

    return flood_drawing(build, answer)
