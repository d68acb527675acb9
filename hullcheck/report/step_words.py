"""What is said of a step and of rules of thumb, in text and drawing alike."""

import math
from dataclasses import dataclass
from typing import Final

from hullcheck.answers.step_records import RuleCheck, StepAnswer, StepPlace
from hullcheck.report.numbers import MINUS, angle_text, arm_text, draft_text, station_text
from hullcheck.report.words import LEAST_ANGLE_DEG

TITLE_LENGTH: Final = 62
_LONG_MM: Final = 100.0
"""From here on half a millimeter is no more than noise in a rule of thumb."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """What rules speak of: how it is called, and from what line where all of them share one."""

    name: str
    unit: str


QUANTITIES: Final = {
    "step_behind_cg": Quantity(name="Step behind CG", unit="mm"),
    "step_angle": Quantity(name="Angle at CG", unit="deg"),
    "step_depth": Quantity(name="Step depth", unit="mm"),
    "afterbody_angle": Quantity(name="Afterbody keel angle", unit="deg"),
    "sternpost_angle": Quantity(name="Sternpost angle", unit="deg"),
    "deadrise": Quantity(name="Deadrise", unit="deg"),
    "load_coefficient": Quantity(name="Beam loading", unit="ratio"),
    "forebody_length_beam_ratio": Quantity(name="Forebody length/beam", unit="ratio"),
    "spray": Quantity(name="Spray, k", unit="ratio"),
    "float_length": Quantity(name="Length of the float", unit="mm"),
    "overhang": Quantity(name="Ahead of the propeller", unit="mm"),
    "step_from_nose": Quantity(name="Step from the nose", unit="mm"),
    "float_rear_end": Quantity(name="Rear end", unit="mm"),
    "float_thickness": Quantity(name="Thickness", unit="mm"),
    "propeller_clearance": Quantity(name="Propeller over the deck", unit="mm"),
    "float_spacing": Quantity(name="Spacing", unit="mm"),
    "incidence": Quantity(name="Wing to float top", unit="deg"),
    "volume_ratio": Quantity(name="Volume over displacement", unit="ratio"),
}

_BELOW_ZERO: Final = {
    "step_behind_cg": "ahead of it",
    "step_angle": "ahead of it",
    "overhang": "behind it",
}
KINDS: Final = {
    "model practice": "Model practice",
    "full size": "Full size and towing tanks",
}


def ratio_text(value: float) -> str:
    """Return a pure number in text, to three figures."""
    if value == 0.0:
        return "0"
    decimals = max(0, 2 - math.floor(math.log10(abs(value))))
    text = f"{abs(value):.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{MINUS}{text}" if value < 0.0 else text


def band_ends(rule: RuleCheck) -> tuple[float | None, float | None]:
    """Return a rule's band in mm, degrees or as a ratio: what its block's scale is in."""
    if rule.unit in {"mm", "percent"}:
        return rule.least_mm, rule.most_mm
    return rule.least, rule.most


def mark_of(rule: RuleCheck) -> float | None:
    """Return the craft's mark on a rule's scale, None where it is not comparable."""
    return rule.value_mm if rule.unit in {"mm", "percent"} else rule.value


def amount_text(value: float, quantity: str) -> str:
    """Return a value of a quantity in text, with its unit."""
    unit = QUANTITIES[quantity].unit
    if unit == "deg":
        return angle_text(value)
    if unit == "ratio":
        return ratio_text(value)
    # Rounded as the other commands print it.
    return arm_text(value) if quantity == "step_behind_cg" else draft_text(value)


def sided_text(value: float, quantity: str) -> str:
    """Return a value in text, on which side it lies in words where it is below 0."""
    other = _BELOW_ZERO.get(quantity)
    if value >= 0.0 or other is None:
        return amount_text(value, quantity)
    return f"{amount_text(-value, quantity)} {other}"


def range_text(one: float, two: float, quantity: str) -> str:
    """Return a value going from one end to another in text: "19 to 7 mm", "20° to 9.1°"."""
    start, end = amount_text(one, quantity), amount_text(two, quantity)
    number, _, unit = start.partition(" ")
    return f"{number} to {end}" if unit and end.endswith(f" {unit}") else f"{start} to {end}"


def band_text(rule: RuleCheck) -> str:
    """Return a rule's band in text: "10–15 mm", "about 10°", "from 10 mm", "up to 1"."""
    least, most = band_ends(rule)
    if least is None and most is None:
        return "not known"
    low = "" if least is None else _end_text(least, rule)
    high = "" if most is None else _end_text(most, rule)
    if most is None:
        return f"from {low}"
    if least is None:
        return f"up to {high}"
    if low == high:
        return f"{'' if rule.quantity == 'spray' else 'about '}{low}"
    return f"{low.removesuffix('°').partition(' ')[0]}–{high}"


