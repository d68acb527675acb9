"""The table of cases: what turns one point of the check list, and what it turns into."""

import copy
import functools
from dataclasses import replace
from typing import NamedTuple

import check_making as making
from check_making import (
    FITTINGS,
    HULL,
    ITEMS,
    OPENINGS,
    PROPELLER,
    RECORDS,
    base_evidence,
    fitted,
    floating,
    flooded,
    heeled,
    ledger_of,
    limited,
    on,
    rebuilt,
    relogged,
    seal,
    seamed,
    soak,
    with_parts,
)
from crafts import opening_at

from hullcheck.answers.check_answer import check_answer
from hullcheck.answers.righting_records import FloatReport
from hullcheck.answers.skin_records import ChecksReport, SkinReport
from hullcheck.answers.upset_records import PushDown
from hullcheck.craft.fittings import Equipment, Propeller
from hullcheck.craft.ledger import Item
from hullcheck.craft.log_records import WeighIn
from hullcheck.craft.setups import Setup


class Case(NamedTuple):
    """Evidence, and every point that it turns, by key, to a state by a cause."""

    evidence: object
    turned: dict


def _one(make, key, state, cause):
    """Return a case in which one point alone turns."""
    return lambda: Case(make(), {key: (state, cause)})


def _skin(*, watertight=True, handles=0):
    """Return how her files were read: one body."""
    checks = ChecksReport(
        shells=1,
        section_volume_cm3=None,
        section_offset_mm=None,
        handles=handles,
        solid_share=None,
        invented_area_cm2=0.0,
        invented_under_water_cm2=0.0,
    )
    body = SkinReport(
        name="hull",
        role="hull",
        volume_cm3=6000.0,
        area_cm2=2000.0,
        method="united",
        watertight=watertight,
        error_cm3=0.0,
        displaced_error_cm3=0.0,
        parts=(),
        invented=(),
        seams=(),
        bulkheads_mm=(),
        checks=checks,
    )
    return with_parts(skin=replace(base_evidence().skin, bodies=(body,)))


def _rough(layer_mm):
    """Return her with a hull whose volume may be out by a layer over her waterplane."""
    area = base_evidence().floating.waterplane.area_cm2 * 100.0
    hull = replace(HULL, volume_error_mm3=layer_mm * area)
    return rebuilt(bodies=(hull,))


def _opened(**more):
    """Return her with one more opening, in the deck unless said otherwise."""
    where = more.pop("at_mm", (300.0, 0.0, 90.0))
    return lambda: rebuilt(openings=(*OPENINGS, opening_at(where, **{"name": "hatch", **more})))


def _near_the_end():
    """Return her with items apart, and an end of the band within ± of her CG."""
    ledger = ledger_of(replace(ITEMS[0], x_mm=282.0), replace(ITEMS[1], x_mm=337.0))
    return rebuilt(ledger=ledger, cg_range_mm=(291.99, 298.0))


def _heeling(limit_over_deg):
    """Return her with the receiver off center, the limit so far over her list."""
    ledger = ledger_of(replace(ITEMS[2], y_mm=4.0))
    list_deg = abs(rebuilt(ledger=ledger).floating.heel_deg)
    limits = replace(making.LIMITS, heel_deg=list_deg + limit_over_deg)
    return rebuilt(ledger=ledger, limits=limits)


def _second(**changes):
    """Return her with a second setup that floats as she is, but for some changes."""
    evidence = rebuilt(setups=(Setup(name="other", wet_g=1.0),))
    setups = evidence.setups
    other = replace(setups.setups[1], **changes)
    evidence.__dict__["setups"] = replace(setups, setups=(setups.setups[0], other))
    return evidence


def _float_report(side, **changes):
    """Return a tip float that holds her."""
    given = {
        "name": f"{side} tip float",
        "role": "tip float",
        "side": side,
        "volume_cm3": 100.0,
        "reach_mm": 300.0,
        "gap_at_rest_mm": 4.0,
        "touches_deg": 1.0,
        "under_deg": 6.0,
        "under_beyond_model": False,
        "righting_moment_g_mm": 3000.0,
        "upsetting_moment_g_mm": 1000.0,
        "load_moment_g_mm": 0.0,
        "ratio": 3.0,
        "holds": True,
        "sizes": (),
    }
    return FloatReport(**{**given, **changes})


