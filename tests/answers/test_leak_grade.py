"""What one leak test says, against closed forms on a box: rate at flying weight, hole and crack."""

import math
from dataclasses import replace

import pytest
from crafts import opening_at
from leak_making import line_of, seamed_box, soak

from hullcheck.answers.leak_grade import graded
from hullcheck.answers.leak_heads import soak_water
from hullcheck.craft.fittings import Structure
from hullcheck.craft.leak_ladder import STATIC_CAUTION
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import LeakTestSetup
from hullcheck.errors import InputError
from hullcheck.water import fresh_water, sea_water, water_of_density

RHO = fresh_water().density_kg_m3
MU = fresh_water().viscosity_pa_s


def draft_mm(mass_g, density=RHO):
    """Return the draft of the 600 × 100 mm box [mm]."""
    return mass_g / (60000.0 * 1e-6 * density)


def around(draft):
    """Return ∫ h dl and ∫ √h dl of a joint around the box: the bottom, and both sides up to 0."""
    return 100.0 * draft + draft**2, 100.0 * draft**0.5 + 4.0 / 3.0 * draft**1.5


def test_the_rate_at_the_flying_weight():
    """Twice the draft: the crack law gives ∫ h dl of 20 mm over that of 10, the hole law ∫ √h dl.

    Integrals of a joint around a box in closed form; all joints are alike, so the range is the
    laws' alone.
    """
    found = graded(seamed_box(), soak(2.0, mass_g=600.0))
    (crack2, hole2), (crack1, hole1) = around(draft_mm(1200.0)), around(draft_mm(600.0))
    flying = found.flying
    assert flying.mass_g == 1200.0
    assert flying.high_g_per_30min == pytest.approx(2.0 * crack2 / crack1, rel=1e-9)
    assert flying.low_g_per_30min == pytest.approx(2.0 * hole2 / hole1, rel=1e-9)
    assert flying.plus_minus_g_per_30min == pytest.approx(0.1 * 2.0**0.5 * crack2 / crack1)
    assert (flying.low_grade, flying.high_grade) == ("damp", "damp")
    assert not found.grade.at_flying_weight
    assert found.caution == STATIC_CAUTION


def test_a_test_at_the_flying_weight_is_its_own_rate():
    """At her own load and attitude the rate stays, whatever law or seam."""
    flying = graded(seamed_box(), soak(2.0)).flying
    assert flying.low_g_per_30min == pytest.approx(2.0, rel=1e-9)
    assert flying.high_g_per_30min == pytest.approx(2.0, rel=1e-9)


def test_where_the_water_was_found_counts():
    """Held bow down 1° the joint at the bow lies deeper: found there, less comes in at rest.

    By both laws, with the joint's own integrals: she turns about her middle, 60 mm aft of the bow
    the depth is 240 tan 1° more.
    """
    test = soak(2.0, trim_deg=-1.0, found=("nose joint",))
    found = graded(seamed_box(), test)
    tilt = math.radians(1.0)
    # Level again the depth is along z; held, a point of the joint lies cos τ times as deep as
    # the draft there is long.
    long = draft_mm(1200.0) + 240.0 * math.tan(tilt)
    (crack, hole), (crack1, hole1) = around(long), around(draft_mm(1200.0))
    expected = {2.0 * crack1 / crack / math.cos(tilt), 2.0 * hole1 / hole / math.cos(tilt) ** 0.5}
    assert found.flying.low_g_per_30min == pytest.approx(min(expected), rel=1e-9)
    assert found.flying.high_g_per_30min == pytest.approx(max(expected), rel=1e-9)
    assert (found.size.seam, found.size.sized_at) == ("nose joint", "where water was found")
    assert found.size.head_mm == pytest.approx(long * math.cos(tilt), rel=1e-9)


