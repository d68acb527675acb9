"""How she floats over a sweep, in words: the first screen, the answer first."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.sweep_records import SweepAnswer, SweepRow
from hullcheck.answers.sweep_samples import judged
from hullcheck.report.fitting import cut, fitting
from hullcheck.report.float_titles import the
from hullcheck.report.numbers import grams_left_text, mass_text, plus_minus_text
from hullcheck.report.sweep_words import (
    beyond_label,
    breaks_words,
    end_plus_minus,
    end_words,
    number_text,
    place_text,
    rest_places,
    span_text,
    whole_span_text,
)
from hullcheck.report.words import (
    heel_words,
    height_words,
    shown_name,
    trim_words,
    water_words,
)

CAUTION: Final = (
    "this is arithmetic on your files, no clearance to go on the water; a limit that breaks and "
    "heals again between two rows may go unseen."
)
_LABEL: Final = 16
_WIDTH: Final = 80
_LINES: Final = 7
_NAME: Final = 26
"""An item with a longer name is called "it" where its place is told."""


def first_screen(answer: SweepAnswer) -> list[str]:
    """Return the answer in at most seven lines of at most 80 characters.

    Parameters
    ----------
    answer : SweepAnswer
        Of a sweep.

    Returns
    -------
    list of str
        Where she keeps every limit; who she is and what is swept; what breaks past each end; how
        she is today, and the grams left.
    """
    lines = [answer_line(answer), head_line(answer)]
    after = [*_today_rows(answer), *_rest_rows(answer)]
    rows = [*_end_rows(answer)[: max(_LINES - len(lines) - len(after), 2)], *after]
    texts = [_fitting((f"{label:<{_LABEL - 1}} {text}",)) for label, text in rows]
    return lines + texts[: _LINES - len(lines)]


def answer_line(answer: SweepAnswer) -> str:
    """Return where she keeps every limit and what ends it, in one line."""
    keeps = "keeps every limit" if answer.rows[0].limits else "floats on her feet"
    name = answer.item or ""
    item = f" with {the(name) if len(name) <= _NAME else 'it'}" if name else ""
    if not answer.kept:
        return _fitting(_nowhere(answer, item))
    if len(answer.kept) > 1:
        spans = [span_text(answer, kept) for kept in answer.kept]
        every = f"She {keeps}{item} {', and '.join(spans)}."
        return _fitting((every, f"She {keeps} in {len(spans)} ranges: {', '.join(spans)}."))
    kept = answer.kept[0]
    start = f"She {keeps}{item} {span_text(answer, kept)}"
    if answer.over == "water":
        start = f"She {keeps} in water {span_text(answer, kept)}"
    if kept.most_end is not None:
        end = end_words(answer, kept.most_end)
        bare = end.removeprefix("the ")
        return _fitting((f"{start}; then {end}.", f"{start}; then {bare}.", f"{start}."))
    if kept.least_end is not None:
        below = beyond_label(answer, kept.least_end, greatest=False)
        end = end_words(answer, kept.least_end)
        return _fitting((f"{start}; {below[:1].lower()}{below[1:]} {end}.", f"{start}."))
    return _fitting((f"{start}, all of the sweep.", f"{start}."))


def head_line(answer: SweepAnswer) -> str:
    """Return who she is, what is swept and what is kept."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    over = {
        "mass": f"over her mass, {whole_span_text(answer).removeprefix('from ')}",
        "water": f"over the water, {len(answer.rows)} densities",
        "item": f"{cut(answer.item or '', _NAME)} {whole_span_text(answer)}",
    }[answer.over]
    kept = []
    if answer.over != "mass" and answer.mass_g is not None:
        kept.append(mass_text(answer.mass_g))
    if answer.over != "water":
        kept.append(water_words(answer.water))
    return cut(" · ".join((name, over, *kept)), _WIDTH)


