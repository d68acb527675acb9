"""How well freeboard and grams left are known, against closed forms and against doing it."""

import math
from dataclasses import replace

import make_bodies
import numpy as np
import pytest

from hullcheck.answers.float_answer import float_answer
from hullcheck.craft.bodies import Body
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.openings import Opening
from hullcheck.geometry.shells import outer_shells
from hullcheck.water import water_of_density


def box_build(items, *, limits, opening_mm=(300.0, 0.0, 60.0), error_mm3=None):
    """Return a build of a box of 600 × 100 × 80 mm in water of 1 g/cm³."""
    triangles = make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    shell = outer_shells("box", triangles).shells[0]
    middle = shell.middle_mm
    corner = np.array([middle[0] - 300.0, middle[1], shell.low_mm[2]])
    point = corner + np.array(opening_mm)
    return Build(
        name="box",
        bodies=(Body(name="box", role="hull", shell=shell, volume_error_mm3=error_mm3),),
        water=water_of_density(1000.0),
        ledger=Ledger(items=tuple(items)),
        openings=(Opening(name="hole", points_mm=point[None, :], state="open"),),
        limits=limits,
    ), shell


def item(name, grams, x, z, about, *, shell):
    """Return an item at x from the box's middle and z above its bottom."""
    return Item(
        name=name,
        weighed_g=grams,
        plus_minus_g=about,
        x_mm=float(shell.middle_mm[0]) + x,
        y_mm=float(shell.middle_mm[1]),
        z_mm=float(shell.low_mm[2]) + z,
    )


@pytest.fixture
def shell():
    """Return the box's shell."""
    return box_build([], limits=Limits())[1]


def test_a_central_mass_and_a_reading_on_a_box(shell):
    """On a wall-sided box ± is √(1 mm² + (δm/ρA)²), and ρA times that in grams.

    Derived: h = m/(ρ A), so δh = δm/(ρ A), whatever the opening, as the mass sits amidships.
    """
    items = [item("all", 1800.0, 0.0, 10.0, 90.0, shell=shell)]
    answer = float_answer(box_build(items, limits=Limits(freeboard_mm=10.0))[0].craft())
    per_mm = 60.0  # 600 × 100 mm² of 1e-3 g/mm³
    assert answer.freeboard_mm.plus_minus == pytest.approx(math.hypot(1.0, 90.0 / per_mm), rel=1e-6)
    assert answer.margin_plus_minus_g == pytest.approx(math.hypot(per_mm, 90.0), rel=1e-6)
    assert answer.margin_g == pytest.approx((60.0 - 30.0 - 10.0) * per_mm, rel=1e-6)


def test_a_volume_in_doubt_is_that_much_water(shell):
    """A body known to 60 cm³ makes the heights uncertain as 60 g of load do."""
    items = [item("all", 1800.0, 0.0, 10.0, 0.0, shell=shell)]
    build, _ = box_build(items, limits=Limits(freeboard_mm=10.0), error_mm3=60_000.0)
    answer = float_answer(build.craft())
    assert answer.freeboard_mm.plus_minus == pytest.approx(math.hypot(1.0, 1.0), rel=1e-6)
    assert answer.bodies[0].error_cm3 == pytest.approx(60.0)


def test_nothing_in_doubt_leaves_the_reading(shell):
    """Masses that are known and a mesh at its word leave the millimeter of a reading."""
    items = [item("all", 1800.0, 0.0, 10.0, 0.0, shell=shell)]
    answer = float_answer(box_build(items, limits=Limits(freeboard_mm=10.0))[0].craft())
    assert answer.freeboard_mm.plus_minus == 1.0
    assert answer.margin_plus_minus_g == pytest.approx(60.0, rel=1e-6)


def test_an_item_at_the_end_counts_by_what_it_trims(shell):
    """The ± of a trim limit is what the items' ± do when they are weighed again and floated."""
    items = [
        item("hull", 1500.0, 0.0, 20.0, 0.0, shell=shell),
        item("battery", 300.0, -40.0, 10.0, 6.0, shell=shell),
        item("motor", 150.0, 200.0, 70.0, 2.0, shell=shell),
    ]
    build, _ = box_build(items, limits=Limits(trim_deg=(-0.9, 0.9)), opening_mm=(300.0, 0.0, 75.0))
    answer = float_answer(build.craft())
    assert answer.margin_limited_by == "trim_deg"
    squares = 0.0
    for one in build.ledger.items:
        changed = []
        for sign in (1.0, -1.0):
            other = replace(one, weighed_g=one.weighed_g + sign * one.plus_minus_g)
            again = replace(build, ledger=build.ledger.replaced(other))
            changed.append(float_answer(again.craft()).margin_g)
        squares += (0.5 * (changed[0] - changed[1])) ** 2
    # Linear in the items' ±, which move the margin by a third: a tenth is left for the bend.
    assert answer.margin_plus_minus_g == pytest.approx(math.sqrt(squares), rel=0.1)


def test_grams_left_that_end_in_sinking_are_known_as_the_mass_is(shell):
    """With a limit that nothing breaks she sinks first, and ± is that of her mass."""
    items = [item("all", 1800.0, 0.0, 10.0, 25.0, shell=shell)]
    answer = float_answer(box_build(items, limits=Limits(heel_deg=90.0))[0].craft())
    assert answer.margin_limited_by == "sinks"
    assert answer.margin_g == pytest.approx(4800.0 - 1800.0, rel=1e-6)
    assert answer.margin_plus_minus_g == 25.0


def test_places_that_look_like_a_slip_are_said(shell):
    """A CG far from where level wants it and an opening off the hull are said with numbers."""
    items = [item("all", 1800.0, -200.0, 10.0, 0.0, shell=shell)]
    build, _ = box_build(items, limits=Limits(), opening_mm=(900.0, 0.0, 60.0))
    codes = {c.code: c.message for c in float_answer(build.craft()).warnings}
    assert "her CG lies 200 mm ahead of where she could float level, of 600 mm" in codes["cg-far"]
    assert "hole at (900, 0, 60) mm lies outside the bodies" in codes["opening-adrift"]


def test_a_deck_lower_than_the_opening_is_said(shell):
    """An opening above the deck edge leaves a word about the deck, which does not count."""
    items = [item("all", 3000.0, 0.0, 10.0, 0.0, shell=shell)]
    build, _ = box_build(items, limits=Limits(freeboard_mm=5.0), opening_mm=(300.0, 0.0, 83.0))
    answer = float_answer(build.craft())
    assert answer.freeboard_mm.least == pytest.approx(33.0, abs=1e-9)
    message = next(c.message for c in answer.warnings if c.code == "deck-lower")
    assert "is 30.0 mm above the water, lower than the lowest opening" in message
