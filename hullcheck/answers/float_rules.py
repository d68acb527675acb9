"""Rules of thumb for twin floats under a landplane: length, overhang, spacing, incidence, reserve.

Builders' practice, and one full-size requirement for comparison; see `answers.step_rules`.
"""

from typing import Final

from hullcheck.answers.step_rules import (
    ALONG,
    NO_LINE,
    REGULATION,
    TOP,
    UP,
    Rule,
    Unit,
)

ACROSS: Final = "along body y"


def _rule(
    quantity: str,
    name: str,
    band: tuple[float | None, float | None],
    unit: Unit = "mm",
    of: str = "",
    *,
    measure: str = "",
    plus_mm: tuple[float, float] = (0.0, 0.0),
    line: str = ALONG,
) -> Rule:
    """Return a rule of model practice; it speaks of the measure of its quantity [mm] by default."""
    return Rule(
        quantity=quantity,
        name=name,
        least=band[0],
        most=band[1],
        unit=unit,
        of=of,
        plus_mm=plus_mm,
        measure=measure or f"{quantity}_mm",
        line=line,
    )


def _incidence(name: str, least: float, most: float) -> Rule:
    """Return a rule on the wing's angle to the floats' top."""
    return _rule("incidence", name, (least, most), "deg", measure="incidence_deg", line=TOP)


_LONG: Final = "float_length"
_AHEAD: Final = "overhang"

FLOAT_RULES: Final = (
    _rule(_LONG, "75–80 % of propeller to hinge", (75.0, 80.0), "percent", "propeller_to_hinge_mm"),
    _rule(_LONG, "At least 2.5 × propeller to CG", (250.0, None), "percent", "propeller_to_cg_mm"),
    _rule(
        _LONG,
        "2 × (propeller to CG + 50–75 mm)",
        (200.0, 200.0),
        "percent",
        "propeller_to_cg_mm",
        plus_mm=(50.0, 75.0),
    ),
    _rule(_AHEAD, "5 % of the float", (5.0, 5.0), "percent", "float_length_mm"),
    _rule(_AHEAD, "10–15 % of the float", (10.0, 15.0), "percent", "float_length_mm"),
    _rule(_AHEAD, "20–25 % of the propeller", (20.0, 25.0), "percent", "propeller_diameter_mm"),
    _rule(_AHEAD, "Half a propeller", (50.0, 50.0), "percent", "propeller_diameter_mm"),
    _rule(_AHEAD, "50–75 mm", (50.0, 75.0)),
    _rule("step_from_nose", "53–55 % of the float", (53.0, 55.0), "percent", "float_length_mm"),
    _rule(
        "float_rear_end",
        "Midway, wing's trailing edge to tailplane",
        (50.0, 50.0),
        "percent",
        "wing_to_tailplane_mm",
    ),
    _rule(
        "float_thickness", "About 8 % of the float", (8.0, 8.0), "percent", "float_length_mm",
        line=UP,
    ),
    _rule("propeller_clearance", "About 50 mm, mid-size", (50.0, 50.0), line=UP),
    _rule("float_spacing", "The wheel track", (100.0, 100.0), "percent", "wheel_track_mm",
          line=ACROSS),
    _rule(
        "float_spacing", "Old layouts, up to 40 % of span", (None, 40.0), "percent", "span_mm",
        line=ACROSS,
    ),
    _incidence("Nearly parallel", 0.0, 0.5),
    _incidence("One recipe", 1.5, 1.5),
    _incidence("Another", 2.0, 2.0),
    _incidence("A third", 2.0, 3.0),
    _rule(
        "volume_ratio", "Models, 1.5–2 × her mass", (1.5, 2.0), "ratio",
        measure="volume_ratio", line=NO_LINE,
    ),
    Rule(
        quantity="volume_ratio",
        name="Required, 1.80 × W",
        least=1.8,
        most=None,
        unit="ratio",
        measure="volume_ratio",
        line=NO_LINE,
        kind="full size",
        source=REGULATION,
    ),
)  # fmt: skip
"""Rules for a pair of floats."""
