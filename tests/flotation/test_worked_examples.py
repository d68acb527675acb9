"""Worked examples of the textbooks, built as meshes and floated.

Each number stands beside its source. SEEN: the printed number was read. SEEN inputs: the problem
was read and its answer is arithmetic. The bodies are models of the ships, a meter or a foot in
them 10 mm, so a ton of 1000 kg is a gram; ratios of densities are kept. A printed answer is met
within half a unit of its last digit, an arithmetical one within 1e-5 of a meter.
"""

import math

import make_bodies as bodies
import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from hullcheck.flotation.floating import float_at, held_at
from hullcheck.flotation.righting import righting_arm
from hullcheck.geometry.attitude import normal_of

MM = 10.0
SEA = 1025.0  # kg/m³, the textbooks' sea water
FINE = 2000
"""Facets of a round column: BM is short by (2/3)(π/n)², 1.6e-6 of itself."""


def box(skin_of, length, beam, height):
    """Return a box of meters or feet, its bottom's middle at the origin, as a skin."""
    return skin_of(
        bodies.box(
            length_mm=MM * length,
            beam_mm=MM * beam,
            height_mm=MM * height,
            origin_mm=(-MM * length / 2, 0.0, 0.0),
        )
    )


def heights(skin, mass_g, density_kg_m3):
    """Return draft, KB and BM of a skin held level, its keel at z = 0."""
    found = held_at(skin, mass_g=mass_g, density_kg_m3=density_kg_m3)
    return (
        found.height_mm / MM,
        found.center_of_buoyancy_mm[2] / MM,
        found.metacentric_radius_mm[0] / MM,
    )


def arm_at(descent, heel_deg):
    """Return the righting arm at a heel from upright."""
    heel = math.radians(heel_deg)
    start = descent.at_heel(0.0, descent.state(normal_of(trim=0.0, heel=0.0), None))
    return righting_arm(descent.at_heel(heel, start), heel) / MM


def test_derrett_barrass_page_130_example_2(skin_of, descent_of):
    """Box 65 × 12 × 8 m, draft 4 m, KG 4 m, sea: 3198 t, KB 2, BM 3, KM 5, GM 1 m; GZ at 25°.

    Derrett, D. R., and C. B. Barrass, Ship Stability for Masters and Mates, 5th ed., 1999, p. 130,
    Ex. 2. SEEN; the arm at 25°, 0.56046 m, SEEN inputs.
    """
    skin, mass = box(skin_of, 65.0, 12.0, 8.0), 3198.0
    draft, center, radius = heights(skin, mass, SEA)
    assert (draft, center, radius) == pytest.approx((4.0, 2.0, 3.0), rel=1e-12)
    load = {"mass_g": mass, "center_of_gravity_mm": (0.0, 0.0, MM * 4.0), "density_kg_m3": SEA}
    rest = float_at(skin, **load)
    assert rest.upright_is_stable
    assert rest.floating.metacentric_height_mm[0] / MM == pytest.approx(1.0, rel=1e-9)
    assert arm_at(descent_of(skin, **load), 25.0) == pytest.approx(0.56046, abs=1e-5)


def test_derrett_barrass_page_130_example_1(skin_of, descent_of):
    """A wall-sided ship of 6000 t, KB 3, KM 6, KG 5.5 m: GZ 0.34915 m at 25°, 2094.9 t·m.

    Derrett and Barrass, Ship Stability for Masters and Mates, 5th ed., 1999, p. 130, Ex. 1: printed
    0.35 m and 2100 t·m. SEEN. A box of draft 6 m and beam √(12 · 6 · 3) m has that KB and BM.
    """
    beam = math.sqrt(12.0 * 6.0 * 3.0)
    skin = box(skin_of, 6000.0 / (1.025 * 6.0 * beam), beam, 12.0)
    draft, center, radius = heights(skin, 6000.0, SEA)
    assert (draft, center, center + radius) == pytest.approx((6.0, 3.0, 6.0), rel=1e-12)
    arm = arm_at(
        descent_of(
            skin,
            mass_g=6000.0,
            center_of_gravity_mm=(0.0, 0.0, MM * 5.5),
            density_kg_m3=SEA,
        ),
        25.0,
    )
    assert arm == pytest.approx(0.34915, abs=1e-5)
    assert 6000.0 * arm == pytest.approx(2094.9, abs=0.05)
    assert round(arm, 2) == 0.35
    assert round(6000.0 * round(arm, 2)) == 2100


