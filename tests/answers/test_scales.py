"""Mass and center from scales: exact statics give them back, the ± cover, nonsense is refused."""

import math

import numpy as np
import pytest

from hullcheck.answers.scales import balanced, tilt_of_block, two_scales, weighed
from hullcheck.answers.scales_ledger import against_ledger, center_plus_minus_mm, ledger_height
from hullcheck.answers.scales_records import CenterHeight, OnScales, Support
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.errors import InputError

CENTER = np.array([251.3, 1.7, 48.9])
MASS = 706.4
FORE = Support(name="fore", x_mm=120.0, z_mm=12.0)
AFT = Support(name="aft", x_mm=430.0, z_mm=31.0)
PORT = Support(name="port", x_mm=240.0, y_mm=-150.0, z_mm=60.0)
STARBOARD = Support(name="starboard", x_mm=244.0, y_mm=150.0, z_mm=60.0)


def in_world(point, bow_up_deg, heel_deg=0.0):
    """Return a body point as (aft, to starboard, up) of the room, by turning the body itself.

    Turned about its own y so that the bow rises, then about the level axis aft so that starboard
    goes down: rotation matrices, and nothing of the formula that is tested.
    """
    tau, phi = math.radians(bow_up_deg), math.radians(heel_deg)
    x, y, z = point
    y, z = y * math.cos(phi) + z * math.sin(phi), z * math.cos(phi) - y * math.sin(phi)
    return np.array(
        [x * math.cos(tau) + z * math.sin(tau), y, z * math.cos(tau) - x * math.sin(tau)]
    )


def readings(supports, center, mass, bow_up_deg=0.0, heel_deg=0.0):
    """Return what scales under supports read: forces up and moments about both level axes are 0."""
    here = in_world(center, bow_up_deg, heel_deg)
    arms = [in_world((s.x_mm, s.y_mm, s.z_mm), bow_up_deg, heel_deg) - here for s in supports]
    # Moments in units of 300 mm, so that the rows weigh alike.
    rows = [np.ones(len(supports)), np.array([a[0] for a in arms]) / 300.0]
    if len(supports) > 2:
        rows.append(np.array([a[1] for a in arms]) / 300.0)
    return np.linalg.solve(np.array(rows), np.array([mass, *[0.0] * (len(rows) - 1)])).tolist()


def on(supports, center, mass, bow_up=0.0, heel=0.0, **more):
    """Return the weighing that exact statics make of a mass and its center."""
    grams = readings(supports, center, mass, bow_up, heel)
    return OnScales(
        readings=tuple(zip(supports, grams, strict=True)),
        bow_up_deg=bow_up,
        starboard_down_deg=heel,
        **more,
    )


def item(name, grams, x, z=0.0, about=0.0):
    """Return an item of the ledger, weighed."""
    return Item(name=name, weighed_g=grams, x_mm=x, z_mm=z, plus_minus_g=about)


def test_height_of_the_center_by_moments():
    """Nicholls's Seamanship, p. 517: eight weights make 10,000 t, moment 212,050, KG 21.2 ft."""
    table = [(3250, 20), (1000, 24), (1500, 22), (1250, 21), (1100, 19), (900, 23), (600, 25)]
    table.append((400, 18))
    ledger = Ledger(items=tuple(item(str(i), m, 0.0, kg) for i, (m, kg) in enumerate(table)))
    assert ledger.mass_g == 10_000.0
    assert ledger.mass_g * ledger.center_mm[2] == pytest.approx(212_050.0, rel=1e-14)
    assert round(ledger_height(ledger).z_mm, 1) == 21.2


def test_two_scales_level_are_the_textbook_formula():
    """Two readings of 300 g and 100 g at stations 100 and 500: a quarter of the way, 200."""
    report = weighed([two_scales((300.0, 100.0), (100.0, 500.0))])
    assert report.mass_g == 400.0
    assert report.center_of_gravity_mm[0] == pytest.approx(200.0, abs=1e-12)
    assert report.center_of_gravity_mm[1:] == (None, None)
    assert report.correction_mm == pytest.approx(0.0, abs=1e-12)
    assert [w.code for w in report.warnings] == ["height-not-known"]


