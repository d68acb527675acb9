"""The first screen, the tables and the CSV say what the files make, in the trade's words."""

import csv
import dataclasses
import io
import re

import numpy as np
import pytest
import skin_making as making

from hullcheck.answers.skin_answer import skin_answer
from hullcheck.geometry.outer_records import SkinChecks
from hullcheck.report import skin_words
from hullcheck.report.csv_rows import harmless
from hullcheck.report.display import shown_in
from hullcheck.report.skin_csv import COLUMNS, csv_text
from hullcheck.report.skin_facts import alt_text
from hullcheck.report.skin_table import all_lines
from hullcheck.report.skin_text import first_screen


@pytest.fixture(scope="module", params=making.STATES)
def state(request):
    """Return a state's name and what is said of it."""
    return request.param, making.made(request.param)[1]


def rows(answer):
    """Return the first screen's lines by their labels."""
    return {line[:16].strip(): line[16:] for line in first_screen(answer)[1:]}


def test_the_first_screen_is_short_and_narrow(state):
    """At most eight lines of at most 80 characters, none empty, in every state."""
    lines = first_screen(state[1])
    assert 4 <= len(lines) <= 8
    assert all(0 < len(line) <= 80 and "\n" not in line for line in lines)


def test_every_line_of_the_tables_is_narrow(state):
    """At most 80 characters each, however long the names."""
    assert max(len(line) for line in all_lines(state[1])) <= 80


def test_no_forbidden_word_and_no_typewriter_minus(state):
    """Nothing praises or alarms, and every minus is a true one."""
    # The hostile names bring their own hyphens and are the user's to choose.
    text = "\n".join(all_lines(state[1]))
    assert not re.search(r"\bsafe|\berror|OK!|(?<![\w=])-\d", text)


def test_the_printed_demo_reads_as_it_should():
    """Head, how, openings, seams, found, plastic, what is next."""
    _, answer = making.made("five thin walls")
    lines = first_screen(answer)
    assert lines[0] == (
        "Tarnwing 90 · 6 parts → one outer skin of 2551 cm³, known to ± 0.3 cm³ (0.01 %)"
    )
    assert rows(answer) == {
        "Read as": "5 thin walls of 1 mm, 1 closed skin: made one closed solid",
        "Openings": "3 closed for buoyancy, all dry; lowest 17 mm, station 420",
        "Seams": "4 seams: gap up to 0.3 mm, overlap 0.05 mm",
        "Found": "parts/mid.stl: 30 duplicate faces dropped; 6 more, see --all",
        "Plastic": "140 cm³ in the walls, 5 % of what their skin displaces",
        "Next": "an [[opening]] with its state for station 175 and 2 more",
    }


def stated(states):
    """Return what is said of the printed hull with names and states of the sheet, by patch."""
    (body,) = making.printed()
    names = {patch.name: states.get(patch.name, (patch.name, None)) for patch in body.skin.patches}
    patches = tuple(dataclasses.replace(one, name=names[one.name][0]) for one in body.skin.patches)
    made = dataclasses.replace(body.skin, patches=patches)
    told = {name: state for name, state in names.values() if state is not None}
    return skin_answer(
        [dataclasses.replace(body, skin=made, states=told)], making.AFLOAT, name="Tarnwing 90"
    )


def test_the_sheets_names_and_states_are_said():
    """Stated ones with their state, in text, table and CSV; what to name is said by its place."""
    canopy, hatch, slots = making.CANOPY[0], making.HATCH[0], making.SLOTS[0]
    answer = stated({canopy: ("canopy edge", "taped"), hatch: (hatch, "sealed")})
    said = rows(answer)
    assert said["Next"] == "an [[opening]] for station 420: open, taped or sealed"
    assert said["Openings"] == "3 closed for buoyancy, all dry; lowest 17 mm, station 420"
    text = "\n".join(all_lines(answer))
    assert re.search(r"canopy edge \(taped\) +opening", text)
    assert re.search(r"radio hatch \(sealed\) +opening", text)
    assert "(state not stated)" in text
    table = list(csv.DictReader(io.StringIO(csv_text(answer))))
    assert [(row["name"], row["state"]) for row in table[:3]] == [
        ("canopy edge", "taped"),
        ("radio hatch", "sealed"),
        (slots, ""),
    ]
    answer = stated({canopy: ("canopy edge", "taped"), slots: ("slot", "open")})
    said = rows(answer)
    assert said["Openings"] == "3 closed for buoyancy, all dry; lowest 17 mm: slot (open)"
    assert said["Next"] == "the state of radio hatch in the sheet: open, taped or sealed"
    every = {canopy: ("canopy edge", "taped"), slots: ("slot", "open"), hatch: (hatch, "open")}
    assert rows(stated(every))["Next"] == "hullcheck float: where she floats"


