"""The verdict as a headline of at most 62 characters, and what is well and what comes next."""

from typing import Final

from hullcheck.answers.check_records import CheckAnswer, CheckPoint
from hullcheck.report.check_parts import name_words, names_words
from hullcheck.report.float_titles import TITLE_LENGTH, the, verb
from hullcheck.report.skin_words import count_words
from hullcheck.report.words import capital

_CLAUSES: Final = {
    ("files", "skin not closed"): "her skin does not close",
    ("files", "error over the margin"): "the files are too rough for her margin",
    ("openings", "none known"): "no opening of hers is known",
    ("openings", "low"): "a low opening has no state or no name",
    ("weights", "not all-up"): "not all of her weight is known",
    ("cg", "no center"): "her CG is not known",
    ("cg", "no band"): "no band is given for her CG",
    ("cg", "outside"): "her CG lies outside its band",
    ("freeboard", "sinks"): "she sinks",
    ("freeboard", "capsizes"): "she falls over",
    ("freeboard", "no center"): "her CG is not known",
    ("freeboard", "under water"): "{name} {is} under water",
    ("freeboard", "no limit"): "no freeboard limit is given",
    ("freeboard", "broken"): "{name} {is} too near the water",
    ("trim", "broken"): "her trim breaks its limit",
    ("heel", "broken"): "her list breaks its limit",
    ("upright", "no center"): "her CG is not known",
    ("upright", "sinks"): "she sinks",
    ("upright", "capsizes"): "she falls over",
    ("seams", "leaked"): "{name} leaked",
    ("seams", "re-opened"): "{name} {was} opened again",
    ("seams", "open"): "{name} {is} open under water",
    ("seams", "never sealed"): "{name} {was} never sealed",
    ("seams", "curing"): "{name} {is} still curing",
    ("seams", "repaired, not tested since"): "{name} {is} untested since its repair",
    ("seams", "not stated"): "{name} {is} not known to be sealed",
    ("seams", "taped"): "{name} {is} not tested",
    ("seams", "sealed"): "{name} {is} untested since it was sealed",
    ("seams", "sealed by the sheet, not in the log"): "{name} {is} not tested",
    ("seams", "light test"): "{name} {is} untested at flying weight",
    ("leak", "no test"): "no leak test is in the log",
    ("leak", "over the limit"): "her last leak test broke the limit",
    ("leak", "leaking"): "she leaked in her last test",
    ("leak", "weeping"): "she wept in her last test",
    ("time_afloat", "too short"): "her leak leaves her too little time",
    ("electronics", "under the sea"): "{name} {is} under the sea",
    ("propeller", "in the water"): "her propeller is in the water",
}
"""What holds her back, as a clause, for every cause that does."""


def verdict_title(answer: CheckAnswer) -> str:
    """Return the verdict, at most 62 characters."""
    held = [point for point in answer.points if point.holds_back]
    if held:
        more = f", and {count_words(len(held) - 1, 'point')} more" if len(held) > 1 else ""
        clause = clause_of(held[0])
        texts = [
            f"Not ready for water: {clause}{more}",
            f"Not ready: {clause}{more}",
            f"Not ready: {clause}",
            f"Not ready for water: {held[0].question}{more}",
        ]
        return next((text for text in texts if len(text) <= TITLE_LENGTH), texts[-1])
    lead = "Nothing on the list stops her"
    unknown, care = len(answer.of_state("not known")), len(answer.of_state("caution"))
    said = [f"{unknown} not known"] * bool(unknown)
    said += [f"{care} {'needs' if care == 1 else 'need'} care"] * bool(care)
    return f"{lead}; {', '.join(said) or 'the weather is yours to judge'}"


def clause_of(point: CheckPoint) -> str:
    """Return what holds her back, as a clause: "the aft joint leaked"."""
    kind = "seams" if point.key.startswith("seams_") else point.key
    bare = name_words(point.about[0]) if point.about else "it"
    clause = _CLAUSES[kind, point.cause]
    for word, one, several in (("{is}", "is", "are"), ("{was}", "was", "were")):
        clause = clause.replace(word, verb(bare, one, several))
    # The name last: whatever stands in it is text.
    return clause.replace("{name}", the(bare) if point.about else bare)


def brief_question(point: CheckPoint, answer: CheckAnswer) -> str:
    """Return what a point asks, in brief; of seams in one of several states which they are."""
    several = sum(one.key.startswith("seams_") for one in answer.points) > 1
    if several and point.key.startswith("seams_") and point.about:
        return names_words(point.about).replace(", ", " and ", 1)
    return point.question.split(",")[0]


def well_and_next(answer: CheckAnswer) -> str:
    """Return what is well and what to do next, in two sentences."""
    well = [brief_question(point, answer) for point in answer.of_state("pass")]
    count = len(well)
    first = "No point of the list passes."
    if count:
        passes = "passes" if count == 1 else "pass"
        few = f"{', '.join(well[:3])}{' and others' if count > 3 else ''}"
        first = f"{capital(count_words(count, 'point'))} {passes}: {few}."
    todo = next((point.next_step for point in answer.points if point.next_step), None)
    return first if todo is None else f"{first} Next: {todo}."
