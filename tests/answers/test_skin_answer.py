"""What is said of an outer skin: every key, what lies under water, whether it closes."""

import dataclasses
import json

import jsonschema
import make_bodies
import numpy as np
import pytest
import skin_making as making
from hypothesis import given
from hypothesis import strategies as st

from hullcheck.answers.float_records import Caveat, Waterline
from hullcheck.answers.skin_answer import area_below_mm2, skin_answer
from hullcheck.craft.body_skin import BodySkin
from hullcheck.errors import InputError
from hullcheck.geometry.shells import Shell, outer_shells
from hullcheck.report.as_json import json_text, schema

UP = (0.0, 0.0, 1.0)


@pytest.fixture(scope="module", params=making.STATES)
def state(request):
    """Return a state's name, its bodies and what is said of them."""
    return request.param, *making.made(request.param)


def test_json_has_every_key_and_fits_the_schema(state):
    """Every state's JSON fits the schema, and each key of that is there."""
    document = json.loads(json_text(state[2]))
    described = schema("skin")
    jsonschema.Draft202012Validator.check_schema(described)
    jsonschema.validate(document, described)
    assert set(document) == set(described["properties"])
    for body in document["bodies"]:
        assert set(body) == set(described["$defs"]["body"]["properties"])


def test_nothing_of_the_water_is_said_without_a_load():
    """Without a waterline all that depends on it is None, and with one nothing is."""
    _, dry = making.made("without a load")
    _, afloat = making.made("five thin walls")
    for answer, known in ((dry, False), (afloat, True)):
        assert (answer.waterline is not None) is known
        for body in answer.bodies:
            said = [body.displaced_error_cm3, body.checks.invented_under_water_cm2]
            for piece in body.invented:
                said += [piece.under_water, piece.area_under_water_cm2, piece.height_mm]
            assert all((value is not None) is known for value in said)


def test_volumes_are_those_of_the_shells():
    """The box of 240 × 96 × 64 mm has 1474.56 cm³ and 891.84 cm² by its sides' products."""
    shells = outer_shells("box", make_bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0))
    body = BodySkin(name="box", role="other", skin=None, shells=shells.shells, error_mm3=1500.0)
    said = skin_answer([body], Waterline(normal=UP, height_mm=20.0), name="box").bodies[0]
    # Sums of products of whole millimeters: off by rounding only.
    assert said.volume_cm3 == pytest.approx(1474.56, rel=1e-12)
    area_mm2 = 2.0 * (240.0 * 96.0 + 240.0 * 64.0 + 96.0 * 64.0)
    assert said.area_cm2 == pytest.approx(area_mm2 / 100.0, rel=1e-12)
    assert (said.method, said.watertight, said.error_cm3) == ("offsets", True, 1.5)
    assert said.parts == said.invented == said.seams == ()


@pytest.mark.parametrize("spoiled", ["a triangle missing", "a triangle turned", "a corner moved"])
def test_watertight_is_worked_out(spoiled):
    """A skin with a triangle missing or turned, or a corner off, is not called watertight."""
    whole = making.surfaces()[0]
    triangles = np.array(whole)
    if spoiled == "a triangle missing":
        triangles = triangles[1:]
    elif spoiled == "a triangle turned":
        triangles[7] = triangles[7, ::-1]
    else:
        triangles[7, 0, 2] += 1e-9
    for surface, closed in ((whole, True), (triangles, False)):
        shell = Shell(triangles_mm=surface, volume_mm3=1.0, area_mm2=1.0)
        body = BodySkin(name="hull", role="hull", skin=None, shells=(shell,))
        answer = skin_answer([body], name="craft")
        assert answer.bodies[0].watertight is closed
        assert ("skin-not-closed" in {note.code for note in answer.warnings}) is not closed


def test_what_lies_under_water_is_told_piece_by_piece():
    """The drain lies under water whole, the canopy clear of it; only the drain is warned of."""
    _, answer = making.made("an opening under water")
    pieces = {piece.name: piece for piece in answer.bodies[0].invented}
    drain, canopy = pieces[making.DRAIN[0]], pieces[making.CANOPY[0]]
    assert drain.under_water is True
    assert drain.area_under_water_cm2 == pytest.approx(drain.area_cm2, rel=1e-12)
    assert canopy.under_water is False
    assert canopy.area_under_water_cm2 == 0.0
    assert canopy.height_mm > 0.0 > drain.height_mm
    notes = [note for note in answer.warnings if note.code == "opening-under-water"]
    assert len(notes) == 1
    assert f"{making.DRAIN[0]} was closed for buoyancy" in notes[0].message
    assert "[[lid]]" in notes[0].message


