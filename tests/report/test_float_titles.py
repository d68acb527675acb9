"""Titles with openings and limits: what takes water, what is broken, else how dry she is."""

import dataclasses

import pytest

from hullcheck.answers.float_records import Freeboard, HeightPoint, LimitCheck
from hullcheck.report import float_words
from hullcheck.report.float_titles import TITLE_LENGTH, title

TOP = HeightPoint(name="top of the hull at station 37", height_mm=36.5, point_mm=(37.0, 0.0, 72.0))
UNNAMED = "opening at station 250, 140 × 52 mm"


def _opening(name="canopy edge", height_mm=24.4, state="taped"):
    """Return an opening at a height."""
    return HeightPoint(
        name=name, height_mm=height_mm, point_mm=(150.0, 0.0, 60.0), what="opening", state=state
    )


@pytest.fixture
def afloat(sheet):
    """Return a maker of answers with openings, other things as they are on the sheet."""

    def made(*openings, **changes):
        counting = [p for p in openings if p.state != "sealed"] or [TOP]
        least = min(counting, key=lambda point: point.height_mm)
        board = Freeboard(least=least.height_mm, at=least.name, points=(*openings, TOP))
        given = {"clearances_mm": (), "limits": (), "margin_g": None, **changes}
        return dataclasses.replace(sheet[1], freeboard_mm=board, **given)

    return made


def _freeboard(value, limit=15.0, *, ok=False):
    """Return the freeboard limit held against a value."""
    return (LimitCheck(name="freeboard_mm", value=value, limit=limit, ok=ok),)


@pytest.mark.parametrize(
    ("opening", "wanted"),
    [
        (_opening("pushrod exit"), "Dry by 24 mm: the pushrod exit is her lowest opening"),
        (_opening("motor leads"), "Dry by 24 mm: the motor leads are her lowest openings"),
        (_opening("canopy edge", state=None),
         "Dry by 24 mm at the canopy edge, its state not stated"),
        (_opening(UNNAMED), "Dry by 24 mm at an unnamed opening, station 250"),
        (_opening(UNNAMED, state=None),
         "Dry by 24 mm at an unnamed opening, station 250, not stated"),
        (_opening(height_mm=-2.6, state="open"),
         "Taking water: the canopy edge (open) is 3 mm under"),
        (_opening(height_mm=-2.6), "Under water: the canopy edge (taped), by 3 mm"),
        (_opening("slots", height_mm=-2.6, state=None),
         "Under water: the slots (state not stated), by 3 mm"),
        (_opening(state="sealed"), "Floats upright, lowest edge 36.5 mm at station 37"),
        (_opening(height_mm=-2.6, state="sealed"),
         "Floats upright, lowest edge 36.5 mm at station 37"),
    ],
)  # fmt: skip
def test_title_by_opening(afloat, opening, wanted):
    """The lowest opening that is not sealed is the finding, with what is not known of it."""
    assert title(afloat(opening)) == wanted


@pytest.mark.parametrize(
    ("changes", "wanted"),
    [
        ({"limits": _freeboard(12.3)}, "Too low: the canopy edge stands 12 mm up, limit 15 mm"),
        ({"limits": _freeboard(24.4, ok=True)},
         "Dry by 24 mm: the canopy edge is her lowest opening"),
        ({"trim_deg": 5.23, "limits": (
            LimitCheck(name="trim_deg", value=5.23, limit=(0.0, 4.0), ok=False),)},
         "Trims too far: 5.2° bow up, limit 0 to 4° bow up"),
        ({"trim_deg": -0.5, "limits": (
            LimitCheck(name="trim_deg", value=-0.5, limit=(0.0, 4.0), ok=False),)},
         "Trims too far: 0.5° bow down, limit 0 to 4° bow up"),
        ({"trim_deg": 4.02, "limits": (
            LimitCheck(name="trim_deg", value=4.02, limit=(-1.0, 4.0), ok=False),)},
         "Trims too far: 4.02° bow up, limit 1° bow down to 4° bow up"),
        ({"heel_deg": -4.1, "limits": (
            LimitCheck(name="heel_deg", value=4.1, limit=3.0, ok=False),)},
         "Leans too far: 4.1° to port, limit 3°"),
        ({"rest": "on port tip float"},
         "Rests on the port tip float, 24 mm clear at the canopy edge"),
        ({"rest": "listing", "heel_deg": 8.0},
         "Dry by 24 mm: the canopy edge is her lowest opening"),
        ({"rest": "listing", "heel_deg": 8.0, "upright_is_stable": False},
         "Unstable: lies 8° to starboard, 24 mm clear at the canopy edge"),
        ({"rest": None}, "Level she needs her CG at station 245"),
        ({"clearances_mm": (HeightPoint(
            name="port wing tip", height_mm=-12.2, point_mm=(0.0, 0.0, 0.0), what="wing tip"),)},
         "Port wing tip 12.5 mm under water; openings dry by 24 mm"),
    ],
)  # fmt: skip
def test_title_by_limits_and_rest(afloat, changes, wanted):
    """A broken limit, how she rests, and a wing tip in the water, each in plain words."""
    assert title(afloat(_opening(), **changes)) == wanted


