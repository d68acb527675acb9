"""Entries of the logbook in words, a line each, or with every detail."""

import math
from collections.abc import Iterator
from datetime import datetime

from hullcheck.craft.leak_ladder import grade_of
from hullcheck.craft.log_records import (
    Entry,
    LeakTest,
    LeakTestSetup,
    Note,
    Record,
    Reopening,
    Sealing,
    Strike,
    WeighIn,
)
from hullcheck.report.numbers import MINUS


def one_line(text: str) -> str:
    """Return a text on one line, without what a terminal would obey."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def when_words(at: datetime, *, zone: bool = False) -> str:
    """Return a time as it stood on the clock there, to the minute."""
    text = at.replace(tzinfo=None).isoformat(" ", "minutes")
    return f"{text} {zone_words(at)}" if zone else text


def zone_words(at: datetime) -> str:
    """Return how far a clock was from UTC: "+02:00"."""
    offset = at.strftime("%z")
    return f"{offset[:3]}:{offset[3:5]}"


def scale_text(mass_g: float, plus_minus_g: float) -> str:
    """Return a mass [g] in text, as many digits as its scale has.

    Examples
    --------
    >>> scale_text(704.6, 0.1), scale_text(702.0, 1.0), scale_text(-0.2, 0.5)
    ('704.6 g', '702 g', '−0.2 g')
    """
    if not plus_minus_g > 0.0:
        return f"{mass_g:g} g".replace("-", MINUS)
    decimals = max(0, -math.floor(math.log10(plus_minus_g)))
    text = f"{abs(mass_g):.{decimals}f}"
    return f"{MINUS if mass_g < 0.0 and float(text) else ''}{text} g"


def mass_words(mass_g: float, plus_minus_g: float) -> str:
    """Return a mass with how well it is known, to two figures.

    Examples
    --------
    >>> mass_words(704.6, 0.1), mass_words(2.6, 0.1414), mass_words(0.0, 1.414)
    ('704.6 ± 0.1 g', '2.6 ± 0.14 g', '0 ± 1.4 g')
    """
    text = scale_text(mass_g, plus_minus_g)
    if not plus_minus_g > 0.0:
        return text
    about = f"{plus_minus_g:.2g}" if plus_minus_g < 10.0 else f"{plus_minus_g:.0f}"
    return f"{text.removesuffix(' g')} ± {about} g"


def gain_words(test: LeakTest) -> str:
    """Return what came in, in how long: "+2.6 ± 0.14 g in 30 min"."""
    sign = "+" if test.gain_g > 0.0 else ""
    gain = mass_words(test.gain_g, test.gain_plus_minus_g)
    return f"{sign}{gain} in {test.minutes:.3g} min"


def entry_words(record: Record, *, limit_g_per_30min: float | None = None) -> str:
    """Return a record in words on one line, a leak test held against the sheet's limit [g]."""
    return one_line(_words(record, limit_g_per_30min))


def detail_words(entry: Entry) -> list[str]:
    """Return what the line about an entry leaves out, a sentence or two each."""
    lines = []
    if isinstance(entry.record, LeakTest):
        lines.append("; ".join(_test_details(entry.record)))
    elif isinstance(entry.record, LeakTestSetup):
        lines.append("; ".join(_setup_details(entry.record)))
    if entry.finishes is not None:
        lines.append(f"its clock was started in entry {entry.finishes}")
    if abs((entry.written - entry.at).total_seconds()) >= 60.0:
        lines.append(f"written {when_words(entry.written, zone=True)}")
    if entry.photo is not None:
        lines.append(f"photo {entry.photo.path}, SHA-256 {entry.photo.sha256[:12]}…")
    return [one_line(line) for line in lines if line]


def _words(record: Record, limit_g_per_30min: float | None) -> str:
    """Return a record in words."""
    match record:
        case WeighIn():
            name = "all-up" if record.item is None else record.item
            text = f"{name} {mass_words(record.mass_g, record.plus_minus_g)}"
        case Sealing():
            batch = f", batch {record.batch}" if record.batch else ""
            cure = "" if record.cure_h is None else f", cures {record.cure_h:g} h"
            text = f"{record.seam} sealed with {record.material}{batch}{cure}"
        case Reopening():
            text = f"{record.seam} not sealed any more" + (f": {record.why}" if record.why else "")
        case LeakTestSetup():
            text = f"leak test started at {record.mass_g:g} g"
        case LeakTest():
            text = _test_words(record, limit_g_per_30min)
        case Note():
            text = f"{record.about}: {record.text}" if record.about else record.text
        case Strike():
            text = f"struck out entry {record.entry}: {record.why}"
    return text


def _test_words(test: LeakTest, limit_g_per_30min: float | None) -> str:
    """Return a leak test in words: its grade, by the mass of the test itself, and the gain."""
    grade = grade_of(test, limit_g_per_30min=limit_g_per_30min)
    over = ", over limit" if grade.within_limit is False else ""
    how = "running leak test" if test.setup.running else "leak test"
    found = f"; {', '.join(test.found)}" if test.found else ""
    return f"{how} {gain_words(test)}: {grade.grade}{over}{found}"


def _setup_details(setup: LeakTestSetup) -> Iterator[str]:
    """Yield how she was set on the water."""
    yield f"before {mass_words(setup.before_g, setup.plus_minus_g)}"
    if setup.wet_baseline_g:
        yield f"wet baseline {setup.wet_baseline_g:g} g"
    water = "fresh water" if setup.water == "fresh" else "sea water"
    yield water if setup.temperature_c is None else f"{water} {setup.temperature_c:g} °C"
    if setup.trim_deg is not None:
        yield f"trim {setup.trim_deg:g}°".replace("-", MINUS)
    if setup.heel_deg is not None:
        yield f"heel {setup.heel_deg:g}°".replace("-", MINUS)
    if setup.ballast:
        yield f"ballast: {setup.ballast}"
    if setup.minutes_planned is not None:
        yield f"{setup.minutes_planned:g} min planned"
    if setup.running:
        yield "running"


def _test_details(test: LeakTest) -> Iterator[str]:
    """Yield how a test went."""
    yield f"at {test.setup.mass_g:g} g"
    yield from (detail for detail in _setup_details(test.setup) if detail != "running")
    yield f"after {scale_text(test.after_g, test.setup.plus_minus_g)}"
    if test.aft_of_step is not None:
        yield "water aft of the step" if test.aft_of_step else "none aft of the step"
    if test.stream:
        yield "a visible stream"
