"""Flying boats drawn in a CAD kernel, floated from their STL, cut at that plane by the kernel.

Open CASCADE knows nothing of boats: it holds the hull as exact surfaces, cuts it with its own
Boolean operation and integrates over what is left with its own quadrature.
"""

import math
from dataclasses import dataclass

import numpy as np
import pytest
from outside import required

required("OCP")
from flying_boat_lines import Lines, described, drawn  # noqa: E402
from flying_boats import compound, curved_boat, polyhedral_boat, volume_of  # noqa: E402
from OCP.StlAPI import StlAPI_Writer  # noqa: E402
from solid_cuts import faceted, under  # noqa: E402

from hullcheck.files.meshes import read_mesh  # noqa: E402
from hullcheck.flotation.floating import float_at, held_at  # noqa: E402
from hullcheck.geometry.arrays import bounds  # noqa: E402
from hullcheck.geometry.attitude import level_directions  # noqa: E402
from hullcheck.geometry.shells import outer_shells  # noqa: E402
from hullcheck.geometry.skin import Skin  # noqa: E402
from hullcheck.geometry.step import find_step  # noqa: E402

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

SEED = 20417
HULLS = 7
LOADS = 3
DEFLECTION_MM = 0.02


def say(text):
    """Print what a failure is to be found again by; pytest shows it beside the failure."""
    print(text)  # noqa: T201


@dataclass(frozen=True, kw_only=True, eq=False)
class Boat:
    """A drawn flying boat: her lines, her solids, her facets, and her skin as read from a file."""

    lines: Lines
    solids: list
    facets: list
    skin: Skin


@dataclass(frozen=True, kw_only=True)
class Bound:
    """How far the facets' answers may lie from the surface's own: see `tessellation_bound`."""

    volume: float
    buoyancy: float
    area: float
    flotation: float
    second: float


@pytest.fixture(scope="module", params=range(HULLS))
def curved(request, tmp_path_factory):
    """Return a flying boat with curved bow, deck, afterbody and floats."""
    lines = drawn(SEED, request.param)
    return launched(lines, curved_boat(lines), tmp_path_factory.mktemp("curved"))


@pytest.fixture(scope="module", params=range(HULLS))
def flat(request, tmp_path_factory):
    """Return a flying boat of flat faces whose corners 32-bit numbers hold exactly."""
    lines = drawn(SEED, request.param)
    return launched(lines, polyhedral_boat(lines), tmp_path_factory.mktemp("flat"))


def launched(lines, solids, folder):
    """Return a boat after the kernel wrote her as binary STL and the product read the file."""
    facets = [faceted(solid, DEFLECTION_MM) for solid in solids]
    writer = StlAPI_Writer()
    writer.ASCIIMode = False
    path = folder / "boat.stl"
    assert writer.Write(compound(solids), str(path))
    (part,) = read_mesh(path).parts
    # The facets whose distance from the surface was measured are those in the file, to the bit.
    assert np.array_equal(part.triangles, np.concatenate([f.triangles for f in facets]))
    found = outer_shells("boat", part.triangles)
    assert (found.repairs, found.dropped) == ((), ())
    skin = Skin(names=("hull", "one float", "other float"), shells=found.shells)
    return Boat(lines=lines, solids=solids, facets=facets, skin=skin)


def loads(boat, index):
    """Yield masses [g], centers of gravity [mm] and densities [kg/m³] drawn at random.

    The center lies off the center plane and off the level trim's balance, low enough for most of
    them that the hull carries her alone, high enough for some that she leans on a float.
    """
    rng = np.random.default_rng((SEED, index, 1))
    lines = boat.lines
    for _ in range(LOADS):
        density = rng.uniform(995.0, 1030.0)
        mass = 1e-6 * density * boat.skin.volume_mm3 * rng.uniform(0.12, 0.55)
        level = held_at(boat.skin, mass_g=mass, density_kg_m3=density).center_of_buoyancy_mm
        off = rng.uniform([-0.04, -0.15, -0.1], [0.04, 0.15, 0.5])
        yield mass, level + off * [lines.length, lines.beam, lines.deck], density


