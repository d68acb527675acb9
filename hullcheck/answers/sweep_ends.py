"""Where a sweep keeps every limit, and where she comes to rest otherwise: ends, refined."""

import math
from collections.abc import Callable, Sequence
from functools import partial
from itertools import pairwise
from typing import Final

import numpy as np

from hullcheck.answers.freeboard import limit_value
from hullcheck.answers.sweep_records import KeptRange, RestChange, SweepEnd, SweepRow
from hullcheck.answers.sweep_samples import CG_LIMIT, Samples, judged
from hullcheck.answers.uncertainty import (
    READING_MM,
    response_of,
    spread_of,
    station_plus_minus_mm,
)
from hullcheck.craft.craft import Craft

LEAST_SAMPLES: Final = 41
"""So many values are looked at, at the least: a break that heals again between two of them may be
stepped over."""
TOLERANCE: Final = 1e-7
"""Of the greatest value, or of the sweep's length: ends are narrowed down to it."""
_REST_TOLERANCE: Final = 1e-4
"""Of the sweep's length: where she comes to rest otherwise is no limit, and finding it is slow."""
_MOST_CHANGES: Final = 6
"""Between two values next to each other."""
_JUMP: Final = 1e-3
"""Slack left at the last value that holds, in the limit's unit: more is a jump and not an end."""
_SLOPE_SHARE: Final = 1e-4
"""Of the sweep's length: how far inside an end the slope of what limits is taken."""


def sampled_values(samples: Samples) -> tuple[float, ...]:
    """Return the values that are looked at: the sweep's own, today's inside it, and some between.

    Between the waters asked for too: a density between two is that of a water.
    """
    values = samples.sweep.values
    low, high = values[0], values[-1]
    today = samples.sweep.today
    more = () if today is None or not low < today < high else (today,)
    between = np.linspace(low, high, LEAST_SAMPLES).tolist() if high > low else []
    return tuple(sorted({*values, *more, *(between if len(values) < LEAST_SAMPLES else ())}))


def kept_ranges(samples: Samples) -> tuple[KeptRange, ...]:
    """Return the ranges of values at which every limit is kept, rising.

    Parameters
    ----------
    samples : Samples
        Of the sweep.

    Returns
    -------
    tuple of KeptRange
        Each end the last value that keeps every limit, narrowed down to 1e-7; where the sweep
        itself ends there is none.

    Raises
    ------
    SolverError
        If no rest was found.
    """
    values = sampled_values(samples)
    held = [value for value in values if judged(samples.at(value)).slack >= 0.0]
    found: list[list[float]] = []
    for value in held:
        before = values[values.index(value) - 1] if value != values[0] else None
        if found and found[-1][-1] == before:
            found[-1].append(value)
        else:
            found.append([value])
    return tuple(_range(samples, values, run) for run in found)


def rest_changes(samples: Samples) -> tuple[RestChange, ...]:
    """Return where she comes to rest otherwise as the values rise, to a ten-thousandth of them."""
    changes = []
    values = samples.sweep.values
    apart = _REST_TOLERANCE * (values[-1] - values[0])
    for start, high in pairwise(sampled_values(samples)):
        low = start
        # She may change more than once between two values: upright, with a list, on a float.
        for _ in range(_MOST_CHANGES):
            before = samples.at(low).rest
            if before == samples.at(high).rest:
                break
            low = _narrowed(samples, low, high, partial(_rests, before), to=apart)[1]
            changes.append(RestChange(value=low, before=before, after=samples.at(low).rest))
    return tuple(changes)


def _rests(rest: str, row: SweepRow) -> bool:
    """Return whether she rests so in a row."""
    return row.rest == rest


def _range(samples: Samples, values: Sequence[float], run: Sequence[float]) -> KeptRange:
    """Return a run of values that hold with its ends refined."""
    first, last = values.index(run[0]), values.index(run[-1])
    low = None if first == 0 else _end(samples, run[0], values[first - 1])
    high = None if last == len(values) - 1 else _end(samples, run[-1], values[last + 1])
    return KeptRange(
        least=run[0] if low is None else low.value,
        most=run[-1] if high is None else high.value,
        least_end=low,
        most_end=high,
    )


