"""hullcheck begin: a first build sheet, ledger and form to fill in."""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import click

from hullcheck.answers.begin_answer import first_look
from hullcheck.answers.begin_records import Begun
from hullcheck.cli.main import EXIT_DONE
from hullcheck.cli.notes import print_notes
from hullcheck.cli.options import Progress, mesh_files_options
from hullcheck.errors import InputError
from hullcheck.files.begin_parts import UnitFound, own_axes, parts_of, read_files, unit_found
from hullcheck.files.begin_sheet import write_begun
from hullcheck.files.first_build import check_free, name_for, write_offsets_build
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outer_records import OuterSkin
from hullcheck.geometry.outer_skin import outer_skin

_EXAMPLE: Final = "{form} holds an example hull: put the stations of your plan in its place."
_LIES: Final = "She lies at stations {low:.0f} to {high:.0f}; datum_mm in [axes] moves the zero."
_NEXT: Final = (
    "Next: see that she was understood: hullcheck skin {sheet} --drawing skin.png\n"
    "Then fill in weights.csv and the openings in {sheet}, and: hullcheck float {sheet}"
)


@click.command("begin")
@click.argument("meshes", nargs=-1, metavar="[MESH...]")
@mesh_files_options
@click.option(
    "--offsets",
    metavar="FILE",
    help="A hull from the stations of a plan: FILE, written as a form with an example if new.",
)
@click.option(
    "--out",
    "-o",
    default="build.toml",
    metavar="SHEET",
    help="The sheet to write; build.toml unless given. The ledger goes beside it.",
)
@click.option(
    "--end-for-end",
    is_flag=True,
    help="Parts in print axes: bow and stern the other way round than suggested.",
)
@click.option(
    "--upside-down",
    is_flag=True,
    help="Parts in print axes: deck and keel the other way round than suggested.",
)
def command(meshes: tuple[str, ...], **options: Any) -> int:  # noqa: ANN401 - click's options
    """Write a first build sheet and a ledger to fill in; nothing is overwritten.

    MESH is a part as it is printed, or a closed outer skin: name all parts of the craft. A file of
    several objects, such as a slicer's 3MF project, holds a part each. Bodies, axes, step, seams
    and openings are guessed and said. Without a mesh, --offsets hull.csv writes a
    form for the stations of a plan.
    """
    offsets, out = options["offsets"], options["out"]
    if bool(meshes) == (offsets is not None):
        raise click.UsageError("name mesh files, or --offsets FILE for a hull without a mesh.")
    if offsets is not None:
        if any(options[name] is not None for name in ("unit", "forward", "up")):
            raise click.UsageError("--unit, --forward and --up are for mesh files.")
        if options["end_for_end"] or options["upside_down"]:
            raise click.UsageError("--end-for-end and --upside-down are for mesh files.")
        written, new = write_offsets_build(out, offsets, name=name_for(out))
        notes = [_EXAMPLE.format(form=offsets)] if new else []
    else:
        written, notes = _begin_meshes(meshes, options)
    for line in (f"Wrote {' '.join(map(str, written))}", *notes, _NEXT.format(sheet=written[0])):
        click.echo(line)
    return EXIT_DONE


def _begin_meshes(
    meshes: Sequence[str], options: dict[str, Any]
) -> tuple[tuple[Path, ...], list[str]]:
    """Write the first build of mesh files; return what was written and what is to be said."""
    out, tell = options["out"], Progress()
    check_free(out)
    files = read_files(meshes, progress=tell)
    unit = _asked(unit_found(files, options["unit"]))
    parts, said = parts_of(files, unit.unit)
    forward, up = options["forward"], options["up"]
    if forward is None or up is None:
        own = own_axes(files)
        forward, up = forward or own[0], up or own[1]

    def skin_of(name: str, pieces: Sequence[tuple[str, FloatArray]]) -> OuterSkin:
        """Return the outer skin of a body's parts."""
        return outer_skin(name, pieces, progress=tell)

    begun = first_look(
        parts,
        skin_of,
        forward=forward,
        up=up,
        end_for_end=options["end_for_end"],
        upside_down=options["upside_down"],
        progress=tell,
    )
    written = write_begun(out, begun, unit, name=name_for(out))
    print_notes([*said, *_doubts(begun, unit), *begun.notes])
    return written, _summary(begun)


