"""Flying boats as files for printing hold them, drawn at random, with the closed skin they are of.

K1 is the closed skin, K2 has an inner shell turned inward besides. K3 has thin-wall segments, K4
segments of a surface without thickness with ribs. K5 is K3 or K4 with dirt. manifold3d hollows and
cuts, so that the parts' outer triangles lie in those of the closed skin.
"""

from dataclasses import dataclass, replace

import numpy as np
from outside import required
from printed_dirt import (
    duplicated,
    flipped,
    one_file,
    scaled,
    with_missing,
    with_t_junctions,
)
from printed_hull import (
    SKIN,
    as_filed,
    cuts_drawn,
    hull_drawn,
    openings_drawn,
    segment_boxes,
    solid_of,
    station_clear,
    triangles_of,
    volume_below,
)

from hullcheck.geometry.moment_tree import under_directly

manifold3d = required("manifold3d")

KINDS = ("K1", "K2", "K3", "K4", "K5")
GAPS_MM = (0.0, 0.1, 0.3, 3.0)
UNITS_MM = {"mm": 1.0, "inch": 25.4, "meter": 1000.0}
DIRT = ("flipped", "duplicated", "T-junctions", "missing", "one file")
FLIPPED_SHARE = 0.3
MISSING = 60


@dataclass(frozen=True, kw_only=True, eq=False)
class Printed:
    """The files of one flying boat and what they stand for; body axes, mm.

    Attributes
    ----------
    kind : str
        K1 to K5.
    parts : list of (str, ndarray of shape (n, 3, 3))
        Name and triangles of each file, in mm, rounded as a file of 32-bit numbers in `unit` does.
    closed : ndarray, shape (m, 3, 3)
        The closed outer skin [mm].
    waterline_mm : float
        Height of a level water plane of a usual load [mm].
    gap_mm : float
        Between segments [mm]; below 0 they overlap.
    described : str
    unit : str
        A key of UNITS_MM: what the file's numbers count.
    fault : str
        What was broken on purpose; empty where nothing was.
    fault_at : tuple of str and ndarray, or None
        The part that the fault is in and the fault's middle [mm].
    flooded : ndarray, shape (k, 3, 3), or None
        The closed skin with a well left open to the water [mm], where there is one.
    """

    kind: str
    parts: list
    closed: np.ndarray
    waterline_mm: float
    gap_mm: float
    described: str
    unit: str = "mm"
    fault: str = ""
    fault_at: tuple | None = None
    flooded: np.ndarray | None = None

    def in_file_units(self):
        """Return the parts with the numbers their files hold."""
        return scaled(self.parts, 1.0 / UNITS_MM[self.unit])


def printed(seed, index, kind, *, gap_mm=None, base=None, dirt=None, unit=None):
    """Return the files of one flying boat, drawn at random; the same for the same arguments.

    What is left out is drawn too: the gap (an overlap of 0.05–0.3 mm one time in six), and for K5
    the kind that the dirt is on (K3 or K4), the dirt (of DIRT) and the unit (of UNITS_MM).
    """
    rng = np.random.default_rng((seed, index, KINDS.index(kind)))
    hull = hull_drawn(seed, index, rng, fine=kind == "K5")
    if kind in ("K1", "K2"):
        gap_mm = 0.0
    elif gap_mm is None:
        choices = [*GAPS_MM, -rng.uniform(0.05, 0.3)]
        gap_mm = float(rng.choice(choices, p=[0.25, 0.2, 0.2, 0.2, 0.15]))
    base = (base or str(rng.choice(["K3", "K4"]))) if kind == "K5" else kind
    parts, words = BUILD[base](hull, gap_mm, rng)
    boat = boat_of(hull, kind, parts, gap_mm, f"seed {seed} index {index}, {words}")
    if kind == "K5":
        dirt = dirt or str(rng.choice(DIRT))
        boat = replace(
            boat, parts=_dirty(boat.parts, dirt, rng), described=f"{boat.described}; {base} {dirt}"
        )
        unit = unit or str(rng.choice(list(UNITS_MM)))
    return filed_in(boat, unit or "mm")


def boat_of(hull, kind, parts, gap_mm, words):
    """Return parts of a hull as a boat, rounded to 32 bits."""
    return Printed(
        kind=kind,
        parts=[(name, as_filed(triangles)) for name, triangles in parts],
        closed=hull.closed,
        waterline_mm=hull.waterline_mm,
        gap_mm=gap_mm,
        described=f"{kind}, {len(hull.closed)} triangles, chord {hull.chord_mm:.3f} mm, {words}",
    )


def filed_in(boat, unit):
    """Return the boat with its files' numbers counting another unit."""
    if unit == boat.unit:
        return boat
    size = UNITS_MM[unit]
    parts = [(name, numbers * size) for name, numbers in scaled(boat.parts, 1.0 / size)]
    return replace(boat, parts=parts, unit=unit, described=f"{boat.described}, in {unit}")


