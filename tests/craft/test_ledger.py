"""The weight ledger against sums of fractions, which round nowhere."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies import SEEDS, uniform

from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.weighing import Weighing
from hullcheck.errors import InputError

GRAMS = st.one_of(st.just(0.0), uniform(1e-3, 1e5))
PLACES = uniform(-1e4, 1e4)


def maybe(values):
    """Draw a value or None."""
    return st.one_of(st.none(), values)


@st.composite
def items(draw, name):
    """Draw a row of the ledger; its cells may be empty."""
    return Item(
        name=name,
        planned_g=draw(maybe(GRAMS)),
        weighed_g=draw(maybe(GRAMS)),
        x_mm=draw(maybe(PLACES)),
        y_mm=draw(maybe(PLACES)),
        z_mm=draw(maybe(PLACES)),
        plus_minus_g=draw(maybe(uniform(0.0, 100.0))),
    )


@st.composite
def ledgers(draw, most=12):
    """Draw a ledger of up to a dozen rows."""
    count = draw(st.integers(0, most))
    return Ledger(items=tuple(draw(items(f"item {i}")) for i in range(count)))


def long_ledger(seed, count=500):
    """Return a ledger of many placed items, from a seed."""
    rng = np.random.default_rng(seed)
    masses = rng.lognormal(2.0, 2.0, count).round(1) + 0.1
    places = rng.uniform(-900.0, 900.0, (count, 3)).round(2)
    return Ledger(
        items=tuple(
            Item(name=f"item {i}", weighed_g=float(m), x_mm=x, y_mm=y, z_mm=z)
            for i, (m, (x, y, z)) in enumerate(zip(masses, places.tolist(), strict=True))
        )
    )


def sums(ledger):
    """Return mass and center as fractions, from the cells as the sheet's words define them."""
    mass, moments = Fraction(0), [Fraction(0)] * 3
    for item in ledger.items:
        grams = item.weighed_g if item.weighed_g is not None else item.planned_g
        if not grams:
            continue
        mass += Fraction(grams)
        place = (item.x_mm, item.y_mm or 0.0, item.z_mm)
        if None in place:
            return mass, None
        moments = [m + Fraction(grams) * Fraction(p) for m, p in zip(moments, place, strict=True)]
    return mass, [m / mass for m in moments] if mass else None


def check_sums(ledger):
    """Assert that mass is rounded right and the center is within a few digits of the last."""
    mass, center = sums(ledger)
    if center is None:
        assert ledger.center_mm is None
        return
    assert ledger.mass_g == float(mass)
    # Each of difference, product, division and sum rounds once, by half a unit in the last place
    # of twice the farthest coordinate at most: eight of those units hold them all.
    far = max(
        abs(v) for i in ledger.items if i.mass_g for v in (i.x_mm, i.y_mm or 0.0, i.z_mm, 1.0)
    )
    off = [abs(float(Fraction(a) - b)) for a, b in zip(ledger.center_mm, center, strict=True)]
    assert max(off) <= 8.0 * np.spacing(far)


@given(ledgers())
def test_sums_are_those_of_fractions(ledger):
    """Mass and center are Σm and Σmp/Σm, summed here as fractions."""
    check_sums(ledger)


@given(SEEDS)
def test_sums_of_500_items_are_those_of_fractions(seed):
    """Five hundred items add up as well as two do: the reference is a sum of fractions."""
    ledger = long_ledger(seed)
    assert len(ledger.items) == 500
    check_sums(ledger)
    assert ledger.weighed_count == 500


@given(uniform(1e-3, 1e5), PLACES, PLACES, PLACES)
def test_one_item_is_its_own_center(mass, x, y, z):
    """The mass and center of one item are its own to the last digit: one term is its own sum."""
    ledger = Ledger(items=(Item(name="all", planned_g=mass, x_mm=x, y_mm=y, z_mm=z),))
    assert ledger.mass_g == mass
    assert ledger.center_mm == (x, y, z)


@given(st.lists(st.tuples(uniform(0.1, 900.0), PLACES), min_size=1, max_size=30), PLACES, PLACES)
def test_items_at_one_place_are_centered_there(rows, y, z):
    """Items at one station have their center at it to the last digit: all levers are 0."""
    x = rows[0][1]
    ledger = Ledger(
        items=tuple(
            Item(name=str(i), planned_g=m, x_mm=x, y_mm=y, z_mm=z) for i, (m, _) in enumerate(rows)
        )
    )
    assert ledger.center_mm == (x, y, z)


def test_weighed_counts_before_planned_and_0_is_a_mass():
    """Weighed 41 stands for planned 38, weighed 0 for planned 12; 41 + 0 + 7 is 48."""
    ledger = Ledger(
        items=(
            Item(name="hull", planned_g=38.0, weighed_g=41.0, x_mm=68.0, z_mm=48.0),
            Item(name="wheels", planned_g=12.0, weighed_g=0.0),
            Item(name="paint", planned_g=7.0, x_mm=275.0, z_mm=52.0),
        )
    )
    assert ledger.mass_g == 48.0
    assert ledger.weighed_count == 2
    assert ledger.unknown == ()
    assert ledger.without_place == ()
    # (41 × 68 + 7 × 275) / 48 and (41 × 48 + 7 × 52) / 48, by hand; no y is the center plane.
    assert ledger.center_mm == pytest.approx((4713.0 / 48.0, 0.0, 2332.0 / 48.0), rel=1e-15)