def _asked(unit: UnitFound) -> UnitFound:
    """Return the unit, asked for at a terminal where it is unclear; refused where nobody is."""
    if unit.by != "unclear":
        return unit
    if sys.stdin.isatty():
        click.echo(f"hullcheck: {unit.question}", err=True)
        answer = click.prompt("Unit", type=click.Choice(unit.choices), err=True)
        return UnitFound(unit=answer, by="stated", longest=unit.longest)
    raise InputError(f"{unit.question}; say which: --unit {' or --unit '.join(unit.choices)}")


def _doubts(begun: Begun, unit: UnitFound) -> list[str]:
    """Return what was assumed and what is doubtful, a sentence each."""
    said = []
    if unit.by == "assumed":
        said.append(f"unit {unit.unit} assumed: {unit.question}")
    axes = begun.axes
    if axes is not None and axes.assumed:
        said.append(
            f"no step tells bow from stern: bow assumed at {axes.forward}, deck at {axes.up}; see "
            "whether it holds, or say --forward and --up"
        )
    if axes is not None and axes.askew_deg:
        said.append(
            f"her length runs {axes.askew_deg:.0f}° off the axes of the files: turn her in the CAD "
            "program, or each part with turn_deg"
        )
    if axes is not None and abs(begun.center_plane_mm) > 0.5:
        said.append(
            f"her center plane lies at y = {begun.center_plane_mm:.1f} mm; y counts from the "
            "zero of the files"
        )
    said += [
        f"{begun.parts[v.part].source} left out: {v.why}; the sheet has it in a comment"
        for v in begun.left_out
    ]
    return [*said, *begun.doubts]


def _summary(begun: Begun) -> list[str]:
    """Return what was guessed, and what to look at next."""
    lines = []
    for body in begun.bodies:
        count = f"{len(body.parts)} part{'' if len(body.parts) == 1 else 's'}"
        found = [count]
        if body.step is not None:
            found.append(f"step at station {body.step.station_mm:.0f}")
        if body.skin is not None:
            openings = sum(patch.kind == "opening" for patch in body.skin.patches)
            found += [
                f"{n} {what}{'' if n == 1 else 's'}"
                for n, what in ((len(body.skin.seams), "seam"), (openings, "opening"))
                if n
            ]
        elif body.refusal:
            found.append("no outer skin yet")
        if body.twin:
            found.append(f"mirror image of {body.twin}")
        lines.append(f"Guessed  {body.name} = {body.role}: {', '.join(found)}")
    if begun.axes is not None:
        how = {"stated": "as stated", "step": "told by the step", "assumed": "assumed"}
        lines.append(
            f"Axes     bow at {begun.axes.forward} ({how[begun.axes.forward_by]}), deck at "
            f"{begun.axes.up} ({how[begun.axes.up_by]})"
        )
    masses = [begun.planned[i].mass_g for i in begun.used]
    known = [mass for mass in masses if mass is not None]
    if known:
        lines.append(
            f"Weights  {len(known)} of {len(masses)} parts planned at {sum(known):.0f} g in all, "
            "guessed from wall and PLA"
        )
    if len(known) < len(masses):
        blank = len(masses) - len(known)
        lines.append(f"Weights  {blank} of {len(masses)} left blank: the files show no wall")
    if begun.in_place:
        low, high = begun.stations_mm
        lines.append(_LIES.format(low=low, high=high))
    return [*lines, *_to_confirm(begun)]


def _to_confirm(begun: Begun) -> list[str]:
    """Return what is suggested for parts that do not lie in place, and how to accept it."""
    if begun.in_place:
        return []
    if begun.suggestion is None:
        return [
            f"The parts lie in their own print axes, and no places fit: {begun.no_suggestion}.",
            "Set them by hand in the sheet: it is refused until then.",
        ]
    row = ", ".join(begun.parts[begun.loose[k]].name for k in begun.suggestion.order)
    worst = max(joint.residual_mm for joint in begun.suggestion.joints)
    fit = (
        f"The parts lie in their own print axes. Suggested from the bow: {row}; ends fit to "
        f"{worst:.2g} mm."
    )
    accept = (
        "To accept: take away the # before parts in the sheet; it is refused until then. If she is "
        "the wrong way round, move sheet and ledger away and begin again with --end-for-end or "
        "--upside-down."
    )
    return [fit, *begun.suggestion.doubts, *begun.suggestion.unplaced, accept]
