"""Where she floats, every number: the table behind --all."""

import math
from typing import Final

from hullcheck.answers.float_records import FloatAnswer, HeightPoint, Pair, StepReport
from hullcheck.report import table_values as show
from hullcheck.report.float_text import first_screen
from hullcheck.report.limit_words import limit_words, margin_end
from hullcheck.report.numbers import sinkage_parts
from hullcheck.report.plus_minus import grams_plus_minus
from hullcheck.report.words import shown_name, state_words

_LABEL: Final = 40
_LONGEST: Final = 38
Rows = list[tuple[str, str]]


def all_lines(answer: FloatAnswer) -> list[str]:
    """Return the first screen and then every number of the answer, in blocks.

    Parameters
    ----------
    answer : FloatAnswer
        Where she floats.

    Returns
    -------
    list of str
        At most 80 characters each; what has no answer is left out.
    """
    lines = first_screen(answer)
    blocks = [
        ("Weight", _load_rows(answer)),
        ("In the water", _water_rows(answer)),
        ("Attitude", _attitude_rows(answer)),
        ("Held level at this mass", _level_rows(answer)),
        ("Heights and drafts", _height_rows(answer)),
        ("Limits", _limit_rows(answer)),
        ("Waterplane", _plane_rows(answer)),
        ("Stability", _stability_rows(answer)),
        ("Step and bottom", _step_rows(answer.step)),
        ("Bodies", _body_rows(answer)),
        ("Stable attitudes", _rest_rows(answer)),
        ("How well it balances", _residual_rows(answer)),
    ]
    for title, rows in blocks:
        if rows:
            lines += ["", title]
            lines += [f"  {label:<{_LABEL}}{value}" for label, value in rows]
    return lines


def _rows(*entries: tuple[str, str | None]) -> Rows:
    """Return the entries that have a value."""
    return [(label, value) for label, value in entries if value is not None]


def _pair(values: Pair) -> str:
    """Return across and along."""
    return f"{show.length(values.transverse)} across, {show.length(values.longitudinal)} along"


def _load_rows(answer: FloatAnswer) -> Rows:
    """Return where mass and center come from."""
    load = answer.load
    if load is None:
        return []
    target, listed = load.target_mass_g, load.ledger_mass_g
    center, band = load.ledger_center_of_gravity_mm, load.cg_range_mm
    off = None if target is None else answer.mass_g - target
    return _rows(
        ("mass comes from", "the scale" if load.mass_is_measured else "the ledger"),
        ("known to", show.mass(load.plus_minus_g)),
        ("items in the ledger, weighed", f"{load.items}, {load.weighed}" if load.items else None),
        ("the ledger's sum", None if listed is None else show.mass(listed)),
        ("the ledger's CG", None if center is None else show.place(center)),
        (
            "against the target",
            None
            if off is None
            else f"{show.mass(abs(off))} {'over' if off >= 0.0 else 'under'} "
            f"{show.mass(answer.mass_g - off)}",
        ),
        (
            "stations her CG must lie between",
            None if band is None else f"{show.bare_length(band[0])} to {show.length(band[1])}",
        ),
    )


def _water_rows(answer: FloatAnswer) -> Rows:
    """Return mass, water and displacement."""
    volume, reserve = answer.displaced_volume_cm3, answer.reserve_buoyancy
    left = None
    if reserve is not None and reserve.to_first_opening_cm3 is not None:
        left = (
            f"{show.volume(reserve.to_first_opening_cm3)}, "
            f"{show.number(reserve.to_first_opening_percent or 0.0, 0)} % of the weight"
        )
    wetted = answer.wetted_area_cm2
    edge = reserve is None or str(reserve.limited_by).startswith("top of the hull")
    return _rows(
        ("mass", show.mass(answer.mass_g)),
        ("density of the water", f"{show.number(answer.water.density_kg_m3, 2)} kg/m³"),
        ("displaced volume", None if volume is None else show.volume(volume)),
        ("wetted area", None if wetted is None else show.area(wetted)),
        (f"reserve up to the {'lowest edge' if edge else 'first opening'}", left),
        (
            "whole skin over displaced volume",
            None if reserve is None else show.number(reserve.envelope_ratio, 2),
        ),
    )


def _attitude_rows(answer: FloatAnswer) -> Rows:
    """Return the attitude and the plane."""
    line, center = answer.waterline, answer.center_of_gravity_mm
    buoyancy = answer.center_of_buoyancy_mm
    if line is None or answer.trim_deg is None or answer.heel_deg is None:
        return []
    return _rows(
        ("trim", show.trim(answer.trim_deg)),
        ("heel", show.heel(answer.heel_deg)),
        ("CG (x aft, y starboard, z up)", None if center is None else show.place(center)),
        ("CB", None if buoyancy is None else show.place(buoyancy)),
        ("water surface: normal", f"({', '.join(show.number(v, 5) for v in line.normal)})"),
        ("water surface: height along it", show.length(line.height_mm)),
    )


def _level_rows(answer: FloatAnswer) -> Rows:
    """Return what holding her level says."""
    level = answer.level
    if level is None:
        return []
    aft = level.cg_aft_of_cb_mm
    highest = math.floor(10.0 * level.highest_cg_z_mm) / 10.0
    return _rows(
        ("draft to the lowest point", show.length(level.draft_mm)),
        ("CB, where the CG must be", show.place(level.center_of_buoyancy_mm)),
        ("CG aft of it", None if aft is None else show.length(aft)),
        ("highest z of the CG, upright", show.length(highest)),
    )


