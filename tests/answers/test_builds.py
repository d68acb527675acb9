"""A build afloat: its ledger against the same load given outright, its names of rest, its words."""

import dataclasses
from decimal import Decimal
from pathlib import Path

import make_bodies
import numpy as np
import pytest
from crafts import body_of, box_body, box_craft, craft_of, floated, opening_at
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import uniform

import hullcheck
from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.rest import rest_of, wet_sides
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.water import fresh_water

MESHES = Path(__file__).parents[2] / "meshes"


def said(answer):
    """Return the caveats of an answer by code."""
    return {caveat.code: caveat.message for caveat in answer.warnings}


def bare(answer):
    """Return an answer without where its load comes from, and how well that is known."""
    board = dataclasses.replace(answer.freeboard_mm, plus_minus=None)
    return dataclasses.replace(answer, load=None, freeboard_mm=board, margin_plus_minus_g=None)


def decimals(low, high, places):
    """Draw a number as it is written, with so many decimals."""
    return st.decimals(low, high, places=places).map(float)


@settings(max_examples=20)
@given(
    decimals(Decimal(300), Decimal(4000), 3),
    decimals(Decimal(270), Decimal(330), 4),
    decimals(Decimal(-3), Decimal(3), 5),
    decimals(Decimal(5), Decimal(40), 7),
)
def test_a_ledger_of_one_line_floats_as_the_load_itself(mass, x, y, z):
    """The sheet's answer equals the one given outright, every number of it to the last digit."""
    item = Item(name="all-up", weighed_g=mass, x_mm=x, y_mm=y, z_mm=z)
    hatch, limits = opening_at((420.0, 11.0, 71.3)), Limits(freeboard_mm=7.7, trim_deg=(-3.1, 4.7))
    build = Build(
        name="box",
        bodies=(box_body(),),
        ledger=Ledger(items=(item,)),
        openings=(hatch,),
        limits=limits,
    )
    outright = Craft(
        name="box",
        bodies=(box_body(),),
        mass_g=mass,
        center_of_gravity_mm=(x, y, z),
        water=fresh_water(),
        openings=(hatch,),
        limits=limits,
    )
    by_ledger = float_answer(build.craft())
    assert by_ledger.load.ledger_mass_g == mass
    assert bare(by_ledger) == bare(float_answer(outright))
    # Equal numbers may differ in the sign of a zero; written out they may not, bar that of a CG.
    assert repr(by_ledger.waterline) == repr(float_answer(outright).waterline)


@pytest.mark.parametrize(
    ("mass", "place"),
    [
        ("1207.3", ("116.37", "0.9", "21.3")),
        ("500", ("120", "0", "20")),
        ("733.1", ("119.9", "-1.1", "17")),
    ],
)
def test_a_sheet_of_one_line_floats_as_its_mesh(tmp_path, mass, place):
    """Read from files, sheet and ledger give what the mesh with mass and CG gives, to the digit."""
    mesh = (MESHES / "box.stl").read_bytes()
    (tmp_path / "box.stl").write_bytes(mesh)
    (tmp_path / "build.toml").write_text(
        '[craft]\nname = "box"\n[axes]\nunit = "mm"\nforward = "-x"\nup = "+z"\n'
        '[[body]]\nname = "box"\nrole = "hull"\nparts = ["box.stl"]\n',
        encoding="utf-8",
    )
    (tmp_path / "weights.csv").write_text(
        f"item,planned_g,weighed_g,x_mm,y_mm,z_mm\nall,,{mass},{','.join(place)}\n",
        encoding="utf-8",
    )
    by_sheet = float_answer(hullcheck.load(tmp_path).craft())
    found = hullcheck.read_bodies(
        [tmp_path / "box.stl"], hullcheck.Reading(unit="mm", forward="-x", up="+z")
    )
    straight = Craft(
        name="box",
        bodies=found.bodies,
        mass_g=float(mass),
        center_of_gravity_mm=tuple(float(v) for v in place),
        water=fresh_water(),
    )
    assert bare(by_sheet) == bare(float_answer(straight))


