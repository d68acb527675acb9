"""Where an item may sit, with every place that was tried: the table behind --all."""

from typing import Final

from hullcheck.answers.place_records import BallastCost, PlaceAnswer, PlaceInterval, PlaceRow
from hullcheck.report import table_values as show
from hullcheck.report.display import shown
from hullcheck.report.place_text import costs_words, cut, first_screen
from hullcheck.report.place_words import band_words, end_words, kept_words, point_words

_LABEL: Final = 34
_BROKEN: Final = {
    "cg_range_mm": "CG out",
    "trim_deg": "trim",
    "heel_deg": "list",
    "freeboard_mm": "freeboard",
    "capsizes": "falls over",
    "sinks": "sinks",
}
Rows = list[tuple[str, str]]


def all_lines(answer: PlaceAnswer) -> list[str]:
    """Return the first screen, every interval with its ends, and every place that was tried.

    Parameters
    ----------
    answer : PlaceAnswer
        Where an item may sit.

    Returns
    -------
    list of str
        At most 80 characters each.
    """
    blocks: list[tuple[str, Rows]] = [
        ("Asked", _asked_rows(answer)),
        *(
            (f"Along, interval {i}", _interval_rows(one, "station"))
            for i, one in enumerate(answer.intervals, start=1)
        ),
        *(
            (f"Across at the best station, interval {i}", _interval_rows(one, "y"))
            for i, one in enumerate(answer.across, start=1)
        ),
        ("Where she floats level", _level_rows(answer)),
        ("Ballast", _ballast_rows(answer)),
    ]
    lines = first_screen(answer)
    for name, rows in blocks:
        if rows:
            lines += ["", name, *(cut(f"  {label:<{_LABEL}} {text}") for label, text in rows)]
    return lines + _scan_lines(answer)


def _asked_rows(answer: PlaceAnswer) -> Rows:
    """Return what was asked and what is held."""
    low, high = (show.length(x) for x in answer.along_mm)
    room = "its box (within_mm)" if answer.along == "within_mm" else "the hull's length"
    per = show.number(answer.cg_moves_mm_per_mm, 3)
    band = "not given" if answer.cg_range_mm is None else band_words(answer.cg_range_mm)
    rows = [
        ("item", f"{show.mass(answer.item_mass_g)}, {answer.item_mass_from}"),
        ("she with it", show.mass(answer.mass_g)),
        ("taken along", f"{low} to {high}, {room}"),
        ("at", f"y {show.length(answer.y_mm)}, z {show.length(answer.z_mm)}"),
        ("floated every", f"{show.length(answer.step_mm)}; ends found by root finding"),
        ("her CG moves", f"{per} of what the item does"),
        ("band of her CG, stations", band),
    ]
    for check in answer.limits:
        name, _, unit = check.name.rpartition("_")
        ends = check.limit if isinstance(check.limit, tuple) else (check.limit,)
        text = show.length if unit == "mm" else show.angle
        rows.append((f"limit of {name}", " to ".join(text(end) for end in ends)))
    return rows


def _interval_rows(one: PlaceInterval, what: str) -> Rows:
    """Return an interval's ends, how well each is known, and what ends it."""
    rows = []
    for name, end in (("from", one.first), ("to", one.last)):
        about = "" if end.plus_minus_mm is None else f" ± {show.bare_length(end.plus_minus_mm)}"
        value = f"{show.bare_length(end.at_mm)}{about} {shown().length}"
        rows.append((f"{name} {what}", value))
        cg = end.cg_x_mm if what == "station" else end.cg_y_mm
        rows.append(("  ended by", end_words(end)))
        rows.append(("  her CG there", f"{what} {show.length(cg)}"))
    return rows


def _level_rows(answer: PlaceAnswer) -> Rows:
    """Return where level wants her CG, and the item for that."""
    if answer.level_cg_x_mm is None or answer.level_at_mm is None:
        return []
    state = "holds" if answer.level_holds else "outside what holds"
    return [
        ("her CG at station", show.length(answer.level_cg_x_mm)),
        ("the item at station", f"{show.length(answer.level_at_mm)}, {state}"),
    ]


def _ballast_rows(answer: PlaceAnswer) -> Rows:
    """Return the least ballast with its cost, and the arms of nose and tail."""
    rows = []
    if answer.arms is not None:
        arms = answer.arms
        rows = [
            ("1 g at the tail takes in the nose", f"{show.number(arms.nose_per_tail, 2)} g"),
            ("  about a CG at station", show.length(arms.wanted_cg_x_mm)),
            ("  nose at", show.place(arms.nose_mm)),
            ("  tail at", show.place(arms.tail_mm)),
            ("  nose arm, tail arm", " and ".join(
                show.length(v) for v in (arms.nose_arm_mm, arms.tail_arm_mm)
            )),
        ]  # fmt: skip
    return rows if answer.ballast is None else [*rows, *_cost_rows(answer.ballast)]


def _cost_rows(ballast: BallastCost) -> Rows:
    """Return what ballast is and costs."""
    rows = [
        ("least", show.mass(ballast.mass_g)),
        ("at", show.place(ballast.center_mm)),
        ("inside the outer skin", "yes" if ballast.inside_skin else "no"),
        ("the item meanwhile at station", show.length(ballast.aboard.x_mm)),
        ("kept with nothing to spare",
            kept_words(ballast.limited_by, ballast.way, ballast.limit)),
        ("costs", costs_words(ballast)),
    ]  # fmt: skip
    if ballast.freeboard_cost_mm is not None:
        rows.append(("  freeboard lost", show.length(ballast.freeboard_cost_mm)))
    if ballast.trim_change_deg is not None:
        rows.append(("  trim turned", show.trim(ballast.trim_change_deg)))
    return rows


def _scan_lines(answer: PlaceAnswer) -> list[str]:
    """Return the places that were tried as a table."""
    unit = shown().length
    lines = [
        "",
        f"{'station':>8} {'CG':>8} {'trim':>15} {'heel':>14} {'dry by':>8}  at, or what breaks",
        f"{unit:>8} {unit:>8} {'':>15} {'':>14} {unit:>8}",
    ]
    return lines + [cut(_scan_line(row)) for row in answer.scan]


def _scan_line(row: PlaceRow) -> str:
    """Return a place of the scan."""
    trim = "–" if row.trim_deg is None else show.trim(row.trim_deg)
    heel = "–" if row.heel_deg is None else show.heel(row.heel_deg)
    height = "–" if row.freeboard_mm is None else show.bare_length(row.freeboard_mm)
    at = "" if row.freeboard_at is None else point_words(row.freeboard_at)
    state = at if row.holds else ", ".join(_BROKEN[name] for name in row.breaks)
    x, cg = show.bare_length(row.x_mm), show.bare_length(row.cg_x_mm)
    return f"{x:>8} {cg:>8} {trim:>15} {heel:>14} {height:>8}  {state}"
