"""hullcheck log note: anything in the builder's own words."""

from typing import Any

import click

from hullcheck.cli.log_ask import asked
from hullcheck.cli.log_options import entry_options, say, write
from hullcheck.cli.log_values import some_text
from hullcheck.craft.log_records import Note


@click.command("note")
@click.argument("text", nargs=-1)
@click.option("--seam", metavar="SEAM", help="The seam or opening it is about.")
@click.option("--new-seam", is_flag=True, help="Keep a seam's name that the sheet does not know.")
@entry_options
def command(text: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Write down anything in your own words: TEXT, in quotes or not."""
    from hullcheck.cli.log_cautions import air_caution

    about = options["seam"]
    if about is not None:
        from hullcheck.cli.log_names import names_of

        about = names_of(options["where"], new=options["new_seam"]).given(about)
    words = asked(
        " ".join(text) if text else None,
        "Note:",
        some_text,
        option="TEXT",
        needs="what is to be written down",
    )
    write(options, Note(text=words, about=about))
    if air_caution(words):
        say(air_caution(words))
    return 0
