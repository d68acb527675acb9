"""Sealing, paint and soaked walls: skin area by part, the grams on it, and what they do afloat."""

import math
from collections.abc import Mapping, Sequence

import numpy as np

from hullcheck.answers.afloat import Afloat, Refloater
from hullcheck.answers.coats_records import Added, Coat, CoatsAnswer, SkinArea
from hullcheck.answers.float_records import Caveat, Point
from hullcheck.answers.weights_records import Cost
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.geometry.areas import areas_mm2
from hullcheck.geometry.arrays import FloatArray
from hullcheck.units import MM2_PER_CM2

_CM2_PER_M2 = 1e4


def skin_areas(craft: Craft) -> tuple[SkinArea, ...]:
    """Return the outer skin [cm²] of every part, with the center of its area [mm].

    Parameters
    ----------
    craft : Craft
        Read from a build sheet, or from mesh files: then by body.

    Returns
    -------
    tuple of SkinArea
        In the order of the sheet. Faces that no file has (openings, lids, seam gaps) are left out:
        there is nothing there to coat.
    """
    found: list[SkinArea] = []
    if not craft.skins:
        for body in craft.bodies:
            found += _area(body.name, None, body.shell.triangles_mm)
    for one in craft.skins:
        found += _areas_of(one)
    return tuple(found)


def coat_on(craft: Craft, coat: Coat) -> tuple[Added, ...]:
    """Return what a coat weighs, by part: area × g/m² [g] at the center of the area [mm].

    Raises
    ------
    InputError
        If the coat names a body or a part that she does not have.
    """
    areas = skin_areas(craft)
    _check_known(coat.name, "body", coat.bodies, [area.body for area in areas])
    names = [area.part for area in areas if area.part]
    _check_known(coat.name, "part", coat.parts, [n for name in names for n in _names_of(name)])
    sides = 2 if coat.sides == "both" else 1
    return tuple(
        Added(
            of=coat.name,
            body=area.body,
            part=area.part,
            area_cm2=sides * area.area_cm2,
            mass_g=sides * area.area_cm2 / _CM2_PER_M2 * coat.g_per_m2,
            center_mm=area.center_mm,
        )
        for area in areas
        if not (coat.bodies or coat.parts)
        or area.body in coat.bodies
        or set(coat.parts) & set(_names_of(area.part))
    )


def soaked(craft: Craft, grams: Mapping[str, float]) -> tuple[Added, ...]:
    """Return the water that foam or wood has taken up, by body, at the center of its skin's area.

    Parameters
    ----------
    craft : Craft
    grams : mapping of str to float
        Name of a body and the grams it gained.

    Raises
    ------
    InputError
        If there is no such body, or the grams are below 0.
    """
    areas = skin_areas(craft)
    _check_known("wet", "body", tuple(grams), [area.body for area in areas])
    found = []
    for name, mass in grams.items():
        if not (math.isfinite(mass) and mass >= 0.0):
            raise InputError(f"wet {name}: {mass:g} g: must not be below 0")
        own = [area for area in areas if area.body == name]
        size = np.array([area.area_cm2 for area in own])
        x, y, z = (size @ np.array([area.center_mm for area in own]) / size.sum()).tolist()
        found.append(
            Added(
                of="water soaked up",
                body=name,
                part=None,
                area_cm2=float(size.sum()),
                mass_g=mass,
                center_mm=(x, y, z),
            )
        )
    return tuple(found)


def loaded_with(
    mass_g: float, center_mm: Point, added: Sequence[tuple[float, Point]]
) -> tuple[float, Point]:
    """Return mass [g] and center [mm] with more put aboard, grams and place each."""
    total = math.fsum((mass_g, *(grams for grams, _ in added)))
    x, y, z = (
        center_mm[i] + math.fsum(grams * (at[i] - center_mm[i]) for grams, at in added) / total
        for i in range(3)
    )
    return total, (x, y, z)


