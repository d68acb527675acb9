"""Options that several commands share, and what they are turned into."""

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final, TypeVar

import click

from hullcheck.errors import InputError
from hullcheck.report.display import display_units
from hullcheck.water import Water, fresh_water, sea_water, water_of_density

Decorated = TypeVar("Decorated", bound=Callable[..., Any])

_AXES_HELP: Final = "one of +x, -x, +y, -y, +z, -z"
MESH_SUFFIXES: Final = (".stl", ".obj", ".ply", ".off", ".3mf", ".glb", ".gltf")
DRAWING_SUFFIXES: Final = (".svg", ".png", ".pdf")


class _Number(click.ParamType[float]):
    """A number, refused in the words of the house."""

    name = "number"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Return the number a text stands for."""
        try:
            return float(str(value))
        except ValueError:
            self.fail(
                f"{value!r} is not a number: a decimal point, and no unit behind it", param, ctx
            )


NUMBER: Final = _Number()


def mesh_options(function: Decorated) -> Decorated:
    """Add a build or mesh files, and how these are to be read."""
    what = click.argument("what", nargs=-1, metavar="[BUILD | MESH...]")
    return mesh_files_options(what(function))


def mesh_files_options(function: Decorated) -> Decorated:
    """Add how mesh files are to be read."""
    for decorate in (
        click.option(
            "--up",
            metavar="AXIS",
            help=f"File axis that points up, {_AXES_HELP}; +z unless the file says otherwise.",
        ),
        click.option(
            "--forward",
            metavar="AXIS",
            help=f"File axis that points to the bow, {_AXES_HELP}; -x unless the file says so.",
        ),
        click.option(
            "--unit",
            type=click.Choice(["mm", "cm", "m", "inch"]),
            help="Unit of the files; mm where neither this nor the file says.",
        ),
    ):
        function = decorate(function)
    return function


def water_options(function: Decorated) -> Decorated:
    """Add the water she floats in."""
    for decorate in (
        click.option(
            "--density", type=NUMBER, metavar="KG/M3", help="Density of the water, given."
        ),
        click.option(
            "--temperature",
            type=NUMBER,
            metavar="C",
            help="Temperature of the water in °C; 15 unless given.",
        ),
        click.option(
            "--water",
            type=click.Choice(["fresh", "sea"]),
            help="Fresh water (the default) or sea water of salinity 35.",
        ),
    ):
        function = decorate(function)
    return function


def load_options(function: Decorated) -> Decorated:
    """Add the mass and the center of gravity."""
    for decorate in (
        click.option(
            "--cg",
            callback=_center,
            metavar="X,Y,Z",
            help="Center of gravity in mm: x aft, y to starboard, z up. Without it: where the CG "
            "must be for her to float level.",
        ),
        click.option(
            "--mass",
            type=NUMBER,
            metavar="G",
            help="All-up mass in g; needed with meshes, instead of the ledger's with a build.",
        ),
    ):
        function = decorate(function)
    return function


def chosen_water(kind: str | None, temperature: float | None, density: float | None) -> Water:
    """Return the water that the options ask for; a density goes with neither of the others."""
    if density is not None:
        if kind is not None or temperature is not None:
            raise click.UsageError("--density stands alone: leave out --water and --temperature.")
        return water_of_density(density)
    degrees = 15.0 if temperature is None else temperature
    if kind == "sea":
        return sea_water(temperature_c=degrees)
    return fresh_water(temperature_c=degrees)


def drawing_option(function: Decorated) -> Decorated:
    """Add the drawing's file."""
    return click.option(
        "--drawing",
        callback=_drawing,
        metavar="FILE",
        help="Write the drawing to FILE: .svg, .png or .pdf by its name.",
    )(function)


class Progress:
    """Tells on standard error what is being worked on, once a command takes over a second."""

    def __init__(self) -> None:
        self._began = time.monotonic()

    def __call__(self, what: str) -> None:
        """Say what comes next, if it has been a while."""
        if time.monotonic() - self._began > 1.0:
            click.echo(f"hullcheck: {what} …", err=True)


def _center(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[float, float, float] | None:
    """Return X,Y,Z as three numbers."""
    del ctx
    return None if value is None else three_numbers(value, param, sample="252,0,31")


def three_numbers(value: str, param: click.Parameter, *, sample: str) -> tuple[float, float, float]:
    """Return X,Y,Z as three numbers; refused with a sample of how they are written."""
    try:
        x, y, z = (float(part) for part in value.replace(";", ",").split(","))
    except ValueError as problem:
        raise click.BadParameter(
            f"{value!r} is not three numbers such as {sample}", param=param
        ) from problem
    return x, y, z


def entries(text: str) -> list[str]:
    """Return the entries of a list; with semicolons between them a comma is a decimal one."""
    parts = text.replace(",", ".").split(";") if ";" in text else text.split(",")
    return [part.strip() for part in parts]


def _drawing(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the drawing's name if its ending is one that can be drawn."""
    del ctx
    if value is not None and not value.lower().endswith(DRAWING_SUFFIXES):
        raise click.BadParameter(
            f"{value!r} does not end in {', '.join(DRAWING_SUFFIXES)}", param=param
        )
    return value


def setup_options(function: Decorated) -> Decorated:
    """Add the choice of a setup of the build sheet."""
    for decorate in (
        click.option(
            "--all-setups", is_flag=True, help="Every setup of the build sheet, the worst named."
        ),
        click.option("--setup", metavar="NAME", help="Float her in a setup of the build sheet."),
    ):
        function = decorate(function)
    return function


def format_options(function: Decorated) -> Decorated:
    """Add the forms an answer may take, and the units it is shown in."""
    for decorate in (
        click.option(
            "--show",
            callback=_shown,
            metavar="UNITS",
            help="Units to show, such as oz,in; for text and drawing only.",
        ),
        click.option("--csv", "as_csv", is_flag=True, help="Print a table as CSV, unrounded."),
        click.option(
            "--json", "as_json", is_flag=True, help="Print every number as JSON, unrounded."
        ),
    ):
        function = decorate(function)
    return function


def is_build(what: tuple[str, ...]) -> bool:
    """Return whether arguments name a build (none: the one here) and not mesh files."""
    builds = [name for name in what if _is_build(name)]
    if builds and len(what) > 1:
        raise click.UsageError(f"{builds[0]} is a build; name one build, or mesh files alone.")
    return bool(builds) or not what


def _is_build(name: str) -> bool:
    """Return whether a name means a build: a sheet, a folder, or nothing that looks like a mesh."""
    path = Path(name)
    if name.lower().endswith(".toml") or path.is_dir():
        return True
    return not path.exists() and not name.lower().endswith(MESH_SUFFIXES)


def _shown(ctx: click.Context, param: click.Parameter, value: str | None) -> tuple[str, ...]:
    """Return the units to show."""
    del ctx
    if value is None:
        return ()
    try:
        return display_units(value)
    except InputError as problem:
        raise click.BadParameter(str(problem), param=param) from problem