def _height_rows(answer: FloatAnswer) -> Rows:
    """Return heights above the water, clearances and drafts."""
    board, drafts = answer.freeboard_mm, answer.draft_mm
    if board is None or drafts is None:
        return []
    rows = [(_named(p), _height(p)) for p in (*board.points, *answer.clearances_mm)]
    for name in ("deepest", "bow", "step", "stern"):
        depth = getattr(drafts, name)
        if depth is not None:
            rows.append((f"keel under water, {name}", show.length(depth)))
    return rows


def _named(point: HeightPoint) -> str:
    """Return a point's name with an opening's state, as long as the column is wide."""
    name = shown_name(point.name)
    whole = f"{name}, {state_words(point.state)}" if point.what == "opening" else name
    return whole if len(whole) <= _LONGEST else f"{whole[: _LONGEST - 1]}…"


def _height(point: HeightPoint) -> str:
    """Return a height in words."""
    where = "above the water" if point.height_mm >= 0.0 else "under water"
    return f"{show.length(abs(point.height_mm))} {where}"


def _limit_rows(answer: FloatAnswer) -> Rows:
    """Return the limits with their values, and the grams left."""
    rows: Rows = []
    for check in answer.limits:
        name, _, unit = check.name.rpartition("_")
        value = "none"
        if check.value is not None:
            value = show.length(check.value) if unit == "mm" else show.angle(check.value)
        rows.append((name.replace("_", " "), f"{value}{limit_words(answer, check.name)}"))
    if answer.margin_g is not None:
        about = grams_plus_minus(answer)
        grams = show.mass(answer.margin_g) + ("" if about is None else f" ± {show.mass(about)}")
        rows += [("grams left", grams), ("they end as", margin_end(answer))]
    return rows


def _plane_rows(answer: FloatAnswer) -> Rows:
    """Return the waterplane and what a load does."""
    plane, sinkage = answer.waterplane, answer.sinkage_g_per_mm
    if plane is None or sinkage is None:
        return []
    trim, heel = answer.moment_to_trim_g_mm_per_deg, answer.moment_to_heel_g_mm_per_deg
    grams, depth = sinkage_parts(sinkage)
    size = f"{show.bare_length(plane.length_mm)} × {show.length(plane.beam_mm)}"
    return _rows(
        ("area", show.area(plane.area_cm2)),
        ("length × beam, over all bodies", size),
        ("center of flotation", show.place(plane.centroid_mm)),
        (f"load that sinks her {depth}", grams if depth != "1 mm" else show.mass(sinkage)),
        ("moment that trims her 1°", None if trim is None else show.moment(trim)),
        ("moment that heels her 1°", None if heel is None else show.moment(heel)),
    )


def _stability_rows(answer: FloatAnswer) -> Rows:
    """Return the metacentric heights."""
    lever, radius = answer.metacentric_height_mm, answer.metacentric_radius_mm
    said = {True: "yes", False: "no", None: None}
    return _rows(
        ("upright is stable", said[answer.upright_is_stable]),
        ("rest is stable", said[answer.stable]),
        ("GM", None if lever is None else _pair(lever)),
        ("BM", None if radius is None else _pair(radius)),
    )


def _step_rows(step: StepReport | None) -> Rows:
    """Return the step and the bottom around it."""
    if step is None:
        return []
    behind, angle = step.behind_cg_mm, step.angle_from_cg_deg
    beam, deadrise = step.beam_over_chines_mm, step.deadrise_deg
    corner = f"{show.bare_length(step.station_mm)}, {show.length(step.keel_z_mm)}"
    post = f"{show.bare_length(step.sternpost_station_mm)}, {show.length(step.sternpost_z_mm)}"
    fore = f"{show.angle(step.forebody_keel_angle_deg)} over {show.length(step.forebody_fit_mm)}"
    after = f"{show.angle(step.afterbody_keel_angle_deg)} over {show.length(step.afterbody_fit_mm)}"
    return _rows(
        ("keel corner: station, z", corner),
        ("depth", show.length(step.depth_mm)),
        ("behind the CG", None if behind is None else show.length(behind)),
        ("the same, from the keel's normal", None if angle is None else show.angle(angle)),
        ("forebody keel, rising aft", fore),
        ("afterbody keel, rising aft", after),
        ("sternpost: station, z", post),
        ("sternpost angle, to the forebody keel", show.angle(step.sternpost_angle_deg)),
        ("forebody length", show.length(step.forebody_length_mm)),
        ("greatest beam over the chines", None if beam is None else show.length(beam)),
        ("deadrise at the step", None if deadrise is None else show.angle(deadrise)),
    )


def _body_rows(answer: FloatAnswer) -> Rows:
    """Return what each body carries."""
    rows: Rows = []
    for body in answer.bodies:
        text = show.volume(body.volume_cm3)
        if body.error_cm3 is not None:
            text += f" ± {show.volume(body.error_cm3)}"
        if body.displaced_volume_cm3 is not None:
            text += f", {show.volume(body.displaced_volume_cm3)} in the water"
        rows.append((f"{body.name} ({body.role})", text))
    return rows


def _rest_rows(answer: FloatAnswer) -> Rows:
    """Return the stable attitudes found."""
    return [(a.rest, f"{show.trim(a.trim_deg)}, {show.heel(a.heel_deg)}") for a in answer.attitudes]


def _residual_rows(answer: FloatAnswer) -> Rows:
    """Return what is left of the balance."""
    residual, closure = answer.residual, answer.closure_error_cm2
    if residual is None or closure is None:
        return []
    moment = residual.moment_g_mm
    return _rows(
        ("mass left over, over every triangle", f"{residual.mass_g:.1e} g"),
        ("moment left over", None if moment is None else f"{moment:.1e} g·mm"),
        ("closure of the wet skin", f"{closure:.1e} cm²"),
    )
