"""How long she may sit on the water with her leak: from what was asked, a test, or the sheet."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from hullcheck.answers.flood_places import compartments_behind
from hullcheck.answers.flood_states import Flooder
from hullcheck.answers.soak_floating import floating_in_soak
from hullcheck.answers.time_afloat_fill import Filling
from hullcheck.answers.time_afloat_laws import leak_time
from hullcheck.answers.time_afloat_leaks import Breach, breach_of_test, sheet_breach
from hullcheck.answers.time_afloat_records import (
    LeakSource,
    LeakTime,
    TimeAfloat,
    TimeAfloatMinutes,
)
from hullcheck.craft.craft import Craft
from hullcheck.craft.leak_ladder import last_telling
from hullcheck.craft.log_records import Entry, LeakTest, LeakTestSetup
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import seam_lines
from hullcheck.errors import InputError
from hullcheck.flotation.heads import heads_along
from hullcheck.flotation.leak_laws import LEAK_LAWS, fluid_factor
from hullcheck.water import Water, fresh_water, sea_water

_DEFAULT_TEMPERATURE_C: Final = 15.0

LOWEST: Final = "lowest point of the skin"
"""Where water is taken to come in while no seam or opening is known to be under water."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Leaks:
    """What is leaking, and how that is known.

    Attributes
    ----------
    source : str
        "asked", "test" or "sheet".
    breaches : tuple of Breach
        The leaks; of a test, each is taken alone.
    entry : Entry or None
        The test's.
    test : LeakTest or None
        The test.
    """

    source: LeakSource
    breaches: tuple[Breach, ...]
    entry: Entry | None = None
    test: LeakTest | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """Water that is in from the beginning, and compartments open to the sea."""

    aboard: Mapping[str, float] = field(default_factory=dict)
    opened: tuple[str, ...] = ()


def known_leaks(
    craft: Craft, logbook: Logbook, asked: Sequence[Breach] = (), named: Sequence[str] = ()
) -> Leaks | None:
    """Return the leaks that count: those asked about, else the last test's, else the sheet's.

    Parameters
    ----------
    craft : Craft
        Hers, with her seams and the sheet's [[leak]].
    logbook : Logbook
        Its last leak test that stands.
    asked : sequence of Breach
        Given outright.
    named : sequence of str
        Seams that the tests together name, where the last one does not say where water was found.

    Returns
    -------
    Leaks or None
        None where nothing is known of a leak.
    """
    if asked:
        return Leaks(source="asked", breaches=tuple(asked))
    last = last_telling(logbook.tests, craft.mass_g)
    if last is not None:
        entry, test = last
        breaches = breaches_of_test(craft, test, named)
        return Leaks(source="test", breaches=breaches, entry=entry, test=test)
    sheet = tuple(sheet_breach(leak) for leak in craft.fittings.leaks)
    return Leaks(source="sheet", breaches=sheet) if sheet else None


def breaches_of_test(craft: Craft, test: LeakTest, named: Sequence[str] = ()) -> tuple[Breach, ...]:
    """Return every place that may have let in what came in during a test, each as if alone.

    Parameters
    ----------
    craft : Craft
        Hers.
    test : LeakTest
        The test.
    named : sequence of str
        Seams that several tests name.

    Returns
    -------
    tuple of Breach
        Where water was found, as far as it was under water; else what is named; else every seam
        and opening that was under water; the lowest point of the skin where none is known.

    Notes
    -----
    A gain that the scale cannot tell from none counts as the most it may have hidden.
    """
    floating = floating_in_soak(craft, test.setup)
    lines = seam_lines(craft)
    wet = {
        line.name: (line.lines_mm, heads)
        for line in lines
        if (heads := line.heads(floating.normal, floating.height_mm)).wet
    }
    chosen = next(
        (few for names in (test.found, named) if (few := [n for n in wet if n in names])), list(wet)
    )
    if not chosen:
        corners = craft.skin.triangles_mm.reshape(-1, 3)
        point = corners[int((corners @ floating.normal).argmin())][None]
        heads = heads_along([point], floating.normal, floating.height_mm)
        wet, chosen = {LOWEST: ((point,), heads)}, [LOWEST]
    then = water_of_test(craft, test.setup)
    gain = test.gain_plus_minus_g if test.below_resolution else test.gain_g
    rates = {
        law: gain / test.minutes * fluid_factor(law, craft.water) / fluid_factor(law, then)
        for law in LEAK_LAWS
    }
    return tuple(breach_of_test(name, wet[name][0], wet[name][1], rates) for name in chosen)


