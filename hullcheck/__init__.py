"""hullcheck: where a small seaplane floats, from the mesh of her hull.

Axes and signs, everywhere: body axes are right-handed and fixed in the craft, x aft from the datum
(stations grow towards the tail), y to starboard, z up. Lengths are millimeters, masses grams,
volumes cm³, areas cm², densities kg/m³, moments g·mm; angles are degrees in results and radians
inside. The water surface holds the points p with n·p = h, n the unit vector up out of the water.
Trim is positive bow up, heel positive starboard down, a righting arm positive when it turns her to
port.

Public names are loaded when they are first used.

Examples
--------
>>> import hullcheck
>>> build = hullcheck.load("examples/twin-floats")
>>> answer = hullcheck.float_answer(build.craft())
>>> answer.rest, answer.margin_limited_by
('upright', 'freeboard_mm')

Straight from meshes:

>>> found = hullcheck.read_bodies(["meshes/box.stl"], hullcheck.Reading(unit="mm", forward="-x"))
>>> craft = hullcheck.Craft(
...     name="box",
...     bodies=found.bodies,
...     mass_g=500,
...     center_of_gravity_mm=(120, 0, 20),
...     water=hullcheck.fresh_water(temperature_c=4),
... )
>>> round(hullcheck.float_answer(craft).draft_mm.deepest, 3)
21.702
"""

import importlib
from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"

_PUBLIC = {
    "Asked": "hullcheck.answers.weights_records",
    "BathAnswer": "hullcheck.answers.bath_records",
    "Body": "hullcheck.craft.bodies",
    "BodySkin": "hullcheck.craft.body_skin",
    "Build": "hullcheck.craft.build",
    "CheckAnswer": "hullcheck.answers.check_records",
    "CheckEvidence": "hullcheck.answers.check_evidence",
    "Coat": "hullcheck.answers.coats_records",
    "CompareAnswer": "hullcheck.answers.compare_records",
    "Compartment": "hullcheck.craft.compartment",
    "Craft": "hullcheck.craft.craft",
    "FloatAnswer": "hullcheck.answers.float_records",
    "Floating": "hullcheck.flotation.floating",
    "FloodAnswer": "hullcheck.answers.flood_records",
    "Found": "hullcheck.files.bodies",
    "HistoryAnswer": "hullcheck.answers.history_records",
    "HullcheckError": "hullcheck.errors",
    "Item": "hullcheck.craft.ledger",
    "LeakSuspects": "hullcheck.answers.leak_suspect_records",
    "Ledger": "hullcheck.craft.ledger",
    "Limits": "hullcheck.craft.limits",
    "Loads": "hullcheck.answers.upset_loads",
    "Logbook": "hullcheck.craft.logbook",
    "MarksAnswer": "hullcheck.answers.marking_records",
    "Measurements": "hullcheck.answers.bath_found",
    "OffsetBody": "hullcheck.geometry.offsets",
    "OffsetPoint": "hullcheck.geometry.offsets",
    "OnScales": "hullcheck.answers.scales_records",
    "Opening": "hullcheck.craft.openings",
    "OuterSkin": "hullcheck.geometry.outer_records",
    "PlaceAnswer": "hullcheck.answers.place_records",
    "Placing": "hullcheck.answers.bath_bag",
    "Reading": "hullcheck.files.reading",
    "Refloater": "hullcheck.answers.afloat",
    "Rest": "hullcheck.flotation.floating",
    "RightingAnswer": "hullcheck.answers.righting_records",
    "SeamsAnswer": "hullcheck.answers.seams_records",
    "Setup": "hullcheck.craft.setups",
    "SetupsAnswer": "hullcheck.answers.setups_answer",
    "Shell": "hullcheck.geometry.shells",
    "Shift": "hullcheck.answers.incline_records",
    "Side": "hullcheck.answers.compare_sides",
    "Skin": "hullcheck.geometry.skin",
    "SkinAnswer": "hullcheck.answers.skin_records",
    "Step": "hullcheck.geometry.step",
    "StepAnswer": "hullcheck.answers.step_records",
    "Support": "hullcheck.answers.scales_records",
    "Sweep": "hullcheck.answers.sweep_loads",
    "SweepAnswer": "hullcheck.answers.sweep_records",
    "Wanted": "hullcheck.answers.place_load",
    "Water": "hullcheck.water",
    "WeightsAnswer": "hullcheck.answers.weights_records",
    "bath_answer": "hullcheck.answers.bath_answer",
    "check_answer": "hullcheck.answers.check_answer",
    "check_evidence": "hullcheck.answers.check_evidence",
    "coats_answer": "hullcheck.answers.coats",
    "compare_answer": "hullcheck.answers.compare_answer",
    "compartments_of": "hullcheck.craft.compartments",
    "drawing_bytes": "hullcheck.report.float_drawing",
    "find_step": "hullcheck.geometry.step",
    "fit_readings": "hullcheck.answers.bath_fit",
    "float_answer": "hullcheck.answers.float_answer",
    "float_at": "hullcheck.flotation.floating",
    "float_drawing": "hullcheck.report.float_drawing",
    "float_flooded": "hullcheck.flotation.flooded",
    "flood_answer": "hullcheck.answers.flood_answer",
    "flood_drawing": "hullcheck.report.flood_drawing",
    "fresh_water": "hullcheck.water",
    "held_at": "hullcheck.flotation.floating",
    "history_answer": "hullcheck.answers.history_answer",
    "incline": "hullcheck.answers.incline",
    "leak_suspects": "hullcheck.answers.leak_suspects",
    "load": "hullcheck.files.build_folder",
    "marking": "hullcheck.answers.marking_answer",
    "marking_sheets": "hullcheck.report.marking_sheets",
    "offset_body": "hullcheck.geometry.offsets",
    "outer_shells": "hullcheck.geometry.shells",
    "outer_skin": "hullcheck.geometry.outer_skin",
    "place_answer": "hullcheck.answers.place_answer",
    "read_bodies": "hullcheck.files.bodies",
    "read_logbook": "hullcheck.files.logbook",
    "read_skins": "hullcheck.files.mesh_skins",
    "righting_answer": "hullcheck.answers.righting_answer",
    "righting_drawing": "hullcheck.report.righting_curve",
    "sea_water": "hullcheck.water",
    "seam_lines": "hullcheck.craft.seam_lines",
    "seams_answer": "hullcheck.answers.seams_answer",
    "seams_drawing": "hullcheck.report.seams_drawing",
    "setups_answer": "hullcheck.answers.setups_answer",
    "skin_answer": "hullcheck.answers.skin_answer",
    "skin_drawing": "hullcheck.report.skin_drawing",
    "step_answer": "hullcheck.answers.step_answer",
    "step_drawing": "hullcheck.report.step_drawing",
    "sweep_answer": "hullcheck.answers.sweep_answer",
    "water_density_kg_m3": "hullcheck.water",
    "water_of_density": "hullcheck.water",
    "waterline_of": "hullcheck.answers.rest",
    "weighed": "hullcheck.answers.scales",
    "weights_answer": "hullcheck.answers.weights_answer",
    "write_skin": "hullcheck.files.skin_writer",
}

