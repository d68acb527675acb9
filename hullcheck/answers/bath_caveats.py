"""What the reader must know beside the bag and the readings."""

import math

from hullcheck.answers.bath_bag import BAG_HEIGHT_MM, Placing, SkinColumn
from hullcheck.answers.bath_records import Bag, ExpectedReading, Flattery, Share
from hullcheck.answers.float_records import Caveat
from hullcheck.answers.heeling import Heeling
from hullcheck.answers.load_caveats import load_caveats, names_in_a_row
from hullcheck.answers.rest import CAPSIZED_DEG
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.craft.ledger import Ledger


def bath_caveats(
    craft: Craft,
    shares: tuple[Share, Share, Ledger],
    bag: Bag | None,
    column: SkinColumn | None,
    placing: Placing,
) -> tuple[Caveat, ...]:
    """Return what must be said of the load and the bag, the gravest first.

    Parameters
    ----------
    craft : Craft
        Finished.
    shares : tuple
        From `bath_bag.shares_of`.
    bag : Bag or None
        From `bath_bag.bag_of`.
    column : SkinColumn or None
        The skin under and over the bag.
    placing : Placing
        How it is put.

    Returns
    -------
    tuple of Caveat
        Codes of `load_caveats` and "bag-place-unknown", "bag-outside-skin", "bag-above-skin",
        "bag-not-enough", "bag-assumed", "no-bag", "aboard-planned", "sea-water", "no-marks".
    """
    finished, aboard, ledger = shares
    found = list(load_caveats(craft))
    if bag is None:
        found += _of_no_bag(finished, aboard, placing)
    elif bag.center_of_gravity_mm is None:
        why = _placeless(ledger, aboard)
        found.append(
            Caveat(
                code="bag-place-unknown",
                message=f"where the bag goes and what the marks should read is not known: {why}",
            )
        )
    else:
        found += _of_place(bag, column)
    return (*found, *_of_sheet(craft, ledger))


def _of_sheet(craft: Craft, ledger: Ledger) -> list[Caveat]:
    """Return what ledger, water and marks leave open."""
    found = []
    guessed = tuple(
        item.name for item in ledger.items if item.aboard and item.weighed_g is None and item.mass_g
    )
    if guessed:
        found.append(
            Caveat(
                code="aboard-planned",
                message=f"aboard but not weighed: {names_in_a_row(guessed)}; she and the bag weigh "
                "what the ledger says only as far as that holds: weigh them together (--weighed)",
            )
        )
    if craft.water.kind == "sea":
        found.append(
            Caveat(
                code="sea-water",
                message="readings are for sea water; for a tub of tap water add --water fresh",
            )
        )
    if not craft.fittings.marks:
        found.append(
            Caveat(
                code="no-marks",
                message="the build sheet has no [[mark]] to measure down from: add name and "
                "point_mm of three or more, not all in one line",
            )
        )
    return found


def _placeless(ledger: Ledger, aboard: Share) -> str:
    """Return why the bag's place is not known."""
    names = ledger.without_place
    if not names:
        return "no center of gravity is known"
    here = [name for name in names if name in aboard.items]
    whose = f", {names_in_a_row(tuple(here))} aboard" if here and len(here) < len(names) else ""
    return f"fill in x_mm and z_mm of {names_in_a_row(names)} in weights.csv{whose}"


def _of_no_bag(finished: Share, aboard: Share, placing: Placing) -> list[Caveat]:
    """Return what to say where there is no bag."""
    if placing.none:
        short = finished.mass_g - aboard.mass_g
        return [
            Caveat(
                code="no-bag",
                message=f"without a bag: she floats {short:.0f} g lighter than finished, and "
                "neither the waterline nor the trim is hers",
            )
        ]
    found = [Caveat(code="no-bag", message="everything is aboard: she needs no bag")]
    whole, part = finished.center_of_gravity_mm, aboard.center_of_gravity_mm
    if whole is not None and part is not None:
        off = max(abs(a - b) for a, b in zip(whole, part, strict=True))
        if off > 0.05:
            found.append(
                Caveat(
                    code="bag-not-enough",
                    message=f"the measured CG lies {off:.1f} mm from the ledger's at the same "
                    "mass: no bag makes up for that, an item must move",
                )
            )
    return found


