"""The finding about her seams, and states, dates and tests in words."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Final

from hullcheck.answers.seams_order import UNTESTED, advice, not_ready
from hullcheck.answers.seams_records import SeamReport, SeamsAnswer, SoakReport
from hullcheck.report.date_words import day_words
from hullcheck.report.float_titles import TITLE_LENGTH, the, verb
from hullcheck.report.numbers import mass_text
from hullcheck.report.skin_words import count_words
from hullcheck.report.words import capital, shown_name

_UNNAMED: Final = "opening at station "
LEAST_LACKS: Final = {
    "flying weight": "at less than flying weight",
    "this depth": "at less depth",
    "planned time": "too short",
    "running test": "still water only",
}
"""What a dry test lacks, as it is said behind "dry"."""


def title(answer: SeamsAnswer) -> str:
    """Return the finding, at most 62 characters."""
    if answer.short_by_g is not None:
        return f"Sinks: {mass_text(answer.short_by_g)} too heavy"
    if not answer.seams:
        return "No seam and no opening of hers is known"
    found = (_leaks, _gained, _waiting, _untested, _tested)
    return next(words for words in (find(answer) for find in found) if words)


def _leaks(answer: SeamsAnswer) -> str:
    """Return the title of a craft with a seam that leaked, and what else is not ready."""
    leaked = [seam for seam in answer.seams if seam.state == "leaked"]
    if not leaked:
        return ""
    waiting = [seam for seam in answer.seams if not_ready(seam)]
    ends = [f", and {count_words(len(waiting), what_of(waiting))} {_are(waiting)} not ready"]
    ends = [f"{ends[0]} for water", ends[0], ""] if waiting else [""]
    return _fitting(f"{lead}{end}" for end in ends for lead in _leads(leaked))


def _leads(leaked: Sequence[SeamReport]) -> list[str]:
    """Return what leaks: by name, and by number."""
    count = f"{capital(count_words(len(leaked), what_of(leaked)))} {_s(leaked, 'leaks', 'leak')}"
    if len(leaked) > 1:
        return [count]
    name = shown_name(leaked[0].name, size=False)
    return [f"{capital(article(name))} {verb(name, 'leaks', 'leak')}", count]


def _gained(answer: SeamsAnswer) -> str:
    """Return the title of a craft that gained in her last test, and nobody knows where."""
    if not answer.tests:
        return ""
    last = last_telling(answer)
    if sealed_since(answer, last) or last.gain_g <= last.plus_minus_g:
        return ""
    return f"She gained {gain_words(last)}, and the tests cannot tell where"


def last_telling(answer: SeamsAnswer) -> SoakReport:
    """Return the last leak test that could show anything; the last one where none could."""
    told = [one for one in answer.tests if one.tells]
    return (told or list(answer.tests))[-1]


def sealed_since(answer: SeamsAnswer, test: SoakReport) -> bool:
    """Return whether any seam was sealed after a leak test."""
    at = datetime.fromisoformat(test.at)
    return any(
        seam.sealed is not None and datetime.fromisoformat(seam.sealed.at) > at
        for seam in answer.seams
    )


def _waiting(answer: SeamsAnswer) -> str:
    """Return the title of a craft with seams under water that are not ready for it."""
    waiting = [seam for seam in answer.seams if not_ready(seam)]
    if not waiting:
        return ""
    under = [seam for seam in answer.seams if seam.under_water]
    silent = all(seam.state == "not stated" for seam in under)
    if silent and len(under) > 1:
        count = count_words(len(under), what_of(under))
        return _fitting(
            (
                f"{capital(count)} under water, and nothing says they are sealed",
                f"{len(under)} {what_of(under)}s under water, not known to be sealed",
            )
        )
    if len(waiting) > 1:
        return f"{capital(count_words(len(waiting), what_of(waiting)))} are not ready for water"
    name = capital(article(shown_name(waiting[0].name, size=False)))
    are = verb(name, "is", "are")
    why = state_words(waiting[0], answer.now)
    return _fitting(
        (
            f"{name} {are} not ready for water: {why}",
            f"{name} {are} not ready for water",
            f"One {what_of(waiting)} is not ready for water",
        )
    )


def _untested(answer: SeamsAnswer) -> str:
    """Return the title of a craft whose seams under water are sealed and not all tested."""
    under = [seam for seam in answer.seams if seam.under_water]
    untested = [seam for seam in under if seam.state in UNTESTED]
    if not under:
        return "No seam and no opening lies under water at rest"
    if not untested:
        return ""
    count = capital(count_words(len(untested), what_of(untested)))
    return f"{count} under water {_are(untested)} sealed but not tested"


def _tested(answer: SeamsAnswer) -> str:
    """Return the title of a craft whose seams under water all came out of tests dry."""
    under = [seam for seam in answer.seams if seam.under_water]
    lacks = {one for seam in under for one in seam.dry_lacks}
    what = capital(count_words(len(under), what_of(under)))
    if not lacks:
        return f"{what} under water tested dry, still and running"
    if lacks == {"running test"}:
        return f"{what} under water dry in still water, not tested running"
    least = next(words for name, words in LEAST_LACKS.items() if name in lacks)
    return f"{what} under water tested dry, but {least}"


def what_of(seams: Sequence[SeamReport]) -> str:
    """Return what some seams and openings are: "seam", "opening", or "place" for both."""
    kinds = {seam.kind == "seam" for seam in seams}
    return {frozenset({True}): "seam", frozenset({False}): "opening"}.get(frozenset(kinds), "place")


def state_words(seam: SeamReport, now: str) -> str:
    """Return a seam's state in words: "curing until 17 May, 08:00", "never sealed"."""
    if seam.state == "leaked" and seam.leak is not None:
        how = "leaks by the tests' sums" if seam.leak_is_inferred else "leaked"
        return f"{how}, {gain_words(seam.leak)}"
    if seam.state == "curing" and seam.sealed is not None and seam.sealed.cured_at is not None:
        return f"curing until {time_words(seam.sealed.cured_at, now)}"
    if seam.state == "tested dry" and seam.dry_tests:
        lacks = [words for name, words in LEAST_LACKS.items() if name in seam.dry_lacks]
        said = f"dry, {date_words(seam.dry_tests[-1].at, now)}"
        return f"{said} ({lacks[0]})" if lacks else f"{said}, still and running"
    if seam.state == "sealed" and seam.wet_tests:
        return "sealed, not cleared: she gained"
    words = {
        "sealed": "sealed, not tested since",
        "sealed by the sheet, not in the log": "sealed by the sheet only",
        "not stated": "not stated",
        "open": "open",
        "taped": "taped",
    }
    return words.get(seam.state, seam.state)


