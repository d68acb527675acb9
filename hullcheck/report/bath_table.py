"""The bath test in full: the sheet to take to the tub, and every number behind --all."""

from dataclasses import replace
from typing import Final

from hullcheck.answers.bath_records import Bag, BathAnswer, Share
from hullcheck.answers.bath_tub import AROUND_MM, UNDER_MM
from hullcheck.answers.float_records import Point
from hullcheck.report import table_values as show
from hullcheck.report.bath_found_text import incline_lines, measured_lines
from hullcheck.report.bath_text import abeam_words, first_screen
from hullcheck.report.display import shown

_LABEL: Final = 40
_NAME: Final = 22
_OUT_MM: Final = 10.0
Rows = list[tuple[str, str]]


def all_lines(answer: BathAnswer) -> list[str]:
    """Return the first screen, a sheet of readings, and every number, lines of 80 characters."""
    lines = first_screen(replace(answer, measured=None, incline=None))
    lines += measured_lines(answer) + incline_lines(answer)
    lines += expected_lines(answer) + measured_table(answer) + shift_lines(answer)
    blocks = [
        ("Finished", _share_rows(answer.finished)),
        ("Aboard", _share_rows(answer.aboard)),
        ("Bag", [] if answer.bag is None else _bag_rows(answer.bag, answer.finished.mass_g)),
        ("In the bath", _load_rows(answer)),
        ("Heel", _heel_rows(answer)),
        ("Tub", _tub_rows(answer)),
        ("Found by the readings", _fit_rows(answer)),
        ("Found by inclining", _incline_rows(answer)),
    ]
    for title, rows in blocks:
        if rows:
            lines += ["", title, *(f"  {label:<{_LABEL}}{value}" for label, value in rows)]
    return lines


def _name(text: str, width: int) -> str:
    """Return a name in a column of a width, cut where it is too long."""
    return f"{text if len(text) < width else f'{text[: width - 2]}…':<{width}}"


def expected_lines(answer: BathAnswer) -> list[str]:
    """Return the readings to expect as a sheet with room for what is read."""
    if not answer.readings:
        return []
    head = f"{'Readings to expect':<{_NAME}}{'side':<11}{'along':<8}{'reading':>10}{'±':>7}"
    lines = ["", f"{head}  read ({shown().length})"]
    for one in answer.readings:
        value, about = one.reading_mm, one.plus_minus_mm
        text = "none" if value is None else show.length(value)
        pm = "" if about is None else show.bare_length(about)
        blank = one.meets if value is None else "________"
        lines.append(
            f"{_name(one.mark, _NAME)}{one.side:<11}{one.along:<8}{text:>10}{pm:>7}  {blank}"
        )
    return lines


def measured_table(answer: BathAnswer) -> list[str]:
    """Return what was read beside what explains it."""
    fit = answer.measured
    if fit is None:
        return []
    heads = ("read", "explained", "left over", "others say")
    lines = ["", f"{'Readings measured':<{_NAME}}{'side':<11}{''.join(f'{h:>11}' for h in heads)}"]
    for one in fit.readings:
        others = "–" if one.others_mm is None else show.bare_length(one.others_mm)
        cells = (*(show.bare_length(v) for v in (one.distance_mm, one.explained_mm,
                                                 one.left_over_mm)), others)  # fmt: skip
        row = "".join(f"{cell:>11}" for cell in cells)
        lines.append(f"{_name(one.mark, _NAME)}{one.side:<11}{row}")
    return lines


def shift_lines(answer: BathAnswer) -> list[str]:
    """Return the heels of the inclining beside what explains them."""
    found = answer.incline
    if found is None:
        return []
    heads = ("weight", "arm", "heel", "explained", "left over")
    lines = ["", f"{'Inclining':<{_NAME}}{''.join(f'{head:>11}' for head in heads)}"]
    for one in found.shifts:
        cells = (
            show.mass(one.mass_g),
            show.length(one.arm_mm),
            f"{show.number(one.heel_deg, 2)}°",
            f"{show.number(one.explained_deg, 2)}°",
            f"{show.number(one.left_over_deg, 2)}°",
        )
        lines.append(f"{'':<{_NAME}}{''.join(f'{cell:>11}' for cell in cells)}")
    return lines


def _place(point: Point | None) -> str:
    """Return a place, or that it is not known."""
    return "not known: places are missing in the ledger" if point is None else show.place(point)


def _share_rows(share: Share) -> Rows:
    """Return a part of her."""
    return [
        ("items", str(len(share.items))),
        ("mass", f"{show.mass(share.mass_g)} ± {show.mass(share.plus_minus_g)}"),
        ("center (x, y, z)", _place(share.center_of_gravity_mm)),
    ]


def _bag_rows(bag: Bag, mass_g: float) -> Rows:
    """Return the bag of a craft of a mass."""
    rows = [
        ("mass", f"{show.mass(bag.mass_g)} ± {show.mass(bag.plus_minus_g)}"),
        ("belongs at (x, y, z)", _place(bag.center_of_gravity_mm)),
    ]
    if bag.center_of_gravity_mm is not None:
        rows.append(("abeam", abeam_words(bag.center_of_gravity_mm[1])))
    if bag.lies_at_mm is not None:
        rows.append((f"lies {bag.lies}, at", show.place(bag.lies_at_mm)))
    if bag.bottom_z_mm is not None and bag.top_z_mm is not None:
        skin = f"{show.bare_length(bag.bottom_z_mm)} to {show.length(bag.top_z_mm)}"
        rows.append(("outer skin there, z", skin))
    moved = show.length(_OUT_MM * bag.mass_g / mass_g)
    rows.append((f"{show.length(_OUT_MM)} out of place moves her CG", moved))
    names = iter(bag.stands_for)
    rows.append(("stands for", next(names, "what the ledger lacks")))
    rows += [("", name) for name in names]
    return [(label, value if len(value) < 38 else f"{value[:36]}…") for label, value in rows]


