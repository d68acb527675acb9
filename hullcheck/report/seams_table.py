"""Every seam with every number: the tables behind --all."""

import textwrap
from typing import Final

from hullcheck.answers.seams_records import (
    DrainPlace,
    SeamReport,
    SeamsAnswer,
    SoakReport,
    Wetted,
)
from hullcheck.report import table_values as show
from hullcheck.report.display import shown
from hullcheck.report.fitting import cut
from hullcheck.report.numbers import angle_text, given_length_text, mass_text
from hullcheck.report.seams_tests_words import predictions_lines
from hullcheck.report.seams_text import MOST_ROWS, WIDTH, first_screen, row_line
from hullcheck.report.seams_words import action_words, short_name, state_words, time_words
from hullcheck.report.words import shown_name

_NAME: Final = 22
_LABEL: Final = 16


def all_lines(answer: SeamsAnswer) -> list[str]:
    """Return the first screen with every seam, and every number.

    Parameters
    ----------
    answer : SeamsAnswer
        Her seams.

    Returns
    -------
    list of str
        At most 80 characters each.
    """
    lines = first_screen(answer)
    if answer.seams[MOST_ROWS:]:
        lines += ["", "The others", *(row_line(answer, seam) for seam in answer.seams[MOST_ROWS:])]
    lines += _places(answer)
    lines += _histories(answer)
    lines += _tests(answer)
    lines += _next(answer)
    return lines + _drains(answer)


def _places(answer: SeamsAnswer) -> list[str]:
    """Return where each seam lies at the present load."""
    if answer.short_by_g is not None or not answer.seams:
        return []
    unit = shown().length
    head = f"  {unit:<{_NAME}}{'length':>8}{'wet':>8}{'height':>8}{'∫h dl':>10}{'∫√h dl':>9}"
    lines = ["", "At rest, heights above the water (− under it); integrals in mm² and mm^1.5", ""]
    lines[-1] = f"{head}  wetted at"
    for seam in answer.seams:
        numbers = (seam.length_mm, seam.wet_length_mm, seam.height_mm)
        texts = ["–" if value is None else show.bare_length(value) for value in numbers]
        crack, hole = seam.crack_integral_mm2 or 0.0, seam.hole_integral_mm15 or 0.0
        lines.append(
            f"  {cut(short_name(seam.name), _NAME - 1):<{_NAME}}"
            f"{''.join(f'{text:>8}' for text in texts)}"
            f"{show.number(crack, 0):>10}{show.number(hole, 0):>9}  {wetted_words(seam.wetted)}"
        )
    reach = given_length_text(round(answer.spray_reach_mm))
    lines += _wrapped(
        f"Spray is taken to reach {reach} above the water, the hull's beam (common practice, no "
        "source). Wetted at: heel with trim and draft free, to the side where it is least."
    )
    if any(seam.wetted is not None and seam.wetted.beyond_model for seam in answer.seams):
        lines += _wrapped("* with a wing tip, which is not in the meshes, in the water by then.")
    return lines


def wetted_words(wetted: Wetted | None) -> str:
    """Return the heel at which the water reaches a seam, in brief."""
    if wetted is None:
        return "–"
    if wetted.heel_deg is None:
        return f"> {angle_text(wetted.to_deg)}"
    if wetted.heel_deg == 0.0:
        return "rest"
    side = "stbd" if wetted.heel_deg > 0.0 else "port"
    if wetted.starboard_deg is not None and wetted.port_deg is not None:
        alike = angle_text(wetted.starboard_deg) == angle_text(-wetted.port_deg)
        side = "both" if alike else side
    mark = " *" if wetted.beyond_model else ""
    return f"{angle_text(abs(wetted.heel_deg))} {side}{mark}"


def _histories(answer: SeamsAnswer) -> list[str]:
    """Return what was done to each seam, what was tested, and what is to be done."""
    lines: list[str] = []
    for seam in answer.seams:
        lines += ["", *_wrapped_name(f"{shown_name(seam.name)} ({_what(seam)})")]
        rows = [("state", _state(answer, seam)), ("sealed", _sealed(answer, seam))]
        if seam.leak is not None:
            rows.append(("leaked", soak_words(answer, seam.leak)))
        rows += [("dry in", soak_words(answer, test)) for test in seam.dry_tests]
        rows += [("not cleared by", soak_words(answer, test)) for test in seam.wet_tests]
        if seam.dry_lacks:
            rows.append(("dry lacks", ", ".join(seam.dry_lacks)))
        rows.append(("next", action_words(seam) or "nothing"))
        for label, words in rows:
            lines += _row(label, words)
    return lines


