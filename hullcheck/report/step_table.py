"""The step by every rule, and every number: the table behind --all, and the floats' table."""

from collections.abc import Sequence
from itertools import groupby
from typing import Final

from hullcheck.answers.step_records import RuleCheck, StepAnswer, StepPlace
from hullcheck.answers.step_rules import NO_LINE, PRACTICE
from hullcheck.report import table_values as show
from hullcheck.report.step_scale import Scale, scale_of
from hullcheck.report.step_text import first_screen, floats_screen
from hullcheck.report.step_words import KINDS, QUANTITIES, amount_text, band_text, mark_of

_LABEL: Final = 40
_NAME, _BAND, _HERE, _BAR = 37, 13, 8, 18
_GROUND, _FILL, _MARK = "·", "▒", "┃"
Rows = list[tuple[str, str]]


def all_lines(answer: StepAnswer) -> list[str]:
    """Return the first screen, every rule with its band and her mark, and every number.

    Parameters
    ----------
    answer : StepAnswer
        The step of a craft.

    Returns
    -------
    list of str
        At most 80 characters each.
    """
    lines = [*first_screen(answer), *rules_lines(answer.rules)]
    blocks = [
        ("Angle at the CG, by line", _line_rows(answer)),
        ("With the CG at the ends of its range", _range_rows(answer)),
        ("Bottom", _bottom_rows(answer)),
        ("Turned bow up about the step until something touches", _turn_rows(answer)),
        ("Loading", _load_rows(answer)),
    ]
    return lines + _blocks(blocks) + source_lines(answer.rules)


def floats_lines(answer: StepAnswer, *, everything: bool) -> list[str]:
    """Return what is to be said of the main floats; with everything, every rule and number."""
    report = answer.floats
    lines = floats_screen(answer)
    if report is None or not everything:
        return lines
    lines += rules_lines(report.rules)
    for one in report.floats:
        top, keel = one.top_angle_deg, one.forebody_keel_angle_deg
        rows = [
            ("length, beam, greatest thickness", " × ".join(
                show.bare_length(v) for v in (one.length_mm, one.beam_mm, one.thickness_mm)
            ) + f" {show.length(0.0).partition(' ')[2]}"),
            ("nose at station", show.length(one.bow_station_mm)),
            ("center plane at y", show.length(one.center_plane_mm)),
            ("volume", show.volume(one.volume_cm3)),
            ("has to carry", show.mass(one.mass_g)),
            ("carries wholly under, over that", show.number(one.volume_ratio, 2)),
            ("top, rising aft", "not known" if top is None else show.angle(top)),
            ("forebody keel, rising aft", "not known" if keel is None else show.angle(keel)),
        ]  # fmt: skip
        lines += _blocks([(one.name, rows)])
    return lines + source_lines(report.rules)


def rules_lines(rules: Sequence[RuleCheck]) -> list[str]:
    """Return rules with their bands, her value, and both on a scale; kinds kept apart."""
    lines = []
    scales = {q: scale_of([r for r in rules if r.quantity == q]) for q in QUANTITIES}
    for kind, name in KINDS.items():
        chosen = [rule for rule in rules if rule.kind == kind]
        if not chosen:
            continue
        lines += ["", f"{name:<{2 + _NAME}}{'asks for':<{_BAND}}she has"]
        for quantity, group in groupby(chosen, key=lambda rule: rule.quantity):
            lines += _quantity_lines(list(group), quantity, scales[quantity])
    return lines


def _quantity_lines(rules: list[RuleCheck], quantity: str, scale: Scale | None) -> list[str]:
    """Return a quantity's heading and its rules."""
    shared = {rule.line for rule in rules}
    line = shared.pop() if len(shared) == 1 else ""
    head = f"  {QUANTITIES[quantity].name}{f', {line}' if line and line != NO_LINE else ''}"
    if scale is not None:
        ends = [amount_text(v, quantity) for v in (scale.low, scale.high)]
        room = 2 + _NAME + _BAND + _HERE
        bar = f"{ends[0]}{ends[1]:>{_BAR - len(ends[0])}}"
        head = f"{head:<{room}}{bar}" if len(head) < room else head
    lines = [head]
    for rule in rules:
        name = rule.name if len(rule.name) < _NAME - 2 else f"{rule.name[: _NAME - 4]}…"
        row = f"    {name:<{_NAME - 2}}{band_text(rule):<{_BAND}}"
        mark = mark_of(rule)
        if mark is None or scale is None:
            lines += [f"{row}–".rstrip(), f"      not comparable: {rule.missing}"]
            continue
        lines.append(f"{row}{amount_text(mark, quantity):<{_HERE}}{_bar(rule, mark, scale)}")
        if not line:
            lines.append(f"      {rule.line}")
    return lines


def _bar(rule: RuleCheck, mark: float, scale: Scale) -> str:
    """Return a rule's band and her mark on a scale of characters."""
    first, last = (min(int(s * _BAR), _BAR - 1) for s in scale.shares(rule))
    here = min(int(scale.share(mark) * _BAR), _BAR - 1)
    cells = [_FILL if first <= i <= last else _GROUND for i in range(_BAR)]
    cells[here] = _MARK
    return "".join(cells)


