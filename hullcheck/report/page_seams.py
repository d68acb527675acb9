"""The page's sections on her seams, and on what the leak tests said."""

from collections.abc import Iterable
from typing import Final

from hullcheck.answers.seams_records import SeamReport, SeamsAnswer, SoakReport
from hullcheck.craft.log_records import Entry, Note
from hullcheck.report import seams_words
from hullcheck.report import table_values as show
from hullcheck.report.display import shown
from hullcheck.report.numbers import depth_text, mass_text
from hullcheck.report.page_answers import MOST_ROWS, Reported
from hullcheck.report.page_pictures import picture_or_why
from hullcheck.report.page_records import PageCell, PageSection, PageTable
from hullcheck.report.page_rows import head, number, sentences, text
from hullcheck.report.seams_tests_words import next_sentence, tests_sentence
from hullcheck.report.seams_text import CAUTION
from hullcheck.report.words import capital, shown_name

_COLUMNS: Final = (
    "Wet: how much of its length lies under water at rest. Deep: its lowest point under the water."
)


def seams_section(told: Reported) -> PageSection:
    """Return every seam and opening, the worst first."""
    from hullcheck.report.seams_drawing import seams_drawing
    from hullcheck.report.seams_narrow import seams_narrow

    craft, answer = told.evidence.craft, told.evidence.seams
    drawn, missing = picture_or_why(
        lambda: seams_drawing(craft, answer), lambda: seams_narrow(craft, answer)
    )
    length = shown().length
    table = PageTable(
        title=f"The worst first, as of {seams_words.date_words(answer.now, answer.now)}",
        head=head("seam or opening", f"wet {length}", f"deep {length}"),
        rows=tuple(_seam(answer, seam) for seam in answer.seams),
        notes=(_COLUMNS,),
    )
    return PageSection(
        key="seams",
        question="Are her seams ready for the water?",
        answer=f"{seams_words.title(answer)}.",
        tables=(table,) if answer.seams else (),
        picture=drawn,
        missing=missing,
    )


def leaks_section(told: Reported) -> PageSection:
    """Return the leak tests with their grades, what they say together, and the log's notes."""
    answer = told.evidence.seams
    tests = PageTable(
        title="Leak tests, the newest first",
        head=(
            text("when"),
            text("how"),
            number("gained"),
            text("grade"),
            text("water found at"),
        ),
        rows=tuple(_test(answer, test) for test in answer.tests[: -MOST_ROWS - 1 : -1]),
        notes=_older(len(answer.tests)),
        wide=True,
    )
    kept = list(told.evidence.logbook.of(Note))
    notes = PageTable(
        title="Notes in the logbook",
        head=(text("when"), text("about"), text("note")),
        rows=_notes(kept[: -MOST_ROWS - 1 : -1], answer.now),
        notes=_older(len(kept)),
        wide=True,
    )
    said = " ".join(part for part in (tests_sentence(answer), next_sentence(answer)) if part)
    return PageSection(
        key="leaks",
        question="What did the leak tests say?",
        answer=said,
        tables=tuple(table for table in (tests, notes) if table.rows),
        notes=sentences([CAUTION]),
    )


def _seam(answer: SeamsAnswer, seam: SeamReport) -> tuple[PageCell, ...]:
    """Return a seam's row: its line and mark, name, state, and what to do."""
    said = [seams_words.state_words(seam, answer.now)]
    if seam.sealed is not None and seam.state not in {"open", "taped"}:
        when = seams_words.date_words(seam.sealed.at, answer.now)
        said.append(f"sealed with {seam.sealed.material}, {when}")
    action = seams_words.action_words(seam)
    said += [f"next: {action}"] if action else []
    wet, deep = seam.wet_length_mm, seam.deepest_mm
    return (
        PageCell(
            text=capital(shown_name(seam.name)),
            more="; ".join(said),
            strong=True,
            limit=seam.state == "leaked",
            seam=seam.state,
        ),
        number(None if wet is None else show.number(shown().length_of(wet), 0)),
        number("above" if not deep else depth_text(deep).partition(" ")[0]),
    )


def _test(answer: SeamsAnswer, test: SoakReport) -> tuple[PageCell, ...]:
    """Return a leak test's row."""
    limit = {None: "", True: "within the limit", False: "above the limit"}[test.within_limit]
    how = "running" if test.running else "still"
    gain = f"{show.number(test.gain_g)} ± {show.number(test.plus_minus_g, 2)} g"
    found = ", ".join(shown_name(name) for name in test.found)
    return (
        text(seams_words.time_words(test.at, answer.now), more=f"entry {test.entry}"),
        text(f"{how}, {test.minutes:g} min", more=f"at {mass_text(test.mass_g)}"),
        number(gain, more=f"{show.number(test.g_per_30min)} g in 30 min"),
        PageCell(
            text=test.grade,
            more=limit,
            strong=True,
            limit=test.within_limit is False,
        ),
        text(found or "not noted" if test.gain_g > test.plus_minus_g else found or "–"),
    )


def _older(count: int) -> tuple[str, ...]:
    """Return how many of so many rows are left to the terminal, in a sentence; none where none."""
    left = count - MOST_ROWS
    return (f"And {left} more, older: hullcheck log show --all.",) if left > 0 else ()


def _notes(
    kept: Iterable[tuple[Entry, Note]], now: str
) -> tuple[tuple[PageCell, ...], ...]:  # fmt: skip
    """Return the builder's notes, in their order."""
    return tuple(
        (
            text(seams_words.time_words(entry.at.isoformat(), now), more=f"entry {entry.number}"),
            text(note.about or "–"),
            text(note.text),
        )
        for entry, note in kept
    )
