"""What readings and an inclining say, in words: the verdict first, what to do next last."""

import math
from typing import Final

from hullcheck.answers.bath_fit_records import BathFit, Excess, LoadVerdict
from hullcheck.answers.bath_records import BathAnswer
from hullcheck.answers.incline_records import Inclining, Interval
from hullcheck.report import table_values as show
from hullcheck.report.bath_words import WIDTH, cut, fitted, row
from hullcheck.report.fitting import fitting
from hullcheck.report.numbers import (
    angle_text,
    mass_text,
    plus_minus_text,
    station_text,
)
from hullcheck.report.words import heel_words, trim_words

_NEXT: Final[dict[LoadVerdict, str]] = {
    "agrees": "",
    "more": "weigh bag and her dried: still so, an item is missing; gone, water",
    "less": "weigh her again: an item of the ledger is not in her, or lighter",
    "cg off": "look where the bag and the items lie, and measure again",
    "not compared": "",
}
_FINE_MM: Final = 1.0
_LEVEL_MM: Final = 0.05


def measured_lines(answer: BathAnswer, lines: int = 6) -> list[str]:
    """Return what the readings say in at most so many lines; none without readings."""
    fit = answer.measured
    if fit is None:
        return []
    said = [verdict_sentence(fit, weighed=answer.weighed_g is not None)]
    # The order on the screen, and what gives way first where there is no room for all.
    rows = [
        (0, "Next", _next(answer, fit)),
        (2, "Weighs", _mass(fit)),
        (3, "CG", _center(fit)),
        (5, "Lies", _attitude(fit)),
        (1, "Cannot tell", _assumed(fit)),
        (4, "Left over", _left_over(fit)),
    ]
    if fit.verdict == "not explained":
        rows = [(1, "Left over", _left_over(fit)), (0, "Next", _next(answer, fit))]
    there = [one for one in rows if one[2]]
    kept = sorted(there)[: lines - 1]
    return said + [row(label, text) for rank, label, text in there if (rank, label, text) in kept]


def verdict_sentence(fit: BathFit, *, weighed: bool) -> str:
    """Return what the readings say, in one sentence."""
    than = "weighed" if weighed else "the ledger has"
    misread, excess, off = fit.misread, fit.excess, fit.difference
    if fit.verdict == "misread" and misread is not None:
        more = "too much" if misread.off_mm > 0.0 else "too little"
        by = plus_minus_text(show.length(abs(misread.off_mm)), misread.off_plus_minus_mm)
        should = show.length(misread.should_be_mm)
        who = _who(misread.mark, misread.side)
        return fitting(
            (
                f"Misread: {who}, by {by} {more}: the others say {should}.",
                f"Misread: {who}, {by} {more}.",
                f"Misread: {who}.",
            ),
            WIDTH,
        )
    if fit.verdict == "not explained":
        return "Not explained: no load floats her so. A mark misread, a bent hull, the wrong mesh."
    if fit.verdict in {"more", "less"} and excess is not None:
        grams = plus_minus_text(mass_text(abs(excess.mass_g)), excess.mass_plus_minus_g)
        way = "more" if excess.mass_g > 0.0 else "less"
        where = _centered(excess)
        return fitting((f"{grams} {way} than {than}{where}.", f"{grams} {way} than {than}."), WIDTH)
    if fit.verdict == "cg off" and off is not None:
        return fitting((f"The mass agrees, the CG is off: {_off(fit)}.", "The CG is off."), WIDTH)
    if fit.verdict == "agrees":
        return f"Agrees: the marks read what {'was weighed' if weighed else 'the ledger says'}."
    return "Not compared: nothing is known to hold the readings against."


def _who(mark: str, side: str) -> str:
    """Return which reading it is."""
    return mark if side in {"both", "center"} else f"{mark} {side}"


def _centered(excess: Excess) -> str:
    """Return where a mass too many or too few sits."""
    if excess.x_mm is None or excess.x_plus_minus_mm is None:
        return ""
    return f", centered at station {_station_about(excess.x_mm, excess.x_plus_minus_mm)}"


