"""Leak laws against closed forms: flows, sizes, and boxes that lose their freeboard."""

import math

import numpy as np
import pytest
from hypothesis import given
from leak_boxes import LeakingBox
from scipy.integrate import quad
from strategies import uniform

from hullcheck.errors import InputError
from hullcheck.flotation.heads import heads_along
from hullcheck.flotation.leak_laws import (
    DISCHARGE_COEFFICIENT,
    Crack,
    Hole,
    crack_flow_g_s,
    driving,
    fluid_factor,
    hole_flow_g_s,
)
from hullcheck.flotation.leak_sizes import crack_of, hole_of, integral_of, tube_flow_g_s
from hullcheck.water import fresh_water, sea_water, water_of_density

WATER = water_of_density(1000.0)  # 1 g/cm³: g/s and mL/s are one number
MU = 1.13756e-3  # Pa·s: ITTC 7.5-02-01-03, ν 1.13858e-6 m²/s times 999.1026 kg/m³ at 15 °C
UP = np.array([0.0, 0.0, 1.0])


def crack_ml_s(**more):
    """Return the flow of the 0.05 × 100 mm crack in a wall of 1 mm, 20 mm down, in mL/s."""
    sizes = {"width_mm": 0.05, "length_mm": 100.0, "wall_mm": 1.0, "head_mm": 20.0} | more
    density = 999.1026
    flow = crack_flow_g_s(**sizes, density_kg_m3=density, viscosity_pa_s=MU)
    return flow / (1e-3 * density)


def integrated(box, law):
    """Return the time a box takes [s], ∫ dm/Q over the water, the law being the product's."""
    first = driving(law, box.first_head_mm)
    return quad(
        lambda water: first / (box.flow_g_s * driving(law, box.head_mm(water))), 0.0, box.water_g
    )[0]


def pinhole_g_s(head_mm):
    """Return the flow of the 1 mm hole in those boxes [g/s]."""
    return Hole(diameter_mm=1.0).flow_g_s(head_mm, WATER)


def test_the_hole_of_one_millimeter():
    """1.0 mm, 20 mm of head and C_d 0.61 pass 0.3000 mL/s: C_d A √(2 g h), DERIVED.

    Cut off after four decimals, not rounded: the arithmetic below gives 0.30006.
    """
    hole = Hole(diameter_mm=1.0, discharge_coefficient=0.61)
    assert hole.flow_g_s(20.0, WATER) == pytest.approx(0.3000, abs=1e-4)
    by_hand = 1e3 * 1e3 * 0.61 * (math.pi / 4.0) * 1e-6 * math.sqrt(2.0 * 9.80665 * 0.020)
    assert hole.flow_g_s(20.0, WATER) == pytest.approx(by_hand, rel=1e-14)


def test_the_crack_of_a_twentieth():
    """0.05 × 100 mm, wall 1 mm, 20 mm of fresh water at 15 °C pass 0.1794 mL/s: DERIVED."""
    assert crack_ml_s() == pytest.approx(0.1794, abs=5e-5)
    by_hand = 1e6 * (5e-5) ** 3 * 0.1 * 999.1026 * 9.80665 * 0.020 / (12.0 * MU * 1e-3)
    assert crack_ml_s() == pytest.approx(by_hand, rel=1e-14)


def test_the_lesser_law_counts():
    """At 0.05 mm the crack law's 0.179 is below the hole law's 1.94 mL/s; at 0.2 mm 7.8 counts.

    Arithmetic of both laws for a crack 100 mm long in a wall of 1 mm, 20 mm down, DERIVED; the
    crack law's 11.5 mL/s at 0.2 mm is above what a hole of its area passes.
    """
    water, narrow = fresh_water(), Crack(width_mm=0.05, length_mm=100.0, wall_mm=1.0)
    wide = Crack(width_mm=0.2, length_mm=100.0, wall_mm=1.0)
    ml = 1e-3 * water.density_kg_m3
    assert narrow.flow_by("crack", 20.0, water) / ml == pytest.approx(0.179, abs=5e-4)
    assert narrow.flow_by("hole", 20.0, water) / ml == pytest.approx(1.94, abs=5e-3)
    assert wide.flow_by("crack", 20.0, water) / ml == pytest.approx(11.5, abs=0.05)
    assert wide.flow_by("hole", 20.0, water) / ml == pytest.approx(7.8, abs=0.05)
    assert narrow.flow_g_s(20.0, water) == narrow.flow_by("crack", 20.0, water)
    assert wide.flow_g_s(20.0, water) == wide.flow_by("hole", 20.0, water)
    assert (narrow.law_at(20.0, water), wide.law_at(20.0, water)) == ("crack", "hole")