def true_error(skin_triangles, closed, waterline_mm):
    """Return the volume below a level plane of a skin less that of the closed skin [mm³], signed.

    The skin's by the product's moments, the closed skin's by manifold3d.
    """
    up = np.array([0.0, 0.0, 1.0])
    wet = under_directly(skin_triangles, up, waterline_mm, np.zeros(3)).volume
    return wet - displaced(closed, waterline_mm)


def displaced(closed, waterline_mm):
    """Return the volume of a closed skin below a level plane, by manifold3d [mm³]."""
    return volume_below(solid_of(closed), waterline_mm)


def _k1(hull, *_):
    """Return the closed skin as one file."""
    return [("hull", hull.closed)], "closed skin"


def _k2(hull, *_):
    """Return the closed skin with an inner shell as one file."""
    inner = triangles_of(hull.inner)[:, ::-1]
    return [("hull", np.concatenate([hull.closed, inner]))], f"inner shell {hull.wall_mm:.2f} mm in"


def _k3(hull, gap_mm, rng):
    """Return thin-wall segments with openings."""
    cuts = cuts_drawn(hull, rng)
    openings, words = openings_drawn(hull, cuts, rng)
    words = f"wall {hull.wall_mm:.2f} mm, {_cut_words(cuts, gap_mm)}, {words}"
    return thin_wall_parts(hull, cuts, gap_mm, openings), words


def thin_wall_parts(hull, cuts, gap_mm, openings):
    """Return the segments of a hull's wall, without the openings."""
    wall = (hull.outer - hull.inner) - openings
    return [
        (f"segment {number}", triangles_of(wall ^ slab))
        for number, slab in enumerate(segment_boxes(hull, cuts, gap_mm), start=1)
    ]


def _k4(hull, gap_mm, rng):
    """Return segments of the skin alone, with openings and two ribs."""
    cuts = cuts_drawn(hull, rng)
    openings, words = openings_drawn(hull, cuts, rng)
    cut = hull.outer - openings
    ribs = [_rib(hull, x, rng) for x in _rib_stations(hull, cuts, rng)]
    parts = []
    bounds = [-np.inf, *cuts, np.inf]
    for number, slab in enumerate(segment_boxes(hull, cuts, gap_mm), start=1):
        sheet = triangles_of(cut ^ slab, SKIN)
        own = [r for r in ribs if bounds[number - 1] < r[0, 0, 0] < bounds[number]]
        parts.append((f"segment {number}", np.concatenate([sheet, *own])))
    return parts, f"sheets, {_cut_words(cuts, gap_mm)}, {len(ribs)} ribs, {words}"


def _cut_words(cuts, gap_mm):
    """Return where the cuts are and how wide, in words."""
    places = " ".join(f"{x:.1f}" for x in cuts)
    return f"cut at {places}, gap {gap_mm:g} mm"


def _rib_stations(hull, cuts, rng):
    """Return two stations for ribs, clear of cuts and step [mm]."""
    walls, length = np.append(cuts, hull.lines.step_station), hull.lines.length
    return [station_clear(walls, 0.15 * length, 0.85 * length, 3.0, rng) for _ in range(2)]


def _rib(hull, x, rng):
    """Return a sheet across the inside with a hole in it, touching the skin or just clear of it."""
    upright = hull.outer.rotate((0.0, -90.0, 0.0))  # x up, y stays, z to −x
    section = upright.slice(x)
    if rng.uniform() < 0.5:
        section = section.offset(-0.2, manifold3d.JoinType.Miter)
    section -= section.offset(-rng.uniform(4.0, 8.0), manifold3d.JoinType.Miter)
    outlines = section.to_polygons()
    corners = np.concatenate(outlines)
    flat = corners[np.asarray(manifold3d.triangulate(outlines), dtype=np.int64)]
    return np.stack([np.full(flat.shape[:2], x), flat[..., 1], -flat[..., 0]], axis=2)


BUILD = {"K1": _k1, "K2": _k2, "K3": _k3, "K4": _k4}
"""Parts and words for each clean kind, of a hull, a gap [mm] and a generator."""


def _dirty(parts, dirt, rng):
    """Return the parts with one kind of dirt."""
    if dirt == "one file":
        return one_file(parts)
    sizes = np.array([len(triangles) for _, triangles in parts])
    missing = rng.multinomial(MISSING, sizes / sizes.sum())
    spoil = {
        "flipped": lambda triangles, _: flipped(triangles, FLIPPED_SHARE, rng),
        "duplicated": lambda triangles, _: duplicated(triangles, 0.05, rng),
        "T-junctions": lambda triangles, _: with_t_junctions(triangles, 0.02, rng),
        "missing": lambda triangles, count: with_missing(triangles, count, rng),
    }[dirt]
    return [(name, spoil(t, k)) for (name, t), k in zip(parts, missing.tolist(), strict=True)]
