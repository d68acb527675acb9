"""What scales say against what the ledger says: agrees, or what would explain the difference."""

import math
from typing import Final

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.scales_records import (
    CenterHeight,
    LedgerCheck,
    Missing,
    ScalesReport,
    Three,
    Verdict,
)
from hullcheck.craft.ledger import Ledger
from hullcheck.geometry.arrays import FloatArray

_AXES: Final = (("x", "aft of", "ahead of"), ("y", "to starboard of", "to port of"))
_HEIGHT: Final = ("z", "above", "below")
_EXAMPLE_SHARE: Final = 0.05
"""Of her mass: an item of about that size stands as an example of what may sit elsewhere."""


def ledger_height(ledger: Ledger) -> CenterHeight | None:
    """Return the height of the ledger's center [mm] with its ±; None while an item has no place."""
    center, spread = ledger.center_mm, center_plus_minus_mm(ledger)
    if center is None or spread is None:
        return None
    return CenterHeight(z_mm=center[2], plus_minus_mm=spread[2], source="ledger")


def center_plus_minus_mm(ledger: Ledger) -> Point | None:
    """Return how well the ledger's center is known along each axis [mm], from the masses' ± alone.

    The places of the items are taken at their word. None while an item has no place.

    Examples
    --------
    >>> from hullcheck.craft.ledger import Item
    >>> ends = [
    ...     Item(name=n, weighed_g=50.0, x_mm=x, z_mm=0.0, plus_minus_g=1.0)
    ...     for n, x in (("bow", 0.0), ("stern", 200.0))
    ... ]
    >>> round(center_plus_minus_mm(Ledger(items=tuple(ends)))[0], 4) == round(2.0**0.5, 4)
    True
    """
    center = ledger.center_mm
    if center is None:
        return None
    grams, levers = _spread(ledger, np.array(center))
    x, y, z = np.linalg.norm(grams[:, None] * levers / ledger.mass_g, axis=0).tolist()
    return (x, y, z)


def against_ledger(
    report: ScalesReport, ledger: Ledger, *, reach_mm: tuple[float, float] | None = None
) -> LedgerCheck:
    """Return how what was weighed agrees with the ledger, and what would explain the difference.

    Parameters
    ----------
    report : ScalesReport
        Of `scales.weighed`.
    ledger : Ledger
        Of what stood on the scales: take out first what was not aboard, put in what was.
    reach_mm : tuple of float, optional
        Stations of her two ends [mm]: an item missing beyond them is said to be none.

    Returns
    -------
    LedgerCheck
        A difference counts where it is greater than its ±, those of scales and ledger together.

    Notes
    -----
    The missing item lies at X = (m_w x_w − m_l x_l)/(m_w − m_l). Its ± is propagated from every
    reading and every item: one gram in doubt at p moves X by (X − p)/(m_w − m_l).
    """
    over = report.mass_g - ledger.mass_g
    over_spread = math.hypot(report.plus_minus_g, ledger.plus_minus_g)
    differs, spread = _center_differences(report, ledger)
    apart = any(
        abs(off) > about
        for off, about in zip(differs, spread, strict=True)
        if off is not None and about is not None
    )
    verdict: Verdict = "center differs" if apart else "agrees"
    missing = None
    if abs(over) > over_spread:
        verdict = "heavier" if over > 0.0 else "lighter"
        missing = _missing(report, ledger, reach_mm)
    along = differs[0]
    check = LedgerCheck(
        verdict=verdict,
        message="",
        ledger_mass_g=ledger.mass_g,
        ledger_plus_minus_g=ledger.plus_minus_g,
        ledger_center_mm=ledger.center_mm,
        more_g=over,
        more_plus_minus_g=over_spread,
        center_differs_mm=differs,
        center_differs_plus_minus_mm=spread,
        moment_differs_g_mm=None if along is None else report.mass_g * along,
        missing=missing,
    )
    return check.saying(_message(check, report.mass_g))


