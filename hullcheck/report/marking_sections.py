"""Sections at full size with the water across them, and strips to wrap round the skin."""

from typing import Final

import numpy as np

from hullcheck.answers.marking_records import MarkedBody, StationMark
from hullcheck.answers.marking_sections import KeelSection
from hullcheck.flotation.floating import Floating
from hullcheck.geometry.outlines import below, outer_region
from hullcheck.report import style
from hullcheck.report.marking_pieces import (
    Fill,
    Frame,
    Piece,
    Stroke,
    Words,
    closed,
    frame_round,
)
from hullcheck.report.marking_words import distance_words, place_words
from hullcheck.report.numbers import station_text
from hullcheck.report.sheet import Side
from hullcheck.report.words import capital

STRIP_MM: Final = 9.0
"""Height of a strip: two lines of type."""
_BEYOND_MM: Final = 6.0
"""How far the water line runs out over the section's widest points."""
_TICK_MM: Final = 3.0
_END_MM: Final = 4.0
"""Of a strip beyond the water."""
_SIDE_MM: Final = 18.0
"""What the name of a side takes on a strip, before the water or beyond it."""
_NAME_MM: Final = 26.0
"""What the station's name takes on a strip, beside the keel or beyond the end."""
_LONG_MM: Final = 60.0
_CLEAR_MM: Final = 9.0
"""So far from the keel a long strip's name begins: it may be cut in two at the keel."""
_FIRST, _SECOND = 5.4, 1.6
"""Baselines of the two lines on a strip [mm]."""


def station_title(body: MarkedBody, station: StationMark, *, several: bool) -> str:
    """Return what a station is called above its drawing; with the body's name where needed."""
    place = place_words(station)
    name = f"{' '.join(body.name.split())}, " if several else ""
    words = capital(f"{name}station {station_text(station.station_mm)}")
    return f"{words} · {place}" if place else words


def section_piece(
    section: KeelSection, station: StationMark, title: str, floating: Floating
) -> Piece:
    """Return a section seen from astern with the water level across it.

    Parameters
    ----------
    section : KeelSection
        Of the body.
    station : StationMark
        Its distances.
    title : str
        What it is called.
    floating : Floating
        Where she rests.

    Returns
    -------
    Piece
        Starboard right, its origin at the keel, turned in its own plane so that the water is level.
    """
    across = np.array(floating.normal[1:])
    size = float(np.linalg.norm(across))
    up = across / size
    axes = np.stack((np.array([up[1], -up[0]]), up), axis=1)
    loops = [(loop[:, 1:] - section.keel_mm[1:]) @ axes for loop in section.loops]
    level = (floating.height_mm - float(section.keel_mm @ floating.normal)) / size
    region = outer_region(loops)
    points = np.concatenate([*loops, [(0.0, level)]])
    left, right = float(points[:, 0].min()), float(points[:, 0].max())
    water = np.array([(left - _BEYOND_MM, level), (right + _BEYOND_MM, level)])
    keel = np.array([(0.0, -_TICK_MM), (0.0, 0.0)])
    wet = below(region, level)
    return Piece(
        kind="section",
        title=title,
        note=distance_words(station),
        frame=frame_round(np.concatenate((points, water, keel)), 0.5),
        strokes=[
            *(Stroke(points=closed(loop), width=style.MIDDLE) for loop in loops),
            Stroke(points=water, color=style.WATER),
            Stroke(points=keel),
        ],
        fills=[Fill(loops=wet, color=style.TINT)] if wet else [],
    )


def strip_piece(station: StationMark, title: str) -> Piece | None:
    """Return a strip to wrap round the skin at a station; None where no side meets the water.

    Its thick line goes on the keel; the water is at the thin one on either side.
    """
    starboard, port = (
        None if side is None else side.girth_mm for side in (station.starboard, station.port)
    )
    if starboard is None and port is None:
        return None
    strokes, words = [_upright(0.0, style.INK, style.BOLD)], []
    reach = {1.0: _END_MM, -1.0: _END_MM}
    inside = starboard is not None and starboard >= _NAME_MM + _SIDE_MM
    for sign, name, girth in ((1.0, "starboard", starboard), (-1.0, "port", port)):
        if girth is None:
            continue
        within = inside if sign > 0.0 else girth >= _SIDE_MM
        middle = girth + (-0.5 if within else 0.5) * _SIDE_MM
        reach[sign] = girth + (_END_MM if within else _SIDE_MM)
        strokes.append(_upright(sign * girth, style.WATER))
        words += _two_lines(sign * middle, ("water", name), "center")
    start = _CLEAR_MM if inside and (starboard or 0.0) >= _LONG_MM else 1.0
    if not inside:
        start = reach[1.0] + 1.0
        reach[1.0] += _NAME_MM
    name = f"station {station_text(station.station_mm)}"
    words += _two_lines(start, (name, "keel: thick line"), "left")
    frame = Frame(left=-reach[-1.0], bottom=0.0, right=reach[1.0], top=STRIP_MM)
    strokes.append(Stroke(points=closed(frame.corners), width=style.HAIR))
    return Piece(kind="strip", title=title, note="", frame=frame, strokes=strokes, words=words)


def _two_lines(x: float, lines: tuple[str, str], side: Side) -> list[Words]:
    """Return two lines of words on a strip."""
    return [
        Words(at=(x, y), words=words, side=side)
        for y, words in zip((_FIRST, _SECOND), lines, strict=True)
    ]


def _upright(x: float, color: str, width: float = style.THIN) -> Stroke:
    """Return a line across a strip."""
    return Stroke(points=np.array([(x, 0.0), (x, STRIP_MM)]), color=color, width=width)