def _pushed(*, comes_back):
    """Return a wing tip that was pushed to the water."""
    return PushDown(
        setup=None,
        mass_g=1200.0,
        side="port",
        to="port tip float",
        heel_deg=-9.0,
        arm_mm=1.0,
        returns_to_deg=0.0,
        comes_back=comes_back,
    )


def _floods_first():
    """Return her with an opening that goes under at 5° and a float that does at 6°."""
    sides = tuple(
        replace(one, downflooding_deg=5.0 if one.side == "starboard" else -60.0)
        for one in base_evidence().righting.sides
    )
    return heeled(sides=sides, floats=(_float_report("starboard"),))


def _on_a_float(**changes):
    """Return her resting on a tip float, upright being unstable."""
    evidence = floating(upright_is_stable=False, rest="on port tip float")
    report = _float_report("port", **changes)
    evidence.__dict__["righting"] = replace(base_evidence().righting, floats=(report,))
    return evidence


def _step(behind_mm):
    """Return her with the step so far behind her CG."""
    return floating(step=replace(base_evidence().floating.step, behind_cg_mm=behind_mm))


def _hub(clear_mm):
    """Return her with the propeller so far over the water at rest."""
    here = next(
        one.height_mm
        for one in base_evidence().floating.clearances_mm
        if one.what == "propeller disc"
    )
    x, y, z = PROPELLER.hub_mm
    return fitted(propeller=replace(PROPELLER, hub_mm=(x, y, z - here + clear_mm)))


def _pulled(at_keel):
    """Return her at full thrust, held at the keel, as told."""
    thrust = base_evidence().righting.thrust
    last = replace(thrust.rows[-1], at_keel=at_keel)
    return heeled(thrust=replace(thrust, rows=(*thrust.rows[:-1], last)))


def _in_at_full():
    """Return her with the propeller in the water at full thrust."""
    keel = base_evidence().righting.thrust.rows[-1].at_keel
    return _pulled(replace(keel, propeller_clearance_mm=-2.0))


def _no_thrust():
    """Return her with a propeller of unknown thrust."""
    bare = Propeller(hub_mm=PROPELLER.hub_mm, diameter_mm=PROPELLER.diameter_mm)
    evidence = fitted(propeller=bare)
    evidence.__dict__["righting"] = replace(base_evidence().righting, thrust=None)
    return evidence


def _dry_seams(names):
    """Return her with no seam but those of some names."""
    seams = base_evidence().seams
    return with_parts(
        seams=replace(seams, seams=tuple(one for one in seams.seams if one.name in names))
    )


def _afloat(**changes):
    """Return her with another time afloat."""
    return flooded(time_afloat=replace(base_evidence().flood.time_afloat, **changes))


def _swamped(**changes):
    """Return her swamped in another way."""
    return flooded(swamped=replace(base_evidence().flood.swamped, **changes))


def _wet_case():
    """Return her with a receiver that 25 g wet when her nose comes up."""
    first, *others = base_evidence().flood.water_cases
    level = base_evidence().flood.state.bilge[0]
    wet = replace(first, nose_up=replace(first.nose_up, bilge=(replace(level, wet=True),)))
    return flooded(water_cases=(wet, *others))


def _under_the_sea():
    """Return her with a receiver that the sea wets at rest."""
    state = base_evidence().flood.state
    return flooded(state=replace(state, bilge=(replace(state.bilge[0], wet=True),)))


def _sunk():
    """Return her with so much aboard that she sinks, worked out in full."""
    evidence = rebuilt(keep=(), ledger=ledger_of(replace(ITEMS[0], weighed_g=9000.0)))
    waterless = ("seams", "spray", "time_afloat", "swamped", "electronics", "propeller", "files")
    turned = dict.fromkeys(waterless, ("not known", "no waterline"))
    return Case(
        evidence,
        turned
        | {
            "trim": ("not known", "no rest"),
            "heel": ("not known", "no rest"),
            "freeboard": ("stop", "sinks"),
            "upright": ("stop", "sinks"),
            "leak": ("caution", "light test"),
            "running": ("caution", "run light"),
        },
    )