def test_bow_up_reads_too_far_aft_by_the_height_times_the_tangent():
    """Supports of equal z, bow up by 3°: (z_G − z) tan 3° is taken off what the formula reads."""
    level = [Support(name=n, x_mm=x, z_mm=10.0) for n, x in (("fore", 120.0), ("aft", 430.0))]
    one = on(level, CENTER, MASS, 3.0)
    report = weighed([one], height=CenterHeight(z_mm=CENTER[2]))
    too_far = (CENTER[2] - 10.0) * math.tan(math.radians(3.0))
    assert report.as_read_station_mm - CENTER[0] == pytest.approx(too_far, abs=1e-9)
    assert report.correction_mm == pytest.approx(-too_far, abs=1e-9)
    assert report.center_of_gravity_mm[0] == pytest.approx(CENTER[0], abs=1e-9)
    assert report.height_from == "given"


@pytest.mark.parametrize("bow_up", [-20.0, 4.0, 12.0, 35.0, 70.0])
def test_a_level_and_a_tilted_weighing_give_mass_station_and_height_back(bow_up):
    """Exact statics on two supports of unequal height, nose down and up: back to 1e-9."""
    supports = (FORE, AFT)
    report = weighed([on(supports, CENTER, MASS, 0.4), on(supports, CENTER, MASS, bow_up)])
    assert report.mass_g == pytest.approx(MASS, rel=1e-12)
    assert report.center_of_gravity_mm[0] == pytest.approx(CENTER[0], abs=1e-9)
    assert report.center_of_gravity_mm[2] == pytest.approx(CENTER[2], abs=1e-9)
    assert report.center_of_gravity_mm[1] is None
    assert report.height_from == "weighed"
    assert report.sums_differ_g == pytest.approx(0.0, abs=1e-9)


def test_three_scales_give_the_center_across_back_however_she_lies():
    """Two abreast and one aft, bow up and heeled: station and side; tilted again: height too."""
    supports = (PORT, STARBOARD, AFT)
    height = CenterHeight(z_mm=CENTER[2])
    one = weighed([on(supports, CENTER, MASS, 2.0, -1.5)], height=height)
    assert one.center_of_gravity_mm[:2] == pytest.approx(CENTER[:2].tolist(), abs=1e-9)
    assert one.center_of_gravity_mm[2] is None
    two = weighed([on(supports, CENTER, MASS), on(supports, CENTER, MASS, 11.0, 2.0)])
    assert two.center_of_gravity_mm == pytest.approx(CENTER.tolist(), abs=1e-9)


def test_one_point_and_two_hangings():
    """Balanced on an edge: the station alone. Hung from two points: the height, and across."""
    edge = weighed([balanced(700.0, 250.0)])
    assert (edge.mass_g, edge.center_of_gravity_mm) == (700.0, (pytest.approx(250.0), None, None))
    hung = []
    for x, z in ((200.0, 95.0), (320.0, 90.0)):
        # Hung from a point, the center comes to rest straight below it.
        bow_up = math.degrees(math.atan2(CENTER[0] - x, z - CENTER[2]))
        hung.append(balanced(MASS, x, z_mm=z, bow_up_deg=bow_up, hung=True))
    report = weighed(hung)
    assert report.center_of_gravity_mm[0] == pytest.approx(CENTER[0], abs=1e-9)
    assert report.center_of_gravity_mm[1] == pytest.approx(0.0, abs=1e-9)
    assert report.center_of_gravity_mm[2] == pytest.approx(CENTER[2], abs=1e-9)


