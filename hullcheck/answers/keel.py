"""The keel of a body and the stations that drafts and heights are read at."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.profile import Profile
from hullcheck.geometry.shells import Shell

BOW_SHARE: Final = 0.05
"""Bow draft and bow freeboard are read at this share of the length from the foremost point."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Keel:
    """A body's keel.

    Attributes
    ----------
    shell : Shell
        The body.
    profile : Profile or None
        Lower edge on its center plane; None where that plane misses it.
    sternpost_mm : float or None
        Station of the sternpost [mm], where a step was found.
    """

    shell: Shell
    profile: Profile | None
    sternpost_mm: float | None

    @property
    def bow_mm(self) -> float:
        """Station at 5 % of the body's length from its foremost point [mm]."""
        low, high = float(self.shell.low_mm[0]), float(self.shell.high_mm[0])
        return low + BOW_SHARE * (high - low)

    @property
    def stern_mm(self) -> float:
        """Station of the sternpost, or of the aftmost keel [mm]."""
        if self.sternpost_mm is not None:
            return self.sternpost_mm
        if self.profile is None:
            return float(self.shell.high_mm[0])
        return float(self.profile.ends[-1, 0])

    def point(self, station_mm: float) -> FloatArray | None:
        """Return the keel's point at a station [mm], None where there is no keel."""
        if self.profile is None:
            return None
        height = self.profile.height_at(station_mm)
        point = np.array([station_mm, self.shell.center_plane_mm, height])
        return point if np.isfinite(height) else None