def _of_place(bag: Bag, column: SkinColumn | None) -> list[Caveat]:
    """Return what is unusual about the bag's place, and what was assumed of how it lies."""
    x, y, z = bag.center_of_gravity_mm or (0.0, 0.0, 0.0)
    if column is None:
        return [
            Caveat(
                code="bag-outside-skin",
                message=f"the bag belongs at station {x:.0f}, {_abeam(y)}, and no skin lies under "
                "that place: fix it outside, or spread it over places inside with the same "
                "moments; readings are for the bag at its true place",
            )
        ]
    found = []
    if not column.bottom_z_mm <= z <= column.top_z_mm:
        where = "over the top of" if z > column.top_z_mm else "under the bottom of"
        found.append(
            Caveat(
                code="bag-above-skin",
                message=f"its true height, z {z:.0f}, lies {where} the skin there (z "
                f"{column.bottom_z_mm:.0f} to {column.top_z_mm:.0f}): propped inside it cannot be",
            )
        )
    if bag.lies == "on the bottom":
        wall = "no wall_mm is given, none counted" if column.wall_mm is None else (
            f"wall {column.wall_mm:g} mm"
        )  # fmt: skip
        found.append(
            Caveat(
                code="bag-assumed",
                message=f"the bag is taken to lie on the bottom inside, {BAG_HEIGHT_MM:g} mm high "
                f"({wall}); --bag-z says otherwise",
            )
        )
    return found


def _abeam(y_mm: float) -> str:
    """Return how far abeam a place is, in words."""
    if abs(y_mm) < 0.5:
        return "on the center plane"
    return f"{abs(y_mm):.0f} mm to {'starboard' if y_mm > 0.0 else 'port'}"


def floating_caveats(
    loaded: Craft, readings: tuple[ExpectedReading, ...], heel: Flattery | None
) -> tuple[Caveat, ...]:
    """Return what must be said of how a craft floats with the load of the bath.

    Codes "not-stiff", "tip-float-touches", "mark-not-met".
    """
    found = _of_floats(loaded)
    if heel is not None and heel.finished.metacentric_height_mm <= 0.0:
        here = heel.in_the_bath.metacentric_height_mm > 0.0
        found.append(
            Caveat(
                code="not-stiff",
                message="finished she does not stay upright"
                + (", though in the bath she does: the low bag hides it" if here else ""),
            )
        )
    dry = [f"{r.mark} {r.side} ({r.meets})" for r in readings if r.reading_mm is None]
    if dry:
        found.append(
            Caveat(
                code="mark-not-met",
                message=f"no reading to expect at {', '.join(dry)}: the skin at its station does "
                "not meet the water",
            )
        )
    return tuple(found)


def _of_floats(loaded: Craft) -> list[Caveat]:
    """Return the heel at which a tip float touches: beyond it a metacentric height says nothing."""
    if not loaded.tip_floats or loaded.center_of_gravity_mm is None:
        return []
    heeling = Heeling.of(loaded)
    if heeling.lean:
        return []
    touching = [
        abs(math.degrees(heel))
        for body in loaded.tip_floats
        if (heel := _touches(heeling, body)) is not None
    ]
    if not touching:
        return []
    return [
        Caveat(
            code="tip-float-touches",
            message=f"a tip float touches at {min(touching):.1f}° of heel: GM and what a degree "
            "takes hold up to there; incline her with less, or with them off (--floats-off)",
        )
    ]


def _touches(heeling: Heeling, body: Body) -> float | None:
    """Return the heel at which a float comes down to the water on its side [rad]."""
    side = 1.0 if body.shell.center_plane_mm > 0.0 else -1.0
    heels = heeling.path(side, side * math.radians(CAPSIZED_DEG))
    return heeling.curve.first_fall(heeling.lowest_mm(heeling.points_of(body)), heels)
