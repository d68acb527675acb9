"""Printed boats with one thing gravely wrong: refused, or flagged, by the name of part and place.

Boats are drawn anew for each run (see test_printed_skins); what is wrong with them, and where, is
known because it was done on purpose.
"""

import re
from dataclasses import replace

import numpy as np
import pytest
from outside import required

required("OCP")
required("manifold3d")
from printed_boats import printed  # noqa: E402
from printed_faults import DISPLACED_MM, MISSING_SHARE, THIN_WALL_MM, TORN_MM, faulty  # noqa: E402
from skin_trials import seed_drawn, wet_patches  # noqa: E402

from hullcheck.errors import SurfaceError  # noqa: E402
from hullcheck.geometry.outer_skin import outer_skin  # noqa: E402

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

BASES = ("K3", "K4")
MISSING = {"bow": 0, "middle": 1, "stern": -1}
NEAR_MM = 1.0


def say(text):
    """Print what a failure is to be found again by; pytest shows it beside the failure."""
    print(text)  # noqa: T201


def drawn(fault, index, base=None):
    """Return a boat with a fault, of this run's seed."""
    boat = faulty(fault, seed_drawn(), index, base=base)
    say(f"HULLCHECK_SEED={seed_drawn()}: {boat.described}")
    return boat


def refusal_of(boat):
    """Return why a boat is refused."""
    with pytest.raises(SurfaceError) as refused:
        outer_skin("hull", boat.parts)
    say(str(refused.value))
    return str(refused.value)


def said_of(boat):
    """Return why a boat is refused, or what is noted of her."""
    try:
        skin = outer_skin("hull", boat.parts)
    except SurfaceError as refusal:
        return str(refusal)
    return " ".join(sentence for _, sentence in skin.notes)


def stations_in(sentence):
    """Return the stations that a sentence names [mm]."""
    return [float(number) for number in re.findall(r"station (\d+)", sentence)]


@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("which", MISSING)
def test_a_missing_segment_is_refused_with_its_place(which, base):
    """Bow, middle or stern not given: refused, the stations named are the missing one's ends."""
    index = 100 + 2 * list(MISSING).index(which) + BASES.index(base)
    boat = printed(seed_drawn(), index, base, gap_mm=0.0)
    number = MISSING[which] % len(boat.parts)
    along = boat.parts[number][1][:, :, 0]
    kept = [*boat.parts[:number], *boat.parts[number + 1 :]]
    say(f"HULLCHECK_SEED={seed_drawn()}: {boat.described}; segment {number + 1} missing")
    sentence = refusal_of(replace(boat, parts=kept))
    assert "a part is missing there" in sentence
    ends = [along.min(), along.max()]
    inner = {"bow": ends[1:], "middle": ends, "stern": ends[:1]}[which]
    assert stations_in(sentence) == pytest.approx(inner, rel=0, abs=NEAR_MM)


@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize(
    "fault", ["segment displaced along x", "segment displaced across", "segment upside down"]
)
def test_a_segment_out_of_place_is_named(fault, base):
    """Off by 5 mm or turned over: the part is named, with the distance where it was shifted."""
    boat = drawn(fault, 200 + BASES.index(base), base)
    sentence = said_of(boat)
    say(sentence)
    assert re.search(rf"\b{boat.fault_at[0]}\b", sentence)
    distances = [float(number) for number in re.findall(r"(\d+\.\d) mm", sentence)]
    assert distances
    if fault != "segment upside down":
        # Across, the outlines lie as far apart as the shift at the worst place.
        assert max(distances) == pytest.approx(DISPLACED_MM, rel=0, abs=0.1)


def test_a_wall_thinner_than_what_is_printed_is_refused():
    """A wall of 0.03 mm is refused with that thickness."""
    sentence = refusal_of(drawn("wall of 0.03 mm", 300))
    assert "segment 1: its wall is" in sentence
    thick = float(re.search(r"wall is ([\d.]+) mm", sentence)[1])
    assert thick == pytest.approx(THIN_WALL_MM, rel=0.5)


@pytest.mark.parametrize("base", BASES)
def test_a_file_that_lacks_triangles_all_over_is_refused(base):
    """Without 5 % of its triangles a part is refused with a share near that."""
    sentence = refusal_of(drawn("5 % of the triangles missing", 400 + BASES.index(base), base))
    found = re.search(r"(segment \d+): about ([\d.]+) % of its triangles are missing", sentence)
    assert found
    assert float(found[2]) == pytest.approx(100.0 * MISSING_SHARE, rel=0.25)


def test_a_torn_bottom_is_an_opening_under_water():
    """It is listed as one opening under water, named with its place and size."""
    boat = drawn("bottom torn off", 500)
    skin = outer_skin("hull", boat.parts)
    found = [p for p in wet_patches(skin, boat.waterline_mm) if p.kind == "opening"]
    say([patch.name for patch in found])
    torn = found[0]
    words = re.fullmatch(r"opening at station (\d+), (\d+) × (\d+) mm", torn.name)
    assert words
    length, width = TORN_MM
    assert float(words[1]) == pytest.approx(boat.fault_at[1][0], rel=0, abs=NEAR_MM)
    assert float(words[2]) == pytest.approx(length, rel=0, abs=NEAR_MM)
    assert float(words[3]) == pytest.approx(width, rel=0, abs=NEAR_MM)
    # The plane piece across the gap: at least length × width, less than half as much again.
    assert 0.95 * length * width < torn.area_mm2 < 1.5 * length * width
    assert (skin.sources[0] == -1).any()
    assert np.isfinite(skin.error_mm3)
