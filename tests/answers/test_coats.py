"""Coats and soaked walls: areas by hand on a box, what they weigh, what they do afloat."""

import numpy as np
import pytest
from crafts import box_body, box_craft, craft_of, opening_at

from hullcheck.answers.afloat import Refloater
from hullcheck.answers.coats import coat_on, coats_answer, loaded_with, skin_areas, soaked
from hullcheck.answers.coats_records import Coat
from hullcheck.craft.body_skin import BodySkin
from hullcheck.errors import InputError
from hullcheck.geometry.outer_records import OuterSkin, PartFound

# 2 (600 × 100 + 600 × 80 + 100 × 80) mm².
BOX_CM2 = 2320.0


def parted_craft():
    """Return the box with its skin: forward half and aft half, and a lid that no file has."""
    body = box_body()
    triangles = body.shell.triangles_mm
    sources = np.full(len(triangles), -1)
    sources[np.isclose(triangles[:, :, 0], 0.0).all(axis=1)] = 0
    sources[np.isclose(triangles[:, :, 2], 0.0).all(axis=1)] = 1
    parts = tuple(
        PartFound(name=f"parts/{name}.stl", triangles_mm=triangles[sources == i], kind="sheet")
        for i, name in enumerate(("bow", "bottom"))
    )
    skin = OuterSkin(
        name="hull", shells=(body.shell,), sources=(sources,), method="united", parts=parts
    )
    return craft_of(
        body,
        mass_g=1200.0,
        cg=(300.0, 0.0, 30.0),
        skins=(BodySkin(name="hull", role="hull", skin=skin),),
    )


def test_area_of_a_box_by_hand():
    """600 × 100 × 80 mm has 2320 cm² of skin, centered in its middle."""
    (area,) = skin_areas(box_craft())
    assert area.area_cm2 == pytest.approx(BOX_CM2, rel=1e-12)
    assert area.center_mm == pytest.approx((300.0, 0.0, 40.0), abs=1e-9)
    assert (area.body, area.part) == ("hull", None)


def test_grams_of_a_coat_are_area_times_grams_a_square_meter():
    """120 g/m² on 0.232 m² are 27.84 g; inside and out twice that."""
    (one,) = coat_on(box_craft(), Coat(name="epoxy", g_per_m2=120.0))
    assert one.mass_g == pytest.approx(27.84, rel=1e-12)
    (both,) = coat_on(box_craft(), Coat(name="epoxy", g_per_m2=120.0, sides="both"))
    assert both.mass_g == pytest.approx(55.68, rel=1e-12)
    assert both.area_cm2 == pytest.approx(2.0 * BOX_CM2, rel=1e-12)


def test_areas_by_part_leave_out_what_no_file_has():
    """The bow's 100 × 80 mm and the bottom's 600 × 100 mm; the rest is no part's and not coated."""
    craft = parted_craft()
    areas = {area.part: area for area in skin_areas(craft)}
    assert areas["parts/bow.stl"].area_cm2 == pytest.approx(80.0, rel=1e-12)
    assert areas["parts/bottom.stl"].area_cm2 == pytest.approx(600.0, rel=1e-12)
    assert areas["parts/bow.stl"].center_mm == pytest.approx((0.0, 0.0, 40.0), abs=1e-9)
    assert set(areas) == {"parts/bow.stl", "parts/bottom.stl"}
    for name in ("bottom", "bottom.stl", "parts/bottom.stl"):
        (one,) = coat_on(craft, Coat(g_per_m2=100.0, parts=(name,)))
        assert one.mass_g == pytest.approx(6.0, rel=1e-12)
    assert len(coat_on(craft, Coat(g_per_m2=100.0, bodies=("hull",)))) == 2


def test_a_body_of_offsets_is_coated_whole():
    """A body without files has no parts: all of its skin is its own."""
    body = box_body()
    bare = BodySkin(name="hull", role="hull", skin=None, shells=(body.shell,))
    craft = craft_of(body, mass_g=1200.0, cg=(300.0, 0.0, 30.0), skins=(bare,))
    (area,) = skin_areas(craft)
    assert (area.part, area.area_cm2) == (None, pytest.approx(BOX_CM2, rel=1e-12))


