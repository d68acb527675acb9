"""What the README prints is what the program prints."""

import re
import shlex
from pathlib import Path

import pytest

from hullcheck.files.demo import write_demo

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

README = Path(__file__).resolve().parents[2] / "README.md"
BLOCKS = re.findall(r"```text\n\$ hullcheck (.+)\n((?:.*\n)*?)```", README.read_text("utf-8"))
"""Commands in the README with what they print, each in a block of its own."""


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return a folder with the demo in it, its skin made once."""
    folder = tmp_path_factory.mktemp("demo")
    write_demo(folder / "tarnwing-90")
    return folder


def test_there_are_blocks():
    """Every command that answers has one."""
    assert {line.split()[0] for line, _ in BLOCKS} >= {
        "righting",
        "step",
        "weights",
        "compare",
        "sweep",
        "place",
        "bath",
        "seams",
        "flood",
        "log",
    }


@pytest.mark.parametrize(("line", "printed"), BLOCKS, ids=[line for line, _ in BLOCKS])
def test_a_command_prints_what_the_readme_shows(hullcheck, demo, monkeypatch, line, printed):
    """To the letter."""
    monkeypatch.chdir(demo)
    assert hullcheck(*shlex.split(line)).stdout == printed
