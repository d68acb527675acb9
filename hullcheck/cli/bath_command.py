"""hullcheck bath: the bath test, before it and after."""

from typing import Any

import click

from hullcheck.answers.bath_answer import Bath, bath, bath_fails
from hullcheck.answers.bath_bag import Placing
from hullcheck.answers.bath_found import Measurements, with_found
from hullcheck.answers.bath_records import BathAnswer
from hullcheck.answers.incline import ANGLE_DEG
from hullcheck.answers.uncertainty import READING_MM
from hullcheck.cli.bath_options import measured_options, readings_of
from hullcheck.cli.inputs import chosen_build
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import MESH_SUFFIXES, NUMBER, Progress, format_options, water_options
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.craft.weighing import MEASURED_PLUS_MINUS_G
from hullcheck.report.bath_csv import csv_text
from hullcheck.report.bath_table import all_lines
from hullcheck.report.bath_text import CAUTION, first_screen
from hullcheck.report.display import shown_in

FORMS = Forms(csv=csv_text, first=first_screen, everything=all_lines, caution=CAUTION)
_NOT_ASKED = ("mass", "cg", "unit", "forward", "up")


@click.command("bath")
@click.argument("what", required=False, default=".", metavar="[BUILD]")
@click.option("--setup", metavar="NAME", help="What the finished craft is: a setup of the sheet.")
@click.option(
    "--bag-z",
    type=NUMBER,
    metavar="Z",
    help="Height of the middle of the bag in mm; without it the bag lies on the bottom inside.",
)
@click.option("--propped", is_flag=True, help="The bag is propped at its true height.")
@click.option("--no-bag", is_flag=True, help="What is aboard floats as it is, without a bag.")
@click.option("--floats-off", is_flag=True, help="Her tip floats are not fitted in the bath.")
@measured_options
@water_options
@format_options
@click.option("--all", "everything", is_flag=True, help="Print the sheet for the tub in full.")
def command(what: str, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Prepare a bath test, and explain what was measured in it.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. The ledger's
    column aboard says what is built in so far; the bag is all the rest. Readings are distances from
    each [[mark]] down to the water.
    """
    refuse_two_forms(options)
    if sum((options["bag_z"] is not None, options["propped"], options["no_bag"])) > 1:
        raise click.UsageError("--bag-z, --propped and --no-bag: choose one of them.")
    if what.lower().endswith(MESH_SUFFIXES):
        raise click.UsageError(
            f"{what} is a mesh: bath needs a build with a ledger and marks; write one with "
            "hullcheck begin."
        )
    _refuse_idle(options)
    progress = Progress()
    with shown_in(options["show"]):
        build = chosen_build(what, {**options, **dict.fromkeys(_NOT_ASKED)}, progress)
        placing = Placing(z_mm=options["bag_z"], propped=options["propped"], none=options["no_bag"])
        progress("floating her in the bath")
        test = bath(build, options["setup"], placing, floats_off=options["floats_off"])
        answer = with_found(test, _measurements(test, options))
        return emit(with_notes(answer, build.notes), options)


def emit(answer: BathAnswer, options: dict[str, Any]) -> int:
    """Print the answer in the form asked for, and return the exit code."""
    print_answer(answer, FORMS, options)
    return EXIT_FAILS if bath_fails(answer) else EXIT_DONE


def _refuse_idle(options: dict[str, Any]) -> None:
    """Refuse how well something is known where that something is not given."""
    for name, needs in (
        ("scale", "weighed"),
        ("ruler", "measured"),
        ("protractor", "incline"),
        ("added_z", "incline"),
    ):
        if options[name] is not None and options[needs] is None:
            raise click.UsageError(f"--{name.replace('_', '-')} goes with --{needs}.")
    if options["weighed"] is not None and not (options["measured"] or options["incline"]):
        raise click.UsageError("--weighed goes with --measured or --incline.")


def _measurements(test: Bath, options: dict[str, Any]) -> Measurements:
    """Return what was measured, by the options."""
    given = options["measured"]
    known = {
        "reading_mm": (options["ruler"], READING_MM),
        "scale_g": (options["scale"], MEASURED_PLUS_MINUS_G),
        "angle_deg": (options["protractor"], ANGLE_DEG),
    }
    return Measurements(
        readings=() if given is None else readings_of(given, test.reader.marks),
        weighed_g=options["weighed"],
        shifts=options["incline"] or (),
        added_z_mm=options["added_z"],
        **{name: usual if value is None else value for name, (value, usual) in known.items()},
    )
