"""Water inside her, every number: the table behind --all."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.flood_records import BilgeLevel, FloodAnswer, FloodedState
from hullcheck.answers.time_afloat_records import LeakTime, LimitBreak
from hullcheck.report import table_values as show
from hullcheck.report.fitting import cut
from hullcheck.report.flood_swamped_words import keep_words
from hullcheck.report.flood_text import first_screen
from hullcheck.report.flood_words import DAY_MIN, break_words, level_text
from hullcheck.report.numbers import mass_text
from hullcheck.report.words import shown_name

_WIDTH: Final = 80
_NAME: Final = 24
_NONE: Final = "–"


def all_lines(answer: FloodAnswer) -> list[str]:
    """Return the first screen, every compartment, case and level, and every number.

    Parameters
    ----------
    answer : FloodAnswer
        Water inside a craft.

    Returns
    -------
    list of str
        At most 80 characters each.
    """
    lines = [*first_screen(answer), *_compartments(answer)]
    if answer.asked:
        lines += ["", "As asked", *_state_rows(answer.state), *_levels(answer.state.bilge)]
    lines += [*_water(answer), *_bilge(answer), *_open(answer), *_swamped(answer)]
    return [cut(line, _WIDTH).rstrip() for line in (*lines, *_time(answer))]


def _compartments(answer: FloodAnswer) -> list[str]:
    """Return every compartment."""
    lines = ["", f"{'Compartments':<26}{'stations':>15}{'holds':>13}{'water':>11}"]
    for one in answer.compartments:
        span = (
            f"{show.bare_length(one.first_station_mm)} to {show.bare_length(one.last_station_mm)}"
        )
        holds = show.volume(one.volume_cm3 * one.permeability)
        water = show.mass(one.water_g) if one.water_g else _NONE
        name = cut(one.name, _NAME)
        sea = "  open" if one.open_to_sea else ""
        lines.append(f"  {name:<{_NAME}}{span:>15}{holds:>13}{water:>11}{sea}")
        if one.method != "skin less the wall":
            lines.append(f"    {one.method}")
        if len(one.pools) > 1:
            lines.append(f"    its water parts into {len(one.pools)} pools that share no level")
    return lines


def _water(answer: FloodAnswer) -> list[str]:
    """Return what some grams in each compartment do."""
    if not answer.water_cases:
        return []
    up = show.angle(answer.nose_up_deg)
    title = f"{'Water in one compartment':<26}{'water':>8}{'lowest':>9}{'trim':>10}"
    lines = ["", f"{title}{'list':>8}{'GM':>9}{'lost':>9}"]
    for case in answer.water_cases:
        state = case.state
        lines.append(
            f"  {cut(case.compartment, _NAME):<{_NAME}}{show.mass(case.water_g):>8}"
            f"{_length(state.freeboard_mm):>9}{_degrees(state.trim_deg):>10}"
            f"{_degrees(state.heel_deg):>8}{_across(state):>9}{_lost(state):>9}"
        )
    lines += ["", f"{f'Run aft, nose {up} up':<26}{'water':>8}{'CG at':>10}{'band':>20}"]
    for case in answer.water_cases:
        nose = case.nose_up
        at = show.bare_length(nose.center_of_gravity_mm[0])
        pools = f"  {nose.pools} pools" if nose.pools > 1 else ""
        lines.append(
            f"  {cut(case.compartment, _NAME):<{_NAME}}{show.mass(case.water_g):>8}"
            f"{at:>10}{_band(nose.behind_band_mm):>20}{pools}"
        )
    return [*lines, f"  that angle: {answer.nose_up_from}"]


def _band(behind_mm: float | None) -> str:
    """Return how far the CG is out of its band."""
    if behind_mm is None:
        return _NONE
    if behind_mm == 0.0:
        return "in it"
    return f"{show.length(abs(behind_mm))} {'behind' if behind_mm > 0.0 else 'ahead'}"


def _bilge(answer: FloodAnswer) -> list[str]:
    """Return how high water stands at named points."""
    lines = []
    for case in answer.water_cases:
        run = {one.name: one for one in case.nose_up.bilge if one.compartment == case.compartment}
        for one in case.state.bilge:
            if one.compartment != case.compartment:
                continue
            rest, aft = _level(one), _level(run.get(one.name))
            lines.append(
                f"  {cut(one.name, _NAME):<{_NAME}}{show.mass(case.water_g):>8}{rest:>23}{aft:>23}"
            )
    if not lines:
        return []
    return ["", f"{'Water at':<26}{'water':>8}{'at rest':>23}{'run aft':>23}", *lines]


def _level(one: BilgeLevel | None) -> str:
    """Return how high water stands at a point, and whether that wets it."""
    if one is None or one.level_mm is None:
        return "dry"
    return f"{level_text(one.level_mm)}, {'wet' if one.wet else 'dry'}"


def _levels(bilge: Sequence[BilgeLevel]) -> list[str]:
    """Return how high water stands at points, as asked."""
    return [f"  {cut(f'water at {one.name}', 38):<40}{_level(one)}" for one in bilge]


def _open(answer: FloodAnswer) -> list[str]:
    """Return how she floats with compartments open to the sea."""
    lines = ["", f"{'Open to the sea':<36}{'lowest':>10}{'trim':>9}{'list':>9}{'GM':>10}"]
    for case in answer.open_cases:
        state = case.state
        name = cut(" + ".join(case.compartments), 34)
        if state.rest == "sinks":
            lines.append(f"  {name:<34} sinks by {show.mass(state.short_by_g or 0.0)}")
            continue
        over = "  falls over" if state.rest == "capsized" else ""
        lines.append(
            f"  {name:<34}{_length(state.freeboard_mm):>10}{_degrees(state.trim_deg):>9}"
            f"{_degrees(state.heel_deg):>9}{_across(state):>10}{over}"
        )
    return lines


def _swamped(answer: FloodAnswer) -> list[str]:
    """Return what still displaces when she is swamped, and how she floats."""
    found = answer.swamped
    lines = ["", f"{'Swamped: what still displaces':<32}{'volume':>11}  by"]
    lines += [
        f"  {cut(one.name, 28):<30}{show.volume(one.volume_cm3):>11}  {one.told_by}"
        for one in found.solids
    ]
    lines.append(f"  {'in all':<30}{show.volume(found.volume_cm3):>11}")
    if found.sealed:
        lines.append(f"  kept closed: {', '.join(found.sealed)}")
    if found.floats and found.trim_deg is not None and found.heel_deg is not None:
        trim, heel = show.trim(found.trim_deg), show.heel(found.heel_deg)
        lines.append(f"  floats {trim}, {heel}; highest {_length(found.highest_mm)} up")
    else:
        lines.append(f"  sinks by {show.mass(found.short_by_g or 0.0)}")
    if found.keep_dry is not None:
        lines.append(f"  {keep_words(found.keep_dry)} (at {show.place(found.keep_dry.foam_mm)})")
    return lines


def _time(answer: FloodAnswer) -> list[str]:
    """Return what each leak lets in and when each limit breaks."""
    found = answer.time_afloat
    if found is None:
        return []
    lines = ["", f"{'Time afloat':<42}{'water in':>12}{'by a hole':>13}{'by a crack':>13}"]
    for leak in found.leaks:
        lines.append(f"  {leak.name}, {leak.what}, into {leak.compartment}")
        lines.append(
            f"    {show.length(leak.head_mm)} under water; lets in at first {_rates(leak)}"
        )
        lines += [_break(one, answer) for one in leak.breaks]
        if leak.levels_out and leak.levels_at_g is not None:
            end = show.mass(leak.levels_at_g)
            lines.append(f"    the water inside levels out with {end} in; then nothing changes")
    return lines


def _rates(leak: LeakTime) -> str:
    """Return what comes in at first by each law."""
    rates = (("hole", leak.hole_g_per_min), ("crack", leak.crack_g_per_min))
    said = [f"{mass_text(rate)}/min ({law})" for law, rate in rates if rate is not None]
    return ", ".join(said)


def _break(one: LimitBreak, answer: FloodAnswer) -> str:
    """Return when a limit breaks."""
    words = cut(break_words(one.limit, one.at, answer), 37)
    times = [_minutes(one.hole_min), _minutes(one.crack_min)]
    return f"    {words:<38}{show.mass(one.water_g):>12}{times[0]:>13}{times[1]:>13}"


def _minutes(minutes: float | None) -> str:
    """Return a time, or that there is none."""
    if minutes is None:
        return _NONE
    return "over a day" if minutes > DAY_MIN else f"{show.number(minutes)} min"


def _state_rows(state: FloodedState) -> list[str]:
    """Return a state in rows."""
    if state.trim_deg is None or state.heel_deg is None:
        return [f"  sinks by {show.mass(state.short_by_g or 0.0)}"]
    at = "" if state.at is None else f" at the {shown_name(state.at)}"
    rows = [
        ("with the water", show.mass(state.mass_g)),
        ("rests", state.rest),
        ("trim, list", f"{show.trim(state.trim_deg)}, {show.heel(state.heel_deg)}"),
        ("lowest opening", f"{_length(state.freeboard_mm)}{at}"),
        ("metacentric height across", _across(state)),
        ("of that lost to free surface", _lost(state)),
    ]
    if state.center_of_gravity_mm is not None:
        rows.insert(1, ("CG with it", show.place(state.center_of_gravity_mm)))
    rows += [(f"limit {one.name}", "holds" if one.ok else "is broken") for one in state.limits]
    return [f"  {label:<40}{value}" for label, value in rows]


def _length(value_mm: float | None) -> str:
    """Return a length, or that there is none."""
    return _NONE if value_mm is None else show.length(value_mm)


def _degrees(value_deg: float | None) -> str:
    """Return an angle, or that there is none."""
    return _NONE if value_deg is None else show.angle(value_deg)


def _across(state: FloodedState) -> str:
    """Return the metacentric height across."""
    return _length(None if state.metacentric_height_mm is None
                   else state.metacentric_height_mm.transverse)  # fmt: skip


def _lost(state: FloodedState) -> str:
    """Return what the free surface takes off it."""
    return _length(None if state.free_surface_loss_mm is None
                   else state.free_surface_loss_mm.transverse)  # fmt: skip
