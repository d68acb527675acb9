"""Every way she may be, floated, and the worst of them."""

from dataclasses import dataclass

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.float_records import Caveat, FloatAnswer
from hullcheck.answers.limits import slack
from hullcheck.craft.build import AS_SHE_IS, Build

SCHEMA = "hullcheck.float-setups/1"


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupsAnswer:
    """All setups of a build afloat.

    Attributes
    ----------
    schema : str
        Which document this is.
    craft : str
        What she is called.
    worst : str
        Name of the worst setup, "as she is" for none.
    setups : tuple of FloatAnswer
        As she is first, then the sheet's setups in order.
    warnings : tuple of Caveat
        What was assumed or repaired in reading.
    """

    schema: str
    craft: str
    worst: str
    setups: tuple[FloatAnswer, ...]
    warnings: tuple[Caveat, ...] = ()

    @property
    def worst_answer(self) -> FloatAnswer:
        """The worst setup's answer."""
        return next(answer for answer in self.setups if name_of(answer) == self.worst)


def setups_answer(build: Build) -> SetupsAnswer:
    """Return where she floats as she is and in every setup, and which is the worst.

    Parameters
    ----------
    build : Build
        With or without setups.

    Returns
    -------
    SetupsAnswer
        The worst: one that sinks before one that capsizes, before one that breaks a limit, before
        the one with the fewest grams left, before the one with the least freeboard where no grams
        left are known: without limits, or without a center of gravity. Of equals the first.
    """
    names = [None, *(setup.name for setup in build.setups)]
    answers = tuple(float_answer(build.craft(name)) for name in names)
    worst = min(answers, key=_rank)
    notes = tuple(Caveat(code=code, message=message) for code, message in build.notes)
    return SetupsAnswer(
        schema=SCHEMA, craft=build.name, worst=name_of(worst), setups=answers, warnings=notes
    )


def name_of(answer: FloatAnswer) -> str:
    """Return the setup of an answer by name, "as she is" for none."""
    return AS_SHE_IS.name if answer.setup is None else answer.setup


def fails(answer: FloatAnswer) -> bool:
    """Return whether she sinks, capsizes, or breaks a limit."""
    return answer.rest in {"sinks", "capsized"} or not all(check.ok for check in answer.limits)


def _rank(answer: FloatAnswer) -> tuple[int, float]:
    """Return how bad an answer is, the worst least."""
    if answer.short_by_g is not None:
        return 0, -answer.short_by_g
    if answer.rest == "capsized":
        return 1, -abs(answer.heel_deg or 0.0)
    if not all(check.ok for check in answer.limits):
        return 2, min(slack(check) for check in answer.limits)
    if answer.margin_g is not None:
        return 3, answer.margin_g
    board = answer.freeboard_mm
    return 4, 0.0 if board is None or board.least is None else board.least
