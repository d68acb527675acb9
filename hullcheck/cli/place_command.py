"""hullcheck place: where an item may sit."""

from pathlib import Path
from typing import Any

import click

from hullcheck.answers.float_records import Caveat
from hullcheck.cli.inputs import chosen_build
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.notes import print_notes
from hullcheck.cli.options import (
    MESH_SUFFIXES,
    NUMBER,
    Progress,
    drawing_option,
    format_options,
    water_options,
)
from hullcheck.craft.build import Build
from hullcheck.report.as_json import json_text
from hullcheck.report.display import shown_in
from hullcheck.report.place_csv import csv_text
from hullcheck.report.place_table import all_lines
from hullcheck.report.place_text import CAUTION, first_screen

Point = tuple[float, float, float]


def _spot(ctx: click.Context, param: click.Parameter, value: str | None) -> Point | None:
    """Return X,Y,Z as three numbers."""
    del ctx
    if value is None:
        return None
    try:
        x, y, z = (float(part) for part in value.replace(";", ",").split(","))
    except ValueError as problem:
        raise click.BadParameter(
            f"{value!r} is not three numbers such as 40,0,30", param=param
        ) from problem
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
    if options["as_json"] and options["as_csv"]:
        raise click.UsageError("--json and --csv: choose one of them.")
    if what.lower().endswith(MESH_SUFFIXES):
        raise click.UsageError("place needs a build sheet and a ledger: hullcheck begin.")
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
    said = tuple(Caveat(code=code, message=message) for code, message in build.notes)
    if options["drawing"] is not None:
        from hullcheck.files.atomic import write_new_bytes
        from hullcheck.report.drawing_file import drawing_bytes
        from hullcheck.report.place_drawing import place_drawing

        progress(f"drawing {options['drawing']}")
        figure = place_drawing(craft_of(build, wanted, answer), answer)
        suffix = Path(options["drawing"]).suffix.lower()
        write_new_bytes(options["drawing"], drawing_bytes(figure, suffix), overwrite=True)
    if options["as_json"]:
        click.echo(json_text(answer.with_warnings(said)), nl=False)
    elif options["as_csv"]:
        click.echo(csv_text(answer.scan), nl=False)
    else:
        click.echo("\n".join(all_lines(answer) if options["everything"] else first_screen(answer)))
        print_notes([note.message for note in (*said, *answer.warnings)], CAUTION)
    if options["drawing"] is not None:
        click.echo(f"Drawing written to {options['drawing']}", err=True)
    return EXIT_DONE if answer.intervals else EXIT_FAILS
