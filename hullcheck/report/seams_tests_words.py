"""What the leak tests together say of which seam leaks, in sentences."""

from typing import Final

from hullcheck.answers.seams_records import SeamsAnswer
from hullcheck.answers.seams_suspects import HeldReport, NextSoak, SuspectReport
from hullcheck.report.numbers import mass_text
from hullcheck.report.seams_words import article, date_words
from hullcheck.report.skin_words import count_words
from hullcheck.report.words import capital, heel_words, shown_name, trim_words

_AND: Final = " and "


def tests_sentence(answer: SeamsAnswer) -> str:
    """Return what the tests say, in a sentence; "" where there is nothing to say."""
    found = answer.suspects
    tests = capital(count_words(len(found.counted), "test"))
    explain = "explains" if len(found.counted) == 1 else "explain"
    if found.verdict == "named":
        names = names_words(found.named, answer.now)
        held = found.repair_held
        end = "." if held is None else f"; {_held(held, answer.now)}."
        return f"{tests} {explain} the water best by {names} (both leak laws agree){end}"
    if found.verdict == "one alone" and found.alone is not None:
        name = names_words((found.alone,), answer.now)
        return f"Of single seams only {name} would explain the water; several together could too."
    seen = [s.name for s in answer.seams if s.state == "leaked" and not s.leak_is_inferred]
    if found.verdict == "cannot tell" and seen:
        names = " and ".join(article(shown_name(name)) for name in seen)
        return f"Water was found at {names}; the tests' sums alone cannot tell which seam."
    if found.verdict == "cannot tell":
        groups = [names_words(group, answer.now) for group in found.cannot_tell_between]
        which = f" {'; '.join(groups)}" if groups else ": more tests are needed"
        return f"The tests' sums cannot tell apart{which}."
    return {
        "no tests": "No leak test in the log says anything yet (hullcheck log leak-test).",
        "no water": "",
        "laws disagree": "The two leak laws name different seams: the tests cannot tell.",
        "unexplained": "No seams explain all tests: one may have opened unlogged (log reopen), "
        "or water comes in elsewhere, at a hatch or a screw.",
    }.get(found.verdict, "")


def _held(held: HeldReport, now: str) -> str:
    """Return that a repair held, with what came in since and what would have come in without."""
    came = "nothing the scale could tell" if held.gain_g <= 0.0 else mass_text(held.gain_g)
    most = mass_text(held.expected_low_g)
    return f"the repair held: {came} on {date_words(held.at, now)}, where {most} would have come in"


def next_sentence(answer: SeamsAnswer) -> str:
    """Return the test to make next, in a sentence; "" where there is none."""
    test = answer.suspects.next_test
    if test is None:
        return ""
    purpose = {
        "tell apart": "would tell them apart",
        "confirm": "would confirm it",
        "confirm the repair": "would confirm the repair",
    }.get(test.purpose, test.purpose)
    return (
        f"A soak of {test.minutes:g} min at {mass_text(test.mass_g)}, {_attitude(test)} {purpose}."
    )


def predictions_lines(answer: SeamsAnswer) -> list[str]:
    """Return what each explanation would gain in the next test, a line each."""
    test = answer.suspects.next_test
    if test is None:
        return []
    return [
        f"if {names_words(one.suspects, answer.now) or 'no seam leaks now'}: "
        f"{mass_text(one.low_g)} to {mass_text(one.high_g)} in {test.minutes:g} min"
        for one in test.predictions
    ]


def names_words(suspects: tuple[SuspectReport, ...], now: str, last: str = "and") -> str:
    """Return suspects by name, such as they were before a repair with its date."""
    names = [_name(one, now) for one in suspects]
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


def _name(suspect: SuspectReport, now: str) -> str:
    """Return a suspect by name."""
    name = article(shown_name(suspect.seam))
    if suspect.until is None:
        return name
    return f"{name} as it was before {date_words(suspect.until, now)}"


def _attitude(test: NextSoak) -> str:
    """Return the attitude of a test in words."""
    if not test.held:
        return "as she floats,"
    parts = [trim_words(test.trim_deg)]
    if abs(test.heel_deg) >= 0.05:
        parts.append(heel_words(test.heel_deg))
    return f"held {_AND.join(parts)},"
