"""What the reader must know beside the numbers about water inside."""

from collections.abc import Sequence

from hullcheck.answers.float_records import Caveat
from hullcheck.answers.flood_records import FloodAnswer
from hullcheck.craft.compartment import Compartment
from hullcheck.craft.craft import Craft
from hullcheck.craft.leak_ladder import last_telling
from hullcheck.craft.log_records import Reopening, Sealing
from hullcheck.craft.logbook import Logbook


def flood_caveats(
    answer: FloodAnswer, craft: Craft, compartments: Sequence[Compartment], logbook: Logbook
) -> tuple[Caveat, ...]:
    """Return what must be said beside the answer, the gravest first.

    Parameters
    ----------
    answer : FloodAnswer
        Without warnings.
    craft : Craft
        Hers.
    compartments : sequence of Compartment
        Hers.
    logbook : Logbook
        For work done since its last test.
    """
    found = [*_of_time(answer, craft, logbook), *_of_band(answer), *_of_pools(answer)]
    found += _of_compartments(compartments)
    found += _of_swamped(answer)
    if not any(one.lowest_mm for one in craft.fittings.equipment):
        found.append(
            Caveat(
                code="no-equipment",
                message="no equipment has lowest_mm in the build sheet: nothing is known of what "
                "gets wet",
            )
        )
    return tuple(found)


def _of_time(answer: FloodAnswer, craft: Craft, logbook: Logbook) -> list[Caveat]:
    """Return what is assumed in how long she stays afloat."""
    found = answer.time_afloat
    if found is None:
        return [_no_time(known=bool(logbook.tests or craft.fittings.leaks))]
    said = [
        Caveat(
            code="time-afloat",
            message="time afloat is for one leak that stays as it is, still water, and a vented "
            "compartment: swell, spray, a run and a lid that lifts let in more",
        )
    ]
    worst = found.leaks[0]
    if worst.beside:
        said.append(
            Caveat(
                code="leak-along",
                message=f"the {worst.name} runs along {_row(worst.beside)} too: all of its water "
                f"is taken to fill {worst.compartment}, the most of it",
            )
        )
    if found.source == "sheet":
        said.append(
            Caveat(
                code="supposed-leak",
                message=f"that leak is one the sheet supposes ({worst.name}, {worst.what}): the "
                "logbook has no leak test",
            )
        )
    if found.source == "test":
        said.append(
            Caveat(
                code="static-test",
                message="static: a dry soak does not clear a hull under way; surface tension can "
                "hold a dry pinhole shut",
            )
        )
        said += _of_test(answer, logbook)
    return said


def _no_time(*, known: bool) -> Caveat:
    """Return why there is no time afloat: no leak is known, or it is into what is open."""
    if known:
        return Caveat(
            code="leak-into-open",
            message="no time afloat: the known leak is into a compartment that is open to the sea "
            "already",
        )
    return Caveat(
        code="no-leak-known",
        message="no time afloat: the logbook has no leak test and the sheet no [[leak]]; "
        "hullcheck log leak-test --start, or --hole X,Y,Z,D",
    )


def _of_test(answer: FloodAnswer, logbook: Logbook) -> list[Caveat]:
    """Return what the last test leaves open."""
    found = answer.time_afloat
    last = last_telling(logbook.tests, answer.mass_g)
    if found is None or last is None:
        return []
    said = []
    entry, test = last
    later = [
        one
        for one in logbook.standing
        if isinstance(one.record, Sealing | Reopening) and one.at > entry.at
    ]
    if later:
        named = ", ".join(dict.fromkeys(_seam_of(one.record) for one in later))
        said.append(
            Caveat(
                code="work-since-test",
                message=f"there was work since that test ({named}): it says how she was before",
            )
        )
    if len(found.leaks) > 1:
        said.append(
            Caveat(
                code="place-of-leak",
                message="where the water of the test came in was not noted: the worst of "
                f"{len(found.leaks)} places under water is shown, as if all of it came in there",
            )
        )
    if test.setup.mass_g < 0.95 * answer.mass_g:
        said.append(
            Caveat(
                code="light-test",
                message=f"the test was at {test.setup.mass_g:g} g, she weighs {answer.mass_g:.0f} "
                "g: seams that were dry then may be under water now",
            )
        )
    return said


def _seam_of(record: object) -> str:
    """Return the seam that work was done on."""
    return record.seam if isinstance(record, Sealing | Reopening) else ""


def _of_band(answer: FloodAnswer) -> list[Caveat]:
    """Return a word where no band of the CG is given."""
    if answer.cg_range_mm is not None:
        return []
    return [
        Caveat(
            code="no-cg-range",
            message="cg_range_mm under [craft] is not given: the CG is shown without its band",
        )
    ]


def _of_pools(answer: FloodAnswer) -> list[Caveat]:
    """Return a word where water parts into pools that share no level."""
    split = [one.name for one in answer.compartments if len(one.pools) > 1]
    split += [case.compartment for case in answer.water_cases if case.nose_up.pools > 1]
    if not split:
        return []
    return [
        Caveat(
            code="pools",
            message=f"water parts into pools that share no level in {_row(split)}: one level for "
            "all of them is only a convention",
        )
    ]


def _of_compartments(compartments: Sequence[Compartment]) -> list[Caveat]:
    """Return how the inside of bodies was found where that is not their wall's inset."""
    notes = dict.fromkeys(one.note for one in compartments if one.note)
    return [Caveat(code="compartment", message=note.rstrip(".")) for note in notes]


def _of_swamped(answer: FloodAnswer) -> list[Caveat]:
    """Return what is assumed in how she floats swamped."""
    items = [one for one in answer.swamped.solids if one.kind == "item"]
    if not items:
        return []
    total = sum(one.volume_cm3 for one in items)
    return [
        Caveat(
            code="swamped",
            message=f"swamped, {len(items)} items count as {total:.0f} cm³ in all, their mass at "
            "2 g/cm³, wing and tail too; foam's own weight is not counted",
        )
    ]


def _row(names: Sequence[str]) -> str:
    """Return names in a row, each once."""
    return ", ".join(dict.fromkeys(names))
