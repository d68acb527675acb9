"""Whether a repair is known to have held."""

import pytest
from leak_making import book_of, leaking_soak, seamed_box, soak

from hullcheck.answers.leak_suspects import leak_suspects
from hullcheck.craft.log_records import Sealing
from hullcheck.craft.seam_lines import seam_lines

CRAFT = seamed_box()
LINES = seam_lines(CRAFT)
STRENGTHS = {"step joint": 3e-4}
BEFORE = leaking_soak(CRAFT, STRENGTHS, "hole")
REPAIR = Sealing(seam="step joint", material="epoxy")


def told(*records):
    """Return what a logbook of records says."""
    return leak_suspects(book_of(*records), CRAFT, lines=LINES)


def test_a_dry_test_after_the_repair_shows_that_it_held():
    """The same soak is dry after it: as it was she would have gained what she gained before."""
    found = told(BEFORE, REPAIR, soak(0.0))
    held = found.repair_held
    assert held.entry == 3
    assert held.gain_g == 0.0
    # One law fits one test exactly, so both expect the very gain of the first.
    assert held.expected_low_g == pytest.approx(BEFORE.gain_g, rel=1e-6)
    assert held.expected_high_g == pytest.approx(BEFORE.gain_g, rel=1e-6)
    assert found.next_test is None


def test_a_load_twice_as_deep_expects_more():
    """At more head the old leak would let in more, by the crack law more than by the hole law."""
    held = told(BEFORE, REPAIR, soak(0.0, mass_g=1800.0)).repair_held
    assert BEFORE.gain_g < held.expected_low_g < held.expected_high_g


def test_without_a_test_after_it_nothing_is_known():
    """The repair alone shows nothing: a test is asked for, at the end."""
    first = leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole")
    dry = soak(0.0, trim_deg=8.0)
    found = told(first, dry, Sealing(seam="nose joint", material="epoxy"))
    assert [one.seam for one in found.named] == ["nose joint"]
    assert found.repair_held is None
    assert found.next_test.purpose == "confirm the repair"


def test_a_test_in_which_it_would_not_have_leaked_shows_nothing():
    """Held so that the old leak lies out of the water, a dry soak says nothing of the repair."""
    first = leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole")
    dry = soak(0.0, trim_deg=8.0)
    found = told(first, dry, Sealing(seam="nose joint", material="epoxy"), dry)
    assert [one.seam for one in found.named] == ["nose joint"]
    assert found.repair_held is None


def test_a_leak_that_was_not_worked_on_has_no_repair():
    """What still leaks was not repaired."""
    first = leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole")
    found = told(first, soak(0.0, trim_deg=8.0))
    assert [one.seam for one in found.named] == ["nose joint"]
    assert found.repair_held is None
