"""Which columns of a table of tests explain what came in: non-negative least squares."""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from hullcheck.flotation.leak_laws import LeakLaw
from hullcheck.geometry.arrays import FloatArray

CLEARLY: Final = 9.0
"""A rise of chi-squared by this is clear: three standard deviations of one strength."""
_HALF_OF_95: Final = 3.841458820694124
"""What chi-squared rises by at the ends of a 95 % interval of one strength."""
_CHANCE: Final = 0.99
_STEPS: Final = 40
"""Halvings to the end of an interval: to twelve digits of it."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Fit:
    """Tests in rows, suspects in columns, all divided by each test's standard uncertainty.

    Attributes
    ----------
    matrix : ndarray, shape (k, s)
        What each suspect of unit strength lets in in each test, over that test's uncertainty [1].
    measured : ndarray, shape (k,)
        What came in, over that test's uncertainty [1].
    """

    matrix: FloatArray
    measured: FloatArray

    @cached_property
    def strengths(self) -> FloatArray:
        """Best strengths, none below 0, shape (s,)."""
        return self.solve(range(self.size))[0]

    @cached_property
    def chi_squared(self) -> float:
        """Squares left over by them."""
        return self.solve(range(self.size))[1]

    @property
    def size(self) -> int:
        """Number of suspects."""
        return int(self.matrix.shape[1])

    @cached_property
    def limit(self) -> float:
        """What chance alone leaves over in 99 of 100 cases."""
        from scipy.stats import chi2

        free = max(len(self.measured) - int((self.strengths > 0.0).sum()), 1)
        return float(chi2.ppf(_CHANCE, free))

    @property
    def explains(self) -> bool:
        """Whether they leave no more than chance does."""
        return self.chi_squared <= self.limit

    @property
    def explains_nothing(self) -> bool:
        """Whether no leak at all explains the tests not clearly worse than the best leaks do."""
        return float(self.measured @ self.measured) - self.chi_squared < CLEARLY

    @cached_property
    def spread(self) -> float:
        """What intervals are wider by, squared, where even the best fit is a poor one."""
        return max(1.0, self.chi_squared / self.limit)

    def solve(
        self, columns: Sequence[int], less: FloatArray | None = None
    ) -> tuple[FloatArray, float]:
        """Return strengths of some suspects, shape (s,) with 0 for the others, and chi-squared.

        Parameters
        ----------
        columns : sequence of int
            The suspects that may leak.
        less : ndarray, shape (k,) or None
            Taken off what was measured.
        """
        from scipy.optimize import nnls

        found = np.zeros(self.size)
        rest = self.measured if less is None else self.measured - less
        chosen = list(columns)
        if not chosen:
            return found, float(rest @ rest)
        part = self.matrix[:, chosen]
        scale = np.linalg.norm(part, axis=0)
        scale[scale == 0.0] = 1.0
        values, left = nnls(part / scale, rest)
        found[chosen] = values / scale
        return found, float(left**2)

    def without(self, column: int) -> float:
        """Return by how much chi-squared rises where one suspect is taken to be tight."""
        others = [k for k in range(self.size) if k != column]
        return max(self.solve(others)[1] - self.chi_squared, 0.0)

    def needed(self) -> tuple[int, ...]:
        """Return the suspects without which no others explain the tests."""
        return tuple(
            k for k in range(self.size) if self.strengths[k] > 0.0 and self.without(k) >= CLEARLY
        )

    def alone(self) -> tuple[int, ...]:
        """Return the suspects any of which explains the tests by itself as well as all together."""
        return tuple(found[0] for found in self.explanations(1))

    def explanations(self, number: int) -> tuple[tuple[int, ...], ...]:
        """Return sets of so many suspects that explain the tests not clearly worse than all do.

        Sets of which a part does as well are left out.
        """
        return tuple(
            columns
            for columns in itertools.combinations(range(self.size), number)
            if self._as_good(self.solve(columns)[1])
            and not any(
                self._as_good(self.solve(part)[1])
                for part in itertools.combinations(columns, number - 1)
            )
        )

    def fewest(self, most: int = 3) -> tuple[tuple[int, ...], ...]:
        """Return all explanations by the least number of suspects, up to `most` of them."""
        for number in range(1, min(most, self.size) + 1):
            found = self.explanations(number)
            if found:
                return found
        return ()

    @cached_property
    def least(self) -> tuple[tuple[int, ...], ...]:
        """All explanations by the least number of suspects, up to three of them."""
        return self.fewest()

    def interval(self, column: int) -> tuple[float, float]:
        """Return the 95 % interval of one strength, whatever the others are.

        Notes
        -----
        The least and the greatest value at which the others can still keep chi-squared within 3.84
        of its least (profile likelihood); it is convex in that value, so both are found by halving.
        """
        best = float(self.strengths[column])
        size = float(np.linalg.norm(self.matrix[:, column]))
        if size == 0.0:
            return 0.0, float("inf")
        reach = (float(np.linalg.norm(self.measured)) + 10.0) / size
        low = 0.0 if self._holds(column, 0.0) else self._edge(column, best, 0.0)
        high = best + reach
        while self._holds(column, high):
            high += reach
        return low, self._edge(column, best, high)

    def _as_good(self, chi_squared: float) -> bool:
        """Return whether a fit is not clearly worse than the best one."""
        return chi_squared - self.chi_squared < CLEARLY

    def _holds(self, column: int, value: float) -> bool:
        """Return whether a strength is within its interval."""
        others = [k for k in range(self.size) if k != column]
        _, chi_squared = self.solve(others, less=value * self.matrix[:, column])
        return chi_squared - self.chi_squared <= _HALF_OF_95 * self.spread

    def _edge(self, column: int, inside: float, outside: float) -> float:
        """Return where a strength leaves its interval, between a value inside and one outside."""
        for _ in range(_STEPS):
            middle = 0.5 * (inside + outside)
            if self._holds(column, middle):
                inside = middle
            else:
                outside = middle
        return inside


def simplest(fits: Mapping[LeakLaw, Fit]) -> dict[LeakLaw, Fit]:
    """Return the laws that explain the tests by the fewest suspects."""
    sizes = {law: len(fit.least[0]) for law, fit in fits.items() if fit.explains and fit.least}
    return {law: fits[law] for law, size in sizes.items() if size == min(sizes.values())}
