"""A logbook whose writer is killed in the middle of writing: nothing that was told is lost."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

SCRIPT = Path(__file__).with_name("logbook_kills.py")
KILLS = 200


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL and fork are POSIX's")
def test_everything_acknowledged_survives_kills_within_the_transaction():
    """200 kills, at least 30 % between BEGIN and COMMIT: all entries reported are there.

    More by hand: python tests/files/logbook_kills.py --kills 1000.
    """
    done = subprocess.run(
        [sys.executable, str(SCRIPT), "--kills", str(KILLS)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    counted = json.loads(done.stdout)
    assert counted["kills"] == KILLS
    assert counted["between begin and commit"] >= 0.3 * KILLS, counted
    assert counted["committing"] > 0, counted
    assert counted["journals rolled back"] > 0, counted
    assert counted["entries there"] >= counted["entries reported"] > KILLS // 2, counted
