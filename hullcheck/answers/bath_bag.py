"""The bag that makes a bare or half-built hull weigh and balance like the finished craft."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.bath_records import Bag, Lies, Share
from hullcheck.answers.float_records import Point
from hullcheck.answers.load_caveats import names_in_a_row
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.weighing import MEASURED_PLUS_MINUS_G
from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.sections import Slices, chained

BAG_HEIGHT_MM: Final = 20.0
"""How high a bag of shot, sand or coins lies (common practice, no source)."""
_NOTHING: Final = 1e-9
"""Share of her mass: less than this is no bag."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """Where the bag is put: propped at its true height, at a z of its own [mm], or on the bottom.

    With `none` there is no bag: what is aboard floats as it is.
    """

    z_mm: float | None = None
    propped: bool = False
    none: bool = False

    def __post_init__(self) -> None:
        """Refuse two ways at once, and a height that is no number."""
        if self.z_mm is not None and not math.isfinite(self.z_mm):
            raise InputError(f"bag at z {self.z_mm:g} mm: not a finite number")
        if (self.z_mm is not None) + self.propped + self.none > 1:
            raise InputError("the bag lies at one height, is propped, or is not there: choose one")


def shares_of(build: Build, setup: str | None) -> tuple[Share, Share, Ledger]:
    """Return the finished craft, what is aboard of her, and the ledger as the setup has it.

    Parameters
    ----------
    build : Build
        With a ledger; `aboard` says what is built in so far.
    setup : str or None
        Name of a setup that says what the finished craft is.

    Returns
    -------
    finished, aboard : Share
        Of the finished one the items are all of the ledger.
    ledger : Ledger

    Raises
    ------
    InputError
        If there is no ledger, nothing of it is aboard, the mass of something aboard is not known,
        or what is aboard weighs more than she was measured to.
    """
    if not build.ledger.items:
        raise InputError(
            f"{build.name}: bath needs the weight ledger, weights.csv beside the build sheet, with "
            "yes or no under aboard: what is built in so far"
        )
    ledger = build.setup(setup).of_ledger(build.ledger)
    mass, center = build.load(setup, build.ledger)
    there = Ledger(items=tuple(item for item in ledger.items if item.aboard))
    _refuse_unknown(build, there)
    off = mass - there.mass_g
    if off < -_NOTHING * mass:
        raise InputError(
            f"{build.name}: the items aboard weigh {there.mass_g:g} g, {-off:.1f} g more than the "
            f"finished craft's {mass:g} g; correct mass_g of the build sheet, or weights.csv"
        )
    whole = MEASURED_PLUS_MINUS_G if build.mass_g is not None else ledger.plus_minus_g
    return (
        Share(
            items=ledger.names, mass_g=mass, plus_minus_g=whole, center_of_gravity_mm=center
        ),
        Share(
            items=there.names,
            mass_g=there.mass_g,
            plus_minus_g=there.plus_minus_g,
            center_of_gravity_mm=there.center_mm,
        ),
        ledger,
    )  # fmt: skip


def _refuse_unknown(build: Build, there: Ledger) -> None:
    """Refuse a ledger that does not say what is aboard, or what that weighs."""
    if there.unknown:
        raise InputError(
            f"{names_in_a_row(there.unknown)}: aboard, but neither planned nor weighed, so what "
            "the bag must weigh is not known; fill in weighed_g, or write no under aboard"
        )
    if not there.mass_g > 0.0:
        raise InputError(
            f"{build.name}: no item of the ledger that weighs anything is aboard; write yes under "
            "aboard for what is built in so far"
        )


def bag_of(build: Build, shares: tuple[Share, Share, Ledger], placing: Placing) -> Bag | None:
    """Return the bag; None where nothing is missing or none is wanted.

    Parameters
    ----------
    build : Build
        Whose skin and walls it lies on.
    shares : tuple
        From `shares_of`.
    placing : Placing
        How it is put.

    Returns
    -------
    Bag or None
        By moments: mass_bag = mass − mass_aboard, G_bag = G_aboard + mass (G − G_aboard)/mass_bag.
        On the bottom its middle lies half of 20 mm above the wall over the lowest skin at its
        x and y; a wall that is not given counts as none.
    """
    finished, aboard, ledger = shares
    grams = finished.mass_g - aboard.mass_g
    if placing.none or grams <= _NOTHING * finished.mass_g:
        return None
    missing = tuple(item for item in ledger.items if not item.aboard)
    center = _center(finished, aboard, grams)
    column = None if center is None else skin_column(build, center[0], center[1])
    lies_at, lies = _lying(center, column, placing)
    return Bag(
        stands_for=tuple(item.name for item in missing),
        mass_g=grams,
        plus_minus_g=_plus_minus_g(build, missing, aboard),
        center_of_gravity_mm=center,
        lies_at_mm=lies_at,
        lies=lies,
        bottom_z_mm=None if column is None else column.bottom_z_mm,
        top_z_mm=None if column is None else column.top_z_mm,
    )


def _center(finished: Share, aboard: Share, grams: float) -> Point | None:
    """Return where the bag must be [mm]; None where a place is missing."""
    whole, part = finished.center_of_gravity_mm, aboard.center_of_gravity_mm
    if whole is None or part is None:
        return None
    x, y, z = (
        b + finished.mass_g * (a - b) / grams for a, b in zip(whole, part, strict=True)
    )  # fmt: skip
    return (x, y, z)


def _plus_minus_g(build: Build, missing: tuple[Item, ...], aboard: Share) -> float:
    """Return how well the bag's mass is known [g]."""
    if build.mass_g is not None:
        return math.hypot(MEASURED_PLUS_MINUS_G, aboard.plus_minus_g)
    return math.hypot(*(item.uncertainty_g for item in missing))


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinColumn:
    """The outer skin under and over a place [mm], and the wall of the body it is of."""

    bottom_z_mm: float
    top_z_mm: float
    wall_mm: float | None

    @property
    def bag_z_mm(self) -> float:
        """Middle of a bag that lies on the bottom inside [mm]."""
        return self.bottom_z_mm + (self.wall_mm or 0.0) + 0.5 * BAG_HEIGHT_MM