def _wrapped_name(text: str) -> list[str]:
    """Return a seam's heading, a long one in two lines."""
    return textwrap.wrap(text, width=WIDTH, subsequent_indent="  ")


def _what(seam: SeamReport) -> str:
    """Return what a seam or an opening is."""
    if seam.kind != "seam":
        return "opening" if seam.kind == "other" else f"opening, {seam.kind}"
    found = ", found between its parts" if seam.source == "parts" else ""
    return f"seam of {seam.body}{found}"


def _state(answer: SeamsAnswer, seam: SeamReport) -> str:
    """Return a seam's state with the entry that says so."""
    words = state_words(seam, answer.now)
    return words if seam.state_entry is None else f"{words} (entry {seam.state_entry})"


def _sealed(answer: SeamsAnswer, seam: SeamReport) -> str:
    """Return the last sealing in full."""
    sealed = seam.sealed
    if sealed is None:
        return "nothing in the log"
    batch = "" if sealed.batch is None else f", batch {sealed.batch}"
    often = "" if sealed.times == 1 else f", {sealed.times} times in all"
    cured = ""
    if sealed.cured_at is not None:
        cured = f", cured {time_words(sealed.cured_at, answer.now)}"
    when = time_words(sealed.at, answer.now)
    return f"{sealed.material}{batch}, {when}{cured}{often} (entry {sealed.entry})"


def soak_words(answer: SeamsAnswer, test: SoakReport) -> str:
    """Return a leak test in a sentence."""
    gain = f"{show.number(test.gain_g)} ± {show.number(test.plus_minus_g, 2)} g"
    how = "running" if test.running else "still"
    deep = test.deepest_mm
    depth = "" if deep is None or deep <= 0.0 else f", {show.length(deep)} under water"
    return (
        f"{time_words(test.at, answer.now)}: {gain} in {test.minutes:g} min at "
        f"{mass_text(test.mass_g)}, {how}{depth} (entry {test.entry})"
    )


def _tests(answer: SeamsAnswer) -> list[str]:
    """Return every leak test that stands, with its grade."""
    if not answer.tests:
        return []
    lines = ["", "Leak tests; static: a dry soak does not clear a hull under way"]
    for test in answer.tests:
        found = f"; found: {', '.join(test.found)}" if test.found else ""
        limit = {None: "", True: ", within the limit", False: ", above the limit"}
        grade = f"{test.grade}{limit[test.within_limit]}"
        lines += _wrapped(f"{soak_words(answer, test)}: {grade}{found}")
    return lines


def _next(answer: SeamsAnswer) -> list[str]:
    """Return what each explanation would gain in the next test, and what was not counted."""
    lines = predictions_lines(answer)
    if lines:
        lines = ["", "The next test would gain", *(w for line in lines for w in _wrapped(line))]
    for one in answer.suspects.left_out:
        lines += _wrapped(f"entry {one.entry} is not in the sums: {one.why}")
    return lines


def _drains(answer: SeamsAnswer) -> list[str]:
    """Return where a drain and a vent would go."""
    if not answer.drains:
        return []
    lines = ["", f"Drain at the lowest inside point, vent at the highest; {shown().length}"]
    lines.append(f"  {'':<{_NAME}}{'':<10}{'lowest (x, y, z)':>22}{'highest':>22}")
    for one in answer.drains:
        name = cut(one.compartment, _NAME - 1) if one.attitude == "at rest" else ""
        lines.append(f"  {name:<{_NAME}}{one.attitude:<10}{_spot(one, 'lowest_mm'):>22}"
                     f"{_spot(one, 'highest_mm'):>22}")  # fmt: skip
    angle = angle_text(answer.nose_up_deg)
    return lines + _wrapped(
        f"Nose up is {angle} bow up, {answer.nose_up_from}. A vent belongs high up at rest: a shut "
        "compartment left in the sun can burst."
    )


def _spot(place: DrainPlace, which: str) -> str:
    """Return a place, without its unit."""
    return show.place(getattr(place, which)).rpartition(" ")[0]


def _row(label: str, words: str) -> list[str]:
    """Return a labeled text in lines of at most 80 characters."""
    return textwrap.wrap(
        words,
        width=WIDTH,
        initial_indent=f"  {label:<{_LABEL}}",
        subsequent_indent=" " * (2 + _LABEL),
    )


def _wrapped(text: str) -> list[str]:
    """Return a text in lines of at most 80 characters."""
    return textwrap.wrap(text, width=WIDTH, initial_indent="  ", subsequent_indent="    ")
