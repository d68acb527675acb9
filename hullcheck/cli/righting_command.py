"""hullcheck righting: what rights her and what upsets her."""

from typing import TYPE_CHECKING, Any

import click

from hullcheck.answers.righting_answer import (
    HEELS_DEG,
    heaviest_setup,
    righting_answer,
    righting_fails,
)
from hullcheck.answers.righting_records import RightingAnswer
from hullcheck.answers.upset_loads import Loads, loaded
from hullcheck.cli.inputs import Notes, chosen_build, chosen_craft
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
from hullcheck.cli.righting_options import heels_option, loads_of, upset_options
from hullcheck.craft.craft import Craft
from hullcheck.report.display import shown_in
from hullcheck.report.righting_csv import csv_text
from hullcheck.report.righting_table import all_lines
from hullcheck.report.righting_text import CAUTION, first_screen

if TYPE_CHECKING:
    from matplotlib.figure import Figure

FORMS = Forms(csv=csv_text, first=first_screen, everything=all_lines, caution=CAUTION)


@click.command("righting")
@mesh_options
@load_options
@water_options
@click.option("--setup", metavar="NAME", help="Heel her in a setup of the build sheet.")
@heels_option
@upset_options
@format_options
@click.option("--all", "everything", is_flag=True, help="Print the curve and every number.")
@drawing_option
def command(what: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Show what rights and what upsets her: arms, range, openings, tip floats, wind, thrust.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. MESH is a
    closed mesh of the outer skin; several files are several bodies; they need --mass and --cg.
    The curve starts at heel 0, trim and draft free; a positive arm turns her to port.
    """
    refuse_two_forms(options)
    progress, loads = Progress(), loads_of(options)
    with shown_in(options["show"]):
        if not is_build(what):
            craft, notes = _of_meshes(what, options, progress)
            progress("heeling her")
            return emit(craft, craft, notes, loads, options)
        build = chosen_build(what[0] if what else ".", options, progress)
        craft = build.craft(options["setup"])
        heaviest = heaviest_setup(
            [craft, *(build.craft(name) for name in (None, *(s.name for s in build.setups)))]
        )
        progress("heeling her")
        return emit(craft, heaviest, build.notes, loads, options)


def emit(craft: Craft, heaviest: Craft, notes: Notes, loads: Loads, options: dict[str, Any]) -> int:
    """Heel a craft, print the answer in the form asked for, and return the exit code."""
    answer = righting_answer(
        craft, loads=loads, heels_deg=options["heels"] or HEELS_DEG, heaviest=heaviest
    )
    print_answer(
        with_notes(answer, notes),
        FORMS,
        options,
        figure=lambda: _drawing(loaded(craft, loads), answer),
    )
    return EXIT_FAILS if righting_fails(answer) else EXIT_DONE


def _of_meshes(
    meshes: tuple[str, ...], options: dict[str, Any], progress: Progress
) -> tuple[Craft, Notes]:
    """Return the craft that mesh files and options make; refused without a CG."""
    if options["cg"] is None and options["mass"] is not None and options["setup"] is None:
        raise click.UsageError("mesh files need --cg X,Y,Z: arms are about the CG of a mass.")
    return chosen_craft(meshes, options, progress)


def _drawing(craft: Craft, answer: RightingAnswer) -> "Figure":
    """Return the drawing of the curve with what happens on it."""
    from hullcheck.report.righting_curve import righting_drawing

    return righting_drawing(craft, answer)
