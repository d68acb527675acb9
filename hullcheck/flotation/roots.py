"""Where a function of one variable changes sign, without the cost of importing scipy."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final

from hullcheck.errors import SolverError

_STEPS: Final = 200


def root_between(
    function: Callable[[float], float],
    ends: tuple[float, float],
    values: tuple[float, float],
    *,
    tolerance: float,
) -> float:
    """Return where a function changes sign between two ends, to a tolerance in its variable.

    Parameters
    ----------
    function : callable
        Continuous, or with a jump, at which the search then ends.
    ends, values : tuple of float
        Two places and the function there, of different signs; either may be 0.
    tolerance : float
        Width at which the search ends.

    Returns
    -------
    float
        The end of the last bracket with the lesser value.

    Raises
    ------
    SolverError
        If the values have one sign.

    Notes
    -----
    False position with the Illinois halving, and bisection wherever three steps did not halve the
    bracket: a jump cannot hold it up.
    """
    (low, high), (at_low, at_high) = ends, values
    if at_low == 0.0 or at_high == 0.0:
        return low if at_low == 0.0 else high
    if (at_low > 0.0) == (at_high > 0.0):
        raise SolverError(f"no change of sign between {low:g} and {high:g}")
    left, right = at_low, at_high  # with the Illinois weights
    widths = [abs(high - low)]
    for _ in range(_STEPS):
        if abs(high - low) <= tolerance:
            break
        stuck = len(widths) > 3 and widths[-1] > 0.5 * widths[-4]
        here = 0.5 * (low + high) if stuck else low - left * (high - low) / (right - left)
        value = function(here)
        if value == 0.0:
            return here
        if (value > 0.0) == (at_low > 0.0):
            low, at_low, left = here, value, value
            right *= 0.5
        else:
            high, at_high, right = here, value, value
            left *= 0.5
        widths.append(abs(high - low))
    return low if abs(at_low) < abs(at_high) else high


def first_fall(
    function: Callable[[float], float], places: Sequence[float], *, tolerance: float
) -> float | None:
    """Return the first place in a row where a function falls to 0 or under it; None if it never is.

    Parameters
    ----------
    function : callable
        Of one variable.
    places : sequence of float
        Rising or falling; the function is looked at in each, and narrowed down between two.
    tolerance : float
        In the variable.

    Returns
    -------
    float or None
        The first of the places where the function is under 0 there already.
    """
    if not places:
        return None
    value = function(places[0])
    if value <= 0.0:
        return places[0]
    for here, following in pairwise(places):
        after = function(following)
        if after <= 0.0:
            return root_between(function, (here, following), (value, after), tolerance=tolerance)
        value = after
    return None
