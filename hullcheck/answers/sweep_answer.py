"""How she floats over her mass, over the place of an item, or over the water: the whole answer."""

from typing import Final

from hullcheck.answers.caveats import caveats
from hullcheck.answers.float_records import Caveat
from hullcheck.answers.grams_left import Margin, margin_of
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.load_report import load_report
from hullcheck.answers.rest import rest_at
from hullcheck.answers.sweep_ends import kept_ranges, rest_changes, sampled_values
from hullcheck.answers.sweep_loads import Sweep, mass_sweep, usual_masses
from hullcheck.answers.sweep_records import SweepAnswer
from hullcheck.answers.sweep_samples import Samples
from hullcheck.answers.uncertainty import height_plus_minus_mm
from hullcheck.craft.craft import Craft

SCHEMA: Final = "hullcheck.sweep/1"


def usual_mass_sweep(craft: Craft) -> Sweep:
    """Return the sweep over her mass from half of it to a bit beyond what ends it.

    Raises
    ------
    InputError
        If her center of gravity is not known.
    SolverError
        If no rest was found.
    """
    one = mass_sweep(craft, (craft.mass_g,))
    margin = _margin(Samples.of(one))
    upper = None if margin is None else craft.mass_g + margin.mass_g
    return mass_sweep(craft, usual_masses(craft, upper))


def sweep_answer(sweep: Sweep, samples: Samples | None = None) -> SweepAnswer:
    """Return how a craft floats at the values of a sweep, and where she keeps every limit.

    Parameters
    ----------
    sweep : Sweep
        From `mass_sweep`, `usual_mass_sweep`, `item_sweep` or `water_sweep`.
    samples : Samples, optional
        Of that sweep, where a drawing is to share what was floated.

    Returns
    -------
    SweepAnswer

    Raises
    ------
    SolverError
        If no rest was found.
    SurfaceError
        If much of what is under water as she is today had to be invented; see `answers.invented`.
    """
    samples = Samples.of(sweep) if samples is None else samples
    craft, known = sweep.craft, sweep.today is not None
    rest = rest_at(craft, sweep.center_mm)
    if rest is not None:
        refuse_invented(craft, rest.floating)
    margin = _margin(samples) if known and sweep.over == "mass" else None
    return SweepAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        over=sweep.over,
        unit=sweep.unit,
        item=sweep.item,
        axis=sweep.axis,
        mass_g=craft.mass_g if known else None,
        center_of_gravity_mm=sweep.center_mm,
        water=craft.water,
        load=load_report(craft),
        cg_range_mm=craft.cg_range_mm,
        today=None if sweep.today is None else samples.at(sweep.today),
        today_plus_minus_mm=_read_to(samples) if known and rest is not None else None,
        margin_g=None if margin is None else margin.mass_g,
        margin_plus_minus_g=None if margin is None else margin.plus_minus_g,
        rows=tuple(samples.at(value) for value in sweep.values),
        kept=kept_ranges(samples),
        rest_changes=rest_changes(samples),
        warnings=(*_of_sweep(samples), *caveats(craft, rest, ())),
    )


def sweep_fails(answer: SweepAnswer) -> bool:
    """Return whether she breaks a limit today, or at every value."""
    today = answer.today
    broken = today is not None and (
        today.rest in {"sinks", "capsized"}
        or any(not check.ok for check in today.limits if check.name != "cg_range_mm")
    )
    return broken or not answer.kept


def _margin(samples: Samples) -> Margin | None:
    """Return the grams left as she is today; None without limits, 0 where she sinks."""
    craft = samples.sweep.craft
    floating = samples.floating(craft)
    if floating is None:
        return None if not craft.limits.afloat else Margin(mass_g=0.0, limited_by="sinks", at=None)
    return margin_of(craft, samples.refloater.deck, floating)


def _read_to(samples: Samples) -> float:
    """Return how well today's freeboard is known [mm]."""
    return height_plus_minus_mm(samples.sweep.craft, samples.refloater.height_mm)


def _of_sweep(samples: Samples) -> tuple[Caveat, ...]:
    """Return what must be said of the sweep itself."""
    sweep, found = samples.sweep, []
    rows = [samples.at(value) for value in sampled_values(samples)]
    beyond = [row for row in rows if row.beyond_model]
    if beyond:
        found.append(
            Caveat(
                code="beyond-model",
                message=f"between {beyond[0].value:g} and {beyond[-1].value:g} {sweep.unit} there "
                "are loads with a wing that is not in the meshes, or much that was invented, in "
                "the water, or she lies capsized: what is shown there is beyond the model",
            )
        )
    feet = [row for row in rows if row.rest != "capsized" and row.freeboard_mm is not None]
    if any((row.freeboard_mm or 0.0) < 0.0 for row in feet):
        found.append(
            Caveat(
                code="openings-under",
                message="where her lowest opening or edge is under water she is shown before water "
                "has come in: it will not stay so",
            )
        )
    return (*found, *_of_what_is_held(sweep))


def _of_what_is_held(sweep: Sweep) -> list[Caveat]:
    """Return what must be said of limits, of the item's box and of where grams come."""
    found = []
    if not sweep.craft.limits.afloat and not sweep.counts_cg:
        found.append(
            Caveat(
                code="no-limits",
                message="she has no limits: only sinking and capsizing end the sweep "
                "([limits] in the build sheet: freeboard_mm, trim_deg, heel_deg)",
            )
        )
    kept_in = [e for e in sweep.craft.fittings.equipment if e.item == sweep.item and e.within_mm]
    if sweep.item is not None and kept_in:
        found.append(
            Caveat(
                code="box-not-held",
                message=f"the box that the sheet gives {sweep.item} (within_mm) is not held here; "
                f"hullcheck place {sweep.item!r} holds it",
            )
        )
    if sweep.over == "mass":
        found.append(
            Caveat(
                code="cg-kept",
                message="grams come and go at her CG, which stays where it is; a part put "
                "elsewhere trims her too",
            )
        )
    return found
