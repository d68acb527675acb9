"""What check and report rest on: kept within one run for the same question, and no other."""

import copy
from datetime import UTC, datetime

import click
import pytest

from hullcheck.cli.evidence import chosen_evidence
from hullcheck.files.demo import write_demo

AT = datetime(2026, 10, 19, 10, 0, tzinfo=UTC)
NONE = dict.fromkeys(("mass", "cg", "water", "temperature", "density", "setup", "at"))


@pytest.fixture(scope="module")
def build(tmp_path_factory):
    """Return the folder of the demo craft's build."""
    folder = tmp_path_factory.mktemp("evidence") / "build"
    write_demo(str(folder))
    return str(folder)


def test_the_same_question_is_answered_once_in_a_run(build):
    """Asked again below the same command it is the same object; in another run it is not."""
    options = NONE | {"at": AT}
    with click.Context(click.Command("demo")) as run:
        with click.Context(click.Command("check"), parent=run):
            first = chosen_evidence(build, options)
        with click.Context(click.Command("report"), parent=run):
            assert chosen_evidence(build, copy.copy(options), full_minute=True) is first
    with click.Context(click.Command("check")):
        assert chosen_evidence(build, options) is not first


@pytest.mark.parametrize(
    "other",
    [
        {"at": AT.replace(hour=11)},
        {"setup": "heavy battery"},
        {"mass": 702.0},
        {"cg": (255.0, 0.0, 62.0)},
        {"water": "sea"},
        {"temperature": 4.0},
        {"density": 1010.0},
    ],
    ids=lambda one: next(iter(one)),
)
def test_another_question_is_another_answer(build, other):
    """Each option that bears on the answer makes it another one."""
    asked = NONE | {"at": AT}
    with click.Context(click.Command("demo")):
        first = chosen_evidence(build, asked)
        assert chosen_evidence(build, asked | other) is not first


def test_without_a_time_nothing_is_kept(build):
    """Now is another time each time; a page is told for a full minute."""
    with click.Context(click.Command("demo")):
        first = chosen_evidence(build, NONE)
        assert chosen_evidence(build, NONE) is not first
        page = chosen_evidence(build, NONE, full_minute=True)
    assert (page.now.second, page.now.microsecond) == (0, 0)