def test_the_gravest_is_the_title(afloat):
    """An opening under water goes before a broken limit, freeboard before heel and trim."""
    limits = (
        LimitCheck(name="trim_deg", value=5.0, limit=(0.0, 4.0), ok=False),
        *_freeboard(-1.0),
    )
    wet = afloat(_opening(height_mm=-1.0, state="open"), limits=limits)
    assert title(wet).startswith("Taking water")
    assert "Below the freeboard limit of 15 mm." in float_words.facts(wet)
    low = afloat(_opening(height_mm=9.0), limits=(limits[0], *_freeboard(9.0)), trim_deg=5.0)
    assert title(low) == "Too low: the canopy edge stands 9 mm up, limit 15 mm"
    assert "Trim 5° bow up, limit 0 to 4° bow up." in float_words.facts(low)


@pytest.mark.parametrize("state", ["open", "taped", None])
@pytest.mark.parametrize("height_mm", [-118.6, 118.6])
@pytest.mark.parametrize("rest", ["upright", "listing", "on starboard tip float"])
@pytest.mark.parametrize(
    "name",
    ["a" * 80, "very " * 20 + "long name", "Servoleitungsdurchführungsabdeckung am Heck", UNNAMED],
)
def test_no_title_is_too_long(afloat, name, rest, height_mm, state):
    """Whatever an opening is called, the title has at most 62 characters and no stop."""
    for limits in ((), _freeboard(height_mm, 120.0)):
        said = title(afloat(_opening(name, height_mm, state), rest=rest, limits=limits))
        assert len(said) <= TITLE_LENGTH, said
        assert not said.endswith((".", " "))


@pytest.mark.parametrize(
    ("changes", "wanted"),
    [
        ({"margin_plus_minus_g": 30.0, "margin_limited_by": "freeboard_mm"},
         "Room for 310 ± 30 g more at her CG before the freeboard limit of 15 mm."),
        ({"margin_plus_minus_g": 50.0, "margin_limited_by": "freeboard_mm"},
         "Room for 310 ± 50 g more at her CG before the freeboard limit of 15 mm."),
        ({"margin_plus_minus_g": 30.0, "margin_limited_by": "freeboard_mm",
          "margin_at": "motor leads"},
         "Room for 310 ± 30 g more at her CG, then the motor leads come under 15 mm."),
        ({"margin_plus_minus_g": None, "margin_limited_by": "sinks"},
         "Room for 310 g more at her CG before she sinks."),
    ],
)  # fmt: skip
def test_room_is_said_with_its_end(afloat, changes, wanted):
    """Grams left carry their ±, the limit they end at, and the point if it is another one."""
    answer = afloat(
        _opening(), margin_g=318.0, **{"margin_at": "canopy edge", **changes},
        limits=_freeboard(24.4, ok=True),
    )  # fmt: skip
    assert wanted in float_words.facts(answer)


def test_no_grams_left_is_said(afloat):
    """At the limit nothing is left; where one is broken the title says so already."""
    limits = _freeboard(15.0, ok=True)
    answer = afloat(_opening(height_mm=15.0), margin_g=0.0, limits=limits)
    assert "No grams are left." in float_words.facts(answer)


def test_what_is_not_known_of_the_load_is_said(sheet):
    """An item without a mass is named beside the mass, a setup before it."""
    answer = dataclasses.replace(sheet[1], setup="sea, hatch open")
    assert float_words.facts(answer)[0].startswith(
        "Setup “sea, hatch open”: 690 g without battery in fresh water. She sits"
    )


def test_openings_are_said_to_be_missing_only_where_they_are(afloat, demo):
    """The sentence on missing openings stands without any; all sealed has its own."""
    assert "No openings are given" in " ".join(float_words.facts(demo[1]))
    assert "openings" not in " ".join(float_words.facts(afloat(_opening()))).lower()
    sealed = " ".join(float_words.facts(afloat(_opening(state="sealed"))))
    assert "All openings are sealed" in sealed


def test_unstable_is_said(afloat):
    """That she would not stay upright is in the facts where another finding is the title."""
    answer = afloat(
        _opening(), rest="listing", heel_deg=8.0, upright_is_stable=False,
        limits=(LimitCheck(name="heel_deg", value=8.0, limit=3.0, ok=False),),
    )  # fmt: skip
    assert title(answer) == "Leans too far: 8° to starboard, limit 3°"
    assert "Set upright she would not stay so." in float_words.facts(answer)


def test_alternative_text_has_everything(sheet):
    """Every height with its state, fittings, limits, CG and room are in the alternative text."""
    said = float_words.alt_text(sheet[1])
    for words in (
        "Canopy edge (taped): 41.5 mm above the water.",
        "Motor leads (sealed): 45.5 mm above the water.",
        "Pushrod exit (open): 28 mm above the water.",
        "Starboard wing tip: ",
        "Propeller disc: 41.5 mm above the water.",
        "CG at station 252, 31 mm above the datum.",
        "The freeboard limit of 15 mm holds.",
        "The heel limit of 3° holds.",
        "Room for ",
    ):
        assert words in said, words
