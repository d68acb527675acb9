"""The build that a command is given, with what its options overrule."""

from dataclasses import replace
from typing import Any

import click

from hullcheck.cli.options import Progress, chosen_water
from hullcheck.craft.build import Build

Notes = tuple[tuple[str, str], ...]


def chosen_build(path: str, options: dict[str, Any], progress: Progress) -> Build:
    """Return the build, its mass, center and water overruled where the options say so."""
    for name in ("unit", "forward", "up"):
        if options[name] is not None:
            raise click.UsageError(f"--{name} is for mesh files; a build sheet says it in [axes].")
    # Not at the top: what checks a sheet takes a tenth of a second, and meshes need none of it.
    from hullcheck.files.build_folder import load

    build = load(path, progress=progress)
    if options["mass"] is not None:
        build = replace(build, mass_g=options["mass"])
    if options["cg"] is not None:
        build = replace(build, center_of_gravity_mm=options["cg"])
    if any(options[name] is not None for name in ("water", "temperature", "density")):
        water = chosen_water(options["water"], options["temperature"], options["density"])
        build = replace(build, water=water)
    return build
