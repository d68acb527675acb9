"""Bodies that stay where they are put, and the flag that says so.

A round body is neutral, its facets are not: a cylinder of 96 sides has two dozen attitudes it would
rather lie in, by a hundredth of a millimeter of stiffness. The flag is for a stiffness that is zero
within 1e-9 of the length, so it is held to bodies balanced about their own facets' metacenter.
"""

import make_bodies as bodies
import numpy as np
import pytest

from hullcheck.flotation.floating import float_at

FRESH = 1e-3


def ball(facets):
    """Return a sphere of as many meridians as given, half as many bands, about the origin."""
    return bodies.sphere(diameter_mm=100.0, facets=facets, bands=facets // 2)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
def test_a_sphere_is_neutral_as_far_as_its_facets_are_round(skin_of, share):
    """A homogeneous sphere has no preferred attitude: its stiffness falls with the facets.

    Round, it would be 0. Inscribed facets leave a part of the order of the sagitta, which falls
    about fourfold each time they are halved.
    """
    stiffness = []
    for facets in (32, 64):
        skin = skin_of(ball(facets))
        found = float_at(
            skin,
            mass_g=share * FRESH * skin.volume_mm3,
            center_of_gravity_mm=(0.0, 0.0, 0.0),
        ).floating
        sagitta = 50.0 * (1.0 - np.cos(np.pi / facets))
        assert abs(found.stiffness_mm[0]) < 4.0 * sagitta
        stiffness.append(abs(found.stiffness_mm[1]))
    assert stiffness[1] < 0.5 * stiffness[0]


@pytest.mark.parametrize("half", [0.25, 0.5])
def test_a_body_that_stays_where_it_is_put_is_flagged(skin_of, half):
    """A sphere whose center of gravity lies at its metacenter is neutral: flagged, one attitude.

    Placed at the metacenter of its own facets the stiffness about the length is zero to rounding.
    """
    skin = skin_of(ball(64))
    mass = half * FRESH * skin.volume_mm3
    low = float_at(skin, mass_g=mass, center_of_gravity_mm=(0.0, 0.0, -20.0)).floating
    metacenter = float(low.center_of_buoyancy_mm[2]) + low.metacentric_radius_mm[0]
    rest = float_at(
        skin, mass_g=mass, center_of_gravity_mm=(0.0, 0.0, metacenter), all_attitudes=True
    )
    assert rest.neutral
    assert not rest.upright_is_stable
    assert not rest.either_side
    assert len(rest.attitudes) == 1
    assert rest.floating.heel_deg == pytest.approx(0.0, abs=1e-9)


def test_a_lying_cylinder_is_neutral_in_heel(skin_of):
    """A lying cylinder loaded to its metacenter is neutral in heel and not in trim."""
    skin = skin_of(bodies.cylinder(diameter_mm=80.0, length_mm=240.0))
    mass = 0.5 * FRESH * skin.volume_mm3
    low = float_at(skin, mass_g=mass, center_of_gravity_mm=(120.0, 0.0, -20.0)).floating
    metacenter = float(low.center_of_buoyancy_mm[2]) + low.metacentric_radius_mm[0]
    rest = float_at(skin, mass_g=mass, center_of_gravity_mm=(120.0, 0.0, metacenter))
    assert rest.neutral
    assert rest.floating.stiffness_mm[0] == pytest.approx(0.0, abs=1e-9 * 240.0)
    assert rest.floating.stiffness_mm[1] > 1.0
    assert rest.floating.stable is (rest.floating.stiffness_mm[0] > 0.0)


def test_a_stable_body_is_not_flagged(skin_of):
    """A box with her center of gravity low is stable and not neutral."""
    rest = float_at(
        skin_of(bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)),
        mass_g=500.0,
        center_of_gravity_mm=(120.0, 0.0, 10.0),
    )
    assert not rest.neutral
    assert rest.upright_is_stable
    assert rest.floating.stable
