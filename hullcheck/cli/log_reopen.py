"""hullcheck log reopen: a seam or opening that is not sealed any more."""

from typing import Any

import click

from hullcheck.cli.log_ask import asked
from hullcheck.cli.log_names import asked_seam
from hullcheck.cli.log_options import entry_options, write
from hullcheck.cli.log_values import TEXT, some_text
from hullcheck.craft.log_records import Reopening


@click.command("reopen")
@click.argument("seam", nargs=-1)
@click.option("--why", type=TEXT, metavar="TEXT", help="What happened to it.")
@click.option("--new-seam", is_flag=True, help="Keep a name that the build sheet does not know.")
@entry_options
def command(seam: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Write down that SEAM is not sealed any more: it cracked, was cut open, its tape came off."""
    name = asked_seam(seam, options, needs="the seam or opening that is not sealed any more")
    why = asked(
        options["why"],
        "What happened to it?",
        some_text,
        option="--why",
        needs="what happened to it",
    )
    write(options, Reopening(seam=name, why=why))
    click.echo(f"{name}: counts as not sealed until hullcheck log seal says otherwise.")
    return 0
