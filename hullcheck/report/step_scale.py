"""The scale of a block of rules: every band and mark of one quantity between two ends."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hullcheck.answers.step_records import RuleCheck
from hullcheck.report.step_words import band_ends, mark_of

_ROOM: Final = 1.06
_STEPS: Final = (1.0, 1.2, 1.5, 2.0, 2.4, 3.0, 3.2, 4.0, 5.0, 6.0, 8.0, 10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """A scale from a low end, 0 unless a mark or a band lies under it, to a high one."""

    low: float
    high: float

    def share(self, value: float) -> float:
        """Return where a value lies, 0 at the low end and 1 at the high one."""
        return min(max((value - self.low) / (self.high - self.low), 0.0), 1.0)

    def shares(self, rule: RuleCheck) -> tuple[float, float]:
        """Return where a rule's band begins and ends; an open end reaches the scale's."""
        least, most = band_ends(rule)
        return (
            0.0 if least is None else self.share(least),
            1.0 if most is None else self.share(most),
        )


def scale_of(rules: Sequence[RuleCheck], marks: Sequence[float] = ()) -> Scale | None:
    """Return the scale that holds all bands of some rules and her marks; None without any.

    Parameters
    ----------
    rules : sequence of RuleCheck
        Of one quantity.
    marks : sequence of float
        More values to hold, in the quantity's unit.
    """
    values = [*marks]
    for rule in rules:
        values += [v for v in (*band_ends(rule), mark_of(rule)) if v is not None]
    if not values:
        return None
    high = _round_up(max(*values, 1e-6) * _ROOM)
    low = min(values)
    return Scale(low=0.0 if low >= 0.0 else -_round_up(-low * _ROOM), high=high)


def _round_up(value: float) -> float:
    """Return the next round number at or above a positive value."""
    power = 10.0 ** math.floor(math.log10(value))
    return next(step * power for step in _STEPS if step * power >= value * (1.0 - 1e-9))
