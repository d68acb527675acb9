"""Every seam and opening at the present load, crossed with the logbook: the whole answer."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.rest import rest_at
from hullcheck.answers.seams_caveats import seams_caveats
from hullcheck.answers.seams_drains import drain_places, nose_up
from hullcheck.answers.seams_leaks import Suspected, suspected
from hullcheck.answers.seams_order import worst_first
from hullcheck.answers.seams_records import SealedReport, SeamReport, SeamsAnswer, SoakReport
from hullcheck.answers.seams_tests import SoakDepths, dry_lacks, limit_checks, soak_report
from hullcheck.answers.seams_wetting import Wetting
from hullcheck.craft.build import Build
from hullcheck.craft.compartments import compartments_of
from hullcheck.craft.craft import Craft
from hullcheck.craft.log_records import Entry, Sealing
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import SeamLine, seam_lines
from hullcheck.craft.seam_states import SeamState, seam_states
from hullcheck.errors import InputError
from hullcheck.flotation.floating import Floating, Rest, held_at, short_by_g

SCHEMA: Final = "hullcheck.seams/1"
_UP: Final = (0.0, 0.0, 1.0)


def seams_answer(
    build: Build, logbook: Logbook, now: datetime, *, setup: str | None = None
) -> SeamsAnswer:
    """Return every seam and opening of a build, worst first.

    Parameters
    ----------
    build : Build
        The build, with its parts.
    logbook : Logbook
        What was sealed and tested.
    now : datetime
        The time the states are told for, with its zone.
    setup : str, optional
        Name of the setup she is in; leak tests are taken as she is without one.

    Returns
    -------
    SeamsAnswer
        Where she sinks, no seam has a height.

    Raises
    ------
    InputError
        If two seams or openings share a name, a seam does not reach its body, there is no such
        setup, or `now` has no zone.
    SolverError
        If no rest was found.
    SurfaceError
        If much of what is under water had to be invented; see `answers.invented`.
    """
    if now.tzinfo is None:
        raise InputError(f"now {now.isoformat()}: has no time zone")
    craft = build.craft(setup)
    lines = distinct(seam_lines(craft))
    rest, floating, short = _floating(craft)
    book = _Book.of(build, lines, logbook, now)
    told = _Told(craft=craft, floating=floating, depths_mm=book.depths.depths_mm)
    wetting = Wetting.of(craft, sinks=floating is None)
    opened = _opened(build, setup)
    seams = worst_first(
        [told.report(line, _in_setup(book.states[line.name], opened), wetting) for line in lines]
    )
    tests = tuple(soak_report(entry, craft) for entry, _ in logbook.tests)
    angle, angle_from = nose_up(craft)
    return SeamsAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        mass_g=craft.mass_g,
        center_of_gravity_mm=craft.center_of_gravity_mm,
        water=craft.water,
        now=now.isoformat(),
        short_by_g=short,
        trim_deg=None if floating is None else floating.trim_deg,
        heel_deg=None if floating is None else floating.heel_deg,
        spray_reach_mm=spray_reach_mm(craft),
        seams=seams,
        entries=len(logbook.standing),
        last_entry=logbook.last_number,
        tests=tests,
        limits=limit_checks(craft.limits, tests),
        suspects=book.suspects.report,
        nose_up_deg=angle,
        nose_up_from=angle_from,
        drains=drain_places(compartments_of(build), _up(floating), angle),
        warnings=(*book.depths.caveats, *seams_caveats(craft, rest, lines, seams, logbook)),
    )


def _up(floating: Floating | None) -> np.ndarray:
    """Return the way up in body axes, shape (3,); z where she sinks."""
    return np.array(_UP) if floating is None else floating.normal


@dataclass(frozen=True, slots=True, kw_only=True)
class _Book:
    """What the logbook says: depths in tests, suspects, and the state of each seam."""

    depths: SoakDepths
    suspects: Suspected
    states: dict[str, SeamState]

    @classmethod
    def of(
        cls, build: Build, lines: Sequence[SeamLine], logbook: Logbook, now: datetime
    ) -> "_Book":
        """Return what a logbook says of seams; its tests are floated as she is without a setup."""
        as_she_is = build.craft()
        her_lines = distinct(seam_lines(as_she_is))
        depths = SoakDepths.of(as_she_is, her_lines, logbook)
        suspects = suspected(as_she_is, her_lines, logbook)
        states = seam_states(
            {line.name: line.state for line in lines},
            logbook,
            now,
            depths_mm=depths.depths_mm,
            inferred=suspects.inferred,
        )
        return cls(depths=depths, suspects=suspects, states=states)


def spray_reach_mm(craft: Craft) -> float:
    """Return how high above the water spray is taken to reach [mm]: the hull's beam.

    Common practice, no source: a hull throws spray about as high as she is wide.
    """
    shell = craft.deck_body.shell
    return float(shell.high_mm[1] - shell.low_mm[1])


def distinct(lines: Sequence[SeamLine]) -> tuple[SeamLine, ...]:
    """Return seams and openings each with a name of its own.

    Joints between parts that are called the same, such as those of twin floats, get their body's
    name behind them; any others are refused, as the logbook knows a seam by its name.
    """
    names = [line.name for line in lines]
    told = tuple(
        replace(line, name=f"{line.name}, {line.body}")
        if line.source == "parts" and names.count(line.name) > 1
        else line
        for line in lines
    )
    names = [line.name for line in told]
    twice = next((name for i, name in enumerate(names) if name in names[:i]), None)
    if twice is not None:
        raise InputError(
            f"two seams or openings are called {twice!r}: give each its own name in the build "
            "sheet, as the logbook knows them by it"
        )
    return told


def _floating(craft: Craft) -> tuple[Rest | None, Floating | None, float | None]:
    """Return where she rests and floats, held level without a center, and what she is short by."""
    short = short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=craft.water.density_kg_m3)
    if short >= 0.0:
        return None, None, short
    rest = rest_at(craft, craft.center_of_gravity_mm)
    floating = (
        held_at(craft.skin, mass_g=craft.mass_g, density_kg_m3=craft.water.density_kg_m3)
        if rest is None
        else rest.floating
    )
    refuse_invented(craft, floating)
    return rest, floating, None


def _opened(build: Build, setup: str | None) -> frozenset[str]:
    """Return the openings that a setup opens."""
    chosen = build.setup(setup)
    return frozenset(name for name, state in chosen.openings if state == "open")


def _in_setup(state: SeamState, opened: frozenset[str]) -> SeamState:
    """Return a state as a setup has it: what it opens is open, whatever the log says."""
    return replace(state, kind="open", decided_by=None) if state.seam in opened else state


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """What every seam is reported from: load, place in the water, depths in tests."""

    craft: Craft
    floating: Floating | None
    depths_mm: Mapping[int, Mapping[str, float]]

    def report(self, line: SeamLine, state: SeamState, wetting: Wetting) -> SeamReport:
        """Return one seam or opening."""
        floating = self.floating
        up = _up(floating)
        heads = None if floating is None else line.heads(up, floating.height_mm)
        height = None if heads is None else -heads.deepest_mm + 0.0
        deepest = None if heads is None else max(heads.deepest_mm, 0.0)
        dry = tuple(self._test(entry, line.name) for entry in state.dry_tests)
        decided = state.decided_by
        reach = spray_reach_mm(self.craft)
        return SeamReport(
            name=line.name,
            kind=line.kind,
            body=line.body,
            source=line.source,
            sheet_state=line.state,
            length_mm=line.heads(up, 0.0).length_mm,
            wet_length_mm=None if heads is None else heads.wet_length_mm,
            height_mm=height,
            deepest_mm=deepest,
            lowest_mm=_point(line, up),
            crack_integral_mm2=None if heads is None else heads.crack_integral_mm2,
            hole_integral_mm15=None if heads is None else heads.hole_integral_mm15,
            wetted=wetting.of_line(line, wet=heads is not None and heads.wet),
            in_spray=height is not None and 0.0 <= height <= reach,
            state=state.kind,
            state_entry=None if decided is None else decided.number,
            state_at=None if decided is None else decided.at.isoformat(),
            sealed=_sealed(state),
            leak=None if state.leak is None else self._test(state.leak, line.name),
            leak_is_inferred=state.inferred,
            dry_tests=dry,
            wet_tests=tuple(self._test(entry, line.name) for entry in state.wet_tests),
            dry_lacks=dry_lacks(
                dry if state.kind == "tested dry" else (),
                self.craft.limits,
                mass_g=self.craft.mass_g,
                deepest_mm=deepest,
            ),
        )

    def _test(self, entry: Entry, name: str) -> SoakReport:
        """Return a test with the depth a seam had in it."""
        deepest = self.depths_mm.get(entry.number, {}).get(name)
        return soak_report(entry, self.craft, deepest_mm=deepest)


def _point(line: SeamLine, up: np.ndarray) -> Point:
    """Return the lowest point of a line as numbers."""
    x, y, z = (float(value) + 0.0 for value in line.lowest_mm(up))
    return (x, y, z)


def _sealed(state: SeamState) -> SealedReport | None:
    """Return the last sealing of a seam."""
    entry = state.sealing
    if entry is None or not isinstance(entry.record, Sealing):
        return None
    return SealedReport(
        entry=entry.number,
        at=entry.at.isoformat(),
        material=entry.record.material,
        batch=entry.record.batch,
        cured_at=None if state.cured_at is None else state.cured_at.isoformat(),
        times=state.times_sealed,
    )
