"""An answer printed in the form that is asked for, and its drawing written."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Generic, TypeVar

import click

from hullcheck.answers.float_records import Caveat
from hullcheck.cli.inputs import Notes
from hullcheck.cli.notes import print_notes
from hullcheck.cli.options import Progress
from hullcheck.files.atomic import write_new_bytes
from hullcheck.report.as_json import json_text

if TYPE_CHECKING:
    from matplotlib.figure import Figure

Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True, kw_only=True)
class Forms(Generic[Answer]):
    """How an answer is put into text.

    Attributes
    ----------
    csv, first, everything : callable
        The answer as CSV, its first screen, and all of it.
    caution : str
        What is said after the notes; "" for nothing.
    """

    csv: Callable[[Answer], str]
    first: Callable[[Answer], Sequence[str]]
    everything: Callable[[Answer], Sequence[str]]
    caution: str = ""


def refuse_two_forms(options: dict[str, Any]) -> None:
    """Refuse --json beside --csv."""
    if options["as_json"] and options["as_csv"]:
        raise click.UsageError("--json and --csv: choose one of them.")


def print_answer(
    answer: Any,  # noqa: ANN401 - any answer record with warnings
    forms: Forms[Any],
    options: dict[str, Any],
    *,
    figure: "Callable[[], Figure] | None" = None,
    progress: Progress | None = None,
) -> None:
    """Write the drawing that is asked for, and print an answer in the form asked for.

    Parameters
    ----------
    answer : answer record
        With `warnings`, notes of reading among them.
    forms : Forms
    options : dict
        `as_json`, `as_csv`, `everything`, and `drawing` where there can be one.
    figure : callable, optional
        Makes the drawing.
    progress : Progress, optional
        Told of the drawing.
    """
    name = options.get("drawing")
    if name is not None and figure is not None:
        if progress is not None:
            progress(f"drawing {name}")
        write_drawing(figure(), name)
    if options["as_json"]:
        click.echo(json_text(answer), nl=False)
    elif options["as_csv"]:
        click.echo(forms.csv(answer), nl=False)
    else:
        lines = forms.everything(answer) if options["everything"] else forms.first(answer)
        click.echo("\n".join(lines))
        print_notes([note.message for note in answer.warnings], forms.caution)
    if name is not None:
        click.echo(f"Drawing written to {name}", err=True)


def write_drawing(figure: "Figure", name: str) -> None:
    """Write a drawing, over an older one of the same name."""
    from hullcheck.report.drawing_file import drawing_bytes

    write_new_bytes(name, drawing_bytes(figure, Path(name).suffix.lower()), overwrite=True)


def with_notes(answer: Any, notes: Notes) -> Any:  # noqa: ANN401 - the same kind of answer
    """Return an answer with what was assumed or repaired in reading put first."""
    return answer.with_warnings(tuple(Caveat(code=c, message=m) for c, m in notes))