def test_a_coat_sinks_the_box_by_its_grams_over_the_waterplane():
    """27.84 g on 600 cm² of waterplane: 0.464 mm, the CG drawn 10 mm × 27.84/1227.84 up."""
    craft = box_craft(openings=(opening_at((300.0, 0.0, 70.0)),))
    answer = coats_answer(Refloater.of(craft), coat_on(craft, Coat(g_per_m2=120.0)))
    assert answer.before.freeboard_mm == pytest.approx(50.0, abs=1e-9)
    assert answer.freeboard_changes_mm == pytest.approx(-27.84 / 60.0, abs=1e-9)
    assert answer.trim_changes_deg == pytest.approx(0.0, abs=1e-9)
    up = 10.0 * 27.84 / 1227.84
    assert answer.center_moves_mm == pytest.approx((0.0, 0.0, up), abs=1e-9)
    assert answer.after.mass_g == pytest.approx(1227.84, rel=1e-12)
    assert answer.mass_g == pytest.approx(27.84, rel=1e-12)


def test_paint_on_the_bow_alone_trims_her_down():
    """6 g on the bow of a box: bow down, as (mass × arm)/(m GM_L) says within a percent."""
    craft = parted_craft()
    answer = coats_answer(Refloater.of(craft), coat_on(craft, Coat(g_per_m2=750.0, parts=("bow",))))
    assert answer.mass_g == pytest.approx(6.0, rel=1e-12)
    # KB 10, BM_L = L²/(12 T) = 1500, KG 30: GM_L = 1480 mm, with 1200 g.
    by_hand = -np.degrees(6.0 * 300.0 / (1206.0 * 1480.0))
    assert answer.trim_changes_deg == pytest.approx(by_hand, rel=0.01)


def test_water_soaked_up_by_a_body_acts_at_the_center_of_its_skin():
    """30 g in the walls of one of two boxes: at its middle, and heeling her towards it."""
    port = box_body(origin_mm=(0.0, -150.0, 0.0), name="port", role="main float")
    starboard = box_body(origin_mm=(0.0, 150.0, 0.0), name="starboard", role="main float")
    craft = craft_of(port, starboard, mass_g=2400.0, cg=(300.0, 0.0, 60.0))
    (one,) = soaked(craft, {"port": 30.0})
    assert one.center_mm == pytest.approx((300.0, -150.0, 40.0), abs=1e-9)
    answer = coats_answer(Refloater.of(craft), (one,))
    # I = 2 (600 × 100³/12 + 600 × 100 × 150²) = 2.8e9 mm⁴, V = 2.43e6 mm³, KB 10.1, KG 59.8.
    metacentric_height = 10.1 + 2.8e9 / 2.43e6 - 59.8
    by_hand = -np.degrees(30.0 * 150.0 / (2430.0 * metacentric_height))
    assert answer.heel_changes_deg == pytest.approx(by_hand, rel=0.01)
    assert answer.mass_g == 30.0


def test_loads_put_aboard_are_moments():
    """100 g at 0 and 300 g at 400 mm: 400 g at 300 mm."""
    mass, center = loaded_with(100.0, (0.0, 0.0, 0.0), [(300.0, (400.0, 0.0, 8.0))])
    assert (mass, center) == (400.0, (300.0, 0.0, 6.0))


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda c: coat_on(c, Coat(g_per_m2=100.0, bodies=("wing",))), "no body 'wing'"),
        (lambda c: coat_on(c, Coat(g_per_m2=100.0, parts=("fin",))), "no part 'fin'"),
        (lambda c: soaked(c, {"fin": 3.0}), "no body 'fin'; she has: hull"),
        (lambda c: soaked(c, {"hull": -3.0}), "wet hull: -3 g"),
        (lambda _: Coat(g_per_m2=0.0), "0 g/m²"),
        (lambda _: Coat(g_per_m2=5.0, sides="top"), "'top'"),
        (lambda c: coats_answer(Refloater.of(c), ()), "nothing is added"),
    ],
)
def test_what_cannot_be_coated_is_refused(make, said):
    """A name she does not have and grams that are none are refused with their value."""
    with pytest.raises(InputError) as refused:
        make(box_craft())
    assert said in str(refused.value)


def test_without_a_center_the_change_is_refused():
    """A coat's place cannot be judged against a CG that is not known."""
    craft = box_craft(cg=None)
    with pytest.raises(InputError, match="her CG is not known"):
        coats_answer(Refloater.of(craft), coat_on(craft, Coat(g_per_m2=100.0)))


def test_a_coat_that_sinks_her_is_told():
    """16 kg/m² on a box that carries 4800 g: she sinks, and no change is made up."""
    craft = box_craft()
    answer = coats_answer(Refloater.of(craft), coat_on(craft, Coat(g_per_m2=16_000.0)))
    assert answer.after.rest == "sinks"
    assert answer.freeboard_changes_mm is None
    assert "rest-changes" in {w.code for w in answer.warnings}