def test_a_block_tilts_by_its_height_over_the_distance():
    """Supports level with each other, 310 mm apart on a block of 155 mm: 30°, by the sine."""
    aft = Support(name="aft", x_mm=430.0, z_mm=12.0)
    angle, about = tilt_of_block(FORE, aft, 155.0)
    assert angle == pytest.approx(30.0, abs=1e-12)
    # d(asin(h/d)): the block's 1 mm, and half of 1.41 mm of the distance, over d cos 30°.
    by_hand = math.degrees(math.hypot(1.0, 0.5 * math.sqrt(2.0)) / (310.0 * math.cos(math.pi / 6)))
    assert about == pytest.approx(by_hand, rel=1e-12)
    # Unequal heights: turned by the angle found, the forward one is higher by the block.
    tilted, _ = tilt_of_block(FORE, AFT, 40.0, level_bow_up_deg=1.0)
    points = [(s.x_mm, s.y_mm, s.z_mm) for s in (FORE, AFT)]
    rise = [in_world(points[0], a)[2] - in_world(points[1], a)[2] for a in (1.0, tilted)]
    assert rise[1] - rise[0] == pytest.approx(40.0, abs=1e-9)


def noisy(rng, one, shift):
    """Return a weighing as read: every reading and angle out, supports out by a common shift."""
    sigma = 1.0 / 1.959964
    across = one.plus_minus_deg * sigma * rng.normal() if one.across else 0.0
    return OnScales(
        readings=tuple(
            (shift[s.name], grams + one.plus_minus_g * sigma * rng.normal())
            for s, grams in one.readings
        ),
        bow_up_deg=one.bow_up_deg + one.plus_minus_deg * sigma * rng.normal(),
        starboard_down_deg=one.starboard_down_deg + across,
        plus_minus_g=one.plus_minus_g,
        plus_minus_deg=one.plus_minus_deg,
    )


def moved(rng, supports):
    """Return supports as measured, by name, each coordinate out by a normal error."""
    shift = rng.normal(scale=1.0 / 1.959964, size=(len(supports), 3))
    return {
        s.name: Support(
            name=s.name, x_mm=s.x_mm + dx, y_mm=s.y_mm + dy, z_mm=s.z_mm + dz, plus_minus_mm=1.0
        )
        for s, (dx, dy, dz) in zip(supports, shift.tolist(), strict=True)
    }


@pytest.mark.parametrize("case", ["two scales", "three, level and tilted"])
def test_the_intervals_cover_95_of_100(case):
    """Of 1,000 noisy weighings 93 to 97 % of the intervals hold the truth (normal, ± = 1.96 σ)."""
    rng = np.random.default_rng(20)
    supports = (FORE, AFT) if case == "two scales" else (PORT, STARBOARD, AFT)
    true = [on(supports, CENTER, MASS, 1.0)]
    if case != "two scales":
        true.append(on(supports, CENTER, MASS, 12.0))
    held = []
    for _ in range(1000):
        shift = moved(rng, supports)
        # Two scales need a height from elsewhere, known to 5 mm.
        known = CenterHeight(z_mm=CENTER[2] + 5.0 / 1.959964 * rng.normal(), plus_minus_mm=5.0)
        height = known if case == "two scales" else None
        report = weighed([noisy(rng, one, shift) for one in true], height=height)
        values = (report.mass_g, *report.center_of_gravity_mm)
        about = (report.plus_minus_g, *report.center_plus_minus_mm)
        held.append(
            [
                abs(v - t) <= a
                for v, a, t in zip(values, about, (MASS, *CENTER), strict=True)
                if v is not None
            ]
        )
    share = np.mean(held, axis=0)
    assert len(share) == (2 if case == "two scales" else 4)
    assert (share >= 0.93).all(), share
    assert (share <= 0.97).all(), share


def test_small_tilts_magnify_the_error():
    """± of the height grows as 1/tan of the tilt, and is said once it is over 10 mm."""
    about = {}
    for tilt in (2.0, 4.0, 16.0):
        report = weighed([on((FORE, AFT), CENTER, MASS), on((FORE, AFT), CENTER, MASS, tilt)])
        about[tilt] = report.center_plus_minus_mm[2]
    # The angles' own share is nearly (z_G − z) δτ √2/tan τ, the readings' likewise 1/tan τ.
    assert about[2.0] / about[4.0] == pytest.approx(2.0, rel=0.02)
    assert about[4.0] > 3.0 * about[16.0]
    rough = weighed([on((FORE, AFT), CENTER, MASS), on((FORE, AFT), CENTER, MASS, 1.0)])
    assert [w.code for w in rough.warnings] == ["height-rough"]
    assert "tilt her more" in rough.warnings[0].message