def test_the_hole_and_the_crack():
    """One hole at the deepest point, one crack along what is wet, both by hand in SI.

    A = Q/(C_d √(2 g h)); w³ = 12 μ t Q/(ρ g ∫ h dl).
    """
    found = graded(seamed_box(), soak(2.6, found=("step joint",)))
    flow = 2.6e-3 / RHO / 1800.0
    depth, (crack, _) = draft_mm(1200.0), around(draft_mm(1200.0))
    area = flow / (0.62 * math.sqrt(2.0 * 9.80665 * 1e-3 * depth))
    width = (12.0 * MU * 1e-3 * flow / (RHO * 9.80665 * crack * 1e-6)) ** (1.0 / 3.0)
    size = found.size
    assert size.hole_diameter_mm == pytest.approx(1e3 * math.sqrt(4.0 * area / math.pi), rel=1e-9)
    assert size.crack_width_mm == pytest.approx(1e3 * width, rel=1e-9)
    assert size.crack_length_mm == pytest.approx(100.0 + 2.0 * depth, rel=1e-9)
    assert (size.seam, size.discharge_coefficient, size.at_most) == ("step joint", 0.62, False)
    assert size.hole_is_least  # 0.07 mm: viscosity would slow it


def test_the_wall_of_the_sheet():
    """The crack goes through the wall that the sheet gives for the body; 1 mm is taken and said."""
    craft, test = seamed_box(), soak(2.6, found=("step joint",))
    assumed = graded(craft, test).size
    given = graded(craft, test, structures={"hull": Structure(wall_mm=0.5)}).size
    assert (assumed.wall_mm, assumed.wall_assumed) == (1.0, True)
    assert (given.wall_mm, given.wall_assumed) == (0.5, False)
    assert given.crack_width_mm / assumed.crack_width_mm == pytest.approx(0.5 ** (1.0 / 3.0))


def test_the_deepest_seam_stands_in():
    """Where no water was found, or only above the water, the deepest seam is taken, and said."""
    craft = seamed_box(seams=(line_of("keel line", [100.0, 0.0, 0.0], [500.0, 0.0, 0.0]),))
    held = {"trim_deg": 2.0}
    for found in ((), ("hatch",)):
        size = graded(craft, soak(2.6, found=found, **held)).size
        assert (size.seam, size.sized_at) == ("stern joint", "the deepest seam")
    sized = graded(craft, soak(2.6, found=("keel line", "nose joint"), **held)).size
    assert (sized.seam, sized.sized_at) == ("keel line", "where water was found")


def test_a_gain_the_scale_cannot_tell():
    """Below the scale's resolution hole and crack are what ± would let in at most."""
    found = graded(seamed_box(), soak(0.0))
    most = graded(seamed_box(), soak(0.2 * 2.0**0.5 / 2.0 + 1e-9))
    assert found.size.at_most
    assert not most.size.at_most
    assert found.size.hole_diameter_mm == pytest.approx(most.size.hole_diameter_mm, rel=1e-6)
    assert graded(seamed_box(), soak(-5.0)).flying.high_g_per_30min == 0.0


def test_a_screw_hole_has_no_length():
    """A point under water has an equivalent hole and no crack."""
    craft = seamed_box(openings=(opening_at([300.0, 50.0, 5.0], name="screw", state="sealed"),))
    size = graded(craft, soak(2.6, found=("screw",))).size
    assert (size.seam, size.crack_width_mm, size.crack_length_mm) == ("screw", None, None)
    assert size.head_mm == pytest.approx(draft_mm(1200.0) - 5.0, rel=1e-9)


def test_what_the_test_did_not_wet():
    """A seam that only the flying weight puts under water is named: the test says nothing of it."""
    high = line_of("strake", [100.0, 50.0, 15.0], [500.0, 50.0, 15.0])
    found = graded(seamed_box(seams=(high,)), soak(2.0, mass_g=600.0))
    assert found.flying.not_wetted == ("strake",)
    assert graded(seamed_box(seams=(high,)), soak(2.0)).flying.not_wetted == ()


