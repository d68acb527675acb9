"""Wind, gusts and turns against a worked example and closed forms."""

import math

import make_bodies as bodies
import numpy as np
import pytest
from scipy.integrate import quad

from hullcheck.errors import InputError
from hullcheck.flotation.righting_curve import RightingCurve, heels_between
from hullcheck.flotation.upsetting import (
    AIR_DENSITY_KG_M3,
    Turn,
    Upset,
    Wind,
    gust_limit_mm,
    steady_heel,
    steady_limit_mm,
    wind_speed_m_s,
)
from hullcheck.units import STANDARD_GRAVITY_M_S2

METER = 1000.0
TONNE = 1e6


def ship(skin_of, descent_of):
    """Return the curve of the example's box: 80 × 12 m, draft 5 m, KG 4.815 m, sea water."""
    skin = skin_of(
        bodies.box(
            length_mm=80 * METER,
            beam_mm=12 * METER,
            height_mm=10 * METER,
            origin_mm=(-40 * METER, 0.0, 0.0),
        )
    )
    return RightingCurve(
        descent_of(
            skin,
            mass_g=80 * 12 * 5 * 1.025 * TONNE,
            center_of_gravity_mm=(0.0, 0.0, 4.815 * METER),
            density_kg_m3=1025.0,
        )
    )


def test_exam_wind_heel_example(skin_of, descent_of):
    """Box 80 × 12 m heeled 15° by wind: GZ 0.04430 m, v = 25.72 m/s.

    An examination problem of 2024 (no single source). SEEN inputs: area 627 m², lever 6.5 m, moment
    0.85 A b v² cos² θ N·m, g 9.81. The steady heel of that wind is 15° again. GZ within half a unit
    of its last digit; v too, g being 9.80665 here, of which v takes the root.
    """
    curve = ship(skin_of, descent_of)
    mass = curve.descent.load.mass_g
    heel = math.radians(15.0)
    assert curve.arm(heel) / METER == pytest.approx(0.04430, abs=5e-6)
    wind = Wind(
        speed_m_s=25.72,
        area_mm2=627 * METER**2,
        lever_mm=6.5 * METER,
        drag_coefficient=2.0 * 0.85 / AIR_DENSITY_KG_M3,
    )
    path = heels_between(0.0, heel)
    speed = wind_speed_m_s(wind, steady_limit_mm(curve, path, 1.0), mass)
    assert speed * math.sqrt(9.81 / STANDARD_GRAVITY_M_S2) == pytest.approx(25.72, abs=5e-3)
    assert wind.moment_n_mm == pytest.approx(0.85 * 627 * 6.5 * 25.72**2 * METER, rel=1e-12)
    upset = Upset(wind_mm=wind.arm_mm(mass) * 9.80665 / 9.81)
    found = steady_heel(curve, heels_between(0.0, math.pi), 1.0, upset)
    assert math.degrees(found) == pytest.approx(15.0, abs=0.01)


def test_steady_heel_is_where_the_arms_meet(skin_of, descent_of):
    """Both ways, the steady heel of a wind satisfies sin φ (GM + ½ BM tan² φ) = lever cos² φ."""
    curve = ship(skin_of, descent_of)
    upset = Upset(wind_mm=30.0, turn_mm=4.0)
    for side in (1.0, -1.0):
        heel = side * steady_heel(curve, heels_between(0.0, side * math.pi), side, upset)
        arm = math.sin(heel) * (85.0 + 1200.0 * math.tan(heel) ** 2)
        lever = 30.0 * math.cos(heel) ** 2 + 4.0 * math.cos(heel)
        assert arm == pytest.approx(lever, abs=1e-5)
    # Short of 40° nothing holds her against this; by cos² φ any wind fades towards 90°.
    strong = Upset(wind_mm=1e5)
    assert steady_heel(curve, heels_between(0.0, math.radians(40.0)), 1.0, strong) is None


def test_gust_by_the_energy_of_the_closed_arm(skin_of, descent_of):
    """A sudden wind rolls her to where its work is the area: ∫GZ dφ over ∫cos² φ dφ by quadrature.

    Wall-sided, trim 0; the ratio rises all the way, so its last value is the most. The integral of
    cos² is exact over each step of heel.
    """
    curve, stop = ship(skin_of, descent_of), math.radians(20.0)
    area = quad(lambda h: math.sin(h) * (85.0 + 1200.0 * math.tan(h) ** 2), 0.0, stop)[0]
    work = quad(lambda h: math.cos(h) ** 2, 0.0, stop)[0]
    found = gust_limit_mm(curve, heels_between(0.0, stop), 1.0)
    assert found == pytest.approx(area / work, rel=1e-6)
    turned = quad(math.cos, 0.0, stop)[0]
    with_turn = gust_limit_mm(curve, heels_between(0.0, stop), 1.0, turn_mm=5.0)
    assert with_turn == pytest.approx((area - 5.0 * turned) / work, rel=1e-6)
    # Sudden, a wind rolls her further than steady.
    assert found < steady_limit_mm(curve, heels_between(0.0, stop), 1.0)


def test_no_wind_by_this_law_brings_her_past_90_degrees(skin_of, descent_of):
    """cos² φ is 0 at 90°: limits there are infinite, and no speed is told."""
    curve = ship(skin_of, descent_of)
    path = heels_between(0.0, math.radians(95.0))
    wind = Wind(speed_m_s=1.0, area_mm2=1e6, lever_mm=100.0)
    for limit in (steady_limit_mm, gust_limit_mm):
        assert limit(curve, path, 1.0) == math.inf
        assert wind_speed_m_s(wind, limit(curve, path, 1.0), 700.0) is None


def test_a_turn_heels_by_v_squared_over_g_r():
    """The tangent of the heel of a body on one point is v²/(g R).

    The lever is that share of the height: derived.
    """
    turn = Turn(speed_m_s=3.0, radius_m=2.0, lever_mm=50.0)
    assert turn.arm_mm == pytest.approx(50.0 * 9.0 / (9.80665 * 2.0), rel=1e-12)


def test_what_makes_no_sense_is_refused():
    """Negative or infinite winds and a turn without a radius are refused with their value."""
    with pytest.raises(InputError, match="wind: speed_m_s -1: must not be below 0"):
        Wind(speed_m_s=-1.0, area_mm2=1.0, lever_mm=1.0)
    with pytest.raises(InputError, match="lever_mm inf"):
        Wind(speed_m_s=1.0, area_mm2=1.0, lever_mm=math.inf)
    with pytest.raises(InputError, match="on 0 m: the radius must be above 0"):
        Turn(speed_m_s=1.0, radius_m=0.0, lever_mm=1.0)
    assert np.isfinite(Wind(speed_m_s=0.0, area_mm2=1.0, lever_mm=-3.0).arm_mm(100.0))
