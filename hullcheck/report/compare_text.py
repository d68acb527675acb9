"""What changed, in words: the first screen, the answer first."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.afloat import Afloat
from hullcheck.answers.compare_records import CompareAnswer, CompareChange, CompareSide
from hullcheck.answers.weights_records import Cost, GramsLeft
from hullcheck.report import table_values as show
from hullcheck.report.display import shown
from hullcheck.report.float_titles import the
from hullcheck.report.limit_words import end_words
from hullcheck.report.numbers import (
    angle_text,
    arm_text,
    grams_left_text,
    mass_text,
    plus_minus_text,
)
from hullcheck.report.words import capital, heel_words, height_words, shown_name, trim_words

CAUTION: Final = (
    "changes are put aboard one after another; in another order each does a little else, the whole "
    "does not. This is arithmetic on your files, no clearance to go on the water."
)
WIDTH: Final = 80
_LABEL: Final = 30
_MASS: Final = 9
_SHOWN: Final = 3
_SMALL_G, _SMALL_MM, _SMALL_DEG = 0.05, 0.05, 0.05
_WHOLE_G: Final = 9.95
"""From here on grams are printed whole."""


def first_screen(answer: CompareAnswer) -> list[str]:
    """Return the answer in at most seven lines of at most 80 characters.

    Parameters
    ----------
    answer : CompareAnswer
        Two loads compared.

    Returns
    -------
    list of str
        What is compared; what all of it does; the changes that do most, the rest in one line; how
        she floats now.
    """
    rows = _rows(answer.changes)
    lines = [_head(answer), _whole(answer), *rows, _now(answer.new), left_words(answer)]
    return [cut(line, WIDTH) for line in lines if line]


def signed_mass(mass_g: float) -> str:
    """Return grams with their sign: "+38 g", "−1.5 g", "0 g"."""
    if abs(mass_g) < _SMALL_G:
        return f"0 {shown().mass}"
    text = mass_text(abs(mass_g))
    if abs(mass_g) < _WHOLE_G and shown().mass == "g":
        text = show.mass(abs(mass_g)).replace(".0 ", " ")
    return f"{'+' if mass_g > 0.0 else '−'}{text}"


def cost_words(cost: Cost | None, what: str, width: int = WIDTH) -> str:
    """Return what a change does: "the pushrod exit 1.5 mm lower, 0.3° more bow up".

    Parameters
    ----------
    cost : Cost or None
        New less old.
    what : str
        What is lower or higher: a name, or "".
    width : int
        What does not fit is left to the table, the CG's way first, and three dots stand for it.
    """
    if cost is None:
        return "not floated"
    said = []
    height, trim, heel = cost.freeboard_mm, cost.trim_deg, cost.heel_deg
    if height is None:
        said.append("does not float so")
    elif abs(height) >= _SMALL_MM:
        way = "lower" if height < 0.0 else "higher"
        said.append(f"{what} {show.length(abs(height))} {way}".strip())
    if trim is not None and abs(trim) >= _SMALL_DEG:
        said.append(f"{angle_text(abs(trim))} more bow {'up' if trim > 0.0 else 'down'}")
    if heel is not None and abs(heel) >= _SMALL_DEG:
        side = "starboard" if heel > 0.0 else "port"
        said.append(f"{angle_text(abs(heel))} more to {side}")
    along = cost.center_of_gravity_mm[0]
    if abs(along) >= _SMALL_MM:
        said.append(f"CG {arm_text(abs(along))} {'aft' if along > 0.0 else 'forward'}")
    text = ", ".join(said) or "nothing that shows"
    while len(text) > width and len(said) > 1:
        said.pop()
        text = f"{', '.join(said)}, …"
    return text


def change_name(change: CompareChange, width: int = WIDTH) -> str:
    """Return what a change is called, with what became of it, the name cut to fit a width."""
    tail = ""
    if change.kind in {"added", "removed"}:
        tail = f" {change.kind}"
    elif change.moved_mm is not None:
        tail = f" moved {moved_words(change.moved_mm)}"
    elif change.kind in {"opening", "water"}:
        tail = f": {change.now}"
    elif change.kind == "limits":
        tail = f": {change.was} → {change.now}"
    name = capital(shown_name(change.name, size=False))
    return cut(f"{cut(name, max(width - len(tail), 8))}{tail}", width)


def moved_words(moved_mm: Sequence[float]) -> str:
    """Return how far and which way an item was moved, by its longest way."""
    i = max(range(3), key=lambda k: abs(moved_mm[k]))
    way = (("aft", "forward"), ("starboard", "port"), ("up", "down"))[i]
    return f"{arm_text(abs(moved_mm[i]))} {way[moved_mm[i] < 0.0]}"


def side_words(side: CompareSide, width: int) -> str:
    """Return how one side stands in a width: mass, limits, lowest opening, trim, heel."""
    mass = mass_text(side.mass_g)
    if side.plus_minus_g:
        mass = plus_minus_text(mass, side.plus_minus_g)
    afloat = side.afloat
    if afloat is None:
        return f"{mass}; not floated: her CG is not known"
    if afloat.rest == "sinks":
        return f"{mass}: she sinks, {mass_text(afloat.short_by_g or 0.0)} too heavy"
    attitude = _attitude(afloat)
    limits = _limits(side, afloat)
    # What is known best goes last: the height's ±, then the words around it.
    for about, where in ((True, True), (True, False), (False, False)):
        height = _height(side, about=about, where=where)
        text = f"{mass}{limits}: {', '.join(said for said in (height, attitude) if said)}"
        if len(text) <= width:
            return text
    return cut(f"{text.removesuffix(attitude)}…", width)


def _height(side: CompareSide, *, about: bool, where: bool) -> str:
    """Return the lowest opening with its height, its ± and all the words for it or not."""
    afloat = side.afloat
    if afloat is None or afloat.freeboard_mm is None or afloat.at is None:
        return ""
    height = height_words(afloat.freeboard_mm, side.freeboard_plus_minus_mm if about else None)
    if where:
        return f"{shown_name(afloat.at, size=False)} {height}"
    # Of the hull's top the station is left out too.
    name = shown_name(afloat.at, size=False).partition(" at station")[0]
    return f"{name} {height.replace(' above the water', ' clear')}"


def _attitude(afloat: Afloat) -> str:
    """Return trim, and how she rests where that is not upright."""
    trim, heel = trim_words(afloat.trim_deg or 0.0), heel_words(afloat.heel_deg or 0.0)
    if afloat.rest == "upright":
        return trim
    return f"{trim}, {afloat.rest} {heel}" if trim[0].isdigit() else f"{afloat.rest} {heel}"


def _limits(side: CompareSide, afloat: Afloat) -> str:
    """Return whether limits and the CG's range hold, after a comma; "" without any."""
    words = {"freeboard_mm": "freeboard", "trim_deg": "trim", "heel_deg": "heel"}
    broken = [words[check.name] for check in afloat.limits if not check.ok]
    if side.cg_in_range is False:
        broken.append("CG")
    if broken:
        return f", limit broken ({', '.join(broken)})"
    return ", limits hold" if afloat.limits and afloat.holds else ""