def test_no_seam_under_water():
    """With no seam under water there is a grade and nothing else to tell."""
    found = graded(seamed_box({}), soak(2.0))
    assert (found.grade.grade, found.flying, found.size) == ("damp", None, None)


def test_other_water_other_rate():
    """Tested at 25 °C, afloat at 5 °C: a crack passes by ρ²/μ, a hole by ρ; drafts differ a bit."""
    cold = replace(seamed_box(), water=fresh_water(temperature_c=5.0))
    flying = graded(cold, soak(2.0, temperature_c=25.0)).flying
    was, now = fresh_water(temperature_c=25.0), cold.water
    (crack, hole), (crack1, hole1) = (
        around(draft_mm(1200.0, water.density_kg_m3)) for water in (now, was)
    )
    thin = (now.density_kg_m3 / was.density_kg_m3) ** 2 * was.viscosity_pa_s / now.viscosity_pa_s
    heavy = now.density_kg_m3 / was.density_kg_m3
    assert flying.low_g_per_30min == pytest.approx(2.0 * thin * crack / crack1, rel=1e-9)
    assert flying.high_g_per_30min == pytest.approx(2.0 * heavy * hole / hole1, rel=1e-9)


def test_the_water_of_a_test():
    """Without a temperature the craft's own water of that kind counts, else 15 °C."""
    own = seamed_box()
    setup = LeakTestSetup(mass_g=1.0, before_g=1.0, plus_minus_g=0.1)
    assert soak_water(own, setup) == own.water
    salty = LeakTestSetup(mass_g=1.0, before_g=1.0, plus_minus_g=0.1, water="sea")
    assert soak_water(own, salty) == sea_water()
    warm = LeakTestSetup(mass_g=1.0, before_g=1.0, plus_minus_g=0.1, temperature_c=20.0)
    assert soak_water(own, warm) == fresh_water(temperature_c=20.0)
    stated = replace(own, water=water_of_density(1010.0))
    assert soak_water(stated, setup) == fresh_water()


def test_the_limit_of_the_sheet_is_on_the_grade():
    """The craft's limit is the grade's, and it wins."""
    found = graded(seamed_box(limits=Limits(leak_g_per_30min=1.0)), soak(2.6), entry=14)
    assert (found.entry, found.grade.grade, found.grade.passes) == (14, "damp", False)


def test_a_test_at_which_she_sinks_is_refused():
    """A mass that her skin cannot carry is refused with the mass."""
    with pytest.raises(InputError, match=r"at the 6000 g of the test she sinks"):
        graded(seamed_box(), soak(2.6, mass_g=6000.0))


def test_a_wide_hole_is_not_slowed():
    """A gain that takes a hole of some 1 mm is told without the warning about viscosity."""
    size = graded(seamed_box(), soak(700.0)).size
    assert size.hole_diameter_mm > 0.9
    assert not size.hole_is_least


def test_nothing_at_all():
    """No gain on a scale that is taken to be exact has no leak to it, however small."""
    assert graded(seamed_box(), soak(0.0, scale_g=0.0)).size is None


def test_a_craft_that_sinks_has_no_rate_at_her_weight():
    """At a weight that her skin cannot carry there is no rate to scale to; the test still tells."""
    found = graded(seamed_box(mass_g=6000.0), soak(2.0))
    assert (found.flying, found.size.seam) == (None, "nose joint")


def test_a_craft_without_a_center_is_taken_level():
    """Without a center of gravity she is held level, in the test and at her weight."""
    flying = graded(seamed_box(cg=None), soak(2.0, mass_g=600.0)).flying
    (crack2, _), (crack1, _) = around(draft_mm(1200.0)), around(draft_mm(600.0))
    assert flying.high_g_per_30min == pytest.approx(2.0 * crack2 / crack1, rel=1e-9)
