"""The ledger as it was known at a time."""

from datetime import UTC, date, datetime, timedelta, timezone

import pytest

from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.ledger_history import end_of_day, ledger_at
from hullcheck.craft.log_records import Entry, Note, Strike, WeighIn
from hullcheck.craft.logbook import Logbook

LEDGER = Ledger(
    items=(
        Item(name="hull", planned_g=100.0, weighed_g=110.0, plus_minus_g=2.0),
        Item(name="battery", planned_g=140.0, weighed_g=165.0, x_mm=1.0, z_mm=2.0),
        Item(name="radio", weighed_g=40.0),
    )
)


def day(number, hour=12, zone=UTC):
    """Return a time in May."""
    return datetime(2026, 5, number, hour, tzinfo=zone)


def book(*records):
    """Return a logbook of (time, record) pairs."""
    return Logbook(
        entries=tuple(
            Entry(number=i, at=at, written=at, record=record)
            for i, (at, record) in enumerate(records, start=1)
        )
    )


BOOK = book(
    (day(3), WeighIn(item="battery", mass_g=140.0, plus_minus_g=1.0)),
    (day(9), WeighIn(item="battery", mass_g=165.0, plus_minus_g=0.1)),
    (day(7), WeighIn(item="hull", mass_g=110.0, plus_minus_g=1.0)),
    (day(5), WeighIn(item="hull", mass_g=999.0, plus_minus_g=1.0)),
    (day(10), Strike(entry=4, why="misread")),
)


@pytest.mark.parametrize(
    ("when", "hull", "battery"),
    [(1, None, None), (3, None, 140.0), (8, 110.0, 140.0), (9, 110.0, 165.0)],
)
def test_an_item_weighs_what_was_known(when, hull, battery):
    """The last weigh-in until then counts, later ones and struck ones do not."""
    then = ledger_at(LEDGER, BOOK, day(when))
    assert then.item("hull").weighed_g == hull
    assert then.item("battery").weighed_g == battery
    assert then.item("battery").center_mm == (1.0, 0.0, 2.0)


def test_the_scales_resolution_goes_along_and_a_plan_has_its_own():
    """A weighed item is known as well as the scale tells; one only planned by rule of thumb."""
    assert ledger_at(LEDGER, BOOK, day(9)).item("battery").uncertainty_g == 0.1
    assert ledger_at(LEDGER, BOOK, day(1)).item("hull").uncertainty_g == pytest.approx(10.0)


def test_an_item_the_logbook_never_tells_of_is_as_it_is():
    """Nobody wrote down when it was weighed."""
    assert ledger_at(LEDGER, BOOK, day(1)).item("radio") == LEDGER.item("radio")


def test_a_day_ends_in_the_zone_it_was_written_in():
    """23:30 east of Greenwich is still that day, though it is another in UTC."""
    east = timezone(timedelta(hours=9))
    late = day(3, 23, east)
    log = book((late, Note(text="late")), (day(4, 1), Note(text="next")))
    assert end_of_day(log, date(2026, 5, 3)) == late
    assert end_of_day(log, date(2026, 5, 2)).year == 1