LEDGER = Ledger(
    items=(item("hull", 400.0, 280.0, 45.0, 2.0), item("battery", 200.0, 150.0, 20.0, 3.0))
)


def test_ledger_that_is_right_agrees():
    """Scales that weigh what the ledger lists agree within ±, in mass and center."""
    x, _, z = LEDGER.center_mm
    one = on((FORE, AFT), (x, 0.0, z), LEDGER.mass_g + 1.0)
    check = against_ledger(weighed([one], height=ledger_height(LEDGER)), LEDGER)
    assert check.verdict == "agrees"
    assert check.missing is None
    # Ledger √(2² + 3²) g, scales √2 g, independent: √15 g.
    assert check.more_plus_minus_g == pytest.approx(math.sqrt(15.0), rel=1e-9)
    # Items' ± over the mass, by their arms from the CG at 236.67: 2 g × 43.33 and 3 g × 86.67.
    assert center_plus_minus_mm(LEDGER)[0] == pytest.approx(
        math.hypot(2.0 * 43.0 + 2.0 / 3.0, 3.0 * 86.0 + 2.0) / 600.0, rel=1e-9
    )


def test_forgotten_item_is_found_with_its_station():
    """40 g at station 520 that are in no ledger come out as 40 g at 520, within their ±."""
    whole = Ledger(items=(*LEDGER.items, item("ballast", 40.0, 520.0, 70.0)))
    x, _, z = whole.center_mm
    supports = (FORE, AFT)
    report = weighed(
        [on(supports, (x, 0.0, z), whole.mass_g), on(supports, (x, 0.0, z), whole.mass_g, 15.0)]
    )
    check = against_ledger(report, LEDGER, reach_mm=(0.0, 610.0))
    assert check.verdict == "heavier"
    assert check.missing.mass_g == pytest.approx(40.0, abs=1e-8)
    assert check.missing.center_mm[0] == pytest.approx(520.0, abs=1e-6)
    assert check.missing.center_mm[2] == pytest.approx(70.0, abs=1e-6)
    assert not check.missing.outside
    assert check.message.startswith("40.0 ± 3.7 g more than the ledger says, centered at station")
    assert against_ledger(report, LEDGER, reach_mm=(0.0, 400.0)).missing.outside
    less = against_ledger(report, Ledger(items=(*whole.items, item("bag", 25.0, 60.0))))
    assert (less.verdict, less.missing.mass_g) == ("lighter", pytest.approx(-25.0, abs=1e-8))
    assert less.missing.center_mm[0] == pytest.approx(60.0, abs=1e-6)


def test_the_missing_items_interval_covers_95_of_100():
    """Ledger and scales both noisy: the station of what was forgotten lies in its ± 93 to 97 %."""
    rng = np.random.default_rng(5)
    ballast = item("ballast", 150.0, 520.0, 70.0)
    whole = Ledger(items=(*LEDGER.items, ballast))
    x, _, z = whole.center_mm
    true = on((FORE, AFT), (x, 0.0, z), whole.mass_g)
    held = 0
    for _ in range(1000):
        listed = tuple(
            item(i.name, i.weighed_g + i.plus_minus_g / 1.959964 * rng.normal(), i.x_mm, i.z_mm)
            for i in LEDGER.items
        )
        known = tuple(
            item(i.name, i.weighed_g, i.x_mm, i.z_mm, old.plus_minus_g)
            for i, old in zip(listed, LEDGER.items, strict=True)
        )
        report = weighed([noisy(rng, true, moved(rng, (FORE, AFT)))], height=CenterHeight(z_mm=z))
        missing = against_ledger(report, Ledger(items=known)).missing
        held += abs(missing.center_mm[0] - 520.0) <= missing.center_plus_minus_mm[0]
    assert 930 <= held <= 970


def test_an_item_at_the_wrong_place_is_told_from_one_that_is_missing():
    """The right mass 12 mm further aft than the ledger's: the center differs, by its moment."""
    x, _, z = LEDGER.center_mm
    report = weighed([on((FORE, AFT), (x + 12.0, 0.0, z), LEDGER.mass_g)])
    check = against_ledger(report, LEDGER)
    assert (check.verdict, check.missing) == ("center differs", None)
    assert check.moment_differs_g_mm == pytest.approx(12.0 * 600.0, rel=1e-9)
    assert "12.0" in check.message
    assert "aft of the ledger's, as 30 g placed 240 mm wrong would do" in check.message


