"""Weighings as one vector of values, each with its ±, and the mass and center they solve to."""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from hullcheck.answers.scales_records import CenterHeight, HeightFrom, OnScales, Share, Support
from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.units import DEG_PER_RAD

_LEAST_TILT_DEG: Final = 1.0
"""Between two weighings: less tells nothing of the height."""
_TRIAL: Final = 1e-3
"""Share of a ± by which a reading is changed to see what follows."""
_NOTHING: Final = 1e-9
"""Grams and millimeters: less is rounding of the trials."""


class Trial:
    """Weighings as one vector of values, each with its ±, and what they solve to."""

    def __init__(self, weighings: Sequence[OnScales], height: CenterHeight | None) -> None:
        if not weighings:
            raise InputError("nothing was weighed: give at least one weighing")
        self.weighings = tuple(weighings)
        self.height = height
        self.supports = _supports(self.weighings)
        self.along, self.across = True, any(one.across for one in weighings)
        attitudes = [(one.bow_up_deg, one.starboard_down_deg) for one in weighings]
        apart = max(np.ptp([a for a, _ in attitudes]), np.ptp([b for _, b in attitudes]))
        self.tells_height = bool(apart >= _LEAST_TILT_DEG)
        if len(weighings) > 1 and not self.tells_height:
            raise InputError(
                f"the weighings are {apart:.1f}° apart: tilt the second by {_LEAST_TILT_DEG:g}° at "
                "least, 10° or more to know the height of the CG well"
            )
        if not self.tells_height and height is None and any(a or b for a, b in attitudes):
            raise InputError(
                f"she lay {attitudes[0][0]:g}° bow up, so the height of her CG counts and is not "
                "known: give it, or level her datum line"
            )
        self.names, self.values, self.plus_minus = self._parameters()

    @property
    def height_from(self) -> HeightFrom:
        """Where the height of her center is from."""
        if self.tells_height:
            return "weighed"
        return "not known" if self.height is None else self.height.source

    @property
    def told(self) -> tuple[bool, bool, bool]:
        """Which coordinates of the center are told by the weighings."""
        return True, self.across, self.tells_height

    def _parameters(self) -> tuple[list[str], FloatArray, FloatArray]:
        """Return names, values and ± of all that was read."""
        rows: list[tuple[str, float, float]] = []
        for support in self.supports:
            for axis in ("x_mm", "y_mm", "z_mm"):
                of = f"{axis[0]} of {support.name}"
                rows.append((of, getattr(support, axis), support.plus_minus_mm))
        for k, one in enumerate(self.weighings):
            where = "" if len(self.weighings) == 1 else f", weighing {k + 1}"
            rows += [(f"{s.name}{where}", grams, one.plus_minus_g) for s, grams in one.readings]
            # Without two supports apart across she is held, and her heel is nobody's reading.
            heel = one.plus_minus_deg if self.across else 0.0
            rows.append((f"bow-up angle{where}", one.bow_up_deg, one.plus_minus_deg))
            rows.append((f"heel{where}", one.starboard_down_deg, heel))
        known = self.height
        rows.append(
            ("height of the CG", 0.0, 0.0)
            if known is None
            else ("height of the CG", known.z_mm, known.plus_minus_mm)
        )
        names, values, spread = zip(*rows, strict=True)
        return list(names), np.array(values, dtype=np.float64), np.array(spread, dtype=np.float64)

    def solve(self, values: FloatArray) -> FloatArray:
        """Return mass and center for a vector of values, shape (4,)."""
        count = len(self.supports)
        places = values[: 3 * count].reshape(count, 3)
        index = {support.name: i for i, support in enumerate(self.supports)}
        rows, right, sums, at = [], [], [], 3 * count
        for one in self.weighings:
            grams = values[at : at + len(one.readings)]
            at += len(one.readings) + 2
            under = places[[index[support.name] for support, _ in one.readings]]
            pressure = grams @ under / grams.sum()
            sums.append(float(grams.sum()))
            aft, starboard = _level_axes(values[at - 2], values[at - 1])
            for axis, counts in ((aft, True), (starboard, one.across)):
                if counts:
                    rows.append(axis)
                    right.append(float(axis @ pressure))
        if not self.across:
            rows.append(np.array([0.0, 1.0, 0.0]))
            right.append(0.0)
        if not self.tells_height:
            # Without a height she was level, and it counts only in what an angle is worth.
            rows.append(np.array([0.0, 0.0, 1.0]))
            right.append(float(places[:, 2].mean() if self.height is None else values[-1]))
        center = np.linalg.lstsq(np.array(rows), np.array(right), rcond=None)[0]
        return np.array([math.fsum(sums) / len(sums), *center])

    def shares(self) -> tuple[Share, ...]:
        """Return what each value, out by its ±, does to mass and center."""
        found = []
        for i, about in enumerate(self.plus_minus):
            if about == 0.0:
                continue
            step = np.zeros(len(self.values))
            step[i] = _TRIAL * about
            slope = (self.solve(self.values + step) - self.solve(self.values - step)) / (2 * _TRIAL)
            # What the weighings do not tell they do not spread either.
            mass, x, y, z = np.where((True, *self.told), slope, 0.0).tolist()
            if max(abs(mass), abs(x), abs(y), abs(z)) > _NOTHING:
                found.append(Share(of=self.names[i], mass_g=mass, x_mm=x, y_mm=y, z_mm=z))
        return tuple(found)


def _supports(weighings: Sequence[OnScales]) -> tuple[Support, ...]:
    """Return every support once; InputError if one name stands for two places."""
    found: dict[str, Support] = {}
    for one in weighings:
        for support, _ in one.readings:
            if found.setdefault(support.name, support) != support:
                raise InputError(
                    f"{support.name} has two places; give a support that was moved another name"
                )
    return tuple(found.values())


def _level_axes(bow_up_deg: float, starboard_down_deg: float) -> tuple[FloatArray, FloatArray]:
    """Return the level unit vectors aft and to starboard, in body axes."""
    tau, phi = bow_up_deg / DEG_PER_RAD, starboard_down_deg / DEG_PER_RAD
    sine = math.sin(tau)
    aft = np.array([math.cos(tau), -sine * math.sin(phi), sine * math.cos(phi)])
    return aft, np.array([0.0, math.cos(phi), math.sin(phi)])