def test_derrett_barrass_page_111_least_km(skin_of):
    """The least KM of a box of beam 10 m is 4.08 m, at the draft 4.08 m, B/√6.

    Derrett and Barrass, Ship Stability for Masters and Mates, 5th ed., 1999, p. 111. SEEN.
    """
    skin = box(skin_of, 40.0, 10.0, 8.0)

    def metacenter(draft):
        """Return KM at a draft."""
        _, center, radius = heights(skin, 0.4 * SEA * draft, SEA)
        return center + radius

    least = minimize_scalar(metacenter, bounds=(1.0, 7.0), method="bounded")
    assert least.fun == pytest.approx(4.08, abs=0.005)
    assert least.x == pytest.approx(4.08, abs=0.005)
    assert least.fun == pytest.approx(10.0 / math.sqrt(6.0), rel=1e-9)


@pytest.mark.parametrize(
    ("draft", "printed", "half_unit"),
    [
        (0.5, 8.89, 5e-3),
        (1.0, 4.82, 5e-3),
        (1.5, 3.63, 5e-3),
        (2.0, 3.16, 5e-3),
        (2.5, 2.978, 5e-4),
        (3.0, 2.94, 5e-3),
        (3.5, 2.984, 5e-4),
        (4.0, 3.08, 5e-3),
    ],
)
def test_reeds_example_5_5(skin_of, draft, printed, half_unit):
    """KM against draft of a box 7.2 m wide.

    Reed's Naval Architecture for Marine Engineers, 4th ed., Ex. 5.5. SEEN; its entry at 2.5 m is a
    slip, 2.978 is right.
    """
    skin = box(skin_of, 30.0, 7.2, 5.0)
    found, center, radius = heights(skin, 0.216 * SEA * draft, SEA)
    assert found == pytest.approx(draft, rel=1e-12)
    assert center + radius == pytest.approx(printed, abs=half_unit)


def test_nicholls_page_527_box(skin_of):
    """A box of beam 36 ft at 18 ft: KB 9, BM 6, KM 15 ft.

    Nicholls's Seamanship and Nautical Knowledge, p. 527 (edition not noted). SEEN.
    """
    skin = box(skin_of, 200.0, 36.0, 30.0)
    draft, center, radius = heights(skin, 200.0 * 36.0 * 18.0, 1000.0)
    assert (draft, center, radius) == pytest.approx((18.0, 9.0, 6.0), rel=1e-12)


def test_nicholls_page_527_trim_by_a_shift(skin_of):
    """40 tons shifted 36 ft aft at 480 ft·tons an inch: 8 ft becomes 8 ft 1½ in and 7 ft 10½ in.

    Nicholls's Seamanship and Nautical Knowledge, p. 527 (edition not noted). SEEN inputs. A box of
    L² B = 480 · 35 · 96 · 12/8 cubic feet at 8 ft, 35 ft³ of sea to the ton and G at B's height,
    trims by an inch for 480 ft·tons. Its exact cubic is off the straight line by 1e-6 of itself.
    """
    beam = 50.0
    length = math.sqrt(480.0 * 35.0 * 96.0 * 12.0 / 8.0 / beam)
    tons = length * beam * 8.0 / 35.0
    skin = box(skin_of, length, beam, 16.0)
    rest = float_at(
        skin,
        mass_g=length * beam * 8.0,
        center_of_gravity_mm=(MM * 40.0 * 36.0 / tons, 0.0, MM * 4.0),
        density_kg_m3=1000.0,
    ).floating
    ends = np.array([[MM * length / 2, 0.0, 0.0], [-MM * length / 2, 0.0, 0.0]])
    # The draft is read along the ends' own sides, z of the water over the keel.
    aft, forward = -rest.height_above_water_mm(ends) / rest.normal[2] / MM
    assert 12.0 * aft == pytest.approx(8 * 12 + 1.5, abs=1e-4)
    assert 12.0 * forward == pytest.approx(7 * 12 + 10.5, abs=1e-4)


def test_exam_upright_cylinder_of_relative_density_0_7(skin_of):
    """A cylinder, D 3 m and H 2 m, of relative density 0.7: draft 1.4 m, GM +0.10179 m.

    A common examination problem (no single source). SEEN.
    """
    skin = skin_of(
        bodies.cylinder(diameter_mm=MM * 3.0, length_mm=MM * 2.0, facets=FINE, upright=True)
    )
    rest = float_at(
        skin, mass_g=0.7e-3 * skin.volume_mm3, center_of_gravity_mm=(0.0, 0.0, MM * 1.0)
    )
    assert rest.upright_is_stable
    assert rest.floating.height_mm / MM == pytest.approx(1.4, rel=1e-9)
    assert rest.floating.metacentric_height_mm == pytest.approx((1.0179, 1.0179), abs=5e-5)


