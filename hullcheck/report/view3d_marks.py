"""The marks of the turnable view and their words: what limits, what leaks, centers, seams."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.seams_records import SeamsAnswer
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.geometry.arrays import FloatArray
from hullcheck.report.float_marks import HeightMark
from hullcheck.report.float_scene import Scene
from hullcheck.report.numbers import MINUS, depth_text, height_text, station_text
from hullcheck.report.seams_labels import label_words
from hullcheck.report.seams_words import short_name
from hullcheck.report.view3d_shapes import shape_of
from hullcheck.report.words import state_words

_PLACES: Final = 12
"""Points of a line its label may stand at."""
_LEAKED: Final = 1
_FIRST_SEAM: Final = 10
"""Ranks of a seam that leaked, and of the worst of the others."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mark3d:
    """A mark with its words.

    Attributes
    ----------
    shape : str
        A key of `hullcheck.report.view3d_shapes.SHAPES`.
    places_mm : ndarray, shape (k, 3)
        Where it may stand, in water axes [mm]; the view takes one that it sees.
    inside : bool
        Whether it lies inside her and is drawn through the skin.
    head, name, note : str
        In bold, plain and soft; "" where there is none.
    flag : bool
        Whether the head stands in a filled flag: it limits, or must be acted on.
    rank : int
        The least is named first.
    state : str or None
        Of a seam or opening.
    """

    shape: str
    places_mm: FloatArray
    head: str
    name: str = ""
    note: str = ""
    rank: int
    flag: bool = False
    inside: bool = False
    state: str | None = None


def in_water(scene: Scene, points_mm: FloatArray) -> FloatArray:
    """Return points in body axes as points in water axes [mm]: aft, to starboard, up."""
    axes = np.stack((*scene.directions, scene.normal), axis=1)
    placed: FloatArray = np.asarray(points_mm) @ axes - np.array([0.0, 0.0, scene.height_mm])
    return placed


def centers(scene: Scene) -> Iterable[Mark3d]:
    """Return the centers of gravity and of buoyancy."""
    answer = scene.answer
    for shape, center, rank in (
        ("cg", answer.center_of_gravity_mm, 2),
        ("cb", answer.center_of_buoyancy_mm, 3),
    ):
        if center is not None:
            yield Mark3d(
                shape=shape,
                places_mm=in_water(scene, np.array([center])),
                head=shape.upper(),
                note=f"station {station_text(center[0])}",
                rank=rank,
                inside=True,
            )


def seam_marks(
    scene: Scene, found: Iterable[SeamLine], seams: SeamsAnswer | None
) -> Iterable[Mark3d]:
    """Return the marks of seams, and of openings with what is known of them."""
    reports = {} if seams is None else {one.name: one for one in seams.seams}
    order = {name: i for i, name in enumerate(reports)}
    for seam in found:
        report = reports.get(seam.name)
        if _limits(scene, seam):
            continue
        rank = _FIRST_SEAM + order.get(seam.name, len(order))
        places = in_water(scene, _spread(seam))
        if report is None or seams is None:
            yield Mark3d(
                shape="opening" if seam.is_opening else shape_of(None),
                places_mm=places,
                head=short_name(seam.name),
                note=state_words(seam.state) if seam.is_opening else "",
                rank=rank,
            )
            continue
        words, reading = label_words(report, seams.now)
        name, leaked = short_name(seam.name), report.state == "leaked"
        yield Mark3d(
            shape=shape_of(report.state),
            places_mm=places,
            head=words if leaked else name,
            name=name if leaked else words,
            note=reading,
            rank=_LEAKED if leaked else rank,
            flag=leaked,
            state=report.state,
        )


def limiting_marks(
    scene: Scene, found: Iterable[SeamLine], seams: SeamsAnswer | None
) -> Iterable[Mark3d]:
    """Return the point that freeboard is read off, with what is known of it."""
    mark = _limiting(scene)
    if mark is None:
        return
    note = (state_words(mark.state) if mark.opening else mark.state) or ""
    reports = () if seams is None else seams.seams
    names = [seam.name for seam in found if _limits(scene, seam)]
    report = next((one for one in reports if one.name in names), None)
    if report is not None and seams is not None:
        note = label_words(report, seams.now)[0]
    yield Mark3d(
        shape="limiting",
        places_mm=in_water(scene, mark.point_mm[None]),
        head=_height(mark.height_mm),
        name=short_name(mark.name),
        note=note,
        rank=0,
        flag=True,
    )


def _limiting(scene: Scene) -> HeightMark | None:
    """Return the point that freeboard is read off."""
    return next((mark for mark in scene.height_marks if mark.limiting), None)


def _limits(scene: Scene, seam: SeamLine) -> bool:
    """Return whether freeboard is read off an opening."""
    freeboard = scene.answer.freeboard_mm
    shown = _limiting(scene) is not None and freeboard is not None
    return shown and seam.is_opening and freeboard is not None and freeboard.at == seam.name


def _height(height_mm: float) -> str:
    """Return a height above the water in few words."""
    if height_mm < 0.0:
        return f"{MINUS}{depth_text(-height_mm)}, under water"
    return height_text(height_mm)


def _spread(seam: SeamLine) -> FloatArray:
    """Return points along a seam or opening at which its label may stand, shape (k, 3) [mm]."""
    places = []
    for line in seam.lines_mm:
        runs = np.linalg.norm(np.diff(line, axis=0), axis=1)
        along = np.concatenate(([0.0], np.cumsum(runs)))
        wanted = np.linspace(0.0, along[-1], _PLACES, endpoint=False)
        places.append(np.stack([np.interp(wanted, along, line[:, k]) for k in range(3)], axis=1))
    spread = np.unique(np.concatenate(places), axis=0)
    picked = np.linspace(0, len(spread) - 1, min(len(spread), _PLACES)).astype(int)
    kept: FloatArray = spread[picked]
    return kept
