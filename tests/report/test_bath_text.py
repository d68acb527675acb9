"""The bath test in words: what every line says, and that it fits the screen."""

import re
from dataclasses import replace

import pytest
from crafts import WATER, box_body, demo_bodies

from hullcheck.answers.bath_answer import bath
from hullcheck.answers.bath_bag import Placing
from hullcheck.answers.bath_fit_records import Reading
from hullcheck.answers.bath_found import Measurements, with_found
from hullcheck.answers.incline_records import Shift
from hullcheck.craft.build import Build
from hullcheck.craft.fittings import Fittings, Mark
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.report.bath_table import all_lines
from hullcheck.report.bath_text import abeam_words, first_screen, tub_words
from hullcheck.report.display import shown_in

MARKS = (
    Mark(name="bow", point_mm=(40.0, 50.0, 66.0)),
    Mark(name="step", point_mm=(300.0, 50.0, 62.0)),
    Mark(name="stern", point_mm=(560.0, 50.0, 60.0)),
)


def build_of(*, x=300.0, y=0.0, z=50.0, grams=400.0, **more):
    """Return the box, 800 g aboard amidships, the rest missing at a place."""
    items = (
        Item(name="hull", weighed_g=800.0, x_mm=300.0, z_mm=30.0),
        Item(name="battery", weighed_g=grams, x_mm=x, y_mm=y, z_mm=z, aboard=False),
    )
    given = {
        "name": "box",
        "bodies": (box_body(),),
        "water": WATER,
        "fittings": Fittings(marks=MARKS),
        "ledger": Ledger(items=items),
    }
    return Build(**(given | more))


def screen(build=None, placing=None, **measured):
    """Return the first screen of a bath test."""
    test = bath(build_of() if build is None else build, None, placing)
    return first_screen(with_found(test, Measurements(**measured)))


def read(*values):
    """Return readings of (mark, side, distance)."""
    return tuple(Reading(mark=m, side=s, distance_mm=d) for m, s, d in values)


ALL = (
    ("bow", "port", 46.0),
    ("bow", "starboard", 46.0),
    ("step", "port", 42.0),
    ("step", "starboard", 42.0),
    ("stern", "port", 40.0),
    ("stern", "starboard", 40.0),
)


def lifted(by_mm):
    """Return all readings with the water so much higher."""
    return read(*((m, s, d - by_mm) for m, s, d in ALL))


def test_every_screen_fits():
    """Seven lines of 80 characters, with a long name, far places, both tests, other units."""
    long = build_of(name="An invented flying boat with a rather long name to print at the top")
    demo = build_of(bodies=demo_bodies(), fittings=Fittings())
    screens = [
        screen(),
        screen(long),
        screen(demo),
        screen(build_of(x=900.0, y=-33.0)),
        screen(build_of(y=20.0, z=140.0)),
        screen(build_of(grams=9400.0)),
        screen(placing=Placing(propped=True)),
        screen(placing=Placing(none=True)),
        screen(placing=Placing(z_mm=-12.5)),
        screen(readings=lifted(0.0)),
        screen(long, readings=lifted(3.0), weighed_g=1200.0),
        screen(readings=read(*ALL[::2])),
        screen(readings=read(ALL[0])),
        screen(readings=read(*ALL[::2]), shifts=(Shift(mass_g=20.0, arm_mm=50.0, heel_deg=1.7),)),
    ]
    with shown_in(("oz", "in")):
        screens += [screen(long), screen(readings=lifted(3.0))]
    for lines in screens:
        assert 2 <= len(lines) <= 7
        assert max(map(len, lines)) <= 80, lines


def test_the_whole_table_fits():
    """Every line of --all has at most 80 characters, in other units too."""
    test = bath(build_of(x=320.0, y=1.0))
    shifts = tuple(Shift(mass_g=20.0, arm_mm=a, heel_deg=a / 40.0) for a in (60.0, -60.0))
    answer = with_found(test, Measurements(readings=lifted(1.0), shifts=shifts))
    for units in ((), ("oz", "in"), ("lb", "cm")):
        with shown_in(units):
            assert max(map(len, all_lines(answer))) <= 80


def test_a_bag_off_center_says_its_side():
    """20 mm to port, and both heights."""
    lines = screen(build_of(y=-20.0))
    assert lines[1].startswith("Bag 400 ± 0.5 g at station 300, 20 mm to port; ")
    assert lines[1].endswith("z 10; true height 50.")
    assert abeam_words(0.2) == "on the center plane"


