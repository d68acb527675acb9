"""The finding in one line: sinks, falls over, takes water, a broken limit, or how dry she is."""

from typing import Final

from hullcheck.answers.float_records import FloatAnswer, HeightPoint, LimitCheck
from hullcheck.report.numbers import (
    MINUS,
    angle_text,
    depth_text,
    given_length_text,
    height_text,
    mass_text,
    station_text,
)
from hullcheck.report.words import (
    STATE_UNKNOWN,
    heel_words,
    is_unnamed,
    shown_name,
    state_words,
    trim_words,
)

TITLE_LENGTH: Final = 62
_LIMIT_ORDER: Final = ("freeboard_mm", "heel_deg", "trim_deg")
_LEAST_NAME: Final = 12
"""A name is shortened to this many characters at the least."""


def title(answer: FloatAnswer) -> str:
    """Return the finding, at most 62 characters."""
    if answer.short_by_g is not None:
        return f"Sinks: {mass_text(answer.short_by_g)} too heavy"
    if answer.rest == "capsized":
        return "Falls over: no upright rest at this CG"
    found = (_under, _level, _limit, _fitting_under, _rest_and_room)
    return next(words for words in (find(answer) for find in found) if words)


def _under(answer: FloatAnswer) -> str:
    """Return the title of a craft with an opening that lets water in or her deck under water."""
    wet = [p for p in openings(answer) if p.height_mm < 0.0 and p.state != "sealed"]
    if wet:
        return _under_water(answer, min(wet, key=lambda point: point.height_mm))
    if answer.rest is None:
        return ""
    tops = [p for p in points(answer) if p.what == "top of the hull"]
    top = min(tops, key=lambda point: point.height_mm, default=None)
    if top is not None and top.height_mm < 0.0:
        return f"Deck under water: {depth_text(-top.height_mm)} {place_of(top.name)}"
    return ""


def _level(answer: FloatAnswer) -> str:
    """Return the title of a craft without a CG: where that must be."""
    if answer.rest is not None or answer.level is None:
        return ""
    return (
        f"Level she needs her CG at station {station_text(answer.level.center_of_buoyancy_mm[0])}"
    )


def _limit(answer: FloatAnswer) -> str:
    """Return the title of a craft that breaks a limit."""
    broken = broken_limits(answer)
    return _broken(answer, broken[0]) if broken else ""


def points(answer: FloatAnswer) -> tuple[HeightPoint, ...]:
    """Return the points whose heights are read off; none where there are no heights."""
    return () if answer.freeboard_mm is None else answer.freeboard_mm.points


def openings(answer: FloatAnswer) -> tuple[HeightPoint, ...]:
    """Return the openings among them."""
    return tuple(point for point in points(answer) if point.what == "opening")


def limiting(answer: FloatAnswer) -> HeightPoint | None:
    """Return the point that freeboard is read off."""
    at = None if answer.freeboard_mm is None else answer.freeboard_mm.at
    return next((point for point in points(answer) if point.name == at), None)


def broken_limits(answer: FloatAnswer) -> list[LimitCheck]:
    """Return the limits that do not hold, the one to be said first in front."""
    broken = [check for check in answer.limits if not check.ok and check.name in _LIMIT_ORDER]
    return sorted(broken, key=lambda check: _LIMIT_ORDER.index(check.name))


def place_of(name: str) -> str:
    """Return the place in a name such as "top of the hull at the bow"; else the name."""
    name = shown_name(name)
    place = f"at {name.partition(' at ')[2]}" if " at " in name else f"at the {name}"
    return place.replace("-", MINUS)


def limit_words(check: LimitCheck) -> str:
    """Return a limit as it was given: "15 mm", "3°", "0 to 4° bow up"."""
    if isinstance(check.limit, tuple):
        low, high = check.limit
        if low >= 0.0:
            return f"{low:g} to {high:g}° bow up" if high > 0.0 else "level"
        if high <= 0.0:
            return f"{-high:g} to {-low:g}° bow down"
        return f"{-low:g}° bow down to {high:g}° bow up"
    if check.name == "freeboard_mm":
        return given_length_text(check.limit)
    return f"{check.limit:g}°"


def beyond_words(answer: FloatAnswer, check: LimitCheck) -> str:
    """Return what breaks a limit of trim or heel, with digits enough to show it."""
    trims = check.name == "trim_deg"
    # The limit's own value of a heel has no side.
    value = (answer.trim_deg if trims else answer.heel_deg) or 0.0
    ends = check.limit if isinstance(check.limit, tuple) else (check.limit,)
    words = (trim_words if trims else heel_words)(value)
    if angle_text(abs(value)) not in {f"{abs(end):g}°" for end in ends}:
        return words
    side = words.partition(" ")[2]
    finer = next((n for n in (2, 3, 4) if float(f"{abs(value):.{n}f}") not in map(abs, ends)), 1)
    return f"{abs(value):.{finer}f}° {side}" if "°" in words and finer > 1 else words


def the(name: str) -> str:
    """Return a name with its article."""
    return name if name.lower().startswith(("the ", "her ")) else f"the {name}"