def test_what_is_not_known_is_named():
    """Unknown: neither mass; without place: some grams and no x or no z, as the fields say."""
    ledger = Ledger(
        items=(
            Item(name="battery", x_mm=160.0, z_mm=20.0),
            Item(name="paint", planned_g=12.0, x_mm=260.0),
            Item(name="glue", planned_g=5.0, z_mm=20.0),
            Item(name="nothing", planned_g=0.0),
            Item(name="tail", weighed_g=31.0, x_mm=578.0, z_mm=104.0),
        )
    )
    assert ledger.unknown == ("battery",)
    assert ledger.without_place == ("paint", "glue")
    assert ledger.center_mm is None
    assert ledger.mass_g == 48.0


@pytest.mark.parametrize(
    ("cells", "grams"),
    [
        ({"planned_g": 160.0}, 16.0),
        ({"weighed_g": 160.0}, 0.5),
        ({"planned_g": 200.0, "weighed_g": 160.0}, 0.5),
        ({"planned_g": 160.0, "plus_minus_g": 5.0}, 5.0),
        ({"weighed_g": 160.0, "plus_minus_g": 0.0}, 0.0),
        ({}, 0.0),
        ({"plus_minus_g": 40.0}, 40.0),
    ],
)
def test_how_well_an_item_is_known(cells, grams):
    """Stated, else ½ g weighed, else a tenth of what is planned (common practice, no source)."""
    assert Item(name="one", **cells).uncertainty_g == pytest.approx(grams, rel=1e-15)


@given(ledgers())
def test_how_well_the_sum_is_known(ledger):
    """Independent parts add as the root of squares (Gaussian propagation), by math.hypot here."""
    parts = [item.uncertainty_g for item in ledger.items]
    assert ledger.plus_minus_g == pytest.approx(math.hypot(*parts), rel=1e-12, abs=1e-150)


def test_a_weighing_says_what_the_ledger_says():
    """Counts, names and sums are the ledger's; a whole craft on the scale is known to 1 g."""
    ledger = Ledger(
        items=(
            Item(name="hull", weighed_g=200.0, x_mm=250.0, z_mm=40.0),
            Item(name="battery", x_mm=160.0, z_mm=20.0),
        )
    )
    summed = Weighing.of(ledger, mass_is_measured=False, center_is_measured=False)
    assert (summed.items, summed.weighed, summed.unknown) == (2, 1, ("battery",))
    assert summed.ledger_mass_g == 200.0
    assert summed.ledger_center_of_gravity_mm == (250.0, 0.0, 40.0)
    assert summed.plus_minus_g == 0.5
    assert not summed.all_up
    whole = Weighing.of(ledger, mass_is_measured=True, center_is_measured=False)
    assert whole.all_up
    assert whole.plus_minus_g == 1.0
    none = Weighing.of(Ledger(), mass_is_measured=True, center_is_measured=True)
    assert none.ledger_mass_g is None
    assert none.ledger_center_of_gravity_mm is None


def test_a_long_ledger_is_checked_name_by_name():
    """Of 501 rows the last repeats a name: refused by that name."""
    rows = long_ledger(1).items
    with pytest.raises(InputError, match=r"the item 'item 7' stands in the ledger twice"):
        Ledger(items=(*rows, Item(name="item 7")))


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"planned_g": -1.5}, r"battery: planned_g -1\.5: must not be below 0"),
        ({"weighed_g": -0.25}, r"battery: weighed_g -0\.25: must not be below 0"),
        ({"weighed_g": math.nan}, r"battery: weighed_g nan: must not be below 0"),
        ({"plus_minus_g": -3.0}, r"battery: plus_minus_g -3: must not be below 0"),
        ({"plus_minus_g": math.inf}, r"battery: plus_minus_g inf: must not be below 0"),
        ({"x_mm": math.inf}, r"battery: x_mm inf: not a finite number"),
        ({"y_mm": math.nan}, r"battery: y_mm nan: not a finite number"),
        ({"z_mm": -math.inf}, r"battery: z_mm -inf: not a finite number"),
    ],
)
def test_an_impossible_item_is_refused(cells, said):
    """Masses below 0 and numbers that are none are refused by item, cell and value."""
    with pytest.raises(InputError, match=said):
        Item(name="battery", **cells)


def test_an_item_changed_is_refused_where_it_makes_no_sense():
    """Grams below 0, an item with no place, a name not there: refused by name and value."""
    item = Item(name="battery", planned_g=100.0, x_mm=160.0)
    with pytest.raises(InputError, match=r"battery: 100 g and -120 g more make -20 g"):
        item.heavier(-120.0)
    with pytest.raises(InputError, match=r"battery: has no place in the ledger to be moved from"):
        item.moved((1.0, 0.0, 0.0))
    ledger = Ledger(items=(item,))
    for act in (ledger.item, ledger.without, lambda n: ledger.replaced(Item(name=n))):
        with pytest.raises(InputError, match=r"the ledger has no item 'wheels'"):
            act("wheels")
