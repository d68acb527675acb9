"""What the list assumed, in sentences."""

from typing import Final

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.float_records import Caveat

PERSON_SCALE: Final = "person-scale"
"""The caveat of a craft large enough to carry a person; the list says that in its own place."""

_POINTS: Final = frozenset(
    {
        PERSON_SCALE,
        "no-cg",
        "no-cg-range",
        "cg-out-of-range",
        "not-all-up",
        "no-leak-known",
        "no-equipment",
        "static",
        "static-test",
        "work-since-test",
        "supposed-leak",
        "glue",
        "air-pressure",
        "dunked",
        "swamped",
        "compartment",
        "pools",
    }
)
"""Caveats that a point of the list says already, or that are about work on her."""

_STILL: Final = Caveat(
    code="still-water",
    message="still water: no waves, no wind, no way on her; openings that are not sealed count as "
    "open at their lowest point",
)

_WORDS: Final = {
    "planned": "items that are not weighed count with their planned mass",
    "ladder": "without leak_g_per_30min in [limits] leak tests are judged by the ladder tight, "
    "damp, weeping, leaking (common practice, no source)",
    "usual-soak": "without time_on_water_min in [limits] a soak counts as long enough from the "
    "usual half hour (common practice, no source)",
    "as-she-is": "what holds her upright, time afloat, electronics and swamping are judged as she "
    "is, not in her other setups",
    "spray": "spray is taken to reach as high as the hull is wide (common practice, no source)",
}


def assumptions(evidence: CheckEvidence) -> tuple[Caveat, ...]:
    """Return what was assumed: by the list itself, then by every answer it rests on, each once."""
    flood, righting = evidence.flood, evidence.righting
    every = [
        _STILL,
        *_own(evidence),
        *evidence.floating.warnings,
        *(() if righting is None else righting.warnings),
        *(() if flood is None else flood.warnings),
        *evidence.seams.warnings,
    ]
    return tuple(dict.fromkeys(one for one in every if one.code not in _POINTS))


def _own(evidence: CheckEvidence) -> list[Caveat]:
    """Return what the list itself assumed."""
    weighing, limits = evidence.craft.weighing, evidence.craft.limits
    rows = {
        "planned": weighing is not None
        and not weighing.mass_is_measured
        and weighing.weighed < weighing.items,
        "ladder": limits.leak_g_per_30min is None,
        "usual-soak": limits.time_on_water_min is None,
        "as-she-is": evidence.setup is None and bool(evidence.build.setups),
        "spray": True,
    }
    return [Caveat(code=code, message=_WORDS[code]) for code, holds in rows.items() if holds]