def _no_center():
    """Return her without the place of an item, worked out in full."""
    evidence = rebuilt(keep=(), ledger=ledger_of(replace(ITEMS[2], z_mm=None)))
    held = dict.fromkeys(("cg", "freeboard", "upright", "step"), ("not known", "no center"))
    water = ("time_afloat", "swamped", "electronics", "propeller", "files")
    return Case(
        evidence,
        held
        | dict.fromkeys(water, ("not known", "no waterline"))
        | dict.fromkeys(("trim", "heel"), ("not known", "no rest")),
    )


def _capsized():
    """Return her resting on her back."""
    evidence = floating(rest="capsized")
    turned = dict.fromkeys(("freeboard", "upright"), ("stop", "capsizes"))
    turned |= dict.fromkeys(("trim", "heel"), ("not known", "no rest"))
    turned |= dict.fromkeys(("files", "propeller"), ("not known", "no waterline"))
    return Case(evidence, turned)


def _opening_under():
    """Return her with an opening under water that came out of every test dry."""
    slot = opening_at((300.0, 50.0, 20.0), name="slot", state="taped")
    return rebuilt(keep=("righting", "flood"), openings=(*OPENINGS, slot))


def _so_rough():
    """Return her with a skin so rough that neither margin nor freeboard can be told."""
    return Case(
        _rough(50.0),
        {"files": ("not known", "error over the margin"), "freeboard": ("caution", "close")},
    )


def _wet_last(gain_g, cause, **limits):
    """Return her with water in the last test, which takes back that she ran dry."""
    evidence = limited(**limits) if limits else copy.copy(base_evidence())
    evidence.__dict__["logbook"] = making.book(*RECORDS, (on(16), soak(gain_g)))
    state = "caution" if cause == "damp" else "stop"
    return Case(
        evidence,
        {"leak": (state, cause), "running": ("caution", "wet since")},
    )


def _never_tested():
    """Return her with nothing but sealing in the log."""
    return Case(
        relogged(*RECORDS[:2]),
        {"leak": ("not known", "no test"), "running": ("caution", "never run")},
    )


def _worked_on():
    """Return her with an opening sealed again after her tests."""
    return Case(
        relogged(*RECORDS, (on(17), seal("canopy edge"))),
        {"leak": ("caution", "before the last work"), "running": ("caution", "never run")},
    )


def _seam_case(state, cause, /, **changes):
    """Return the case of the joint in another state."""
    return _one(lambda: seamed(**changes), "seams", state, cause)


def _one_float():
    """Return a float without reserve beside her hull."""
    return heeled(floats=(_float_report("port", holds=False, ratio=0.9),))