def left_words(answer: CompareAnswer) -> str:
    """Return the grams left before and now, and what ends them; "" where neither has any."""
    old, new = answer.old.grams_left, answer.new.grams_left
    afloat = answer.new.afloat
    if new is None or afloat is None:
        return ""
    end = end_words(afloat.limits, new.limit, new.at, broken=not new.mass_g)
    tail = f"{end} already" if not new.mass_g else f"then {end}"
    was = f" ({_grams(old)} before)" if old is not None else ""
    texts = (f"Left {_grams(new)}{was}, {tail}", f"Left {_grams(new)}, {tail}")
    return next((text for text in texts if len(text) <= WIDTH), f"Left {_grams(new)}{was}")


def _grams(left: GramsLeft) -> str:
    """Return grams left in text."""
    return grams_left_text(left.mass_g, left.plus_minus_g) if left.mass_g else "none"


def cut(text: str, width: int) -> str:
    """Return a text cut to a width."""
    return text if len(text) <= width else f"{text[: width - 1].rstrip()}…"


def height_name(answer: CompareAnswer) -> str:
    """Return what is lower or higher: the lowest opening by name where it is one and the same."""
    names = {side.afloat.at for side in (answer.old, answer.new) if side.afloat is not None}
    if len(names) == 1 and (name := names.pop()) is not None:
        return the(shown_name(name, size=False))
    return "the lowest opening"