def test_exam_upright_cylinder_twice_as_long_as_wide(skin_of):
    """A cylinder of length 2 d and relative density 0.6 cannot stand: GM −0.3479 d.

    A common examination problem (no single source). SEEN.
    """
    diameter = 40.0
    skin = skin_of(
        bodies.cylinder(
            diameter_mm=diameter, length_mm=2.0 * diameter, facets=FINE // 5, upright=True
        )
    )
    mass = 0.6e-3 * skin.volume_mm3
    held = held_at(skin, mass_g=mass, density_kg_m3=1000.0)
    metacenter = held.center_of_buoyancy_mm[2] + held.metacentric_radius_mm[0]
    assert metacenter / diameter - 1.0 == pytest.approx(-0.3479, abs=5e-5)
    rest = float_at(skin, mass_g=mass, center_of_gravity_mm=(0.0, 0.0, diameter))
    assert not rest.upright_is_stable


def test_exam_uniform_wedge(skin_of):
    """A wedge 0.5 × 0.5 m, apex down, drawing 0.45 m: GM 0.04167 m.

    A common examination problem (no single source). SEEN inputs.
    """
    side = 500.0
    skin = skin_of(bodies.prism(length_mm=2000.0, beam_mm=side, height_mm=side))
    rest = float_at(
        skin,
        mass_g=0.81e-3 * skin.volume_mm3,
        center_of_gravity_mm=(1000.0, 0.0, 2.0 * side / 3.0),
    )
    assert rest.upright_is_stable
    assert rest.floating.height_mm == pytest.approx(450.0, rel=1e-9)
    assert rest.floating.metacentric_height_mm[0] == pytest.approx(125.0 / 3.0, rel=1e-9)
    assert rest.floating.metacentric_height_mm[0] / 1000.0 == pytest.approx(0.04167, abs=5e-6)


def test_derrett_barrass_chapter_24_square_log(skin_of):
    """A log 6 × 3 × 3 m of relative density 0.4 in fresh water: GM −0.275 m, and she lies at 45°.

    Derrett and Barrass, Ship Stability for Masters and Mates, 5th ed., 1999, ch. 24: value from
    memory; −0.275 and 45° are derived besides (KB 0.6, BM 0.625, KG 1.5; the square's symmetry).
    """
    skin = box(skin_of, 6.0, 3.0, 3.0)
    mass = 0.4e-3 * skin.volume_mm3
    _, center, radius = heights(skin, mass, 1000.0)
    assert center + radius - 1.5 == pytest.approx(-0.275, rel=1e-9)
    rest = float_at(skin, mass_g=mass, center_of_gravity_mm=(0.0, 0.0, MM * 1.5))
    assert not rest.upright_is_stable
    assert rest.floating.heel_deg == pytest.approx(45.0, abs=1e-7)


def test_openstax_college_physics_chapter_11_problem_37(skin_of):
    """A log with 20.0 % of its length out of fresh water weighs 800 kg in a cubic meter.

    OpenStax, College Physics, ch. 11, problem 37. SEEN. Held on end, as the problem has it.
    """
    skin = skin_of(bodies.cylinder(diameter_mm=60.0, length_mm=400.0, upright=True))
    mass = 800e-6 * skin.volume_mm3
    held = held_at(skin, mass_g=mass, density_kg_m3=1000.0)
    out = 1.0 - held.height_mm / 400.0
    assert out == pytest.approx(0.200, rel=1e-9)
    assert held.displaced_volume_mm3 / skin.volume_mm3 == pytest.approx(0.800, rel=1e-9)


def test_naca_tn_183_twin_floats(skin_of):
    """Two floats 1.0 m long and 0.1 m wide, 0.5 m apart: second moment 0.0126667 m⁴.

    Diehl, W. S., Static Stability of Seaplane Floats and Hulls, NACA TN 183, 1924:
    (L/12)((s + b)³ − (s − b)³). SEEN, and derived: two strips, each with its own and its shifted
    part.
    """
    length, beam, apart, draft = 1000.0, 100.0, 500.0, 50.0
    floats = [
        bodies.box(length_mm=length, beam_mm=beam, height_mm=90.0, origin_mm=(0.0, side, 0.0))
        for side in (-apart / 2, apart / 2)
    ]
    volume = 2.0 * length * beam * draft
    held = held_at(skin_of(*floats), mass_g=1e-3 * volume, density_kg_m3=1000.0)
    second = held.metacentric_radius_mm[0] * volume * 1e-12
    assert second == pytest.approx(0.0126667, abs=5e-8)
    assert second == pytest.approx(((0.6**3) - (0.4**3)) / 12.0, rel=1e-12)
