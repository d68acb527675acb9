"""The logbook as it stands now, or as it stood at a time that is asked for."""

import os
from collections.abc import Callable
from datetime import datetime
from typing import Any, TypeVar

import click

from hullcheck.cli.log_values import Typed, moment, now_here
from hullcheck.craft.logbook import Logbook

Decorated = TypeVar("Decorated", bound=Callable[..., Any])


def at_option(function: Decorated) -> Decorated:
    """Add the time the logbook is to be read at."""
    return click.option(
        "--at",
        type=Typed(lambda text: moment(text, now_here()), "time"),
        metavar="TIME",
        help='As the logbook stood then, "2026-10-11 18:00" here or with an offset; default: now.',
    )(function)


def book_as_of(where: str | os.PathLike[str], options: dict[str, Any]) -> tuple[Logbook, datetime]:
    """Return a build's logbook as it stood at the time asked for, and that time."""
    # Not at the top: only what reads a logbook needs a database.
    from hullcheck.files.logbook import read_logbook

    now: datetime = options["at"] or now_here()
    logbook = read_logbook(where)
    return (logbook if options["at"] is None else logbook.as_of(now)), now