def test_invented_skin_is_counted_over_its_faces():
    """A box's lid that no file has: 240 × 96 mm of it, 16 of its sides' 64 mm wet besides."""
    surface = make_bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    low, high = surface.min(axis=(0, 1)), surface.max(axis=(0, 1))
    made = making.skin([making.part("box.stl", surface, "closed skin")], surface=surface)
    shell = made.shells[0].triangles_mm
    top = np.isclose(shell[:, :, 2], high[2]).all(axis=1)
    port = np.isclose(shell[:, :, 1], low[1]).all(axis=1)
    source = np.where(top, -1, np.where(port, -2, 0))
    body = BodySkin(name="box", role="hull", skin=dataclasses.replace(made, sources=(source,)))
    water = Waterline(normal=UP, height_mm=float(low[2]) + 16.0)
    checks = skin_answer([body], water, name="box").bodies[0].checks
    assert checks.invented_area_cm2 == pytest.approx(240.0 * (96.0 + 64.0) / 100.0, rel=1e-12)
    assert checks.invented_under_water_cm2 == pytest.approx(240.0 * 16.0 / 100.0, rel=1e-9)


def test_a_stated_opening_and_a_lid_are_not_warned_of():
    """What the sheet closes or states is no news, under water or not."""
    bodies = making.printed((making.DRAIN, making.WELL), lids=(making.WELL[0],))
    told = [dataclasses.replace(bodies[0], states={making.DRAIN[0]: "sealed"})]
    answer = skin_answer(told, making.AFLOAT, name="craft")
    assert [piece.state for piece in answer.openings] == ["sealed"]
    assert "opening-under-water" not in {note.code for note in answer.warnings}


def test_the_error_of_what_floats_is_that_of_what_is_wet():
    """A dry piece's error leaves the displaced volume's bound, a wet one's stays, a half's halves.

    A box's side of 64 mm, its lower 16 mm wet: a quarter of the piece's 4 cm³ and all of the 1 cm³
    that has no place.
    """
    surface = make_bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    low = surface.min(axis=(0, 1))
    side = surface[np.isclose(surface[:, :, 1], surface[:, :, 1].min()).all(axis=1)]
    piece = dataclasses.replace(making.patch(*making.CANOPY), triangles_mm=side, error_mm3=4000.0)
    made = making.skin(
        [making.part("box.stl", surface, "closed skin")],
        [piece],
        surface=surface,
        base_error_mm3=1000.0,
    )
    body = BodySkin(name="box", role="hull", skin=made)
    for depth, wanted in ((16.0, 2.0), (64.0, 5.0), (-1.0, 0.0)):
        water = Waterline(normal=UP, height_mm=float(low[2]) + depth)
        said = skin_answer([body], water, name="box").bodies[0]
        assert said.error_cm3 == pytest.approx(5.0, rel=1e-12)
        assert said.displaced_error_cm3 == pytest.approx(wanted, rel=1e-9, abs=1e-12)


corners = st.lists(
    st.tuples(*[st.floats(-50.0, 50.0).map(lambda v: round(v, 3))] * 3), min_size=3, max_size=3
)


@given(corners, st.floats(-40.0, 40.0))
def test_area_below_is_what_clipping_leaves(corner, height):
    """The share of a triangle under a level is that of its polygon clipped there."""
    triangle = np.array([corner])
    kept = []
    for one, two in zip(corner, [*corner[1:], corner[0]], strict=True):
        if one[2] < height:
            kept.append(np.array(one))
        if (one[2] < height) != (two[2] < height):
            share = (height - one[2]) / (two[2] - one[2])
            kept.append(np.array(one) + share * (np.array(two) - np.array(one)))
    area = sum(np.cross(kept[i] - kept[0], kept[i + 1] - kept[0]) for i in range(1, len(kept) - 1))
    # The polygon of one plane: its area vectors add up; both sides carry rounding of 1e4 mm².
    wanted = 0.5 * float(np.linalg.norm(area))
    assert area_below_mm2(triangle, UP, height) == pytest.approx(wanted, rel=1e-7, abs=1e-7)


def test_units_are_told_part_by_part():
    """A part's unit is the caller's; too few are refused with both counts."""
    bodies, answer = making.made("five thin walls")
    assert {part.unit for part in answer.parts} == {"mm"}
    with pytest.raises(InputError, match="hull: 2 units for 6 parts"):
        dataclasses.replace(bodies[0], units=("mm", "inch"))


def test_a_body_of_nothing_is_refused():
    """Neither skin nor surface: refused by name."""
    with pytest.raises(InputError, match="port float: neither a skin nor a surface was given"):
        BodySkin(name="port float", role="tip float", skin=None)


def test_notes_of_the_skin_and_the_callers_stand_among_the_warnings():
    """The skin's notes are warnings; the caller's come first; none is said twice."""
    _, answer = making.made("hostile names")
    assert answer.warnings.count(Caveat(code="odd", message="a note with $ and\nbreaks")) == 1
    more = answer.with_warnings((Caveat(code="unit", message="mm assumed"),))
    assert more.warnings[0].code == "unit"
    assert more.warnings[1:] == answer.warnings