def _end_text(value: float, rule: RuleCheck) -> str:
    """Return an end of a band: a short length to 0.5 mm, so that narrow bands stay bands."""
    if QUANTITIES[rule.quantity].unit == "mm":
        return draft_text(value) if abs(value) < _LONG_MM else arm_text(value)
    return amount_text(value, rule.quantity)


def way_words(behind_mm: float) -> str:
    """Return on which side of the CG the step lies."""
    return "behind" if behind_mm >= 0.0 else "ahead of"


def place_words(place: StepPlace) -> tuple[str, str]:
    """Return how far the step lies behind or ahead of the CG: length and angle."""
    sign = 1.0 if place.behind_cg_mm >= 0.0 else -1.0
    return arm_text(abs(place.behind_cg_mm)), angle_text(sign * place.angle_from_keel_deg)


def trims_words(one: float, two: float) -> str:
    """Return two trims in words, the sides said: "0.3° bow down to 0.9° bow up"."""
    ends = [_trim(one), _trim(two)]
    if ends[0] == ends[1]:
        return ends[0]
    if all(end.endswith("bow up") for end in ends):
        return f"{ends[0].removesuffix(' bow up')} to {ends[1]}"
    if all(end.endswith("bow down") for end in ends):
        return f"{ends[0].removesuffix(' bow down')} to {ends[1]}"
    return f"{ends[0]} to {ends[1]}"


def _trim(trim_deg: float) -> str:
    """Return a trim in words."""
    if abs(trim_deg) < LEAST_ANGLE_DEG:
        return "level"
    return f"{angle_text(abs(trim_deg))} bow {'up' if trim_deg > 0.0 else 'down'}"


def title(answer: StepAnswer) -> str:
    """Return the finding, at most 62 characters; a step never passes or fails in it."""
    if answer.step is None:
        return f"No step found on the bottom of {_short(answer.body, 28)}"
    if answer.place is None:
        return f"Step at station {station_text(answer.step.station_mm)}; no CG is given"
    length, angle = place_words(answer.place)
    where = way_words(answer.place.behind_cg_mm)
    return f"Step {length} and {angle} {where} CG; the rules do not agree"


def floats_title(answer: StepAnswer) -> str:
    """Return the finding about floats."""
    floats = answer.floats
    if floats is None:
        return "No main floats"
    ratio = ratio_text(floats.volume_ratio)
    count = {1: "One float carries", 2: "Two floats carry"}.get(
        len(floats.floats), f"{len(floats.floats)} floats carry"
    )
    return f"{count} {ratio} times her mass; the rules do not agree"


def facts(answer: StepAnswer, *, floats: bool = False) -> list[str]:
    """Return the sentences under the finding."""
    said = []
    if floats or answer.step is not None:
        marks = "the black line is this craft"
        if answer.place is not None and not floats:
            marks += ", an open diamond her value by that rule's own line"
        said.append(
            f"Gray bars are what each rule of thumb asks for, {marks}. No verdict is meant."
        )
    turn = answer.rotation
    if turn is not None:
        wing = "" if turn.wing_deg is None else f", her wing then at {angle_text(turn.wing_deg)}"
        said.append(
            f"On the step she turns up to {angle_text(turn.keel_deg)} of keel before the "
            f"{turn.touches} touches{wing}."
        )
    said += [
        f"Another step at station {station_text(other.station_mm)}, {draft_text(other.depth_mm)} "
        "deep, is not the one that is read."
        for other in answer.other_steps
    ]
    return said


def alt_text(answer: StepAnswer, *, floats: bool = False) -> str:
    """Return the drawing in words: its finding and its numbers."""
    report = answer.floats
    rules = report.rules if floats and report is not None else answer.rules
    said = [f"{answer.craft}: {floats_title(answer) if floats else title(answer)}."]
    said += [fact for fact in facts(answer) if not fact.startswith("Gray")]
    for rule in rules:
        mark = mark_of(rule)
        name = f"{QUANTITIES[rule.quantity].name}, {rule.name}"
        if mark is None:
            said.append(f"{name}: not comparable, {rule.missing}.")
        else:
            said.append(f"{name}: {band_text(rule)}, here {amount_text(mark, rule.quantity)}.")
    return " ".join(said)


def _short(words: str, most: int) -> str:
    """Return words, cut with three dots where they are too long."""
    return words if len(words) <= most else f"{words[: most - 1]}…"
