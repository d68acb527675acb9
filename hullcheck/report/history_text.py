"""How she grew, by date: a table opened by its answer, and the same as CSV."""

from datetime import datetime
from typing import Final

from hullcheck.answers.history_records import HistoryAnswer, HistoryRow
from hullcheck.report import table_values as show
from hullcheck.report.csv_rows import csv_of
from hullcheck.report.date_words import day_words, time_words
from hullcheck.report.display import shown
from hullcheck.report.fitting import cut, fitting
from hullcheck.report.numbers import (
    depth_text,
    given_length_text,
    height_text,
    mass_text,
    plus_minus_text,
)
from hullcheck.report.words import shown_name

WIDTH: Final = 80
_EMPTY: Final = "–"
_WHOLE: Final = "all-up"
_SMALL_MM: Final = 0.25
_SMALL_G: Final = 0.5

CAUTION: Final = (
    "this is arithmetic on your files and notes, no clearance to go on the water. Batteries out "
    "before she is weighed wet or floated; local rules and your own eyes decide."
)
COLUMNS: Final = (
    "entry",
    "at",
    "item",
    "weighed_g",
    "weighed_plus_minus_g",
    "mass_g",
    "plus_minus_g",
    "measured",
    "grew_g",
    "cg_x_mm",
    "cg_y_mm",
    "cg_z_mm",
    "rest",
    "freeboard_mm",
    "at_opening",
    "sank_mm",
    "trim_deg",
    "holds",
)


def history_lines(answer: HistoryAnswer) -> list[str]:
    """Return the finding in one line, then a row a weigh-in, at most 80 characters wide."""
    mass, length = shown().mass, shown().length
    years = {_when(row).year for row in answer.rows}
    return [
        *finding_lines(answer),
        "",
        f"{'WEIGHED':<15}{'':<18}{'scale':>9}{'all-up':>10}{'grew':>9}{'lowest':>9}{'trim':>7}",
        f"{'':<33}{mass:>9}{mass:>10}{mass:>9}{length:>9}{'°':>7}",
        *(_row(row, years=len(years) > 1) for row in answer.rows),
        "",
        "Grew: against the row before, in the first against the plan. Lowest: opening,",
        "its height above the water. *: weighed all-up, the others by the ledger.",
        *(f"! {time_words(_when(row))}: {_broken(row, answer)}" for row in _failing(answer)),
    ]


def finding_lines(answer: HistoryAnswer) -> list[str]:
    """Return who she is and what became of her from the first weigh-in to the last."""
    first, last = answer.rows[0], answer.rows[-1]
    name = shown_name(answer.craft) if answer.setup is None else f"{answer.craft}, {answer.setup}"
    count = len(answer.rows)
    since = f"{count} weigh-ins, {_span(answer)}" if count > 1 else f"1 weigh-in, {_span(answer)}"
    weight = plus_minus_text(mass_text(last.mass_g), last.plus_minus_g)
    head = cut(f"{name} · {since} · {weight} at the last", WIDTH)
    return [head, fitting(_findings(answer, first, last), WIDTH)]


def _findings(answer: HistoryAnswer, first: HistoryRow, last: HistoryRow) -> list[str]:
    """Return the growth over all rows in a sentence, longest form first."""
    planned = answer.planned_mass_g
    base = first.mass_g if planned is None else planned
    over = last.mass_g - base
    against = "the first weigh-in" if planned is None else "plan"
    heavier = (
        f"No heavier than {against}"
        if abs(over) < _SMALL_G
        else f"{mass_text(abs(over))} {'over' if over > 0.0 else 'under'} {against}"
    )
    if last.freeboard_mm is None:
        return [f"{heavier}; without her CG no height above the water is known"]
    height, where = last.freeboard_mm, shown_name(str(last.at_opening), size=False)
    now = (
        f"{depth_text(-height)} under water at the {where}"
        if height < 0.0
        else f"{height_text(height)} left at the {where}"
    )
    limit = answer.freeboard_limit_mm
    kept = "" if limit is None else f", limit {given_length_text(limit)}"
    lost = 0.0 if first.freeboard_mm is None else first.freeboard_mm - height
    sank = (
        ""
        if abs(lost) < _SMALL_MM or len(answer.rows) == 1
        else f", {show.length(abs(lost))} {'lower' if lost > 0.0 else 'higher'} than at the first"
    )
    said = (f"{sank}{kept}", sank, kept, "")
    return [f"{heavier}; {now}{more}." for more in said]