def action_words(seam: SeamReport) -> str:
    """Return what is to be done about a seam, "" where nothing is."""
    words = {"none": "", "soak again": "soak again", "test running": "then run her"}
    return words.get(advice(seam), advice(seam))


def gain_words(test: SoakReport) -> str:
    """Return what came in in a test: "2.1 g in 30 min"."""
    return f"{mass_text(test.gain_g)} in {test.minutes:g} min"


def article(name: str) -> str:
    """Return a name with its article, numbered ones without: "the keel", "joint 6"."""
    return name if name[-1:].isdigit() else the(name)


def short_name(name: str) -> str:
    """Return a name in brief: that of an opening without one is "opening at 416 port"."""
    said = shown_name(name, size=False)
    if not said.startswith(_UNNAMED):
        return said
    return (
        said.replace(_UNNAMED, "opening at ")
        .replace(" to port", " port")
        .replace(" to starboard", " starboard")
    )


def log_words(last_entry: int) -> str:
    """Return up to which entry the logbook was read, by the number `log show` gives it."""
    return f"log to entry {last_entry}" if last_entry else "nothing in the log"


def date_words(at: str, now: str) -> str:
    """Return a time (ISO 8601) as a date, with its year where that is not the present one."""
    when = datetime.fromisoformat(at)
    return day_words(when, year=when.year != datetime.fromisoformat(now).year)


def time_words(at: str, now: str) -> str:
    """Return a time (ISO 8601) as a date with hours and minutes: "26 Nov, 08:00"."""
    return f"{date_words(at, now)}, {datetime.fromisoformat(at):%H:%M}"


def _are(seams: Sequence[SeamReport]) -> str:
    """Return the verb for so many."""
    return _s(seams, "is", "are")


def _s(seams: Sequence[SeamReport], one: str, several: str) -> str:
    """Return the word for one or for several."""
    return one if len(seams) == 1 else several


def _fitting(texts: Iterable[str]) -> str:
    """Return the first text short enough for a title; the last where none is."""
    text = ""
    for text in texts:
        if len(text) <= TITLE_LENGTH:
            return text
    return text[:TITLE_LENGTH]