def row_words(row: SweepRow, plus_minus_mm: float | None = None, *, brief: bool = False) -> str:
    """Return how she floats in a row, in words; brief without a heel that is none."""
    if row.rest == "sinks":
        return f"sinks, {mass_text(row.short_by_g or 0.0)} too heavy"
    if row.rest == "capsized":
        return f"capsizes, {heel_words(row.heel_deg or 0.0)}"
    trim, heel = trim_words(row.trim_deg or 0.0), heel_words(row.heel_deg or 0.0)
    attitude = trim if brief and heel == "level across" else f"{trim}, {heel}"
    if row.freeboard_mm is None:
        return attitude
    name = shown_name(str(row.at), size=False)
    height = height_words(row.freeboard_mm, plus_minus_mm).removesuffix(" above the water")
    over = f"{height} up" if row.freeboard_mm >= 0.0 else height
    return f"{name} {over}; {attitude}"


def today_words(answer: SweepAnswer) -> str:
    """Return her value today as text: "701 ± 6 g", "station 142"."""
    if answer.today is None:
        return ""
    if answer.over == "mass":
        text, load = mass_text(answer.today.value), answer.load
        if load is None or not load.plus_minus_g:
            return text
        return plus_minus_text(text, load.plus_minus_g)
    if answer.over == "water":
        return water_words(answer.today.water)
    return place_text(answer, number_text(answer, answer.today.value))


def _nowhere(answer: SweepAnswer, item: str) -> tuple[str, ...]:
    """Return that no value keeps the limits, and what breaks them."""
    row = answer.today or answer.rows[0]
    if row.holds:
        row = answer.rows[0]
    found = judged(row)
    why = breaks_words(row, found.limit, found.at, now=True)
    span = whole_span_text(answer)
    return (f"She breaks a limit all the way{item} {span}: {why}.", f"She breaks a limit: {why}.")


def _end_rows(answer: SweepAnswer) -> list[tuple[str, str]]:
    """Return a row for each end: what breaks past it, and how well it is known."""
    rows = []
    for kept in answer.kept:
        for end, greatest in ((kept.least_end, False), (kept.most_end, True)):
            if end is not None:
                known = end_plus_minus(answer, end)
                words = end_words(answer, end)
                label = beyond_label(answer, end, greatest=greatest)
                rows.append((label, f"{words} (end {known})" if known else words))
    return rows


def _today_rows(answer: SweepAnswer) -> list[tuple[str, str]]:
    """Return how she is today, and the grams left."""
    today = answer.today
    if today is None:
        return []
    read = answer.today_plus_minus_mm
    forms = [
        f"{today_words(answer)}: {row_words(today, read, brief=brief)}" for brief in (False, True)
    ]
    room = _WIDTH - _LABEL
    rows = [("Today", next((t for t in forms if len(t) <= room), cut(forms[-1], room)))]
    if not today.holds and today.rest not in {"sinks", "capsized"}:
        found = judged(today)
        rows.append(("Now", breaks_words(today, found.limit, found.at, now=True)))
    if answer.margin_g is not None and today.holds:
        rows.append(("Grams left", grams_left_text(answer.margin_g, answer.margin_plus_minus_g)))
    return rows


def _rest_rows(answer: SweepAnswer) -> list[tuple[str, str]]:
    """Return where she comes to rest otherwise."""
    said = [f"{rest_words(rest)} from {place} on" for place, rest in rest_places(answer)]
    return [("Rests", "; ".join(said))] if said else []


def rest_words(rest: str) -> str:
    """Return how she rests: "on the starboard tip float", "with a list", "upright", "capsized"."""
    if rest.startswith("on "):
        return f"on the {rest.removeprefix('on ')}"
    return "with a list" if rest == "listing" else rest


def _fitting(texts: Sequence[str]) -> str:
    """Return the first text that fits a line; the last one cut if none does."""
    return fitting(texts, _WIDTH)
