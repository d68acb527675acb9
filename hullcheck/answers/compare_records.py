"""The answer to what changed between two loads. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Literal, Self

from hullcheck.answers.afloat import Afloat
from hullcheck.answers.float_records import Caveat, Point
from hullcheck.answers.weights_records import Cost, GramsLeft
from hullcheck.water import Water

Kind = Literal[
    "added",
    "removed",
    "heavier",
    "lighter",
    "moved",
    "clinging water",
    "measured",
    "water",
    "opening",
    "limits",
    "hull",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareSide:
    """One of the two that are compared.

    Attributes
    ----------
    name : str
        What it is called: its file or folder, its setup, or both.
    setup : str or None
        The setup she is in; None as she is.
    mass_g, plus_minus_g : float
        All-up mass and how well it is known [g].
    center_of_gravity_mm : tuple of float or None
        [mm]
    items, weighed : int
        How many items the ledger holds, and how many of them are weighed.
    water : Water
        What she floats in.
    afloat : Afloat or None
        How she floats; None where the center of one of the two is not known.
    freeboard_plus_minus_mm : float or None
        How well that freeboard is known: reading, weighing, the volume of the skin [mm].
    grams_left : GramsLeft or None
        To the limit that breaks first; None without limits, or where she is not floated.
    cg_in_range : bool or None
        Whether her CG lies in the stations it must keep; None where either is not known.
    """

    name: str
    setup: str | None
    mass_g: float
    plus_minus_g: float
    center_of_gravity_mm: Point | None
    items: int
    weighed: int
    water: Water
    afloat: Afloat | None
    freeboard_plus_minus_mm: float | None = None
    grams_left: GramsLeft | None = None
    cg_in_range: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareChange:
    """One change, put aboard where the last one left her.

    Attributes
    ----------
    name : str
        The item or opening; or what else changed.
    kind : str
        "added", "removed", "heavier", "lighter", "moved" of an item; "clinging water" (wet_g);
        "measured" (mass or center that stand in for the ledger's sums); "water"; "opening";
        "limits" (target and limits: nothing floats otherwise); "hull" (bodies, and the openings
        that come with them).
    was, now : str or None
        What it was and is, in words, where it is no item.
    mass_before_g, mass_after_g : float or None
        Of an item or of clinging water [g]; None where it is not aboard or not known.
    moved_mm : tuple of float or None
        How far an item was moved [mm].
    mass_g : float
        What it adds to the all-up mass [g].
    cost : Cost or None
        What it does: how she floats with it less how the last change left her; None where nothing
        is floated. Where she does not float with it, `freeboard_mm`, `trim_deg` and `heel_deg` are
        None and fall to the next change with which she does.
    afloat : Afloat or None
        How she floats with it and all changes before it.
    """

    name: str
    kind: Kind
    was: str | None = None
    now: str | None = None
    mass_before_g: float | None = None
    mass_after_g: float | None = None
    moved_mm: Point | None = None
    mass_g: float = 0.0
    cost: Cost | None = None
    afloat: Afloat | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareAnswer:
    """Each change between two loads, and the whole they add up to.

    Attributes
    ----------
    schema : str
        Which document this is.
    craft : str
        What she is called.
    old, new : CompareSide
        What is compared.
    mass_g : float
        New less old [g]: the sum of the changes' `mass_g`.
    cost : Cost or None
        New less old: the sum of the changes' own.
    changes : tuple of CompareChange
        Items in the order of the old ledger, then those added; then what is no item; the hull last.
    warnings : tuple of Caveat
    """

    schema: str
    craft: str
    old: CompareSide
    new: CompareSide
    mass_g: float
    cost: Cost | None
    changes: tuple[CompareChange, ...]
    warnings: tuple[Caveat, ...] = ()

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
