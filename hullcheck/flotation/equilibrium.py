"""The attitude she comes to rest in when set down upright, and every other stable one."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from hullcheck.errors import SolverError
from hullcheck.flotation.descent import NEUTRAL, Descent, State
from hullcheck.flotation.righting import righting_arm, righting_slope
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import angle_between, heel_of, normal_of

_NEAR: Final = math.radians(2.0)
_EVEN: Final = 1e-4
"""Of the length: an arm at heel 0 this small is less than a builder can place a CG across."""
_MERGE: Final = math.radians(0.01)
_START_HEELS: Final = tuple(math.radians(15.0 * k) for k in range(-11, 13))
_START_TRIMS: Final = tuple(math.radians(t) for t in (-60.0, 0.0, 60.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Settled:
    """Where she comes to rest, set down upright.

    Attributes
    ----------
    state : State
        At rest.
    upright_slope_mm : float
        Slope of the righting arm at heel 0, trim and draft free [mm per rad]; upright is stable
        when it is above 0.
    either_side : bool
        True when upright is a knife edge and she falls to either side alike.
    neutral : bool
        True when the least stiffness is zero within rounding: she stays where she is put.
    """

    state: State
    upright_slope_mm: float
    either_side: bool
    neutral: bool


def settle_down(descent: Descent) -> Settled:
    """Return the stable attitude reached downhill from upright.

    Parameters
    ----------
    descent : Descent
        The load on its skin.

    Returns
    -------
    Settled

    Raises
    ------
    SolverError
        If no rest is met.

    Notes
    -----
    Heel is soft and trim is stiff, so downhill means along the righting curve: she heels the way
    the arm at heel 0 turns her until the arm first changes sign. Small leans are solved at once;
    larger ones are marched along that curve, so that no nearer rest is stepped over.
    """
    upright = descent.at_heel(0.0, descent.state(normal_of(trim=0.0, heel=0.0), None))
    arm, slope = righting_arm(upright, 0.0), righting_slope(upright)
    level = abs(arm) <= NEUTRAL * descent.length
    lean = 1.0 if level else -math.copysign(1.0, arm)
    near = descent.rest(upright, lean=lean)
    stiffness = near.eigen()[0][0]
    neutral = bool(abs(stiffness) <= NEUTRAL * descent.length)
    if not (neutral or abs(heel_of(near.normal)) <= _NEAR):
        near = _march(descent, upright, lean)
    return Settled(
        state=near,
        upright_slope_mm=slope,
        either_side=bool(abs(arm) <= _EVEN * descent.length and slope < 0.0 and not neutral),
        neutral=neutral,
    )


def _march(descent: Descent, upright: State, lean: float) -> State:
    """Return the first rest met heeling from upright to the side she leans to."""
    low, state = 0.0, upright
    for heel in _march_heels():
        following = descent.at_heel(lean * heel, state)
        if lean * righting_arm(following, lean * heel) > 0.0:
            return _between(descent, lean, (low, heel), state)
        low, state = heel, following
    # The arm never turned: she ends on her back, where port and starboard meet.
    return descent.rest(state, lean=lean)


def _march_heels() -> Iterator[float]:
    """Yield heels from a quarter of a degree to 180° [rad]."""
    yield math.radians(0.25)
    yield math.radians(1.0)
    for k in range(1, 91):
        yield math.radians(2.0 * k)


def _between(descent: Descent, lean: float, span: tuple[float, float], state: State) -> State:
    """Return the rest between two heels, narrowed by halving if the quick way down leaves them."""
    low, high = span
    for _ in range(40):
        rest = descent.rest(state, lean=lean)
        if low - 1e-6 <= lean * heel_of(rest.normal) <= high + 1e-6:
            return rest
        middle = 0.5 * (low + high)
        following = descent.at_heel(lean * middle, state)
        if lean * righting_arm(following, lean * middle) > 0.0:
            high = middle
        else:
            low, state = middle, following
    raise SolverError(
        f"the righting arm changes sign near heel {math.degrees(lean * low):.3f}° but she does not "
        "rest there: trim gives way at that heel"
    )


def stable_attitudes(descent: Descent, known: State) -> tuple[State, ...]:
    """Return every stable attitude found, the known one first, then by heel.

    Parameters
    ----------
    descent : Descent
        The load on its skin.
    known : State
        Where she rests, set down upright.

    Returns
    -------
    tuple of State
        Minima from starts every 15° of heel at trims of −60, 0 and 60°, and from bow and stern
        straight down; those within 0.01° of each other are one. A neutral body gives one only.
    """
    found = [known]
    if known.eigen()[0][0] <= NEUTRAL * descent.length:
        return (known,)
    for normal in _starts():
        state = descent.rest(descent.state(normal, None), known=found)
        if all(angle_between(state.normal, other.normal) > _MERGE for other in found):
            found.append(state)
    others = sorted(found[1:], key=lambda s: (round(abs(heel_of(s.normal)), 6), heel_of(s.normal)))
    return (known, *others)


def _starts() -> Iterator[FloatArray]:
    """Yield the normals to start from."""
    for heel in _START_HEELS:
        for trim in _START_TRIMS:
            yield normal_of(trim=trim, heel=heel)
    for trim in (-0.5 * math.pi, 0.5 * math.pi):
        yield normal_of(trim=trim, heel=0.0)
