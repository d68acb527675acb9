"""hullcheck skin: how the files were read, and the outer skin they make."""

from typing import Any, Final

import click

from hullcheck.answers.float_records import Caveat, Waterline
from hullcheck.answers.rest import waterline_of
from hullcheck.answers.skin_answer import skin_answer
from hullcheck.answers.skin_records import SkinAnswer
from hullcheck.cli.inputs import Notes, chosen_build, name_of_files
from hullcheck.cli.main import EXIT_DONE
from hullcheck.cli.notes import print_notes
from hullcheck.cli.options import (
    Progress,
    chosen_water,
    drawing_option,
    format_options,
    is_build,
    load_options,
    mesh_options,
    water_options,
)
from hullcheck.cli.printing import refuse_two_forms, write_drawing
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.files.reading import Reading
from hullcheck.report.as_json import json_text
from hullcheck.report.display import shown_in
from hullcheck.report.skin_csv import csv_text
from hullcheck.report.skin_table import all_lines
from hullcheck.report.skin_text import first_screen

SKIN_SUFFIXES: Final = (".3mf", ".ply", ".stl")
_NOT_ALL_UP: Final = (
    "no waterline is shown: items of the ledger have no mass yet; fill them in, or give --mass and "
    "--cg"
)
_SHOWN: Final = ("repaired", "outer-skin")
"""Codes of notes that say what the answer itself shows."""


def _skin_file(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the file's name if its ending is one that a skin can be written as."""
    del ctx
    if value is not None and not value.lower().endswith(SKIN_SUFFIXES):
        raise click.BadParameter(
            f"{value!r} does not end in {', '.join(SKIN_SUFFIXES)}", param=param
        )
    return value


@click.command("skin")
@mesh_options
@load_options
@water_options
@click.option("--setup", metavar="NAME", help="The water she lies in, in a setup of the sheet.")
@format_options
@click.option("--all", "everything", is_flag=True, help="Print every number as a table.")
@click.option(
    "--out",
    callback=_skin_file,
    metavar="FILE",
    help="Write the skin to FILE: .3mf, .ply or .stl by its name; body axes, mm.",
)
@drawing_option
def command(what: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """How the files were read: parts, what was found in them, the outer skin and its error.

    BUILD is a build sheet (build.toml) or the folder that holds one; default: here. MESH is a part
    as it is printed, or a closed skin (STL, OBJ, PLY, OFF, 3MF, GLB). Several files are the parts
    of one body, unless all are closed and lie apart. Faces that no file has are listed, above and
    below the water where mass and CG are known.
    """
    refuse_two_forms(options)
    progress = Progress()
    with shown_in(options["show"]):
        if not is_build(what):
            return _emit(*_of_meshes(what, options, progress), options, progress)
        build = chosen_build(what[0] if what else ".", options, progress)
        return _emit(*_of_build(build, options, progress), options, progress)


def _emit(
    answer: SkinAnswer, bodies: tuple[BodySkin, ...], options: dict[str, Any], progress: Progress
) -> int:
    """Write what files are asked for, print the answer in the form asked for."""
    written: list[str] = []
    if options["out"] is not None:
        progress(f"writing {options['out']}")
        written += _write(bodies, options["out"])
    if options["drawing"] is not None:
        progress(f"drawing {options['drawing']}")
        _draw(bodies, answer, options["drawing"])
        written.append(f"Drawing written to {options['drawing']}")
    if options["as_json"]:
        click.echo(json_text(answer), nl=False)
    elif options["as_csv"]:
        click.echo(csv_text(answer), nl=False)
    else:
        lines = all_lines(answer) if options["everything"] else first_screen(answer)
        click.echo("\n".join(lines))
        print_notes([note.message for note in answer.warnings if note.code not in _SHOWN])
    for sentence in written:
        click.echo(sentence, err=True)
    return EXIT_DONE


def _of_build(
    build: Build, options: dict[str, Any], progress: Progress
) -> tuple[SkinAnswer, tuple[BodySkin, ...]]:
    """Return how a build's files were read, with her waterline where her load is known."""
    build.setup(options["setup"])
    notes, craft = build.notes, None
    try:
        craft = build.craft(options["setup"])
    except InputError as problem:
        # Without a mass the files can be read all the same; only what is wet is not known.
        notes = (*notes, ("no-waterline", f"what lies under water is not known: {problem}"))
    return _answer(build.name, build.skins, craft, notes, progress)


def _of_meshes(
    meshes: tuple[str, ...], options: dict[str, Any], progress: Progress
) -> tuple[SkinAnswer, tuple[BodySkin, ...]]:
    """Return how mesh files were read, with her waterline where mass and CG are given."""
    if options["setup"] is not None:
        raise click.UsageError("--setup needs a build sheet.")
    from hullcheck.files.body_skins import bodies_of
    from hullcheck.files.mesh_skins import read_skins

    reading = Reading(unit=options["unit"], forward=options["forward"], up=options["up"])
    water = chosen_water(options["water"], options["temperature"], options["density"])
    found = read_skins(meshes, reading, progress=progress)
    name = name_of_files(meshes)
    craft = None
    if options["mass"] is not None:
        craft = Craft(
            name=name,
            bodies=tuple(body for skin in found.skins for body in bodies_of(skin)),
            mass_g=options["mass"],
            center_of_gravity_mm=options["cg"],
            water=water,
        )
    return _answer(name, found.skins, craft, found.notes, progress)


def _answer(
    name: str,
    bodies: tuple[BodySkin, ...],
    craft: Craft | None,
    notes: Notes,
    progress: Progress,
) -> tuple[SkinAnswer, tuple[BodySkin, ...]]:
    """Return the answer with what was noted in reading, nothing said twice."""
    waterline: Waterline | None = None
    if craft is not None and craft.weighing is not None and not craft.weighing.all_up:
        # Bare plastic would float far too high: a waterline is shown of what she will weigh.
        notes = (*notes, ("not-all-up", _NOT_ALL_UP))
    elif craft is not None:
        progress("solving for the waterline")
        waterline = waterline_of(craft)
    answer = skin_answer(bodies, waterline, name=name)
    said = tuple(Caveat(code=code, message=message) for code, message in notes)
    fresh = tuple(note for note in said if note not in answer.warnings)
    return answer.with_warnings(fresh), bodies


def _write(bodies: tuple[BodySkin, ...], name: str) -> tuple[str, ...]:
    """Write the skin, over an older file of the same name; return what was done."""
    from hullcheck.files.skin_writer import write_skin

    shells = [(body.name, [shell.triangles_mm for shell in body.shells]) for body in bodies]
    return write_skin(name, shells)


def _draw(bodies: tuple[BodySkin, ...], answer: SkinAnswer, name: str) -> None:
    """Write the drawing, over an older one of the same name."""
    from hullcheck.report.skin_drawing import skin_drawing

    write_drawing(skin_drawing(bodies, answer), name)
