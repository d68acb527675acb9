"""hullcheck log leak-test: the clock, the questions at a terminal, what a test means."""

import math
import os
import re

import pytest
from sheet_making import OPENING, SEAM, SHEET, build_in
from terminal import at_a_terminal

from hullcheck.craft.log_records import LeakTest, LeakTestSetup
from hullcheck.files.logbook import read_logbook

START = ("log", "leak-test", "--start")
FINISH = ("log", "leak-test", "--finish")
TEN = ("--at", "2026-05-14T10:00:00+02:00")
HALF_PAST = ("--at", "2026-05-14T10:30:00+02:00")
SET_UP = ("--mass", "600", "--before", "552.0")
LIMITS = "[limits]\nleak_g_per_30min = 1.0\n"
POSIX = pytest.mark.skipif(os.name != "posix", reason="pseudo-terminals are POSIX's")


@pytest.fixture
def build(tmp_path):
    """Write a build with a seam, an opening and a limit where commands run."""
    return build_in(tmp_path, SHEET + LIMITS + SEAM + OPENING)


def last(folder):
    """Return the last entry of a folder's logbook."""
    return read_logbook(folder).entries[-1]


@pytest.mark.usefixtures("build")
def test_start_and_finish_keep_the_clock(hullcheck, tmp_path):
    """10:00 to 10:30 is 30 min; gain by hand 2.6 g ± 0.1·√2; the hole by Torricelli's law."""
    done = hullcheck(*START, *SET_UP, "--minutes", "30", "--temperature", "12", *TEN)
    assert done.returncode == 0
    assert "The clock runs since 2026-05-14 10:00" in done.stdout
    assert "batteries out" in done.stderr
    assert "same day" in done.stderr
    setup = LeakTestSetup(
        mass_g=600.0,
        before_g=552.0,
        plus_minus_g=0.1,
        temperature_c=12.0,
        minutes_planned=30.0,
    )
    assert last(tmp_path).record == setup
    done = hullcheck(
        *FINISH, "--after", "554.6", "--found", "joint", "--aft-of-step", "no", *HALF_PAST
    )
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert lines[0] == "Recorded as entry 2."
    assert lines[1] == "+2.6 ± 0.14 g in 30 min at 600 g: damp, 0.47 % of 550 g in 30 min."
    assert lines[2] == "Rate 2.6 ± 0.14 g in 30 min; limit of the sheet 1 g: broken."
    assert lines[3].startswith("By the sheet's limit, which wins: repair and test again")
    assert lines[-1] == "Static test: a dry soak does not clear a hull under way."
    assert len(lines) <= 7
    assert all(len(line) <= 80 for line in lines)
    depth, hole = re.search(r"Joint, (\d+) mm deep: one hole of (\S+) mm", done.stdout).groups()
    # Q = C_d A sqrt(2 g h), C_d 0.62 of a sharp-edged orifice: any textbook of hydraulics.
    # Printed to 1 mm and to two figures.
    flow_mm3_s = 2.6 * 1000.0 / 1800.0
    by_hand = math.sqrt(flow_mm3_s / (0.62 * math.pi / 4 * math.sqrt(2 * 9806.65 * float(depth))))
    assert float(hole) == pytest.approx(by_hand, rel=0.05)
    assert last(tmp_path).finishes == 1
    assert last(tmp_path).record == LeakTest(
        setup=setup, minutes=30.0, after_g=554.6, found=("joint",), aft_of_step=False
    )
    assert "powered up or charged the same day" in done.stderr


@pytest.mark.usefixtures("build")
def test_clock_and_test_must_fit(hullcheck, tmp_path):
    """No second start, no finish without one, none before it; a long clock is doubted."""
    done = hullcheck(*FINISH, "--after", "553")
    assert done.returncode == 1
    assert "no leak test was started" in done.stderr
    hullcheck(*START, *SET_UP, *HALF_PAST)
    for line in ((*START, *SET_UP), ("log", "leak-test", *SET_UP, "--minutes", "5")):
        done = hullcheck(*line, *HALF_PAST)
        assert done.returncode == 1
        assert "the leak test of entry 1 runs since 2026-05-14 10:30" in done.stderr
        assert "strike 1 out" in done.stderr
    done = hullcheck(*FINISH, "--after", "553", *TEN)
    assert done.returncode == 1
    assert "the test was started later, in entry 1" in done.stderr
    late = ("--at", "2026-05-16T10:30:00+02:00")
    done = hullcheck(*FINISH, "--after", "553", *late)
    assert "the clock ran for 48 h" in done.stderr
    assert last(tmp_path).record.minutes == 48.0 * 60.0


