"""hullcheck report: one page of all of it, to read on a phone or to print."""

import re
from pathlib import Path
from typing import Any, Final

import click

from hullcheck.answers.check_answer import check_answer
from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.cli.as_of import at_option
from hullcheck.cli.evidence import chosen_evidence
from hullcheck.cli.main import EXIT_DONE, EXIT_FAILS
from hullcheck.cli.notes import print_notes
from hullcheck.cli.options import MESH_SUFFIXES, load_options, water_options
from hullcheck.cli.out_place import refuse_no_place
from hullcheck.cli.report_files import named_files, versions, without_folder
from hullcheck.errors import InputError
from hullcheck.files.atomic import write_new_bytes
from hullcheck.report.check_text import facts_lines, head_line
from hullcheck.report.check_titles import verdict_title
from hullcheck.report.check_words import CLOSING
from hullcheck.report.display import display_units, shown_in
from hullcheck.report.page_answers import Reported

_SUFFIXES: Final = (".html", ".htm")
_MARK: Final = b'<meta name="generator" content="hullcheck '
_HEAD_BYTES: Final = 4096


def _page_name(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the page's name if it ends as a page's does."""
    del ctx
    if value is not None and not value.lower().endswith(_SUFFIXES):
        raise click.BadParameter(f"{value!r} does not end in .html", param=param)
    return value


def _units(ctx: click.Context, param: click.Parameter, value: str | None) -> tuple[str, ...]:
    """Return the units to show."""
    del ctx
    try:
        return () if value is None else display_units(value)
    except InputError as problem:
        raise click.BadParameter(str(problem), param=param) from problem


@click.command("report")
@click.argument("what", default=".", metavar="[BUILD]")
@click.option(
    "-o",
    "--out",
    callback=_page_name,
    metavar="FILE",
    help="Write the page to FILE; her name and -report.html, here, unless given.",
)
@click.option("--overwrite", is_flag=True, help="Write over FILE even if it is no report.")
@load_options
@water_options
@click.option("--setup", metavar="NAME", help="Report on her in a setup of the build sheet alone.")
@at_option
@click.option("--person", is_flag=True, help="A person is to be aboard: say who decides.")
@click.option("--show", callback=_units, metavar="UNITS", help="Units, such as oz,in.")
def command(what: str, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Write one page of all of it: the list, the drawings, tests, assumptions, files.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. The page is one
    HTML file that needs no network, is read on a phone, and prints. The same files, versions,
    options and --at give the same bytes; without --at it is told for now, to the minute. An older
    report of that name is written over, anything else is not. Exit code 3 where something must be
    settled before she goes on the water.
    """
    if what.lower().endswith(MESH_SUFFIXES):
        raise click.UsageError("report needs a build sheet: hullcheck begin writes one.")
    if options["out"] is not None:
        refuse_other_files(options["out"], overwrite=options["overwrite"])
    with shown_in(options["show"]):
        return emit(chosen_evidence(what, options, full_minute=True), what, options)


def emit(evidence: CheckEvidence, what: str, options: dict[str, Any]) -> int:
    """Write the page, say what it comes to and where it is, and return the exit code."""
    name = options["out"]
    if name is None:
        name = default_name(evidence.build.name)
        refuse_other_files(name, overwrite=options["overwrite"])
    told = reported(evidence, what, options)
    # Not at the top: only the page needs templates and drawings.
    from hullcheck.report.page import page_html

    data = page_html(told).encode("utf-8")
    write_new_bytes(name, data, overwrite=True)
    facts = facts_lines(told.check, page=name)
    click.echo("\n".join([verdict_title(told.check), head_line(told.check), *facts]))
    print_notes((), CLOSING)
    click.echo(f"Report written to {name} ({len(data) / 1000:.0f} kB)", err=True)
    return EXIT_FAILS if told.check.holds_back else EXIT_DONE


def reported(evidence: CheckEvidence, what: str, options: dict[str, Any]) -> Reported:
    """Return all that the page tells of."""
    # Before the long work: their hashes are those of what was just read.
    files = named_files(what)
    return Reported(
        evidence=evidence,
        check=check_answer(evidence, person=options["person"]),
        notes=without_folder(evidence.build.notes, what),
        files=files,
        versions=versions(),
    )


def default_name(craft: str) -> str:
    """Return what her report is called: "tarnwing-90-report.html".

    Examples
    --------
    >>> default_name("Tarnwing 90"), default_name("通気 / ..")
    ('tarnwing-90-report.html', 'report.html')
    """
    words = re.findall(r"[a-z0-9]+", craft.lower())
    return "-".join([*words, "report"])[-80:].lstrip("-") + ".html"


def refuse_other_files(name: str, *, overwrite: bool) -> None:
    """Refuse to write over a file that is no report.

    Raises
    ------
    InputError
        If such a file is there, and it is not said to overwrite it, or no file can be there.
    """
    refuse_no_place(name)
    path = Path(name)
    if overwrite or not path.is_file():
        return
    with path.open("rb") as stream:
        if _MARK in stream.read(_HEAD_BYTES):
            return
    raise InputError(
        f"{name}: is there already, and is no report; name another file (-o), or say --overwrite"
    )