def water_of_test(craft: Craft, setup: LeakTestSetup) -> Water:
    """Return the water of a test; her own where it is of a kind and no temperature was noted."""
    temperature = setup.temperature_c
    if temperature is None:
        if craft.water.kind == setup.water:
            return craft.water
        temperature = _DEFAULT_TEMPERATURE_C
    maker = sea_water if setup.water == "sea" else fresh_water
    return maker(temperature_c=temperature)


def time_afloat(flooder: Flooder, leaks: Leaks, inside: Inside) -> TimeAfloat | None:
    """Return how long she stays within her limits with a leak.

    Parameters
    ----------
    flooder : Flooder
        Hers.
    leaks : Leaks
        From `known_leaks`; one at least.
    inside : Inside
        What is in her from the beginning.

    Returns
    -------
    TimeAfloat or None
        The worst leak first; None where all of them are into compartments open to the sea.

    Raises
    ------
    InputError
        If a leak that was asked about lets water into a compartment that is open to the sea.
    SolverError
        If no rest was found.
    """
    fillings: dict[str, Filling] = {}
    found = []
    for breach in leaks.breaches:
        rooms = compartments_behind(flooder.craft, flooder.compartments, breach.lines_mm)
        behind, *beside = (one.name for one in rooms)
        if behind in inside.opened:
            if leaks.source != "asked":
                continue
            raise InputError(
                f"{breach.name}: leaks into {behind}, which is open to the sea: nothing is left to "
                "fill; leave --open or the leak away"
            )
        if behind not in fillings:
            fillings[behind] = Filling(
                flooder=flooder, compartment=behind, aboard=inside.aboard, opened=inside.opened
            )
        found.append(replace(leak_time(breach, fillings[behind]), beside=tuple(beside)))
    if not found:
        return None
    rows = tuple(sorted(found, key=_lasts))
    low, high = _range(rows[0], leaks.test)
    limit = flooder.craft.limits.time_on_water_min
    entry, test = leaks.entry, leaks.test
    return TimeAfloat(
        source=leaks.source,
        entry=None if entry is None else entry.number,
        test_day=None if entry is None else entry.at.date().isoformat(),
        gain_g=None if test is None else test.gain_g,
        gain_plus_minus_g=None if test is None else test.gain_plus_minus_g,
        minutes=None if test is None else test.minutes,
        at_least=test is not None and test.below_resolution,
        low_min=low,
        high_min=high,
        limit_min=limit,
        holds=None if limit is None else low is None or low >= limit,
        leaks=rows,
    )


def minutes_of(found: TimeAfloat) -> TimeAfloatMinutes:
    """Return the times of the worst leak in brief."""
    worst = found.leaks[0]
    return TimeAfloatMinutes(
        hole=worst.hole_min, crack=worst.crack_min, limited_by=worst.limited_by
    )


def _lasts(one: LeakTime) -> tuple[float, str]:
    """Return how long she lasts with a leak [min], infinite where no limit is met, and its name."""
    return (float("inf") if one.least_min is None else one.least_min, one.name)


def _range(worst: LeakTime, test: LeakTest | None) -> tuple[float | None, float | None]:
    """Return the range of times over both laws and the scale's ± [min].

    A time goes as one over the rate exactly, so a share of the gain is a share of the time.
    """
    times = [t for t in (worst.hole_min, worst.crack_min) if t is not None]
    if not times:
        return None, None
    if test is None:
        return min(times), max(times)
    if test.below_resolution:
        return min(times), None
    share = test.gain_plus_minus_g / test.gain_g
    return min(times) / (1.0 + share), max(times) / (1.0 - share)
