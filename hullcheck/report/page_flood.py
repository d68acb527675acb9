"""The page's section on water aboard."""

from hullcheck.answers.flood_records import FloodAnswer, FloodedState, OpenCase, WaterCase
from hullcheck.answers.time_afloat_records import LeakTime
from hullcheck.report import flood_text
from hullcheck.report import table_values as show
from hullcheck.report.flood_words import break_words, level_text, minutes_text
from hullcheck.report.numbers import height_text, mass_text
from hullcheck.report.page_answers import Reported
from hullcheck.report.page_pictures import picture_or_why
from hullcheck.report.page_records import PageCell, PageSection, PageTable
from hullcheck.report.page_rows import head, labeled, number, sentences, text
from hullcheck.report.words import shown_name


def flood_section(told: Reported) -> PageSection:
    """Return what water inside her does, how long she has, and how she floats swamped."""
    question, answer = "What if water gets in?", told.evidence.flood
    if answer is None:
        why = (
            "She sinks dry: water inside changes nothing."
            if told.evidence.floating.rest == "sinks"
            else "Her CG is not known, and where water runs depends on it."
        )
        return PageSection(key="flood", question=question, missing=why)
    from hullcheck.report.flood_drawing import flood_drawing

    lines = flood_text.first_screen(answer)
    drawn, missing = picture_or_why(lambda: flood_drawing(told.evidence.build, answer))
    tables = (labeled(lines[2:]), _water(answer), _open(answer), _time(answer))
    return PageSection(
        key="flood",
        question=question,
        answer=lines[1],
        tables=tuple(table for table in tables if table.rows),
        picture=drawn,
        missing=missing,
        notes=sentences([flood_text.CAUTION]),
    )


def _water(answer: FloodAnswer) -> PageTable:
    """Return what some grams in each compartment do at rest."""
    return PageTable(
        title="Water in one compartment, at rest",
        wide=True,
        head=head("compartment", "water", "lowest", "trim", "list"),
        rows=tuple(_case(case) for case in answer.water_cases),
        notes=("Lowest: the lowest opening above the water, under it with a minus.",),
    )


def _case(case: WaterCase) -> tuple[PageCell, ...]:
    """Return a row of water in a compartment, with what it wets."""
    wet = [
        f"{one.name} wet, {level_text(one.level_mm)}"
        for one in case.state.bilge
        if one.wet and one.compartment == case.compartment and one.level_mm is not None
    ]
    return (
        text(case.compartment, more="; ".join(wet)),
        number(mass_text(case.water_g)),
        *_floating(case.state),
    )


def _open(answer: FloodAnswer) -> PageTable:
    """Return how she floats with compartments open to the sea."""
    return PageTable(
        title="Open to the sea",
        wide=True,
        head=head("compartments", "lowest", "trim", "list"),
        rows=tuple(_opened(case) for case in answer.open_cases),
    )


def _opened(case: OpenCase) -> tuple[PageCell, ...]:
    """Return a row of compartments open to the sea."""
    state, said = case.state, ""
    if state.rest == "sinks":
        said = f"sinks by {mass_text(state.short_by_g or 0.0)}"
    elif state.rest == "capsized":
        said = "falls over"
    return (text(" + ".join(case.compartments), more=said), *_floating(state))


def _floating(state: FloodedState) -> tuple[PageCell, ...]:
    """Return lowest opening, trim and list with water in her."""
    low = state.freeboard_mm
    return (
        number(None if low is None else height_text(low), limit=low is not None and low < 0.0),
        number(None if state.trim_deg is None else show.angle(state.trim_deg)),
        number(None if state.heel_deg is None else show.angle(state.heel_deg)),
    )


def _time(answer: FloodAnswer) -> PageTable:
    """Return the time afloat with all the water of the test at one place."""
    found = answer.time_afloat
    leaks = () if found is None else found.leaks
    return PageTable(
        title="Time afloat, were all of it to come in at",
        wide=True,
        head=head("place", "as a hole", "as a crack"),
        rows=tuple(_leak(one, answer) for one in leaks),
    )


def _leak(one: LeakTime, answer: FloodAnswer) -> tuple[PageCell, ...]:
    """Return a row of one place where water may come in."""
    end = break_words(one.limited_by, one.at, answer)
    return (
        text(shown_name(one.name), more=f"into {one.compartment}; then {end}"),
        number(None if one.hole_min is None else minutes_text(one.hole_min)),
        number(None if one.crack_min is None else minutes_text(one.crack_min)),
    )
