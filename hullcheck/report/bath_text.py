"""The bath test in words: the first screen, the answer first."""

import math
from typing import Final

from hullcheck.answers.bath_records import Bag, BathAnswer, ExpectedReading, Tub
from hullcheck.report import table_values as show
from hullcheck.report.bath_found_text import incline_lines, measured_lines
from hullcheck.report.bath_words import cut, fitted, row
from hullcheck.report.display import shown
from hullcheck.report.numbers import arm_text, draft_text, mass_text, plus_minus_text, station_text
from hullcheck.report.words import heel_words, trim_words, water_words

CAUTION: Final = (
    "water and mains do not go together: batteries out, nothing plugged in by the tub, and dry her "
    "through before anything goes in again. This is arithmetic on your files and readings, no "
    "clearance to go on the water."
)
_WIDTH: Final = 80
_CENTER_MM: Final = 0.5
_ALIKE_MM: Final = 0.25
_SAME_MM: Final = 0.05


def first_screen(answer: BathAnswer) -> list[str]:
    """Return the answer in at most seven lines of at most 80 characters.

    Parameters
    ----------
    answer : BathAnswer
        The bath test.

    Returns
    -------
    list of str
        Who she is; then what the readings and the inclining say, where there are any; else the bag,
        how she floats with it, the readings to expect, how the bag flatters, the tub.
    """
    lines = [head_line(answer)]
    if answer.measured is not None and answer.incline is not None:
        return [*lines, *measured_lines(answer, 3), *incline_lines(answer, 3)]
    if answer.measured is not None or answer.incline is not None:
        return [*lines, *measured_lines(answer), *incline_lines(answer)]
    lines.append(bag_sentence(answer))
    if answer.short_by_g is not None:
        over = mass_text(answer.short_by_g)
        return [*lines, f"Sinks: that is {over} more than her skin can carry."]
    if answer.rest == "capsized":
        return [*lines, "Capsizes: with this load she does not stay on her feet."]
    rows = [
        ("Floats", _floats(answer)),
        ("Marks read", readings_words(answer.readings)),
        *_heel_rows(answer),
        ("Tub", "" if answer.tub is None else tub_words(answer.tub)),
    ]
    return lines + [row(label, text) for label, text in rows if text]


