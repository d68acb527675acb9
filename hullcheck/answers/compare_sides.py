"""What is compared: a build in a setup, with its own ledger or another one."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from hullcheck.craft.bodies import Body
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.craft.ledger import Ledger
from hullcheck.craft.openings import Opening
from hullcheck.craft.setups import Setup
from hullcheck.craft.weighing import Weighing


@dataclass(frozen=True, kw_only=True, eq=False)
class Side:
    """A build as one of two to compare.

    Attributes
    ----------
    name : str
        What it is called.
    build : Build
        Sheet, ledger and bodies.
    setup : str or None
        Name of a setup of the sheet.
    ledger : Ledger or None
        In place of the build's own, before the setup changes it.
    """

    name: str
    build: Build
    setup: str | None = None
    ledger: Ledger | None = None

    @cached_property
    def chosen(self) -> Setup:
        """The setup she is in."""
        return self.build.setup(self.setup)

    @cached_property
    def items(self) -> Ledger:
        """The ledger that counts, as the setup has it."""
        return self.chosen.of_ledger(self.build.ledger if self.ledger is None else self.ledger)

    @cached_property
    def craft(self) -> Craft:
        """The craft, ready to be floated.

        Raises
        ------
        InputError
            If there is no such setup, or her mass is not known.
        """
        if self.ledger is None:
            return self.build.craft(self.setup)
        measured = self.build.mass_g is not None, self.build.center_of_gravity_mm is not None
        # Without measured values the other ledger is hers, and her own need not be there.
        if not any(measured):
            # Setups that are not asked for may name items that the other ledger does not hold.
            asked = tuple(one for one in self.build.setups if one is self.chosen)
            build = replace(self.build, ledger=self.ledger, setups=asked)
            return build.craft(self.setup)
        mass, center = self.build.load(self.setup, self.ledger)
        weighing = Weighing.of(
            self.items, mass_is_measured=measured[0], center_is_measured=measured[1]
        )
        return replace(
            self.build.craft(self.setup),
            mass_g=mass,
            center_of_gravity_mm=center,
            weighing=weighing,
        )

    @property
    def is_measured(self) -> bool:
        """Whether a measured mass or center stands in for the ledger's sums."""
        return self.build.mass_g is not None or self.build.center_of_gravity_mm is not None


def same_bodies(old: tuple[Body, ...], new: tuple[Body, ...]) -> bool:
    """Return whether two crafts float on the very same bodies."""
    return len(old) == len(new) and not changed_bodies(old, new)


def changed_bodies(old: tuple[Body, ...], new: tuple[Body, ...]) -> tuple[str, ...]:
    """Return the names of bodies that are not in both, the same to the last bit."""
    before, after = ({body.name: body for body in bodies} for bodies in (old, new))
    names = dict.fromkeys((*before, *after))
    return tuple(n for n in names if not _same_body(before.get(n), after.get(n)))


def same_points(old: Opening, new: Opening) -> bool:
    """Return whether two openings lie at the same points."""
    return np.array_equal(old.points_mm, new.points_mm)


def _same_body(old: Body | None, new: Body | None) -> bool:
    """Return whether two bodies are of one role and one surface."""
    if old is None or new is None or old.role != new.role:
        return False
    return old.shell is new.shell or np.array_equal(old.shell.triangles_mm, new.shell.triangles_mm)