def verb(name: str, one: str, several: str) -> str:
    """Return the verb that goes with a name: motor leads are several, a canopy edge is one."""
    last = name.rsplit(" ", maxsplit=1)[-1].lower()
    return several if last.endswith("s") and not last.endswith(("ss", "us", "is")) else one


def _fitting_under(answer: FloatAnswer) -> str:
    """Return the title of a craft with a wing tip or the propeller under water."""
    low = min(answer.clearances_mm, key=lambda point: point.height_mm, default=None)
    if low is None or low.height_mm >= 0.0:
        return ""
    start = f"{low.name[:1].upper()}{low.name[1:]} {depth_text(-low.height_mm)} under water"
    point = limiting(answer)
    if point is None:
        return start
    what = "openings" if point.what == "opening" else "hull top"
    return f"{start}; {what} dry by {height_text(point.height_mm)}"


def _fitting(forms: tuple[str, ...], name: str) -> str:
    """Return the first form that fits a title with a name at its `{}`; the last with it cut."""
    for form in forms:
        if len(form) - 2 + len(name) <= TITLE_LENGTH:
            return form.format(name)
    room = max(TITLE_LENGTH - len(forms[-1]) + 2, _LEAST_NAME) - 1
    # Cut between words, unless that leaves nothing but the article.
    words = name[:room].rsplit(" ", 1)[0]
    cut = words if len(words) >= _LEAST_NAME else name[:room]
    return forms[-1].format(f"{cut.rstrip(' ,')}…")


def _called(point: HeightPoint) -> str:
    """Return what a point is called in a title: "the canopy edge"."""
    return the(shown_name(point.name, size=False)).replace("-", MINUS if _made(point) else "-")


def _made(point: HeightPoint) -> bool:
    """Return whether a name holds a place the program wrote."""
    return is_unnamed(point.name) or point.what == "top of the hull"


def _under_water(answer: FloatAnswer, point: HeightPoint) -> str:
    """Return the title of a craft with an opening under water: what is open takes it."""
    start = "Taking water" if point.state == "open" else "Under water"
    start = start if answer.rest is not None else "Held level under water"
    depth, are = depth_text(-point.height_mm), verb(point.name, "is", "are")
    forms = (
        f"{start}: {{}} ({state_words(point.state)}) {are} {depth} under",
        f"{start}: {{}}, {depth} under",
    )
    if not start.startswith("Taking"):
        forms = (
            f"{start}: {{}} ({state_words(point.state)}), by {depth}",
            f"{start}: {{}}, by {depth}",
        )
    return _fitting(forms, _called(point))


def _broken(answer: FloatAnswer, check: LimitCheck) -> str:
    """Return the title of a craft that breaks a limit."""
    limit = limit_words(check)
    if check.name != "freeboard_mm":
        start = "Trims too far" if check.name == "trim_deg" else "Leans too far"
        return f"{start}: {beyond_words(answer, check)}, limit {limit}"
    point = limiting(answer)
    height = height_text(check.value or 0.0)
    if point is None:
        return f"Too low: {height}, limit {limit}"
    stand = verb(point.name, "stands", "stand")
    return _fitting(
        (
            f"Too low: {{}} {stand} {height} up, limit {limit}",
            f"Too low: {height} at {{}}, limit {limit}",
        ),
        _called(point),
    )


def _rest_and_room(answer: FloatAnswer) -> str:
    """Return how she rests and how dry she is, in one line."""
    point, rest = limiting(answer), _rest_words(answer)
    if point is None:
        return rest
    height = height_text(point.height_mm)
    if point.what != "opening":
        room = f"{rest}, lowest edge {height}"
        longer = f"{room} {place_of(point.name)}"
        return longer if len(longer) <= TITLE_LENGTH else room
    name = _called(point)
    if rest.startswith(("Rests", "Will")):
        short = rest.removeprefix("Rests on").removeprefix("Will not stay upright:").strip()
        start = "On" if rest.startswith("Rests") else "Unstable:"
        return _fitting(
            (
                f"{rest}, {height} clear at {{}}",
                f"{start} {short}, {height} clear at {{}}",
                f"{rest}, {height} clear",
            ),
            name,
        )
    if is_unnamed(point.name):
        name = name.replace("the opening at", "an unnamed opening,")
        forms: tuple[str, ...] = (f"Dry by {height} at {{}}",)
        if point.state is None:
            forms = tuple(f"{forms[0]}, {words}" for words in (STATE_UNKNOWN, "not stated"))
        return _fitting(forms, name)
    if point.state is None:
        return _fitting((f"Dry by {height} at {{}}, its state not stated",
                         f"Dry by {height} at {{}}, not stated"), name)  # fmt: skip
    are = verb(point.name, "is", "are")
    lowest = "her lowest opening" if are == "is" else "her lowest openings"
    return _fitting((f"Dry by {height}: {{}} {are} {lowest}", f"Dry by {height} at {{}}"), name)


def _rest_words(answer: FloatAnswer) -> str:
    """Return how she rests, as a title begins."""
    if answer.rest is not None and answer.rest.startswith("on "):
        return f"Rests on the {answer.rest.removeprefix('on ')}"
    if answer.rest == "listing":
        side = heel_words(answer.heel_deg or 0.0)
        return f"{'Leans' if answer.upright_is_stable else 'Will not stay upright: lies'} {side}"
    return "Floats upright"
