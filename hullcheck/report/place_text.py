"""Where an item may sit, in words: the first screen, the answer first."""

from typing import Final

from hullcheck.answers.place_records import BallastCost, PlaceAnswer, PlaceInterval
from hullcheck.report.numbers import grams_left_text, height_text, mass_text, station_text
from hullcheck.report.place_words import (
    at_least_text,
    ballast_place,
    best_text,
    broken_words,
    end_words,
    ends_text,
    freeboard_words,
    kept_words,
    row_words,
    with_plus_minus,
)
from hullcheck.report.step_words import ratio_text
from hullcheck.report.words import capital, trim_words, water_words

CAUTION: Final = (
    "this is arithmetic on your files, no clearance to go on the water. Fasten what is placed so "
    "that it cannot slide: its place is her CG. Batteries and water, propellers and cold water "
    "want the usual care; local rules and your own eyes decide."
)
_LABEL: Final = 16
_WIDTH: Final = 80
_MANY: Final = 3


def first_screen(answer: PlaceAnswer) -> list[str]:
    """Return the answer in at most seven lines of at most 80 characters.

    Parameters
    ----------
    answer : PlaceAnswer
        Where an item may sit.

    Returns
    -------
    list of str
        Who she is; the stations; what ends them; how she floats at the best one and now; how far
        it may go across. Without a place: what is short, the least ballast and what it costs.
    """
    rows = _held_rows(answer) if answer.intervals else _short_rows(answer)
    lines = [_head(answer), _sentence(answer)]
    lines += [f"{label:<{_LABEL - 1}} {text}" for label, text in rows if text]
    return [cut(line) for line in lines]


def cut(line: str) -> str:
    """Return a line, cut where it is wider than a terminal."""
    return line if len(line) <= _WIDTH else f"{line[: _WIDTH - 1].rstrip()}…"


