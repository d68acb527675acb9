"""The rules of the list: what each cause makes of a point, and what to do about it."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from hullcheck.answers.check_records import State


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """What a cause makes of a point.

    Attributes
    ----------
    state : str
        "stop", "not known", "caution" or "pass".
    next_step : str or None
        What to do about it.
    holds_back : bool
        Whether it must be settled before she goes on the water.
    """

    state: State
    next_step: str | None = None
    holds_back: bool = False


def _stop(next_step: str) -> Rule:
    """Return the rule of what stops her."""
    return Rule(state="stop", next_step=next_step, holds_back=True)


def _unknown(next_step: str, *, holds_back: bool = False) -> Rule:
    """Return the rule of what is not known."""
    return Rule(state="not known", next_step=next_step, holds_back=holds_back)


def _caution(next_step: str) -> Rule:
    """Return the rule of what needs care."""
    return Rule(state="caution", next_step=next_step)


_PASS: Final = Rule(state="pass")
_GIVE_CG: Final = "give every item its place in weights.csv, or cg_mm under [craft]"
_STATE_OPENINGS: Final = "write each opening's name and state into build.toml"
_SEE_FLOAT: Final = "see the point on freeboard first"

QUESTIONS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "files": "files understood",
        "openings": "state of her openings",
        "weights": "weights",
        "cg": "CG in its band",
        "freeboard": "freeboard, worst setup",
        "trim": "trim, worst setup",
        "heel": "heel, worst setup",
        "upright": "what holds her upright",
        "step": "step against CG",
        "seams": "seams under water",
        "spray": "openings in spray reach",
        "leak": "last leak test",
        "running": "dry when run",
        "time_afloat": "time afloat with her leak",
        "swamped": "swamped",
        "electronics": "electronics above bilge",
        "propeller": "propeller clear of water",
    }
)
"""What each point asks, in the order of the list."""

RULES: Final[Mapping[str, Mapping[str, Rule]]] = MappingProxyType(
    {
        "files": {
            "skin not closed": _unknown("hullcheck skin", holds_back=True),
            "error over the margin": _unknown("hullcheck skin --all", holds_back=True),
            "no waterline": _unknown(_SEE_FLOAT),
            "tunnels": _caution("look at hullcheck skin --all and its drawing"),
            "error over a tenth": _caution("hullcheck skin --all: which face is worst known"),
            "good enough": _PASS,
        },
        "openings": {
            "none known": _unknown(
                "write an [[opening]] for each place water can come in", holds_back=True
            ),
            "low": _unknown(_STATE_OPENINGS, holds_back=True),
            "high": _unknown(_STATE_OPENINGS),
            "all stated": _PASS,
        },
        "weights": {
            "not all-up": _unknown("fill in these items in weights.csv", holds_back=True),
            "scale differs": _caution("find what the ledger leaves out: hullcheck weights"),
            "planned": _caution("weigh them and fill in weighed_g in weights.csv"),
            "weighed": _PASS,
        },
        "cg": {
            "no center": _unknown(_GIVE_CG, holds_back=True),
            "no band": _unknown("write cg_range_mm under [craft]", holds_back=True),
            "outside": _stop("hullcheck place ITEM"),
            "near an end": _caution("weigh what is planned, or balance her on her supports"),
            "outside in a setup": _caution("do not fly her so: hullcheck place ITEM --setup NAME"),
            "inside": _PASS,
        },
        "freeboard": {
            "sinks": _stop("hullcheck float"),
            "capsizes": _stop("hullcheck righting"),
            "no center": _unknown(_GIVE_CG, holds_back=True),
            "under water": _stop("seal it or lighten her: hullcheck float --all-setups"),
            "no limit": _unknown("write freeboard_mm under [limits]", holds_back=True),
            "broken": _stop("lighten her or seal it: hullcheck float --all-setups"),
            "close": _caution("weigh what is planned, then ask again"),
            "holds": _PASS,
        },
        "trim": {
            "no rest": _unknown(_SEE_FLOAT),
            "no limit": _unknown("write trim_deg under [limits]"),
            "broken": _stop("hullcheck place ITEM"),
            "close": _caution("weigh what is planned, then ask again"),
            "holds": _PASS,
        },
        "heel": {
            "no rest": _unknown(_SEE_FLOAT),
            "no limit": _unknown("write heel_deg under [limits]"),
            "broken": _stop("hullcheck righting: what sits off center"),
            "close": _caution("weigh what is planned, then ask again"),
            "holds": _PASS,
        },
        "upright": {
            "no center": _unknown(_GIVE_CG, holds_back=True),
            "sinks": _stop("hullcheck float"),
            "capsizes": _stop("hullcheck righting"),
            "lolls": _caution("hullcheck righting: tip floats, or a lower CG"),
            "float without reserve": _caution("hullcheck righting: the least float that holds"),
            "does not come back": _caution("hullcheck righting: the least float that holds"),
            "opening before the float": _caution("seal it: hullcheck righting"),
            "hull alone": _PASS,
            "tip float": _PASS,
        },
        "step": {
            "no step": _unknown("hullcheck step"),
            "no center": _unknown(_GIVE_CG),
            "ahead": _caution("hullcheck step: an item forward, or the step aft"),
            "behind": _PASS,
        },
        "seams": {
            "leaked": _stop("repair on a dry seam, then soak"),
            "re-opened": _stop("seal, then soak"),
            "open": _stop("seal, then soak"),
            "never sealed": _stop("seal, then soak"),
            "curing": _stop("wait, then soak"),
            "repaired, not tested since": _stop("soak at flying weight"),
            "no waterline": _unknown(_SEE_FLOAT),
            "no seams known": _unknown("write a [[seam]] for each joint"),
            "not stated": _unknown("log what seals it: hullcheck log seal", holds_back=True),
            "taped": _unknown("soak at flying weight", holds_back=True),
            "sealed": _unknown("soak at flying weight", holds_back=True),
            "sealed by the sheet, not in the log": _unknown(
                "soak at flying weight", holds_back=True
            ),
            "light test": _unknown("soak at flying weight", holds_back=True),
            "at less depth": _caution("soak her as she floats, unheld"),
            "too short": _caution("soak as long as she is to be on the water"),
            "tested dry": _PASS,
            "none under water": _PASS,
        },
        "spray": {
            "no waterline": _unknown(_SEE_FLOAT),
            "not sealed": _caution("seal or tape them: hullcheck log seal"),
            "curing": _caution("wait until it has cured"),
            "none open": _PASS,
        },
        "leak": {
            "no test": _unknown("hullcheck log leak-test --start", holds_back=True),
            "over the limit": _stop("find it, repair it, then soak: hullcheck seams"),
            "leaking": _stop("find it, repair it, then soak: hullcheck seams"),
            "weeping": _stop("find it, repair it, then soak: hullcheck seams"),
            "limit in doubt": _caution("a longer soak, or a finer scale"),
            "damp": _caution("mop out after each landing; a longer soak"),
            "light test": _caution("soak again at flying weight"),
            "before the last work": _caution("soak again: she was sealed since"),
            "tight": _PASS,
            "within the limit": _PASS,
        },
        "running": {
            "never run": _caution("a short first taxi, then open her and look"),
            "water came in": _caution("hullcheck seams, then run her again"),
            "wet since": _caution("hullcheck seams, then run her again"),
            "run light": _caution("run her at flying weight, a short first taxi"),
            "dry": _PASS,
        },
        "time_afloat": {
            "no waterline": _unknown(_SEE_FLOAT),
            "no test": _unknown("hullcheck log leak-test --start"),
            "only supposed": _unknown("hullcheck log leak-test --start"),
            "no limit": _unknown("write time_on_water_min under [limits]"),
            "broken already": _unknown("settle the limit that is broken dry"),
            "too short": _stop("hullcheck flood: repair, then soak"),
            "long enough": _PASS,
        },
        "swamped": {
            "no waterline": _unknown(_SEE_FLOAT),
            "sinks": _caution("foam, or a line and a boat: hullcheck flood --keep-dry NAME"),
            "floats": _PASS,
        },
        "electronics": {
            "no place": _unknown("write lowest_mm of each item in [[equipment]]"),
            "no waterline": _unknown(_SEE_FLOAT),
            "under the sea": _stop("move it up: hullcheck flood"),
            "wet by little": _caution("raise it off the floor: hullcheck flood --all"),
            "some without a place": _unknown("write lowest_mm of each item in [[equipment]]"),
            "dry": _PASS,
        },
        "propeller": {
            "no propeller": _unknown("write [propeller] in the build sheet"),
            "no waterline": _unknown(_SEE_FLOAT),
            "in the water": _stop("raise it, or lighten her"),
            "no thrust": _unknown("write thrust_g under [propeller]"),
            "in at full thrust": _caution("open the throttle slowly: hullcheck righting"),
            "bow under": _caution("open the throttle slowly: hullcheck righting"),
            "close": _caution("look at it afloat"),
            "clear": _PASS,
        },
    }
)
"""For every point, what each cause makes of it; the first that holds, in this order, is told."""
