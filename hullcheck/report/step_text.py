"""Where the step lies, in words: the first screen, the answer first."""

from collections.abc import Iterable
from typing import Final

from hullcheck.answers.step_records import RuleCheck, StepAnswer
from hullcheck.report.fitting import fitting
from hullcheck.report.numbers import angle_text, arm_text, draft_text, mass_text, station_text
from hullcheck.report.step_words import (
    amount_text,
    band_text,
    mark_of,
    place_words,
    range_text,
    ratio_text,
    trims_words,
    way_words,
)
from hullcheck.report.words import capital, water_words

CAUTION: Final = (
    "rules of thumb are shown, none is judged; this is arithmetic on your files, no clearance to "
    "go on the water."
)
_LABEL: Final = 16
_WIDTH: Final = 80


def first_screen(answer: StepAnswer) -> list[str]:
    """Return the answer in at most eight lines of at most 80 characters.

    Parameters
    ----------
    answer : StepAnswer
        The step of a craft.

    Returns
    -------
    list of str
        Who she is; where the step lies; its angle by every line; what rules ask for; its depth; how
        far she turns on it; her loading; what moving the CG inside its range does.
    """
    lines = [head_line(answer), step_sentence(answer)]
    rows = [
        ("By angle", _angles(answer)),
        ("Rules", _rules(answer)),
        ("Depth", _depth(answer)),
        ("Turns up", _turns(answer)),
        ("Loading", _loading(answer)),
        (_range_label(answer), _range(answer)),
    ]
    return lines + [f"{label:<{_LABEL}}{text}" for label, text in rows if text]


def floats_screen(answer: StepAnswer) -> list[str]:
    """Return what is to be said of the main floats first, in at most eight lines."""
    report = answer.floats
    if report is None:
        return [head_line(answer), "She has no main floats."]
    one = max(report.floats, key=lambda f: f.length_mm)
    count = len(report.floats)
    apart = "" if report.spacing_mm is None else f", {arm_text(report.spacing_mm)} apart"
    size = (
        f"{count} main float{'s' if count > 1 else ''}, {arm_text(one.length_mm)} long, "
        f"{arm_text(one.beam_mm)} wide, {arm_text(one.thickness_mm)} deep{apart}."
    )
    ahead = report.overhang_mm
    reach = ""
    if ahead is not None:
        way = "ahead of" if ahead >= 0.0 else "behind"
        reach = f"noses {arm_text(abs(ahead))} {way} the propeller; " + _asked(
            report.rules, "overhang"
        )
    carried = f"{ratio_text(one.volume_ratio)} × its {mass_text(one.mass_g)}"
    rows = [
        ("Length", f"{arm_text(one.length_mm)}; {_asked(report.rules, 'float_length')}"),
        ("Overhang", reach),
        ("Step", _asked_value(report.rules, "step_from_nose", "from the nose")),
        ("Incidence", _incidence(answer)),
        ("Reserve", f"each carries {carried}; models 1.5–2, full size 1.80"),
    ]
    lines = [head_line(answer), size]
    return lines + [f"{label:<{_LABEL}}{_fitting([text])}" for label, text in rows if text]


def head_line(answer: StepAnswer) -> str:
    """Return who she is, what she weighs and in what water."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    line = f"{name} · {mass_text(answer.mass_g)} · {water_words(answer.water)}"
    return line if len(line) <= _WIDTH else f"{line[: _WIDTH - 1]}…"


def step_sentence(answer: StepAnswer) -> str:
    """Return where the step lies, in one sentence."""
    step, place = answer.step, answer.place
    if step is None:
        if answer.ramps:
            ramp = answer.ramps[0]
            return (
                f"No step found; a ramp at station {station_text(ramp.station_mm)} rises "
                f"{draft_text(ramp.depth_mm)} over {draft_text(ramp.run_mm)}."
            )
        return f"No step found on the center plane of {answer.body}."[:_WIDTH]
    here = f"Step at station {station_text(step.station_mm)}, {draft_text(step.depth_mm)} deep"
    if place is None:
        return f"{here}. Her CG is not given."
    length, _ = place_words(place)
    share = f"{abs(place.behind_cg_percent):.1f} %"
    way = way_words(place.behind_cg_mm)
    at = station_text(place.center_of_gravity_mm[0])
    return next(
        (
            line
            for line in (
                f"{here}: {length} ({share} of length) {way} the CG at {at}.",
                f"{here}: {length} ({share} of length) {way} the CG.",
            )
            if len(line) <= _WIDTH
        ),
        f"{here}: {length} {way} the CG.",
    )


def _angles(answer: StepAnswer) -> str:
    """Return the angle at the CG by every line that is known."""
    place = answer.place
    if place is None:
        return ""
    said = [f"{angle_text(place.angle_from_keel_deg)} from the keel's normal"]
    for value, name in (
        (place.angle_from_wing_deg, "the wing's"),
        (place.angle_from_fuselage_line_deg, "fuselage's"),
        (place.angle_from_plumb_deg, "plumb at rest"),
    ):
        if value is not None:
            said.append(f"{angle_text(value)} {name}")
    texts = [", ".join(said[:n]) for n in range(len(said), 0, -1)]
    return _fitting(texts)


def _rules(answer: StepAnswer) -> str:
    """Return what rules ask for, in brief."""
    if answer.place is None:
        return ""
    lengths = [r for r in answer.rules if r.quantity == "step_behind_cg" and r.unit == "mm"]
    shares = [r for r in answer.rules if r.quantity == "step_behind_cg" and r.unit == "percent"]
    angles = [r for r in answer.rules if r.quantity == "step_angle"]
    share = [f"{r.least:g}–{r.most:g} %" for r in shares]
    asked = "; ".join((", ".join(_in_unit(lengths)), *share, ", ".join(_distinct(angles))))
    few = f"{len(lengths)} by length, {len(share)} by share, {len(angles)} by angle"
    return _fitting((f"{asked}: --all", asked, f"{few}: --all"))


def _in_unit(rules: list[RuleCheck]) -> list[str]:
    """Return bands of lengths, the unit with the last alone."""
    texts = [band_text(rule) for rule in rules if rule.least != rule.most]
    return [text.partition(" ")[0] for text in texts[:-1]] + texts[-1:]


def _distinct(rules: list[RuleCheck]) -> list[str]:
    """Return bands without repeats."""
    return list(dict.fromkeys(band_text(rule).removeprefix("about ") for rule in rules))


def _depth(answer: StepAnswer) -> str:
    """Return the step's depth with what models and tanks ask for."""
    if answer.step is None:
        return ""
    known = [r for r in answer.rules if r.quantity == "step_depth" and r.missing is None]
    models, tanks = (_row_of(known, kind) for kind in ("model practice", "full size"))
    depth = draft_text(answer.step.depth_mm)
    said = f"{depth}; models {models}"
    return _fitting((f"{said}; tanks {tanks}" if tanks else said, said, depth))