def test_bodies_made_in_several_ways_are_said_by_their_roles():
    """A hull of walls, two tip floats as filed: one clause each, within the line, none cut."""
    bodies = [*making.printed(), *making.filed()[1:]]
    answer = skin_answer(bodies, making.AFLOAT, name="craft")
    said = rows(answer)
    assert said["Read as"] == "hull made one; tip floats closed as filed"
    assert "Hull: 5 thin walls of 1 mm, 1 closed skin made one closed solid" in alt_text(answer)
    # Of the walls alone: 140 of the hull's 2551 cm³, the floats being closed skins.
    assert said["Plastic"] == "140 cm³ in the walls, 5 % of what their skin displaces"


def test_where_nothing_is_a_wall_no_plastic_is_said():
    """Closed skins in a united body are no plastic either."""
    (body,) = making.filed()[:1]
    skin = dataclasses.replace(body.skin, method="united")
    assert "Plastic" not in rows(skin_answer([dataclasses.replace(body, skin=skin)], name="craft"))


def test_the_height_said_is_that_of_the_lowest_opening():
    """The lowest opening's height is its lowest corner over the water, rounded down to 0.5 mm."""
    bodies, answer = making.made("five thin walls")
    water = making.AFLOAT
    heights = {
        one.name: float((one.triangles_mm @ water.normal).min()) - water.height_mm
        for one in bodies[0].patches
        if one.kind == "opening"
    }
    name, least = min(heights.items(), key=lambda item: item[1])
    assert name == making.SLOTS[0]
    assert f"lowest {int(least * 2.0) / 2.0:g} mm" in rows(answer)["Openings"]


def test_a_skin_as_filed_has_no_bound_and_no_plastic():
    """A closed skin is its file's own surface: nothing was closed, and its volume is its own."""
    _, answer = making.made("closed as filed")
    assert first_screen(answer)[0] == "Tarnwing 90 · 1 part → one outer skin of 2551 cm³"
    said = rows(answer)
    assert said["Read as"] == "1 closed skin: as filed"
    assert said["Openings"] == "none to close: every face of the skin is a face of the files"
    assert said["Next"] == "hullcheck float: where she floats"
    assert "Plastic" not in said
    assert "Seams" not in said


def test_invented_faces_without_a_name_are_not_kept_quiet():
    """Where the skin has faces of no file, it is not called every face's."""
    bodies = making.filed()[:1]
    skin = bodies[0].skin
    source = np.array(skin.sources[0])
    source[:100] = -1
    skin = dataclasses.replace(skin, sources=(source,))
    answer = skin_answer([dataclasses.replace(bodies[0], skin=skin)], name="craft")
    assert re.fullmatch(
        r"none named, yet \d[\d.]* cm² of the skin stand in no file", rows(answer)["Openings"]
    )
    assert skin_words.title(answer) == "One part makes one skin; some of it is in no file"


def test_several_bodies_are_named_with_their_volumes():
    """Three bodies: the head says how many, a row says which."""
    _, answer = making.made("three closed files")
    assert first_screen(answer)[0].endswith("3 parts → 3 bodies of 2663 cm³")
    assert rows(answer)["Bodies"] == "hull 2551 cm³, starboard float 56 cm³, port float 56 cm³"


def test_an_opening_under_water_is_said_with_its_depth_and_what_to_write():
    """How many lie under water, how deep the deepest, and what the sheet needs."""
    _, answer = making.made("an opening under water")
    said = rows(answer)
    assert "1 of them under water, up to 39.5 mm deep" in said["Openings"]
    assert said["Next"] == "a [[lid]] for station 240, or an [[opening]] with its state"


def test_without_a_load_no_height_is_said():
    """Which openings there are is said, and nothing of water."""
    said = rows(making.made("without a load")[1])
    assert said["Openings"] == "3 closed for buoyancy: opening at station 175 and 2 more"
    assert not any("water" in text for label, text in said.items() if label != "Plastic")


def test_a_part_out_of_line_is_named():
    """Ends whose outlines lie apart are named with their distance instead of the gaps."""
    bodies = making.printed()
    seams = list(bodies[0].skin.seams)
    seams[1] = dataclasses.replace(seams[1], mismatch_mm=5.02)
    skin = dataclasses.replace(bodies[0].skin, seams=tuple(seams))
    answer = skin_answer([dataclasses.replace(bodies[0], skin=skin)], name="craft")
    text = rows(answer)["Seams"]
    assert "outlines 5.02 mm apart" in text
    assert "262" in text


