"""Options that the logbook's commands share, and how an entry is written and told."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any, Final, TypeVar

import click

from hullcheck.cli.log_values import Typed, moment, now_here
from hullcheck.craft.log_records import Entry, Record
from hullcheck.errors import InputError, MissingFileError
from hullcheck.files.logbook import append, logbook_path

Decorated = TypeVar("Decorated", bound=Callable[..., Any])

_AT: Final = Typed(lambda text: moment(text, now_here()), "time")


def build_option(function: Decorated) -> Decorated:
    """Add the build whose logbook it is."""
    return click.option(
        "--build",
        "where",
        default=".",
        callback=_build,
        metavar="PATH",
        help="The build's folder, or its build sheet; default: here.",
    )(function)


def entry_options(function: Decorated) -> Decorated:
    """Add the build, when it happened, and a picture."""
    for decorate in (
        click.option(
            "--photo",
            metavar="FILE",
            help="A picture: its path from the build's folder and its SHA-256 are kept.",
        ),
        click.option(
            "--at",
            type=_AT,
            metavar="TIME",
            help='When it happened, "2026-05-12 18:30" here or with an offset; default: now.',
        ),
        build_option,
    ):
        function = decorate(function)
    return function


def write(
    options: dict[str, Any],
    record: Record,
    *,
    at: datetime | None = None,
    finishes: int | None = None,
) -> Entry:
    """Write an entry into the logbook and say which number it got.

    Parameters
    ----------
    options : dict
        `where`, `at` and `photo`.
    record : Record
        What the entry tells.
    at : datetime, optional
        When it happened, where that is known better than by `options` or now.
    finishes : int, optional
        Of a leak test: the entry that started its clock.
    """
    photo, now = None, now_here()
    if options["photo"] is not None:
        from hullcheck.files.photo import photo_of

        photo = photo_of(options["where"], options["photo"])
    entry = append(
        options["where"],
        record,
        at=at or options["at"] or now,
        written=now,
        finishes=finishes,
        photo=photo,
    )
    click.echo(f"Recorded as entry {entry.number}.")
    return entry


def say(message: str) -> None:
    """Say something beside the answer, on standard error."""
    from hullcheck.cli.notes import print_notes

    print_notes([], message)


def _build(ctx: click.Context, param: click.Parameter, value: str) -> str:
    """Return the build of --build."""
    del ctx, param
    return _checked_build(value, "--build")


def _checked_build(value: str, option: str) -> str:
    """Return a build that is named; refused if there is none, or it is something else."""
    path, folder = Path(value), logbook_path(value).parent
    if not folder.is_dir():
        if path.is_file():
            raise InputError(f"{option} {value}: is neither a folder nor a build sheet (.toml)")
        raise MissingFileError(f"{option} {value}: there is no such folder or build sheet")
    if path.suffix.lower() == ".toml" and not path.exists():
        raise MissingFileError(f"{option} {value}: there is no such build sheet")
    return value


def chosen(build: str | None, where: str) -> str:
    """Return the build that is named, by an argument or by --build, not by both."""
    if build is None:
        return where
    source = click.get_current_context().get_parameter_source("where")
    if source is not click.core.ParameterSource.DEFAULT:
        raise click.UsageError("BUILD and --build: name the build once.")
    return _checked_build(build, "BUILD")