def ledger_of(*rows):
    """Return a ledger of (name, grams, station, height); None where a cell is empty."""
    return Ledger(items=tuple(Item(name=n, planned_g=g, x_mm=x, z_mm=z) for n, g, x, z in rows))


def build_of(*rows, **more):
    """Return a build of the box with a ledger of rows."""
    return Build(**{"name": "box", "bodies": (box_body(),), "ledger": ledger_of(*rows), **more})


WHOLE = ("all else", 1200.0, 300.0, 30.0)


def test_what_is_not_bought_yet_makes_her_not_all_up():
    """Items neither planned nor weighed are named and counted; measured whole she is all-up."""
    blank = [("battery", None, 160.0, 20.0), ("camera", None, 90.0, 40.0)]
    one, two = float_answer(build_of(WHOLE, blank[0]).craft()), build_of(WHOLE, *blank)
    assert said(one)["not-all-up"] == (
        "not all-up: battery is neither planned nor weighed: 0 g here"
    )
    both = float_answer(two.craft())
    assert said(both)["not-all-up"] == (
        "not all-up: battery, camera are neither planned nor weighed: 0 g here"
    )
    assert both.load.unknown == ("battery", "camera")
    assert not both.load.all_up
    measured = float_answer(dataclasses.replace(two, mass_g=1300.0).craft())
    assert measured.load.all_up
    assert "not-all-up" not in said(measured)


def test_many_names_are_cut_short():
    """Of 500 items neither planned nor weighed eight are written out, and the rest is counted."""
    rows = [(f"item {i}", None, 1.0, 1.0) for i in range(500)]
    words = said(float_answer(build_of(WHOLE, *rows).craft()))["not-all-up"]
    assert words.startswith("not all-up: item 0, item 1, ")
    assert "item 7 and 492 more are neither planned nor weighed" in words


@pytest.mark.parametrize(
    ("measured", "words"),
    [
        ({"mass_g": 1212.34}, "measured 1212.3 g, the ledger sums to 1200.0 g: 12.3 g more than"),
        ({"mass_g": 1180.0}, "measured 1180.0 g, the ledger sums to 1200.0 g: 20.0 g less than"),
        (
            {"center_of_gravity_mm": (303.0, 0.0, 30.0)},
            "measured CG at station 303.0, the ledger's at 300.0: 3.0 mm aft of it",
        ),
        (
            {"mass_g": 1212.0, "center_of_gravity_mm": (298.5, 0.0, 30.0)},
            (
                "measured 1212.0 g, the ledger sums to 1200.0 g: 12.0 g more than it lists; "
                "measured CG at station 298.5, the ledger's at 300.0: 1.5 mm ahead of it"
            ),
        ),
    ],
)
def test_measured_against_the_ledger_is_said_with_numbers(measured, words):
    """Measured values stand in for the ledger's sums; the difference is said, subtracted here."""
    craft = build_of(WHOLE, **measured).craft()
    assert craft.mass_g == measured.get("mass_g", 1200.0)
    assert craft.center_of_gravity_mm == measured.get("center_of_gravity_mm", (300.0, 0.0, 30.0))
    answer = float_answer(craft)
    assert said(answer)["ledger-differs"].startswith(words)
    assert answer.load.mass_is_measured == ("mass_g" in measured)
    assert answer.load.center_is_measured == ("center_of_gravity_mm" in measured)


@pytest.mark.parametrize(
    "measured", [{}, {"mass_g": 1200.04}, {"center_of_gravity_mm": (299.96, 0.0, 30.0)}]
)
def test_where_nothing_differs_nothing_is_said(measured):
    """A difference that one decimal does not show is none, and so is a ledger's own sum."""
    assert "ledger-differs" not in said(float_answer(build_of(WHOLE, **measured).craft()))


