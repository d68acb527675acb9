"""What is stated about the volume of a body from offsets, against what it is known to be."""

import itertools

import numpy as np
import pytest
from offset_rows import (
    EXACT,
    TARNWING_STATIONS_MM,
    body_of,
    centroid_of,
    parabolic_rows,
    prism_rows,
    shell_of,
    tarnwing_rows,
)

from hullcheck.flotation.floating import held_at
from hullcheck.geometry.shells import outer_shells
from hullcheck.geometry.step import find_step

both_ways = pytest.mark.parametrize("smooth", [False, True], ids=["straight", "smooth"])

SIZE = {"length_mm": 600.0, "beam_mm": 120.0, "draft_mm": 50.0}
PARABOLIC_MM3 = 4.0 / 9.0 * 600.0 * 120.0 * 50.0
COUNTS = [(5, 5), (6, 5), (9, 5), (12, 8), (17, 9)]


@both_ways
@pytest.mark.parametrize(("stations", "lines"), [(5, 3), (17, 3), *COUNTS])
def test_the_parabolic_hull_is_within_the_stated_error(stations, lines, smooth):
    """Block coefficient 4/9, center of volume 3/8 of the draft down, both by integration.

    ∫(1 − u²)du over −1…1 is 4/3 of 2, ∫(1 − ζ²)dζ over 0…1 is 2/3: V = (2/3)(2/3) L B T; the
    center −T (1/2 − 1/4)/(2/3) = −3T/8. An error e of the volume lies within T and L/2 of the
    center, so it moves it by less than e/V of those.
    """
    rows = parabolic_rows(**SIZE, stations=stations, lines=lines)
    body = body_of(rows, smooth=smooth)
    volume = shell_of(body).volume_mm3
    assert abs(volume - PARABOLIC_MM3) <= body.error_mm3
    center = centroid_of(body)
    share = body.error_mm3 / PARABOLIC_MM3
    assert abs(center[2] + 3.0 / 8.0 * SIZE["draft_mm"]) <= share * SIZE["draft_mm"]
    assert abs(center[0]) <= share * SIZE["length_mm"] / 2
    assert center[1] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("stations", "lines"), [(5, 3), *COUNTS])
def test_straight_lines_state_three_times_their_error(stations, lines):
    """The gap of a chord to a parabola grows with its square, so twice the chord has four times.

    What changes is three times the error that is left: within 5 %, as the errors along and around
    add up only to first order. A statement 4 or 2 times it would be another rule.
    """
    body = body_of(parabolic_rows(**SIZE, stations=stations, lines=lines))
    error = PARABOLIC_MM3 - shell_of(body).volume_mm3
    assert body.error_mm3 / error == pytest.approx(3.0, rel=0.05)


@both_ways
@pytest.mark.parametrize(("stations", "lines"), COUNTS)
def test_the_stated_error_at_least_halves_when_points_double(stations, lines, smooth):
    """Twice the stations halve one part, twice the lines the other, both the whole."""
    more = {"stations": 2 * stations - 1, "lines": 2 * lines - 1}

    def body(**counts):
        """Return the parabolic hull with other counts than the first."""
        given = {"stations": stations, "lines": lines} | counts
        return body_of(parabolic_rows(**SIZE, **given), smooth=smooth)

    coarse, fine = body(), body(**more)
    longer, rounder = body(stations=more["stations"]), body(lines=more["lines"])
    assert 0.0 < longer.error_along_mm3 <= 0.5 * coarse.error_along_mm3
    assert 0.0 < rounder.error_around_mm3 <= 0.5 * coarse.error_around_mm3
    assert fine.error_mm3 <= 0.5 * coarse.error_mm3


@pytest.mark.parametrize(("stations", "lines"), COUNTS)
def test_smooth_lines_state_less_than_straight_ones(stations, lines):
    """On a hull that is smooth, curves need fewer points for the same statement."""
    rows = parabolic_rows(**SIZE, stations=stations, lines=lines)
    straight, smooth = (body_of(rows, smooth=smooth) for smooth in (False, True))
    assert smooth.error_along_mm3 < straight.error_along_mm3
    assert smooth.error_around_mm3 < straight.error_around_mm3


