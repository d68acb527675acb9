"""What a leak test means: by the scale alone, and by the build's geometry where it can be read."""

from typing import TYPE_CHECKING

from hullcheck.cli.log_options import say
from hullcheck.craft.leak_ladder import LeakGrade, grade_of
from hullcheck.craft.log_records import LeakTest
from hullcheck.errors import HullcheckError, InputError
from hullcheck.files.known_names import glance_at
from hullcheck.report.log_leak_text import flying_line, grade_lines, size_line

if TYPE_CHECKING:
    from hullcheck.answers.leak_records import GradedTest, LeakSize

STATIC = "Static test: a dry soak does not clear a hull under way."
RUNNING = "Running test: it says nothing of a longer run, or of another load."


def meaning_lines(where: str, test: LeakTest, number: int) -> list[str]:
    """Return what a leak test says, a line each.

    Parameters
    ----------
    where : str
        The build's folder, or its sheet.
    test : LeakTest
        As it was finished.
    number : int
        Its entry.
    """
    try:
        graded = _graded(where, test, number)
    except HullcheckError as problem:
        say(f"no hole or crack is worked out: {problem}.")
        graded = None
    lines = grade_lines(test, _by_the_scale(where, test) if graded is None else graded.grade)
    if graded is not None and graded.size is not None:
        lines.append(size_line(graded.size))
        _say_taken(graded.size)
    if graded is not None and graded.flying is not None:
        lines.append(flying_line(graded.flying))
    return [*lines, RUNNING if test.setup.running else STATIC]


def _say_taken(size: "LeakSize") -> None:
    """Say what a hole and a crack rest on where nobody said it."""
    if size.sized_at != "where water was found":
        say(f"where it came in is not known, so it is sized at the deepest seam, {size.seam}.")
    if size.wall_assumed:
        say(f"the crack goes through a wall of {size.wall_mm:g} mm, assumed.")


def _graded(where: str, test: LeakTest, number: int) -> "GradedTest | None":
    """Return what the test says by the build's geometry; None where there is no build sheet."""
    if glance_at(where) is None:
        say("no build sheet there, so no hole or crack is worked out.")
        return None
    from hullcheck.answers.leak_grade import graded
    from hullcheck.files.build_folder import load

    build = load(where)
    return graded(build.craft(), test, entry=number, structures=build.structures)


def _by_the_scale(where: str, test: LeakTest) -> LeakGrade:
    """Return the grade by gain and mass alone."""
    try:
        glance = glance_at(where)
    except InputError:
        glance = None  # said already
    if glance is None:
        return grade_of(test)
    return grade_of(test, limit_g_per_30min=glance.leak_g_per_30min, flying_mass_g=glance.mass_g)
