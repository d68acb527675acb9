"""Names in a build sheet: each once, and each standing for something."""

import re

import pytest
from sheet_making import (
    EQUIPMENT,
    FLOAT,
    LEAK,
    LID,
    MARK,
    OPENING,
    SEAM,
    SETUP,
    SHEET,
    build_in,
    refused,
)

from hullcheck.errors import InputError
from hullcheck.files.build_folder import load


def twice(text):
    """Return a table and itself again, the second name marked."""
    return text + re.sub(r"^((?:name|item) = .*)$", r"\1 # here", text, flags=re.MULTILINE)


@pytest.mark.parametrize(
    ("table", "key"),
    [
        (FLOAT.replace("mirror", "# mirror"), "body[3].name"),
        (OPENING, "opening[2].name"),
        (SEAM, "seam[2].name"),
        (MARK, "mark[2].name"),
        (SETUP, "setup[2].name"),
        (LID, "lid[2].name"),
        (LEAK, "leak[2].name"),
    ],
    ids=["body", "opening", "seam", "mark", "setup", "lid", "leak"],
)
def test_a_name_used_twice_is_refused(tmp_path, table, key):
    """Two of a kind with one name: the second's line, and the line of the first."""
    first = SHEET.count("\n") + 2
    said = rf", {re.escape(key)}: \"[\w ]+\" is the name of another \w+ already, in line {first};"
    refused(tmp_path, twice(table), said)


@pytest.mark.parametrize(
    "text",
    [
        FLOAT.replace('"twin"', '"hull" # here'),
        FLOAT.replace('"twin"', '"float" # here'),
        FLOAT + FLOAT.replace('"float"', '"other"').replace('"twin"', '"twin" # here'),
        FLOAT + FLOAT.replace('"float"', '"twin" # here').replace('mirror = "twin"', ""),
    ],
    ids=["another body's", "its own", "another twin's", "a body like a twin"],
)
def test_a_twin_needs_a_name_of_its_own(tmp_path, text):
    """A mirror's name counts as a body's."""
    refused(tmp_path, text, r'body\[\d\]\.(mirror|name): "\w+" is the name of another body already')


def test_one_name_may_serve_different_kinds(tmp_path):
    """An opening may be called like a seam, a mark or a setup."""
    names = [OPENING, SEAM, MARK, SETUP, LEAK]
    same = "".join(re.sub(r'name = ".*"', 'name = "one"', text) for text in names)
    build = load(build_in(tmp_path, SHEET + same))
    assert build.openings[0].name == build.setups[0].name == build.fittings.seams[0].name == "one"


def test_equipment_and_nameless_openings_are_told_apart(tmp_path):
    """An item that must stay dry twice, two nameless openings at one place: refused."""
    refused(tmp_path / "a", twice(EQUIPMENT), r'equipment\[2\]\.item: "battery" is there already')
    nameless = "[[opening]]\npoints_mm = [[100, 0, 60]]\n"
    refused(
        tmp_path / "b",
        nameless + nameless.replace("]]\np", "]] # here\np"),
        r'opening\[2\]: "opening at station 100" is there already; give this one a name',
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            SETUP + "add = { batery = 5 } # here\n",
            r'setup\[1\]\.add\.batery: "batery" is no item of the ledger; did you mean battery\?',
        ),
        (
            SETUP + "[setup.move]\nbattery = [1, 0, 0]\nwheel = [1, 0, 0] # here\n",
            r'setup\[1\]\.move\.wheel: "wheel" is no item of the ledger; did you mean wheels\?',
        ),
        (
            SETUP + 'off = [\n"battery",\n"whels", # here\n]\n',
            r'setup\[1\]\.off\[2\]: "whels" is no item of the ledger; did you mean wheels\?',
        ),
        (
            SETUP + 'off = ["x9"] # here\n',
            r'"x9" is no item of the ledger; known: hull, battery, wheels$',
        ),
        (
            OPENING + SETUP + 'openings = { "canopy egde" = "open" } # here\n',
            r'openings\."canopy egde": "canopy egde" is no opening .*; did you mean canopy edge\?',
        ),
        (
            SETUP + 'openings = { hatch = "open" } # here\n',
            r'"hatch" is no opening of the sheet; there is none$',
        ),
        (
            SEAM.replace('"hull"', '"hul" # here'),
            r'seam\[1\]\.body: "hul" is no body of the sheet; did you mean hull\?',
        ),
        (
            EQUIPMENT.replace('"battery"', '"Batery" # here'),
            r'equipment\[1\]\.item: "Batery" is no item of the ledger; did you mean battery\?',
        ),
        (
            SETUP + 'add = { "a\\nb" = 5 } # here\n',
            r'setup\[1\]\.add\."a\?b": "a\?b" is no item of the ledger',
        ),
    ],
)
def test_a_name_that_stands_for_nothing_is_told_the_nearest(tmp_path, text, said):
    """Items, openings and bodies that are not there: the line, and the nearest that is."""
    refused(tmp_path, text, said)


def test_without_a_ledger_no_item_is_known(tmp_path):
    """A setup of an item where there is no ledger is refused, and says so."""
    said = r'"battery" is no item of the ledger; there is no weights.csv beside the sheet$'
    refused(tmp_path, SETUP + "add = { battery = 5 } # here\n", said, ledger=None)


def test_a_seam_may_lie_in_a_twin(tmp_path):
    """The name that a mirror gives is a body's name."""
    parts = FLOAT.replace('["hull.stl"]', '[{ file = "hull.stl", at_mm = [0, 200, 0] }]')
    build = load(build_in(tmp_path, SHEET + parts + SEAM.replace('"hull"', '"twin"')))
    assert build.fittings.seams[0].body == "twin"
    assert [body.name for body in build.bodies] == ["hull", "float", "twin"]


def test_a_setup_called_as_she_is_is_refused(tmp_path):
    """The name of her usual state is taken."""
    path = build_in(tmp_path, SHEET + SETUP.replace('"wet"', '"as she is"'))
    with pytest.raises(InputError, match=r"build\.toml: setup 'as she is': that is what she is"):
        load(path)