def afloat(boat, index):
    """Yield where the boat floats at each load, and the kernel's cuts of her solids there."""
    say(f"seed {SEED}, hull {index}: {described(boat.lines)}")
    for mass, center, density in loads(boat, index):
        say(f"mass {mass:.1f} g, CG {center.round(2)} mm, density {density:.2f} kg/m³")
        rest = float_at(
            boat.skin, mass_g=mass, center_of_gravity_mm=center, density_kg_m3=density
        ).floating
        say(f"trim {rest.trim_deg:.2f}°, heel {rest.heel_deg:.2f}°, height {rest.height_mm:.3f}")
        assert 1e-6 * density * rest.displaced_volume_mm3 == pytest.approx(mass, rel=1e-12)
        yield rest, [under(solid, rest.normal, rest.height_mm) for solid in boat.solids]


def gathered(cuts):
    """Return volume, CB, area, its centroid and its second moments about it, of all cuts."""
    volume, area = sum(c.volume for c in cuts), sum(c.area for c in cuts)
    centroid = sum(c.area_moment for c in cuts) / area
    second = sum(c.second_moment for c in cuts) - area * np.outer(centroid, centroid)
    return volume, sum(c.first_moment for c in cuts) / volume, area, centroid, second


def second_moments(boat, rest):
    """Return the product's second moments of the waterplane about its centroid, (3, 3) [mm⁴]."""
    tree = boat.skin.tree
    return tree.under(rest.normal, rest.height_mm - rest.normal @ tree.origin_mm).second_moments


def tessellation_bound(boat, rest, cuts):
    """Return how far facets may change each answer at a plane.

    Facet k of area a_k stays within m_k of the surface it stands for, measured along the normals of
    both at seven points of it; m_k includes rounding to 32 bits, and the kernel's own tolerance is
    added. Moving every facet onto its surface sweeps at most a_k m_k: so |ΔV| ≤ Σ a_k m_k over the
    wet facets, and |ΔCB| ≤ Σ a_k m_k r_k / V with r_k the greatest distance from CB.

    In the plane the waterline of a facet, at most ℓ_k long within m_k of the plane, moves by at
    most m_k / sin γ_k, γ_k the least angle between the plane and either surface there. With
    s_k = ℓ_k m_k / sin γ_k: |ΔA| ≤ Σ s_k, the centroid moves by c ≤ Σ s_k r_k / A, and the second
    moments by at most Σ s_k r_k² + A c², r_k from the centroid of the waterplane.
    """
    tolerance = max(c.tolerance for c in cuts)
    volume, buoyancy, area, centroid, _ = gathered(cuts)
    triangles = np.concatenate([f.triangles for f in boat.facets])
    stray = np.concatenate([f.stray for f in boat.facets]) + tolerance
    normals = np.concatenate([f.normals for f in boat.facets])
    heights = triangles @ rest.normal - rest.height_mm
    wet = heights.min(axis=1) < stray
    sides = triangles[:, 1:] - triangles[:, :1]
    swept = 0.5 * np.linalg.norm(np.cross(sides[:, 0], sides[:, 1]), axis=1) * stray * wet
    far = np.linalg.norm(triangles - buoyancy, axis=2).max(axis=1)
    near = (np.abs(heights).min(axis=1) < stray) | (heights.min(axis=1) * heights.max(axis=1) < 0)
    steep = np.sqrt(1.0 - np.minimum(np.abs(normals[near] @ rest.normal).max(axis=1), 1.0) ** 2)
    strip = longest_cut(triangles[near], heights[near], stray[near]) * stray[near] / steep
    out = np.linalg.norm(triangles[near] - centroid, axis=2).max(axis=1)
    shift = float(strip @ out) / area
    return Bound(
        volume=float(swept.sum()),
        buoyancy=float(swept @ far) / volume,
        area=float(strip.sum()),
        flotation=shift,
        second=float(strip @ out**2) + area * shift**2,
    )


