"""What a command is given: a build and what options overrule, or meshes and what options add."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from hullcheck.cli.options import Progress, chosen_water
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.files.bodies import read_bodies
from hullcheck.files.reading import Reading

Notes = tuple[tuple[str, str], ...]


def chosen_build(path: str, options: dict[str, Any], progress: Progress) -> Build:
    """Return the build, its mass, center and water overruled where the options say so.

    A command need not have all of these options.
    """
    for name in ("unit", "forward", "up"):
        if options.get(name) is not None:
            raise click.UsageError(f"--{name} is for mesh files; a build sheet says it in [axes].")
    # Not at the top: what checks a sheet takes a tenth of a second, and meshes need none of it.
    from hullcheck.files.build_folder import load

    build = load(path, progress=progress)
    if options.get("mass") is not None:
        build = replace(build, mass_g=options["mass"])
    if options.get("cg") is not None:
        build = replace(build, center_of_gravity_mm=options["cg"])
    given = [options.get(name) for name in ("water", "temperature", "density")]
    if any(value is not None for value in given):
        water = chosen_water(*given)
        build = replace(build, water=water)
    return build


def chosen_craft(
    meshes: tuple[str, ...], options: dict[str, Any], progress: Progress
) -> tuple[Craft, Notes]:
    """Return the craft that mesh files and options make, and what was assumed in reading."""
    if options["setup"] is not None or options.get("all_setups"):
        names = "--setup and --all-setups need" if "all_setups" in options else "--setup needs"
        raise click.UsageError(f"{names} a build sheet.")
    if options["mass"] is None:
        raise click.UsageError("mesh files need --mass G, the all-up mass in grams.")
    reading = Reading(unit=options["unit"], forward=options["forward"], up=options["up"])
    water = chosen_water(options["water"], options["temperature"], options["density"])
    found = read_bodies(meshes, reading, progress=progress)
    craft = Craft(
        name=name_of_files(meshes),
        bodies=found.bodies,
        mass_g=options["mass"],
        center_of_gravity_mm=options["cg"],
        water=water,
    )
    return craft, found.notes


def name_of_files(meshes: tuple[str, ...]) -> str:
    """Return what a craft without a name is called: after her first file."""
    first = Path(meshes[0]).name
    return first if len(meshes) == 1 else f"{first} + {len(meshes) - 1} more"
