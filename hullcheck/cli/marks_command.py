"""hullcheck marks: full-size sheets to mark the waterline on the hull with."""

from pathlib import Path
from typing import Any

import click

from hullcheck.answers.bath_bag import Placing
from hullcheck.answers.marking_answer import Marking, marking, marks_fail
from hullcheck.answers.marking_records import MarksAnswer
from hullcheck.answers.marking_stations import EVERY_MM
from hullcheck.cli.inputs import chosen_build
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import (
    MESH_SUFFIXES,
    NUMBER,
    Progress,
    entries,
    format_options,
    water_options,
)
from hullcheck.cli.out_place import refuse_no_place
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.files.atomic import write_new_bytes
from hullcheck.report.display import shown_in
from hullcheck.report.marking_csv import csv_text
from hullcheck.report.marking_table import all_lines
from hullcheck.report.marking_text import CAUTION, first_screen

_NOT_ASKED = ("mass", "cg", "unit", "forward", "up")
_BAG = ("bag_z", "propped", "no_bag")


def _stations(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[float, ...]:  # fmt: skip
    """Return the stations of a list such as 100,262."""
    del ctx
    if value is None:
        return ()
    try:
        return tuple(float(text) for text in entries(value))
    except ValueError as problem:
        raise click.BadParameter(
            f"{value!r} is not a list of stations in mm, such as 100,262", param=param
        ) from problem


def _pdf(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the file's name if it ends as a PDF's."""
    del ctx
    if value is not None and not value.lower().endswith(".pdf"):
        raise click.BadParameter(f"{value!r} does not end in .pdf", param=param)
    return value


@click.command("marks")
@click.argument("what", required=False, default=".", metavar="[BUILD]")
@click.option(
    "-o",
    "--out",
    callback=_pdf,
    metavar="FILE",
    help="Write the sheets to FILE, a PDF that is printed at 100 %.",
)
@click.option("--overwrite", is_flag=True, help="Write over FILE where it is there already.")
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    help="The paper in the printer; a4 unless given.",
)
@click.option(
    "--every",
    type=NUMBER,
    metavar="MM",
    help="A station every so many mm, and at each seam, mark, step and bulkhead; 50 unless given.",
)
@click.option(
    "--stations",
    callback=_stations,
    metavar="LIST",
    help="These stations only, in mm, such as 100,262.",
)
@click.option("--no-side", is_flag=True, help="Leave the side view out of the sheets.")
@click.option("--setup", metavar="NAME", help="Her waterline in a setup of the build sheet.")
@click.option("--bath", "in_the_bath", is_flag=True, help="Her waterline in the bath test instead.")
@click.option(
    "--bag-z",
    type=NUMBER,
    metavar="Z",
    help="With --bath: height of the middle of the bag in mm; else it lies on the bottom inside.",
)
@click.option("--propped", is_flag=True, help="With --bath: the bag is at its true height.")
@click.option("--no-bag", is_flag=True, help="With --bath: what is aboard, without a bag.")
@water_options
@format_options
@click.option("--all", "everything", is_flag=True, help="Print every station as a table.")
def command(what: str, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Where to mark her waterline: up from the keel and round the skin, and full-size sheets of it.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. The sheets hold
    a table, the side view, a section and a strip to wrap round at every station. Print them at
    100 % and measure the rulers.
    """
    refuse_two_forms(options)
    _refuse_idle(options)
    refuse_no_place(options["out"])
    if what.lower().endswith(MESH_SUFFIXES):
        raise click.UsageError("marks needs a build sheet: hullcheck begin writes one.")
    progress = Progress()
    with shown_in(options["show"]):
        build = chosen_build(what, {**options, **dict.fromkeys(_NOT_ASKED)}, progress)
        progress("floating her")
        found = marking(
            build,
            options["setup"],
            every_mm=EVERY_MM if options["every"] is None else options["every"],
            stations_mm=options["stations"],
            in_the_bath=_placing(options),
        )
        return emit(found, with_notes(found.answer, build.notes), options, progress)


def emit(found: Marking, answer: MarksAnswer, options: dict[str, Any], progress: Progress) -> int:
    """Write the sheets that are asked for, print the answer, and return the exit code."""
    fails, sheets = marks_fail(answer), ""
    if options["out"] is not None and answer.bodies:
        progress(f"drawing {options['out']}")
        sheets = write_sheets(found, options)
    forms: Forms[MarksAnswer] = Forms(
        csv=csv_text,
        first=lambda one: first_screen(one, sheets),
        everything=lambda one: all_lines(one, sheets),
        caution="" if fails else CAUTION,
    )
    print_answer(answer, forms, options)
    if options["out"] is not None:
        said = f"Sheets written to {options['out']}" if sheets else "No sheets were written"
        click.echo(said, err=True)
    return EXIT_FAILS if fails else EXIT_DONE


def write_sheets(found: Marking, options: dict[str, Any]) -> str:
    """Write the sheets, and return how many of what paper are where.

    A file that holds these very bytes already is left alone; another is refused unless it may be
    overwritten.
    """
    # Not at the top: only sheets need drawing, which takes a third of a second to load.
    from hullcheck.report.marking_sheets import marking_sheets

    name: str = options["out"]
    sheets = marking_sheets(found, options["paper"] or "a4", side_view=not options["no_side"])
    data, path = sheets.pdf(), Path(name)
    if not (path.is_file() and path.read_bytes() == data):
        overwrite: bool = options["overwrite"]
        write_new_bytes(name, data, overwrite=overwrite, instead="say --overwrite")
    return f"{sheets.words} in {name}"


def _placing(options: dict[str, Any]) -> Placing | None:
    """Return how the bag is put, where the bath test's waterline is asked for."""
    if not options["in_the_bath"]:
        return None
    return Placing(z_mm=options["bag_z"], propped=options["propped"], none=options["no_bag"])


def _refuse_idle(options: dict[str, Any]) -> None:
    """Refuse options that contradict each other, or that say nothing without another."""
    if options["every"] is not None and options["stations"]:
        raise click.UsageError("--every and --stations: choose one of them.")
    bag = [name for name in _BAG if options[name] not in {None, False}]
    if bag and not options["in_the_bath"]:
        raise click.UsageError(f"--{bag[0].replace('_', '-')} goes with --bath.")
    if len(bag) > 1:
        raise click.UsageError("--bag-z, --propped and --no-bag: choose one of them.")
    for name in ("overwrite", "paper", "no_side"):
        if options[name] and options["out"] is None:
            raise click.UsageError(f"--{name.replace('_', '-')} goes with -o FILE.")