def _off(fit: BathFit) -> str:
    """Return how far the center is off, along and across."""
    off = fit.difference
    parts = []
    if off is not None and off.x_mm is not None and off.x_plus_minus_mm is not None:
        way = "aft" if off.x_mm > 0.0 else "ahead"
        parts.append(f"{_length_about(off.x_mm, off.x_plus_minus_mm)} {way}")
    if off is not None and off.y_mm is not None and off.y_plus_minus_mm is not None:
        side = "starboard" if off.y_mm > 0.0 else "port"
        parts.append(f"{_length_about(off.y_mm, off.y_plus_minus_mm)} to {side}")
    return ", ".join(parts)


def _length_about(value_mm: float, about_mm: float) -> str:
    """Return the size of a length with its ±, to a tenth of a millimeter."""
    return plus_minus_text(show.length(abs(value_mm)), about_mm)


def _station_about(station_mm: float, about_mm: float) -> str:
    """Return a station with its ±, in millimeters where it is known no better."""
    fine = about_mm < _FINE_MM
    about = plus_minus_text(show.length(station_mm), about_mm).split(" ")[2]
    return f"{show.bare_length(station_mm) if fine else station_text(station_mm)} ± {about}"


def _next(answer: BathAnswer, fit: BathFit) -> str:
    """Return what to do next."""
    if fit.verdict == "misread":
        return "measure that mark again; what follows is from the others"
    if fit.verdict == "not explained":
        return f"measure again, {_suspect(fit)}"
    listed = answer.load.mass_g
    bears_out = abs(fit.load.mass_g - listed) <= fit.load.mass_plus_minus_g
    weighed = answer.weighed_g is not None and any(
        note.code == "weighed-differs" for note in answer.warnings
    )
    if weighed and bears_out and fit.load_verdict in {"more", "less"}:
        return f"weigh bag and her again: the marks bear out the {mass_text(listed)} listed"
    return _NEXT[fit.load_verdict]


def _suspect(fit: BathFit) -> str:
    """Return the mark that lies farthest from what the others say, to be measured first."""
    told = [c for c in fit.readings if c.outlier is not None and c.others_mm is not None]
    if not told:
        return "all marks"
    worst = max(told, key=lambda check: abs(check.outlier or 0.0))
    should = show.length(worst.others_mm or 0.0)
    return f"{_who(worst.mark, worst.side)} first (the others say {should})"


def _mass(fit: BathFit) -> str:
    """Return what she weighs by the readings, beside what was expected."""
    found = plus_minus_text(mass_text(fit.load.mass_g), fit.load.mass_plus_minus_g)
    if fit.expected is None:
        return f"{found} by the marks (95 %)"
    return f"{found} by the marks (95 %); expected {mass_text(fit.expected.mass_g)}"


def _center(fit: BathFit) -> str:
    """Return where her center is by the readings, beside where it was expected."""
    load, parts = fit.load, []
    if load.x_mm is not None and load.x_plus_minus_mm is not None:
        parts.append(f"station {_station_about(load.x_mm, load.x_plus_minus_mm)}")
    if load.y_mm is not None and load.y_plus_minus_mm is not None:
        about = _length_about(load.y_mm, load.y_plus_minus_mm)
        side = "starboard" if load.y_mm > 0.0 else "port"
        parts.append(f"{about} {'abeam' if about.startswith('0.0 ') else f'to {side}'}")
    if not parts:
        return ""
    text, expected = ", ".join(parts), fit.expected
    if expected is None or expected.center_of_gravity_mm is None:
        return cut(text)
    x, y, _ = expected.center_of_gravity_mm
    where = f"{text}; expected {show.bare_length(x)}"
    if abs(y) < _LEVEL_MM:
        return fitted((where, text))
    side = "starboard" if y > 0.0 else "port"
    return fitted((f"{where}, {show.length(abs(y))} to {side}", where, text))


def _attitude(fit: BathFit) -> str:
    """Return how she lies by the readings."""
    lies = fit.attitude
    told = [
        f"{words} (± {angle_text(about)})"
        for words, about in (
            (trim_words(lies.trim_deg), lies.trim_plus_minus_deg),
            (heel_words(lies.heel_deg), lies.heel_plus_minus_deg),
        )
        if about is not None
    ]
    return cut(", ".join(told))


