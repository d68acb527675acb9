"""The limits of a build sheet held against how she floats."""

from hullcheck.answers.float_records import LimitCheck
from hullcheck.craft.limits import Limits


def limit_checks(
    limits: Limits,
    *,
    freeboard_mm: float | None,
    trim_deg: float | None,
    heel_deg: float | None,
) -> tuple[LimitCheck, ...]:
    """Return each limit about how she floats, with its value and whether it holds.

    Parameters
    ----------
    limits : Limits
        Of the sheet.
    freeboard_mm, trim_deg, heel_deg : float or None
        As she floats [mm, deg]; None where she sinks: no limit holds then.

    Returns
    -------
    tuple of LimitCheck
        Named by the sheet's keys. Limits on time and leaks are not about this and are left out.
    """
    found = []
    if limits.freeboard_mm is not None:
        holds = freeboard_mm is not None and freeboard_mm >= limits.freeboard_mm
        found.append(
            LimitCheck(name="freeboard_mm", value=freeboard_mm, limit=limits.freeboard_mm, ok=holds)
        )
    if limits.trim_deg is not None:
        low, high = limits.trim_deg
        holds = trim_deg is not None and low <= trim_deg <= high
        found.append(LimitCheck(name="trim_deg", value=trim_deg, limit=(low, high), ok=holds))
    if limits.heel_deg is not None:
        heel = None if heel_deg is None else abs(heel_deg)
        holds = heel is not None and heel <= limits.heel_deg
        found.append(LimitCheck(name="heel_deg", value=heel, limit=limits.heel_deg, ok=holds))
    return tuple(found)


def slack(check: LimitCheck) -> float:
    """Return how far a value keeps within its limit, in the limit's unit; below 0 it is broken."""
    if check.value is None:
        return -float("inf")
    if isinstance(check.limit, tuple):
        return min(check.value - check.limit[0], check.limit[1] - check.value)
    if check.name == "heel_deg":
        return check.limit - check.value
    return check.value - check.limit