@pytest.mark.parametrize("law", ["hole", "crack"])
def test_a_box_with_thin_walls_loses_its_freeboard(law):
    """Thin walls: the head stays, t = A F/Q(h₀) by either law; the 1 mm hole takes 2052.9 s.

    Box 200 × 100 mm, 500 g, F 35 mm, C_d 0.62, 1 g/cm³. DERIVED.
    """
    box = LeakingBox(flow_g_s=pinhole_g_s(25.0))
    assert box.seconds(law) == pytest.approx(2052.9, abs=0.05)
    assert integrated(box, law) == pytest.approx(box.seconds(law), rel=1e-12)


@pytest.mark.parametrize(("law", "seconds"), [("hole", 2191.8), ("crack", 2343.7)])
def test_a_box_with_thick_walls_loses_its_freeboard(law, seconds):
    """Inside 190 × 90 mm the level rises faster than the draft: 2191.8 s, and 2343.7 s by cracks.

    Hole 2(√h₀ − √h₁)/(k C_d a √(2g)), crack ln(h₀/h₁)/(k c) of equal flow at h₀. DERIVED.
    """
    box = LeakingBox(flow_g_s=pinhole_g_s(25.0), inner_mm2=190.0 * 90.0)
    assert box.seconds(law) == pytest.approx(seconds, abs=0.05)
    assert integrated(box, law) == pytest.approx(box.seconds(law), rel=1e-9)


def test_a_leak_above_the_floor():
    """While the inside level is below the leak the head grows with the draft.

    Hole 2A(√(h₀ + v/A) − √h₀)/(C_d a √(2g)), crack (A/c) ln(1 + v/(A h₀)), as they stand. DERIVED.
    """
    head = 15.0  # 25 mm of draft, leak 10 mm above the floor
    box = LeakingBox(flow_g_s=pinhole_g_s(head), above_floor_mm=10.0)
    area, volume = 0.02, 0.02 * 0.035
    spout = DISCHARGE_COEFFICIENT * math.pi / 4.0 * 1e-6 * math.sqrt(2.0 * 9.80665)
    hole = 2.0 * area * (math.sqrt(0.015 + volume / area) - math.sqrt(0.015)) / spout
    per_head = 1e-6 * pinhole_g_s(head) / 0.015
    crack = area / per_head * math.log1p(volume / (area * 0.015))
    assert integrated(box, "hole") == pytest.approx(hole, rel=1e-9)
    assert integrated(box, "crack") == pytest.approx(crack, rel=1e-9)
    assert box.seconds("hole") == pytest.approx(hole, rel=1e-12)
    assert box.seconds("crack") == pytest.approx(crack, rel=1e-12)


@given(head=uniform(0.5, 200.0), diameter=uniform(0.05, 20.0))
def test_the_hole_of_a_flow(head, diameter):
    """The hole that lets in what a hole lets in is that hole."""
    flow = Hole(diameter_mm=diameter).flow_g_s(head, WATER)
    assert hole_of(flow, head, WATER).diameter_mm == pytest.approx(diameter, rel=1e-12)


@given(head=uniform(0.5, 200.0), width=uniform(0.005, 2.0), length=uniform(1.0, 300.0))
def test_the_crack_of_a_flow(head, width, length):
    """Along a level seam the crack of a flow is the crack that let it in, whichever law counts."""
    seam = heads_along([np.array([[0.0, 0.0, -head], [length, 0.0, -head]])], UP, 0.0)
    for water in (fresh_water(), sea_water(temperature_c=5.0)):
        flow = Crack(width_mm=width, length_mm=length, wall_mm=0.8).flow_g_s(head, water)
        found = crack_of(flow, seam, 0.8, water)
        assert found.width_mm == pytest.approx(width, rel=1e-9)
        assert (found.length_mm, found.wall_mm) == (pytest.approx(length), 0.8)


