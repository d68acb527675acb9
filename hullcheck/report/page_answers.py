"""All that the report tells of: the list's evidence, and what only the report needs beside it."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_records import CheckAnswer
from hullcheck.answers.history_answer import history_answer
from hullcheck.answers.history_records import HistoryAnswer
from hullcheck.answers.sweep_answer import sweep_answer, usual_mass_sweep
from hullcheck.answers.sweep_records import SweepAnswer
from hullcheck.answers.sweep_samples import Samples
from hullcheck.report.page_records import NamedFile

MOST_ROWS: Final = 40
"""Of a table that grows with the logbook; what is older is left to the terminal."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Reported:
    """A build, its logbook, the list, and every answer that the page shows, each worked out once.

    Attributes
    ----------
    evidence : CheckEvidence
        What the list rests on.
    check : CheckAnswer
        The list.
    notes : tuple of (str, str)
        Code and words of what was assumed or repaired in reading the files.
    files : tuple of NamedFile
        What was read.
    versions : tuple of (str, str)
        Of this program and what it works with.
    """

    evidence: CheckEvidence
    check: CheckAnswer
    notes: tuple[tuple[str, str], ...]
    files: tuple[NamedFile, ...]
    versions: tuple[tuple[str, str], ...]

    @property
    def progress(self) -> Callable[[str], None]:
        """Told what is being worked out."""
        return self.evidence.progress

    @cached_property
    def samples(self) -> Samples | None:
        """Her heights over her mass; None without a center of gravity, or where she sinks."""
        evidence = self.evidence
        if evidence.craft.center_of_gravity_mm is None or evidence.floating.rest == "sinks":
            return None
        self.progress("floating her again and again")
        return Samples.of(usual_mass_sweep(evidence.craft))

    @cached_property
    def sweep(self) -> SweepAnswer | None:
        """The answer of that."""
        samples = self.samples
        return None if samples is None else sweep_answer(samples.sweep, samples)

    @cached_property
    def history(self) -> HistoryAnswer | None:
        """How she grew, weigh-in by weigh-in; None where the logbook has none."""
        evidence = self.evidence
        names = evidence.build.ledger.names
        if not any(r.item is None or r.item in names for _, r in evidence.logbook.weigh_ins):
            return None
        if not names:
            return None
        self.progress("floating her as she was after each weigh-in")
        return history_answer(evidence.build, evidence.logbook, evidence.setup)