@pytest.mark.parametrize("lines", [5, 9])
def test_a_round_section_is_within_the_stated_error(lines):
    """A cylinder by points on its half circle: π r² × length; smooth is five times nearer."""
    angle = np.linspace(-0.5, 0.5, lines) * np.pi
    section = [
        (f"bilge {k}", 40.0 * abs(np.cos(a).round(12)), 40.0 * np.sin(a))
        for k, a in enumerate(angle)
    ]
    off = []
    for smooth in (False, True):
        body = body_of(prism_rows(section, [0.0, 100.0, 300.0]), smooth=smooth)
        off.append(abs(shell_of(body).volume_mm3 - np.pi * 40.0**2 * 300.0))
        assert off[-1] <= body.error_mm3
        assert body.error_along_mm3 <= EXACT * np.pi * 40.0**2 * 300.0
    assert off[1] < 0.2 * off[0]


@pytest.fixture(scope="module")
def drawn(tarnwing_surfaces):
    """Return the demo hull's own mesh as a shell."""
    return outer_shells("drawn", tarnwing_surfaces[0]).shells[0]


@both_ways
def test_the_demo_hull_from_twelve_stations(drawn, skin_of, smooth):
    """Her volume, and what is under water at 690 g, differ from her mesh by less than is stated.

    The center of that water lies within 0.5 % of her length, the least a ruler shows on her.
    """
    body = body_of(tarnwing_rows(TARNWING_STATIONS_MM), smooth=smooth)
    assert len(body.stations_mm) == 12
    assert body.lines[:4] == ("keel", "chine", "side", "deck edge")
    shell = shell_of(body)
    assert abs(shell.volume_mm3 - drawn.volume_mm3) <= body.error_mm3 < 0.1 * shell.volume_mm3
    mesh, table = skin_of(drawn.triangles_mm), skin_of(body.triangles_mm)
    level = held_at(mesh, mass_g=690.0, density_kg_m3=1000.0)
    under = table.tree.under(level.normal, level.height_mm - float(table.tree.origin_mm[2]))
    assert abs(under.volume - 690e3) <= body.error_mm3
    floated = held_at(table, mass_g=690.0, density_kg_m3=1000.0)
    away = floated.center_of_buoyancy_mm - level.center_of_buoyancy_mm
    assert np.linalg.norm(away) < 0.005 * 624.0
    assert away[1] == pytest.approx(0.0, abs=1e-9)


@both_ways
def test_the_demo_hulls_step_is_found_on_its_offsets(drawn, smooth):
    """Station and depth as drawn, to rounding: both rows of the step are corners of the skin."""
    step = find_step(body_of(tarnwing_rows(TARNWING_STATIONS_MM), smooth=smooth).triangles_mm)
    expected = find_step(drawn.triangles_mm)
    assert step.station_mm == pytest.approx(expected.station_mm, abs=0.01)
    # The afterbody's keel is straight; the mesh's is so to its grid of a thousandth.
    assert step.depth_mm == pytest.approx(expected.depth_mm, abs=0.01)
    assert step.deadrise_deg == pytest.approx(expected.deadrise_deg, abs=0.5)


@pytest.mark.parametrize("twice", [1, 2])
def test_the_demo_hulls_stated_error_falls_with_more_stations(drawn, twice):
    """Between two stations one more, twice over: within the statement, and half of it at most."""
    stations = np.array(TARNWING_STATIONS_MM, dtype=float)
    stated = []
    for _ in range(twice + 1):
        body = body_of(tarnwing_rows(stations))
        assert abs(shell_of(body).volume_mm3 - drawn.volume_mm3) <= body.error_mm3
        stated.append(body.error_along_mm3)
        stations = np.sort(np.append(stations, 0.5 * (stations[1:] + stations[:-1])))
    assert all(fine <= 0.5 * coarse for coarse, fine in itertools.pairwise(stated))