def test_a_ledger_without_places_is_held_against_by_mass_alone():
    """An item without x or z: no center, no height, and only grams are compared."""
    ledger = Ledger(items=(*LEDGER.items, Item(name="bag", weighed_g=50.0)))
    assert ledger_height(ledger) is None
    report = weighed([on((FORE, AFT), CENTER, 650.0)])
    check = against_ledger(report, ledger)
    assert (check.verdict, check.ledger_center_mm) == ("agrees", None)
    assert check.center_differs_mm == (None, None, None)
    assert check.message.endswith("the CG is not compared")
    more = against_ledger(weighed([on((FORE, AFT), CENTER, 690.0)]), ledger)
    assert more.missing.center_mm == (None, None, None)
    assert more.message == "40.0 ± 3.9 g more than the ledger says"


def test_a_missing_item_beyond_her_ends_is_said_to_be_none():
    """30 g more with the moment of 30 g at station 1500 on a craft that ends at 610."""
    x, _, z = LEDGER.center_mm
    far = x + 30.0 * (1500.0 - x) / (LEDGER.mass_g + 30.0)
    report = weighed([on((FORE, AFT), (far, 0.0, z), LEDGER.mass_g + 30.0)])
    check = against_ledger(report, LEDGER, reach_mm=(0.0, 610.0))
    assert check.missing.outside
    assert "centered at station 1500 ±" in check.message
    assert "beyond her ends" in check.message


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: two_scales((-3.0, 100.0), (500.0, 400.0)), "forward scale reads -3 g"),
        (lambda: two_scales((0.0, 100.0), (500.0, 400.0)), "stands on the others alone"),
        (lambda: two_scales((300.0, 100.0), (500.0, 100.0)), "all stand at station 100"),
        (lambda: two_scales((math.nan, 100.0), (5.0, 400.0)), "forward scale reads nan g"),
        (lambda: two_scales((3.0, math.inf), (5.0, 400.0)), "x_mm inf"),
        (lambda: two_scales((3.0, 1.0), (5.0, 4.0), bow_up_deg=95.0), "bow_up_deg 95"),
        (lambda: two_scales((3.0, 1.0), (5.0, 4.0), plus_minus_g=-1.0), "plus_minus_g -1"),
        (lambda: OnScales(readings=()), "without a reading"),
        (lambda: OnScales(readings=((FORE, 2.0), (FORE, 3.0))), "'fore' stands in one weighing"),
        (lambda: weighed([]), "nothing was weighed"),
        (lambda: weighed([two_scales((3.0, 1.0), (5.0, 4.0), bow_up_deg=2.0)]), "height of her CG"),
        (lambda: weighed([two_scales((3.0, 1.0), (5.0, 4.0))] * 2), "are 0.0° apart"),
        (lambda: tilt_of_block(FORE, AFT, 400.0), "block of 400 mm under fore"),
        (
            lambda: weighed(
                [
                    two_scales((3.0, 1.0), (5.0, 4.0)),
                    two_scales((3.0, 2.0), (5.0, 4.0), bow_up_deg=9.0),
                ]
            ),
            "forward scale has two places",
        ),
    ],
)
def test_nonsense_is_refused_by_name(make, said):
    """What cannot be a weighing is refused with the support, the value and what to do."""
    with pytest.raises(InputError) as refused:
        make()
    assert said in str(refused.value)


def test_sums_that_differ_are_said():
    """15 g between two weighings of one craft is more than the scales allow, and is said."""
    one, two = on((FORE, AFT), CENTER, MASS), on((FORE, AFT), CENTER, MASS + 15.0, 12.0)
    report = weighed([one, two])
    assert report.sums_differ_g == pytest.approx(15.0, abs=1e-9)
    assert [w.code for w in report.warnings] == ["weighings-differ"]
    assert report.mass_g == pytest.approx(MASS + 7.5, abs=1e-9)
