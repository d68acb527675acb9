"""What she must keep."""

import math
from dataclasses import dataclass, fields

from hullcheck.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The limits of a build sheet; None where there is none.

    Attributes
    ----------
    freeboard_mm : float or None
        Least height of any opening that is not sealed [mm].
    trim_deg : tuple of float or None
        Least and greatest trim [deg], positive bow up.
    heel_deg : float or None
        Greatest heel to either side [deg].
    time_on_water_min : float or None
        How long she must be able to sit on the water [min].
    leak_g_per_30min : float or None
        Greatest gain in a leak test, in 30 minutes [g].
    """

    freeboard_mm: float | None = None
    trim_deg: tuple[float, float] | None = None
    heel_deg: float | None = None
    time_on_water_min: float | None = None
    leak_g_per_30min: float | None = None

    def __post_init__(self) -> None:
        """Refuse limits that nothing can keep."""
        for field in fields(self):
            value = getattr(self, field.name)
            values = value if isinstance(value, tuple) else () if value is None else (value,)
            if not all(math.isfinite(v) for v in values):
                raise InputError(f"limit {field.name} {value}: not a finite number")
        if self.trim_deg is not None and not self.trim_deg[0] < self.trim_deg[1]:
            raise InputError(
                f"limit trim_deg {list(self.trim_deg)}: the first must be below the second"
            )
        for name in ("heel_deg", "time_on_water_min", "leak_g_per_30min"):
            value = getattr(self, name)
            if value is not None and value < 0.0:
                raise InputError(f"limit {name} {value:g}: must not be below 0")

    @property
    def afloat(self) -> bool:
        """Whether any limit is about how she floats."""
        return not (self.freeboard_mm is None and self.trim_deg is None and self.heel_deg is None)
