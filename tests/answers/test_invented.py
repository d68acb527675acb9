"""Faces under water that no file has: what the water cuts off, what is refused, what is said."""

import re
import tomllib
from dataclasses import replace

import numpy as np
import pytest
from crafts import box_body, box_craft
from hypothesis import given
from strategies import normals, uniform

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.invented import below
from hullcheck.answers.skin_answer import area_below_mm2
from hullcheck.craft.body_skin import BodySkin
from hullcheck.errors import SurfaceError
from hullcheck.geometry.areas import surface_area_mm2
from hullcheck.geometry.outer_records import OuterSkin, PartFound, Patch

UP = np.array([0.0, 0.0, 1.0])


def flat(low, high, *, kind="opening", name="a hole"):
    """Return a flat rectangle between two corners as a patch; outward is down or aside."""
    a, c = np.array(low, dtype=float), np.array(high, dtype=float)
    axis = int(np.argmin(np.abs(c - a)))
    b, d = a.copy(), a.copy()
    b[(axis + 1) % 3], d[(axis + 2) % 3] = c[(axis + 1) % 3], c[(axis + 2) % 3]
    edge = np.array([a, d, c, b])
    faces = np.array([[a, d, c], [a, c, b]])
    return Patch(name=name, kind=kind, triangles_mm=faces, edge_mm=edge, error_mm3=1.0)


def craft_with(*patches, **more):
    """Return the box that floats at 20 mm of draft, some of its faces invented."""
    shell = box_body().shell
    made = OuterSkin(
        name="hull",
        shells=(shell,),
        sources=(np.zeros(len(shell.triangles_mm), dtype=np.int64),),
        method="united",
        parts=(PartFound(name="a.stl", triangles_mm=shell.triangles_mm, kind="thin wall"),),
        patches=patches,
    )
    skin = BodySkin(name="hull", role="hull", skin=made)
    return box_craft(skins=(skin,), **more)


@given(normals(), uniform(-40.0, 40.0))
def test_what_the_water_cuts_off_is_under_it_and_has_the_area(normal, height):
    """The parts of 40 random triangles below a plane: none above it, the area by shares."""
    triangles = np.random.default_rng(5).uniform(-50.0, 50.0, (40, 3, 3))
    wet = below(triangles, normal, height)
    if len(wet):
        assert float((wet @ normal).max()) <= height + 1e-9
    shares = area_below_mm2(triangles, tuple(normal), height)
    assert surface_area_mm2(wet) == pytest.approx(shares, rel=1e-9, abs=1e-6)


def test_triangles_in_the_plane_and_touching_it_are_cut_cleanly():
    """Wholly under stays as it is, a corner at the plane adds nothing, above is nothing."""
    under = np.array([[[0.0, 0, -2], [1, 0, -2], [0, 1, -1]]])
    above = -under
    touching = np.array([[[0.0, 0, 0], [1, 0, 2], [0, 1, 2]]])
    assert below(np.concatenate([under, above, touching]), UP, 0.0).tolist() == under.tolist()


@pytest.mark.parametrize(
    ("patch", "said"),
    [
        (flat((100, -20, 0), (160, 20, 0)), "60 × 40 mm of it are under water"),
        (flat((100, -50, 0), (180, -50, 80)), None),
        (flat((100, -15, 0), (158, 15, 0)), None),
        (flat((100, -20, 0), (160, 20, 0), kind="lid"), None),
        (flat((100, -20, 80), (160, 20, 80)), None),
        (flat((0, -31 / 2, 0), (100, 31 / 2, 0)), "100 × 31 mm of it are under water"),
    ],
    ids=["bottom", "side, 20 mm of it wet", "30 mm wide", "a lid", "deck", "31 mm wide"],
)
def test_a_wide_face_under_water_is_refused(patch, said):
    """Wider than 30 mm both ways as far as it is wet; a lid declares it; dry does not matter.

    Those that pass are under 2 % of the box's wetted area: 600 × 100 + 2 × 700 × 20 = 88000 mm².
    """
    if said is None:
        assert float_answer(craft_with(patch)).rest == "upright"
        return
    with pytest.raises(SurfaceError, match=said):
        float_answer(craft_with(patch))


@pytest.mark.parametrize("count", [4, 5])
def test_many_small_faces_are_refused_together(count):
    """20 × 20 mm each of a wetted area of 88000 mm²: four are 1.8 %, five are 2.3 %."""
    craft = craft_with(
        *(flat((x, -10, 0), (x + 20, 10, 0)) for x in range(100, 100 + 40 * count, 40))
    )
    if count == 4:
        assert float_answer(craft).wetted_area_cm2 == pytest.approx(880.0, rel=1e-9)
        return
    with pytest.raises(SurfaceError, match=r"it and 4 more like it are 2\.3 % of her wetted area"):
        float_answer(craft)


def test_the_refusal_names_place_and_size_and_what_to_write():
    """Patch, place, size; a lid of the sheet and a well that read as TOML; in one line."""
    with pytest.raises(SurfaceError) as caught:
        float_answer(craft_with(flat((100, -20, 0), (160, 20, 0), name="opening at station 130")))
    said = str(caught.value)
    assert said.isprintable()
    assert said.startswith("hull: opening at station 130 (x 130, y 0, z 0): no file has a face")
    name, outline = re.search(
        r"\[\[lid\]\] (name = \"[^\"]+\") (outline_mm = \[\[.*?\]\])", said
    ).groups()
    lid = tomllib.loads(f"[[lid]]\n{name}\n{outline}\n")["lid"][0]
    assert sorted(lid["outline_mm"]) == [[100, -20, 0], [100, 20, 0], [160, -20, 0], [160, 20, 0]]
    floods = tomllib.loads(re.search(r"floods = \[\[.*\]\]", said)[0])["floods"]
    # Two millimeters above the bottom's hole, inside her.
    assert floods == [[130, 0, 2]]


def test_held_level_is_held_to_the_same():
    """Without a CG she is shown held level, and the bottom is as unknown there."""
    with pytest.raises(SurfaceError, match="under water"):
        float_answer(craft_with(flat((100, -20, 0), (160, 20, 0)), cg=None))


def test_a_craft_that_sinks_is_told_so_first():
    """Too heavy for her whole skin: no face of it matters."""
    craft = craft_with(flat((100, -20, 0), (160, 20, 0)), mass_g=6000.0)
    assert float_answer(craft).rest == "sinks"


def test_upside_down_nothing_is_refused():
    """With her center far above her she capsizes, the open deck under water: that is the answer."""
    deck = flat((100, -20, 80), (160, 20, 80))
    craft = replace(craft_with(deck), center_of_gravity_mm=(300.0, 0.0, 140.0))
    assert float_answer(craft).rest == "capsized"


def test_the_groove_around_a_hatch_is_not_wide():
    """A frame of 60 × 40 mm, 0.5 mm wide, fills 4 % of its box: under water it is a groove."""
    sides = [
        flat((100, -20, 0), (160, -19.5, 0)),
        flat((100, 19.5, 0), (160, 20, 0)),
        flat((100, -19.5, 0), (100.5, 19.5, 0)),
        flat((159.5, -19.5, 0), (160, 19.5, 0)),
    ]
    faces = np.concatenate([side.triangles_mm for side in sides])
    edge = flat((100, -20, 0), (160, 20, 0)).edge_mm
    frame = Patch(name="hatch", kind="opening", triangles_mm=faces, edge_mm=edge, error_mm3=1.0)
    assert float_answer(craft_with(frame)).rest == "upright"