def test_a_measured_craft_without_a_ledger_has_nothing_to_differ_from():
    """No ledger: measured mass and center float her, and no sum is made up."""
    craft = build_of(mass_g=1200.0, center_of_gravity_mm=(300.0, 0.0, 30.0)).craft()
    answer = float_answer(craft)
    assert answer.load.ledger_mass_g is None
    assert "ledger-differs" not in said(answer)
    assert bare(answer) == bare(float_answer(build_of(WHOLE).craft()))


@pytest.mark.parametrize(
    ("x", "words"),
    [
        (245.9, "her CG at station 245.9 lies 0.1 mm ahead of its range, 246 to 258"),
        (300.0, "her CG at station 300.0 lies 42.0 mm aft of its range, 246 to 258"),
        (246.0, None),
        (258.0, None),
    ],
)
def test_a_center_out_of_range_is_said(x, words):
    """How far and which way out of the range to fly, by subtraction; its ends are in it."""
    craft = build_of(("all", 1200.0, x, 30.0), cg_range_mm=(246.0, 258.0)).craft()
    assert said(float_answer(craft)).get("cg-out-of-range") == words


@pytest.mark.parametrize(("mass", "light"), [(1.2, True), (23.9, True), (24.1, False)])
def test_kilograms_for_grams_are_told(mass, light):
    """Under half a hundredth of the 4800 g she carries no craft weighs: 24 g."""
    answer = float_answer(box_craft(mass_g=mass))
    assert ("mass-light" in said(answer)) == light
    if light:
        assert said(answer)["mass-light"] == (
            f"{mass:g} g is very little for a skin that carries 4800 g; masses are in grams, not "
            "kilograms"
        )


def test_items_without_a_place_leave_her_without_a_center():
    """She is held level, and the cells to be filled in are named, eight of them at most."""
    rows = [("paint", 5.0, None, 40.0), ("glue", 7.0, 200.0, None)]
    answer = float_answer(build_of(WHOLE, *rows).craft())
    assert answer.rest is None
    assert answer.mass_g == 1212.0
    assert said(answer)["no-cg"].endswith("(fill in x_mm and z_mm of paint, glue)")
    many = [(f"item {i}", 1.0, None, None) for i in range(500)]
    words = said(float_answer(build_of(WHOLE, *many).craft()))["no-cg"]
    assert words.endswith("item 7 and 492 more)")


def test_a_measured_center_stands_in_for_places_that_are_missing():
    """With cg_mm she floats; that items have no place is said, since the ledger has no center."""
    build = build_of(WHOLE, ("paint", 5.0, None, 40.0), center_of_gravity_mm=(300.0, 0.0, 30.0))
    answer = float_answer(build.craft())
    assert answer.rest == "upright"
    assert said(answer)["places-missing"] == (
        "paint: no x or z in the ledger, which is why its center is not known; the measured one "
        "counts"
    )
    assert "ledger-differs" not in said(answer)


def test_how_to_give_a_center_is_said_where_it_can_be_given():
    """A sheet takes cg_mm, mesh files take --cg: each is told its own."""
    sheet = said(float_answer(build_of(mass_g=1200.0).craft()))["no-cg"]
    assert sheet.endswith("(cg_mm under [craft], or --cg X,Y,Z)")
    assert said(float_answer(box_craft(cg=None)))["no-cg"].endswith("(--cg X,Y,Z)")


def test_a_build_without_a_word_more_says_nothing():
    """One weighed line and an opening: nothing is doubtful, so there is no caveat."""
    build = build_of(WHOLE, openings=(opening_at((300.0, 0.0, 70.0)),))
    assert said(float_answer(build.craft())) == {}


