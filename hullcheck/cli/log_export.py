"""hullcheck log export: the whole book as CSV."""

from typing import Any

import click

from hullcheck.cli.log_options import build_option, chosen
from hullcheck.files.logbook import read_logbook
from hullcheck.files.logbook_csv import csv_of


@click.command("export")
@click.argument("build", required=False, metavar="[BUILD]")
@click.option("-o", "--out", metavar="FILE", help="Write to FILE, which must be new.")
@build_option
def command(build: str | None, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Print every entry as CSV, unrounded; `hullcheck log import` restores it exactly."""
    where = chosen(build, options["where"])
    book = read_logbook(where)
    data = csv_of(book).encode("utf-8")
    if options["out"] is None:
        click.echo(data, nl=False)
        return 0
    from hullcheck.files.atomic import write_new_bytes

    write_new_bytes(options["out"], data)
    click.echo(f"{len(book.entries)} entries written to {options['out']}", err=True)
    return 0