def test_the_crack_of_a_flow_along_a_slope():
    """Along a sloping seam the crack passes the flow of all its bits together, by their heads."""
    seam = heads_along([np.array([[0.0, 0.0, -40.0], [30.0, 0.0, 10.0]])], UP, 0.0)
    found = crack_of(0.002, seam, 1.0, WATER)
    bits = (np.arange(40000) + 0.5) / 40000
    each = seam.wet_length_mm / 40000
    flows = [
        crack_flow_g_s(
            width_mm=found.width_mm,
            length_mm=each,
            wall_mm=1.0,
            head_mm=float(head),
            density_kg_m3=1000.0,
            viscosity_pa_s=WATER.viscosity_pa_s,
        )
        for head in 40.0 * bits
    ]
    assert sum(flows) == pytest.approx(0.002, rel=1e-8)
    assert found.length_mm == pytest.approx(0.8 * math.hypot(30.0, 50.0), rel=1e-12)


def test_flows_scale_with_the_water():
    """Between waters a hole's grams go by ρ, a crack's by ρ²/μ: the factors are the laws' own."""
    crack = Crack(width_mm=0.03, length_mm=50.0, wall_mm=1.0)
    warm, cold = fresh_water(temperature_c=25.0), sea_water(temperature_c=5.0)
    for law in ("hole", "crack"):
        flows = [crack.flow_by(law, 12.0, water) for water in (warm, cold)]
        factors = [fluid_factor(law, water) for water in (warm, cold)]
        assert flows[0] / flows[1] == pytest.approx(factors[0] / factors[1], rel=1e-12)
    assert crack.flow_by("crack", 12.0, cold) < 0.65 * crack.flow_by("crack", 12.0, warm)


def test_no_head_no_flow():
    """Above the water nothing comes in, and nothing runs out; the head inside is the caller's."""
    assert Hole(diameter_mm=2.0).flow_g_s(-5.0, WATER) == 0.0
    assert Crack(width_mm=0.1, length_mm=9.0, wall_mm=1.0).flow_g_s(0.0, WATER) == 0.0
    assert (driving("hole", -1.0), driving("crack", -1.0)) == (0.0, 0.0)
    assert (driving("hole", 9.0), driving("crack", 9.0)) == (3.0, 9.0)


def test_the_integrals_of_the_laws():
    """The hole law goes by ∫ √h dl, the crack law by ∫ h dl."""
    seam = heads_along([np.array([[0.0, 0.0, -16.0], [10.0, 0.0, -16.0]])], UP, 0.0)
    assert integral_of("hole", seam) == pytest.approx(40.0, rel=1e-12)
    assert integral_of("crack", seam) == pytest.approx(160.0, rel=1e-12)


def test_a_narrow_hole_is_slowed_by_viscosity():
    """A 0.1 mm hole in 1 mm of wall passes less than the hole law says, one of 1 mm does not.

    ρ π d⁴ ρ g h/(128 μ t) of Hagen and Poiseuille in SI by hand. DERIVED.
    """
    narrow, wide = Hole(diameter_mm=0.1), Hole(diameter_mm=1.0)
    by_hand = (
        1e6 * math.pi * 1e-16 * 1000.0 * 9.80665 * 0.03 / (128.0 * WATER.viscosity_pa_s * 1e-3)
    )
    found = tube_flow_g_s(narrow, 1.0, 30.0, WATER)
    assert found == pytest.approx(by_hand, rel=1e-12)
    assert found < narrow.flow_g_s(30.0, WATER)
    assert tube_flow_g_s(wide, 1.0, 30.0, WATER) > wide.flow_g_s(30.0, WATER)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: Hole(diameter_mm=0.0), r"leak's diameter_mm of 0: must be above 0"),
        (lambda: Hole(diameter_mm=math.nan), r"diameter_mm of nan"),
        (lambda: Crack(width_mm=-1.0, length_mm=1.0, wall_mm=1.0), r"width_mm of -1"),
        (lambda: Hole(diameter_mm=1.0).flow_g_s(math.nan, WATER), r"head_mm of nan: not a finite"),
        (
            lambda: hole_flow_g_s(area_mm2=-2.0, head_mm=1.0, density_kg_m3=1000.0),
            r"area_mm2 of -2: must not be below 0",
        ),
        (lambda: crack_ml_s(wall_mm=0.0), r"wall_mm of 0: must be above 0"),
        (lambda: hole_of(0.0, 10.0, WATER), r"a flow of 0 g/s: must be above 0"),
        (lambda: hole_of(1.0, -4.0, WATER), r"a head of -4 mm: the leak lies above the water"),
    ],
)
def test_leaks_of_no_size_are_refused(make, message):
    """A size, head or flow that makes no leak is refused with its value."""
    with pytest.raises(InputError, match=message):
        make()
