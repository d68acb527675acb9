"""Tables of offsets to test with: rows of (station, line, half-breadth, height), in mm."""

import make_tarnwing as tarnwing
import numpy as np
from hypothesis import strategies as st
from strategies import uniform

from hullcheck.geometry.offsets import OffsetPoint, offset_body
from hullcheck.geometry.shells import outer_shells
from hullcheck.geometry.topology import is_closed_manifold, merged

EXACT = 1e-12
"""Of a volume: a few thousand sums of terms rounded at 1e-16."""


def points_of(rows):
    """Return rows as points, numbered as in a file with one line of headings."""
    return [
        OffsetPoint(
            row=number,
            station_mm=float(station),
            line=line,
            half_breadth_mm=float(half_breadth),
            height_mm=float(height),
        )
        for number, (station, line, half_breadth, height) in enumerate(rows, start=2)
    ]


def body_of(rows, *, smooth=False):
    """Return the body of some rows."""
    return offset_body(points_of(rows), smooth=smooth)


def shell_of(body):
    """Return the one shell of a body, proved closed: each edge met twice, nothing repaired."""
    assert is_closed_manifold(merged(body.triangles_mm))
    found = outer_shells("hull", body.triangles_mm)
    assert found.repairs == ()
    assert found.dropped == ()
    (shell,) = found.shells
    return shell


def centroid_of(body):
    """Return the center of a body's volume [mm], by an outside library."""
    import trimesh

    return trimesh.Trimesh(*merged_of(body)).center_mass


def merged_of(body):
    """Return a body's points and faces."""
    mesh = merged(body.triangles_mm)
    return mesh.points, mesh.faces


def prism_rows(section, stations):
    """Return rows of one section, (line, half-breadth, height) each, at some stations."""
    return [(station, *point) for station in stations for point in section]


def parabolic_rows(*, length_mm, beam_mm, draft_mm, stations, lines):
    """Return rows of y = (B/2)(1 − (2x/L)²)(1 − (z/T)²), −T ≤ z ≤ 0, evenly spaced."""
    rows = []
    for x in np.linspace(-length_mm / 2, length_mm / 2, stations):
        for number, z in enumerate(np.linspace(-draft_mm, 0.0, lines)):
            y = 0.5 * beam_mm * (1.0 - (2.0 * x / length_mm) ** 2) * (1.0 - (z / draft_mm) ** 2)
            rows.append((x, f"waterline {number}", y, z))
    return rows


def tarnwing_rows(stations):
    """Return rows of the demo hull: keel, chine, side, deck edge, 6 deck lines, deck center.

    Taken off the half sections its mesh is made from; the station of its step is given from both
    sides, lines that do not break there once.
    """
    x = np.asarray(stations, dtype=float)
    ahead = tarnwing.forebody_sections(x[x <= tarnwing.STEP_STATION_MM])
    behind = tarnwing.afterbody_sections(x[x >= tarnwing.STEP_STATION_MM])
    bottom, side, deck = tarnwing._BOTTOM, tarnwing._SIDE, tarnwing._DECK
    rows = []
    for sections, panels in ((ahead, side + tarnwing._STEP), (behind, side)):
        edge = bottom + panels
        places = {"keel": 0, "chine": bottom, "side": edge - 2, "deck edge": edge}
        places |= {f"deck {k}": edge + k for k in range(2, deck, 2)} | {"deck center": edge + deck}
        for section in sections:
            rows += [(section[i, 0], line, *section[i, 1:]) for line, i in places.items()]
    return list(dict.fromkeys(rows))


TARNWING_STATIONS_MM = (0, 20, 60, 110, 170, 265, 340, 410, 480, 550, 608, 624)


@st.composite
def offset_rows(draw):
    """Draw the table of a hull a builder might measure, to a tenth of a millimeter.

    With or without: curved bottom, sides and deck; a flat bottom, a flat deck; upright sides; a bow
    that is a point or a stem, the chine running out at it; steps.
    """
    length, beam, depth = (draw(uniform(*r)) for r in ((200, 900), (40, 150), (40, 120)))
    count = draw(st.integers(2, 6))
    stations = np.cumsum([0.0, *(draw(uniform(0.5, 1.5)) for _ in range(count - 1))])
    flat, deck, upright = draw(st.booleans()), draw(st.booleans()), draw(st.booleans())
    inner = [draw(st.integers(0, 2)) for _ in range(3)]
    bow = draw(st.sampled_from(["full", "point", "stem"]))
    bend = draw(uniform(1.0, 2.0))

    def section(half, rise):
        """Return one section: (line, half-breadth, height) from keel to deck."""
        keel, edge = 0.3 * half * flat, half * (1.0 if upright else 1.15)
        chine_z, edge_z = 0.4 * depth, 0.8 * depth
        corner = half, chine_z + 0.5 * rise
        parts = [
            ("bottom", "chine", (keel, rise), corner, bend),
            ("side", "deck edge", corner, (edge, edge_z), 1.0),
            ("deck", "deck center", (edge, edge_z), (0.2 * edge * deck, depth), 1.0 / bend),
        ]
        points = [("keel", keel, rise)]
        for (between, end, low, high, power), more in zip(parts, inner, strict=True):
            for k in range(1, more + 2):
                share = k / (more + 1)
                y = low[0] + share * (high[0] - low[0])
                z = low[1] + share**power * (high[1] - low[1])
                points.append((end if k > more else f"{between} {k}", y, z))
        return points

    rows = []
    for number, station in enumerate(length * stations / stations[-1]):
        half, rise = 0.5 * beam * draw(uniform(0.5, 1.0)), depth * draw(uniform(0.0, 0.2))
        here = section(half, rise)
        if number == 0 and bow == "point":
            here = [(line, 0.0, 0.7 * depth) for line, _, _ in here]
        elif number == 0 and bow == "stem":
            heights = [here[0][2] if line == "chine" else z for line, _, z in here]
            here = [
                (p[0], 0.0, z) for p, z in zip(here, np.maximum.accumulate(heights), strict=True)
            ]
        rows += [(round(station, 1), line, round(y, 1), round(z, 1)) for line, y, z in here]
        if 0 < number < count - 1 and draw(st.booleans()):
            raised = section(half, rise + depth * draw(uniform(0.02, 0.1)))
            names = [line for line, _, _ in here]
            below = raised[: names.index("chine") + 1]
            rows += [(round(station, 1), line, round(y, 1), round(z, 1)) for line, y, z in below]
    return list(dict.fromkeys(rows))