def test_an_excess_is_said_with_its_place_and_what_tells_water():
    """Water 3 mm higher: 180 g more, amidships."""
    lines = screen(readings=lifted(3.0), weighed_g=1200.0)
    assert lines[1].startswith("180 ± ")
    assert "more than weighed, centered at station 300 ± " in lines[1]
    assert lines[2].endswith("gone, water")


def test_too_little_is_said_as_well():
    """Water 3 mm lower: less than the ledger has."""
    lines = screen(readings=lifted(-3.0))
    assert lines[1].startswith("180 ± ")
    assert "less than the ledger has" in lines[1]
    assert "not in her, or lighter" in lines[2]


def test_a_shifted_center_is_said_with_its_way():
    """Level at the mass but 1° bow down, as it is about amidships: the CG is ahead."""
    turned = read(*((m, s, d + (-4.5 if m == "bow" else 4.5 if m == "stern" else 0.0))
                    for m, s, d in ALL))  # fmt: skip
    lines = screen(readings=turned)
    assert lines[1].startswith("The mass agrees, the CG is off: ")
    assert " ahead" in lines[1]


def test_what_nothing_explains_is_not_turned_into_a_load():
    """Hogged by 12 mm: no mass is printed."""
    bent = read(*((m, s, d + (12.0 if m == "step" else -6.0)) for m, s, d in ALL))
    lines = screen(readings=bent)
    assert lines[1].startswith("Not explained:")
    assert not any(line.startswith(("Weighs", "CG")) for line in lines)
    assert re.search(r"measure again, step (port|starboard) first \(the others say", lines[-1])


def test_a_misread_mark_is_named_with_what_it_should_be():
    """6 mm too little at the stern to starboard."""
    values = read(*ALL[:5], ("stern", "starboard", 34.0))
    lines = screen(readings=values)
    assert lines[1].startswith("Misread: stern starboard, by 6.0 ± ")
    assert "too little: the others say 40.0 mm" in lines[1]


def test_what_the_marks_cannot_tell_is_asked_for():
    """Port marks alone: heel taken, a mark abeam asked for, no CG across."""
    lines = screen(readings=read(*ALL[::2]))
    said = [line for line in lines if line.startswith("Cannot tell")]
    assert len(said) == 1
    assert "heel (0° taken)" in said[0]
    assert "a mark abeam" in said[0]


def test_inclining_against_the_ledger():
    """Heels of GM = 28.33: agrees; of half of it: does not, and GM finished is 13.33 mm less."""
    for gm, words in ((28.33, "agrees with the ledger's 23.3"), (14.0, "does not agree")):
        shifts = tuple(
            Shift(mass_g=20.0, arm_mm=arm, heel_deg=57.29578 * 20.0 * arm / 1200.0 / gm)
            for arm in (40.0, -40.0, 0.0)
        )
        lines = screen(shifts=shifts)
        assert lines[1].startswith("Inclining: GM ")
        assert words in lines[2]
    assert "Without     a weight across: level across" in lines


@pytest.mark.parametrize(
    ("width", "said"), [(150.0, "inside, "), (900.0, "900 wide for all of her; ")]
)
def test_the_tub_is_rounded_up(width, said):
    """To a centimeter, and all bodies named only where they are wider."""
    tub = bath(build_of()).answer.tub
    tub = replace(tub, length_mm=691.0, overall_width_mm=width)
    assert tub_words(tub).startswith("700 × 200 mm")
    assert tub_words(tub).endswith("50 mm of water (5.8 l)")
    assert said in tub_words(tub)


def test_what_keeps_her_from_a_bath_is_said():
    """Finished unstable though not in the bath; capsizing with the bag propped; one heel alone."""
    high = build_of(z=160.0)
    lines = screen(high)
    assert lines[5].strip() == "finished she does not stay upright; the bath does not show it"
    assert screen(high, Placing(propped=True))[-1].startswith("Capsizes: ")
    one = screen(shifts=(Shift(mass_g=20.0, arm_mm=50.0, heel_deg=1.2),))
    assert " mm, over " in one[1]
    assert one[1].endswith(" (95 %), 1 heel.")
    assert "taken to be level; read that angle too" in one[4]
    assert one[5].startswith("Heels       not tested against one another")
