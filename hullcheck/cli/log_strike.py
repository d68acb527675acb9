"""hullcheck log strike: a wrong entry struck out by a later one."""

from typing import Any

import click

from hullcheck.cli.log_ask import asked
from hullcheck.cli.log_options import entry_options, write
from hullcheck.cli.log_values import some_text
from hullcheck.craft.log_records import Strike
from hullcheck.files.logbook import check_strikes, logbook_path, read_logbook


def entry_number(text: str) -> int:
    """Return the number of an entry; ValueError says why not."""
    typed = text.strip()
    if not typed.isascii() or not typed.isdigit() or int(typed) < 1:
        raise ValueError(f"{typed!r} is not the number of an entry, such as 14")
    return int(typed)


@click.command("strike")
@click.argument("number", required=False, metavar="N")
@click.option("--why", metavar="TEXT", help="Why it is wrong.")
@entry_options
def command(number: str | None, **options: Any) -> int:  # noqa: ANN401 - click's options
    """Strike out entry N: it stays in the book to be read, and counts no more."""
    from hullcheck.report.log_words import entry_words

    try:
        given = None if number is None else entry_number(number)
    except ValueError as problem:
        raise click.BadParameter(str(problem), param_hint="N") from problem
    struck = asked(
        given,
        "Number of the wrong entry (hullcheck log show names them):",
        entry_number,
        option="N",
        needs="the number of the entry that is wrong",
    )
    book = read_logbook(options["where"])
    check_strikes(struck, book, logbook_path(options["where"]))
    wrong = next(entry for entry in book.entries if entry.number == struck)
    why = asked(
        options["why"],
        f"Why is it wrong? ({entry_words(wrong.record)})",
        some_text,
        option="--why",
        needs="why the entry is wrong",
    )
    write(options, Strike(entry=struck, why=why))
    click.echo(f"Struck out entry {struck}: {entry_words(wrong.record)}")
    return 0
