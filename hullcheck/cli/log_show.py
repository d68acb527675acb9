"""hullcheck log show: what the book says."""

from typing import Any

import click

from hullcheck.cli.log_options import build_option
from hullcheck.craft.log_records import Entry
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError
from hullcheck.files.logbook import read_logbook


@click.command("show")
@click.option("--seam", metavar="SEAM", help="Only what is about this seam or opening.")
@click.option("--all", "everything", is_flag=True, help="Every entry with every detail.")
@click.option("--json", "as_json", is_flag=True, help="Print every entry as JSON, unrounded.")
@click.option("--csv", "as_csv", is_flag=True, help="Print every entry as CSV, unrounded.")
@build_option
def command(**options: Any) -> int:  # noqa: ANN401 - click's options
    """Print the last entries, or with --all every one. What was struck out stays, and says why."""
    if options["as_json"] and options["as_csv"]:
        raise click.UsageError("--json and --csv: choose one of them.")
    book = read_logbook(options["where"])
    entries = book.entries if options["seam"] is None else _about(book, options["seam"])
    if options["as_json"]:
        from hullcheck.answers.log_answer import log_answer
        from hullcheck.report.as_json import json_text

        click.echo(json_text(log_answer(book, entries)), nl=False)
    elif options["as_csv"]:
        from hullcheck.files.logbook_csv import csv_of

        click.echo(csv_of(Logbook(entries=entries)).encode("utf-8"), nl=False)
    else:
        from hullcheck.report.log_table import all_lines, first_screen

        lines = all_lines if options["everything"] else first_screen
        click.echo("\n".join(lines(book, entries, _limit(options["where"]))))
    return 0


def _limit(where: str) -> float | None:
    """Return the build sheet's limit of a leak test [g in 30 min]; None where it has none."""
    from hullcheck.files.known_names import glance_at

    try:
        glance = glance_at(where)
    except InputError as problem:
        click.echo(f"hullcheck: {problem}; tests are not held against its limit", err=True)
        return None
    return None if glance is None else glance.leak_g_per_30min


def _about(book: Logbook, seam: str) -> tuple[Entry, ...]:
    """Return the entries about a seam; says which names there are where none is about it."""
    from hullcheck.answers.log_answer import about_seam, seam_names
    from hullcheck.files.known_names import nearest, plain_name

    names = seam_names(book)
    same = [name for name in names if plain_name(name) == plain_name(seam)]
    if not same and book.entries:
        near = nearest(seam, names) or list(names)
        click.echo(f"hullcheck: names in the logbook: {', '.join(near) or 'none'}", err=True)
    return about_seam(book, same)
