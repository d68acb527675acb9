"""The keys of a build sheet: what may stand in `build.toml`, checked at the border.

Every key has a sentence of its own; the README's sheet and the refusals are held against them.
"""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from hullcheck.craft.bodies import Role
from hullcheck.craft.fittings import Along
from hullcheck.craft.openings import Kind, State
from hullcheck.files.sheet_types import (
    FARTHEST_MM,
    Angle,
    Axis,
    Grams,
    Keys,
    Length,
    Matrix,
    Millimeters,
    Name,
    Number,
    Pair,
    Point,
    Points,
    Text,
    Turns,
    as_table,
)


class CraftKeys(Keys):
    """[craft]: who she is and what she weighs."""

    name: Name = Field(description="What she is called.")
    target_mass_g: Grams | None = Field(None, description="What she was meant to weigh.")
    cg_range_mm: Pair | None = Field(
        None, description="Stations her CG must lie between to fly, aft of the datum."
    )
    mass_g: Grams | None = Field(
        None, description="Measured all-up mass: overrides the ledger's sum."
    )
    cg_mm: Point | None = Field(None, description="Measured CG: overrides the ledger's.")


class WaterKeys(Keys):
    """[water]: what she floats in."""

    kind: Literal["fresh", "sea"] | None = Field(None, description='"fresh" (usual) or "sea".')
    temperature_c: Number | None = Field(None, description="Its temperature; 15 unless given.")
    salinity: Number | None = Field(
        None, description="Practical salinity; 35 is the open sea, given instead of kind."
    )
    density_kg_m3: Number | None = Field(
        None, description="Its density outright, instead of all the others."
    )


class AxesKeys(Keys):
    """[axes]: how the mesh files lie."""

    unit: Literal["mm", "cm", "m", "inch"] | None = Field(
        None, description="Unit of the files; their own where they state one, else mm."
    )
    forward: Axis | None = Field(None, description="File axis that points to the bow; -x.")
    up: Axis | None = Field(None, description="File axis that points up; +z.")
    datum_mm: Point | None = Field(
        None, description="Place of the datum in the files' axes; counts for unplaced parts."
    )


class ReferenceKeys(Keys):
    """[reference]: lines angles are read against."""

    wing_angle_deg: Angle | None = Field(None, description="Wing chord to body x.")
    line_mm: Annotated[list[Point], Field(min_length=2, max_length=2)] | None = Field(
        None, description="Two points of the fuselage reference line; body x unless given."
    )


class PartKeys(Keys):
    """A part: a mesh file and where it goes; a bare file name is enough."""

    file: Text = Field(description="Mesh file, relative to the sheet.")
    object: Text | None = Field(
        None, description="One object of the file, by name; all of them as one part unless given."
    )
    at_mm: Point | None = Field(None, description="Moves it, after turning.")
    turn_deg: Turns | None = Field(
        None, description="Turns it about body x, then y, then z, right-handed."
    )
    place: Matrix | None = Field(
        None, description="4 × 4, file coordinates in mm to body axes, instead of the two."
    )


class OffsetsKeys(Keys):
    """A table of offsets and where the body goes; a bare file name is enough."""

    file: Text = Field(description="CSV of station_mm,line,half_breadth_mm,height_mm.")
    at_mm: Point | None = Field(None, description="Moves it, after turning.")
    turn_deg: Turns | None = Field(None, description="Turns it, as a part.")
    smooth: bool = Field(False, description="Smooth between the points instead of straight.")  # noqa: FBT003


class BulkheadKeys(Keys):
    """A bulkhead."""

    station_mm: Millimeters = Field(description="Its station.")
    watertight: bool = Field(True, description="Whether it holds water back.")  # noqa: FBT003
    limber_mm: Length | None = Field(None, description="Diameter of its limber hole.")


class BodyKeys(Keys):
    """[[body]]: one buoyant body."""

    name: Name = Field(description="What it is called.")
    role: Role = Field(description="What part it plays.")
    parts: (
        Annotated[
            list[Annotated[PartKeys, BeforeValidator(as_table)]],
            Field(min_length=1),
        ]
        | None
    ) = Field(None, description="Mesh files that make its skin.")
    offsets: Annotated[OffsetsKeys, BeforeValidator(as_table)] | None = Field(
        None, description="Table of offsets, instead of parts."
    )
    mirror: Name | None = Field(None, description="Adds its twin of this name, y turned over.")
    floods: list[Point] = Field(
        [], description="A point in each well that fills with water, after placement."
    )
    wall_mm: Length | None = Field(
        None, description="Thickness of its wall: compartments are the skin less the wall."
    )
    permeability: Annotated[float, Field(gt=0.0, le=1.0)] | None = Field(
        None, description="Or the share of the skin that water can fill; never both."
    )
    material: Text | None = Field(None, description="Of its wall, such as PLA.")
    density_g_cm3: Annotated[float, Field(gt=0.0, le=25.0)] | None = Field(
        None, description="Or the density of its wall."
    )
    foam_cm3: Annotated[float, Field(ge=0.0, le=1e9)] | None = Field(
        None, description="Sealed foam inside."
    )
    foam_mm: Point | None = Field(None, description="Where that foam is.")
    bulkheads: list[BulkheadKeys] = Field([], description="Bulkheads, from the bow.")


class WingKeys(Keys):
    """[wing]: where it would reach the water; not a body."""

    tip_mm: Point = Field(description="Leading edge of the tip; stands for the other side too.")
    chord_mm: Length | None = Field(None, description="Chord at the tip.")