@pytest.mark.usefixtures("build")
@pytest.mark.parametrize(
    ("line", "message"),
    [
        ((*START, "--mass", "600"), "--before is missing: what the scale shows before the test"),
        ((*START, "--before", "552"), "--mass is missing: her mass as she floats"),
        ((*START, *SET_UP, "--after", "553"), "--after is for --finish"),
        ((*START, *SET_UP, "--found", "joint"), "--found and --stream are for --finish"),
        ((*START, "--finish"), "one of them, or neither"),
        ((*FINISH, "--mass", "600"), "--mass is said at the start"),
        ((*FINISH, "--again"), "--again is said at the start"),
        (("log", "leak-test", *SET_UP, "--after", "553"), "--minutes is missing: how long she lay"),
        (("log", "leak-test", *SET_UP, "--minutes", "9"), "--after is missing: what the scale"),
        ((*START, *SET_UP, "--minutes", "0"), "'0' must be above 0"),
        ((*START, *SET_UP, "--wet-baseline", "-1"), "'-1' must not be below 0"),
        ((*START, "--mass", "0", "--before", "552"), "a mass must be above 0 g"),
        ((*START, *SET_UP, "--trim", "steep"), "'steep' is not a number"),
    ],
)
def test_what_does_not_go_together_is_usage(hullcheck, tmp_path, line, message):
    """Exit 2, and no entry."""
    done = hullcheck(*line)
    assert done.returncode == 2
    assert message in done.stderr
    assert read_logbook(tmp_path).entries == ()


@pytest.mark.usefixtures("build")
def test_a_finish_that_is_refused_leaves_the_clock_running(hullcheck, tmp_path):
    """Missing, or found at a seam that nobody knows."""
    hullcheck(*START, *SET_UP, *TEN)
    assert hullcheck(*FINISH).returncode == 2
    done = hullcheck(*FINISH, "--after", "553", "--found", "jiont")
    assert done.returncode == 1
    assert "nearest: joint" in done.stderr
    assert read_logbook(tmp_path).running_test is not None


@pytest.mark.usefixtures("build")
def test_again_repeats_the_set_up_of_the_last_test(hullcheck, tmp_path):
    """All of it but her weight before; what is given anew is changed."""
    done = hullcheck(*START, "--again", "--before", "552.4")
    assert done.returncode == 1
    assert "has no leak test to repeat" in done.stderr
    whole = ("--wet-baseline", "0.4", "--trim", "-6", "--heel", "2", "--ballast", "bag at 150")
    first = ("log", "leak-test", *SET_UP, *whole, "--water", "sea", "--minutes", "20")
    assert hullcheck(*first, "--after", "552.2", *TEN).returncode == 0
    setup = last(tmp_path).record.setup
    assert setup == LeakTestSetup(
        mass_g=600.0,
        before_g=552.0,
        plus_minus_g=0.1,
        wet_baseline_g=0.4,
        water="sea",
        trim_deg=-6.0,
        heel_deg=2.0,
        ballast="bag at 150",
    )
    done = hullcheck(*START, "--again", "--before", "552.41", "--trim", "-3", "--minutes", "60")
    assert done.returncode == 0
    assert "set up as in entry 1: 600.0 ± 0.1 g" in done.stderr
    again = last(tmp_path).record
    assert (again.before_g, again.trim_deg, again.minutes_planned) == (552.41, -3.0, 60.0)
    assert (again.heel_deg, again.ballast, again.water, again.plus_minus_g) == (
        2.0, "bag at 150", "sea", 0.1,
    )  # fmt: skip