def _head(answer: PlaceAnswer) -> str:
    """Return who she is, what the item and she weigh, and in what water."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    item = f"{answer.item} {mass_text(answer.item_mass_g)}"
    whole = f"{mass_text(answer.mass_g)} in all"
    texts = (
        f"{name} · {item} ({answer.item_mass_from}) · {whole} · {water_words(answer.water)}",
        f"{name} · {item} ({answer.item_mass_from}) · {whole}",
        f"{name} · {item} · {whole}",
    )
    return next((text for text in texts if len(text) <= _WIDTH), texts[-1])


def _sentence(answer: PlaceAnswer) -> str:
    """Return where the item may sit, in one sentence."""
    name = capital(answer.item)
    if answer.short_by_g is not None:
        return f"She sinks wherever it sits: {mass_text(answer.short_by_g)} too heavy."
    if not answer.intervals or answer.best is None:
        low, high = (station_text(x) for x in answer.along_mm)
        room = "its box" if answer.along == "within_mm" else "the hull"
        lacks = f"{name} has no place in {room}, stations {low} to {high}, where everything holds."
        short = f"No place in {room}, stations {low} to {high}, where everything holds."
        return lacks if len(lacks) <= _WIDTH else short
    spans = [" to ".join(ends_text(one)) for one in answer.intervals]
    more = f" and {len(spans) - _MANY} more" if len(spans) > _MANY else ""
    where = ", or ".join(spans[:_MANY]) + more
    best = best_text(answer)
    texts = (
        f"{name} may sit from station {where}; the middle, {best}, leaves the most room.",
        f"{name} may sit from station {where}; best in the middle, {best}.",
        f"It may sit from station {where}; best in the middle, {best}.",
    )
    return next((text for text in texts if len(text) <= _WIDTH), texts[-1])


def _held_rows(answer: PlaceAnswer) -> list[tuple[str, str]]:
    """Return the rows of an answer with a place."""
    longest, best = answer.longest, answer.best
    if longest is None or best is None:
        return []
    fore, aft = ends_text(longest)
    rows = [
        ("Fore end", f"{with_plus_minus(fore, longest.first)}: {end_words(longest.first)}"),
        ("Aft end", f"{with_plus_minus(aft, longest.last)}: {end_words(longest.last)}"),
        (f"Best, {best_text(answer)}", row_words(best)),
        *_now_row(answer),
    ]
    return [*rows, *_across_row(answer)]


def _now_row(answer: PlaceAnswer) -> list[tuple[str, str]]:
    """Return how she floats with the item where it is now."""
    now = answer.now
    if now is None:
        return [("Now", "it has no place in the ledger")]
    state = broken_words(now, answer)
    label = f"Now, {station_text(now.x_mm)}"
    outside = "" if _in_room(answer) else ", outside its box"
    if now.holds:
        return [(label, f"holds{outside}; {row_words(now)}")]
    trim = "" if now.trim_deg is None else f"; {trim_words(now.trim_deg)}"
    return [(label, f"{state}{trim}{outside}")]


def _in_room(answer: PlaceAnswer) -> bool:
    """Return whether the item sits in its box now, or has none."""
    now, box = answer.now, answer.within_mm
    if now is None or box is None:
        return True
    place = (now.x_mm, now.y_mm, now.z_mm)
    return all(low <= v <= high for low, v, high in zip(box[0], place, box[1], strict=True))


def _across_row(answer: PlaceAnswer) -> list[tuple[str, str]]:
    """Return how far the item may go across at the best station."""
    if answer.best is None or not answer.across:
        return []
    one = max(answer.across, key=lambda interval: interval.width_mm)
    port, starboard = ends_text(one)
    whole = all(end.limited_by == "within_mm" for end in (one.first, one.last))
    why = "its whole box" if whole else _narrower(one)
    return [("Across", f"y {port} to {starboard} at station {best_text(answer)}: {why}")]


def _narrower(one: PlaceInterval) -> str:
    """Return what ends an interval across, the port end first, once where both are alike."""
    said = [end_words(end) for end in (one.first, one.last) if end.limited_by != "within_mm"]
    same = len(said) == 2 and one.first.limited_by == one.last.limited_by == "heel_deg"
    return said[0].rpartition(" to ")[0] + " to either side" if same else ", ".join(said)


def _short_rows(answer: PlaceAnswer) -> list[tuple[str, str]]:
    """Return the rows of an answer without a place."""
    rows = []
    closest = answer.closest
    if closest is not None and answer.short_by_g is None:
        words = f"{broken_words(closest, answer)}; {_floats(answer)}"
        rows.append((f"Closest, {station_text(closest.x_mm)}", words))
    if answer.ballast is not None:
        rows += _ballast_rows(answer, answer.ballast)
    elif answer.ballast_tried_g is not None:
        rows.append(("Ballast", f"none up to {mass_text(answer.ballast_tried_g)} mends it"))
    return [*rows, *_now_row(answer), *arms_row(answer)]


def _floats(answer: PlaceAnswer) -> str:
    """Return how she floats at the closest place, without her CG."""
    closest = answer.closest
    if closest is None or closest.trim_deg is None:
        return "she does not float"
    height = freeboard_words(closest)
    return trim_words(closest.trim_deg) + (f", {height}" if height else "")


def _ballast_rows(answer: PlaceAnswer, ballast: BallastCost) -> list[tuple[str, str]]:
    """Return the least ballast and what it costs."""
    x, y, z = (station_text(value) for value in ballast.center_mm)
    where = f"at ({x}, {y}, {z})"
    if ballast.place != "given":
        where = f"{ballast_place(ballast)}, {where}"
    grams, at = at_least_text(ballast.mass_g), station_text(ballast.aboard.x_mm)
    kept = kept_words(ballast.limited_by, ballast.way, ballast.limit)
    first = f"{grams} {where}, with {answer.item} at {at}"
    room = _WIDTH - _LABEL
    texts = (f"{first}: {kept}", first, f"{grams} {where}, with it at {at}")
    return [
        ("Ballast", next((text for text in texts if len(text) <= room), texts[-1])),
        ("With it", costs_words(ballast)),
    ]


def costs_words(ballast: BallastCost) -> str:
    """Return what ballast costs: freeboard, trim, grams left, each without and with it."""
    before, after, said = ballast.without, ballast.aboard, []
    if before.freeboard_mm is not None and after.freeboard_mm is not None:
        heights = (height_text(row.freeboard_mm or 0.0) for row in (before, after))
        said.append(f"freeboard {_from_to(*heights)}")
    if before.trim_deg is not None and after.trim_deg is not None:
        said.append(_from_to(trim_words(before.trim_deg), trim_words(after.trim_deg), "° "))
    if ballast.grams_left_without_g is not None and ballast.grams_left_g is not None:
        left = (grams_left_text(g) for g in (ballast.grams_left_without_g, ballast.grams_left_g))
        said.append(f"{_from_to(*left)} left")
    words = "; ".join(said)
    if len(words) > _WIDTH - _LABEL:
        words = words.replace("freeboard", "dry").replace(" fore and aft", "")
    return words


def _from_to(one: str, two: str, unit: str = " ") -> str:
    """Return a change from one text to another, a unit they share said once."""
    number, _, rest = one.partition(unit)
    if rest and two.partition(unit)[2] == rest:
        return f"{number} → {two}"
    return f"{one} → {two.replace(' bow', '') if ' bow ' in one else two}"


def arms_row(answer: PlaceAnswer) -> list[tuple[str, str]]:
    """Return what a gram at the tail asks for in the nose."""
    arms = answer.arms
    if arms is None:
        return []
    tail, nose = station_text(arms.tail_mm[0]), station_text(arms.nose_mm[0])
    about = station_text(arms.wanted_cg_x_mm)
    grams = (
        f"1 g at the tail ({tail}) takes {ratio_text(arms.nose_per_tail)} g in the nose ({nose})"
    )
    texts = (f"{grams}, CG at {about}", grams)
    return [("Arms", next((t for t in texts if len(t) <= _WIDTH - _LABEL), texts[-1]))]
