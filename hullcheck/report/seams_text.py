"""Her seams in words: the first screen, the answer and the worst seam first."""

import textwrap
from typing import Final

from hullcheck.answers.seams_order import NOT_SEALED, advice
from hullcheck.answers.seams_records import SeamReport, SeamsAnswer
from hullcheck.report.display import shown
from hullcheck.report.fitting import cut, fitting
from hullcheck.report.numbers import (
    arm_text,
    depth_text,
    height_text,
    mass_text,
    plus_minus_text,
    station_text,
)
from hullcheck.report.seams_tests_words import next_sentence, tests_sentence
from hullcheck.report.seams_words import (
    LEAST_LACKS,
    date_words,
    gain_words,
    last_telling,
    log_words,
    sealed_since,
    short_name,
    time_words,
    title,
)
from hullcheck.report.words import water_words

CAUTION: Final = (
    "this is arithmetic on your files and notes, no clearance to go on the water. Batteries out "
    "before she is retrieved; nobody swims after a model, cold water kills good swimmers."
)
WIDTH: Final = 80
MOST_ROWS: Final = 10
"""So many seams are on the first screen."""
_NAME, _WET, _DEEP, _SEALED = 21, 6, 6, 17
_STATE: Final = WIDTH - _NAME - _WET - _DEEP - 2 - _SEALED


def first_screen(answer: SeamsAnswer) -> list[str]:
    """Return the finding, the worst seams as a table, what the tests say and where to drain.

    Parameters
    ----------
    answer : SeamsAnswer
        Her seams.

    Returns
    -------
    list of str
        At most 80 characters each.
    """
    lines = [title(answer), head_line(answer)]
    if answer.seams:
        lines += [header_line(), *(row_line(answer, seam) for seam in answer.seams[:MOST_ROWS])]
    left = len(answer.seams) - MOST_ROWS
    if left > 0:
        lines.append(f"and {left} more, none of them worse: --all")
    said = " ".join(part for part in (tests_sentence(answer), next_sentence(answer)) if part)
    lines += textwrap.wrap(said, width=WIDTH)
    return lines + [line for line in (limit_line(answer), drain_line(answer)) if line]


def head_line(answer: SeamsAnswer) -> str:
    """Return who she is, what she weighs, in what water, and what log was read."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    log = log_words(answer.last_entry)
    who = f"{name} · {mass_text(answer.mass_g)} · {water_words(answer.water)}"
    return fitting(
        (f"{who} · {log}, as of {date_words(answer.now, answer.now)}", f"{who} · {log}"), WIDTH
    )


def header_line() -> str:
    """Return the header of the table; the unit of lengths stands here and in no cell."""
    unit = shown().length
    wet = f"{unit} wet"
    return f"{'WORST FIRST':<{_NAME}}{wet:>{_WET}}{'deep':>{_DEEP}}  {'sealed':<{_SEALED}}state"


def row_line(answer: SeamsAnswer, seam: SeamReport) -> str:
    """Return one seam as a row of the table."""
    name = cut(short_name(seam.name), _NAME - 1)
    state = fitting(_states(seam, answer.now), _STATE)
    sealed = fitting(_sealed(seam, answer.now), _SEALED - 1)
    return f"{name:<{_NAME}}{_place(seam)}  {sealed:<{_SEALED}}{state}".rstrip()


def _place(seam: SeamReport) -> str:
    """Return how long and deep a seam lies under water, or how high above it."""
    room = _WET + _DEEP
    if seam.height_mm is None or seam.wet_length_mm is None or seam.deepest_mm is None:
        return f"{'–':>{room}}"
    if not seam.under_water:
        return f"{f'{_bare(height_text(seam.height_mm))} above':>{room}}"
    wet, deep = arm_text(seam.wet_length_mm), depth_text(seam.deepest_mm)
    return f"{_bare(wet):>{_WET}}{_bare(deep):>{_DEEP}}"


def _bare(text: str) -> str:
    """Return a number without its unit."""
    return text.partition(" ")[0]


def _sealed(seam: SeamReport, now: str) -> tuple[str, ...]:
    """Return what a seam was sealed with and when, the longest first."""
    if seam.state == "re-opened" and seam.state_at is not None:
        return (f"open, {date_words(seam.state_at, now)}", "open again")
    if seam.sealed is not None:
        day, what = date_words(seam.sealed.at, now), seam.sealed.material
        return (f"{what}, {day}", f"{what[: _SEALED - 5 - len(day)]}… {day}")
    if seam.state == "sealed by the sheet, not in the log":
        return ("not in the log",)
    if seam.sheet_state is not None:
        return (seam.sheet_state,)
    return ("never",) if seam.state == "never sealed" else ("–",)


def _states(seam: SeamReport, now: str) -> tuple[str, ...]:
    """Return a seam's state with what is to be done, the longest first."""
    state, todo = seam.state, advice(seam)
    if state == "leaked" and seam.leak is not None:
        rate = f"{mass_text(seam.leak.g_per_30min)}/30 min"
        what = "leaks by sums" if seam.leak_is_inferred else f"leaked {rate}"
        return (f"{what}: repair, soak", f"{what}: repair", "leaked: repair, soak")
    if seam.height_mm is None:
        return (state,)
    if not seam.under_water:
        quiet = "as the sheet has it" if state == "taped" else "above the water"
        return (quiet if todo == "none" else todo,)
    return _dry(seam, now) if state == "tested dry" else _under_water(seam, now)