def _end(samples: Samples, held: float, broken: float) -> SweepEnd:
    """Return the end between a value that holds and one that does not."""
    from scipy.optimize import brentq

    tolerance = _tolerance(samples)
    tried = [held, broken]

    def left(value: float) -> float:
        """Return the least slack at a value, and note that it was tried."""
        tried.append(value)
        return judged(samples.at(value)).slack

    brentq(left, held, broken, xtol=tolerance)
    # From the held end on: the last value before the first that breaks, both tried.
    order = sorted(set(tried), reverse=broken < held)
    first = next(i for i, v in enumerate(order) if judged(samples.at(v)).slack < 0.0)
    held, beyond = order[first - 1], order[first]
    last, beyond = _narrowed(
        samples, held, beyond, lambda row: judged(row).slack >= 0.0, to=tolerance
    )
    breaks = judged(samples.at(beyond))
    jumps = judged(samples.at(last)).slack > _JUMP
    return SweepEnd(
        value=last,
        plus_minus=None if jumps else _plus_minus(samples, last, beyond - last, breaks.limit),
        limit=breaks.limit,
        at=breaks.at,
    )


def _narrowed(
    samples: Samples,
    one: float,
    other: float,
    still: Callable[[SweepRow], bool],
    *,
    to: float,
) -> tuple[float, float]:
    """Return two values as close as that: what is still so at one is not at the other."""
    while abs(other - one) > to:
        middle = 0.5 * (one + other)
        if middle in {one, other}:
            break
        if still(samples.at(middle)):
            one = middle
        else:
            other = middle
    return one, other


def _tolerance(samples: Samples) -> float:
    """Return how far ends are narrowed down, in the unit of the values."""
    values = samples.sweep.values
    return TOLERANCE * max(abs(values[0]), abs(values[-1]), values[-1] - values[0])


def _plus_minus(samples: Samples, value: float, way: float, limit: str) -> float | None:
    """Return how well an end is known, in the unit of the values.

    What limits is known so well, from reading, weighing and the volume of the skin, and changes so
    much per unit of the value there; the one over the other. None where nothing tells.
    """
    craft = samples.sweep.craft_at(value)
    of = _value_of(samples, limit)
    if of is None:
        return None
    values = samples.sweep.values
    step = math.copysign(_SLOPE_SHARE * max(values[-1] - values[0], abs(value) * 1e-3), way)
    here, inside = of(craft), of(samples.sweep.craft_at(value - step))
    if here is None or inside is None or here == inside:
        return None
    known = _known_to(samples, craft, limit)
    return None if not known else known * abs(step / (here - inside))


def _known_to(samples: Samples, craft: Craft, limit: str) -> float | None:
    """Return how well what limits is known at a craft, in its own unit."""
    if limit == CG_LIMIT:
        return _station_known_to(craft)
    # Over mass her CG stays where it is, so it is known as well as today and no better.
    weighed = samples.sweep.craft if samples.sweep.over == "mass" else craft
    response = response_of(
        weighed,
        lambda floating: limit_value(craft, samples.refloater.deck, floating, limit),
        craft.mass_g,
    )
    if response is None:
        return None
    reading = READING_MM if limit == "freeboard_mm" else 0.0
    return math.hypot(reading, spread_of(weighed, response))


def _value_of(samples: Samples, limit: str) -> Callable[[Craft], float | None] | None:
    """Return what a limit is on, from a craft; None for limits that nothing is read for."""
    if limit in {"sinks", "capsizes"}:
        return None
    if limit == CG_LIMIT:
        return lambda one: None if one.center_of_gravity_mm is None else one.center_of_gravity_mm[0]

    def value(one: Craft) -> float | None:
        """Return what the limit is on, floated anew; None where she sinks."""
        floating = samples.floating(one)
        if floating is None:
            return None
        return limit_value(one, samples.refloater.deck, floating, limit)

    return value


def _station_known_to(craft: Craft) -> float | None:
    """Return how well the station of her CG is known from how well masses are [mm]."""
    if craft.weighing is None or craft.weighing.center_is_measured:
        return None
    return station_plus_minus_mm(craft) or None
