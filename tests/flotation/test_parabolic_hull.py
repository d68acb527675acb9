"""The parabolic hull y = ±(B/2)(1 − (2x/L)²)(1 − (z/T)²), whose every form is closed."""

import math

import make_bodies as bodies
import numpy as np
import pytest
from closed_form import FOURFOLD, FRESH, UP, exact

from hullcheck.flotation.floating import float_at
from hullcheck.geometry.moment_tree import under_directly


def parabolic_errors(doublings):
    """Return closed forms less what the facets give, of a parabolic hull at its waterline."""
    length, beam, draft = 400.0, 100.0, 40.0
    volume = 4.0 / 9.0 * length * beam * draft
    truth = np.array(
        [
            volume,
            2.0 / 3.0 * length * beam,
            -0.375 * draft,
            3.0 / 35.0 * beam**2 / draft,
            0.075 * length**2 / draft,
        ]
    )
    errors = []
    for twice in doublings:
        triangles = bodies.parabolic_hull(
            length_mm=length,
            beam_mm=beam,
            draft_mm=draft,
            freeboard_mm=30.0,
            columns=32 * twice,
            rows=16 * twice,
        )
        under = under_directly(triangles, UP, 0.0, np.zeros(3))
        center = under.position_integral / under.volume
        assert list(center[:2]) == exact([0.0, 0.0])
        assert list(under.area_centroid) == exact([0.0, 0.0, 0.0])
        radii = np.diag(under.second_moments) / under.volume
        errors.append(truth - [under.volume, under.area, center[2], radii[1], radii[0]])
    return truth, errors


def test_parabolic_hull_tends_to_its_closed_form():
    """A hull of parabolic waterlines and sections has its integrals, less what facets cut off.

    Volume (4/9) L B T, waterplane (2/3) L B, KB 0.625 T, BM (3/35) B²/T and 0.075 L²/T, the centers
    amidships. At y = (B/2)(1 − (2x/L)²)(1 − (z/T)²) all are integrals of powers: ∫(1−u²)³ du over
    the length is 32/35 and gives BM. The errors fall fourfold as the facets are doubled.
    """
    truth, errors = parabolic_errors((1, 2, 4))
    # A parabola's chord over a panel of width w misses w²/6 of its area: (2/columns)² /4 each way.
    assert np.abs(errors[0] / truth).max() < 2.0 * (2.0 / 32.0) ** 2
    assert list(errors[0] / errors[1]) == pytest.approx([4.0] * 5, rel=FOURFOLD)
    assert list(errors[1] / errors[2]) == pytest.approx([4.0] * 5, rel=FOURFOLD)


def test_parabolic_hull_floats_at_its_waterline(skin_of):
    """Loaded with the closed form's volume she floats deeper by what the facets lack, and level."""
    length, beam, draft = 400.0, 100.0, 40.0
    sinkage = []
    for twice in (1, 2):
        skin = skin_of(
            bodies.parabolic_hull(
                length_mm=length,
                beam_mm=beam,
                draft_mm=draft,
                freeboard_mm=30.0,
                columns=32 * twice,
                rows=16 * twice,
            )
        )
        mass = FRESH * 4.0 / 9.0 * length * beam * draft
        rest = float_at(skin, mass_g=mass, center_of_gravity_mm=(0.0, 0.0, -20.0))
        assert (rest.floating.trim_deg, rest.floating.heel_deg) == exact((0.0, 0.0))
        missing = mass / FRESH - skin.tree.under(UP, -skin.tree.origin_mm[2]).volume
        # Wall-sided above the waterline: the missing volume over the waterplane, to all orders.
        assert rest.floating.height_mm == exact(missing / rest.floating.waterplane_area_mm2)
        sinkage.append(rest.floating.height_mm)
    assert sinkage[0] / sinkage[1] == pytest.approx(4.0, rel=FOURFOLD)


def test_parabolic_hull_wetted_surface():
    """L/B 10 and B/T 1.6 wet 0.14879 L²: the same integral done by adaptive quadrature."""
    from scipy.integrate import dblquad

    length, beam, draft = 1000.0, 100.0, 62.5

    def element(z, x):
        """Return the area of skin over a unit of the center plane."""
        u, v = 2.0 * x / length, z / draft
        aft = -2.0 * beam / length * u * (1.0 - v * v)
        rise = -beam / draft * v * (1.0 - u * u)
        return math.sqrt(1.0 + aft * aft + rise * rise)

    truth = 4.0 * dblquad(element, 0.0, length / 2.0, -draft, 0.0, epsabs=1e-6)[0]
    # Half a unit in the last printed digit.
    assert truth / length**2 == pytest.approx(0.14879, abs=5e-6)
    errors = []
    for twice in (1, 2, 4):
        triangles = bodies.parabolic_hull(
            length_mm=length, beam_mm=beam, draft_mm=draft, columns=32 * twice, rows=16 * twice
        )
        errors.append(truth - under_directly(triangles, UP, 0.0, np.zeros(3)).wetted_area)
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.05)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=FOURFOLD)
    assert abs(errors[2]) < 5e-6 * length**2
