"""The page's sections on what keeps her upright, and on her step."""

from dataclasses import replace
from typing import Final

from hullcheck.report import righting_text, step_text
from hullcheck.report import table_values as show
from hullcheck.report.page_answers import Reported
from hullcheck.report.page_pictures import picture_or_why
from hullcheck.report.page_records import PageSection, PageTable
from hullcheck.report.page_rows import head, labeled, number, text
from hullcheck.report.words import shown_name, state_words

_ALONE: Final = (
    "Trim and draft free; past the heel at which the wing is in the water, the bodies alone."
)
_NO_VERDICT: Final = "Rules of thumb are shown, none is judged."


def righting_section(told: Reported) -> PageSection:
    """Return what rights and what upsets her, with her righting curve."""
    question, answer = "What keeps her upright?", told.evidence.righting
    if answer is None:
        return PageSection(
            key="righting",
            question=question,
            missing="Her CG is not known, and arms are about it: give every item of the ledger x "
            "and z, or cg_mm under [craft].",
        )
    from hullcheck.report.righting_curve import righting_drawing

    lines = righting_text.first_screen(answer)
    drawn, missing = picture_or_why(lambda: righting_drawing(told.evidence.craft, answer))
    rows = tuple(
        (
            text(shown_name(one.name), more=state_words(one.state)),
            number(_heel(one.starboard_deg)),
            number(_heel(one.port_deg)),
        )
        for one in answer.openings
    )
    heels = PageTable(
        title="Openings go under at a heel of",
        wide=True,
        head=head("opening", "to starboard", "to port"),
        rows=rows,
        notes=(_ALONE,),
    )
    return PageSection(
        key="righting",
        question=question,
        answer=lines[1],
        tables=(labeled(lines[2:]), *((heels,) if rows else ())),
        picture=drawn,
        missing=missing,
    )


def step_section(told: Reported) -> PageSection:
    """Return where the step stands by every rule of thumb."""
    from hullcheck.report.step_drawing import step_drawing

    answer = told.evidence.step
    lines = step_text.first_screen(answer)
    drawn, missing = picture_or_why(lambda: step_drawing(told.evidence.craft, answer))
    return PageSection(
        key="step",
        question="Where does her step stand?",
        answer=lines[1] if len(lines) > 1 else lines[0],
        tables=(replace(labeled(lines[2:]), notes=(_NO_VERDICT,)),) if len(lines) > 2 else (),
        picture=drawn,
        missing=missing,
    )


def _heel(value_deg: float | None) -> str:
    """Return a heel, or that there is none."""
    return "none" if value_deg is None else show.angle(abs(value_deg))
