"""Titles say the finding in each state."""

import dataclasses

import pytest

from hullcheck.report import float_words

EXPECTED = {
    "upright": r"Floats upright, lowest edge [\d.]+ mm at station \d+",
    "on a tip float": r"Rests on the starboard tip float, lowest edge [\d.]+ mm.*",
    "listing": r"Leans 11° to starboard, lowest edge [\d.]+ mm at station \d+",
    "capsized": "Falls over: no upright rest at this CG",
    "capsized with floats": "Falls over: no upright rest at this CG",
    "no center of gravity": "Level she needs her CG at station 245",
    "sinks": "Sinks: 140 g too heavy",
    "bow under": r"Deck under water: [\d.]+ mm at station 0",
    "stern under": r"Deck under water: [\d.]+ mm at station \d+",
}


def test_title_names_the_state(state):
    """Each state has a title of its own."""
    import re

    name, _, answer = state
    if name in EXPECTED:
        assert re.fullmatch(EXPECTED[name], float_words.title(answer)), float_words.title(answer)


def test_facts_say_what_is_not_known(demo):
    """With meshes alone the facts say that no openings are given."""
    assert "No openings are given" in " ".join(float_words.facts(demo[1]))


@pytest.mark.parametrize(
    ("trim", "heel", "said"),
    [
        (0.0, 0.0, "sits level"),
        (2.66, 0.0, "sits 2.7° bow up, level across"),
        (-2.66, 1.34, "sits 2.7° bow down and leans 1.3° to starboard"),
        (0.02, -3.0, "sits level fore and aft and leans 3° to port"),
    ],
)
def test_posture_is_in_words(demo, trim, heel, said):
    """Trim and heel are said with their sides, never with a bare sign."""
    answer = dataclasses.replace(demo[1], trim_deg=trim, heel_deg=heel)
    assert float_words.posture(answer) == said