def longest_cut(triangles, heights, reach):
    """Return the greatest length of each triangle's cuts within a reach of the plane [mm].

    The length grows linearly up to the middle corner's height and falls linearly from there, so the
    level nearest to the middle corner has it.
    """
    order = np.argsort(heights, axis=1)
    low, middle, high = np.moveaxis(np.take_along_axis(triangles, order[:, :, None], axis=1), 1, 0)
    h0, h1, h2 = np.take_along_axis(heights, order, axis=1).T
    level = np.clip(h1, np.maximum(-reach, h0), np.minimum(reach, h2))
    below = level <= h1
    foot, top = np.where(below, h0, h1), np.where(below, h1, h2)
    rise = np.where(top > foot, top - foot, 1.0)
    start, stop = np.where(below[:, None], low, middle), np.where(below[:, None], middle, high)
    share = np.where(top > foot, (level - foot) / rise, below)[:, None]
    along = ((level - h0) / np.where(h2 > h0, h2 - h0, 1.0))[:, None]
    return np.linalg.norm(start + share * (stop - start) - low - along * (high - low), axis=1)


def test_curved_boats_agree_within_their_tessellation_error(curved, request):
    """Volume, CB, waterplane area, its centroid and second moments, within the computed bound."""
    for rest, cuts in afloat(curved, request.node.callspec.params["curved"]):
        bound = tessellation_bound(curved, rest, cuts)
        volume, buoyancy, area, centroid, second = gathered(cuts)
        say(str(bound))
        # A bound that is no small share of what it bounds would let anything pass.
        assert bound.volume < 1e-3 * volume
        assert bound.area < 1e-3 * area
        assert bound.second < 3e-3 * np.trace(second)
        assert rest.displaced_volume_mm3 == pytest.approx(volume, rel=0, abs=bound.volume)
        assert np.linalg.norm(rest.center_of_buoyancy_mm - buoyancy) <= bound.buoyancy
        assert rest.waterplane_area_mm2 == pytest.approx(area, rel=0, abs=bound.area)
        assert np.linalg.norm(rest.center_of_flotation_mm - centroid) <= bound.flotation
        ours = second_moments(curved, rest)
        assert np.abs(ours - second).max() <= bound.second
        along, across = level_directions(
            trim=math.radians(rest.trim_deg), heel=math.radians(rest.heel_deg)
        )
        for radius, axis in zip(rest.metacentric_radius_mm, (across, along), strict=True):
            moment = radius * rest.displaced_volume_mm3
            assert moment == pytest.approx(axis @ second @ axis, rel=0, abs=bound.second)


def test_flat_faced_boats_agree_to_rounding(flat, request):
    """Where the file holds the solid exactly, every answer is the kernel's own to 1e-9.

    The kernel's tolerance is 1e-7 mm; its corners of flat faces are computed to rounding.
    """
    length = flat.lines.length
    for rest, cuts in afloat(flat, request.node.callspec.params["flat"]):
        volume, buoyancy, area, centroid, second = gathered(cuts)
        assert rest.displaced_volume_mm3 == pytest.approx(volume, rel=1e-9)
        assert rest.center_of_buoyancy_mm == pytest.approx(buoyancy, rel=0, abs=1e-9 * length)
        assert rest.waterplane_area_mm2 == pytest.approx(area, rel=1e-9)
        assert rest.center_of_flotation_mm == pytest.approx(centroid, rel=0, abs=1e-9 * length)
        scale = np.abs(second).max()
        assert second_moments(flat, rest) == pytest.approx(second, rel=0, abs=1e-9 * scale)


