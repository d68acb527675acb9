"""hullcheck log weigh: her mass, or an item's, as the scale showed it."""

from typing import Any

import click

from hullcheck.cli.log_ask import asked
from hullcheck.cli.log_options import entry_options, say, write
from hullcheck.cli.log_values import MASS, Weighed, weighed
from hullcheck.craft.log_records import WeighIn
from hullcheck.errors import InputError
from hullcheck.files.known_names import LedgerRow, glance_at, ledger_rows, nearest, plain_name


@click.command("weigh")
@click.argument("what", nargs=-1, metavar="[ITEM] GRAMS")
@click.option(
    "--scale", type=MASS, metavar="G", help="The scale's resolution in g; default: the last digit."
)
@click.option("--new-item", is_flag=True, help="Keep an item's name that the ledger does not know.")
@entry_options
def command(what: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Write down a weighing: GRAMS alone is her whole mass, all-up; with ITEM that item's.

    Type all digits the scale shows: 704.6 is taken to 0.1 g, 704 to 1 g, unless --scale says
    otherwise. The ledger is not changed: which row to change is said.
    """
    item, given = _parted(what)
    ledger = ledger_rows(options["where"])
    row = None
    if item is not None:
        item, row = _known(item, ledger, new=options["new_item"])
    mass = asked(
        given,
        f"Mass of {item or 'the whole craft, all-up'} (g):",
        weighed,
        option="GRAMS",
        needs="what the scale showed, in g",
    )
    scale_g = mass.digits_g if options["scale"] is None else options["scale"].mass_g
    write(options, WeighIn(mass_g=mass.mass_g, plus_minus_g=scale_g, item=item))
    if options["scale"] is None:
        say(f"scale taken to {scale_g:g} g, by the digits; --scale says otherwise.")
    if item is None:
        _all_up(options["where"], mass.mass_g, scale_g)
    elif ledger is not None and row is not None:
        _compare(ledger[0], row, mass.mass_g, scale_g)
    return 0


def _parted(what: tuple[str, ...]) -> tuple[str | None, Weighed | None]:
    """Return the item and the mass that were given; a single word that is no mass is an item."""
    if not what:
        return None, None
    try:
        return " ".join(what[:-1]) or None, weighed(what[-1])
    except ValueError as problem:
        if len(what) > 1 or what[-1][:1].isdigit() or what[-1][:1] in "-+−":
            raise click.BadParameter(str(problem), param_hint="GRAMS") from problem
        return what[0], None


def _known(
    item: str, ledger: tuple[str, tuple[LedgerRow, ...]] | None, *, new: bool
) -> tuple[str, LedgerRow | None]:
    """Return an item as the ledger spells it, with its row; refused where it has no such item."""
    item = " ".join(item.split())
    if ledger is None:
        say("no weights.csv there: the item's name is not checked.")
        return item, None
    name, rows = ledger
    row = next((one for one in rows if plain_name(one.item) == plain_name(item)), None)
    if row is None and not new:
        near = nearest(item, tuple(one.item for one in rows))
        hint = f"nearest: {', '.join(near)}" if near else "none is like it"
        raise InputError(f"{name} has no item {item!r} ({hint}); --new-item keeps it as a new name")
    return (item if row is None else row.item), row


def _compare(name: str, row: LedgerRow, mass_g: float, scale_g: float) -> None:
    """Say where the ledger has another mass for an item, and the row to change."""
    place = f"{name} row {row.number}, weighed_g"
    if row.weighed_g is None:
        planned = "" if row.planned_g is None else f", planned {row.planned_g:g} g"
        click.echo(f"{place}: {row.item} is not weighed there yet{planned}; write {mass_g:g} in.")
    elif abs(row.weighed_g - mass_g) > 0.5 * scale_g:
        click.echo(
            f"{place}: has {row.weighed_g:g} g for {row.item}; change it to {mass_g:g} if this "
            "weighing counts."
        )
    else:
        click.echo(f"{place}: has {row.weighed_g:g} g for {row.item} too.")


def _all_up(where: str, mass_g: float, scale_g: float) -> None:
    """Say where the build sheet has another measured mass for her."""
    try:
        glance = glance_at(where)
    except InputError as problem:
        say(f"{problem}.")
        return
    if glance is None:
        return
    if glance.mass_g is None:
        click.echo(f"{glance.name}: mass_g = {mass_g:g} under [craft] would float her at that.")
    elif abs(glance.mass_g - mass_g) > 0.5 * scale_g:
        click.echo(
            f"{glance.name}, mass_g under [craft]: has {glance.mass_g:g} g; change it to "
            f"{mass_g:g} if this weighing counts."
        )
