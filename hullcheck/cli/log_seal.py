"""hullcheck log seal: a seam or opening sealed, with what, and how long it cures."""

from datetime import timedelta
from typing import Any

import click

from hullcheck.cli.log_ask import asked, asked_if_any
from hullcheck.cli.log_cautions import sealing_caution
from hullcheck.cli.log_names import asked_seam
from hullcheck.cli.log_options import entry_options, say, write
from hullcheck.cli.log_values import NOT_NEGATIVE, TEXT, not_negative, some_text
from hullcheck.craft.log_records import Sealing
from hullcheck.errors import InputError
from hullcheck.files.known_names import glance_at, plain_name


@click.command("seal")
@click.argument("seam", nargs=-1)
@click.option("--with", "material", type=TEXT, metavar="WHAT", help="What it was sealed with.")
@click.option("--batch", type=TEXT, metavar="TEXT", help="Batch of that material.")
@click.option("--cure-h", type=NOT_NEGATIVE, metavar="H", help="Hours it cures before water.")
@click.option("--new-seam", is_flag=True, help="Keep a name that the build sheet does not know.")
@entry_options
def command(seam: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Write down that SEAM, a seam or an opening, was sealed, the first time or again."""
    name = asked_seam(seam, options, needs="the seam or opening that was sealed")
    material = asked(
        options["material"],
        "Sealed with what?",
        some_text,
        option="--with",
        needs="what it was sealed with",
    )
    batch = asked_if_any(options["batch"], "Batch of it (enter to skip):", some_text)
    cure_h = asked_if_any(
        options["cure_h"], "Hours it cures before water (enter to skip):", not_negative
    )
    entry = write(options, Sealing(seam=name, material=material, batch=batch, cure_h=cure_h))
    if cure_h is None:
        say(f"{name}: no cure time was said; nothing here knows when it may get wet.")
    else:
        until = (entry.at + timedelta(hours=cure_h)).isoformat(" ", "minutes")[:16]
        click.echo(f"{name}: cures until {until}; a leak test after that shows whether it holds.")
    _compare(options["where"], name)
    say(sealing_caution(material))
    return 0


def _compare(where: str, name: str) -> None:
    """Say where the build sheet still has an opening open, as heights are told by the sheet."""
    try:
        glance = glance_at(where)
    except InputError:
        return  # said already, where the name was held against the sheet's
    if glance is not None and plain_name(name) in map(plain_name, glance.open):
        click.echo(
            f"{glance.name}: has {name} open, and freeboard counts it so; change its state to "
            '"sealed" if this is to stay.'
        )
