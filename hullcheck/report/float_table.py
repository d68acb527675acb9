"""Where she floats, every number: the table behind --all."""

import math
from typing import Final

from hullcheck.answers.float_records import FloatAnswer, Pair, Point, StepReport
from hullcheck.report.float_text import first_screen
from hullcheck.report.numbers import MINUS

_LABEL: Final = 40
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
        ("In the water", _water_rows(answer)),
        ("Attitude", _attitude_rows(answer)),
        ("Held level at this mass", _level_rows(answer)),
        ("Heights and drafts", _height_rows(answer)),
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


def number(value: float, decimals: int = 1) -> str:
    """Return a number with so many decimals and a true minus."""
    text = f"{value:.{decimals}f}"
    return text.replace("-", MINUS) if float(text) != 0.0 else text.lstrip("-")


def _mm(value: float) -> str:
    """Return a length."""
    return f"{number(value)} mm"


def _deg(value: float) -> str:
    """Return an angle."""
    return f"{number(value)}°"


def _trim(value: float) -> str:
    """Return a trim with its side in words."""
    return f"{number(abs(value))}° bow {'up' if value >= 0.0 else 'down'}"


def _heel(value: float) -> str:
    """Return a heel with its side in words."""
    if round(value, 1) == 0.0:
        return "0.0° across"
    return f"{number(abs(value))}° to {'starboard' if value > 0.0 else 'port'}"


def _place(point: Point) -> str:
    """Return a point in body axes."""
    return f"({', '.join(number(v) for v in point)}) mm"


def _pair(values: Pair) -> str:
    """Return across and along."""
    return f"{number(values.transverse)} mm across, {number(values.longitudinal)} mm along"


def _rows(*entries: tuple[str, str | None]) -> Rows:
    """Return the entries that have a value."""
    return [(label, value) for label, value in entries if value is not None]


def _water_rows(answer: FloatAnswer) -> Rows:
    """Return mass, water and displacement."""
    volume, reserve = answer.displaced_volume_cm3, answer.reserve_buoyancy
    left = None
    if reserve is not None and reserve.to_first_opening_cm3 is not None:
        left = (
            f"{number(reserve.to_first_opening_cm3, 0)} cm³, "
            f"{number(reserve.to_first_opening_percent or 0.0, 0)} % of the weight"
        )
    wetted = answer.wetted_area_cm2
    return _rows(
        ("mass", f"{number(answer.mass_g)} g"),
        ("density of the water", f"{number(answer.water.density_kg_m3, 2)} kg/m³"),
        ("displaced volume", None if volume is None else f"{number(volume)} cm³"),
        ("wetted area", None if wetted is None else f"{number(wetted)} cm²"),
        ("reserve up to the lowest edge", left),
        (
            "whole skin over displaced volume",
            None if reserve is None else number(reserve.envelope_ratio, 2),
        ),
    )


def _attitude_rows(answer: FloatAnswer) -> Rows:
    """Return the attitude and the plane."""
    line, center = answer.waterline, answer.center_of_gravity_mm
    buoyancy = answer.center_of_buoyancy_mm
    if line is None or answer.trim_deg is None or answer.heel_deg is None:
        return []
    return _rows(
        ("trim", _trim(answer.trim_deg)),
        ("heel", _heel(answer.heel_deg)),
        ("CG (x aft, y starboard, z up)", None if center is None else _place(center)),
        ("CB", None if buoyancy is None else _place(buoyancy)),
        ("water surface: normal", f"({', '.join(number(v, 5) for v in line.normal)})"),
        ("water surface: height along it", _mm(line.height_mm)),
    )


def _level_rows(answer: FloatAnswer) -> Rows:
    """Return what holding her level says."""
    level = answer.level
    if level is None:
        return []
    aft = level.cg_aft_of_cb_mm
    return _rows(
        ("draft to the lowest point", _mm(level.draft_mm)),
        ("CB, where the CG must be", _place(level.center_of_buoyancy_mm)),
        ("CG aft of it", None if aft is None else _mm(aft)),
        ("highest z of the CG, upright", _mm(math.floor(10.0 * level.highest_cg_z_mm) / 10.0)),
    )


def _height_rows(answer: FloatAnswer) -> Rows:
    """Return heights above the water and drafts."""
    board, drafts = answer.freeboard_mm, answer.draft_mm
    if board is None or drafts is None:
        return []
    rows = [(point.name, f"{_mm(point.height_mm)} above the water") for point in board.points]
    for name in ("deepest", "bow", "step", "stern"):
        depth = getattr(drafts, name)
        if depth is not None:
            rows.append((f"keel under water, {name}", _mm(depth)))
    return rows


def _plane_rows(answer: FloatAnswer) -> Rows:
    """Return the waterplane and what a load does."""
    plane, sinkage = answer.waterplane, answer.sinkage_g_per_mm
    if plane is None or sinkage is None:
        return []
    trim, heel = answer.moment_to_trim_g_mm_per_deg, answer.moment_to_heel_g_mm_per_deg
    return _rows(
        ("area", f"{number(plane.area_cm2)} cm²"),
        ("length × beam, over all bodies", f"{number(plane.length_mm)} × {_mm(plane.beam_mm)}"),
        ("center of flotation", _place(plane.centroid_mm)),
        ("grams that sink her 1 mm", f"{number(sinkage)} g"),
        ("moment that trims her 1°", None if trim is None else f"{number(trim, 0)} g·mm"),
        ("moment that heels her 1°", None if heel is None else f"{number(heel, 0)} g·mm"),
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
    return _rows(
        ("keel corner: station, z", f"{number(step.station_mm)}, {number(step.keel_z_mm)} mm"),
        ("depth", _mm(step.depth_mm)),
        ("behind the CG", None if behind is None else _mm(behind)),
        ("the same, from the keel's normal", None if angle is None else _deg(angle)),
        (
            "forebody keel, rising aft",
            f"{_deg(step.forebody_keel_angle_deg)} over {_mm(step.forebody_fit_mm)}",
        ),
        (
            "afterbody keel, rising aft",
            f"{_deg(step.afterbody_keel_angle_deg)} over {_mm(step.afterbody_fit_mm)}",
        ),
        (
            "sternpost: station, z",
            f"{number(step.sternpost_station_mm)}, {number(step.sternpost_z_mm)} mm",
        ),
        ("sternpost angle, to the forebody keel", _deg(step.sternpost_angle_deg)),
        ("forebody length", _mm(step.forebody_length_mm)),
        ("greatest beam over the chines", None if beam is None else _mm(beam)),
        ("deadrise at the step", None if deadrise is None else _deg(deadrise)),
    )


def _body_rows(answer: FloatAnswer) -> Rows:
    """Return what each body carries."""
    rows: Rows = []
    for body in answer.bodies:
        text = f"{number(body.volume_cm3)} cm³"
        if body.displaced_volume_cm3 is not None:
            text += f", {number(body.displaced_volume_cm3)} in the water"
        rows.append((f"{body.name} ({body.role})", text))
    return rows


def _rest_rows(answer: FloatAnswer) -> Rows:
    """Return the stable attitudes found."""
    return [(a.rest, f"{_trim(a.trim_deg)}, {_heel(a.heel_deg)}") for a in answer.attitudes]


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