@pytest.mark.usefixtures("build")
def test_a_gain_below_the_scale_and_a_running_test(hullcheck):
    """Nothing came in that the scale could tell: no caution of wet electronics; holes at most."""
    line = ("log", "leak-test", "--mass", "600", "--before", "552", "--minutes", "30")
    done = hullcheck(*line, "--after", "552", "--running")
    assert "0 ± 1.4 g in 30 min at 600 g: tight" in done.stdout
    assert "limit of the sheet 1 g: holds, within ±" in done.stdout
    assert "sized at the deepest seam, joint" in done.stderr
    assert "Joint, 14 mm deep: one hole of ≤ 0.0" in done.stdout
    assert "The scale cannot tell more" in done.stdout
    assert "Running test" in done.stdout
    assert "Static" not in done.stdout
    assert "powered up or charged" not in done.stderr
    done = hullcheck(*line, "--after", "554", "--stream", "--aft-of-step", "yes")
    assert "leaking, water came in as a visible stream" in done.stdout


def test_without_the_geometry_gain_and_rate_are_told(hullcheck, tmp_path, build):
    """Meshes that cannot be read, then no sheet at all: it is said, and the entry is there."""
    (tmp_path / "hull.stl").unlink()
    line = ("log", "leak-test", *SET_UP, "--minutes", "15", "--after", "554.6")
    done = hullcheck(*line)
    assert done.returncode == 0
    assert "no hole or crack is worked out: " in done.stderr
    assert "hull.stl" in done.stderr
    assert "+2.6 ± 0.14 g in 15 min at 600 g: damp, 0.87 %" not in done.stdout
    assert "+2.6 ± 0.14 g in 15 min at 600 g: weeping, 0.87 % of 600 g" in done.stdout
    assert "Rate 5.2 ± 0.28 g in 30 min; limit of the sheet 1 g: broken." in done.stdout
    assert "hole" not in done.stdout
    build.unlink()
    done = hullcheck(*line)
    assert done.returncode == 0
    assert "no build sheet there, so no hole or crack is worked out" in done.stderr
    assert "limit of the sheet" not in done.stdout
    assert len(read_logbook(tmp_path).entries) == 2


def test_the_sheets_water_is_taken(hullcheck, tmp_path, build):
    """Unless the command says otherwise."""
    build.write_text(f'{SHEET}[water]\nkind = "sea"\n', encoding="utf-8")
    hullcheck(*START, *SET_UP)
    assert last(tmp_path).record.water == "sea"
    hullcheck("log", "strike", "1", "--why", "x")
    hullcheck(*START, *SET_UP, "--water", "fresh", "--ballast", "air bag")
    assert last(tmp_path).record.water == "fresh"


@pytest.mark.usefixtures("build")
def test_show_tells_all_of_a_test(hullcheck, tmp_path):
    """Gain, grade and limit in the line; how she was set on the water, and what stood where."""
    (tmp_path / "wet.jpg").write_bytes(b"abc")
    setup = ("--wet-baseline", "0.4", "--water", "sea", "--temperature", "12", "--trim", "-6")
    more = ("--heel", "2", "--ballast", "bag at 150", "--minutes", "30", "--photo", "wet.jpg")
    hullcheck(*START, *SET_UP, *setup, *more, "--running", *TEN)
    seen = ("--aft-of-step", "yes", "--stream", "--found", "joint", "--found", "Canopy Edge")
    hullcheck(*FINISH, "--after", "555.0", *seen, *HALF_PAST)
    shown = hullcheck("log", "show").stdout.splitlines()
    assert shown[0] == "2 entries. Last leak test 2026-05-14: +2.6 ± 0.14 g in 30 min"
    assert shown[-1].startswith(" 2   2026-05-14 10:30  running leak test +2.6 ± 0.14 g in 30 min")
    everything = " ".join(hullcheck("log", "show", "--all").stdout.split())
    for part in (
        "before 552.0 ± 0.1 g; wet baseline 0.4 g; sea water 12 °C; trim −6°; heel 2°;",
        "ballast: bag at 150; 30 min planned; running written",
        "photo wet.jpg, SHA-256 ba7816bf8f01…",
        "running leak test +2.6 ± 0.14 g in 30 min: leaking, over limit; joint, canopy edge",
        "30 min planned; after 555.0 g; water aft of the step; a visible stream",
        "its clock was started in entry 1",
    ):
        assert part in everything, part
    (tmp_path / "build.toml").write_text("[craft", encoding="utf-8")
    done = hullcheck("log", "show")
    assert "over limit" not in done.stdout
    assert "tests are not held against its limit" in done.stderr