def _under_water(seam: SeamReport, now: str) -> tuple[str, ...]:
    """Return the state of a seam under water that is not tested dry, the longest first."""
    state = seam.state
    if state == "curing" and seam.sealed is not None and seam.sealed.cured_at is not None:
        return (f"curing to {time_words(seam.sealed.cured_at, now)}", "curing")
    if state == "sealed" and seam.wet_tests:
        if seam.wet_tests[-1].found:
            return ("not cleared: soak again",)
        return (f"not cleared: {gain_words(seam.wet_tests[-1])}", "not cleared: she gained")
    if state in NOT_SEALED:
        return (f"{state}: {advice(seam)}", f"{state}: seal, soak", state)
    repaired = state == "repaired, not tested since"
    return ("repaired, untested: soak" if repaired else "not tested since: soak",)


def _dry(seam: SeamReport, now: str) -> tuple[str, ...]:
    """Return what a seam's dry tests come to."""
    day = date_words(seam.dry_tests[-1].at, now)
    lacks = [words for name, words in LEAST_LACKS.items() if name in seam.dry_lacks]
    if not lacks:
        return (f"dry {day}, still and running", f"dry {day}, run too")
    return (f"dry {day} ({lacks[0]})", f"dry ({lacks[0]})", "dry, not as she flies")


def limit_line(answer: SeamsAnswer) -> str:
    """Return the last test against the sheet's limit."""
    if not answer.tests:
        return ""
    last = last_telling(answer)
    how = "running" if last.running else "still"
    gain = plus_minus_text(mass_text(max(last.gain_g, 0.0)), last.plus_minus_g)
    day = date_words(last.at, answer.now)
    said = f"Last test {day}, {how}: {gain} in {last.minutes:.3g} min, {last.grade}"
    if sealed_since(answer, last):
        said = f"Last test {day}, before the last sealing: {gain} in {last.minutes:.3g} min"
    if not last.tells:
        said = f"Last test {day}, {how}: {gain} in {last.minutes:.3g} min: too short to tell"
    if not answer.limits:
        return cut(said, WIDTH)
    check = answer.limits[0]
    limit = check.limit if isinstance(check.limit, float | int) else check.limit[1]
    word = "holds" if check.ok else "broken"
    tail = f"limit {mass_text(limit)}/30 min {word}"
    return fitting((f"{said}; {tail}", f"{said}; limit {word}"), WIDTH)


def drain_line(answer: SeamsAnswer) -> str:
    """Return where a drain goes in each compartment: at the lowest inside point at rest."""
    places = [one for one in answer.drains if one.attitude == "at rest"]
    if not places:
        return ""
    parts = [f"{one.compartment} at {station_text(one.lowest_mm[0])}" for one in places]
    head, tail = "Drain (lowest inside at rest, station)", "; vents, nose up, inverted: --all"
    texts = [f"{head}: {', '.join(parts[:n])}" for n in range(len(parts), 0, -1)]
    return fitting(
        (f"{texts[0]}{tail}", f"{texts[0]}; --all", *(f"{text}, …: --all" for text in texts[1:])),
        WIDTH,
    )
