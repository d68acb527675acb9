"""The page's first screen: who she is, the verdict, the list, and how she floats."""

from hullcheck.answers.check_records import CheckAnswer, CheckPoint
from hullcheck.report import check_words
from hullcheck.report.check_text import facts_lines
from hullcheck.report.check_titles import brief_question, verdict_title, well_and_next
from hullcheck.report.date_words import day_words
from hullcheck.report.float_drawing import float_drawing
from hullcheck.report.float_narrow import float_narrow
from hullcheck.report.numbers import mass_text, plus_minus_text
from hullcheck.report.page_answers import Reported
from hullcheck.report.page_pictures import picture
from hullcheck.report.page_records import PageHead, PagePoint
from hullcheck.report.page_rows import labeled, sentences
from hullcheck.report.words import capital, water_words


def page_head(told: Reported) -> PageHead:
    """Return the first screen."""
    evidence, check = told.evidence, told.check
    wide = float_drawing(evidence.craft, evidence.floating)
    narrow = float_narrow(evidence.craft, evidence.floating)
    large = check_words.large_words(check)
    return PageHead(
        name=check.craft,
        identity=_identity(told),
        verdict=verdict_title(check),
        state=check.verdict,
        sentence=check_words.closing(check) if check.holds_back else "",
        well=well_and_next(check),
        facts=_facts(check),
        points=tuple(_point(point, check) for point in check.points),
        picture=picture(wide, narrow),
        closing=sentences([*([large] if large else []), check_words.CLOSING]),
    )


def logbook_words(told: Reported) -> str:
    """Return up to which entry the logbook was read, and when: "logbook to entry 31, as of …"."""
    entries = told.evidence.logbook.entries
    if not entries:
        return "no logbook entry"
    as_of = day_words(told.evidence.now, year=True)
    return f"logbook to entry {entries[-1].number}, as of {as_of}"


def _identity(told: Reported) -> tuple[str, ...]:
    """Return setup, mass, water and logbook in a few words each."""
    floating = told.evidence.floating
    mass = mass_text(floating.mass_g)
    about = 0.0 if floating.load is None else floating.load.plus_minus_g
    said = [] if floating.setup is None else [f"as in setup “{floating.setup}”"]
    said += [plus_minus_text(mass, about) if about > 0.0 else mass, water_words(floating.water)]
    return (*said, logbook_words(told))


def _facts(check: CheckAnswer) -> tuple[tuple[str, str], ...]:
    """Return the labeled facts that the list begins with."""
    rows = labeled(facts_lines(check), capitals=False).rows
    return tuple((label.text, words.text) for label, words in rows)


def _point(point: CheckPoint, check: CheckAnswer) -> PagePoint:
    """Return a point of the list in words."""
    return PagePoint(
        state=point.state,
        question=capital(point.question),
        name=brief_question(point, check),
        finding=capital(check_words.finding(point, check.now)),
        evidence=check_words.evidence_words(point, check.now),
        next_step=check_words.next_words(point),
        presses=point.holds_back,
    )
