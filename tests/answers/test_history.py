"""Weigh-ins against freeboard by date, for a box in closed form."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from crafts import box_body, opening_at

from hullcheck.answers.history_answer import history_answer
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import Entry, WeighIn
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.setups import Setup
from hullcheck.errors import InputError
from hullcheck.water import water_of_density

PER_MM = 60.0
"""Grams that sink the box of 600 × 100 mm a millimeter in water of 1 g/cm³."""


def item(name, planned, weighed):
    """Return an item amidships."""
    return Item(name=name, planned_g=planned, weighed_g=weighed, x_mm=300.0, y_mm=0.0, z_mm=20.0)


def build(**more):
    """Return the box with a hole 60 mm up and two items of 1500 and 300 g."""
    ledger = Ledger(items=(item("hull", 1500.0, 1560.0), item("battery", 300.0, None)))
    return Build(
        name="box",
        bodies=(box_body(),),
        water=water_of_density(1000.0),
        openings=(opening_at((300.0, 0.0, 60.0)),),
        limits=Limits(freeboard_mm=28.0),
        **{"ledger": ledger, **more},
    )


def book(*weighed):
    """Return a logbook of (day, item, grams, plus minus)."""
    return Logbook(
        entries=tuple(
            Entry(
                number=i,
                at=datetime(2026, 5, day, tzinfo=UTC),
                written=datetime(2026, 5, 30, tzinfo=UTC),
                record=WeighIn(item=name, mass_g=grams, plus_minus_g=about),
            )
            for i, (day, name, grams, about) in enumerate(weighed, start=1)
        )
    )


def test_each_gram_takes_its_share_of_a_millimeter():
    """Derived: height of the hole = 60 − m/(ρ A), row by row, and the change between rows."""
    log = book((1, "hull", 1530.0, 1.0), (2, "hull", 1560.0, 1.0), (3, "battery", 360.0, 2.0))
    rows = history_answer(build(), log).rows
    masses = [1830.0, 1860.0, 1920.0]
    assert [row.mass_g for row in rows] == masses
    assert [row.grew_g for row in rows] == [30.0, 30.0, 60.0]
    for row, mass in zip(rows, masses, strict=True):
        assert row.freeboard_mm == pytest.approx(60.0 - mass / PER_MM, rel=1e-9)
    assert rows[2].sank_mm == pytest.approx(1.0, rel=1e-9)
    assert rows[0].sank_mm is None
    assert rows[2].plus_minus_g == pytest.approx((1.0 + 4.0) ** 0.5)


def test_a_broken_limit_is_told_in_its_row():
    """At 1920 g the hole is 28 mm up: one gram more breaks the limit of 28."""
    log = book((1, None, 1920.0, 1.0), (2, None, 1921.0, 1.0))
    assert [row.holds for row in history_answer(build(), log).rows] == [True, False]


def test_what_no_item_explains_stays_aboard():
    """Weighed 1900 g all-up at 1860 by the ledger, she is 40 g over it in the rows after."""
    log = book((1, "hull", 1560.0, 1.0), (2, None, 1900.0, 3.0), (3, "hull", 1570.0, 4.0))
    rows = history_answer(build(), log).rows
    assert [row.mass_g for row in rows] == [1860.0, 1900.0, 1910.0]
    assert [row.measured for row in rows] == [False, True, False]
    assert rows[2].plus_minus_g == pytest.approx(5.0)


def test_weighing_what_was_on_the_scale_unweighed_adds_nothing():
    """The battery lay in her when she was weighed: its own weighing explains grams, adds none."""
    log = book((1, None, 1900.0, 1.0), (2, "battery", 350.0, 1.0), (3, "battery", 360.0, 1.0))
    rows = history_answer(build(), log).rows
    assert [row.mass_g for row in rows] == [1900.0, 1900.0, 1910.0]


def test_a_setup_goes_on_top_of_every_row():
    """A setup's 60 g of water on her skin sink her a millimeter in each row."""
    log = book((1, None, 1800.0, 1.0), (2, "battery", 300.0, 1.0))
    wet = build(setups=(Setup(name="wet", wet_g=60.0),))
    dry, soaked = (history_answer(wet, log, name).rows for name in (None, "wet"))
    assert [b.mass_g - a.mass_g for a, b in zip(dry, soaked, strict=True)] == [60.0, 60.0]


def test_what_has_no_date_is_said():
    """Undated weights, a ledger that differs, items it has not, and a sheet's mass are named."""
    log = book((1, "hull", 1550.0, 1.0), (2, "rudder", 9.0, 1.0))
    ledger = Ledger(items=(item("hull", 1500.0, 1560.0), item("battery", 300.0, 310.0)))
    answer = history_answer(build(ledger=ledger, mass_g=1870.0), log)
    said = {one.code: one.message for one in answer.warnings}
    assert "rudder" in said["history-unknown-item"]
    assert "1550 g, weights.csv has 1560 g" in said["history-ledger-differs"]
    assert "battery" in said["history-undated"]
    assert "history-sheet-mass" in said
    assert [row.mass_g for row in answer.rows] == [1860.0]


def test_without_a_center_masses_alone_are_told():
    """An item without a place leaves heights unknown and masses known."""
    nowhere = replace(item("hull", 1500.0, 1560.0), x_mm=None)
    rows = history_answer(build(ledger=Ledger(items=(nowhere,))), book((1, None, 1600.0, 1.0))).rows
    assert (rows[0].mass_g, rows[0].freeboard_mm, rows[0].rest) == (1600.0, None, None)


@pytest.mark.parametrize(
    ("one", "log", "words"),
    [
        (build(), book(), "no weigh-in yet; hullcheck log weigh"),
        (build(ledger=Ledger(), mass_g=1.0), book((1, None, 5.0, 1.0)), "no weight ledger"),
    ],
)
def test_nothing_to_tell_is_refused(one, log, words):
    """Without weigh-ins or a ledger there is no history, and the next step is named."""
    with pytest.raises(InputError, match=words):
        history_answer(one, log)