__all__ = [  # noqa: PLE0604 - the names are the table's
    "__version__",
    *_PUBLIC,
]

if TYPE_CHECKING:
    from hullcheck.answers.afloat import Refloater as Refloater
    from hullcheck.answers.bath_answer import bath_answer as bath_answer
    from hullcheck.answers.bath_bag import Placing as Placing
    from hullcheck.answers.bath_fit import fit_readings as fit_readings
    from hullcheck.answers.bath_found import Measurements as Measurements
    from hullcheck.answers.bath_records import BathAnswer as BathAnswer
    from hullcheck.answers.check_answer import check_answer as check_answer
    from hullcheck.answers.check_evidence import CheckEvidence as CheckEvidence
    from hullcheck.answers.check_evidence import check_evidence as check_evidence
    from hullcheck.answers.check_records import CheckAnswer as CheckAnswer
    from hullcheck.answers.coats import coats_answer as coats_answer
    from hullcheck.answers.coats_records import Coat as Coat
    from hullcheck.answers.compare_answer import compare_answer as compare_answer
    from hullcheck.answers.compare_records import CompareAnswer as CompareAnswer
    from hullcheck.answers.compare_sides import Side as Side
    from hullcheck.answers.float_answer import float_answer as float_answer
    from hullcheck.answers.float_records import FloatAnswer as FloatAnswer
    from hullcheck.answers.flood_answer import flood_answer as flood_answer
    from hullcheck.answers.flood_records import FloodAnswer as FloodAnswer
    from hullcheck.answers.history_answer import history_answer as history_answer
    from hullcheck.answers.history_records import HistoryAnswer as HistoryAnswer
    from hullcheck.answers.incline import incline as incline
    from hullcheck.answers.incline_records import Shift as Shift
    from hullcheck.answers.leak_suspect_records import LeakSuspects as LeakSuspects
    from hullcheck.answers.leak_suspects import leak_suspects as leak_suspects
    from hullcheck.answers.marking_answer import marking as marking
    from hullcheck.answers.marking_records import MarksAnswer as MarksAnswer
    from hullcheck.answers.place_answer import place_answer as place_answer
    from hullcheck.answers.place_load import Wanted as Wanted
    from hullcheck.answers.place_records import PlaceAnswer as PlaceAnswer
    from hullcheck.answers.rest import waterline_of as waterline_of
    from hullcheck.answers.righting_answer import righting_answer as righting_answer
    from hullcheck.answers.righting_records import RightingAnswer as RightingAnswer
    from hullcheck.answers.scales import weighed as weighed
    from hullcheck.answers.scales_records import OnScales as OnScales
    from hullcheck.answers.scales_records import Support as Support
    from hullcheck.answers.seams_answer import seams_answer as seams_answer
    from hullcheck.answers.seams_records import SeamsAnswer as SeamsAnswer
    from hullcheck.answers.setups_answer import SetupsAnswer as SetupsAnswer
    from hullcheck.answers.setups_answer import setups_answer as setups_answer
    from hullcheck.answers.skin_answer import skin_answer as skin_answer
    from hullcheck.answers.skin_records import SkinAnswer as SkinAnswer
    from hullcheck.answers.step_answer import step_answer as step_answer
    from hullcheck.answers.step_records import StepAnswer as StepAnswer
    from hullcheck.answers.sweep_answer import sweep_answer as sweep_answer
    from hullcheck.answers.sweep_loads import Sweep as Sweep
    from hullcheck.answers.sweep_records import SweepAnswer as SweepAnswer
    from hullcheck.answers.upset_loads import Loads as Loads
    from hullcheck.answers.weights_answer import weights_answer as weights_answer
    from hullcheck.answers.weights_records import Asked as Asked
    from hullcheck.answers.weights_records import WeightsAnswer as WeightsAnswer
    from hullcheck.craft.bodies import Body as Body
    from hullcheck.craft.body_skin import BodySkin as BodySkin
    from hullcheck.craft.build import Build as Build
    from hullcheck.craft.compartment import Compartment as Compartment
    from hullcheck.craft.compartments import compartments_of as compartments_of
    from hullcheck.craft.craft import Craft as Craft
    from hullcheck.craft.ledger import Item as Item
    from hullcheck.craft.ledger import Ledger as Ledger
    from hullcheck.craft.limits import Limits as Limits
    from hullcheck.craft.logbook import Logbook as Logbook
    from hullcheck.craft.openings import Opening as Opening
    from hullcheck.craft.seam_lines import seam_lines as seam_lines
    from hullcheck.craft.setups import Setup as Setup
    from hullcheck.errors import HullcheckError as HullcheckError
    from hullcheck.files.bodies import Found as Found
    from hullcheck.files.bodies import read_bodies as read_bodies
    from hullcheck.files.build_folder import load as load
    from hullcheck.files.logbook import read_logbook as read_logbook
    from hullcheck.files.mesh_skins import read_skins as read_skins
    from hullcheck.files.reading import Reading as Reading
    from hullcheck.files.skin_writer import write_skin as write_skin
    from hullcheck.flotation.floating import Floating as Floating
    from hullcheck.flotation.floating import Rest as Rest
    from hullcheck.flotation.floating import float_at as float_at
    from hullcheck.flotation.floating import held_at as held_at
    from hullcheck.flotation.flooded import float_flooded as float_flooded
    from hullcheck.geometry.offsets import OffsetBody as OffsetBody
    from hullcheck.geometry.offsets import OffsetPoint as OffsetPoint
    from hullcheck.geometry.offsets import offset_body as offset_body
    from hullcheck.geometry.outer_records import OuterSkin as OuterSkin
    from hullcheck.geometry.outer_skin import outer_skin as outer_skin
    from hullcheck.geometry.shells import Shell as Shell
    from hullcheck.geometry.shells import outer_shells as outer_shells
    from hullcheck.geometry.skin import Skin as Skin
    from hullcheck.geometry.step import Step as Step
    from hullcheck.geometry.step import find_step as find_step
    from hullcheck.report.float_drawing import drawing_bytes as drawing_bytes
    from hullcheck.report.float_drawing import float_drawing as float_drawing
    from hullcheck.report.flood_drawing import flood_drawing as flood_drawing
    from hullcheck.report.marking_sheets import marking_sheets as marking_sheets
    from hullcheck.report.righting_curve import righting_drawing as righting_drawing
    from hullcheck.report.seams_drawing import seams_drawing as seams_drawing
    from hullcheck.report.skin_drawing import skin_drawing as skin_drawing
    from hullcheck.report.step_drawing import step_drawing as step_drawing
    from hullcheck.water import Water as Water
    from hullcheck.water import fresh_water as fresh_water
    from hullcheck.water import sea_water as sea_water
    from hullcheck.water import water_density_kg_m3 as water_density_kg_m3
    from hullcheck.water import water_of_density as water_of_density


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the name stands for
    """Return a public name, importing the module that holds it (PEP 562)."""
    if name not in _PUBLIC:
        raise AttributeError(f"module 'hullcheck' has no attribute {name!r}")
    value = getattr(importlib.import_module(_PUBLIC[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    """Return the public names, loaded or not."""
    return sorted({*globals(), *_PUBLIC})