CASES = {
    "skin not closed": _one(
        lambda: _skin(watertight=False), "files", "not known", "skin not closed"
    ),
    "tunnels": _one(lambda: _skin(handles=1), "files", "caution", "tunnels"),
    "skin rough": _one(lambda: _rough(5.0), "files", "caution", "error over a tenth"),
    "skin too rough": _so_rough,
    "no opening": _one(lambda: rebuilt(openings=()), "openings", "not known", "none known"),
    "low unnamed opening": _one(
        _opened(name="", state="sealed", at_mm=(300.0, 0.0, 40.0)), "openings", "not known", "low"
    ),
    "high unstated opening": _one(
        _opened(state=None, kind="vent"), "openings", "not known", "high"
    ),
    "item of no mass": _one(
        lambda: rebuilt(ledger=ledger_of(Item(name="hook", x_mm=300.0, z_mm=20.0))),
        "weights",
        "not known",
        "not all-up",
    ),
    "item planned": _one(
        lambda: rebuilt(ledger=ledger_of(replace(ITEMS[2], planned_g=100.0, weighed_g=None))),
        "weights",
        "caution",
        "planned",
    ),
    "scale differs": _one(
        lambda: relogged(*RECORDS, (on(16), WeighIn(mass_g=1230.0, plus_minus_g=1.0))),
        "weights",
        "caution",
        "scale differs",
    ),
    "no band": _one(lambda: rebuilt(cg_range_mm=None), "cg", "not known", "no band"),
    "CG outside": _one(lambda: rebuilt(cg_range_mm=(300.0, 310.0)), "cg", "stop", "outside"),
    "CG near an end": _one(_near_the_end, "cg", "caution", "near an end"),
    "CG outside in a setup": _one(
        lambda: rebuilt(
            setups=(Setup(name="far", move=(("battery", (-60.0, 0.0, 0.0)),)),),
            limits=replace(making.LIMITS, trim_deg=(-4.0, 4.0)),
        ),
        "cg",
        "caution",
        "outside in a setup",
    ),
    "sinks": _sunk,
    "no center": _no_center,
    "capsized": _capsized,
    "a setup capsizes": _one(lambda: _second(rest="capsized"), "freeboard", "stop", "capsizes"),
    "opening under water": _one(_opening_under, "freeboard", "stop", "under water"),
    "no freeboard limit": _one(
        lambda: limited(freeboard_mm=None), "freeboard", "not known", "no limit"
    ),
    "freeboard broken": _one(lambda: limited(freeboard_mm=70.0), "freeboard", "stop", "broken"),
    "freeboard close": _one(
        lambda: limited(freeboard_mm=base_evidence().floating.freeboard_mm.least - 0.3),
        "freeboard",
        "caution",
        "close",
    ),
    "no trim limit": _one(lambda: limited(trim_deg=None), "trim", "not known", "no limit"),
    "trim broken": _one(lambda: limited(trim_deg=(2.0, 4.0)), "trim", "stop", "broken"),
    "trim close": _one(
        lambda: limited(trim_deg=(base_evidence().floating.trim_deg - 1e-5, 4.0)),
        "trim",
        "caution",
        "close",
    ),
    "no heel limit": _one(lambda: limited(heel_deg=None), "heel", "not known", "no limit"),
    "heel broken": _one(lambda: _heeling(-0.1), "heel", "stop", "broken"),
    "heel close": _one(lambda: _heeling(1e-5), "heel", "caution", "close"),
    "lolls": _one(
        lambda: floating(upright_is_stable=False, rest="listing"), "upright", "caution", "lolls"
    ),
    "float too small": _one(_one_float, "upright", "caution", "float without reserve"),
    "rests on too small a float": _one(
        lambda: _on_a_float(holds=False, ratio=0.8), "upright", "caution", "float without reserve"
    ),
    "stays down": _one(
        lambda: heeled(push_down=(_pushed(comes_back=False),)),
        "upright",
        "caution",
        "does not come back",
    ),
    "opening before the float": _one(
        _floods_first, "upright", "caution", "opening before the float"
    ),
    "rests on a float": _one(_on_a_float, "upright", "pass", "tip float"),
    "no step": _one(lambda: floating(step=None), "step", "not known", "no step"),
    "step ahead": _one(lambda: _step(-4.0), "step", "caution", "ahead"),
    "no propeller": _one(lambda: fitted(propeller=None), "propeller", "not known", "no propeller"),
    "propeller in the water": _one(lambda: _hub(-3.0), "propeller", "stop", "in the water"),
    "propeller close": _one(lambda: _hub(0.5), "propeller", "caution", "close"),
    "no thrust": _one(_no_thrust, "propeller", "not known", "no thrust"),
    "in at full thrust": _one(_in_at_full, "propeller", "caution", "in at full thrust"),
    "bow under": _one(lambda: _pulled(None), "propeller", "caution", "bow under"),
    "no seams": _one(lambda: _dry_seams(()), "seams", "not known", "no seams known"),
    "no joint named": _one(
        lambda: _dry_seams(("vent", "canopy edge")), "seams", "not known", "no seams known"
    ),
    "none under water": _one(
        lambda: seamed(wet_length_mm=0.0, deepest_mm=0.0, height_mm=70.0),
        "seams",
        "pass",
        "none under water",
    ),
    **{
        f"joint {state}": _seam_case("stop", state, state=state)
        for state in (
            "leaked",
            "re-opened",
            "open",
            "never sealed",
            "curing",
            "repaired, not tested since",
        )
    },
    **{
        f"joint {state}": _seam_case("not known", state, state=state)
        for state in ("not stated", "taped", "sealed", "sealed by the sheet, not in the log")
    },
    "joint tested light": _seam_case("not known", "light test", dry_lacks=("flying weight",)),
    "joint tested shallow": _seam_case("caution", "at less depth", dry_lacks=("this depth",)),
    "joint tested short": _seam_case("caution", "too short", dry_lacks=("planned time",)),
    "joint leaked above the water": _seam_case(
        "stop", "leaked", state="leaked", wet_length_mm=0.0, deepest_mm=0.0, height_mm=5.0
    ),
    "open to spray": _one(
        lambda: rebuilt(
            keep=("righting", "flood"),
            openings=(*OPENINGS, opening_at((300.0, 0.0, 90.0), name="hatch", state="open")),
        ),
        "spray",
        "caution",
        "not sealed",
    ),
    "curing in spray": lambda: Case(
        seamed(state="curing", wet_length_mm=0.0, deepest_mm=0.0, height_mm=5.0, in_spray=True),
        {"spray": ("caution", "curing"), "seams": ("pass", "none under water")},
    ),
    "never tested": _never_tested,
    "leak over the limit": lambda: _wet_last(2.0, "over the limit"),
    "leaking by the ladder": lambda: _wet_last(40.0, "leaking", leak_g_per_30min=None),
    "weeping by the ladder": lambda: _wet_last(12.0, "weeping", leak_g_per_30min=None),
    "damp by the ladder": lambda: _wet_last(3.0, "damp", leak_g_per_30min=None),
    "tight by the ladder": _one(lambda: limited(leak_g_per_30min=None), "leak", "pass", "tight"),
    "limit in doubt": _one(
        lambda: relogged(*RECORDS, (on(16), soak(0.5, scale_g=1.0))),
        "leak",
        "caution",
        "limit in doubt",
    ),
    "light test": _one(
        lambda: relogged(*RECORDS, (on(16), soak(mass_g=1000.0))), "leak", "caution", "light test"
    ),
    "worked on since": _worked_on,
    "never run": _one(lambda: relogged(*RECORDS[:3]), "running", "caution", "never run"),
    "wet when run": _one(
        lambda: relogged(*RECORDS[:3], (on(15), soak(0.4, running=True, minutes=20.0))),
        "running",
        "caution",
        "water came in",
    ),
    "run light": _one(
        lambda: relogged(
            *RECORDS[:3], (on(15), soak(mass_g=1000.0, running=True)), (on(16), soak())
        ),
        "running",
        "caution",
        "run light",
    ),
    "no leak known": _one(lambda: flooded(time_afloat=None), "time_afloat", "not known", "no test"),
    "leak supposed": _one(
        lambda: _afloat(source="sheet"), "time_afloat", "not known", "only supposed"
    ),
    "no time limit": _one(
        lambda: limited(time_on_water_min=None), "time_afloat", "not known", "no limit"
    ),
    "sinks too soon": _one(
        lambda: _afloat(holds=False, low_min=9.0), "time_afloat", "stop", "too short"
    ),
    "a limit broken dry": _one(
        lambda: _afloat(holds=False, low_min=0.0), "time_afloat", "not known", "broken already"
    ),
    "sinks swamped": _one(
        lambda: _swamped(rest="sinks", short_by_g=20.0), "swamped", "caution", "sinks"
    ),
    "receiver alone without a place": _one(
        lambda: fitted(
            equipment=(*FITTINGS.equipment, Equipment(item="battery", lowest_mm=None)),
        ),
        "electronics",
        "not known",
        "some without a place",
    ),
    "no equipment": _one(lambda: fitted(equipment=()), "electronics", "not known", "no place"),
    "equipment without a place": _one(
        lambda: fitted(equipment=(Equipment(item="receiver"),)),
        "electronics",
        "not known",
        "no place",
    ),
    "receiver wet by little": _one(_wet_case, "electronics", "caution", "wet by little"),
    "receiver under the sea": _one(_under_the_sea, "electronics", "stop", "under the sea"),
}
"""By name, a function that makes the case: nothing is floated before a test asks."""


@functools.cache
def case(name):
    """Return a case by name; made once."""
    return CASES[name]()


@functools.cache
def answer_of(name):
    """Return the list of a case; worked out once."""
    return check_answer(case(name).evidence)
