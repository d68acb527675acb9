"""What rights her and what upsets her, every number: the table behind --all."""

import textwrap
from typing import Final

from hullcheck.answers.righting_records import FloatReport, RightingAnswer
from hullcheck.answers.upset_records import PushedReport
from hullcheck.report import table_values as show
from hullcheck.report.display import shown
from hullcheck.report.righting_text import first_screen
from hullcheck.report.righting_words import event_words, upset_words
from hullcheck.report.words import shown_name, state_words

_LABEL: Final = 40
_LONGEST: Final = 38
_VALUE: Final = 38
Rows = list[tuple[str, str]]


def all_lines(answer: RightingAnswer) -> list[str]:
    """Return the first screen and then every number of the answer, in blocks.

    Parameters
    ----------
    answer : RightingAnswer
        What rights her and what upsets her.

    Returns
    -------
    list of str
        At most 80 characters each; what has no answer is left out.
    """
    lines = first_screen(answer)
    blocks = [
        ("Curve", _side_rows(answer)),
        ("Openings go under at", _opening_rows(answer)),
        *((one.name[:_LONGEST].capitalize(), _float_rows(one)) for one in answer.floats),
        ("What upsets her", _upset_rows(answer)),
        ("Pushed down and let go", _push_rows(answer)),
        ("Thrust at rest: trim, bow and propeller disc over the water", _thrust_rows(answer)),
        ("Stable attitudes", _rest_rows(answer)),
    ]
    for title, rows in blocks:
        if rows:
            lines += ["", title]
            lines += [f"  {label:<{_LABEL}}{value}" for label, value in rows]
    return lines + _curve_lines(answer)


def _curve_lines(answer: RightingAnswer) -> list[str]:
    """Return the curve as a table."""
    if not answer.rows:
        return []
    unit = shown().length
    lines = ["", "Righting arm over heel (heel to starboard +, arm + turns her to port)"]
    lines.append(f"  {'heel °':>8}{f'arm {unit}':>12}{'trim °':>10}   ")
    for row in answer.rows:
        beyond = "   beyond the model" if row.beyond_model else ""
        lines.append(
            f"  {show.number(row.heel_deg):>8}{show.bare_length(row.righting_arm_mm):>12}"
            f"{show.number(row.trim_deg):>10}{beyond}"
        )
    return [line.rstrip() for line in lines]


def _heel(value_deg: float | None) -> str:
    """Return a heel with its side, or that there is none."""
    return "not by 180°" if value_deg is None else show.heel(value_deg)


def _side_rows(answer: RightingAnswer) -> Rows:
    """Return slopes, and range, greatest arm and area to either side."""
    rows: Rows = []
    for label, slope in (
        ("slope at rest", answer.slope_at_rest_mm_per_deg),
        ("slope at heel 0", answer.upright_slope_mm_per_deg),
    ):
        if slope is not None:
            rows.append((label, f"{show.number(slope, 3)} mm per degree"))
    for side in answer.sides:
        top = side.greatest
        rows.append((f"range to {side.side}", _heel(side.range_deg)))
        if top is not None:
            arm = show.length(top.righting_arm_mm)
            rows.append((f"greatest arm to {side.side}", f"{arm} at {show.heel(top.heel_deg)}"))
        rows.append(
            (f"area from rest to {side.side}", f"{show.number(side.area_mm_rad, 2)} mm·rad")
        )
        if side.beyond_model_deg is not None:
            rows.append((f"wing in the water to {side.side}", show.heel(side.beyond_model_deg)))
    for jump in answer.jumps:
        trims = f"{show.trim(jump.trim_before_deg)} → {show.trim(jump.trim_after_deg)}"
        rows.append((f"trim jumps at {show.heel(jump.heel_deg)}", trims))
    return rows


def _opening_rows(answer: RightingAnswer) -> Rows:
    """Return the heels at which each opening goes under."""
    return [
        (
            f"{shown_name(one.name, size=False)} ({state_words(one.state)})"[:_LONGEST],
            f"{_heel(one.starboard_deg)}; {_heel(one.port_deg)}",
        )
        for one in answer.openings
    ]


def _float_rows(one: FloatReport) -> Rows:
    """Return what one float does."""
    gap = one.gap_at_rest_mm
    way = "above the water" if gap >= 0.0 else "under water"
    rows: Rows = [
        ("volume, reach", f"{show.volume(one.volume_cm3)}, {show.length(one.reach_mm)}"),
        ("lowest point at rest", f"{show.length(abs(gap))} {way}"),
        ("touches at", _heel(one.touches_deg)),
        (
            "wholly under at",
            f"{_heel(one.under_deg)}{' (beyond the model)' if one.under_beyond_model else ''}",
        ),
    ]
    for label, moment in (
        ("its moment there, righting", one.righting_moment_g_mm),
        ("all other buoyancy, upsetting", one.upsetting_moment_g_mm),
        ("wind and turn, upsetting", one.load_moment_g_mm),
    ):
        if moment is not None:
            rows.append((label, show.moment(moment)))
    if one.ratio is not None:
        reference = "former 14 CFR 23.757, full size: 1.5"
        rows.append(("righting over upsetting", show.number(one.ratio, 2)))
        rows.append(("", reference))
    for size in one.sizes:
        volume = (
            "none up to ten times its own"
            if size.least_volume_cm3 is None
            else show.volume(size.least_volume_cm3)
        )
        reach = "none" if size.least_reach_mm is None else show.length(size.least_reach_mm)
        rows.append((f"least volume for {size.factor:g}", volume))
        rows.append((f"least reach for {size.factor:g}", reach))
    return rows