def tipped(y, *, clearance=5.0, roles=("tip float", "tip float")):
    """Return a box hull afloat at 20 mm with a box on either side, clear of that by some mm."""
    sides = [
        body_of(
            make_bodies.box(
                length_mm=120.0,
                beam_mm=30.0,
                height_mm=40.0,
                origin_mm=(240.0, 300.0 * side, 20.0 + clearance),
            ),
            name=name,
            role=role,
        )
        for side, name, role in zip((1, -1), ("starboard", "port"), roles, strict=True)
    ]
    return craft_of(box_body(), *sides, mass_g=1200.0, cg=(300.0, y, 30.0))


@settings(max_examples=60)
@given(uniform(-12.0, 12.0), uniform(-4.0, 30.0))
def test_rest_is_named_by_the_tip_floats_that_are_wet(y, clearance):
    """On the float of one side alone; upright under ½°; else listing: corners are tried here."""
    craft = tipped(y, clearance=clearance)
    floating = floated(craft)
    lowest = {
        body.name: float(
            (body.shell.triangles_mm.reshape(-1, 3) @ floating.normal - floating.height_mm).min()
        )
        for body in craft.bodies[1:]
    }
    wet = sorted(name for name, height in lowest.items() if height < -1e-6)
    assert list(wet_sides(craft, floating)) == wet
    if len(wet) == 1:
        named = f"on {wet[0]} tip float"
    else:
        named = "upright" if abs(floating.heel_deg) < 0.5 else "listing"
    assert rest_of(craft, floating) == named


@pytest.mark.parametrize(
    ("roles", "rest"),
    [
        (("tip float", "tip float"), "on starboard tip float"),
        (("sponson", "sponson"), "listing"),
        (("other", "other"), "listing"),
    ],
)
def test_only_tip_floats_give_rest_their_name(roles, rest):
    """The same boxes as sponsons hold her just so, but she lists."""
    craft = tipped(8.0, roles=roles)
    assert rest_of(craft, floated(craft)) == rest


@pytest.mark.parametrize("role", ["tip float", "sponson", "wing", "other"])
def test_no_other_deck_counts_for_freeboard_or_draft(role):
    """Boxes 23 mm deep in the water and their decks 17 mm up: freeboard and draft are the hull's.

    The hull's own are 80 − T and T with T her draft, read off the answer's level line.
    """
    craft = tipped(0.0, clearance=-18.0, roles=(role, role))
    answer = float_answer(craft)
    draft = answer.waterline.height_mm
    assert answer.freeboard_mm.least == pytest.approx(80.0 - draft, rel=1e-9)
    assert answer.draft_mm.deepest == pytest.approx(draft, rel=1e-9)
    assert {p.point_mm[2] for p in answer.freeboard_mm.points} == {80.0}
    # 60 cm² a mm of the hull, 2 × 36 of the boxes from 2 mm up: 1200 = 60 T + 72 (T − 2).
    assert draft == pytest.approx((1200.0 + 7.2 * 2.0) / 67.2, rel=1e-9)


def test_twin_main_floats_both_count():
    """Two main floats, one with a lower deck: freeboard is read off that one, draft off both."""
    floats = [
        body_of(
            make_bodies.box(
                length_mm=600.0, beam_mm=80.0, height_mm=height, origin_mm=(0.0, y, 0.0)
            ),
            name=name,
            role="main float",
        )
        for name, y, height in (("starboard", 150.0, 80.0), ("port", -150.0, 70.0))
    ]
    hull = box_body(height_mm=60.0, origin_mm=(0.0, 0.0, 200.0), name="fuselage", role="other")
    answer = float_answer(craft_of(*floats, hull, mass_g=1920.0, cg=(300.0, 0.0, 60.0)))
    # 1920 g on 2 × 480 cm² is 20 mm of draft.
    assert answer.rest == "upright"
    assert answer.draft_mm.deepest == pytest.approx(20.0, rel=1e-9)
    assert answer.freeboard_mm.least == pytest.approx(50.0, rel=1e-9)
    assert np.sign(min(answer.freeboard_mm.points, key=lambda p: p.height_mm).point_mm[1]) == -1.0
