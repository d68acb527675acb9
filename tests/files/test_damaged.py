"""Damaged files of every format: they are read or refused, in bounded memory, and nothing else."""

import importlib
import random
import sys
from pathlib import Path

import pytest

from hullcheck.errors import HullcheckError
from hullcheck.files.meshes import read_mesh_bytes

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

WHOLE = making.one_of_each()
TRAPS = (
    b"-1",
    b"nan",
    b"1e999",
    b"9999999999",
    b"\xff\xff\xff\xff",
    b"\0\0\0\0",
    b"\n",
    b" ",
    b'"',
    b"<",
    b"[",
    b"{",
)
ATTEMPTS = 1000
SEED = 20240613


def damaged(data, rng):
    """Return a file with one to eight places of it overwritten, cut out, or filled with a trap."""
    changed = bytearray(data)
    for _ in range(rng.choice((1, 1, 1, 2, 8))):
        at = rng.randrange(len(changed))
        what = rng.randrange(4)
        if what == 0:
            changed[at] = rng.randrange(256)
        elif what == 1:
            changed[at] ^= 1 << rng.randrange(8)
        elif what == 2:
            del changed[at : at + rng.randrange(1, 9)]
        else:
            trap = rng.choice(TRAPS)
            changed[at : at + rng.choice((0, len(trap)))] = trap
    return bytes(changed)


def attempt(data, name):
    """Read a file; a refusal must name the file and keep to the words of the house."""
    try:
        parts = read_mesh_bytes(data, name).parts
    except HullcheckError as refusal:
        message = str(refusal)
        assert message.startswith(f"{name}: ")
        assert "error" not in message.lower()
        assert "\n" not in message
        assert len(message) < 400
        return False
    return all(len(part.triangles) for part in parts)


@pytest.mark.parametrize("name", WHOLE)
def test_a_file_cut_short_is_refused(name):
    """No length but the whole one passes, line ends and closing words aside."""
    data = WHOLE[name]
    step = max(1, len(data) // 400)
    whole = len(data.rstrip()) - len(b"endsolid") if name == "text.stl" else len(data.rstrip())
    for length in range(0, len(data), step):
        read = attempt(data[:length], name)
        # A text without its last digits may still be a text of numbers.
        assert not read or length >= whole - 20 or name.endswith((".obj", ".off"))


@pytest.mark.parametrize("name", ["binary.stl", "binary.ply", "whole.glb"])
def test_a_signaling_nan_is_refused(name):
    """The kind of NaN that makes the processor complain is refused like any other."""
    place = making.VERTICES[0].astype("<f4").tobytes()
    data = WHOLE[name].replace(place, b"\0\0\xa0\x7f" + place[4:])
    assert data != WHOLE[name]
    with pytest.raises(HullcheckError, match=r"not (?:a|at) finite number|not at finite numbers"):
        read_mesh_bytes(data, name)


@pytest.mark.parametrize("name", WHOLE)
def test_a_damaged_file_is_read_or_refused(name, peak_bytes):
    """Flipped bits, lost bytes and numbers out of place raise nothing but refusals."""
    rng = random.Random(f"{SEED} {name}")  # noqa: S311 (repeatable damage, no secret)

    def run():
        refused = sum(not attempt(damaged(WHOLE[name], rng), name) for _ in range(ATTEMPTS))
        assert refused > ATTEMPTS // 10

    run()
    rng.seed(f"{SEED} {name}")
    # The files have a few kB; expat, zlib and the blocks of text take some hundred kB.
    assert peak_bytes(run) < 16 << 20
