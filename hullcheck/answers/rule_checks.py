"""A craft's measures held against rules of thumb: a band and a mark each, no verdict."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from hullcheck.answers.step_records import RuleCheck
from hullcheck.answers.step_rules import Rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """What is known of a craft by name, and why the rest is not.

    Attributes
    ----------
    known : mapping of str to float
        Measures, their unit last in the name.
    missing : mapping of str to str
        Why a measure has no value, in words.
    """

    known: Mapping[str, float]
    missing: Mapping[str, str] = field(default_factory=dict)

    def why(self, name: str) -> str:
        """Return why a measure has no value."""
        return self.missing.get(name, "not known")


def measures_of(values: Mapping[str, float | str]) -> Measures:
    """Return measures from values, a text standing for one that is missing and why."""
    return Measures(
        known={k: float(v) for k, v in values.items() if not isinstance(v, str)},
        missing={k: v for k, v in values.items() if isinstance(v, str)},
    )


def rule_checks(rules: Iterable[Rule], measures: Measures) -> tuple[RuleCheck, ...]:
    """Return each rule with its band and the craft's mark.

    Parameters
    ----------
    rules : iterable of Rule
        From `answers.step_rules` or `answers.float_rules`.
    measures : Measures
        Of the craft.

    Returns
    -------
    tuple of RuleCheck
        One a rule, in their order. `missing` names what the craft's papers do not say: the rule
        is then not comparable.

    Notes
    -----
    A percentage p of a measure d, to which an allowance a is added first, is p (d + a)/100.
    """
    return tuple(_check(rule, measures) for rule in rules)


def _check(rule: Rule, measures: Measures) -> RuleCheck:
    """Return one rule with its band and the craft's mark."""
    known = measures.known
    value, base = known.get(rule.measure), known.get(rule.of)
    missing = measures.why(rule.measure) if value is None else None
    if missing is None and rule.of and base is None:
        missing = measures.why(rule.of)
    band = (rule.least, rule.most)
    in_mm: tuple[float | None, float | None] = (None, None)
    if rule.unit == "mm":
        in_mm = band
    elif rule.unit == "percent" and base is not None:
        least, most = (
            None if p is None else p * (base + more) / 100.0
            for p, more in zip(band, rule.plus_mm, strict=True)
        )
        in_mm = (least, most)
    is_length = rule.unit in {"mm", "percent"}
    own = value
    if rule.unit == "percent":
        own = None if value is None or not base else 100.0 * value / base
        if any(rule.plus_mm) and base:
            # The allowance is no share of the measure: the band is given as one too.
            band = tuple(None if v is None else 100.0 * v / base for v in in_mm)  # type: ignore[assignment]
    return RuleCheck(
        quantity=rule.quantity,
        name=rule.name,
        kind=rule.kind,
        line=rule.line,
        source=rule.source,
        unit=rule.unit,
        of=rule.of,
        least=band[0],
        most=band[1],
        value=None if missing else own,
        least_mm=in_mm[0],
        most_mm=in_mm[1],
        value_mm=value if is_length and missing is None else None,
        missing=missing,
    )