def _upset_rows(answer: RightingAnswer) -> Rows:
    """Return what upsets her and what it does on both sides."""
    upset = answer.upset
    if upset is None:
        return []
    rows: Rows = _wrapped("loads", upset_words(upset))
    wind = upset.wind
    if wind is not None:
        side = wind.side
        given = "given" if side.given else "of the meshes"
        rows += [
            ("side area above the water", f"{show.area(side.area_cm2)}, {given}"),
            ("its center above the water", show.length(side.center_height_mm)),
            ("center of the side under water, depth", show.length(side.center_depth_mm)),
            (
                "drag coefficient, density of air",
                f"{wind.drag_coefficient:g}, {wind.air_density_kg_m3:g} kg/m³",
            ),
            ("moment of the wind, upright", f"{show.number(wind.moment_n_mm, 2)} N·mm"),
        ]
    if upset.turn is not None:
        rows.append(("moment of the turn", f"{show.number(upset.turn.moment_n_mm, 2)} N·mm"))
    for one in upset.pushed:
        rows += _pushed_rows(one)
    return rows


def _pushed_rows(one: PushedReport) -> Rows:
    """Return what the loads do on one side."""
    where = "nothing holds her" if one.heel_deg is None else show.heel(one.heel_deg)
    beyond = " (beyond the model)" if one.beyond_model else ""
    rows: Rows = [(f"pushed to {one.side}, she stands at", f"{where}{beyond}")]
    if one.float_dry_share is not None:
        dry = f"{show.number(100.0 * one.float_dry_share, 0)} %"
        rows.append(("  of that side's float above the water", dry))
    if one.lowest_opening is not None and one.lowest_opening_mm is not None:
        name = shown_name(one.lowest_opening, size=False)
        rows.append((f"  {name}"[:_LONGEST], f"{show.length(one.lowest_opening_mm)} above"))
    for event in one.events:
        rows.append((f"  {shown_name(event.name, size=False)}"[:_LONGEST], event_words(event)))
    return rows


def _push_rows(answer: RightingAnswer) -> Rows:
    """Return what happens when a wing tip is pushed to the water."""
    rows: Rows = []
    for one in answer.push_down:
        back = (
            "does not come back"
            if one.returns_to_deg is None
            else f"back to {show.heel(one.returns_to_deg)}"
        )
        rows.append(
            (
                f"{one.to}, {show.mass(one.mass_g)}"[:_LONGEST],
                f"{show.angle(abs(one.heel_deg))}; {back}",
            )
        )
    return rows


def _thrust_rows(answer: RightingAnswer) -> Rows:
    """Return trim and bow freeboard over thrust."""
    if answer.thrust is None:
        return []
    rows: Rows = []
    for row in answer.thrust.rows:
        for where, found in (("waterline", row.at_waterline), ("keel", row.at_keel)):
            value = "her bow goes under"
            if found is not None:
                bow, disc = found.bow_freeboard_mm, found.propeller_clearance_mm
                value = f"{show.trim(found.trim_deg)}, {show.length(bow)}, {show.length(disc)}"
            rows.append((f"{show.mass(row.thrust_g)}, held at the {where}", value))
    for where, grams in (
        ("waterline", answer.thrust.bow_under_at_waterline_g),
        ("keel", answer.thrust.bow_under_at_keel_g),
    ):
        if grams is not None:
            rows.append((f"bow under, held at the {where}, from", show.mass(grams)))
    return rows


def _wrapped(label: str, text: str) -> Rows:
    """Return a long value over as many rows as it needs."""
    lines = textwrap.wrap(text, _VALUE) or [""]
    return [(label if i == 0 else "", line) for i, line in enumerate(lines)]


def _rest_rows(answer: RightingAnswer) -> Rows:
    """Return every stable attitude with what is wet in it."""
    rows: Rows = []
    for one in answer.attitudes:
        label = "beyond the model" if one.beyond_model else one.rest
        rows.append((label, f"{show.heel(one.heel_deg)}, {show.trim(one.trim_deg)}"))
        rows += _wrapped("  wet", ", ".join(one.wet))
        if one.openings_under:
            names = ", ".join(shown_name(name, size=False) for name in one.openings_under)
            rows += _wrapped("  openings under", names)
    return rows
