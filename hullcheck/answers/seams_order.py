"""Which seams come first, and what is to be done about each."""

from typing import Final, Literal

from hullcheck.answers.seams_records import SeamReport
from hullcheck.craft.seam_states import KINDS

Advice = Literal[
    "repair, then soak",
    "seal, then soak",
    "seal: spray reaches it",
    "wait, then soak",
    "soak",
    "test running",
    "soak again",
    "none",
]

NOT_SEALED: Final = frozenset({"re-opened", "open", "not stated", "never sealed"})
"""States in which nothing keeps the water out, or nobody has said that anything does."""
UNTESTED: Final = frozenset({"sealed", "sealed by the sheet, not in the log", "taped"})
_HEAVY: Final = ("flying weight", "this depth", "planned time")


def advice(seam: SeamReport) -> Advice:
    """Return what is to be done about a seam next."""
    if seam.state == "leaked":
        return "repair, then soak"
    if not seam.under_water:
        # A vent is meant to be open, high up.
        spray = seam.in_spray and seam.state in NOT_SEALED and seam.kind != "vent"
        return "seal: spray reaches it" if spray else "none"
    if seam.state == "tested dry":
        again = any(one in seam.dry_lacks for one in _HEAVY)
        return "soak again" if again else "test running" if seam.dry_lacks else "none"
    if seam.state in NOT_SEALED:
        return "seal, then soak"
    return "wait, then soak" if seam.state == "curing" else "soak"


def not_ready(seam: SeamReport) -> bool:
    """Return whether a seam lies under water that must be worked on or waited for first."""
    kinds = (*NOT_SEALED, "curing", "repaired, not tested since")
    return seam.under_water and seam.state in kinds


def worst_first(seams: list[SeamReport]) -> tuple[SeamReport, ...]:
    """Return seams with the worst first.

    Notes
    -----
    Those that leaked; those under water that nothing seals, then such as cure or are not tested
    since their repair, then such as are sealed and not tested; those that spray reaches and nothing
    seals; those tested dry; the rest. Among equals the deepest first.
    """
    return tuple(sorted(seams, key=_key))


def _key(seam: SeamReport) -> tuple[int, int, float, str]:
    """Return what seams are put in order by."""
    height = float("inf") if seam.height_mm is None else seam.height_mm
    return (_group(seam), KINDS.index(seam.state), height, seam.name)


def _group(seam: SeamReport) -> int:
    """Return which of the groups a seam is in, the worst 0."""
    if seam.state == "leaked":
        return 0
    if seam.under_water:
        groups = (NOT_SEALED, {"curing", "repaired, not tested since"}, UNTESTED)
        return next((i for i, kinds in enumerate(groups, 1) if seam.state in kinds), 5)
    return 4 if advice(seam) != "none" else 6
