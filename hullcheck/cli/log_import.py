"""hullcheck log import: the entries of an export, all of them or none."""

from pathlib import Path
from typing import Any

import click

from hullcheck.cli.log_options import build_option, chosen
from hullcheck.errors import InputError, MissingFileError
from hullcheck.files.logbook import logbook_path
from hullcheck.files.logbook_csv import import_csv


@click.command("import")
@click.argument("file", metavar="FILE")
@click.argument("build", required=False, metavar="[BUILD]")
@build_option
def command(file: str, build: str | None, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Add the entries of FILE, which `hullcheck log export` wrote, all of them or none.

    Entries that are there already, word for word, are skipped; one whose number stands for another
    is refused.
    """
    where = chosen(build, options["where"])
    done = import_csv(where, _text(file), name=file)
    what = "entry" if len(done.added) == 1 else "entries"
    there = f"; {len(done.skipped)} were there already" if done.skipped else ""
    click.echo(f"{len(done.added)} {what} added to {logbook_path(where)}{there}.")
    return 0


def _text(file: str) -> str:
    """Return the text of a file."""
    try:
        return Path(file).read_bytes().decode("utf-8")
    except FileNotFoundError as problem:
        raise MissingFileError(f"{file}: there is no such file") from problem
    except UnicodeDecodeError as problem:
        raise InputError(
            f"{file}: byte {problem.start} is no UTF-8 text; take the file as hullcheck log export "
            "wrote it"
        ) from problem
    except OSError as problem:
        raise InputError(f"{file}: cannot be read ({problem.strerror})") from problem
