"""What one leak test says, in a few lines: gain, grade, limit, and the leak that explains it."""

from typing import TYPE_CHECKING, Final

from hullcheck.craft.leak_ladder import LeakGrade
from hullcheck.craft.log_records import LeakTest
from hullcheck.report.log_words import gain_words, mass_words, one_line, scale_text

if TYPE_CHECKING:
    from hullcheck.answers.leak_records import LeakSize, ScaledRate

WIDTH: Final = 80


def grade_lines(test: LeakTest, grade: LeakGrade) -> list[str]:
    """Return the gain with its grade and why, the rate with the sheet's limit, and what to do.

    Parameters
    ----------
    test : LeakTest
        As it was finished.
    grade : LeakGrade
        What it is by the ladder and by the sheet's limit.
    """
    told = f"{gain_words(test)} at {test.setup.mass_g:g} g: {grade.grade}"
    told += "." if test.below_resolution and grade.grade == "tight" else f", {grade.because}."
    lines = [told]
    rate = mass_words(grade.rate_g_per_30min, grade.rate_plus_minus_g_per_30min)
    told = f"Rate {rate} in 30 min"
    if grade.worst_grade != grade.grade:
        told += f", at worst {grade.worst_grade}"
    if grade.limit_g_per_30min is not None:
        told += f"; limit of the sheet {grade.limit_g_per_30min:g} g: "
        told += _limit_words(grade)
    return [*lines, f"{told}.", _to_do(grade)]


def _limit_words(grade: LeakGrade) -> str:
    """Return whether the sheet's limit holds, as far as the test can tell."""
    if not grade.tells:
        return "not told by this test"
    word = "holds" if grade.within_limit else "broken"
    return f"{word}, within ±" if grade.limit_in_doubt else word


def size_line(size: "LeakSize") -> str:
    """Return the one hole and the one crack that would let in as much, and where."""
    most = "≤ " if size.at_most else ""
    line = f"{size.head_mm:.0f} mm deep: one hole of {most}{size.hole_diameter_mm:.2g} mm"
    if size.crack_width_mm is not None and size.crack_length_mm is not None:
        line += f", or a crack {size.crack_length_mm:.0f} × {most}{size.crack_width_mm:.2g} mm"
    name = _short(one_line(size.seam), WIDTH - len(line) - len(", ."))
    return f"{name[:1].upper()}{name[1:]}, {line}."


def flying_line(flying: "ScaledRate") -> str:
    """Return the rate at the flying weight, over both laws."""
    about = flying.plus_minus_g_per_30min
    low = scale_text(flying.low_g_per_30min, about).removesuffix(" g")
    high = mass_words(flying.high_g_per_30min, about)
    span = high if high.split()[0] == low else f"{low} to {high}"
    alike = flying.high_grade == flying.low_grade
    grades = flying.low_grade if alike else f"{flying.low_grade} to {flying.high_grade}"
    return f"At {flying.mass_g:.0f} g: {span} in 30 min by both leak laws, {grades}."


def _to_do(grade: LeakGrade) -> str:
    """Return what to do: the sheet's limit wins over the ladder."""
    if grade.within_limit is False and grade.grade in {"tight", "damp"}:
        return "By the sheet's limit, which wins: repair and test again before any flight."
    if grade.within_limit and grade.grade in {"weeping", "leaking"}:
        return f"The sheet's limit wins; the ladder says: {grade.action}."
    if not grade.tells:
        return "This test is too short, or the scale too coarse, to tell anything: soak longer."
    if grade.limit_in_doubt or (grade.below_resolution and grade.worst_grade != grade.grade):
        return "The scale cannot tell more: a finer scale, or a longer soak, would."
    return f"{grade.action[:1].upper()}{grade.action[1:]}."


def _short(name: str, room: int) -> str:
    """Return a name cut to the room there is."""
    return name if len(name) <= room else f"{name[: max(room - 1, 1)].rstrip()}…"
