"""What is asked beside the ledger: scales under her, coats, soaked walls."""

from dataclasses import replace

from hullcheck.answers.afloat import Refloater
from hullcheck.answers.coats import coat_on, coats_answer, skin_areas, soaked
from hullcheck.answers.coats_records import Coat, CoatsAnswer
from hullcheck.answers.float_records import Caveat
from hullcheck.answers.scales import weighed
from hullcheck.answers.scales_ledger import against_ledger, ledger_height
from hullcheck.answers.scales_records import LedgerCheck, ScalesReport
from hullcheck.answers.weights_records import Asked
from hullcheck.craft.body_skin import part_stem
from hullcheck.craft.craft import Craft
from hullcheck.craft.ledger import Ledger
from hullcheck.errors import InputError


def scales_of(
    craft: Craft, ledger: Ledger, asked: Asked
) -> tuple[ScalesReport | None, LedgerCheck | None]:
    """Return what scales say, and that against the ledger; None and None where none were named.

    Raises
    ------
    InputError
        If nothing is aboard yet, or the weighings make no sense.
    """
    if not asked.weighings:
        return None, None
    if asked.aboard_only:
        aboard = tuple(item for item in ledger.items if item.aboard)
        ledger = Ledger(items=aboard)
    if not ledger.mass_g > 0.0:
        raise InputError(
            f"{craft.name}: by the ledger nothing that weighs anything is aboard yet; set aboard "
            "to yes for what stands on the scales"
        )
    report = weighed(asked.weighings, height=ledger_height(ledger))
    low, high = craft.skin.tree.low_mm, craft.skin.tree.high_mm
    reach = (float(low[0]), float(high[0]))
    return report, against_ledger(report, ledger, reach_mm=reach)


def scales_caveats(
    craft: Craft, report: ScalesReport | None, check: LedgerCheck | None
) -> tuple[Caveat, ...]:
    """Return what must be said of what scales told: what counts, and a CG out of its range.

    Codes "scales-out-of-range", "scales-differ", "scales-not-counted", and those of the weighings.
    """
    if report is None or check is None:
        return ()
    found, band, station = list(report.warnings), craft.cg_range_mm, report.center_of_gravity_mm[0]
    if band is not None and station is not None and not band[0] <= station <= band[1]:
        low, high = band
        off = max(low - station, station - high)
        way = "ahead of" if station < low else "aft of"
        message = (
            f"by the scales her CG at station {station:.1f} lies {off:.1f} mm {way} its range, "
            f"{low:g} to {high:g}"
        )
        found.insert(0, Caveat(code="scales-out-of-range", message=message))
    if check.verdict != "agrees":
        found.append(Caveat(code="scales-differ", message=check.message.removesuffix(".")))
    message = (
        "CG, grams left and costs are those of the ledger; for the scales to count, write mass_g "
        "and cg_mm under [craft]"
    )
    return (*found, Caveat(code="scales-not-counted", message=message))


def coats_of(refloater: Refloater, asked: Asked) -> CoatsAnswer | None:
    """Return what coats and soaked walls add and do; None where none were named.

    Raises
    ------
    InputError
        If a name is not hers, or her center of gravity is not known.
    """
    craft = refloater.craft
    added = [one for coat in asked.coats for one in coat_on(craft, _named(craft, coat))]
    if asked.soaked_g:
        added += soaked(craft, dict(asked.soaked_g))
    return coats_answer(refloater, added) if added else None


def _named(craft: Craft, coat: Coat) -> Coat:
    """Return a coat with the parts that are bodies' names put on those bodies."""
    known = [body.name for body in craft.bodies]
    bodies = tuple(name for name in coat.parts if name in known)
    files = [area.part for area in skin_areas(craft) if area.part]
    called = {name for path in files for name in (path, path.rsplit("/", 1)[-1], part_stem(path))}
    for name in coat.parts:
        if name not in called and name not in known:
            parts = dict.fromkeys(part_stem(path) for path in files)
            raise InputError(
                f"--coat {name}: there is no body or part of that name; bodies: "
                f"{', '.join(known)}; parts: {', '.join(parts) or 'none'}"
            )
    rest = tuple(name for name in coat.parts if name not in bodies)
    return replace(coat, bodies=(*coat.bodies, *bodies), parts=rest)