def test_a_skin_that_does_not_close_says_so_first_of_what_is_next():
    """No number is offered as if it held."""
    _, answer = making.made("five thin walls")
    broken = dataclasses.replace(answer.bodies[0], watertight=False)
    answer = dataclasses.replace(answer, bodies=(broken,))
    said = rows(answer)
    assert said["Read as"].endswith("it does not close")
    assert said["Next"] == "repair what the notes name: until it closes no volume holds"
    assert skin_words.title(answer) == "The skin of hull does not close"


def test_the_tables_name_every_part_piece_and_check():
    """Each file, each piece and each check has its row, with what was found under its part."""
    _, answer = making.made("five thin walls")
    text = "\n".join(all_lines(answer))
    for part in answer.parts:
        assert re.search(rf"{re.escape(part.file)} +{part.triangles} ", text)
    for piece in answer.bodies[0].invented:
        stated = r"(?: \(state not stated\))?" if piece.kind == "opening" else ""
        assert re.search(rf"{re.escape(piece.name)}{stated} +{piece.kind} +\d+\.\d", text)
    assert text.count("(state not stated)") == 3
    assert text.count("30 duplicate faces dropped") == 5  # once in the first screen
    assert "  walls across the inside, stations         118, 310" in text
    assert "0.010 % off" in text
    assert "  read in mm" in text


def test_checks_that_were_not_made_have_no_row():
    """A skin as filed needs no sections: no row claims one."""
    bodies = making.filed()[:1]
    assert bodies[0].skin.checks == SkinChecks()
    text = "\n".join(all_lines(skin_answer(bodies, name="craft")))
    assert "sections" not in text
    assert "watertight, each edge met both ways       yes" in text


def test_other_units_reach_screen_and_tables():
    """In inches neither mm nor cm³ is left of what hullcheck says."""
    _, answer = making.made("twin floats")
    with shown_in(("in",)):
        text = "\n".join(all_lines(answer))
    assert "in³" in text
    assert not re.search(r"\bmm\b|cm", text)


def test_csv_has_a_row_a_piece_and_is_not_rounded():
    """A header and a row each, numbers as they are, names whole."""
    _, answer = making.made("hostile names")
    table = list(csv.DictReader(io.StringIO(csv_text(answer))))
    pieces = [piece for body in answer.bodies for piece in body.invented]
    assert tuple(table[0]) == COLUMNS
    assert [row["name"] for row in table] == [harmless(piece.name) for piece in pieces]
    assert [float(row["area_cm2"]) for row in table] == [piece.area_cm2 for piece in pieces]
    assert [row["under_water"] for row in table] == ["no", "yes", "no"]
    dry = csv_text(making.made("without a load")[1])
    assert {row["under_water"] for row in csv.DictReader(io.StringIO(dry))} == {""}


def test_a_name_told_apart_by_its_side_is_made_up_all_the_same():
    """The side before the size: units are turned, the size may go, and it counts as no name."""
    _, answer = making.made("twelve parts, tip floats")
    (piece,) = [p for p in answer.openings if p.name == making.PORT_SLOT[0]]
    assert skin_words.is_nameless(piece)
    assert skin_words.piece_name(piece) == piece.name
    assert skin_words.short_name(piece) == "opening at station 416 to port"
    assert skin_words.place_name(piece) == "station 416 to port"
    with shown_in(("in",)):
        size = skin_words.size_text((24.0, 10.0))
        assert size.endswith(" in")
        assert skin_words.piece_name(piece) == f"opening at station 16.38 to port, {size}"
    (named,) = [p for p in answer.openings if p.name == making.EDGE[0]]
    assert not skin_words.is_nameless(named)
    assert skin_words.piece_name(named) == "canopy edge"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.31, "0.4 cm³"),
        (0.3, "0.3 cm³"),
        (0.95, "1 cm³"),
        (0.0961, "0.1 cm³"),
        (12.0, "20 cm³"),
        (1e-9, "0.001 cm³"),
        (0.00999, "0.01 cm³"),
    ],
)
def test_a_bound_is_rounded_up(value, text):
    """What is printed is never less than the bound, and has one figure."""
    assert skin_words.bound_text(value, "cm³") == text


@pytest.mark.parametrize(
    ("gap", "text"),
    [(0.0, "touching"), (0.3, "gap 0.3 mm"), (3.001, "gap 3 mm"), (-0.05, "overlap 0.05 mm")],
)
def test_gaps_have_a_word_and_no_sign(gap, text):
    """A gap and an overlap are told apart by a word."""
    assert skin_words.gap_text(gap) == text
