"""Makes the hull of the demo craft "Tarnwing 90" as a builder prints it, into folders beside this.

printed/ holds five thin-walled segments and the hatch over the canopy's opening, each a closed
solid, in place in body axes; print_axes/ the same six as they stand on a printer's bed, with the
matrices that put them back; single_wall/ the segments as sheets without thickness, with ribs.
Axes and origin are those of make_tarnwing.py. Run it to write the files again; the same bytes come
out each time.
"""

from pathlib import Path

import numpy as np
import numpy.typing as npt
from loft import FloatArray, on_grid
from printed_shell import WALL_MM, cross_rib, inner_points, inward_mm, keel_rib, on_bed, walled
from printed_skin import CANOPY, CUTS_MM, OPENINGS, SEGMENTS, Sheet, foredeck_mm, outer_sheet
from stl_bytes import stl_bytes

HATCH_GAP_MM = 0.15

RIBS_MM = {  # the first stands on a row of the sheet's points, the second between two
    "nose": (80.0, 104.0),
    "fore": (128.0, 246.0),
    "mid": (292.0, 364.0),
    "aft": (395.0, 454.0),
    "stern": (536.0, 572.0),
}
KEEL_RIB_MM = 10.0  # height of the lengthwise rib, in the fore segment

_ON_BED = {
    "nose": ("on its aft end", 0),
    "fore": ("on its forward end", 1),
    "mid": ("on its aft end", 3),
    "aft": ("on its forward end", 2),
    "stern": ("on its forward end", 0),
    "hatch": ("lying", 1),
}
_AXES = "mm, x aft, y starboard, z up"


def printed_skin_triangles() -> FloatArray:
    """Return the closed outer skin of the printed hull, (n, 3, 3) corner points in mm, outward.

    The openings are closed by the very triangles that are left out of the segments.
    """
    sheet = outer_sheet()
    return sheet.points_mm[sheet.faces]


def segment_triangles(sheet: Sheet) -> dict[str, FloatArray]:
    """Return the five segments' closed walls by name, (n, 3, 3) corner points in mm."""
    inner = inner_points(sheet)
    return {
        name: walled(sheet.points_mm, inner, sheet.faces[_of_segment(sheet, place)])
        for place, name in enumerate(SEGMENTS)
    }


def _of_segment(sheet: Sheet, place: int) -> npt.NDArray[np.bool_]:
    """Return which faces belong to a segment and close no opening."""
    return (sheet.segment == place) & (sheet.opening < 0)


def hatch_triangles(sheet: Sheet) -> FloatArray:
    """Return the hatch, a closed wall lying in the canopy's opening with a gap all round, in mm."""
    faces = sheet.faces[sheet.opening == OPENINGS.index(CANOPY)]
    x, y = sheet.points_mm[:, 0].copy(), sheet.points_mm[:, 1].copy()
    forward, aft = CANOPY.stations_mm
    x[x == forward] += HATCH_GAP_MM
    x[x == aft] -= HATCH_GAP_MM
    on_side = np.abs(y) == CANOPY.outer_mm
    y[on_side] -= np.sign(y[on_side]) * HATCH_GAP_MM
    points = sheet.points_mm.copy()
    moved = np.unique(faces)
    moved = moved[(x != points[:, 0])[moved] | on_side[moved]]
    height = foredeck_mm(x[moved], y[moved])
    points[moved] = on_grid(np.column_stack([x[moved], y[moved], height]))
    return walled(points, on_grid(points + inward_mm(sheet)), faces)


def single_wall_triangles(sheet: Sheet) -> dict[str, FloatArray]:
    """Return the five segments as open sheets with ribs, by name, (n, 3, 3) corner points in mm."""
    made = {}
    for place, name in enumerate(SEGMENTS):
        shared, between = RIBS_MM[name]
        sheets = [
            sheet.points_mm[sheet.faces[_of_segment(sheet, place)]],
            cross_rib(sheet, shared, between=False),
            cross_rib(sheet, between, between=True),
        ]
        if name == "fore":
            sheets.append(keel_rib(sheet, (CUTS_MM[0], CUTS_MM[1]), KEEL_RIB_MM))
        made[name] = np.concatenate(sheets)
    return made


def placements_toml(places: dict[str, FloatArray]) -> str:
    """Return the text that gives each part's 4 × 4 matrix from the bed's axes to the hull's."""
    lines = [
        "# Where the parts of print_axes/ sit in the hull: each place is a 4 × 4 matrix, row by",
        "# row, that takes (x, y, z, 1) on the printer's bed to body axes. Millimeters, exact.",
    ]
    for name, matrix in places.items():
        lines += ["", "[[part]]", f'file = "{name}.stl"', "place = ["]
        lines += [f"  [{', '.join(repr(float(value)) for value in row)}]," for row in matrix]
        lines.append("]")
    return "\n".join(lines) + "\n"


def files() -> dict[str, bytes]:
    """Return all files, their bytes by path beside this script."""
    sheet = outer_sheet()
    made: dict[str, bytes] = {}
    places: dict[str, FloatArray] = {}
    for name, part in {**segment_triangles(sheet), "hatch": hatch_triangles(sheet)}.items():
        made[f"printed/{name}.stl"] = stl_bytes(
            part, f"Tarnwing 90 {name}, wall {WALL_MM:g} mm: {_AXES}"
        )
        standing, places[name] = on_bed(part, *_ON_BED[name])
        made[f"print_axes/{name}.stl"] = stl_bytes(
            standing, f"Tarnwing 90 {name} on the bed: mm, z up from the bed"
        )
    made["print_axes/placements.toml"] = placements_toml(places).encode()
    for name, part in single_wall_triangles(sheet).items():
        made[f"single_wall/{name}.stl"] = stl_bytes(
            part, f"Tarnwing 90 {name}, single wall with ribs: {_AXES}"
        )
    return made


if __name__ == "__main__":
    for name, content in files().items():
        path = Path(__file__).parent / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(content)
        print(f"{name}: {len(content)} bytes")