def _assumed(fit: BathFit) -> str:
    """Return what the marks cannot tell, and which mark would."""
    if not fit.assumed:
        return ""
    angles = " and ".join(
        f"{one.angle} ({angle_text(one.value_deg)} taken)" for one in fit.assumed
    )  # fmt: skip
    asked = " and ".join(dict.fromkeys(one.ask for one in fit.assumed))
    return fitted((f"{angles}: the marks lie in one line; measure {asked}", angles))


def _left_over(fit: BathFit) -> str:
    """Return what no load explains, and where most of it is."""
    quality = fit.quality
    if quality.residuals == "not tested":
        return "not tested: no reading to spare"
    worst = max(fit.readings, key=lambda one: abs(one.left_over_mm))
    text = f"at most {show.length(abs(worst.left_over_mm))} ({_who(worst.mark, worst.side)})"
    if quality.probability is not None and quality.residuals != "explained":
        share = math.floor(100.0 * (1.0 - quality.probability))
        return cut(f"{text}: worse than {min(share, 99)} % of good sets")
    return cut(f"{text}, as a ruler leaves")


def incline_lines(answer: BathAnswer, lines: int = 5) -> list[str]:
    """Return what the inclining says, in at most so many lines; none without one."""
    found = answer.incline
    if found is None:
        return []
    gm = show.length(found.metacentric_height_mm)
    count = f"{len(found.shifts)} heel{'s' if len(found.shifts) > 1 else ''}"
    whole = f"Inclining: GM {gm}, {_range(found.interval_mm)} (95 %), {count}."
    said = [fitting((whole, f"Inclining: GM {gm}."), WIDTH)]
    rows = [
        ("CG height", _height(found, answer)),
        ("Finished", _finished(answer)),
        ("Without", _list(found)),
        ("Heels", _heels(found)),
    ]
    return (said + [row(label, text) for label, text in rows if text])[:lines]


def _height(found: Inclining, answer: BathAnswer) -> str:
    """Return how high her center lies by the inclining, beside the ledger's."""
    if found.center_z_mm is None or found.center_z_interval_mm is None:
        return ""
    text = f"z {show.length(found.center_z_mm)}, {_range(found.center_z_interval_mm)}"
    expected, by = answer.load.center_of_gravity_mm, answer.finished_by_inclining
    if expected is None or by is None:
        return cut(f"{text} (95 %)")
    ledger = f"the ledger's {show.bare_length(expected[2])}"
    verdict = f"agrees with {ledger}" if by.agrees else f"{ledger} does not agree"
    return fitted((f"{text} (95 %); {verdict}", f"{text}; {verdict}", text))


def _range(interval: Interval) -> str:
    """Return an interval of lengths, ends that are not told left open."""
    low, high = interval
    if low is None and high is None:
        return "told by nothing"
    if low is None or high is None:
        end = low if high is None else high
        return f"{'over' if high is None else 'under'} {show.bare_length(end or 0.0)}"
    return f"{show.bare_length(low)} to {show.bare_length(high)}"


def _finished(answer: BathAnswer) -> str:
    """Return what the inclining says of the finished craft."""
    by = answer.finished_by_inclining
    if by is None or answer.bag is None:
        return ""
    text = f"with the bag's weight at its true height: z {show.length(by.center_z_mm)}"
    return cut(f"{text}, GM {show.length(by.metacentric_height_mm)}")


def _list(found: Inclining) -> str:
    """Return the list without a weight across."""
    if found.initial_heel_is_fitted:
        return f"a weight across: {heel_words(found.initial_heel_deg)}"
    return "a weight across: taken to be level; read that angle too (0@0:…)"


def _heels(found: Inclining) -> str:
    """Return how well the heels fit together."""
    if found.residuals == "not tested":
        return "not tested against one another: none to spare; take three or more"
    worst = max(found.shifts, key=lambda one: abs(one.left_over_deg))
    text = f"fit within {show.angle(abs(worst.left_over_deg))}"
    if found.residuals != "explained":
        text += f", more than ± {show.angle(found.angle_deg)} leaves: read them again"
    return cut(text)
