"""Whether a repair held, by a test made after it."""

from collections.abc import Mapping

import numpy as np

from hullcheck.answers.leak_fit import Fit
from hullcheck.answers.leak_soaks import FINEST_SCALE_G, LAW_ERROR, SoakTable, unit_rate
from hullcheck.answers.leak_suspect_records import LeakSuspects, RepairHeld
from hullcheck.flotation.leak_laws import LeakLaw

_TOLD: float = 3.0
"""A gain short by so many standard uncertainties of what the old leak lets in tells."""


def repair_held(
    table: SoakTable, problems: Mapping[LeakLaw, Fit], found: LeakSuspects
) -> RepairHeld | None:
    """Return the test that shows that what was named is tight now; None where none does.

    Parameters
    ----------
    table : SoakTable
        The tests.
    problems : mapping of str to Fit
        Them by each law.
    found : LeakSuspects
        What they name; every seam named must have been worked on since.

    Returns
    -------
    RepairHeld or None
        The latest counted test since the last of these works, if by both laws it gained less, by 3
        standard uncertainties or more, than the seams named would let in as they were.
    """
    works = [one.until for one in found.named]
    if not works or None in works:
        return None
    last = max(work for work in works if work is not None)
    after = [k for k, test in enumerate(table.counted) if test.at >= last]
    if not after:
        return None
    row = after[-1]
    test, soak = table.counted[row], table.soaks[row]
    columns = tuple(k for k, one in enumerate(table.suspects) if one in found.named)
    expected = []
    for law, fit in problems.items():
        strengths = fit.solve(columns)[0]
        rates = [
            float(strengths[k]) * unit_rate(law, soak.wet[table.suspects[k].seam], soak.water)
            for k in columns
            if table.suspects[k].seam in soak.wet
        ]
        expected.append(test.minutes * sum(rates))
    low, high = min(expected), max(expected)
    doubt = float(np.hypot(max(test.gain_plus_minus_g, FINEST_SCALE_G), LAW_ERROR * low))
    if low - test.gain_g < _TOLD * doubt:
        return None
    return RepairHeld(
        entry=test.entry, at=test.at, gain_g=test.gain_g, expected_low_g=low, expected_high_g=high
    )
