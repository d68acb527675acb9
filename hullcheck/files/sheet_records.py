"""From a build sheet's checked keys to the records of a craft, names held against each other."""

from typing import Final

import numpy as np

from hullcheck.craft.ledger import Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.openings import Opening
from hullcheck.craft.setups import USUAL_TEMPERATURE_C, Setup
from hullcheck.files.sheet import SheetFile
from hullcheck.files.sheet_fittings import point
from hullcheck.files.sheet_model import SetupKeys
from hullcheck.files.toml_lines import Path as KeyPath
from hullcheck.water import Water, fresh_water, sea_water, water_of_density

NAMED: Final = ("body", "opening", "seam", "mark", "setup", "lid", "leak")


def check_names(sheet: SheetFile) -> None:
    """Refuse a name that two of a kind share, twins by mirror included."""
    for kind in NAMED:
        seen: dict[str, KeyPath] = {}
        for i, one in enumerate(getattr(sheet.keys, kind)):
            for key in ("name", "mirror"):
                name = getattr(one, key, None)
                if name is None:
                    continue
                path: KeyPath = (kind, i, key)
                if name in seen:
                    raise sheet.refused(
                        path,
                        f'"{name}" is the name of another {kind} already, in line '
                        f"{sheet.lines.get(seen[name], '?')}; names are used once",
                    )
                seen[name] = path


def water_of(sheet: SheetFile) -> Water:
    """Return the water of the sheet; fresh at 15 °C where it says nothing."""
    keys = sheet.keys.water
    if keys.density_kg_m3 is not None:
        for key in ("kind", "temperature_c", "salinity"):
            if getattr(keys, key) is not None:
                raise sheet.refused(
                    ("water", "density_kg_m3"), f"a density stands alone; leave out {key}"
                )
        density = keys.density_kg_m3
        return sheet.kept(("water", "density_kg_m3"), lambda: water_of_density(density))
    degrees = USUAL_TEMPERATURE_C if keys.temperature_c is None else keys.temperature_c
    # Fresh water tells whether the temperature is at fault, so that salinity is blamed only alone.
    fresh = sheet.kept(("water", "temperature_c"), lambda: fresh_water(temperature_c=degrees))
    salinity = keys.salinity
    if salinity is not None:
        if keys.kind == "fresh" and salinity > 0.0:
            raise sheet.refused(
                ("water", "salinity"), f'{salinity:g} is not fresh water; leave out kind = "fresh"'
            )
        return sheet.kept(
            ("water", "salinity"),
            lambda: sea_water(temperature_c=degrees, salinity=salinity),
        )
    return sea_water(temperature_c=degrees) if keys.kind == "sea" else fresh


def openings_of(sheet: SheetFile) -> tuple[Opening, ...]:
    """Return the sheet's openings; two without a name at one place are refused."""
    openings: list[Opening] = []
    for i, keys in enumerate(sheet.keys.opening):
        opening = Opening(
            name=keys.name or "",
            points_mm=np.array(keys.points_mm, dtype=np.float64),
            state=keys.state,
            kind=keys.kind,
        )
        if any(opening.called == other.called for other in openings):
            raise sheet.refused(
                ("opening", i), f'"{opening.called}" is there already; give this one a name'
            )
        openings.append(opening)
    return tuple(openings)


def limits_of(sheet: SheetFile) -> Limits:
    """Return the sheet's limits."""
    keys = sheet.keys.limits
    trim = keys.trim_deg
    if trim is not None and not trim[0] < trim[1]:
        raise sheet.refused(
            ("limits", "trim_deg"), f"{trim}: the least trim comes first, then the greatest"
        )
    return Limits(
        freeboard_mm=keys.freeboard_mm,
        trim_deg=None if trim is None else (trim[0], trim[1]),
        heel_deg=keys.heel_deg,
        time_on_water_min=keys.time_on_water_min,
        leak_g_per_30min=keys.leak_g_per_30min,
    )


def cg_range_of(sheet: SheetFile) -> tuple[float, float] | None:
    """Return the stations the CG must lie between [mm]."""
    stations = sheet.keys.craft.cg_range_mm
    if stations is None:
        return None
    if not stations[0] < stations[1]:
        raise sheet.refused(
            ("craft", "cg_range_mm"), f"{stations}: the foremost station comes first"
        )
    return (stations[0], stations[1])


def setups_of(sheet: SheetFile, ledger: Ledger, openings: tuple[Opening, ...]) -> tuple[Setup, ...]:
    """Return the sheet's setups; each may name only items and openings that are there."""
    return tuple(
        _setup(sheet, i, keys, ledger, [opening.called for opening in openings])
        for i, keys in enumerate(sheet.keys.setup)
    )


def _setup(
    sheet: SheetFile, index: int, keys: SetupKeys, ledger: Ledger, openings: list[str]
) -> Setup:
    """Return one setup."""
    path: KeyPath = ("setup", index)
    for key, names in (("add", list(keys.add)), ("move", list(keys.move)), ("off", keys.off)):
        for i, name in enumerate(names):
            step = i if key == "off" else name
            sheet.check_known((*path, key, step), name, ledger.names, "item of the ledger")
    for name in keys.openings:
        sheet.check_known((*path, "openings", name), name, openings, "opening of the sheet")

    def made() -> Setup:
        """Return the setup, tried on the ledger."""
        setup = Setup(
            name=keys.name,
            add=tuple(keys.add.items()),
            move=tuple((name, point(by)) for name, by in keys.move.items()),
            off=tuple(keys.off),
            wet_g=keys.wet_g,
            water=keys.water,
            openings=tuple(keys.openings.items()),
        )
        setup.of_ledger(ledger)
        return setup

    return sheet.kept(path, made)
