"""Rules of thumb for step, bottom and twin floats: what each asks for, by which line, after whom.

Collected, not judged: they disagree by factors of two to five. Model practice and what comes from
full-size craft and towing tanks are kept apart, as a tank's percentages of beam are far too small
for a model.
"""

from dataclasses import dataclass
from typing import Final, Literal

Kind = Literal["model practice", "full size"]
Unit = Literal["mm", "percent", "deg", "ratio"]

PRACTICE: Final = "common practice, no source"
BELL: Final = "J. W. Bell, NACA tank tests on depth of step, July 1935"
PARKINSON: Final = (
    "law: J. B. Parkinson, NACA ARR 3K08, 1943; the values of its bands are from memory"
)
REGULATION: Final = "14 CFR 25.751(a), 14 CFR 23.2310(a)"

ALONG: Final = "along body x"
KEEL: Final = "from the normal to the forebody keel"
WING: Final = "from the normal to the wing's chord"
PLUMB: Final = "from the plumb line, as she rests"
UP: Final = "along body z"
TO_KEEL: Final = "to the forebody keel"
WATER: Final = "forebody keel to the water"
TO_LEVEL: Final = "to the level"
TOP: Final = "wing's chord to the top of the float"
NO_LINE: Final = "no line: a ratio"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule of thumb.

    Attributes
    ----------
    quantity : str
        What it speaks of; rules of one quantity are shown together.
    name : str
        Whose rule it is, or its gist.
    least, most : float or None
        Its band, in `unit`; None where it is open.
    unit : str
        "mm", "percent", "deg" or "ratio".
    of : str
        Measure that percents and multiples are taken of; empty for plain numbers.
    plus_mm : tuple of float
        Added to that measure before the multiple is taken [mm], for the least and the most.
    measure : str
        What of the craft is held against it.
    line : str
        The line it is read from.
    kind : str
        "model practice" or "full size", which towing tanks belong to.
    source : str
        Where it stands.
    """

    quantity: str
    name: str
    least: float | None
    most: float | None
    unit: Unit
    of: str = ""
    plus_mm: tuple[float, float] = (0.0, 0.0)
    measure: str
    line: str
    kind: Kind = "model practice"
    source: str = PRACTICE


def _behind(name: str, least: float, most: float, unit: Unit = "mm", of: str = "") -> Rule:
    """Return a rule on how far the step lies behind the CG."""
    return Rule(
        quantity="step_behind_cg",
        name=name,
        least=least,
        most=most,
        unit=unit,
        of=of,
        measure="step_behind_cg_mm",
        line=ALONG,
    )


def _angle(name: str, band: tuple[float, float], measure: str, line: str, kind: Kind) -> Rule:
    """Return a rule on the angle at the CG."""
    least, most = band
    return Rule(
        quantity="step_angle",
        name=name,
        least=least,
        most=most,
        unit="deg",
        measure=measure,
        line=line,
        kind=kind,
    )


def _depth(name: str, least: float, most: float | None, unit: Unit, of: str = "") -> Rule:
    """Return a rule on the depth of the step, of model practice."""
    return Rule(
        quantity="step_depth",
        name=name,
        least=least,
        most=most,
        unit=unit,
        of=of,
        measure="step_depth_mm",
        line=UP,
    )


def _afterbody(name: str, least: float, most: float, kind: Kind, source: str = PRACTICE) -> Rule:
    """Return a rule on the rise of the afterbody keel."""
    return Rule(
        quantity="afterbody_angle",
        name=name,
        least=least,
        most=most,
        unit="deg",
        measure="afterbody_angle_deg",
        line=TO_KEEL,
        kind=kind,
        source=source,
    )


def _ratio(quantity: str, name: str, band: tuple[float | None, float | None], source: str) -> Rule:
    """Return a full-size band of a coefficient."""
    return Rule(
        quantity=quantity,
        name=name,
        least=band[0],
        most=band[1],
        unit="ratio",
        measure=quantity,
        line=NO_LINE,
        kind="full size",
        source=source,
    )


def _spray(name: str, value: float) -> Rule:
    """Return a value of Parkinson's spray law."""
    return _ratio("spray", name, (value, value), PARKINSON)


STEP_RULES: Final = (
    _behind("Models, most sources", 10.0, 15.0),
    _behind("One builder's figure", 13.0, 13.0),
    _behind("Share of length, 2–3 %", 2.0, 3.0, "percent", "length_mm"),
    _behind("One club: never ahead", 0.0, 13.0),
    _behind("Up to, by others", 19.0, 25.0),
    _behind("Positions tried side by side", 15.0, 30.0),
    _angle("Models, from the wing", (10.0, 15.0), "angle_from_wing_deg", WING, "model practice"),
    _angle(
        "Homebuilt floats, from plumb", (10.0, 10.0), "angle_from_plumb_deg", PLUMB, "full size"
    ),
    _angle("Usually quoted, from the keel", (10.0, 20.0), "angle_from_keel_deg", KEEL, "full size"),
    _depth("At least 1 % of length", 1.0, None, "percent", "length_mm"),
    _depth("15–20 % of beam", 15.0, 20.0, "percent", "beam_over_chines_mm"),
    _depth("Never less than", 10.0, None, "mm"),
    _depth("One recipe", 19.0, 19.0, "mm"),
    Rule(
        quantity="step_depth",
        name="Tank tests, 2.5–4 % of beam",
        least=2.5,
        most=4.0,
        unit="percent",
        of="beam_over_chines_mm",
        measure="step_depth_mm",
        line=UP,
        kind="full size",
        source=BELL,
    ),
    _afterbody("Simplest recipe", 3.0, 3.0, "model practice"),
    _afterbody("Checklist for models", 7.0, 9.0, "model practice"),
    _afterbody("An example", 8.0, 8.0, "model practice"),
    _afterbody("Tank model", 6.5, 6.5, "full size"),
    Rule(
        quantity="sternpost_angle",
        name="Models, at least",
        least=7.0,
        most=None,
        unit="deg",
        measure="sternpost_angle_deg",
        line=TO_KEEL,
    ),
    Rule(
        quantity="sternpost_angle",
        name="V bottoms plane best at",
        least=8.0,
        most=8.0,
        unit="deg",
        measure="sternpost_angle_deg",
        line=WATER,
        kind="full size",
    ),
    Rule(
        quantity="deadrise",
        name="At the step, usual",
        least=20.0,
        most=25.0,
        unit="deg",
        measure="deadrise_deg",
        line=TO_LEVEL,
        kind="full size",
    ),
    _ratio("load_coefficient", "Flying boats of the 1940s", (None, 1.0), PRACTICE),
    _ratio("load_coefficient", "Floats, often above", (3.0, None), PRACTICE),
    _ratio("forebody_length_beam_ratio", "Hulls, typical", (3.0, 4.0), PRACTICE),
    _spray("Spray very light", 0.0525),
    _spray("Spray satisfactory", 0.0675),
    _spray("Spray heavy", 0.0825),
    _spray("Spray excessive", 0.0975),
)
"""Rules for a hull or a float by itself."""
