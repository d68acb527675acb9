"""A leak test that is over: what the scale shows, where water was found, and what it means."""

from datetime import datetime
from typing import Any

import click

from hullcheck.cli.log_ask import asked, asked_if_any, at_a_terminal
from hullcheck.cli.log_cautions import WET_INSIDE
from hullcheck.cli.log_leak_start import refuse_running, say_air, setup_of
from hullcheck.cli.log_names import Names, names_of
from hullcheck.cli.log_options import say, write
from hullcheck.cli.log_values import now_here, positive, weighed, yes_or_no
from hullcheck.craft.log_records import LeakTest, LeakTestSetup
from hullcheck.errors import InputError
from hullcheck.files.logbook import logbook_path, read_logbook

_LIGHTER_G = 1.0
"""What drying her outside repeats to [g]: no test makes her lighter than that."""
_LONG_MIN = 24.0 * 60.0
"""A clock that ran longer was most likely forgotten."""


def finish(options: dict[str, Any]) -> int:
    """Stop the clock of the test that runs, and write down what it showed."""
    where, at = options["where"], options["at"] or now_here()
    running = read_logbook(where).running_test
    if running is None:
        raise InputError(
            f"{logbook_path(where)}: no leak test was started; tell the whole test without "
            "--finish, or begin with --start"
        )
    entry, setup = running
    minutes = options["minutes"] or _clock(entry.at, at, entry.number)
    _record(options, setup, minutes, at, finishes=entry.number)
    return 0


def whole(options: dict[str, Any]) -> int:
    """Write down a whole test that nobody kept the clock of here."""
    book = read_logbook(options["where"])
    refuse_running(book, options["where"])
    say("a whole test is told; --start and --finish keep the clock.")
    setup = setup_of(options, book, planned=None, ask_planned=False)
    minutes = asked(
        options["minutes"],
        "Minutes on the water:",
        positive,
        option="--minutes",
        needs="how long she lay on the water, in minutes",
    )
    _record(options, setup, minutes, options["at"] or now_here(), finishes=None)
    return 0


def _clock(started: datetime, at: datetime, number: int) -> float:
    """Return the minutes since the start; refused if there are none."""
    minutes = (at - started).total_seconds() / 60.0
    if not minutes > 0.0:
        raise InputError(
            f"--at: the test was started later, in entry {number} at "
            f"{started.isoformat(' ', 'minutes')}; say when it ended, or --minutes"
        )
    if minutes > _LONG_MIN:
        say(f"the clock ran for {minutes / 60.0:.0f} h; --minutes says how long it really was.")
    return minutes


def _record(
    options: dict[str, Any],
    setup: LeakTestSetup,
    minutes: float,
    at: datetime,
    *,
    finishes: int | None,
) -> None:
    """Ask for what the test showed, write it down, and say what it means."""
    names = names_of(options["where"], new=options["new_seam"])
    given = tuple(dict.fromkeys(names.given(name) for name in options["found"]))
    after = asked(
        options["after"],
        "Mass now, dried outside as before (g):",
        weighed,
        option="--after",
        needs="what the scale shows after the test, dried outside, in g",
    )
    if after.digits_g > setup.plus_minus_g:
        say(f"the scale is taken to {setup.plus_minus_g:g} g, as before the test.")
    aft = asked_if_any(
        options["aft_of_step"], "Water aft of the step? (yes, no, enter: nobody looked)", yes_or_no
    )
    test = LeakTest(
        setup=setup,
        minutes=minutes,
        after_g=after.mass_g,
        found=given or _found(names),
        aft_of_step=aft,
        stream=options["stream"],
    )
    if test.gain_g < -max(_LIGHTER_G, 3.0 * test.gain_plus_minus_g):
        raise InputError(
            f"she cannot come out {-test.gain_g:.4g} g lighter: {setup.before_g:g} g before, "
            f"{test.after_g:g} g after; weigh the same things again, and finish once more "
            "(nothing was written)"
        )
    entry = write(options, test, at=at, finishes=finishes)
    _say_meaning(options["where"], test, entry.number)
    say_air(setup)


def _found(names: Names) -> tuple[str, ...]:
    """Return where water was found, asked for one by one."""
    found: list[str] = []
    if not at_a_terminal():
        return ()
    while True:
        question = "Where was the water found? (seam, or enter to skip):"
        another = "And where else? (seam, or enter for nowhere):"
        name = asked_if_any(None, another if found else question, names)
        if name is None:
            return tuple(found)
        if name not in found:
            found.append(name)


def _say_meaning(where: str, test: LeakTest, number: int) -> None:
    """Print the gain, its grade and the leak that explains it, and what to mind."""
    from hullcheck.cli.log_leak_meaning import meaning_lines

    click.echo("\n".join(meaning_lines(where, test, number)))
    if not test.below_resolution:
        say(WET_INSIDE)