class PropellerKeys(Keys):
    """[propeller]: its disc and its thrust."""

    hub_mm: Point = Field(description="Middle of its disc.")
    diameter_mm: Length = Field(description="Its diameter.")
    thrust_g: Grams | None = Field(None, description="Full thrust.")
    up_deg: Angle = Field(0.0, description="How far the thrust points up.")


class LidKeys(Keys):
    """[[lid]]: closes an opening for buoyancy only."""

    name: Name = Field(description="What it is called.")
    outline_mm: Annotated[list[Point], Field(min_length=3)] = Field(description="Its outline.")


class OpeningKeys(Keys):
    """[[opening]]: where water can come in."""

    name: Name | None = Field(None, description="What it is called.")
    points_mm: Points = Field(description="Points along its edge; one is enough for a hole.")
    state: State | None = Field(None, description="What is not sealed lets water in.")
    kind: Kind | None = Field(None, description="What it is.")


class SeamKeys(Keys):
    """[[seam]]: where parts are joined."""

    name: Name = Field(description="What it is called.")
    body: Name = Field(description="Body it is in.")
    station_mm: Millimeters | None = Field(None, description="A plane across the body.")
    points_mm: Annotated[list[Point], Field(min_length=2)] | None = Field(
        None, description="Or an open line of points."
    )


class EquipmentKeys(Keys):
    """[[equipment]]: what must stay dry."""

    item: Name = Field(description="Item of the ledger.")
    lowest_mm: Point | None = Field(None, description="Its lowest point.")
    within_mm: Annotated[list[Point], Field(min_length=2, max_length=2)] | None = Field(
        None, description="Two corners of the room it may be put in."
    )


class MarkKeys(Keys):
    """[[mark]]: a mark on the hull to measure down from."""

    name: Name = Field(description="What it is called.")
    point_mm: Point = Field(description="Its place; y above 0 stands for its port twin too.")
    along: Along = Field("skin", description="Ruler on the hull side, or plumb.")


class SetupKeys(Keys):
    """[[setup]]: another way she may be."""

    name: Name = Field(description="What it is called.")
    add: Mapping[str, Number] = Field({}, description="Grams on top of the ledger's, by item.")
    move: Mapping[str, Point] = Field({}, description="Millimeters an item is moved by.")
    off: list[Name] = Field([], description="Items taken off.")
    wet_g: Annotated[float, Field(ge=0.0, le=1e12)] = Field(
        0.0, description="Water clinging to her skin."
    )
    water: Literal["fresh", "sea"] | None = Field(None, description="Other water.")
    openings: Mapping[str, State] = Field({}, description="States of openings, by name.")


class LeakKeys(Keys):
    """[[leak]]: a hole or a crack, for water aboard."""

    name: Name = Field(description="What it is called.")
    point_mm: Point = Field(description="Its place.")
    diameter_mm: Length | None = Field(None, description="Diameter of a hole.")
    crack_width_mm: Length | None = Field(None, description="Or width of a crack,")
    crack_length_mm: Length | None = Field(None, description="its length along the seam,")
    wall_mm: Length | None = Field(None, description="and the wall it goes through.")


class LimitsKeys(Keys):
    """[limits]: what she must keep."""

    freeboard_mm: Annotated[float, Field(ge=0.0, le=FARTHEST_MM)] | None = Field(
        None, description="Least height of any opening that is not sealed."
    )
    trim_deg: Annotated[list[Angle], Field(min_length=2, max_length=2)] | None = Field(
        None, description="Least and greatest trim, bow up."
    )
    heel_deg: Annotated[float, Field(ge=0.0, le=180.0)] | None = Field(
        None, description="Greatest heel to either side."
    )
    time_on_water_min: Annotated[float, Field(ge=0.0, le=1e6)] | None = Field(
        None, description="How long she must be able to sit on the water."
    )
    leak_g_per_30min: Annotated[float, Field(ge=0.0, le=1e6)] | None = Field(
        None, description="Greatest gain in a leak test."
    )


class SheetKeys(Keys):
    """The whole sheet."""

    craft: CraftKeys = Field(description="Who she is and what she weighs.")
    water: WaterKeys = Field(default_factory=WaterKeys, description="What she floats in.")
    axes: AxesKeys = Field(default_factory=AxesKeys, description="How the mesh files lie.")
    reference: ReferenceKeys = Field(
        default_factory=ReferenceKeys, description="Lines angles are read against."
    )
    body: Annotated[list[BodyKeys], Field(min_length=1)] = Field(description="What floats her.")
    wing: WingKeys | None = Field(None, description="Where the wing would reach the water.")
    propeller: PropellerKeys | None = Field(None, description="Its disc and its thrust.")
    lid: list[LidKeys] = Field([], description="Closes an opening for buoyancy only.")
    opening: list[OpeningKeys] = Field([], description="Where water can come in.")
    seam: list[SeamKeys] = Field([], description="Where parts are joined.")
    equipment: list[EquipmentKeys] = Field([], description="What must stay dry.")
    mark: list[MarkKeys] = Field([], description="Marks to measure down from.")
    setup: list[SetupKeys] = Field([], description="Other ways she may be.")
    leak: list[LeakKeys] = Field([], description="Holes and cracks, for water aboard.")
    limits: LimitsKeys = Field(default_factory=LimitsKeys, description="What she must keep.")
