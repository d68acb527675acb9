"""Trim and bow freeboard over thrust, as a band: where the resistance acts at rest is not known."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.freeboard import Deck, freeboard
from hullcheck.answers.heeling import Heeling, load_of
from hullcheck.answers.righting_records import Pulled, ThrustReport, ThrustRow
from hullcheck.flotation.thrust import Pulled as Attitude
from hullcheck.flotation.thrust import Thrust, trim_under_thrust
from hullcheck.geometry.arrays import FloatArray

SHARES: Final = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Of full thrust."""
_CLOSE: Final = 0.005


def thrust_report(heeling: Heeling) -> ThrustReport | None:
    """Return trim, bow freeboard and propeller clearance over thrust; None without a propeller.

    Resisted at the waterline and at the lowest point of hull and main floats; the thrust that puts
    the bow under is narrowed down to half a percent of the full one.
    """
    propeller = heeling.craft.fittings.propeller
    if propeller is None or propeller.thrust_g is None:
        return None
    keel = np.concatenate([heeling.points_of(body) for body in heeling.craft.deck_bodies])
    bow = bow_top_mm(heeling)
    high, low = (_Pull(heeling=heeling, held_mm=held, bow_mm=bow) for held in (None, keel))
    full = propeller.thrust_g
    return ThrustReport(
        full_g=full,
        rows=tuple(
            ThrustRow(
                thrust_g=share * full,
                at_waterline=high.report(share * full),
                at_keel=low.report(share * full),
            )
            for share in SHARES
        ),
        bow_under_at_waterline_g=high.bow_under_g(full),
        bow_under_at_keel_g=low.bow_under_g(full),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Pull:
    """A craft held back at the lowest of some points, or at the waterline, and her bow [mm]."""

    heeling: Heeling
    held_mm: FloatArray | None
    bow_mm: FloatArray

    def found(self, thrust_g: float, less: Attitude | None = None) -> Attitude | None:
        """Return where she lies under a thrust [g]; None if her bow goes under first.

        Looked for from where she lies under less thrust, if that is given, else from rest.
        """
        heeling, propeller = self.heeling, self.heeling.craft.fittings.propeller
        if propeller is None:
            return None
        hub = np.array(propeller.hub_mm)
        trim = math.radians(heeling.rest.floating.trim_deg) if less is None else less.trim
        return trim_under_thrust(
            heeling.craft.skin.tree,
            load_of(heeling.craft),
            Thrust(thrust_g=thrust_g, hub_mm=hub, axis=propeller.axis),
            resisted_mm=self.held_mm,
            start=(trim, heeling.rest_heel),
        )

    def bow_mm_over(self, found: Attitude | None) -> float:
        """Return the height of the bow's top above the water [mm]; −∞ where she goes under."""
        if found is None:
            return -math.inf
        return float(self.bow_mm @ found.normal) - found.height_mm

    def report(self, thrust_g: float) -> Pulled | None:
        """Return where she lies under a thrust [g]."""
        found, propeller = self.found(thrust_g), self.heeling.craft.fittings.propeller
        if found is None or propeller is None:
            return None
        disc = propeller.lowest_mm(found.normal)
        return Pulled(
            trim_deg=math.degrees(found.trim),
            bow_freeboard_mm=self.bow_mm_over(found),
            propeller_clearance_mm=float(disc @ found.normal) - found.height_mm,
        )

    def bow_under_g(self, full_g: float) -> float | None:
        """Return the least thrust that puts the bow under [g]; None where the full one does not."""
        if self.bow_mm_over(self.found(full_g)) >= 0.0:
            return None
        low, high = 0.0, full_g
        less: Attitude | None = None
        while high - low > _CLOSE * full_g:
            middle = 0.5 * (low + high)
            found = self.found(middle, less)
            if self.bow_mm_over(found) >= 0.0:
                low, less = middle, found
            else:
                high = middle
        return high


def bow_top_mm(heeling: Heeling) -> FloatArray:
    """Return the top of the hull at the bow in body axes [mm], shape (3,)."""
    craft = heeling.craft
    board = freeboard(craft, Deck.alone(craft), heeling.rest.floating)
    for point in board.points:
        if point.name == "top of the hull at the bow":
            return np.array(point.point_mm)
    corners = craft.deck_body.shell.triangles_mm.reshape(-1, 3)
    foremost: FloatArray = corners[int(corners[:, 0].argmin())]
    return foremost
