"""All that the check list and the report rest on, each part worked out once and shared."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.flood_answer import flood_answer
from hullcheck.answers.flood_records import FloodAnswer
from hullcheck.answers.rest import rest_at
from hullcheck.answers.righting_answer import heaviest_setup, righting_answer
from hullcheck.answers.righting_records import RightingAnswer
from hullcheck.answers.seams_answer import seams_answer
from hullcheck.answers.seams_records import SeamsAnswer
from hullcheck.answers.setups_answer import SetupsAnswer, setups_answer
from hullcheck.answers.skin_answer import skin_answer
from hullcheck.answers.skin_records import SkinAnswer
from hullcheck.answers.step_answer import step_answer
from hullcheck.answers.step_records import StepAnswer
from hullcheck.answers.weights_answer import weights_answer
from hullcheck.answers.weights_records import WeightsAnswer
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import seam_lines


def _silent(what: str) -> None:
    """Say nothing of what is being worked out."""
    del what


@dataclass(frozen=True, kw_only=True, eq=False)
class CheckEvidence:
    """A build with its logbook, and every answer about it, worked out when first asked for.

    Attributes
    ----------
    build : Build
        The build.
    logbook : Logbook
        As it stood at the time asked about.
    now : datetime
        The time that states are told for, with its zone.
    setup : str or None
        The setup that is asked about; None: as she is, with all her setups beside.
    progress : callable
        Told what is being worked out, in a few words.
    """

    build: Build
    logbook: Logbook
    now: datetime
    setup: str | None = None
    progress: Callable[[str], None] = _silent

    @cached_property
    def craft(self) -> Craft:
        """The craft, in the setup that is asked about."""
        return self.build.craft(self.setup)

    @cached_property
    def setups(self) -> SetupsAnswer:
        """Where she floats as she is and in every setup."""
        self.progress("floating her in every setup")
        return setups_answer(self.build)

    @cached_property
    def floating(self) -> FloatAnswer:
        """Where she floats in the setup that is asked about."""
        return next(one for one in self.setups.setups if one.setup == self.craft.setup)

    @property
    def looked_at(self) -> tuple[FloatAnswer, ...]:
        """The setups she is judged in: the one that is asked about, or all of them."""
        return self.setups.setups if self.setup is None else (self.floating,)

    @cached_property
    def righting(self) -> RightingAnswer | None:
        """What rights her and what upsets her; None without a center of gravity."""
        if self.craft.center_of_gravity_mm is None:
            return None
        self.progress("heeling her")
        names = (None, *(setup.name for setup in self.build.setups))
        crafts = [self.build.craft(name) for name in names] if self.setup is None else [self.craft]
        placed = [one for one in crafts if one.center_of_gravity_mm is not None]
        return righting_answer(self.craft, heaviest=heaviest_setup(placed))

    @cached_property
    def flood(self) -> FloodAnswer | None:
        """What water inside her does; None without a center of gravity, or where she sinks dry."""
        if self.craft.center_of_gravity_mm is None or self.floating.rest == "sinks":
            return None
        self.progress("flooding her")
        return flood_answer(self.build, self.logbook, setup=self.setup)

    @cached_property
    def seams(self) -> SeamsAnswer:
        """Every seam and opening, crossed with the logbook."""
        self.progress("floating her in every leak test")
        return seams_answer(self.build, self.logbook, self.now, setup=self.setup)

    @cached_property
    def wet_in_setups(self) -> dict[str, tuple[float, str]]:
        """How deep a seam or opening lies in the setup in which that is most, and which [mm].

        Of the setups looked at besides the one asked about; what stays dry in all is left out.
        """
        found: dict[str, tuple[float, str]] = {}
        for answer in self.looked_at:
            if answer.setup is None or answer.setup == self.craft.setup or answer.rest == "sinks":
                continue
            craft = self.build.craft(answer.setup)
            rest = rest_at(craft, craft.center_of_gravity_mm)
            if rest is None:
                continue
            water = rest.floating
            for line in seam_lines(craft):
                heads = line.heads(water.normal, water.height_mm)
                if (
                    heads.wet_length_mm > 0.0
                    and heads.deepest_mm > found.get(line.name, (0.0, ""))[0]
                ):
                    found[line.name] = (heads.deepest_mm, answer.setup)
        return found

    @cached_property
    def skin(self) -> SkinAnswer:
        """How the files were read, at the water she floats in."""
        return skin_answer(self.build.skins, self.floating.waterline, name=self.build.name)

    @cached_property
    def step(self) -> StepAnswer:
        """The step and the bottom against every rule of thumb; no point of the list needs it."""
        self.progress("reading the step off the bottom")
        return step_answer(self.craft)

    @cached_property
    def weights(self) -> WeightsAnswer | None:
        """What each item weighs and costs; None without a ledger; no point of the list needs it."""
        if not self.build.ledger.items:
            return None
        self.progress("floating her without each item")
        return weights_answer(self.build, self.setup)


def check_evidence(
    build: Build,
    logbook: Logbook,
    now: datetime,
    *,
    setup: str | None = None,
    progress: Callable[[str], None] = _silent,
) -> CheckEvidence:
    """Return what the check list and the report rest on; nothing is worked out yet.

    Parameters
    ----------
    build : Build
        The build.
    logbook : Logbook
        As it stood at `now`.
    now : datetime
        With its zone.
    setup : str, optional
        Name of a setup to judge her in alone.
    progress : callable, optional
        Told what is being worked out.

    Returns
    -------
    CheckEvidence
    """
    return CheckEvidence(build=build, logbook=logbook, now=now, setup=setup, progress=progress)
