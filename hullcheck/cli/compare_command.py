"""hullcheck compare: two builds, two setups, two ledgers, and what each change does."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from hullcheck.answers.compare_answer import Side, compare_answer
from hullcheck.answers.compare_records import CompareAnswer
from hullcheck.cli.compare_days import is_day, ledger_of_day
from hullcheck.cli.inputs import Notes, chosen_build
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.options import MESH_SUFFIXES, Progress, format_options
from hullcheck.cli.printing import Forms, print_answer, refuse_two_forms, with_notes
from hullcheck.craft.build import AS_SHE_IS, Build
from hullcheck.craft.ledger import Ledger
from hullcheck.report.compare_csv import csv_text
from hullcheck.report.compare_table import all_lines
from hullcheck.report.compare_text import CAUTION, first_screen
from hullcheck.report.display import shown_in

FORMS = Forms(csv=csv_text, first=first_screen, everything=all_lines, caution=CAUTION)


@click.command("compare")
@click.argument("old", metavar="OLD")
@click.argument("new", required=False, metavar="[NEW]")
@click.option("--setup", metavar="NAME", help="Both of them in a setup of the build sheet.")
@click.option("--old-setup", metavar="NAME", help="OLD in a setup of its build sheet.")
@click.option("--new-setup", metavar="NAME", help="NEW in a setup of its build sheet, or OLD's.")
@click.option("--build", metavar="BUILD", help="The build that dates are dates of; default: here.")
@format_options
@click.option("--all", "everything", is_flag=True, help="Print every change as a table.")
def command(old: str, new: str | None, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Tell each change from OLD to NEW, its grams, millimeters and degrees; they add up.

    OLD and NEW are builds (folder or build sheet), or one of them a weight ledger (a .csv file),
    taken in place of the other's, or a date (2026-05-12): her ledger as her logbook knew it at the
    end of that day. Two dates, or one against today, want the build under --build. Without NEW, two
    setups of one build are compared: hullcheck compare BUILD --new-setup NAME. Changes are put
    aboard in the ledger's order, each from where the last left her.
    """
    refuse_two_forms(options)
    progress = Progress()
    if new is None and is_day(old):
        new, options["build"] = options["build"] or ".", None
    with shown_in(options["show"]):
        read, notes = _read([old] if new is None else [old, new], options["build"], progress)
        sides = _sides(read, (old, new), _setups(new, options))
        progress("floating her change by change")
        answer = compare_answer(*sides)
        return emit(with_notes(answer, notes), options)


def emit(answer: CompareAnswer, options: dict[str, Any]) -> int:
    """Print the answer in the form asked for; return the code of how she floats now."""
    print_answer(answer, FORMS, options)
    now = answer.new.afloat
    return EXIT_DONE if now is None or now.holds else EXIT_FAILS


@dataclass(frozen=True, slots=True, kw_only=True)
class _Read:
    """What an argument named: a build, with another ledger or its own."""

    build: Build
    ledger: Ledger | None = None


def _setups(new: str | None, options: dict[str, Any]) -> tuple[str | None, str | None]:
    """Return the setup of each side."""
    both, one, other = options["setup"], options["old_setup"], options["new_setup"]
    if both is not None and (one is not None or other is not None):
        raise click.UsageError("--setup is for both; with --old-setup or --new-setup leave it out.")
    if new is None and one is None and other is None:
        raise click.UsageError(
            "name two builds, a build and a ledger or a date, or one build and --new-setup NAME."
        )
    return (both, both) if both is not None else (one, other)


def _sides(
    read: dict[str, _Read], names: tuple[str, str | None], setups: tuple[str | None, str | None]
) -> tuple[Side, Side]:
    """Return both sides."""
    old, new = names
    pair = [read[old], read[old if new is None else new]]
    one, other = (
        Side(name=label, build=side.build, setup=setup, ledger=side.ledger)
        for label, side, setup in zip(_labels(old, new, setups), pair, setups, strict=True)
    )
    return one, other


def _read(
    names: list[str], of_dates: str | None, progress: Progress
) -> tuple[dict[str, _Read], Notes]:
    """Return what each argument names, and what was assumed or repaired in reading."""
    for name in names:
        if name.lower().endswith(MESH_SUFFIXES):
            raise click.UsageError(
                f"{name} is a mesh; compare takes builds. Write one: hullcheck begin {name}"
            )
    builds = [n for n in names if not (_is_ledger(n) or is_day(n))]
    if any(is_day(name) for name in names):
        builds = builds or [of_dates or "."]
    elif of_dates is not None:
        raise click.UsageError("--build is for dates; OLD and NEW name their builds themselves.")
    if not builds:
        raise click.UsageError(
            "a ledger alone does not float: name the build of one of them, its folder or sheet."
        )
    read: dict[str, _Read] = {}
    notes: dict[tuple[str, str], None] = {}
    for name in dict.fromkeys(builds):
        read[name] = _Read(build=chosen_build(name, {}, progress))
        notes |= dict.fromkeys(read[name].build.notes)
    build = read[builds[0]].build
    for name in names:
        if _is_ledger(name):
            # Not at the top: meshes and help need no table.
            from hullcheck.files.ledger_file import read_ledger

            ledger, said = read_ledger(name)
            notes |= dict.fromkeys(said)
            read[name] = _Read(build=build, ledger=ledger)
        elif is_day(name):
            ledger, said = ledger_of_day(build, builds[0], name)
            notes |= dict.fromkeys(said)
            read[name] = _Read(build=build, ledger=ledger)
    return read, tuple(notes)


def _labels(old: str, new: str | None, setups: tuple[str | None, str | None]) -> tuple[str, str]:
    """Return what each side is called: its setup, its file or folder, or both where both differ."""
    if new is None or new == old:
        return setups[0] or AS_SHE_IS.name, setups[1] or AS_SHE_IS.name
    one, other = (
        _short(name) + ("" if setup is None else f", {setup}")
        for name, setup in zip((old, new), setups, strict=True)
    )
    return (one, other) if one != other else (old, new)


def _short(name: str) -> str:
    """Return a build or ledger by its last name: the folder's where it is a sheet in one."""
    if is_day(name):
        return name
    path = Path(name)
    path = path.parent if path.name == "build.toml" else path
    return path.name or path.resolve().name


def _is_ledger(name: str) -> bool:
    """Return whether a name means a weight ledger."""
    return name.lower().endswith(".csv")