def test_step_is_found_where_it_was_drawn(curved):
    """Station, depth, keel angles, sternpost, beam and deadrise are the drawn ones.

    Lengths are as good as the file's 32-bit numbers. The forebody's keel is curved ahead of the
    shoulder, and its line may stray 0.01 % of the length from the keel: over the straight part that
    is a slope of twice that by its length.
    """
    lines, (hull, *floats) = curved.lines, curved.skin.shells
    say(described(lines))
    step = find_step(hull.triangles_mm)
    rounding = 0.5 * float(np.spacing(np.float32(lines.length)))
    assert step.station_mm == pytest.approx(lines.step_station, rel=0, abs=rounding)
    assert step.keel_z_mm == pytest.approx(0.0, abs=rounding)
    assert step.depth_mm == pytest.approx(lines.step_depth, rel=0, abs=4.0 * rounding)
    assert step.forebody_length_mm == pytest.approx(lines.step_station, rel=0, abs=rounding)
    assert step.sternpost_station_mm == pytest.approx(lines.length, rel=0, abs=rounding)
    assert step.beam_over_chines_mm == pytest.approx(lines.beam, rel=0, abs=4.0 * rounding)
    straight = lines.step_station - lines.shoulder
    play = math.degrees(2e-4 * lines.length / straight)
    assert step.forebody_keel_angle_deg == pytest.approx(-lines.forebody_keel, rel=0, abs=play)
    play = math.degrees(4.0 * rounding / step.afterbody_fit_mm)
    assert step.afterbody_keel_angle_deg == pytest.approx(lines.afterbody_keel, rel=0, abs=play)
    play = math.degrees(8.0 * rounding / lines.beam)
    assert step.deadrise_deg == pytest.approx(lines.deadrise, rel=0, abs=play)
    assert [find_step(shell.triangles_mm) for shell in floats] == [None, None]


def test_flat_faced_boats_agree_in_every_stable_attitude(flat, request):
    """Capsized and on her ends too, the kernel cuts the load's volume and finds CB below the CG."""
    lines, index = flat.lines, request.node.callspec.params["flat"]
    mass, center, density = next(loads(flat, index))
    say(f"seed {SEED}, hull {index}: {described(lines)}; mass {mass:.1f} g, CG {center} mm")
    rest = float_at(
        flat.skin,
        mass_g=mass,
        center_of_gravity_mm=center,
        density_kg_m3=density,
        all_attitudes=True,
    )
    for attitude in rest.attitudes:
        cuts = [under(solid, attitude.normal, attitude.height_mm) for solid in flat.solids]
        volume, buoyancy, area, _, _ = gathered(cuts)
        assert 1e-6 * density * volume == pytest.approx(mass, rel=1e-9)
        assert attitude.waterplane_area_mm2 == pytest.approx(area, rel=1e-9)
        # The solver stops at a lever of 1e-11 of the length.
        lever = np.cross(center - buoyancy, attitude.normal)
        assert np.linalg.norm(lever) <= 1e-9 * lines.length


def test_whole_bodies_agree_before_any_cut(curved):
    """Each body's volume is the solid's within what its facets sweep; the length is as drawn."""
    swept = 0.0
    for facets in curved.facets:
        sides = facets.triangles[:, 1:] - facets.triangles[:, :1]
        areas = 0.5 * np.linalg.norm(np.cross(sides[:, 0], sides[:, 1]), axis=1)
        swept = max(swept, float(areas @ facets.stray))
    ours = [shell.volume_mm3 for shell in curved.skin.shells]
    drawn_volumes = sorted(map(volume_of, curved.solids), reverse=True)
    assert ours == pytest.approx(drawn_volumes, rel=0, abs=swept)
    low, high = bounds(curved.skin.shells[0].triangles_mm)
    rounding = 0.5 * float(np.spacing(np.float32(curved.lines.length)))
    assert (low[0], high[0]) == pytest.approx((0.0, curved.lines.length), rel=0, abs=rounding)
