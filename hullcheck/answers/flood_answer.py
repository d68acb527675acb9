"""What water inside her does: the whole answer."""

from hullcheck.answers.caveats import caveats
from hullcheck.answers.float_records import Point
from hullcheck.answers.flood_asked import Asked, nose_up
from hullcheck.answers.flood_cases import compartment_waters, open_cases, water_cases
from hullcheck.answers.flood_caveats import flood_caveats
from hullcheck.answers.flood_places import bilge_points
from hullcheck.answers.flood_records import FloodAnswer
from hullcheck.answers.flood_states import Flooder, behind_mm
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.leak_suspects import leak_suspects
from hullcheck.answers.rest import rest_at
from hullcheck.answers.swamped import DryPoint, swamped
from hullcheck.answers.swamped_records import Swamped
from hullcheck.answers.swamped_solids import solids_of
from hullcheck.answers.time_afloat import Inside, known_leaks, minutes_of, time_afloat
from hullcheck.answers.time_afloat_records import TimeAfloat
from hullcheck.craft.build import Build
from hullcheck.craft.compartment import compartment_named
from hullcheck.craft.compartments import compartments_of
from hullcheck.craft.craft import Craft
from hullcheck.craft.leak_ladder import last_telling
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError
from hullcheck.flotation.floating import Rest

SCHEMA = "hullcheck.flood/1"


def flood_answer(
    build: Build,
    logbook: Logbook | None = None,
    *,
    setup: str | None = None,
    asked: Asked | None = None,
) -> FloodAnswer:
    """Return what water inside a craft does.

    Parameters
    ----------
    build : Build
        Hers.
    logbook : Logbook, optional
        For how long she stays afloat with the leak of its last test.
    setup : str, optional
        The setup she is in.
    asked : Asked, optional
        Water aboard, compartments open to the sea, angles, points, leaks; the usual where left out.

    Returns
    -------
    FloodAnswer

    Raises
    ------
    InputError
        If her center of gravity is not known, she sinks without any water, a name is none of hers,
        or water does not fit where it is to be.
    SolverError
        If no rest was found.
    SurfaceError
        If much of what is under water had to be invented; see `answers.invented`.
    """
    craft, logbook, asked = build.craft(setup), logbook or Logbook(), asked or Asked()
    rest, flooder = _dry(craft), _flooder(build, craft, asked)
    angle, angle_from = nose_up(craft, asked)
    found = flooder.flooded(asked.aboard, asked.opened)
    afloat = _time_afloat(flooder, logbook, asked)
    answer = FloodAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        mass_g=craft.mass_g,
        center_of_gravity_mm=flooder.center_mm,
        water=craft.water,
        cg_range_mm=craft.cg_range_mm,
        nose_up_deg=angle,
        nose_up_from=angle_from,
        dry_behind_band_mm=behind_mm(craft, flooder.center_mm[0]),
        asked=asked.anything_inside,
        compartments=compartment_waters(flooder, found.flooded),
        state=flooder.state_of(found, sum(asked.aboard.values())),
        water_cases=water_cases(flooder, asked.grams, angle),
        open_cases=open_cases(flooder),
        swamped=_swamped(build, flooder, asked),
        time_afloat_min=None if afloat is None else minutes_of(afloat),
        time_afloat=afloat,
        warnings=(),
    )
    said = flood_caveats(answer, craft, flooder.compartments, logbook)
    return answer.with_warnings((*caveats(craft, rest, ()), *said))


def flood_fails(answer: FloodAnswer) -> bool:
    """Return whether a limit breaks, or she is lost, with the water that was asked about.

    And whether her last leak test, or a leak that was asked about, leaves her less time than the
    sheet wants. What is shown unasked, such as two compartments open at once or a leak that the
    sheet only supposes, fails nothing.
    """
    if answer.asked and not answer.state.holds:
        return True
    found = answer.time_afloat
    return found is not None and found.source != "sheet" and found.holds is False


def _dry(craft: Craft) -> Rest | None:
    """Return where she rests without water, refused where she sinks or is largely invented."""
    rest = rest_at(craft, craft.center_of_gravity_mm)
    if craft.center_of_gravity_mm is not None and rest is None:
        raise InputError(
            f"{craft.name}: at {craft.mass_g:g} g she sinks without any water in her; see "
            "hullcheck float"
        )
    if rest is not None:
        refuse_invented(craft, rest.floating)
    return rest


def _flooder(build: Build, craft: Craft, asked: Asked) -> Flooder:
    """Return a craft ready to be flooded; a name that is none of hers is refused."""
    compartments = compartments_of(build)
    for name in (*asked.aboard, *asked.opened, *asked.sealed):
        compartment_named(compartments, name)
    return Flooder.of(craft, compartments, bilge_points(craft, compartments, _wanted(asked)))


def _swamped(build: Build, flooder: Flooder, asked: Asked) -> Swamped:
    """Return how she floats swamped."""
    solids = solids_of(build, flooder.craft, flooder.compartments, asked.sealed)
    return swamped(flooder.craft, solids, sealed=asked.sealed, keep=_to_keep(asked, flooder))


def _wanted(asked: Asked) -> tuple[tuple[str, Point | None], ...]:
    """Return the points asked for, the one to be kept dry among them."""
    return asked.bilge if asked.keep_dry is None else (*asked.bilge, asked.keep_dry)


def _time_afloat(flooder: Flooder, logbook: Logbook, asked: Asked) -> TimeAfloat | None:
    """Return how long she stays afloat; None where no leak is known."""
    leaks = known_leaks(
        flooder.craft, logbook, asked.breaches, _named(flooder.craft, logbook, asked)
    )
    if leaks is None:
        return None
    return time_afloat(flooder, leaks, Inside(aboard=asked.aboard, opened=asked.opened))


def _named(craft: Craft, logbook: Logbook, asked: Asked) -> tuple[str, ...]:
    """Return the seams that the tests together name; none where the last one says itself."""
    last = last_telling(logbook.tests, craft.mass_g)
    if asked.breaches or last is None or last[1].found:
        return ()
    found = leak_suspects(logbook, craft, with_next_test=False)
    told = (*found.named, *(() if found.alone is None else (found.alone,)))
    return tuple(dict.fromkeys(one.seam for one in told if one.current))


def _to_keep(asked: Asked, flooder: Flooder) -> DryPoint | None:
    """Return the point that foam is to keep dry, and where the foam goes.

    Where no place is given: at the station of her CG, as high as the middle of the compartment that
    the point is in.
    """
    if asked.keep_dry is None:
        return None
    craft = flooder.craft
    point = next(one for one in flooder.points if one.name == asked.keep_dry[0])
    if asked.foam_mm is not None:
        return DryPoint(name=point.name, point_mm=point.point_mm, foam_mm=asked.foam_mm)
    mine = next((one for one in flooder.compartments if one.name == point.compartment), None)
    tree = craft.skin.tree if mine is None else mine.tree
    station = (craft.center_of_gravity_mm or (float(tree.origin_mm[0]),))[0]
    middle = (station, 0.0, 0.5 * float(tree.low_mm[2] + tree.high_mm[2]))
    return DryPoint(name=point.name, point_mm=point.point_mm, foam_mm=middle)
