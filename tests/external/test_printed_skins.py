"""Printed flying boats drawn at random: the volume of their outer skin against the closed skin's.

The hulls are Open CASCADE's, hollowed and cut by manifold3d, which also measures the closed skin
below the water. The seed is drawn anew for each run; a failure prints it, and with HULLCHECK_SEED
set to it the same boats are drawn again.
"""

from functools import cache

import numpy as np
import pytest
from outside import required

required("OCP")
required("manifold3d")
from printed_boats import DIRT, UNITS_MM, printed  # noqa: E402
from skin_trials import GOAL, seed_drawn, tried  # noqa: E402

from hullcheck.geometry.outer_skin import outer_skin  # noqa: E402

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

OVERLAP_MM = -0.15
GAPS = {
    "butting": 0.0,
    "gap 0.1": 0.1,
    "gap 0.3": 0.3,
    "gap 3": 3.0,
    "overlap": OVERLAP_MM,
    "drawn": None,
    "drawn too": None,
}
CLEAN = {
    f"{kind} {words}": (kind, {"gap_mm": gap})
    for kind in ("K3", "K4")
    for words, gap in GAPS.items()
}
DIRTY = {
    f"{base} {dirt} {unit}": ("K5", {"base": base, "dirt": dirt, "unit": unit})
    for turn, base in enumerate(("K3", "K4"))
    for dirt, unit in zip(DIRT, np.resize(np.roll(list(UNITS_MM), turn), len(DIRT)), strict=True)
}
DRAWN = {"K5 drawn": ("K5", {}), "K5 drawn too": ("K5", {})}
MADE = CLEAN | DIRTY | DRAWN
AS_FILED = {"K1": "K1", "K1 again": "K1", "K2": "K2", "K2 again": "K2"}
"""Thirty boats in all, every kind, gap, dirt and unit among them."""

MOST_TUNNELS = 2
"""Of about 24 boats; they were left in 1 of 100, and in more than two of 24 then 2 times of a
thousand."""
MOST_OUTSIDE = 2
"""The stated error is to hold in 99 of 100 boats. Of 26 then more than two are outside 2 times of a
thousand; where it held in 85 of 100 only, 3 times of 4."""
MEDIAN_RATIO = 20.0 * 10.0 ** (2.5 * 1.25 * 0.85 / 26.0**0.5)
"""Stated over true error, at the median: 20 is the limit for 300 boats, tried by hand. The ratio's
logarithm (base 10) strays by 0.85 from boat to boat, so that the median of 26 strays by
1.25 × 0.85 / √26; 2.5 times that is allowed, a factor of 3.3."""


def say(text):
    """Print what a failure is to be found again by; pytest shows it beside the failure."""
    print(text)  # noqa: T201


@cache
def trial(name):
    """Return the trial of a boat of MADE."""
    kind, drawn = MADE[name]
    index = list(MADE).index(name)
    return tried(index, printed(seed_drawn(), index, kind, **drawn))


def in_order(triangles):
    """Return triangles in an order of their own, to be compared whatever order they had."""
    rows = triangles.reshape(-1, 9)
    return rows[np.lexsort(rows.T)]


@pytest.mark.parametrize("name", MADE)
def test_displaced_volume_is_that_of_the_closed_skin(name):
    """Below the usual waterline within 0.01 %, at any gap and dirt."""
    found = trial(name)
    say(f"HULLCHECK_SEED={seed_drawn()}: {found.described}")
    say(found.line())
    assert found.refusal == ""
    assert found.share <= GOAL


def test_tunnels_are_rare():
    """Left in two boats of 26 at the most, those aside that lost triangles over a wall's hollow.

    A tunnel is told of, and holds no water worth the name: the volume above is held with it.
    """
    trials = [trial(name) for name in MADE]
    left = [t for t in trials if t.handles and "missing" not in t.described]
    say(f"HULLCHECK_SEED={seed_drawn()}")
    for one in left:
        say(f"{one.handles} tunnels: {one.line()} {one.described}")
    assert len(left) <= MOST_TUNNELS


def test_segments_that_butt_in_one_file():
    """Six of them, found by drawing: no tunnels, and no opening but the three that were cut.

    Their ends share corners, so that edges are met by four triangles.
    """
    drawn = {"base": "K3", "dirt": "one file", "unit": "mm", "gap_mm": 0.0}
    boat = printed(30814, 18, "K5", **drawn)
    skin = outer_skin("hull", boat.parts)
    assert skin.checks.handles == 0
    assert len([patch for patch in skin.patches if patch.kind == "opening"]) <= 3


def test_the_stated_error_holds():
    """The true error is within the stated one but for two boats of 26."""
    trials = [trial(name) for name in MADE]
    outside = [t for t in trials if not t.refusal and not t.inside]
    say(f"HULLCHECK_SEED={seed_drawn()}")
    for one in outside:
        say(f"{one.line()} {one.described}")
    assert len(outside) <= MOST_OUTSIDE


def test_the_stated_error_is_not_idle():
    """At the median it is no more times the true one than 26 boats at the limit may show."""
    trials = [trial(name) for name in MADE]
    ratios = [t.stated_mm3 / abs(t.true_mm3) for t in trials if t.stated_mm3 and t.true_mm3]
    say(f"HULLCHECK_SEED={seed_drawn()}: {np.median(ratios):.1f}")
    assert len(ratios) > 0.9 * len(trials)
    assert np.median(ratios) <= MEDIAN_RATIO


@pytest.mark.parametrize("name", AS_FILED)
def test_a_closed_surface_stays_as_it_is(name):
    """Its own triangles to the last bit, an inner shell left out, nothing invented."""
    kind, index = AS_FILED[name], 1000 + list(AS_FILED).index(name)
    boat = printed(seed_drawn(), index, kind)
    say(f"HULLCHECK_SEED={seed_drawn()}: {boat.described}")
    skin = outer_skin("hull", boat.parts)
    (shell,) = skin.shells
    assert skin.method == "as filed"
    assert np.array_equal(in_order(shell.triangles_mm), in_order(boat.closed))
    assert (skin.sources[0] == 0).all()
    assert skin.patches == ()
    assert skin.error_mm3 == 0.0
    assert skin.checks.handles == 0