def coats_answer(refloater: Refloater, added: Sequence[Added]) -> CoatsAnswer:
    """Return how coats and soaked water change where her craft floats.

    Parameters
    ----------
    refloater : Refloater
        Of a craft with a known center of gravity.
    added : sequence of Added
        From `coat_on` and `soaked`; they may be put together.

    Returns
    -------
    CoatsAnswer

    Raises
    ------
    InputError
        If nothing is added, or her center of gravity is not known.
    SolverError
        If no rest was found.
    """
    craft, center = refloater.craft, refloater.craft.center_of_gravity_mm
    if center is None:
        raise InputError(
            f"{craft.name}: her CG is not known, so what a coat does to it cannot be told; give "
            "every item a place, or cg_mm under [craft]"
        )
    loads = [(one.mass_g, one.center_mm) for one in added]
    grams = math.fsum(mass for mass, _ in loads)
    if not grams > 0.0:
        raise InputError("nothing is added: give a coat in g/m², or the grams a body soaked up")
    first = next(place for mass, place in loads if mass)
    before = refloater.at(craft.mass_g, center)
    after_g, after_mm = loaded_with(craft.mass_g, center, loads)
    after = refloater.at(after_g, after_mm)
    cost = Cost.between(before, after)
    return CoatsAnswer(
        added=tuple(added),
        mass_g=grams,
        center_mm=_center_of(loads, first),
        before=before,
        after=after,
        center_moves_mm=cost.center_of_gravity_mm,
        freeboard_changes_mm=cost.freeboard_mm,
        trim_changes_deg=cost.trim_deg,
        heel_changes_deg=cost.heel_deg,
        warnings=_caveats(before, after),
    )


def _areas_of(one: BodySkin) -> list[SkinArea]:
    """Return the areas of a body by part."""
    if one.skin is None:
        return _area(one.name, None, np.concatenate([s.triangles_mm for s in one.shells]))
    triangles = np.concatenate([shell.triangles_mm for shell in one.skin.shells])
    sources = np.concatenate(one.skin.sources)
    found: list[SkinArea] = []
    for i, part in enumerate(one.parts):
        found += _area(one.name, part.name, triangles[sources == i])
    return found


def _names_of(part: str | None) -> tuple[str, ...]:
    """Return what a part may be called: its file, without folder, without ending."""
    if part is None:
        return ()
    file = part.rsplit("/", 1)[-1]
    return part, file, file.rsplit(".", 1)[0]


def _area(body: str, part: str | None, triangles_mm: FloatArray) -> list[SkinArea]:
    """Return the area of triangles with its center; nothing where there are none."""
    areas = areas_mm2(triangles_mm)
    total = float(areas.sum())
    if not total > 0.0:
        return []
    x, y, z = (areas @ triangles_mm.mean(axis=1) / total).tolist()
    return [SkinArea(body=body, part=part, area_cm2=total / MM2_PER_CM2, center_mm=(x, y, z))]


def _center_of(loads: Sequence[tuple[float, Point]], about: Point) -> Point:
    """Return the center of several loads [mm]; moments are taken about one of them."""
    total = math.fsum(grams for grams, _ in loads)
    x, y, z = (
        about[i] + math.fsum(grams * (at[i] - about[i]) for grams, at in loads) / total
        for i in range(3)
    )
    return (x, y, z)


def _check_known(what: str, kind: str, named: tuple[str, ...], names: Sequence[str]) -> None:
    """Refuse a name that stands for no body or no part."""
    for name in named:
        if name not in names:
            known = ", ".join(dict.fromkeys(name.rsplit("/", 1)[-1] for name in names)) or "none"
            raise InputError(f"{what}: there is no {kind} {name!r}; she has: {known}")


def _caveats(before: Afloat, after: Afloat) -> tuple[Caveat, ...]:
    """Return what must be said beside what a coat does."""
    found = [
        Caveat(
            code="coat-areas",
            message="a coat weighs area × g/m²; an inside is taken to be as large as its outside, "
            "runs and drips come on top: weigh her before and after",
        )
    ]
    if before.rest != after.rest:
        found.append(
            Caveat(
                code="rest-changes",
                message=f"before she floats {before.rest!r}, after {after.rest!r}: the changes are "
                "not those of one way of floating",
            )
        )
    return tuple(found)