def skin_column(build: Build, x_mm: float, y_mm: float) -> SkinColumn | None:
    """Return the skin under and over a place [mm], of the lowest body there; None where is none."""
    found = []
    for body in build.bodies:
        heights = [
            z for loop in chained(Slices(body.shell.triangles_mm).at(x_mm)) for z in _at(loop, y_mm)
        ]
        if heights:
            structure = build.structures.get(body.name)
            wall = None if structure is None else structure.wall_mm
            found.append(SkinColumn(bottom_z_mm=min(heights), top_z_mm=max(heights), wall_mm=wall))
    return min(found, key=lambda column: column.bottom_z_mm, default=None)


def _at(loop: FloatArray, y_mm: float) -> list[float]:
    """Return the heights at which a section crosses a line y = constant [mm]."""
    start, end = loop, np.roll(loop, -1, axis=0)
    near, far = start[:, 1] - y_mm, end[:, 1] - y_mm
    crosses = np.minimum(near, far) * np.maximum(near, far) <= 0.0
    run = (near - far)[crosses]
    share = np.where(run != 0.0, near[crosses] / np.where(run != 0.0, run, 1.0), 0.0)
    level = start[crosses, 2] + share * (end[crosses, 2] - start[crosses, 2])
    return [*level.tolist(), *end[crosses, 2][run == 0.0].tolist()]


def _lying(
    center: Point | None, column: SkinColumn | None, placing: Placing
) -> tuple[Point | None, Lies | None]:
    """Return where the bag lies [mm] and how; None where nothing is known to lie on."""
    if center is None:
        return None, None
    if placing.propped:
        return center, "propped"
    if placing.z_mm is not None:
        return (center[0], center[1], placing.z_mm), "at the height given"
    if column is None:
        return None, None
    return (center[0], center[1], column.bag_z_mm), "on the bottom"
