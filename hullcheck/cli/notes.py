"""What is said beside an answer, on standard error."""

import shutil
import sys
import textwrap
from collections.abc import Sequence

import click

_WIDEST = 100


def print_notes(messages: Sequence[str], caution: str = "") -> None:
    """Print notes and a caution, wrapped where a person reads them, a line each where not."""
    for note in (*(f"{message}." for message in messages), *([caution] if caution else [])):
        text = f"Note: {note}"
        if sys.stderr.isatty():
            width = min(shutil.get_terminal_size().columns, _WIDEST)
            text = textwrap.fill(text, width=max(width, 20), subsequent_indent="  ")
        click.echo(text, err=True)
