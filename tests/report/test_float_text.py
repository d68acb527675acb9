"""The first screen says the answer, its cause and its sides in words."""

import dataclasses

import make_bodies
import pytest

from hullcheck.answers.float_answer import float_answer
from hullcheck.craft.bodies import Body, guessed_roles
from hullcheck.craft.craft import Craft
from hullcheck.geometry.shells import outer_shells
from hullcheck.report.float_table import all_lines
from hullcheck.report.float_text import CAUTION, first_screen
from hullcheck.report.table_values import number
from hullcheck.water import fresh_water, sea_water, water_of_density


@pytest.fixture(scope="module")
def craft(tarnwing_surfaces):
    """Return the demo craft."""
    shells = tuple(outer_shells("body", s).shells[0] for s in tarnwing_surfaces)
    bodies = tuple(
        Body(name=name, role=role, shell=shell)
        for name, role, shell in zip(
            ("hull", "starboard float", "port float"), guessed_roles(shells), shells, strict=True
        )
    )
    return Craft(
        name="Tarnwing 90",
        bodies=bodies,
        mass_g=690.0,
        center_of_gravity_mm=(252.0, 0.0, 31.0),
        water=fresh_water(),
    )


def screen(craft, **changes):
    """Return the first screen of a craft with something changed."""
    return first_screen(float_answer(dataclasses.replace(craft, **changes)))


def test_the_demo_reads_as_it_should(craft):
    """Seven lines: head, rest, edge, load, trim with its cause, stability, step."""
    lines = screen(craft)
    assert lines[0] == "Tarnwing 90 · 690 g all-up · fresh water, 15 °C"
    assert lines[1] == "Floats upright, 0.5° bow up, level across; both tip floats clear by 4 mm."
    assert [line[:14].strip() for line in lines[2:]] == [
        "Lowest edge",
        "Load",
        "Trim",
        "Stability",
        "Step",
    ]
    assert "CG at 252, 7 mm aft of 245 where level wants it" in lines[4]
    assert lines[6].endswith("13 mm, 25° behind the CG (from the keel's normal)")


@pytest.mark.parametrize(
    ("cg", "sentence"),
    [
        ((252.0, 6.0, 31.0), "Rests on starboard tip float, leaning 1.9° to starboard, 0.5° bow"),
        ((252.0, -6.0, 31.0), "Rests on port tip float, leaning 1.9° to port, 0.5° bow up."),
        ((235.0, 0.0, 31.0), "bow down, level across"),
        ((252.0, 0.3, 31.0), "Floats upright, 0.5° bow up, leaning 0.4° to starboard"),
    ],
)
def test_sides_are_words(craft, cg, sentence):
    """Trim and heel have their side in words and never a bare sign."""
    line = screen(craft, center_of_gravity_mm=cg)[1]
    assert sentence in line
    assert "-" not in line
    assert "−" not in line


def test_a_forward_step_is_ahead(craft):
    """With the CG behind the step the step lies ahead of it."""
    lines = screen(craft, center_of_gravity_mm=(290.0, 0.0, 31.0))
    assert "25 mm" in lines[6]
    assert "ahead of the CG" in lines[6]


def test_without_a_cg_the_place_it_must_have_is_the_answer(craft):
    """The fifth line says the station for level and the height for upright."""
    lines = screen(craft, center_of_gravity_mm=None)
    assert lines[4] == "CG wanted       station 245, below z = 69 to stay upright"


def test_sinking_is_said_first(craft):
    """Too heavy: by how much, what the skin carries, what to check."""
    lines = screen(craft, mass_g=6900.0)
    volume = sum(body.shell.volume_mm3 for body in craft.bodies) / 1000.0
    carried = volume * craft.water.density_kg_m3 / 1000.0
    assert lines[1].startswith(f"Sinks: she is {6900.0 - carried:.0f} g too heavy")
    assert f"{volume:.0f} cm³ carry {carried:.0f} g and no more" in lines[2]


def test_water_is_named(craft):
    """Sea water by name, a given density by its value."""
    assert screen(craft, water=sea_water(temperature_c=20.0))[0].endswith("sea water, 20 °C")
    given = screen(craft, water=water_of_density(1010.0))
    assert given[0].endswith("water of 1010 kg/m³")


def test_no_line_is_wider_than_80_columns_and_none_says_safe(craft):
    """First screen and table stay within 80 columns in every state, and never say safe."""
    hull_alone = dataclasses.replace(craft, bodies=craft.bodies[:1])
    states = [
        craft,
        dataclasses.replace(craft, center_of_gravity_mm=None),
        dataclasses.replace(craft, center_of_gravity_mm=(300.0, 4.0, 60.0)),
        dataclasses.replace(craft, mass_g=2400.0),
        dataclasses.replace(craft, mass_g=6900.0),
        dataclasses.replace(hull_alone, center_of_gravity_mm=(252.0, 0.0, 150.0)),
    ]
    for state in states:
        lines = all_lines(float_answer(state))
        assert len(first_screen(float_answer(state))) <= 7
        assert max(map(len, lines)) <= 80, max(lines, key=len)
        assert "safe" not in " ".join(lines).lower()
        assert "error" not in " ".join(lines).lower()


def test_capsizing_is_said_plainly(craft):
    """A hull alone under a high CG goes over, and the line says so."""
    hull_alone = dataclasses.replace(
        craft, bodies=craft.bodies[:1], center_of_gravity_mm=(252.0, 0.0, 150.0)
    )
    assert screen(hull_alone)[1].startswith("Capsizes: set down upright she goes over 180°")


def test_a_hull_without_a_step_says_none_was_found():
    """A box has no step, and the line says what was looked at."""
    shell = outer_shells(
        "b", make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    ).shells[0]
    craft = Craft(
        name="box",
        bodies=(Body(name="box", role="hull", shell=shell),),
        mass_g=1200.0,
        center_of_gravity_mm=(300.0, 0.0, 30.0),
        water=water_of_density(1000.0),
    )
    lines = screen(craft)
    assert lines[6] == "Step            none found on the center plane of the bottom"
    assert ", where level wants it" in lines[4]


def test_numbers_have_a_true_minus_and_no_minus_zero():
    """Table numbers carry U+2212 and never −0.0."""
    assert number(-2.96) == "−3.0"
    assert number(-0.04) == "0.0"
    assert number(1234.567, 2) == "1234.57"


def test_the_caution_defers():
    """The caution names batteries, propellers and cold water, and who decides."""
    for word in ("batteries", "propellers", "cold water", "local rules"):
        assert word in CAUTION


@pytest.mark.parametrize(
    ("changes", "start"),
    [
        ({"center_of_gravity_mm": (25.2, 0.0, 3.1)}, "Deck under water by 1"),
        ({"mass_g": 2000.0}, "Deck under water by "),
    ],
)
def test_a_deck_under_water_is_the_headline(craft, changes, start):
    """With the deck under, the second line says so and not that she floats upright."""
    line = screen(craft, **changes)[1]
    assert line.startswith(start)
    assert "upright" not in line


def test_the_highest_cg_is_rounded_down(craft):
    """69.7 mm is printed as 69: a limit is never rounded past itself."""
    assert screen(craft)[5].endswith("highest 69")
