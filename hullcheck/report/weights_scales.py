"""Scales, coats and soaked walls in words."""

from hullcheck.answers.coats_records import CoatsAnswer
from hullcheck.answers.scales_records import LedgerCheck, ScalesReport
from hullcheck.answers.weights_records import Cost
from hullcheck.report import table_values as show
from hullcheck.report.numbers import arm_text, mass_text, station_text
from hullcheck.report.weights_words import cost_words, fitted, grams_text, known_text

Rows = list[tuple[str, str]]
_AXES = ("x", "y", "z")


def scales_rows(report: ScalesReport | None, check: LedgerCheck | None) -> Rows:
    """Return what scales say, and that against the ledger, as labeled lines."""
    if report is None or check is None:
        return []
    mass = known_text(show.mass(report.mass_g), show.mass(report.plus_minus_g))
    return [("Scales", f"{mass}; CG {_center_words(report)}"), ("Ledger", _verdict(check))]


def _center_words(report: ScalesReport) -> str:
    """Return the center that scales tell: "station 251 ± 1 mm, 58 ± 6 mm up"."""
    words = []
    for axis in (0, 2, 1):
        value, about = report.center_of_gravity_mm[axis], report.center_plus_minus_mm[axis]
        if value is None or (axis == 1 and abs(value) < 0.5):
            continue
        text = show.length(abs(value) if axis == 1 else value)
        text = known_text(text, show.length(about)) if about is not None else text
        if axis == 1:
            words.append(f"{text} to {'starboard' if value > 0.0 else 'port'}")
        else:
            words.append(f"station {text}" if axis == 0 else f"{text} up")
    return ", ".join(words) or "not told"


def _verdict(check: LedgerCheck) -> str:
    """Return how scales and ledger agree, in a line."""
    if check.missing is not None:
        missing = check.missing
        way = "more" if check.more_g > 0.0 else "less"
        place, spread = missing.center_mm[0], missing.center_plus_minus_mm[0]
        grams = known_text(show.mass(abs(check.more_g)), show.mass(check.more_plus_minus_g))
        text = f"{grams} {way} than it lists"
        if place is None:
            return text
        where = f", centered at station {station_text(place)}"
        where += f" ± {arm_text(spread)}" if spread is not None else ""
        return fitted((text + where + (": off her" if missing.outside else ""), text))
    if check.verdict == "center differs":
        return f"mass agrees; the CG lies {_apart(check)} of where it says"
    off, about = check.center_differs_mm[0], grams_text(check.more_plus_minus_g)
    moved = "" if off is None else f", {arm_text(abs(off))} of CG"
    return f"agrees: {grams_text(check.more_g)}{moved} apart, within ± {about}"


def _apart(check: LedgerCheck) -> str:
    """Return how far and which way the center is off where that is more than its ±."""
    ways = (("aft", "forward"), ("to starboard", "to port"), ("above", "below"))
    said = []
    for off, about, (more, less) in zip(
        check.center_differs_mm, check.center_differs_plus_minus_mm, ways, strict=True
    ):
        if off is not None and about is not None and abs(off) > about:
            said.append(f"{arm_text(abs(off))} {more if off > 0.0 else less}")
    return " and ".join(said)


def coats_row(answer: CoatsAnswer | None) -> Rows:
    """Return what coats and soaked walls add and do, as a labeled line."""
    if answer is None:
        return []
    cost = Cost(
        freeboard_mm=answer.freeboard_changes_mm,
        trim_deg=answer.trim_changes_deg,
        heel_deg=answer.heel_changes_deg,
        center_of_gravity_mm=answer.center_moves_mm,
    )
    moved = answer.center_moves_mm[0]
    way = "aft" if moved > 0.0 else "forward"
    mass = f"+{grams_text(answer.mass_g)}"
    words = cost_words(cost, answer.after.at)
    cg = f", CG {show.length(abs(moved))} {way}"
    return [("Added", fitted((f"{mass}: {words}{cg}", f"{mass}: {words}", mass)))]


def scales_lines(report: ScalesReport | None, check: LedgerCheck | None) -> list[str]:
    """Return scales and ledger side by side for the table behind --all."""
    if report is None or check is None:
        return []
    lines = ["", f"{'SCALES':<24}{'scales':>14}{'±':>9}{'ledger':>12}{'apart':>10}{'±':>9}"]
    cells = (
        show.mass(report.mass_g),
        show.mass(report.plus_minus_g),
        show.mass(check.ledger_mass_g),
        show.mass(check.more_g),
        show.mass(check.more_plus_minus_g),
    )
    lines.append(_line("mass", cells))
    for number, axis in enumerate(_AXES):
        value = report.center_of_gravity_mm[number]
        if value is None:
            continue
        ledger = check.ledger_center_mm
        cells = (
            show.length(value),
            _or_dash(report.center_plus_minus_mm[number]),
            _or_dash(None if ledger is None else ledger[number]),
            _or_dash(check.center_differs_mm[number]),
            _or_dash(check.center_differs_plus_minus_mm[number]),
        )
        lines.append(_line(f"CG {axis}", cells))
    if abs(report.correction_mm) > 0.05:
        lines.append(
            f"Her attitude moves the station by {show.length(report.correction_mm)}; height of the "
            f"CG {report.height_from}."
        )
    return lines


def _line(label: str, cells: tuple[str, ...]) -> str:
    """Return a line of scales against ledger."""
    widths = (14, 9, 12, 10, 9)
    return f"{label:<24}" + "".join(f"{c:>{w}}" for c, w in zip(cells, widths, strict=True))


def _or_dash(value_mm: float | None) -> str:
    """Return a length, or a dash."""
    return "–" if value_mm is None else show.length(value_mm)


def coats_lines(answer: CoatsAnswer | None) -> list[str]:
    """Return what is added part by part for the table behind --all."""
    if answer is None:
        return []
    lines = ["", f"{'ADDED':<36}{'area':>12}{'mass':>12}{'at station':>12}"]
    for one in answer.added:
        name = one.body if one.part is None else f"{one.body}: {one.part}"
        area, mass = show.area(one.area_cm2), show.mass(one.mass_g)
        station = show.bare_length(one.center_mm[0])
        lines.append(f"{fitted((name,), 35):<36}{area:>12}{mass:>12}{station:>12}")
    station = show.bare_length(answer.center_mm[0])
    total = f"{'together':<48}{show.mass(answer.mass_g):>12}{station:>12}"
    before, after = answer.before, answer.after
    lines.append(total)
    if before.freeboard_mm is not None and after.freeboard_mm is not None:
        lines.append(
            f"Freeboard {show.length(before.freeboard_mm)} before, "
            f"{show.length(after.freeboard_mm)} after; mass {mass_text(after.mass_g)}."
        )
    return lines
