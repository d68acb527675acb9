"""Seams and openings as lines: of the sheet, found between parts, edges of openings."""

from dataclasses import replace

import numpy as np
import pytest
from crafts import box_body, box_craft, opening_at

from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.fittings import Fittings, Seam
from hullcheck.craft.seam_lines import SeamLine, seam_lines
from hullcheck.errors import InputError
from hullcheck.geometry.outer_records import OuterSkin, PartFound, PartSeam

UP = np.array([0.0, 0.0, 1.0])


def with_parts(craft, *stations):
    """Return the box as if its parts met at stations."""
    shell = craft.bodies[0].shell
    names = [f"parts/part{i}.stl" for i in range(len(stations) + 1)]
    parts = tuple(
        PartFound(name=n, triangles_mm=shell.triangles_mm, kind="thin wall") for n in names
    )
    skin = OuterSkin(
        name="hull",
        shells=(shell,),
        sources=(np.zeros(len(shell.triangles_mm), dtype=np.int64),),
        method="united",
        parts=parts,
        seams=tuple(
            PartSeam(
                parts=(names[i], names[i + 1]),
                normal=np.array([1.0, 0.0, 0.0]),
                place_mm=np.array([station, 0.0, 40.0]),
                gap_mm=0.0,
                mismatch_mm=0.0,
            )
            for i, station in enumerate(stations)
        ),
    )
    return replace(craft, skins=(BodySkin(name="hull", role="hull", skin=skin),))


def sheet(*seams):
    """Return fittings with seams."""
    return Fittings(seams=seams)


def test_a_seam_at_a_station_runs_round_the_hull():
    """Derived: round a box 100 × 80 mm a seam is 360 mm long, half its sides and its bottom wet."""
    craft = box_craft(fittings=sheet(Seam(name="joint", body="hull", station_mm=250.0)))
    (line,) = seam_lines(craft)
    heads = line.heads(UP, 20.0)
    assert (line.name, line.kind, line.source) == ("joint", "seam", "sheet")
    assert heads.length_mm == pytest.approx(360.0, rel=1e-12)
    assert heads.wet_length_mm == pytest.approx(140.0, rel=1e-12)
    assert np.ptp(line.points_mm[:, 0]) == 0.0


def test_seams_between_parts_are_found_and_the_sheets_name_wins():
    """A seam of the sheet within 3 mm of where parts meet is that seam; the other is named so."""
    seam = Seam(name="step joint", body="hull", station_mm=402.0)
    craft = with_parts(box_craft(fittings=sheet(seam)), 200.0, 400.0)
    lines = seam_lines(craft)
    assert [(one.name, one.source) for one in lines] == [
        ("joint of part0 and part1", "parts"),
        ("step joint", "sheet"),
    ]


def test_a_seam_of_another_body_is_not_that_seam():
    """Two bodies may have a seam at one station each."""
    other = box_body(name="float", role="main float", origin_mm=(0.0, 200.0, 0.0))
    craft = with_parts(box_craft(), 200.0)
    craft = replace(
        craft,
        bodies=(*craft.bodies, other),
        fittings=sheet(Seam(name="joint", body="float", station_mm=200.0)),
    )
    assert {one.name for one in seam_lines(craft)} == {"joint", "joint of part0 and part1"}


def test_a_line_of_points_is_taken_as_it_is():
    """A seam by points is an open line; along a found plane it is the seam found there."""
    points = np.array([[200.0, -50.0, 0.0], [200.0, 50.0, 0.0]])
    seam = Seam(name="bottom joint", body="hull", points_mm=points)
    craft = with_parts(box_craft(fittings=sheet(seam)), 200.0)
    (line,) = seam_lines(craft)
    assert line.name == "bottom joint"
    assert line.heads(UP, 9.0).crack_integral_mm2 == pytest.approx(900.0)


@pytest.mark.parametrize(
    ("points", "length"),
    [
        ([(0, 0, 80), (30, 0, 80), (30, 40, 80)], 120.0),
        ([(0, 0, 80), (30, 0, 80)], 30.0),
        ([(0, 0, 80)], 1.0),
    ],
)
def test_an_openings_edge_closes_from_three_points_on(points, length):
    """Three points are a ring, two a line, one a small hole."""
    (line,) = seam_lines(box_craft(openings=(opening_at(*points, kind="wing seat"),)))
    assert line.heads(UP, 0.0).length_mm == pytest.approx(length)
    assert (line.kind, line.state, line.is_opening) == ("wing seat", "open", True)


def test_a_station_off_the_body_is_refused():
    """A seam where there is no skin says where the body lies."""
    craft = box_craft(fittings=sheet(Seam(name="joint", body="hull", station_mm=700.0)))
    with pytest.raises(InputError, match=r"'joint': station 700 .* between stations 0 and 600"):
        seam_lines(craft)


def test_a_seam_that_runs_nowhere_is_refused():
    """A line of no points is none."""
    with pytest.raises(InputError, match="joint: runs nowhere"):
        SeamLine(name="joint", kind="seam", body="hull", lines_mm=())