def _load_rows(answer: BathAnswer) -> Rows:
    """Return what floats, and how."""
    load = answer.load
    rows = [
        ("mass", f"{show.mass(load.mass_g)} ± {show.mass(load.plus_minus_g)}"),
        ("center (x, y, z)", _place(load.center_of_gravity_mm)),
    ]
    if answer.weighed_g is not None:
        rows.append(("weighed", show.mass(answer.weighed_g)))
    if answer.rest is not None:
        rows.append(("rests", answer.rest))
    if answer.trim_deg is not None and answer.heel_deg is not None:
        rows += [("trim", show.trim(answer.trim_deg)), ("heel", show.heel(answer.heel_deg))]
    return rows


def _heel_rows(answer: BathAnswer) -> Rows:
    """Return how the bag flatters."""
    heel = answer.heel
    if heel is None:
        return []
    here, finished = heel.in_the_bath, heel.finished
    return [
        ("GM in the bath", show.length(here.metacentric_height_mm)),
        ("GM finished", show.length(finished.metacentric_height_mm)),
        ("too stiff by", show.length(heel.stiffer_by_mm)),
        ("ratio", "none" if heel.ratio is None else show.number(heel.ratio, 2)),
        ("moment to heel 1° in the bath", show.moment(here.moment_to_heel_g_mm_per_deg)),
        ("moment to heel 1° finished", show.moment(finished.moment_to_heel_g_mm_per_deg)),
    ]


def _tub_rows(answer: BathAnswer) -> Rows:
    """Return the tub and what it has to hold."""
    tub = answer.tub
    if tub is None:
        return []
    overall = f"{show.bare_length(tub.overall_length_mm)} × {show.length(tub.overall_width_mm)}"
    return [
        ("inside, at least", f"{show.bare_length(tub.length_mm)} × {show.length(tub.width_mm)}"),
        ("water, at least", f"{show.length(tub.depth_mm)} deep, {show.number(tub.water_l)} l"),
        ("room counted", f"{show.length(AROUND_MM)} all around, {show.length(UNDER_MM)} below"),
        ("waterline, length", show.length(tub.waterline_length_mm)),
        ("waterline, beam", show.length(tub.waterline_beam_mm)),
        ("deepest draft", show.length(tub.draft_mm)),
        ("all bodies, length × width", overall),
    ]


def _fit_rows(answer: BathAnswer) -> Rows:
    """Return what the readings say; every ± is 95 %."""
    fit = answer.measured
    if fit is None:
        return []
    load, lies, quality = fit.load, fit.attitude, fit.quality
    rows = [
        ("verdict", fit.verdict),
        ("load alone", fit.load_verdict),
        ("mass (± 95 %)", f"{show.mass(load.mass_g)} ± {show.mass(load.mass_plus_minus_g)}"),
    ]
    for name, value, about in (
        ("center, x", load.x_mm, load.x_plus_minus_mm),
        ("center, y", load.y_mm, load.y_plus_minus_mm),
    ):
        if value is None or about is None:
            rows.append((name, "not told by these marks"))
        else:
            rows.append((name, f"{show.length(value)} ± {show.length(about)}"))
    for name, angle, about in (
        ("trim", show.trim(lies.trim_deg), lies.trim_plus_minus_deg),
        ("heel", show.heel(lies.heel_deg), lies.heel_plus_minus_deg),
    ):
        text = "taken, not found" if about is None else f"± {show.angle(about)}"
        rows.append((name, f"{angle}, {text}"))
    if fit.excess is not None:
        where = fit.excess
        too_many = f"{show.mass(where.mass_g)} ± {show.mass(where.mass_plus_minus_g)}"
        rows.append(("mass too many", too_many))
        if where.x_mm is not None and where.x_plus_minus_mm is not None:
            at = f"{show.length(where.x_mm)} ± {show.length(where.x_plus_minus_mm)}"
            rows.append(("centered at station", at))
    rows.append(("one reading known to", show.length(quality.reading_mm)))
    left = f"{show.number(quality.chi_square, 2)}, {quality.degrees_of_freedom} to spare"
    if quality.probability is not None:
        p = quality.probability
        left += f", p {'< 0.001' if p < 0.001 else f'= {p:.3f}'}"
    rows.append(("χ² of what is left over", left))
    return rows


def _incline_rows(answer: BathAnswer) -> Rows:
    """Return what the inclining says."""
    found = answer.incline
    if found is None:
        return []
    gm = show.length(found.metacentric_height_mm)
    if found.plus_minus_mm is not None:
        gm = f"{gm} ± {show.length(found.plus_minus_mm)}"
    how = "found" if found.initial_heel_is_fitted else "taken, not found"
    rows = [
        ("weights", "added on top" if found.mode == "added" else "moved across"),
        ("mass", show.mass(found.mass_g)),
        ("GM (± 95 %)", gm),
        ("heel without a weight", f"{show.heel(found.initial_heel_deg)}, {how}"),
    ]
    for name, value in (
        ("KM, from the lowest point", found.metacenter_above_keel_mm),
        ("KG", found.center_above_keel_mm),
        ("center, z", found.center_z_mm),
    ):
        if value is not None:
            rows.append((name, show.length(value)))
    rows.append(("one angle known to", f"{show.number(found.angle_deg, 2)}°"))
    return rows
