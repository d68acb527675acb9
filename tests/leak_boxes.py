"""Boxes with a leak in the bottom, in closed form: how long they take to lose their freeboard."""

import math
from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, kw_only=True)
class LeakingBox:
    """A box of 200 × 100 mm and 500 g in water of 1 g/cm³, with 35 mm of freeboard to lose.

    Attributes
    ----------
    flow_g_s : float
        What the leak lets in at the beginning [g/s].
    inner_mm2 : float
        Area of the room inside [mm²]; as great as outside where the walls are thin.
    above_floor_mm : float
        Height of the leak above the floor [mm]; the inside level stays below it.
    """

    flow_g_s: float
    inner_mm2: float = 20000.0
    above_floor_mm: float = 0.0

    area_mm2: ClassVar[float] = 200.0 * 100.0
    mass_g: ClassVar[float] = 500.0
    freeboard_mm: ClassVar[float] = 35.0
    g_per_mm3: ClassVar[float] = 1e-3

    @property
    def first_head_mm(self) -> float:
        """Head on the leak before any water is inside [mm]: 25 mm of draft less its height."""
        return self.mass_g / (self.g_per_mm3 * self.area_mm2) - self.above_floor_mm

    @property
    def water_g(self) -> float:
        """Water that takes the freeboard [g]: it sinks her by its volume over the area."""
        return self.g_per_mm3 * self.area_mm2 * self.freeboard_mm

    def head_mm(self, water_g):
        """Return the head with so much water inside [mm], the leak in the floor or above it.

        In the floor the draft rises by v/A, the level inside by v/A_i; above the water inside only
        the first counts.
        """
        volume = water_g / self.g_per_mm3
        inside = volume / self.inner_mm2 if self.above_floor_mm == 0.0 else 0.0
        return self.first_head_mm + volume / self.area_mm2 - inside

    def seconds(self, law):
        """Return the time to lose the freeboard [s] by a law, in closed form.

        dt = ρ dv/Q(h(v)) with h linear in v and Q in the proportion of √h or of h. Thin walls: h
        stays, t = ρ A F/Q. Inner area less: k = 1/A_i − 1/A, h₁ = h₀ − kAF. Above the floor:
        h = h₀ + v/A.
        """
        first, last = self.first_head_mm, self.head_mm(self.water_g)
        if first == last:
            return self.water_g / self.flow_g_s
        slope = (last - first) / (self.water_g / self.flow_g_s)
        if law == "hole":
            return 2.0 * math.sqrt(first) * (math.sqrt(last) - math.sqrt(first)) / slope
        return first * math.log(last / first) / slope
