"""How she is set on the water for a leak test, and its clock started."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import click

from hullcheck.cli.log_ask import asked, asked_if_any
from hullcheck.cli.log_cautions import LEAK_TEST, air_caution
from hullcheck.cli.log_options import say, write
from hullcheck.cli.log_values import Weighed, not_negative, now_here, positive, some_text, weighed
from hullcheck.craft.log_records import Entry, LeakTest, LeakTestSetup, LeakTestWater, Sealing
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError
from hullcheck.files.known_names import glance_at
from hullcheck.files.logbook import logbook_path, read_logbook
from hullcheck.report.log_words import mass_words, when_words


def start(options: dict[str, Any]) -> int:
    """Write down how she is set on the water, which starts the clock."""
    for name in ("after", "aft_of_step"):
        if options[name] is not None:
            raise click.UsageError(f"--{name.replace('_', '-')} is for --finish.")
    if options["found"] or options["stream"]:
        raise click.UsageError("--found and --stream are for --finish.")
    book = read_logbook(options["where"])
    refuse_running(book, options["where"])
    say_curing(book, options["at"] or now_here())
    setup = setup_of(options, book, planned=options["minutes"], ask_planned=True)
    entry = write(options, setup, at=options["at"] or now_here())
    click.echo(
        f"The clock runs since {when_words(entry.at)}; out of the water again: "
        "hullcheck log leak-test --finish"
    )
    say(LEAK_TEST)
    say_air(setup)
    return 0


def refuse_running(book: Logbook, where: str) -> None:
    """Refuse another test while the clock of one runs."""
    running = book.running_test
    if running is not None:
        number = running[0].number
        raise InputError(
            f"{logbook_path(where)}: the leak test of entry {number} runs since "
            f"{when_words(running[0].at)}; end it with --finish, or strike {number} out if it came "
            "to nothing"
        )


def say_curing(book: Logbook, at: datetime) -> None:
    """Say which seams still cure as she goes on the water."""
    for seam in dict.fromkeys(record.seam for _, record in book.of(Sealing)):
        entry, work = book.work_on(seam)[-1]
        if not isinstance(work, Sealing) or work.cure_h is None:
            continue
        until = entry.at + timedelta(hours=work.cure_h)
        if until > at:
            say(
                f"{seam} cures until {when_words(until)} (entry {entry.number}): water before that "
                "may spoil it."
            )


def setup_of(
    options: dict[str, Any], book: Logbook, *, planned: float | None, ask_planned: bool
) -> LeakTestSetup:
    """Return how she is set on the water, as given, as last time, or as answered.

    Parameters
    ----------
    options : dict
        As given.
    book : Logbook
        For the last test.
    planned : float or None
        How long the test is to last [min].
    ask_planned : bool
        Whether that is asked for.
    """
    if options["again"]:
        return _again(options, book, planned)
    mass = asked(
        options["mass"],
        "Her mass as she floats, ballast and all (g):",
        weighed,
        option="--mass",
        needs="her mass as she floats, ballast and all, in g",
    )
    before = _before(options)
    baseline = asked_if_any(
        options["wet_baseline"],
        "What only dipping and toweling her adds (g, enter for 0):",
        not_negative,
    )
    if ask_planned:
        planned = asked_if_any(planned, "Minutes planned (enter to skip):", positive)
    ballast = asked_if_any(
        options["ballast"],
        "What stands in for missing parts, and where (enter: nothing):",
        some_text,
    )
    return LeakTestSetup(
        mass_g=mass.mass_g,
        before_g=before.mass_g,
        plus_minus_g=_scale_g(options, before),
        wet_baseline_g=baseline or 0.0,
        water=options["water"] or _water(options["where"]),
        temperature_c=options["temperature"],
        trim_deg=options["trim"],
        heel_deg=options["heel"],
        running=options["running"],
        ballast=ballast or "",
        minutes_planned=planned,
    )


def say_air(setup: LeakTestSetup) -> None:
    """Say what to mind where a test by air is named."""
    if air_caution(setup.ballast):
        say(air_caution(setup.ballast))


def _scale_g(options: dict[str, Any], before: Weighed) -> float:
    """Return the scale's resolution [g], as given or by the digits, which is said."""
    if options["scale"] is not None:
        given: float = options["scale"].mass_g
        return given
    say(f"scale taken to {before.digits_g:g} g, by the digits of --before; --scale says otherwise.")
    return before.digits_g


def _before(options: dict[str, Any]) -> Weighed:
    """Return what the scale shows before the test."""
    given: Weighed | None = options["before"]
    return asked(
        given,
        "What the scale shows before the test (g, all its digits):",
        weighed,
        option="--before",
        needs="what the scale shows before the test, in g",
    )


def _again(options: dict[str, Any], book: Logbook, planned: float | None) -> LeakTestSetup:
    """Return the set-up of the last test with what is given anew; she is weighed again."""
    last = _last_setup(book)
    if last is None:
        raise InputError(
            f"--again: {logbook_path(options['where'])} has no leak test to repeat; say --mass and "
            "--before"
        )
    entry, setup = last
    changed: dict[str, Any] = {
        "minutes_planned": planned,
        "water": options["water"],
        "temperature_c": options["temperature"],
        "trim_deg": options["trim"],
        "heel_deg": options["heel"],
        "ballast": options["ballast"],
        "wet_baseline_g": options["wet_baseline"],
        "mass_g": options["mass"] and options["mass"].mass_g,
        "plus_minus_g": options["scale"] and options["scale"].mass_g,
        "running": options["running"] or None,
    }
    changed = {name: value for name, value in changed.items() if value is not None}
    kept = mass_words(setup.mass_g, setup.plus_minus_g)
    say(f"set up as in entry {entry.number}: {kept}; what is given anew is changed.")
    return replace(setup, before_g=_before(options).mass_g, **changed)


def _last_setup(book: Logbook) -> tuple[Entry, LeakTestSetup] | None:
    """Return the latest set-up that stands, of a test that was started or finished."""
    found: tuple[Entry, LeakTestSetup] | None = None
    for entry in book.standing:
        if isinstance(entry.record, LeakTest):
            found = entry, entry.record.setup
        elif isinstance(entry.record, LeakTestSetup):
            found = entry, entry.record
    return found


def _water(where: str) -> LeakTestWater:
    """Return the build sheet's kind of water; fresh where it says none."""
    try:
        glance = glance_at(where)
    except InputError as problem:
        say(f"{problem}; fresh water is taken.")
        return "fresh"
    return glance.water if glance is not None and glance.water is not None else "fresh"
