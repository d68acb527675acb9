"""The answer to how she grew: weigh-ins by date against freeboard. Names are keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Self

from hullcheck.answers.float_records import Caveat, LimitCheck, Point
from hullcheck.water import Water


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryRow:
    """How she was after one weigh-in.

    Attributes
    ----------
    entry : int
        Its number in the logbook.
    at : str
        When it was, ISO 8601 with its zone.
    item : str or None
        What was on the scale; None for her all-up.
    weighed_g, weighed_plus_minus_g : float
        What the scale showed, and its resolution [g].
    mass_g, plus_minus_g : float
        All-up: measured, or the ledger as it was known then [g].
    measured : bool
        Whether she was weighed all-up.
    grew_g : float
        Against the row before; against the ledger as planned in the first [g].
    center_of_gravity_mm : tuple of float or None
        By the ledger as it was known then [mm].
    rest : str or None
        How she rests; None without her center.
    freeboard_mm : float or None
        Height of what is lowest above the water [mm].
    at_opening : str or None
        What that is.
    sank_mm : float or None
        Freeboard lost against the row before [mm].
    trim_deg : float or None
        Positive bow up [deg].
    limits : tuple of LimitCheck
        The sheet's limits about how she floats.
    """

    entry: int
    at: str
    item: str | None
    weighed_g: float
    weighed_plus_minus_g: float
    mass_g: float
    plus_minus_g: float
    measured: bool
    grew_g: float
    center_of_gravity_mm: Point | None
    rest: str | None
    freeboard_mm: float | None
    at_opening: str | None
    sank_mm: float | None
    trim_deg: float | None
    limits: tuple[LimitCheck, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether she floats on her feet and keeps every limit."""
        return self.rest not in {"sinks", "capsized"} and all(check.ok for check in self.limits)


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryAnswer:
    """How she grew, weigh-in by weigh-in.

    Attributes
    ----------
    schema : str
        "hullcheck.weights-by-date/1".
    craft : str
        Her name.
    setup : str or None
        The setup she is in.
    water : Water
        What she floats in, in every row.
    planned_mass_g : float or None
        All-up by the plan alone [g]; None where an item has no planned mass.
    target_mass_g : float or None
        What she was meant to weigh [g].
    freeboard_limit_mm : float or None
        Of the sheet [mm].
    rows : tuple of HistoryRow
        By date.
    warnings : tuple of Caveat
        What must be known beside it.
    """

    schema: str
    craft: str
    setup: str | None
    water: Water
    planned_mass_g: float | None
    target_mass_g: float | None
    freeboard_limit_mm: float | None
    rows: tuple[HistoryRow, ...]
    warnings: tuple[Caveat, ...] = ()

    def with_warnings(self, first: tuple[Caveat, ...]) -> Self:
        """Return the answer with more warnings put first."""
        return replace(self, warnings=(*first, *self.warnings))
