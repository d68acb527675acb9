"""The ledger as it stood at a time, by the weigh-ins of the logbook."""

from dataclasses import replace
from datetime import UTC, date, datetime

from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.logbook import Logbook


def ledger_at(ledger: Ledger, logbook: Logbook, when: datetime) -> Ledger:
    """Return the ledger as it was known at a time.

    Parameters
    ----------
    ledger : Ledger
        As it is kept now; masses [g].
    logbook : Logbook
        Its standing weigh-ins of items count.
    when : datetime
        With its zone.

    Returns
    -------
    Ledger
        An item weighed by then weighs what its last weigh-in until then showed, ± that scale's
        resolution. One weighed only later counts as planned, or as not known. One that the logbook
        never tells of is as the ledger has it now, for nobody wrote down when that was.
    """
    weighed: dict[str, list[tuple[datetime, float, float]]] = {}
    for entry, record in logbook.weigh_ins:
        if record.item is not None:
            said = (entry.at, record.mass_g, record.plus_minus_g)
            weighed.setdefault(record.item, []).append(said)

    def then(item: Item) -> Item:
        """Return an item as it was known."""
        if item.name not in weighed:
            return item
        past = [said for said in weighed[item.name] if said[0] <= when]
        if not past:
            return replace(item, weighed_g=None, plus_minus_g=None)
        _, mass, plus_minus = past[-1]
        return replace(item, weighed_g=mass, plus_minus_g=plus_minus)

    return Ledger(items=tuple(then(item) for item in ledger.items))


def end_of_day(logbook: Logbook, day: date) -> datetime:
    """Return the last moment a logbook tells of until the end of a day.

    Parameters
    ----------
    logbook : Logbook
        Each entry's day is that of the zone it was written in.
    day : date
        The day that counts whole.

    Returns
    -------
    datetime
        With its zone; long ago where there is nothing until then.
    """
    past = [entry.at for entry in logbook.standing if entry.at.date() <= day]
    return max(past, default=datetime.min.replace(tzinfo=UTC))