def _row_of(rules: list[RuleCheck], kind: str) -> str:
    """Return the bands of one kind of rules in a row, the unit with the last alone."""
    texts = [band_text(rule).removeprefix("about ") for rule in rules if rule.kind == kind]
    return ", ".join([text.rpartition(" ")[0] for text in texts[:-1]] + texts[-1:])


def _turns(answer: StepAnswer) -> str:
    """Return how far she turns on the step, and where her wing stands then."""
    turn = answer.rotation
    if turn is None:
        return ""
    keel = f"{angle_text(turn.keel_deg)} of keel, then the {turn.touches} touches"
    if turn.wing_deg is None:
        return _fitting((f"{keel}; the wing's angle is not known", keel))
    return _fitting((f"{keel}; her wing at {angle_text(turn.wing_deg)}", keel))


def _loading(answer: StepAnswer) -> str:
    """Return the coefficients; the bands of k are from memory."""
    loads = answer.coefficients
    if loads is None:
        return "" if answer.step is None else "no chine was found, so no beam to load"
    values = [ratio_text(v) for v in (loads.load_coefficient, loads.forebody_length_beam_ratio)]
    said = f"C_Δ0 {values[0]}, L_f/b {values[1]}, k {ratio_text(loads.spray)}"
    return _fitting((f"{said} (bands of k from memory: --all)", said))


def _range_label(answer: StepAnswer) -> str:
    """Return the range of stations as a label."""
    band = answer.cg_range_mm
    if band is None:
        return ""
    label = f"CG {station_text(band[0])} to {station_text(band[1])}"
    return label if len(label) < _LABEL else "In its range"


def _range(answer: StepAnswer) -> str:
    """Return what moving the CG from end to end of its range does."""
    if len(answer.places_in_cg_range) != 2:
        return ""
    one, two = answer.places_in_cg_range
    lengths = range_text(one.behind_cg_mm, two.behind_cg_mm, "step_behind_cg")
    angles = range_text(one.angle_from_keel_deg, two.angle_from_keel_deg, "step_angle")
    said = f"{lengths}, {angles} behind"
    bare = said.removesuffix(" behind")
    if one.trim_deg is None or two.trim_deg is None:
        return said
    trims = trims_words(one.trim_deg, two.trim_deg)
    return _fitting((f"{said}; trim {trims}", f"{bare}; trim {trims}", said))


def _incidence(answer: StepAnswer) -> str:
    """Return the wing's angle to the floats' top."""
    report = answer.floats
    if report is None or report.incidence_deg is None:
        return "not known: wing_angle_deg is not in the sheet's [reference]"
    top = f"wing {angle_text(report.incidence_deg)} to the floats' top"
    return f"{top}; {_asked(report.rules, 'incidence')}"


def _asked(rules: tuple[RuleCheck, ...], quantity: str) -> str:
    """Return the bands of a quantity in a row."""
    bands = [
        band_text(r)
        for r in rules
        if r.quantity == quantity and (r.missing is None or r.unit != "percent")
    ]
    return f"rules {', '.join(bands)}" if bands else "no rule is comparable"


def _asked_value(rules: tuple[RuleCheck, ...], quantity: str, words: str) -> str:
    """Return a quantity's value with its bands."""
    found = next((r for r in rules if r.quantity == quantity), None)
    mark = None if found is None else mark_of(found)
    if found is None or mark is None:
        return "" if found is None else capital(str(found.missing))
    share = "" if found.value is None else f", {found.value:.0f} %"
    return f"{amount_text(mark, quantity)}{share} {words}; {_asked(rules, quantity)}"


def _fitting(texts: Iterable[str]) -> str:
    """Return the first text that fits behind a label; the last one cut if none does."""
    return fitting(texts, _WIDTH - _LABEL)