def _spread(ledger: Ledger, about: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return each item's ± [g] with its place from a point, shapes (n,) and (n, 3) [mm]."""
    items = [item for item in ledger.items if item.uncertainty_g]
    grams = np.array([item.uncertainty_g for item in items])
    places = [about if item.center_mm is None else np.array(item.center_mm) for item in items]
    return grams, np.array(places).reshape(len(items), 3) - about


def _center_differences(report: ScalesReport, ledger: Ledger) -> tuple[Three, Three]:
    """Return scales less ledger along each axis, and the ± of that [mm]."""
    center, own = ledger.center_mm, center_plus_minus_mm(ledger)
    if center is None or own is None:
        return (None, None, None), (None, None, None)
    differs: list[float | None] = [None] * 3
    spread: list[float | None] = [None] * 3
    for i in range(3):
        value, about = report.center_of_gravity_mm[i], report.center_plus_minus_mm[i]
        if value is not None and about is not None:
            differs[i], spread[i] = value - center[i], math.hypot(about, own[i])
    return _three(differs), _three(spread)


def _missing(report: ScalesReport, ledger: Ledger, reach_mm: tuple[float, float] | None) -> Missing:
    """Return the grams that would explain the difference and where they lie."""
    over = report.mass_g - ledger.mass_g
    center = ledger.center_mm
    where: list[float | None] = [None] * 3
    about: list[float | None] = [None] * 3
    for i, field in enumerate(("x_mm", "y_mm", "z_mm")):
        value = report.center_of_gravity_mm[i]
        if value is None or center is None:
            continue
        # About the ledger's center, so that large moments do not cancel.
        place = center[i] + report.mass_g * (value - center[i]) / over
        shares = [
            (share.mass_g * (value - place) + report.mass_g * getattr(share, field)) / over
            for share in report.shares
        ]
        origin = np.array(center)
        origin[i] = place
        grams, levers = _spread(ledger, origin)
        items = grams * levers[:, i] / over
        where[i], about[i] = place, math.hypot(*shares, *items.tolist())
    station = where[0]
    return Missing(
        mass_g=over,
        plus_minus_g=math.hypot(report.plus_minus_g, ledger.plus_minus_g),
        center_mm=_three(where),
        center_plus_minus_mm=_three(about),
        outside=station is not None
        and reach_mm is not None
        and not min(reach_mm) <= station <= max(reach_mm),
    )


def _three(values: list[float | None]) -> Three:
    """Return three values as a tuple."""
    x, y, z = values
    return (x, y, z)


def _message(check: LedgerCheck, mass_g: float) -> str:
    """Return the verdict in a sentence."""
    grams = f"{check.more_g:+.1f} ± {check.more_plus_minus_g:.1f} g".replace("-", "−")
    if check.verdict == "agrees":
        along = check.center_differs_mm[0]
        about = check.center_differs_plus_minus_mm[0]
        if along is None or about is None:
            return f"agrees with the ledger within ±: {grams}; the CG is not compared"
        far = f"{along:+.1f} ± {about:.1f} mm".replace("-", "−")
        return f"agrees with the ledger within ±: {grams}, CG {far} along"
    missing = check.missing
    if missing is None:
        return f"the mass agrees ({grams}), {_elsewhere(check, mass_g)}"
    size = f"{abs(missing.mass_g):.1f} ± {missing.plus_minus_g:.1f} g"
    said = f"{size} {'more' if missing.mass_g > 0.0 else 'less'} than the ledger says"
    station, about = missing.center_mm[0], missing.center_plus_minus_mm[0]
    if station is None or about is None:
        return said
    said += f", centered at station {station:.0f} ± {about:.0f}"
    if missing.outside:
        said += ", which is beyond her ends: no one item does that; read the scales and the "
        said += "supports' stations again"
    return said


def _elsewhere(check: LedgerCheck, mass_g: float) -> str:
    """Return which way the center is off, and what would do that, in a clause."""
    said = []
    for i, (_, more, less) in enumerate((*_AXES, _HEIGHT)):
        off, about = check.center_differs_mm[i], check.center_differs_plus_minus_mm[i]
        if off is not None and about is not None and abs(off) > about:
            said.append(
                f"the CG lies {abs(off):.1f} ± {about:.1f} mm {more if off > 0.0 else less} the "
                "ledger's"
            )
            grams = _EXAMPLE_SHARE * mass_g
            far = abs(off) * mass_g / grams
            said[-1] += f", as {grams:.0f} g placed {far:.0f} mm wrong would do"
    return "; ".join(said)