def _span(answer: HistoryAnswer) -> str:
    """Return the days from the first row to the last."""
    first, last = _when(answer.rows[0]), _when(answer.rows[-1])
    if first.date() == last.date():
        return day_words(last, year=True)
    return f"{day_words(first, year=first.year != last.year)} to {day_words(last, year=True)}"


def _row(row: HistoryRow, *, years: bool) -> str:
    """Return a row of the table."""
    when = time_words(_when(row)) if not years else day_words(_when(row), year=True)
    what = cut(_WHOLE if row.item is None else row.item, 17)
    mass = _bare(row.mass_g)
    grew = _bare(row.grew_g)
    grew = f"+{grew}" if row.grew_g > 0.0 and float(grew.replace("−", "-")) != 0.0 else grew
    low = _EMPTY if row.freeboard_mm is None else show.bare_length(row.freeboard_mm)
    if row.rest in {"sinks", "capsized"}:
        low = str(row.rest)
    trim = _EMPTY if row.trim_deg is None else show.number(row.trim_deg)
    mark = "*" if row.measured else " "
    end = "" if row.holds else " !"
    return (
        f"{when:<15}{what:<18}{_bare(row.weighed_g):>9}{mass:>9}{mark}{grew:>9}{low:>9}{trim:>7}"
        f"{end}"
    ).rstrip()


def _bare(mass_g: float) -> str:
    """Return a mass without its unit."""
    return show.mass(mass_g).rsplit(" ", 1)[0]


def _failing(answer: HistoryAnswer) -> list[HistoryRow]:
    """Return the rows in which a limit is broken."""
    return [row for row in answer.rows if not row.holds]


def _broken(row: HistoryRow, answer: HistoryAnswer) -> str:
    """Return what was broken after a weigh-in."""
    if row.rest in {"sinks", "capsized"}:
        return f"she {'sinks' if row.rest == 'sinks' else 'capsizes'}"
    names = {"freeboard_mm": "freeboard", "trim_deg": "trim", "heel_deg": "heel"}
    broken = [names[check.name] for check in row.limits if not check.ok]
    limit = answer.freeboard_limit_mm
    said = f"limit broken: {', '.join(broken)}"
    if broken == ["freeboard"] and limit is not None:
        said += f" under {given_length_text(limit)} at the {shown_name(str(row.at_opening))}"
    return cut(said, WIDTH - 18)


def _when(row: HistoryRow) -> datetime:
    """Return when a row's weigh-in was."""
    return datetime.fromisoformat(row.at)


def csv_text(answer: HistoryAnswer) -> str:
    """Return the rows as CSV text with a header; what is not known is empty."""
    return csv_of(COLUMNS, map(_cells, answer.rows))


def _cells(row: HistoryRow) -> list[object]:
    """Return a row's cells."""
    return [
        row.entry,
        row.at,
        row.item or _WHOLE,
        row.weighed_g,
        row.weighed_plus_minus_g,
        row.mass_g,
        row.plus_minus_g,
        "yes" if row.measured else "no",
        row.grew_g,
        *(row.center_of_gravity_mm or (None,) * 3),
        row.rest,
        row.freeboard_mm,
        row.at_opening,
        row.sank_mm,
        row.trim_deg,
        "yes" if row.holds else "no",
    ]
