"""The page's sections on what she weighs, and on how much heavier she may get."""

from typing import Final

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.setups_answer import fails, name_of
from hullcheck.answers.weights_records import ItemWeight, WeightsAnswer
from hullcheck.report import sweep_text
from hullcheck.report import table_values as show
from hullcheck.report.display import shown
from hullcheck.report.numbers import grams_left_text, height_text, mass_text
from hullcheck.report.page_answers import Reported
from hullcheck.report.page_pictures import picture_or_why
from hullcheck.report.page_records import PageCell, PageSection, PageTable
from hullcheck.report.page_rows import NONE, head, labeled, number, text
from hullcheck.report.weights_text import first_screen
from hullcheck.report.words import shown_name

_NO_WEIGH_IN: Final = (
    "No weigh-in is in the logbook: hullcheck log weigh ITEM GRAMS writes one, and they draw her "
    "growth by date."
)
_COSTS: Final = (
    "Costs: how much lower her lowest opening floats for the whole item; with a minus, higher."
)
_SETUPS: Final = (
    "Lowest: the lowest opening above the water. Trim is bow up; with a minus bow down. Left: "
    "grams before a limit breaks."
)


def weights_section(told: Reported) -> PageSection:
    """Return what she weighs, item by item, and how she grew by date."""
    question, answer = "What does she weigh, and how did she grow?", told.evidence.weights
    if answer is None:
        return PageSection(
            key="weights",
            question=question,
            answer=f"{mass_text(told.evidence.craft.mass_g)}, given as a whole.",
            missing="She has no ledger: weights.csv beside the build sheet, a row an item, would "
            "say what each gram costs.",
        )
    lines = first_screen(answer)
    history = told.history
    drawn, missing = None, _NO_WEIGH_IN
    if history is not None:
        from hullcheck.report.history_drawing import history_drawing

        drawn, missing = picture_or_why(lambda: history_drawing(history))
    return PageSection(
        key="weights",
        question=question,
        answer=lines[1],
        tables=(labeled(lines[2:]), _items(answer)),
        picture=drawn,
        missing=missing,
    )


def growth_section(told: Reported) -> PageSection:
    """Return how high she floats over her mass, and in every setup."""
    question, sweep, samples = "How much heavier may she get?", told.sweep, told.samples
    setups = _setups(told)
    if sweep is None or samples is None:
        why = "sinks" if told.evidence.floating.rest == "sinks" else "has no known CG"
        return PageSection(
            key="growth",
            question=question,
            tables=(setups,),
            missing=f"She {why}: there are no heights to draw over her mass.",
        )
    from hullcheck.report.sweep_drawing import sweep_drawing
    from hullcheck.report.sweep_narrow import sweep_narrow

    lines = sweep_text.first_screen(sweep)
    drawn, missing = picture_or_why(
        lambda: sweep_drawing(samples, sweep), lambda: sweep_narrow(samples, sweep)
    )
    return PageSection(
        key="growth",
        question=question,
        answer=lines[0],
        tables=(labeled(lines[2:]), setups),
        picture=drawn,
        missing=missing,
    )


def _items(answer: WeightsAnswer) -> PageTable:
    """Return the table of items."""
    mass, length = shown().mass, shown().length
    whole = sum(item.mass_g or 0.0 for item in answer.items)
    growth = answer.growth
    total = (
        text("sum of the ledger", strong=True),
        number(_mass(growth.planned_mass_g), strong=True),
        number(_mass(whole), strong=True),
        number(_mass(growth.mass_g, sign=True), strong=True),
        number(" "),
    )
    return PageTable(
        title="Item by item",
        wide=True,
        head=head("item", f"planned {mass}", f"counts {mass}", f"grew {mass}", f"costs {length}"),
        rows=(*(_item(item) for item in answer.items), total),
        notes=(_COSTS,),
    )


def _item(item: ItemWeight) -> tuple[PageCell, ...]:
    """Return an item's row."""
    known = "" if item.is_weighed else "as planned, not weighed"
    if item.mass_g is None:
        known = "mass not known"
    cost = None if item.cost is None else item.cost.freeboard_mm
    return (
        text(item.name, more=known),
        number(_mass(item.planned_g)),
        number(_mass(item.mass_g)),
        number(_mass(item.growth_g, sign=True)),
        number(None if cost is None else show.bare_length(-cost)),
    )


def _mass(mass_g: float | None, *, sign: bool = False) -> str:
    """Return a mass without its unit, with its sign where it is a change."""
    if mass_g is None:
        return NONE
    words = show.mass(mass_g).rsplit(" ", 1)[0]
    return f"+{words}" if sign and mass_g > 0.0 and float(words) != 0.0 else words


def _setups(told: Reported) -> PageTable:
    """Return how she floats in every setup, the worst marked."""
    answer = told.evidence.setups
    several = len(answer.setups) > 1
    return PageTable(
        title="In every setup",
        wide=True,
        head=head("setup", "mass", "lowest", "trim", "left"),
        rows=tuple(
            _setup(one, worst=several and one is answer.worst_answer) for one in answer.setups
        ),
        notes=(_SETUPS,),
    )


def _setup(answer: FloatAnswer, *, worst: bool) -> tuple[PageCell, ...]:
    """Return a setup's row."""
    board, broken = answer.freeboard_mm, fails(answer)
    low = None if board is None or board.least is None else height_text(board.least)
    said = [] if board is None or board.at is None else [shown_name(board.at, size=False)]
    said += [answer.rest] if answer.rest in {"sinks", "capsized"} else []
    said += ["a limit breaks"] if broken else ["the worst of them"] if worst else []
    return (
        text(name_of(answer), more=", ".join(said), strong=worst),
        number(mass_text(answer.mass_g)),
        number(low, limit=broken),
        number(None if answer.trim_deg is None else show.angle(answer.trim_deg)),
        number(None if answer.margin_g is None else grams_left_text(answer.margin_g)),
    )
