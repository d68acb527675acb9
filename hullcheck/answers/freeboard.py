"""Heights of the hull's top above the water, drafts of its keel, and the buoyancy in between."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Self

import numpy as np

from hullcheck.answers.float_records import Drafts, Freeboard, HeightPoint
from hullcheck.answers.heights import height_point, limiting_opening, opening_points
from hullcheck.answers.keel import Keel
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.profile import buttock_profile
from hullcheck.geometry.sections import Cuts, cut_segments, envelope
from hullcheck.geometry.shells import Shell
from hullcheck.geometry.step import Step, find_step

_STATIONS: Final = 201


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Deck:
    """Top and keel of the body that freeboard and draft are read off, and its step.

    Attributes
    ----------
    body : Body
        The largest hull or main float.
    cuts : Cuts
        The same body, to be cut.
    keel : Keel
        Its keel.
    step : Step or None
        Its step.
    tops_mm : ndarray, shape (k, 3)
        Highest points of all hulls and main floats at evenly spaced stations [mm].
    """

    body: Body
    cuts: Cuts
    keel: Keel
    step: Step | None
    tops_mm: FloatArray

    @classmethod
    def of(cls, craft: Craft, steps: Mapping[str, Step | None], cuts: Cuts) -> Self:
        """Return the deck of a craft, from its bodies' steps by name and its hull's cuts."""
        body = craft.deck_body
        step = steps[body.name]
        return cls(
            body=body,
            cuts=cuts,
            keel=Keel(
                shell=body.shell,
                profile=buttock_profile(cuts.buttocks, body.shell.center_plane_mm),
                sternpost_mm=None if step is None else step.sternpost_station_mm,
            ),
            step=step,
            tops_mm=np.concatenate([_tops(b.shell) for b in craft.deck_bodies]),
        )

    @classmethod
    def alone(cls, craft: Craft) -> Self:
        """Return the deck of a craft of whose other bodies nothing is asked."""
        body = craft.deck_body
        cuts = Cuts(body.shell.triangles_mm)
        return cls.of(craft, {body.name: find_step(body.shell.triangles_mm, cuts=cuts)}, cuts)


def drafts(deck: Deck, floating: Floating, *, deepest_mm: float) -> Drafts:
    """Return the depths of the keel under the surface [mm]: deepest, bow, step and stern.

    Parameters
    ----------
    deck : Deck
        Keel of the hull, or of one of the main floats.
    floating : Floating
        The attitude.
    deepest_mm : float
        Depth of the lowest point of all hulls and main floats [mm].

    Returns
    -------
    Drafts
    """
    step = None if deck.step is None else deck.step.station_mm
    depths = [
        None if s is None else _depth(deck.keel.point(s), floating)
        for s in (deck.keel.bow_mm, step, deck.keel.stern_mm)
    ]
    return Drafts(
        deepest=deepest_mm,
        bow=depths[0],
        step=depths[1],
        stern=depths[2],
    )


def freeboard(craft: Craft, deck: Deck, floating: Floating) -> Freeboard:
    """Return the heights of openings and of the hull's top above the surface, by name.

    Parameters
    ----------
    craft : Craft
        Whose openings count.
    deck : Deck
        Top and keel of the hull.
    floating : Floating
        The attitude.

    Returns
    -------
    Freeboard
        Openings in the order of the sheet, then the top of the hull: least, at the bow, at the
        step, at the stern. `least` is the lowest opening that is not sealed; where there is none,
        the least height of the top of the hull along the waterline's length.
    """
    openings = opening_points(craft, floating)
    named = [("bow", deck.keel.bow_mm)]
    if deck.step is None:
        named.append(("stern", deck.keel.stern_mm))
    else:
        named += [("step", deck.step.station_mm), ("sternpost", deck.keel.stern_mm)]
    tops = []
    for name, station in named:
        top = _top_at(deck, station)
        if top is not None:
            tops.append(height_point(f"top of the hull at the {name}", top, floating))
    edge = _least(deck, floating)
    if edge is not None:
        tops.insert(0, edge)
    least = limiting_opening(openings) or edge
    return Freeboard(
        least=None if least is None else least.height_mm,
        at=None if least is None else least.name,
        points=(*openings, *tops),
    )


def lowest(craft: Craft, deck: Deck, floating: Floating) -> HeightPoint | None:
    """Return only the point that `freeboard` counts; the deck is cut only where no opening counts.

    She is floated dozens of times for the grams left, and each time this is all that is asked.
    """
    return limiting_opening(opening_points(craft, floating)) or _least(deck, floating)


def height_mm(craft: Craft, deck: Deck, floating: Floating) -> float:
    """Return the height of the point that freeboard counts [mm]; 0 where there is none."""
    point = lowest(craft, deck, floating)
    return 0.0 if point is None else point.height_mm


def limit_value(craft: Craft, deck: Deck, floating: Floating, limit: str) -> float:
    """Return what a limit of the sheet is on, by its key: freeboard [mm], trim or heel [deg]."""
    if limit == "freeboard_mm":
        return height_mm(craft, deck, floating)
    return floating.trim_deg if limit == "trim_deg" else abs(floating.heel_deg)


def reserve_volume_mm3(craft: Craft, floating: Floating, rise_mm: float) -> float:
    """Return the volume between the waterline and a plane that stands higher by a rise [mm³]."""
    origin = craft.skin.tree.origin_mm
    height = floating.height_mm + max(rise_mm, 0.0) - float(floating.normal @ origin)
    under = craft.skin.tree.under(floating.normal, height)
    return under.volume - floating.displaced_volume_mm3


def _least(deck: Deck, floating: Floating) -> HeightPoint | None:
    """Return the lowest top of the hull over the stations the water reaches."""
    triangles = deck.body.shell.triangles_mm
    cut = cut_segments(triangles, floating.normal, floating.height_mm)
    ends = _ends(triangles)
    # Where an end is under, the water reaches past its own line to that end.
    wet = ends[floating.height_above_water_mm(ends) < 0.0]
    reach = np.concatenate((cut[:, :, 0].ravel(), wet[:, 0]))
    if len(reach) == 0:
        return None
    tops = deck.tops_mm
    tops = tops[(tops[:, 0] >= reach.min()) & (tops[:, 0] <= reach.max())]
    if len(tops) == 0:
        # She touches the water over less than the stations are apart.
        middle = _top_at(deck, float(0.5 * (reach.min() + reach.max())))
        if middle is None:
            return None
        tops = middle[None, :]
    lowest = tops[int(floating.height_above_water_mm(tops).argmin())]
    return height_point(f"top of the hull at station {round(float(lowest[0]))}", lowest, floating)


def _ends(triangles_mm: FloatArray) -> FloatArray:
    """Return the foremost and the aftmost corner of a surface, shape (2, 3) [mm]."""
    along = triangles_mm[:, :, 0].ravel()
    ends: FloatArray = triangles_mm.reshape(-1, 3)[[int(along.argmin()), int(along.argmax())]]
    return ends


def _tops(shell: Shell) -> FloatArray:
    """Return the highest point of the section at evenly spaced stations, on the center plane."""
    triangles_mm, low, high = shell.triangles_mm, shell.low_mm, shell.high_mm
    stations = np.linspace(low[0], high[0], _STATIONS)
    # The very ends are points or walls; a hair inside they have a section.
    stations[0], stations[-1] = low[0] + 1e-6, high[0] - 1e-6
    highest = envelope(triangles_mm[:, :, 0], triangles_mm[:, :, 2], stations)[1]
    middle = np.full(len(stations), shell.center_plane_mm)
    tops = np.stack((stations, middle, highest), axis=1)
    kept: FloatArray = tops[np.isfinite(highest)]
    return kept


def _top_at(deck: Deck, station_mm: float) -> FloatArray | None:
    """Return the highest point of the section at a station, in its middle if it is a flat."""
    shell = deck.body.shell
    inside = float(np.clip(station_mm, shell.low_mm[0] + 1e-6, shell.high_mm[0] - 1e-6))
    points = deck.cuts.stations.at(inside).reshape(-1, 3)
    if len(points) == 0:
        return None
    ridge = points[points[:, 2] >= points[:, 2].max() - 1e-6]
    return np.array([station_mm, 0.5 * (ridge[:, 1].min() + ridge[:, 1].max()), ridge[0, 2]])


def _depth(point: FloatArray | None, floating: Floating) -> float | None:
    """Return how deep a point lies under the surface [mm]."""
    return None if point is None else -float(floating.height_above_water_mm(point))
