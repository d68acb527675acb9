"""Values of a build sheet that do not go together: refused with line and value."""

import pytest
from sheet_making import (
    CRAFT,
    EQUIPMENT,
    HULL,
    LEAK,
    SEAM,
    SETUP,
    SHEET,
    build_in,
    marked,
    refused,
)

from hullcheck.files.build_folder import load


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[limits]\ntrim_deg = [4, 0] # here\n", r"limits\.trim_deg: \[4\.0, 0\.0\]: the least"),
        ("[limits]\ntrim_deg = [2, 2] # here\n", r"limits\.trim_deg: \[2\.0, 2\.0\]: the least"),
        (
            marked(SETUP) + 'off = ["battery"]\nadd = { battery = 5 }\n',
            r"setup\[1\]: setup 'wet': 'battery' is taken off and changed as well",
        ),
        (
            marked(SETUP) + "add = { battery = -900 }\n",
            r"setup\[1\]: battery: 200 g and -900 g more make -700 g",
        ),
        (
            EQUIPMENT + "within_mm = [[210, -20, 14], [105, 20, 50]] # here\n",
            r"equipment\[1\]\.within_mm: \[\[210\.0, .*: the corner with the lesser coordinates",
        ),
        ("[water]\nkind = 'fresh'\nsalinity = 35 # here\n", r"water\.salinity: 35 is not fresh"),
        ("[water]\nsalinity = 50 # here\n", r"water\.salinity: salinity 50 .* outside 0 to 42"),
        (
            "[water]\nsalinity = 35\ntemperature_c = 60 # here\n",
            r"water\.temperature_c: water temperature 60 °C is outside -2 to 40 °C",
        ),
        (
            "[water]\nkind = 'sea'\ntemperature_c = -5 # here\n",
            r"water\.temperature_c: water temperature -5 °C is outside -2 to 40 °C",
        ),
        (
            "[water]\ndensity_kg_m3 = 1.025 # here\n",
            r"water\.density_kg_m3: water density 1\.025 .* did you mean 1025 kg/m³\?",
        ),
        (
            "[water]\nkind = 'sea'\ndensity_kg_m3 = 1025 # here\n",
            r"water\.density_kg_m3: a density stands alone; leave out kind",
        ),
        (
            "[water]\nsalinity = 30\ndensity_kg_m3 = 1025 # here\n",
            r"a density stands alone; leave out salinity",
        ),
        (
            "[water]\ntemperature_c = 4\ndensity_kg_m3 = 1000 # here\n",
            r"a density stands alone; leave out temperature_c",
        ),
        (
            marked(SEAM) + "points_mm = [[1, 2, 3], [4, 5, 6]]\n",
            r"seam\[1\]: joint: give station_mm or points_mm, one of them",
        ),
        (
            marked(SEAM).replace("station_mm = 120", ""),
            r"seam\[1\]: joint: give station_mm or points_mm, one of them",
        ),
        (
            marked(LEAK) + "wall_mm = 1\n",
            r"leak\[1\]: pinhole: give diameter_mm of a hole, or crack_width_mm",
        ),
        (
            marked(LEAK).replace("diameter_mm = 0.5", ""),
            r"leak\[1\]: pinhole: give diameter_mm of a hole, or crack_width_mm",
        ),
        (
            marked(LEAK).replace("diameter_mm = 0.5", "wall_mm = 1"),
            r"leak\[1\]: pinhole: a crack needs crack_width_mm, crack_length_mm and wall_mm",
        ),
    ],
)
def test_values_that_do_not_go_together_are_refused(tmp_path, text, said):
    """Limits, water, seams, leaks, setups and rooms that contradict themselves: line and value."""
    refused(tmp_path, text, said)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "wall_mm = 1\npermeability = 0.9 # here\n",
            r"body\[1\]\.permeability: stands beside wall_mm; keep one of them",
        ),
        (
            'material = "PLA"\ndensity_g_cm3 = 1.3 # here\n',
            r"density_g_cm3: stands beside material PLA, whose density is known \(1\.24\)",
        ),
        ("foam_mm = [1, 2, 3] # here\n", r"foam_mm: says where foam is; foam_cm3 must say how"),
        (
            "bulkheads = [{ station_mm = 310 },\n{ station_mm = 120 }] # here\n",
            r"body\[1\]\.bulkheads\[2\]\.station_mm: 120 does not lie aft of 310; list them from",
        ),
        (
            "bulkheads = [{ station_mm = 310 }, { station_mm = 310 }] # here\n",
            r"bulkheads\[2\]\.station_mm: 310 does not lie aft of 310",
        ),
    ],
)
def test_a_body_that_contradicts_itself_is_refused(tmp_path, text, said):
    """Wall and permeability, material and density, foam without amount, bulkheads out of order."""
    refused(tmp_path, text, said)


def test_a_material_that_is_not_known_may_have_a_density(tmp_path):
    """A material of the builder's own with its density: both are kept, and so is foam."""
    text = 'material = "spruce"\ndensity_g_cm3 = 0.45\nfoam_cm3 = 20\nfoam_mm = [1, 2, 3]\n'
    structure = load(build_in(tmp_path, SHEET + text)).structures["hull"]
    assert (structure.material, structure.density_g_cm3) == ("spruce", 0.45)
    assert (structure.foam_cm3, structure.foam_mm) == (20.0, (1.0, 2.0, 3.0))


def test_a_center_of_gravity_band_the_wrong_way_round(tmp_path):
    """The foremost station comes first."""
    head = CRAFT + "cg_range_mm = [258, 246] # here\n" + HULL
    refused(tmp_path, "", r"craft\.cg_range_mm: \[258\.0, 246\.0\]: the foremost", head=head)


@pytest.mark.parametrize("axes", ['forward = "-x"\nup = "+x"', 'forward = "+z"\nup = "+z"'])
def test_bow_and_sky_along_one_axis_are_refused(tmp_path, axes):
    """Forward and up must be square to each other."""
    head = f"{CRAFT}[axes]\n{axes} # here\n{HULL}"
    refused(tmp_path, "", r"axes\.up: forward .. and up .. lie along one axis", head=head)


def test_bow_along_the_sky_that_was_assumed_is_refused(tmp_path):
    """Forward alone, along the usual up: refused with the file."""
    head = f'{CRAFT}[axes]\nforward = "+z" # here\n{HULL}'
    refused(tmp_path, "", r"axes\.forward: .*hull\.stl: forward \+z and up \+z lie", head=head)


@pytest.mark.parametrize(
    ("text", "kind", "density"),
    [
        ("", "fresh", 999.1),
        ("[water]\nkind = 'sea'\n", "sea", 1025.97),
        ("[water]\nsalinity = 35\ntemperature_c = 25\n", "sea", 1023.34306),
        ("[water]\ntemperature_c = 5\n", "fresh", 999.96675),
        ("[water]\nkind = 'sea'\nsalinity = 0\ntemperature_c = 5\n", "sea", 999.96675),
        ("[water]\ndensity_kg_m3 = 1003.5\n", "given", 1003.5),
    ],
)
def test_the_water_of_a_sheet(tmp_path, text, kind, density):
    """Fresh at 15 °C unless said; salinity, temperature, a density outright.

    Those at 5 and 25 °C are check values of UNESCO Technical Papers in Marine Science 44
    (Fofonoff and Millard, 1983, p. 19); those at 15 °C are from memory.
    """
    water = load(build_in(tmp_path, SHEET + text)).water
    # Half of the last digit of the values from memory.
    assert water.density_kg_m3 == pytest.approx(density, abs=5e-3)
    assert water.kind == kind