@pytest.mark.usefixtures("build")
def test_a_seam_that_still_cures_is_told(hullcheck):
    """Sealed at 9 with 24 h to go she goes on the water at 10: said; not once it was re-opened."""
    nine, later = ("--at", "2026-05-14T09:00:00+02:00"), ("--at", "2026-05-15T09:00:00+02:00")
    hullcheck("log", "seal", "joint", "--with", "epoxy", "--cure-h", "24", *nine)
    line = (*START, *SET_UP)
    done = hullcheck(*line, *TEN)
    assert "joint cures until 2026-05-15 09:00 (entry 1): water before that" in done.stderr
    hullcheck("log", "strike", "2", "--why", "not yet")
    assert "cures until" not in hullcheck(*line, *later).stderr
    hullcheck("log", "strike", "4", "--why", "not yet")
    hullcheck("log", "reopen", "joint", "--why", "cut open", "--at", "2026-05-14T09:30:00+02:00")
    assert "cures until" not in hullcheck(*line, *TEN).stderr


@POSIX
@pytest.mark.usefixtures("build")
def test_again_asks_only_for_her_weight(hullcheck, tmp_path):
    """The rest is as it was, or as it is given anew."""
    assert (
        hullcheck("log", "leak-test", *SET_UP, "--minutes", "5", "--after", "552.0").returncode == 0
    )
    code, shown = at_a_terminal(tmp_path, [*START, "--again"], [("before the test", "551.8")])
    assert code == 0, shown
    assert shown.count("?") + shown.count("(g") == 1
    assert last(tmp_path).record.before_g == 551.8


@POSIX
@pytest.mark.usefixtures("build")
def test_start_and_finish_ask_at_a_terminal(tmp_path):
    """Each question with its unit, put again with why after nonsense; the story of a soak."""
    code, shown = at_a_terminal(
        tmp_path,
        [*START, *TEN],
        [
            ("Her mass as she floats, ballast and all (g):", "six hundred"),
            ("Her mass as she floats, ballast and all (g):", "600"),
            ("What the scale shows before the test (g, all its digits):", "552.0"),
            ("What only dipping and toweling her adds (g, enter for 0):", "0,4"),
            ("Minutes planned (enter to skip):", "30"),
            ("What stands in for missing parts, and where (enter: nothing):", "bag at 150"),
        ],
    )
    assert code == 0, shown
    assert "'six hundred' is not a mass in grams, such as 704.6." in shown
    assert "Recorded as entry 1." in shown
    assert last(tmp_path).record == LeakTestSetup(
        mass_g=600.0,
        before_g=552.0,
        plus_minus_g=0.1,
        wet_baseline_g=0.4,
        minutes_planned=30.0,
        ballast="bag at 150",
    )
    code, shown = at_a_terminal(
        tmp_path,
        [*FINISH, *HALF_PAST],
        [
            ("Mass now, dried outside as before (g):", ""),
            ("Mass now, dried outside as before (g):", "555.0"),
            ("Water aft of the step? (yes, no, enter: nobody looked)", "perhaps"),
            ("Water aft of the step? (yes, no, enter: nobody looked)", "no"),
            ("Where was the water found? (seam, or enter to skip):", "jiont"),
            ("Where was the water found? (seam, or enter to skip):", "joint"),
            ("And where else? (seam, or enter for nowhere):", ""),
        ],
    )
    assert code == 0, shown
    assert "It is needed: what the scale shows after the test" in shown
    assert "'perhaps' is neither yes nor no." in shown
    assert "nearest: joint" in shown
    assert "+2.6 ± 0.14 g in 30 min at 600 g: damp" in shown
    assert "Recorded as entry 2." in shown
    assert last(tmp_path).record.found == ("joint",)
    assert last(tmp_path).record.aft_of_step is False


@pytest.mark.usefixtures("build")
@POSIX
def test_leaving_in_the_middle_writes_nothing(tmp_path):
    """The end of input, Ctrl-D, at a question: stopped, no entry, no traceback."""
    code, shown = at_a_terminal(tmp_path, [*START], [("Her mass as she floats", "\x04")])
    assert code == 130
    assert "hullcheck: stopped" in shown
    assert "Traceback" not in shown
    assert read_logbook(tmp_path).entries == ()
