"""How she floats with an item, and ballast, at one place after another, held against limits."""

import math
from collections.abc import Mapping
from typing import Final

from hullcheck.answers.afloat import Afloat, Refloater
from hullcheck.answers.float_records import Point
from hullcheck.answers.place_load import FreeItem
from hullcheck.answers.place_records import PlaceRow
from hullcheck.answers.place_windows import HOPELESS, Condition
from hullcheck.answers.rest import CAPSIZED_DEG
from hullcheck.craft.limits import Limits

ROUNDING_MM: Final = 1e-9
"""Of stations worked out in two ways: less than this beside the band's end is on it."""


class Floats:
    """Refloats her with the item and ballast where they are put; each place once.

    Parameters
    ----------
    free : FreeItem
        Her, with the item free.
    ballast_mm : tuple of float, optional
        Where ballast goes [mm].
    """

    def __init__(
        self, free: FreeItem, refloater: Refloater, ballast_mm: Point | None = None
    ) -> None:
        self.free = free
        self.refloater = refloater
        self.ballast_mm = ballast_mm
        self._known: dict[tuple[Point, float], PlaceRow] = {}

    def with_ballast_at(self, ballast_mm: Point) -> "Floats":
        """Return the same with a place for ballast."""
        return Floats(self.free, self.refloater, ballast_mm)

    @property
    def band(self) -> tuple[float, float] | None:
        """Stations her CG must lie between [mm]."""
        return self.free.craft.cg_range_mm

    def load(self, place_mm: Point, ballast_g: float = 0.0) -> tuple[float, Point]:
        """Return her mass and center [g, mm] with the item at a place and ballast aboard."""
        mass, center = self.free.mass_g, self.free.center_with(place_mm)
        if ballast_g == 0.0 or self.ballast_mm is None:
            return mass, center
        share = ballast_g / (mass + ballast_g)
        x, y, z = (a + share * (b - a) for a, b in zip(center, self.ballast_mm, strict=True))
        return mass + ballast_g, (x, y, z)

    def row(self, place_mm: Point, ballast_g: float = 0.0) -> PlaceRow:
        """Return how she floats with the item at a place and ballast aboard."""
        key = (place_mm, ballast_g)
        if key not in self._known:
            mass, center = self.load(place_mm, ballast_g)
            self._known[key] = self._row(place_mm, self.refloater.at(mass, center))
        return self._known[key]

    def slacks(self, row: PlaceRow) -> Mapping[Condition, float]:
        """Return how far a row keeps each condition."""
        return slacks_of(row, self.free.craft.limits, self.band)

    def _row(self, place_mm: Point, afloat: Afloat) -> PlaceRow:
        """Return a row of the scan."""
        x, y, z = place_mm
        cg_x, cg_y, cg_z = afloat.center_of_gravity_mm
        row = PlaceRow(
            x_mm=x, y_mm=y, z_mm=z,
            mass_g=afloat.mass_g,
            cg_x_mm=cg_x, cg_y_mm=cg_y, cg_z_mm=cg_z,
            trim_deg=afloat.trim_deg,
            heel_deg=afloat.heel_deg,
            freeboard_mm=afloat.freeboard_mm,
            freeboard_at=afloat.at,
            rest=afloat.rest,
            breaks=(),
            holds=True,
        )  # fmt: skip
        broken = dict.fromkeys(name for (name, _), slack in self.slacks(row).items() if slack < 0.0)
        values = {name: getattr(row, name) for name in row.__slots__}
        return PlaceRow(**values | {"breaks": tuple(broken), "holds": not broken})


def slacks_of(
    row: PlaceRow, limits: Limits, band: tuple[float, float] | None
) -> dict[Condition, float]:
    """Return how far a row keeps each condition, in its own unit; below 0 it is broken.

    Parameters
    ----------
    row : PlaceRow
        How she floats.
    limits : Limits
        Of the sheet.
    band : tuple of float or None
        Stations her CG must lie between [mm].

    Returns
    -------
    dict of (str, str) to float
        By name and end. A limit with two ends is two conditions, and so is heel to either side:
        each then changes evenly with the place. What has no value is as far off as can be.
    """
    heel = _known(row.heel_deg)
    found = {
        ("sinks", ""): 1.0,
        ("capsizes", ""): HOPELESS if heel is None else CAPSIZED_DEG - abs(heel),
    }
    if band is not None:
        found["cg_range_mm", "fore"] = _clean(row.cg_x_mm - band[0])
        found["cg_range_mm", "aft"] = _clean(band[1] - row.cg_x_mm)
    if limits.trim_deg is not None:
        low, high = limits.trim_deg
        trim = _known(row.trim_deg)
        found["trim_deg", "bow down"] = _else(None if trim is None else trim - low)
        found["trim_deg", "bow up"] = _else(None if trim is None else high - trim)
    if limits.heel_deg is not None:
        found["heel_deg", "port"] = _else(None if heel is None else limits.heel_deg + heel)
        found["heel_deg", "starboard"] = _else(None if heel is None else limits.heel_deg - heel)
    if limits.freeboard_mm is not None:
        height = _known(row.freeboard_mm)
        found["freeboard_mm", ""] = _else(None if height is None else height - limits.freeboard_mm)
    if row.rest == "sinks":
        # She has no attitude to judge: only that she sinks is named.
        return dict.fromkeys(found, 0.0) | {("sinks", ""): HOPELESS}
    return found


def _known(value: float | None) -> float | None:
    """Return a value that is a number, None where there is none."""
    return None if value is None or math.isnan(value) else value


def _else(slack: float | None) -> float:
    """Return a slack; without one the condition is as far off as can be."""
    return HOPELESS if slack is None else slack


def _clean(slack_mm: float) -> float:
    """Return a slack of stations, 0 where only rounding keeps it from it."""
    return 0.0 if abs(slack_mm) < ROUNDING_MM else slack_mm
