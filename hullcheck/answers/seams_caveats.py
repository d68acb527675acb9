"""What the reader must know beside the states of her seams, the gravest first."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.caveats import caveats
from hullcheck.answers.float_records import Caveat
from hullcheck.answers.load_caveats import names_in_a_row
from hullcheck.answers.seams_order import NOT_SEALED, advice
from hullcheck.answers.seams_records import SeamReport
from hullcheck.craft.craft import Craft
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.craft.seam_states import named_only_in_log
from hullcheck.flotation.floating import Rest

_ELSEWHERE: Final = frozenset({"no-openings", "state-not-stated", "all-sealed", "no-cg"})
"""Codes of what is said beside freeboard only, or otherwise here."""
_OFTEN: Final = 3
"""Sealed so often, a seam has been mended twice."""
_WORK: Final = frozenset({"repair, then soak", "seal, then soak", "seal: spray reaches it"})


def seams_caveats(
    craft: Craft,
    rest: Rest | None,
    lines: Sequence[SeamLine],
    seams: Sequence[SeamReport],
    logbook: Logbook,
) -> tuple[Caveat, ...]:
    """Return what must be said beside the seams.

    Parameters
    ----------
    craft : Craft
        At the present load.
    rest : Rest or None
        Where she floats; None when she sinks or has no known center of gravity.
    lines : sequence of SeamLine
        Her seams and openings.
    seams : sequence of SeamReport
        The same, as they are reported.
    logbook : Logbook
        What was done to them.
    """
    found = [one for one in caveats(craft, rest, ()) if one.code not in _ELSEWHERE]
    if craft.center_of_gravity_mm is None:
        found.append(
            Caveat(
                code="no-cg",
                message="her center of gravity is not known: depths are those held level, and no "
                "heel is told",
            )
        )
    found += _of_names(lines, logbook)
    found += _of_log(seams, logbook)
    found += _of_tests(seams)
    found += _of_work(seams)
    return tuple(found)


def _of_names(lines: Sequence[SeamLine], logbook: Logbook) -> list[Caveat]:
    """Return what the sheet, the parts and the log call differently."""
    found = []
    joints = [line.name for line in lines if line.source == "parts"]
    if joints:
        found.append(
            Caveat(
                code="joints-not-in-the-sheet",
                message=f"the parts meet at what no [[seam]] of the sheet names: "
                f"{names_in_a_row(tuple(joints))}; name them there, so that you and the log call "
                "them the same",
            )
        )
    strange = named_only_in_log(logbook, [line.name for line in lines])
    if strange:
        found.append(
            Caveat(
                code="not-in-the-sheet",
                message=f"the log speaks of what is no seam or opening of the sheet: "
                f"{names_in_a_row(strange)}; what it says of them is left out here",
            )
        )
    if not lines:
        found.append(
            Caveat(
                code="no-seams",
                message="no seam and no opening is known: name them under [[seam]] and [[opening]] "
                "in the build sheet",
            )
        )
    return found


def _of_log(seams: Sequence[SeamReport], logbook: Logbook) -> list[Caveat]:
    """Return where log and sheet disagree, what keeps opening, and what is not finished."""
    found = [
        Caveat(
            code="sheet-and-log",
            message=f"{seam.name}: sealed by the log, open by the sheet; freeboard counts it as "
            "open until the sheet says otherwise",
        )
        for seam in seams
        if seam.sheet_state == "open" and seam.sealed is not None and seam.state not in NOT_SEALED
    ]
    found += [
        Caveat(
            code="keeps-opening",
            message=f"{seam.name}: sealed {seam.sealed.times} times by the log; a seam that keeps "
            "opening usually flexes there, and more glue on top does not help",
        )
        for seam in seams
        if seam.sealed is not None and seam.sealed.times >= _OFTEN
    ]
    if logbook.running_test is not None:
        entry, _ = logbook.running_test
        found.append(
            Caveat(
                code="test-running",
                message=f"the leak test of entry {entry.number} is not finished: it counts once it "
                "is (hullcheck log leak-test --finish)",
            )
        )
    return found


def _of_tests(seams: Sequence[SeamReport]) -> list[Caveat]:
    """Return what no leak test can say."""
    if not any(seam.dry_tests or seam.wet_tests or seam.leak for seam in seams):
        return []
    return [
        Caveat(
            code="static",
            message="static: a dry soak does not clear a hull under way; swell, spray and flexing "
            "open what still water does not",
        )
    ]


def _of_work(seams: Sequence[SeamReport]) -> list[Caveat]:
    """Return the cautions for work on seams and tests of them that are due."""
    found = []
    due = {advice(seam) for seam in seams}
    if due & _WORK:
        found.append(
            Caveat(
                code="glue",
                message="work on dry seams only: wet gaps reject glue. Vapor of instant glue and "
                "accelerator attacks lungs and eyes: air moving away from your face, eyes shielded",
            )
        )
    if due - {"none"}:
        found.append(
            Caveat(
                code="air-pressure",
                message="if you look for a leak with air, use millibars, a vent partly open and "
                "your eyes clear of it: thin hulls split",
            )
        )
    if any(seam.leak is not None for seam in seams):
        found.append(
            Caveat(
                code="dunked",
                message="what got wet inside does not run again the same day; a wet battery goes "
                "outside, away from anything that burns",
            )
        )
    return found
