"""The finding of a sweep in one line, the facts under it, and the words beside its drawing."""

from typing import Final

from hullcheck.answers.sweep_records import SweepAnswer, SweepEnd
from hullcheck.answers.sweep_samples import judged
from hullcheck.report.float_titles import TITLE_LENGTH, the, verb
from hullcheck.report.numbers import (
    given_length_text,
    grams_left_text,
    mass_text,
    sinkage_parts,
    station_text,
)
from hullcheck.report.sweep_text import answer_line, rest_words, row_words, today_words
from hullcheck.report.sweep_words import (
    breaks_words,
    rest_places,
    span_text,
    today_kept,
)
from hullcheck.report.words import capital, shown_name, water_words

_NAME: Final = 12
_TRIMS: Final = 1.1
"""Grams a millimeter of the lowest opening over those that sink her so far, that are told apart."""


def title(answer: SweepAnswer) -> str:
    """Return the finding, at most 62 characters."""
    return _fitting(_forms(answer))


def facts(answer: SweepAnswer) -> str:
    """Return what is kept, what a load does, and where she rests otherwise."""
    said = []
    today = answer.today
    if answer.over == "mass":
        if today is not None and today.sinkage_g_per_mm is not None:
            grams, depth = sinkage_parts(today.sinkage_g_per_mm)
            said.append(f"Loads are put at her CG: {grams} sink her {depth}{_and_lowest(answer)}")
    elif answer.over == "item":
        said.append(f"Only the {answer.item} is moved, her CG goes with it")
    if answer.over != "water":
        said.append(capital(water_words(answer.water)))
    if answer.over != "mass" and answer.mass_g is not None:
        said.append(f"{mass_text(answer.mass_g)} all-up")
    for place, rest in rest_places(answer)[:2]:
        said.append(f"From {place} on she rests {rest_words(rest)}")
    if answer.setup is not None:
        said.append(f"Setup: {answer.setup}")
    return f"{'. '.join(said)}."


def _and_lowest(answer: SweepAnswer) -> str:
    """Return what a load at the CG takes to bring the lowest opening down as far, if it differs."""
    today, rows = answer.today, answer.rows
    if today is None or today.freeboard_mm is None or not today.sinkage_g_per_mm:
        return ""
    heavier = [r for r in rows if r.value > today.value and r.at == today.at and r.freeboard_mm]
    if not heavier:
        return ""
    one = min(heavier, key=lambda row: row.value)
    lower = today.freeboard_mm - (one.freeboard_mm or 0.0)
    per_mm = (one.value - today.value) / lower if lower > 0.0 else 0.0
    if not per_mm > _TRIMS * today.sinkage_g_per_mm:
        return ""
    name = shown_name(today.at or "lowest edge", size=False)
    return f", {sinkage_parts(per_mm)[0]} {the(name)}, as she trims"


def alt_text(answer: SweepAnswer) -> str:
    """Return the words beside the drawing: the finding and its numbers."""
    said = [title(answer), answer_line(answer).removesuffix(".")]
    if answer.today is not None:
        row = row_words(answer.today, answer.today_plus_minus_mm)
        said.append(f"Today {today_words(answer)}: {row}")
    return f"{'. '.join(said)}. {facts(answer)}"


def short_end_words(answer: SweepAnswer, end: SweepEnd) -> str:
    """Return what breaks past an end in as few words as tell: "trim over 4°"."""
    limit = next((c.limit for c in answer.rows[0].limits if c.name == end.limit), None)
    if end.limit == "freeboard_mm":
        return "at the limit"
    if isinstance(limit, tuple) and end.limit == "trim_deg":
        over = end.at == "bow up"
        return f"trim limit {limit[over]:g}°".replace("-", "−")
    if isinstance(limit, tuple):
        return f"CG limit {station_text(limit[end.at == 'aft'])}"
    if end.limit == "heel_deg":
        return f"heel limit {limit:g}°"
    return end.limit


def _forms(answer: SweepAnswer) -> tuple[str, ...]:
    """Return the finding in forms of falling length."""
    today, kept = answer.today, today_kept(answer)
    if today is not None and not today.holds:
        return _broken(answer)
    if kept is None:
        many = len(answer.kept)
        every = "Breaks a limit at every value of the sweep"
        return (f"Keeps every limit in {many} ranges of the sweep" if many else every,)
    span = span_text(answer, kept)
    if answer.over == "mass" and today is not None and answer.margin_g is not None:
        left = grams_left_text(answer.margin_g)
        end = None if kept.most_end is None else _to_spare(answer, kept.most_end)
        if end is not None:
            return (*(f"{left} to spare before {form}" for form in end), f"{left} to spare")
    limits = "Keeps every limit" if answer.rows[0].limits else "Floats on her feet"
    if answer.over == "item":
        item = answer.item or ""
        forms = (f"Limits hold with the {item} {span}", f"Limits hold with it {span}")
        return forms if answer.rows[0].limits else (f"{limits} all the way {span}", limits)
    return (f"{limits}{' in water' if answer.over == 'water' else ''} {span}",)


def _broken(answer: SweepAnswer) -> tuple[str, ...]:
    """Return the finding of a craft that breaks a limit today."""
    row = answer.today
    if row is None:
        raise AssertionError("asked of her today")
    found = judged(row)
    words = breaks_words(row, found.limit, found.at, now=True)
    kept = today_kept(answer)
    where = "" if kept is None else f"; {span_text(answer, kept)} all hold"
    if row.rest == "sinks":
        return (f"Sinks: {mass_text(row.short_by_g or 0.0)} too heavy",)
    return (f"{capital(words)}{where}", capital(words), "Breaks a limit today")


def _to_spare(answer: SweepAnswer, end: SweepEnd) -> tuple[str, ...]:
    """Return what ends the grams left, in forms of falling length."""
    limit = next((c.limit for c in answer.rows[0].limits if c.name == end.limit), None)
    if end.limit == "freeboard_mm" and isinstance(limit, float):
        name = shown_name(end.at or "lowest edge", size=False)
        comes, height = verb(name, "comes", "come"), given_length_text(limit)
        room = TITLE_LENGTH - len(f"9,999 g to spare before … is at {height}")
        cut = name if len(name) <= room else f"{name[: max(room, _NAME)].rstrip(' ,')}…"
        return (
            f"{the(name)} {comes} down to {height}",
            f"{cut} {verb(name, 'is', 'are')} at {height}",
        )
    words = breaks_words(answer.rows[0], end.limit, end.at)
    return (words, words.partition(",")[0])


def _fitting(forms: tuple[str, ...]) -> str:
    """Return the first form that fits a title; the last one cut if none does."""
    cut = forms[-1]
    if len(cut) > TITLE_LENGTH:
        cut = f"{cut[: TITLE_LENGTH - 1].rstrip(' ,')}…"
    return next((form for form in forms if len(form) <= TITLE_LENGTH), cut)