def head_line(answer: BathAnswer) -> str:
    """Return who she is, what floats and in what water."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    load = mass_text(answer.load.mass_g if answer.weighed_g is None else answer.weighed_g)
    rest = f" · bath test at {load} · {water_words(answer.water)}"
    room = _WIDTH - len(rest)
    return f"{name if len(name) <= room else f'{name[: room - 1]}…'}{rest}"


def bag_sentence(answer: BathAnswer) -> str:
    """Return which bag, and where it lies, in one sentence."""
    bag = answer.bag
    if bag is None:
        short = answer.finished.mass_g - answer.load.mass_g
        if short > _SAME_MM:
            return f"No bag: what is aboard floats as it is, {mass_text(short)} short of finished."
        return "No bag: everything is aboard."
    grams = f"Bag {plus_minus_text(mass_text(bag.mass_g), bag.plus_minus_g)}"
    center = bag.center_of_gravity_mm
    if center is None:
        return f"{grams}; where it goes is not known: the ledger lacks places (see the notes)."
    at = f"{grams} at station {station_text(center[0])}"
    abeam = abeam_words(center[1])
    lies = _lies(bag)
    bottom = "on the bottom, " if bag.lies == "on the bottom" else ""
    lines = [f"{at}, {abeam}; {bottom}{lies}.", f"{at}, {abeam}; {lies}.", f"{at}, {abeam}."]
    if abs(center[1]) < _CENTER_MM:
        lines.insert(1, f"{at}; {bottom}{lies}.")
    return next((line for line in lines if len(line) <= _WIDTH), cut(lines[-1]))


def abeam_words(y_mm: float) -> str:
    """Return how far abeam a place is: "on the center plane", "12 mm to port"."""
    if abs(y_mm) < _CENTER_MM:
        return "on the center plane"
    return f"{arm_text(abs(y_mm))} to {'starboard' if y_mm > 0.0 else 'port'}"


def _lies(bag: Bag) -> str:
    """Return how the bag lies, and its true height beside it."""
    true, at = bag.center_of_gravity_mm, bag.lies_at_mm
    if true is None or at is None:
        return "no skin lies under that place"
    if bag.lies == "propped":
        return f"propped to z {station_text(true[2])}"
    return f"z {station_text(at[2])}; true height {station_text(true[2])}"


def _floats(answer: BathAnswer) -> str:
    """Return how she floats with the bag."""
    if answer.trim_deg is None or answer.heel_deg is None:
        return ""
    lies = f"{trim_words(answer.trim_deg)}, {heel_words(answer.heel_deg)}"
    on = f"{answer.rest}, " if (answer.rest or "").startswith("on ") else ""
    draft = "" if answer.tub is None else f"; draws {draft_text(answer.tub.draft_mm)}"
    return cut(f"{on}{lies}{draft}")


def readings_words(readings: tuple[ExpectedReading, ...]) -> str:
    """Return the readings to expect in a row, as many as fit, port/starboard where they differ."""
    names = list(dict.fromkeys(reading.mark for reading in readings))
    if not names:
        return ""
    texts = [_mark_words([r for r in readings if r.mark == name]) for name in names]
    known = [r.mean_plus_minus_mm for r in readings if r.mean_plus_minus_mm is not None]
    about = f"; ± {plus_minus_of(max(known))} a pair" if known else ""
    rows = (
        f"{', '.join(texts[:n])}{'' if n == len(texts) else f' … {len(texts) - n} more'}{about}"
        for n in range(len(texts), 0, -1)
    )
    return fitted(rows)


def plus_minus_of(length_mm: float) -> str:
    """Return an uncertainty of a length [mm] in text, without a value before it."""
    return plus_minus_text(f"0 {shown().length}", length_mm).partition("± ")[2]


def _mark_words(readings: list[ExpectedReading]) -> str:
    """Return what to read at one mark."""
    values = [reading.reading_mm for reading in readings]
    if any(value is None for value in values):
        return f"{readings[0].mark} none ({readings[0].meets})"
    known = [value for value in values if value is not None]
    if max(known) - min(known) < _ALIKE_MM:
        return f"{readings[0].mark} {draft_text(math.fsum(known) / len(known))}"
    port, unit = draft_text(known[0]).split(" ")
    return f"{readings[0].mark} {port}/{draft_text(known[1]).split(' ')[0]} {unit}"


def _heel_rows(answer: BathAnswer) -> list[tuple[str, str]]:
    """Return how much the bag flatters heel stability."""
    heel = answer.heel
    if heel is None:
        return []
    here, finished = heel.in_the_bath, heel.finished
    seen, gm = _lever(here.metacentric_height_mm), _lever(finished.metacentric_height_mm)
    if abs(heel.stiffer_by_mm) < _SAME_MM:
        return [("Heel", f"as finished: GM {seen}")]
    way = "stiffer" if heel.stiffer_by_mm > 0.0 else "more tender"
    ratio = "" if heel.ratio is None else f" (×{show.number(heel.ratio, 1)})"
    looks = f"looks {_lever(abs(heel.stiffer_by_mm))}{ratio} {way} than finished"
    bare, unit = seen.split(" ")
    gms = f"GM {bare} for {gm}" if gm.endswith(unit) else f"GM {seen} for {gm}"
    moment = show.moment(here.moment_to_heel_g_mm_per_deg)
    takes = f"1° takes {moment}, finished {show.moment(finished.moment_to_heel_g_mm_per_deg)}"
    heed = "prop the bag, or judge no roll"
    if finished.metacentric_height_mm <= 0.0:
        hides = here.metacentric_height_mm > 0.0
        takes = (
            f"finished she does not stay upright{'; the bath does not show it' if hides else ''}"
        )
    return [
        ("Heel", fitted((f"{looks}: {gms}", looks))),
        ("", fitted((f"{takes}: {heed}", takes))),
    ]


def _lever(lever_mm: float) -> str:
    """Return a metacentric height in text, to a tenth under 20 mm."""
    return show.length(lever_mm) if abs(lever_mm) < 20.0 else arm_text(lever_mm)


def tub_words(tub: Tub) -> str:
    """Return the tub it needs, sizes rounded up to a centimeter."""
    long, wide, deep, over = (
        station_text(10.0 * math.ceil(size / 10.0 - 1e-9))
        for size in (tub.length_mm, tub.width_mm, tub.depth_mm, tub.overall_width_mm)
    )
    unit = shown().length
    liters = show.number(tub.water_l, 0 if tub.water_l >= 10.0 else 1)
    water = f"{deep} {unit} of water ({liters} l)"
    if tub.overall_width_mm > tub.width_mm:
        # Bodies in the air, such as tip floats, may hang over its sides, or be floated too.
        return fitted((f"{long} × {wide} {unit}, {over} wide for all of her; {water}",))
    return cut(f"{long} × {wide} {unit} inside, {water}")