def _head(answer: CompareAnswer) -> str:
    """Return who she is and what is compared."""
    return f"{answer.craft} · {answer.old.name} → {answer.new.name}"


def _whole(answer: CompareAnswer) -> str:
    """Return what all changes do together."""
    if not answer.changes:
        return "Nothing changed: no mass, place, opening, limit or hull."
    mass = signed_mass(answer.mass_g)
    mass = "No heavier" if abs(answer.mass_g) < _SMALL_G else mass
    if answer.cost is None:
        return f"{mass}; not floated: her CG is not known."
    sinks = [side.afloat is not None and side.afloat.rest == "sinks"
             for side in (answer.old, answer.new)]  # fmt: skip
    if any(sinks):
        who = "she sinks, before and now" if all(sinks) else "before she sank"
        return f"{mass}: {'now she sinks' if sinks == [False, True] else who}."
    head = f"{mass}: "
    words = cost_words(answer.cost, height_name(answer), WIDTH - len(head) - 1)
    return f"{head}{words}" if words.endswith("…") else f"{head}{words}."


def _rows(changes: Sequence[CompareChange]) -> list[str]:
    """Return the changes that do most, the rest in one line, so that they add up."""
    ranked = sorted(changes, key=_weight, reverse=True)
    count = len(ranked) if len(ranked) <= _SHOWN else _SHOWN - 1
    rows = [
        _row(change_name(change, _LABEL - 1), change.mass_g, change.cost)
        for change in ranked[:count]
    ]
    rest = ranked[count:]
    if rest:
        costs = [change.cost for change in rest if change.cost is not None]
        rows.append(_row(f"{len(rest)} more", sum(c.mass_g for c in rest), _sum(costs)))
    return rows


def _row(name: str, mass_g: float, cost: Cost | None) -> str:
    """Return a change in one line."""
    head = f"{name:<{_LABEL}}{signed_mass(mass_g):>{_MASS}}"
    if cost is None:
        return head
    return f"{head}  {cost_words(cost, '', WIDTH - len(head) - 2)}"


def _weight(change: CompareChange) -> tuple[float, float]:
    """Return how much a change does: the lowest opening first, then trim, then grams."""
    cost = change.cost
    if cost is None:
        return 0.0, abs(change.mass_g)
    if cost.freeboard_mm is None:
        return float("inf"), abs(change.mass_g)
    # A degree of trim is a couple of millimeters at the ends of a small hull.
    angles = abs(cost.trim_deg or 0.0) + abs(cost.heel_deg or 0.0)
    return abs(cost.freeboard_mm) + 2.0 * angles, abs(change.mass_g)


def _sum(costs: Sequence[Cost]) -> Cost | None:
    """Return costs added up; what one of them does not have counts as nothing."""
    if not costs:
        return None
    x, y, z = (sum(cost.center_of_gravity_mm[i] for cost in costs) for i in range(3))
    return Cost(
        freeboard_mm=sum(cost.freeboard_mm or 0.0 for cost in costs),
        trim_deg=sum(cost.trim_deg or 0.0 for cost in costs),
        heel_deg=sum(cost.heel_deg or 0.0 for cost in costs),
        center_of_gravity_mm=(x, y, z),
    )


def _now(side: CompareSide) -> str:
    """Return how she stands now."""
    return f"Now {side_words(side, WIDTH - 4)}"
