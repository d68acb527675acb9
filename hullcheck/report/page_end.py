"""The page's last sections: the whole list, judgment, what was assumed, files and versions."""

from datetime import datetime

from hullcheck.answers.check_records import CheckPoint
from hullcheck.report import check_words, skin_text
from hullcheck.report.check_judgment_words import JUDGMENT, judgment_words
from hullcheck.report.date_words import time_words
from hullcheck.report.log_words import zone_words
from hullcheck.report.page_answers import Reported
from hullcheck.report.page_head import logbook_words
from hullcheck.report.page_records import PageCell, PageSection, PageTable
from hullcheck.report.page_rows import head, labeled, number, sentences, text
from hullcheck.report.words import capital


def list_section(told: Reported) -> PageSection:
    """Return every point of the list with what it rests on and what to do."""
    check = told.check
    rows = tuple(
        (
            PageCell(
                text=capital(point.question),
                more=capital(point.state),
                strong=True,
                limit=point.state == "stop",
                state=point.state,
            ),
            text(
                capital(check_words.finding(point, check.now)),
                more=_ground_and_next(point, check.now),
            ),
        )
        for point in check.points
    )
    return PageSection(
        key="list",
        question="What does each point rest on?",
        answer="What is not known is never a pass.",
        tables=(
            PageTable(
                title="The whole list",
                head=(text("point"), text("found, what it rests on, what is next")),
                rows=rows,
                wide=True,
            ),
        ),
    )


def _ground_and_next(point: CheckPoint, now: str) -> str:
    """Return what a point rests on, and what to do about it."""
    ground, todo = check_words.evidence_words(point, now), check_words.next_words(point)
    return f"{ground}; next: {todo}" if todo else ground


def judgment_section(told: Reported) -> PageSection:
    """Return what no arithmetic settles."""
    rows = tuple(
        (text(capital(point.question)), text(capital(judgment_words(point))))
        for point in told.check.judgment
    )
    return PageSection(
        key="judgment",
        question="What is left to your judgment?",
        answer=f"No arithmetic settles these, so none of them can pass ({JUDGMENT}).",
        tables=(PageTable(title="Your judgment", rows=rows, wide=True),),
    )


def assumptions_section(told: Reported) -> PageSection:
    """Return how the files were read, and all that was assumed."""
    evidence = told.evidence
    # A build made in Python has no files that were read.
    lines = skin_text.first_screen(evidence.skin) if evidence.skin.bodies else []
    answers = (
        evidence.floating,
        evidence.righting,
        evidence.flood,
        evidence.seams,
        evidence.step,
        evidence.weights,
        told.sweep,
        told.history,
    )
    said = [one.message for one in told.check.assumptions]
    said += [message for _, message in told.notes]
    said += [one.message for answer in answers if answer is not None for one in answer.warnings]
    return PageSection(
        key="assumptions",
        question="What was assumed?",
        answer=f"{lines[0].partition(' · ')[2] or lines[0]}." if lines else "",
        tables=(labeled(lines[1:], "How the files were read"),) if lines[1:] else (),
        notes=sentences(said),
    )


def files_section(told: Reported) -> PageSection:
    """Return the time told for, which files were read, and the versions that worked on them."""
    now = told.evidence.now
    files = PageTable(
        title="Files read",
        head=(text("file"), text("what"), number("bytes"), text("SHA-256")),
        rows=tuple(
            (text(one.name), text(one.what), number(f"{one.size_bytes}"), text(one.sha256))
            for one in told.files
        ),
        wide=True,
    )
    versions = PageTable(
        title="Versions",
        head=head("program or library", "version"),
        rows=tuple((text(name), number(version)) for name, version in told.versions),
    )
    return PageSection(
        key="files",
        question="Which files, which versions?",
        answer=f"Told for {_when(now)}. Read: {logbook_words(told)}. The same bytes in these files "
        f"give this page again, byte for byte, with these versions, the same options and --at "
        f"{_asked(now)}.",
        tables=(versions, files),
    )


def _when(now: datetime) -> str:
    """Return a time with its zone: "11 Oct 2026, 18:00 (+02:00)"."""
    seconds = f":{now:%S}" if now.second else ""
    return f"{time_words(now, year=True)}{seconds} ({zone_words(now)})"


def _asked(now: datetime) -> str:
    """Return a time as --at takes it, quoted: "2026-10-11 18:00+02:00"."""
    return f'"{now.isoformat(sep=" ", timespec="seconds" if now.second else "minutes")}"'