def source_lines(rules: Sequence[RuleCheck]) -> list[str]:
    """Return where the rules stand, each source once."""
    lines = ["", "Where the rules stand"]
    for source in dict.fromkeys(rule.source for rule in rules):
        named = [rule for rule in rules if rule.source == source]
        if source == PRACTICE:
            lines.append(f"  {source}: all others")
            continue
        quantity = QUANTITIES[named[0].quantity].name
        lines += _wrapped(f"{quantity}: {source}")
    return lines


def _wrapped(text: str) -> list[str]:
    """Return a text in lines of at most 80 characters."""
    import textwrap

    return textwrap.wrap(text, width=80, initial_indent="  ", subsequent_indent="    ")


def _blocks(blocks: list[tuple[str, Rows]]) -> list[str]:
    """Return titled rows, those without rows left out."""
    lines = []
    for title, rows in blocks:
        if rows:
            lines += ["", title, *(f"  {label:<{_LABEL}}{value}" for label, value in rows)]
    return lines


def _angle(value: float | None, missing: str) -> str:
    """Return an angle, or why there is none."""
    return f"not comparable: {missing}" if value is None else show.angle(value)


def _line_rows(answer: StepAnswer) -> Rows:
    """Return the angle at the CG from every line."""
    place = answer.place
    if place is None:
        return []
    return [
        ("from the forebody keel's normal", show.angle(place.angle_from_keel_deg)),
        ("from the wing chord's normal", _angle(place.angle_from_wing_deg, "wing_angle_deg")),
        (
            "from the fuselage line's normal",
            _angle(place.angle_from_fuselage_line_deg, "line_mm of [reference]"),
        ),
        ("from the plumb line at rest", _angle(place.angle_from_plumb_deg, "no upright rest")),
    ]


def _range_rows(answer: StepAnswer) -> Rows:
    """Return where the step lies with the CG at either end of its range."""
    return [
        (f"CG at {show.bare_length(p.center_of_gravity_mm[0])}", _place(p))
        for p in answer.places_in_cg_range
    ]


def _place(place: StepPlace) -> str:
    """Return a place in brief."""
    trim = "" if place.trim_deg is None else f", {show.trim(place.trim_deg)}"
    return f"{show.length(place.behind_cg_mm)}, {show.angle(place.angle_from_keel_deg)}{trim}"


def _bottom_rows(answer: StepAnswer) -> Rows:
    """Return the bottom's geometry."""
    step = answer.step
    if step is None:
        return []
    beam, deadrise = step.beam_over_chines_mm, step.deadrise_deg
    corner = f"{show.bare_length(step.station_mm)}, {show.length(step.keel_z_mm)}"
    post = f"{show.bare_length(step.sternpost_station_mm)}, {show.length(step.sternpost_z_mm)}"
    fore = f"{show.angle(step.forebody_keel_angle_deg)} over {show.length(step.forebody_fit_mm)}"
    after = f"{show.angle(step.afterbody_keel_angle_deg)} over {show.length(step.afterbody_fit_mm)}"
    rows = [
        (f"{answer.body}, length", show.length(answer.length_mm)),
        ("keel corner: station, z", corner),
        ("depth", show.length(step.depth_mm)),
        ("forebody keel, rising aft", fore),
        ("afterbody keel, rising aft", after),
        ("afterbody to forebody keel", show.angle(answer.afterbody_angle_deg or 0.0)),
        ("sternpost: station, z", post),
        ("sternpost angle, to the forebody keel", show.angle(step.sternpost_angle_deg)),
        ("greatest beam over the chines", "none" if beam is None else show.length(beam)),
        ("deadrise at the step", "none" if deadrise is None else show.angle(deadrise)),
    ]
    last = answer.plan[-1] if answer.plan else None
    if last is not None:
        run = f"{show.bare_length(last.half_breadth_mm)} off at {show.length(last.station_mm)}"
        rows.append(("step's edge, furthest found", run))
    return rows


def _turn_rows(answer: StepAnswer) -> Rows:
    """Return how far she turns on the step."""
    turn = answer.rotation
    if turn is None:
        return []
    wing = "not known" if turn.wing_deg is None else show.angle(turn.wing_deg)
    return [
        ("touches", f"{turn.touches}, station {show.length(turn.station_mm)}"),
        ("forebody keel to the water", show.angle(turn.keel_deg)),
        ("body x to the water", show.angle(turn.body_deg)),
        ("wing's chord to the water", wing),
    ]


def _load_rows(answer: StepAnswer) -> Rows:
    """Return the coefficients with what they are made of."""
    loads = answer.coefficients
    if loads is None:
        return []
    return [
        ("mass on this body, m", show.mass(loads.mass_g)),
        ("density of the water, ρ", f"{show.number(answer.water.density_kg_m3, 2)} kg/m³"),
        ("greatest beam over the chines, b", show.length(loads.beam_over_chines_mm)),
        ("forebody length, L_f", show.length(loads.forebody_length_mm)),
        ("C_Δ0 = m/(ρ b³)", show.number(loads.load_coefficient, 3)),
        ("L_f/b", show.number(loads.forebody_length_beam_ratio, 2)),
        ("k = C_Δ0/(L_f/b)²", show.number(loads.spray, 4)),
    ]
