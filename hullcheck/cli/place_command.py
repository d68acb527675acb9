"""hullcheck place: where an item may sit."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from hullcheck.answers.place_records import PlaceAnswer
from hullcheck.cli.inputs import chosen_build
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import (
    MESH_SUFFIXES,
    NUMBER,
    Progress,
    drawing_option,
    format_options,
    three_numbers,
    water_options,
)
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.report.display import shown_in
from hullcheck.report.place_csv import csv_text
from hullcheck.report.place_table import all_lines
from hullcheck.report.place_text import CAUTION, first_screen

if TYPE_CHECKING:
    from matplotlib.figure import Figure

Point = tuple[float, float, float]
FORMS = Forms(
    csv=lambda answer: csv_text(answer.scan),
    first=first_screen,
    everything=all_lines,
    caution=CAUTION,
)


def _spot(ctx: click.Context, param: click.Parameter, value: str | None) -> Point | None:
    """Return X,Y,Z as three numbers."""
    del ctx
    if value is None:
        return None
    x, y, z = three_numbers(value, param, sample="40,0,30")
    if not all(abs(v) < float("inf") for v in (x, y, z)):
        raise click.BadParameter(f"{value!r}: not finite numbers", param=param)
    return x, y, z


@click.command("place")
@click.argument("item", metavar="ITEM")
@click.argument("what", default=".", metavar="[BUILD]")
@click.option(
    "--mass", type=NUMBER, metavar="G", help="What the item weighs, in g, instead of the ledger's."
)
@click.option(
    "--y",
    type=NUMBER,
    metavar="MM",
    help="Distance of its center to starboard, in mm; the ledger's.",
)
@click.option("--z", type=NUMBER, metavar="MM", help="Height of its center, in mm; the ledger's.")
@click.option(
    "--ballast-at",
    callback=_spot,
    metavar="X,Y,Z",
    help="Where ballast would go, in mm, if there is no place; else the nose or the tail.",
)
@water_options
@click.option("--setup", metavar="NAME", help="Place it in a setup of the build sheet.")
@format_options
@click.option("--all", "everything", is_flag=True, help="Print every place that was tried.")
@drawing_option
def command(item: str, what: str, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Where ITEM may sit to keep CG, trim, heel and freeboard, or the least ballast instead.

    ITEM is an item of the weight ledger. BUILD is a build sheet (build.toml) or the folder that
    holds one; default: here. She is floated again with ITEM at one station after another, inside
    the box the sheet gives it (within_mm in [[equipment]]), else along the whole hull. Nothing is
    written to your files. Exit code 3 where there is no place.
    """
    refuse_two_forms(options)
    if what.lower().endswith(MESH_SUFFIXES):
        raise click.UsageError("place needs a build sheet and a ledger: hullcheck begin.")
    if what == "." and Path(item).is_dir():
        raise click.UsageError(f"the item is missing: hullcheck place ITEM {item}.")
    if Path(item).exists() and not Path(what).exists():
        raise click.UsageError(f"the item goes first: hullcheck place {what!r} {item}.")
    progress = Progress()
    # --mass is the item's here, not hers.
    hers = {name: options[name] for name in ("water", "temperature", "density")}
    with shown_in(options["show"]):
        return emit(chosen_build(what, hers, progress), item, options, progress)


def emit(build: Build, item: str, options: dict[str, Any], progress: Progress) -> int:
    """Place an item, print the answer in the form asked for, and return the exit code."""
    from hullcheck.answers.place_answer import craft_of, place_answer
    from hullcheck.answers.place_load import Wanted

    wanted = Wanted(
        item=item,
        setup=options["setup"],
        mass_g=options["mass"],
        y_mm=options["y"],
        z_mm=options["z"],
    )
    progress(f"floating her with {item} at one place after another")
    answer = place_answer(build, wanted, ballast_at_mm=options["ballast_at"])
    print_answer(
        with_notes(answer, build.notes),
        FORMS,
        options,
        figure=lambda: _drawing(craft_of(build, wanted, answer), answer),
        progress=progress,
    )
    return EXIT_DONE if answer.intervals else EXIT_FAILS


def _drawing(craft: Craft, answer: PlaceAnswer) -> "Figure":
    """Return the drawing of where the item may sit."""
    from hullcheck.report.place_drawing import place_drawing

    return place_drawing(craft, answer)
