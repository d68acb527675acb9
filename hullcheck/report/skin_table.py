"""How the files were read, part by part: the tables behind --all."""

import textwrap
from typing import Final

from hullcheck.answers.skin_records import InventedReport, PartReport, SkinAnswer, SkinReport
from hullcheck.report import table_values as show
from hullcheck.report.display import shown
from hullcheck.report.fitting import cut
from hullcheck.report.numbers import station_text
from hullcheck.report.skin_text import first_screen
from hullcheck.report.skin_words import (
    bound_text,
    file_name,
    fine_text,
    gap_text,
    piece_name,
    with_state,
)
from hullcheck.report.words import shown_name

_WIDTH: Final = 80
_FILE: Final = 30
_PIECE: Final = 38
_LABEL: Final = 40
_JOINED: Final = "\u00a0×\u00a0"


def all_lines(answer: SkinAnswer) -> list[str]:
    """Return the first screen and then each body's parts, invented pieces, seams and checks.

    Parameters
    ----------
    answer : SkinAnswer
        What the files make.

    Returns
    -------
    list of str
        At most 80 characters each; what has no answer is a dash or left out.
    """
    lines = first_screen(answer)
    for body in answer.bodies:
        name = cut(shown_name(body.name), 40)
        for title, rows in (
            (f"Parts of {name}", _part_lines(body)),
            (f"Skin of {name} that no file has", _piece_lines(body)),
            (f"Seams of {name}", _seam_lines(body)),
            (f"Checks of {name}", _check_lines(body)),
        ):
            if rows:
                lines += ["", title, *rows]
    return lines


def _part_lines(body: SkinReport) -> list[str]:
    """Return a row a part, and under it what was found."""
    if not body.parts:
        return []
    wall, plastic = f"wall {shown().length}", f"plastic {shown().volume}"
    lines = [f"  {'file':<{_FILE}}{'triangles':>10}  {'what it is':<12}{wall:>9}{plastic:>15}"]
    for part in body.parts:
        lines.append(_part_row(part))
        for clause in part.found:
            lines += textwrap.wrap(
                " ".join(clause.split()), _WIDTH, initial_indent="    ", subsequent_indent="    "
            )
    units = {part.unit for part in body.parts}
    if None not in units:
        lines.append(f"  read in {', '.join(sorted(str(unit) for unit in units))}")
    return lines


def _part_row(part: PartReport) -> str:
    """Return a part's row."""
    thick = "–" if part.wall_mm is None else show.bare_length(part.wall_mm)
    material = "–" if part.material_volume_cm3 is None else _volume(part.material_volume_cm3)
    name = cut(file_name(part), _FILE - 1)
    return f"  {name:<{_FILE}}{part.triangles:>10}  {part.kind:<12}{thick:>9}{material:>15}"


def _piece_lines(body: SkinReport) -> list[str]:
    """Return a row an invented piece."""
    if not body.invented:
        return []
    water = f"above water {shown().length}"
    lines = [
        f"  {'piece':<{_PIECE}}{'kind':<8}{shown().area:>7}{f'± {shown().volume}':>9}{water:>16}"
    ]
    return lines + [row for piece in body.invented for row in _piece_rows(piece)]


def _piece_rows(piece: InventedReport) -> list[str]:
    """Return an invented piece's row, its name and state going on below where they are long."""
    name = with_state(piece, piece_name(piece)).replace(" × ", _JOINED)
    # A size stays in one line.
    first, *more = [
        line.replace(_JOINED, " × ")
        for line in textwrap.wrap(name, _PIECE - 1, subsequent_indent="  ") or [""]
    ]
    area = show.number(shown().area_of(piece.area_cm2))
    about = bound_text(shown().volume_of(piece.error_cm3))
    height = "–" if piece.height_mm is None else show.bare_length(piece.height_mm)
    row = f"  {first:<{_PIECE}}{piece.kind:<8}{area:>7}{about:>9}{height:>16}"
    return [row, *(f"  {line}" for line in more)]


def _seam_lines(body: SkinReport) -> list[str]:
    """Return a row a seam."""
    rows = []
    for seam in body.seams:
        ends = " and ".join(cut(shown_name(part), 22) for part in seam.parts)
        place = f"station {station_text(seam.station_mm)}"
        off = f"outlines within {fine_text(seam.mismatch_mm)}"
        if gap_text(seam.mismatch_mm) == "touching":
            off = "outlines alike"
        head = f"  {place:<14}{cut(gap_text(seam.gap_mm), 16):<17}"
        rows += [cut(f"{head}{off}", _WIDTH), f"    {ends}"]
    return rows


def _check_lines(body: SkinReport) -> list[str]:
    """Return what was held against what."""
    checks = body.checks
    sections, offset = checks.section_volume_cm3, checks.section_offset_mm
    share, wet = checks.solid_share, checks.invented_under_water_cm2
    rows: list[tuple[str, str | None]] = [
        ("volume", f"{show.volume(body.volume_cm3)}{_about(body.error_cm3)}"),
        ("of it under water, known to", _maybe_volume(body.displaced_error_cm3)),
        ("area", show.area(body.area_cm2)),
        ("watertight, each edge met both ways", "yes" if body.watertight else "no"),
        ("closed surfaces", str(checks.shells)),
        ("tunnels through the skin", None if checks.handles is None else str(checks.handles)),
        ("volume by its sections", None if sections is None else _against(sections, body)),
        ("sections off the skin, 95 of 100", None if offset is None else _fine(offset)),
        ("material over skin", None if share is None else show.number(share, 2)),
        ("skin that no file has", show.area(checks.invented_area_cm2)),
        ("of it under water", None if wet is None else show.area(wet)),
        (
            "walls across the inside, stations",
            ", ".join(station_text(s) for s in body.bulkheads_mm) or None,
        ),
    ]
    return [
        line
        for label, value in rows
        if value is not None
        for line in textwrap.wrap(
            f"{label:<{_LABEL}}  {value}",
            _WIDTH,
            initial_indent="  ",
            subsequent_indent=" " * (_LABEL + 4),
            drop_whitespace=True,
        )
    ]


def _about(error_cm3: float) -> str:
    """Return how well a volume is known, behind it."""
    if error_cm3 <= 0.0:
        return ""
    return f" ± {bound_text(shown().volume_of(error_cm3), shown().volume)}"


def _maybe_volume(error_cm3: float | None) -> str | None:
    """Return how well a volume is known; nothing without a load."""
    if error_cm3 is None:
        return None
    return bound_text(shown().volume_of(error_cm3), shown().volume) if error_cm3 else "as filed"


def _against(sections_cm3: float, body: SkinReport) -> str:
    """Return the volume by sections, and how far the skin's is from it."""
    off = 100.0 * abs(sections_cm3 - body.volume_cm3) / body.volume_cm3
    return f"{show.volume(sections_cm3)}, {off:.3f} % off"


def _fine(length_mm: float) -> str:
    """Return a small length, to 0.001 mm."""
    return f"{show.number(shown().length_of(length_mm), 3)} {shown().length}"


def _volume(volume_cm3: float) -> str:
    """Return a volume without its unit."""
    return show.number(shown().volume_of(volume_cm3))
