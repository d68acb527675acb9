"""The leak tests as a table: tests in rows, suspects in columns."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.leak_fit import Fit
from hullcheck.answers.leak_heads import Soak, soak_of
from hullcheck.answers.leak_suspect_records import Seen, SoakCounted, Suspect
from hullcheck.craft.craft import Craft
from hullcheck.craft.log_records import Entry, LeakTest
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.errors import InputError
from hullcheck.flotation.heads import Heads
from hullcheck.flotation.leak_laws import LeakLaw, fluid_factor
from hullcheck.flotation.leak_sizes import integral_of
from hullcheck.geometry.arrays import FloatArray
from hullcheck.water import Water, fresh_water

LAW_ERROR: Final = 0.1
"""Standard uncertainty of what a law says a test gains, as a share of it: she settles as she fills,
joints swell, no attitude is held to the degree. Common practice, no source."""
FINEST_SCALE_G: Final = 0.01
"""No gain is taken to be known better than this [g]."""
_RUN: Final = "she was run: what drives water in is not the head at rest"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SoakTable:
    """Every test that can be summed, with the water along every suspect in it.

    Attributes
    ----------
    suspects : tuple of Suspect
        Those under water in at least one test, in the order of the seams.
    counted : tuple of SoakCounted
        The tests.
    soaks : tuple of Soak
        Where she lay in each.
    rows : tuple of dict of Suspect to Heads
        The water along each suspect that was there in each test.
    left_out : tuple of (int, str)
        Tests that cannot be summed, and why.
    seen : tuple of Seen
        Where water was seen to come in, in any test.
    never_wet : tuple of str
        Seams that, as they are now, lay under water in no counted test.
    """

    suspects: tuple[Suspect, ...]
    counted: tuple[SoakCounted, ...]
    soaks: tuple[Soak, ...]
    rows: tuple[dict[Suspect, Heads], ...]
    left_out: tuple[tuple[int, str], ...]
    seen: tuple[Seen, ...]
    never_wet: tuple[str, ...]

    @property
    def gains_g(self) -> FloatArray:
        """What came in in each test, shape (k,) [g]."""
        return np.array([test.gain_g for test in self.counted])

    @property
    def uncertainty_g(self) -> FloatArray:
        """Standard uncertainty of that against a law, shape (k,) [g]."""
        scale = np.array([max(t.gain_plus_minus_g, FINEST_SCALE_G) for t in self.counted])
        found: FloatArray = np.hypot(scale, LAW_ERROR * np.maximum(self.gains_g, 0.0))
        return found

    def unit_gains_g(self, law: LeakLaw) -> FloatArray:
        """Return what each suspect of unit strength lets in in each test, shape (k, s) [g]."""
        return np.array(
            [
                [
                    test.minutes * unit_rate(law, row[one], soak.water) if one in row else 0.0
                    for one in self.suspects
                ]
                for test, soak, row in zip(self.counted, self.soaks, self.rows, strict=True)
            ]
        ).reshape(len(self.counted), len(self.suspects))

    def fit(self, law: LeakLaw) -> Fit:
        """Return the tests as a problem of least squares by one law."""
        doubt = self.uncertainty_g
        return Fit(
            matrix=self.unit_gains_g(law) / doubt[:, None],
            measured=self.gains_g / doubt,
        )


def unit_rate(law: LeakLaw, heads: Heads, water: Water) -> float:
    """Return what a seam of unit strength lets in [g/min]; strengths are in fresh water, 15 °C."""
    return integral_of(law, heads) * fluid_factor(law, water) / fluid_factor(law, fresh_water())


def soak_table(logbook: Logbook, craft: Craft, lines: Sequence[SeamLine]) -> SoakTable:
    """Return the standing tests of a logbook as a table.

    A seam is another suspect after each work on it. Tests in which she was run are left out, and
    those at whose mass she would sink.
    """
    counted, soaks, rows, left_out = [], [], [], []
    for entry, test in logbook.tests:
        if test.setup.running:
            left_out.append((entry.number, _RUN))
            continue
        try:
            soak = soak_of(craft, test.setup, lines)
        except InputError as problem:
            left_out.append((entry.number, str(problem)))
            continue
        counted.append(_counted(entry, test, soak))
        soaks.append(soak)
        rows.append({suspect_at(logbook, n, entry): h for n, h in soak.wet.items()})
    places = {line.name: place for place, line in enumerate(lines)}
    found = sorted(
        {suspect for row in rows for suspect in row},
        key=lambda s: (places[s.seam], s.since.timestamp() if s.since else float("-inf")),
    )
    return SoakTable(
        suspects=tuple(found),
        counted=tuple(counted),
        soaks=tuple(soaks),
        rows=tuple(rows),
        left_out=tuple(left_out),
        seen=_seen(logbook),
        never_wet=tuple(n for n in places if suspect_now(logbook, n) not in found),
    )


def suspect_at(logbook: Logbook, seam: str, entry: Entry) -> Suspect:
    """Return a seam as it was when an entry happened."""
    when = (entry.at, entry.number)
    works = [work for work, _ in logbook.work_on(seam)]
    before = [work.at for work in works if (work.at, work.number) < when]
    after = [work.at for work in works if (work.at, work.number) > when]
    return Suspect(
        seam=seam, since=before[-1] if before else None, until=after[0] if after else None
    )


def suspect_now(logbook: Logbook, seam: str) -> Suspect:
    """Return a seam as it is now."""
    works = logbook.work_on(seam)
    return Suspect(seam=seam, since=works[-1][0].at if works else None)


def _counted(entry: Entry, test: LeakTest, soak: Soak) -> SoakCounted:
    """Return a test that is summed, in brief."""
    return SoakCounted(
        entry=entry.number,
        at=entry.at,
        gain_g=test.gain_g,
        gain_plus_minus_g=test.gain_plus_minus_g,
        minutes=test.minutes,
        mass_g=test.setup.mass_g,
        trim_deg=soak.floating.trim_deg,
        heel_deg=soak.floating.heel_deg,
    )


def _seen(logbook: Logbook) -> tuple[Seen, ...]:
    """Return where water was seen to come in."""
    return tuple(
        Seen(suspect=suspect_at(logbook, name, entry), entry=entry.number)
        for entry, test in logbook.tests
        for name in test.found
    )
