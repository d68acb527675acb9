"""The answer to what her seams are like. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Self

from hullcheck.answers.float_records import Caveat, LimitCheck, Point
from hullcheck.answers.seams_suspects import SuspectsReport
from hullcheck.water import Water


@dataclass(frozen=True, slots=True, kw_only=True)
class Wetted:
    """The heel at which the water reaches a seam, trim and draft free.

    Attributes
    ----------
    heel_deg : float or None
        To the side where that is least, positive starboard down [deg]; 0 where it lies under water
        at rest, None where it stays dry to `to_deg`.
    starboard_deg, port_deg : float or None
        The same for either side.
    to_deg : float
        How far she was heeled either way [deg].
    beyond_model : bool
        Whether a wing that is not in the meshes is in the water by then.
    """

    heel_deg: float | None
    starboard_deg: float | None
    port_deg: float | None
    to_deg: float
    beyond_model: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SealedReport:
    """The last time a seam was sealed.

    Attributes
    ----------
    entry : int
        Number of the entry in the logbook.
    at : str
        When, with its zone (ISO 8601).
    material : str
        What with.
    batch : str or None
        Of that material.
    cured_at : str or None
        When it is cured (ISO 8601); None where no time was noted or it was re-opened since.
    times : int
        How often the seam was sealed by the log.
    """

    entry: int
    at: str
    material: str
    batch: str | None
    cured_at: str | None
    times: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SoakReport:
    """A leak test, and how deep a seam lay in it.

    Attributes
    ----------
    entry : int
        Number of the entry in the logbook.
    at : str
        When, with its zone (ISO 8601).
    mass_g : float
        What she weighed as she floated [g].
    minutes : float
        How long she lay there [min].
    running : bool
        Whether she was run, not left still.
    gain_g, plus_minus_g : float
        Water that came in, and how well that is known [g].
    g_per_30min : float
        The gain in 30 minutes [g].
    grade : str
        "tight", "damp", "weeping" or "leaking" by the ladder, at the present mass.
    within_limit : bool or None
        Whether the rate is within the sheet's limit, which wins; None without one.
    tells : bool
        Whether it was long enough, and the scale fine enough, to show that she weeps.
    deepest_mm : float or None
        Depth of the seam's lowest point in it [mm]; None where a test is not told for one seam, or
        how she floated in it is not known.
    found : tuple of str
        Seams and openings where water was seen to come in.
    """

    entry: int
    at: str
    mass_g: float
    minutes: float
    running: bool
    gain_g: float
    plus_minus_g: float
    g_per_30min: float
    grade: str
    within_limit: bool | None
    tells: bool
    deepest_mm: float | None
    found: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamReport:
    """One seam or opening: where it lies at the present load, and what the log says of it.

    Attributes
    ----------
    name : str
        As in the build sheet, or "joint of nose and fore" where two parts tell of it.
    kind : str
        "seam", or an opening's "canopy", "hatch", "wing seat", "pushrod", "screw", "motor",
        "vent", "drain" or "other".
    body : str or None
        The body it is on; None for an opening.
    source : str
        "sheet", or "parts" where it was found between two of them.
    sheet_state : str or None
        An opening's "open", "taped" or "sealed" by the sheet or the setup.
    length_mm, wet_length_mm : float, float or None
        Of the whole line, and of what lies under water [mm].
    height_mm : float or None
        Of its lowest point above the water [mm], negative under it: its freeboard.
    deepest_mm : float or None
        Greatest depth under water [mm]; 0 where it lies clear of it.
    lowest_mm : tuple of float
        Its lowest point, in body axes [mm].
    crack_integral_mm2 : float or None
        ∫ h dl over what lies under water [mm²]: what a laminar crack feels.
    hole_integral_mm15 : float or None
        ∫ √h dl over it [mm^1.5]: what holes along it feel.
    wetted : Wetted or None
        The heel at which the water reaches it; None without a center of gravity.
    in_spray : bool
        Whether it stands above the water, but no higher than spray reaches.
    state : str
        One of `hullcheck.craft.seam_states.KINDS`.
    state_entry : int or None
        The entry of the logbook that says so.
    state_at : str or None
        When that was (ISO 8601).
    sealed : SealedReport or None
        The last sealing, whatever came after.
    leak : SoakReport or None
        The last test in which it leaked.
    leak_is_inferred : bool
        Whether "leaked" was not seen but worked out from several tests.
    dry_tests : tuple of SoakReport
        Tests since its last work that clear it.
    wet_tests : tuple of SoakReport
        Tests since its last work in which it was under water and she gained, the water not found
        here: they neither clear it nor accuse it.
    dry_lacks : tuple of str
        What its dry tests lack to count under way: "flying weight", "this depth", "planned time",
        "running test"; empty where it is not tested dry.
    """

    name: str
    kind: str
    body: str | None
    source: str
    sheet_state: str | None
    length_mm: float
    wet_length_mm: float | None
    height_mm: float | None
    deepest_mm: float | None
    lowest_mm: Point
    crack_integral_mm2: float | None
    hole_integral_mm15: float | None
    wetted: Wetted | None
    in_spray: bool
    state: str
    state_entry: int | None
    state_at: str | None
    sealed: SealedReport | None
    leak: SoakReport | None
    leak_is_inferred: bool
    dry_tests: tuple[SoakReport, ...]
    wet_tests: tuple[SoakReport, ...]
    dry_lacks: tuple[str, ...]

    @property
    def under_water(self) -> bool:
        """Whether any of it lies under water at rest."""
        return self.wet_length_mm is not None and self.wet_length_mm > 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DrainPlace:
    """Where a drain and a vent would go in one compartment, in one attitude.

    Attributes
    ----------
    compartment : str
        Such as "hull 1", from the bow.
    attitude : str
        "at rest", "nose up" or "inverted".
    lowest_mm : tuple of float
        The lowest inside point: water left inside gathers there [mm].
    highest_mm : tuple of float
        The highest inside point: air goes out there [mm].
    """

    compartment: str
    attitude: str
    lowest_mm: Point
    highest_mm: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamsAnswer:
    """Every seam and opening, worst first, and what the leak tests say of them.

    Attributes
    ----------
    schema : str
        Name and version of this document.
    craft : str
        What she is called.
    setup : str or None
        Name of the setup; None as she is.
    mass_g : float
        All-up mass [g].
    center_of_gravity_mm : tuple of float or None
        In body axes [mm].
    water : Water
        What she floats in.
    now : str
        The time the states are told for (ISO 8601).
    short_by_g : float or None
        By how many grams she is too heavy to float [g]; None where she floats.
    trim_deg, heel_deg : float or None
        At rest, or held level without a center of gravity [deg]; None where she sinks.
    spray_reach_mm : float
        How high above the water spray is taken to reach [mm]: the hull's beam.
    seams : tuple of SeamReport
        The worst first.
    entries : int
        Entries of the logbook that stand.
    last_entry : int
        Number of the newest entry; 0 where there is none.
    tests : tuple of SoakReport
        Leak tests that stand, by time.
    limits : tuple of LimitCheck
        The sheet's limit on the gain in 30 minutes against the last test.
    suspects : SuspectsReport
        Which seams explain the water in the tests, and the test that would tell.
    nose_up_deg : float
        The trim "nose up" is told for in `drains` [deg].
    nose_up_from : str
        Where that angle comes from.
    drains : tuple of DrainPlace
        Lowest and highest inside point of each compartment.
    warnings : tuple of Caveat
        What the reader must know beside the numbers.
    """

    schema: str
    craft: str
    setup: str | None
    mass_g: float
    center_of_gravity_mm: Point | None
    water: Water
    now: str
    short_by_g: float | None
    trim_deg: float | None
    heel_deg: float | None
    spray_reach_mm: float
    seams: tuple[SeamReport, ...]
    entries: int
    last_entry: int
    tests: tuple[SoakReport, ...]
    limits: tuple[LimitCheck, ...]
    suspects: SuspectsReport
    nose_up_deg: float
    nose_up_from: str
    drains: tuple[DrainPlace, ...]
    warnings: tuple[Caveat, ...]

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
