"""Tables of offsets, read from what spreadsheets write and refused row by row."""

import csv
import io

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullcheck.errors import HullcheckError, InputError, MissingFileError
from hullcheck.files.offsets_file import OFFSETS_COLUMNS, read_offsets
from hullcheck.geometry.offsets import OffsetPoint, offset_body

HEADER = "station_mm,line,half_breadth_mm,height_mm\n"


@pytest.fixture
def read(tmp_path, monkeypatch):
    """Return a function that reads text or bytes as offsets under the name float.csv."""
    monkeypatch.chdir(tmp_path)

    def reading(content):
        data = content if isinstance(content, bytes) else content.encode()
        (tmp_path / "float.csv").write_bytes(data)
        return read_offsets("float.csv")

    return reading


def point(row, station_mm, line, half_breadth_mm, height_mm):
    """Return a point by its four cells and its row."""
    return OffsetPoint(
        row=row,
        station_mm=station_mm,
        line=line,
        half_breadth_mm=half_breadth_mm,
        height_mm=height_mm,
    )


def test_points_in_the_order_of_the_file_with_their_rows(read):
    """Blank rows count, columns come in any order, two points of a station stay in theirs."""
    points, notes = read(
        "line;height_mm;station_mm;half_breadth_mm\r\n"
        "Keel;0;100;0\r\n;;;\r\n\r\n deck  edge ;40,5;100;30,25\r\nkeel;\u221212,5;100;0\r\n"
    )
    assert points == (
        point(2, 100.0, "Keel", 0.0, 0.0),
        point(5, 100.0, "deck edge", 30.25, 40.5),
        point(6, 100.0, "keel", 0.0, -12.5),
    )
    assert notes == ()


def test_a_box_from_a_file_encloses_its_volume(read):
    """Length times breadth times height, in a file of decimal commas with three digits each.

    Only 0,000 shows that the commas are no thousands groups.
    """
    rows = [
        f'{station};{line};"{half}";"{height}"'
        for station in ("0,000", "90,500")
        for line, half, height in (("keel", "0,000", "0,000"), ("deck edge", "30,125", "40,250"))
    ]
    rows[1:1] = ['0,000;chine;"30,125";"0,000"']
    rows[4:4] = ['90,500;chine;"30,125";"0,000"']
    points, _ = read(HEADER.replace(",", ";") + "\n".join(rows))
    body = offset_body(points)
    a, b, c = body.triangles_mm.transpose(1, 0, 2)
    volume = (a * np.cross(b, c)).sum() / 6.0
    # All lengths are whole eighths of a millimeter: nothing is rounded but the quotient.
    assert volume == pytest.approx(90.5 * 60.25 * 40.25, rel=1e-14)


NUMBER = st.floats(-1e5, 1e5)


@given(
    cells=st.lists(
        st.tuples(NUMBER, st.sampled_from(["keel", "chine", "deck edge", "b,1"]), NUMBER, NUMBER),
        min_size=1,
        max_size=8,
    ),
    order=st.permutations(list(OFFSETS_COLUMNS)),
    separator=st.sampled_from(",;\t"),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
)
def test_any_points_read_back_equal(tmp_path_factory, cells, order, separator, encoding):
    """In any dialect each number comes back to the last digit."""
    out = io.StringIO()
    # A last point whose 0.5 settles that points are decimal signs.
    cells = [*cells, (0.5, "keel", 0.5, 0.5)]
    writer = csv.DictWriter(out, order, delimiter=separator)
    writer.writeheader()
    for values in cells:
        writer.writerow(dict(zip(OFFSETS_COLUMNS, values, strict=True)))
    path = tmp_path_factory.getbasetemp() / "points.csv"
    path.write_bytes(out.getvalue().encode(encoding))
    points, notes = read_offsets(path)
    assert points == tuple(point(i, *values) for i, values in enumerate(cells, start=2))
    assert notes == ()


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (
            HEADER + "0,keel,0,0\n10,,0,0\n",
            "float.csv row 3, line: is empty: name the line, such as keel, chine or deck edge",
        ),
        (HEADER + ",keel,0,0\n", "float.csv row 2, station_mm: is empty: write a number"),
        (HEADER + "0,keel,,0\n", "float.csv row 2, half_breadth_mm: is empty: write a number"),
        (HEADER + "0,keel,0\n", "float.csv row 2, height_mm: is empty: write a number"),
        (
            HEADER + "0,keel,0,4 mm\n",
            (
                "float.csv row 2, height_mm: '4 mm' is not a number: leave the unit out, "
                "the column is in mm"
            ),
        ),
        (
            HEADER + "bow,keel,0,0\n",
            "float.csv row 2, station_mm: 'bow' is not a number: write one such as 12.5",
        ),
        (
            HEADER + "0,#REF!,0,0\n",
            (
                "float.csv row 2, line: '#REF!' is what a spreadsheet writes when its own formula "
                "fails: mend the formula there and save again"
            ),
        ),
        (
            HEADER + "0,keel,0,12,5\n",
            (
                "float.csv row 2: '5' in cell 5 stands under no name of the header: probably a "
                'decimal comma in a file separated by commas: write 12.5, or "12,5" in quotation '
                "marks, or name the column"
            ),
        ),
        (
            HEADER.replace("half_breadth", "breadth"),
            (
                "float.csv row 1: there is no column 'breadth_mm'; did you mean 'half_breadth_mm'? "
                "Name it so, or give it a name less alike"
            ),
        ),
        (
            "station_mm,line,height_mm\n0,keel,0\n",
            "float.csv row 1: names no column 'half_breadth_mm', but 'station_mm', 'line', "
            "'height_mm'; the first row must name the columns: " + HEADER.strip(),
        ),
        (HEADER, "float.csv: holds no points; write one in each row below the header"),
        (
            "",
            "float.csv: is empty; its first row must name the columns: " + HEADER.strip(),
        ),
    ],
)
def test_what_makes_no_sense_is_refused(read, content, message):
    """Every cell of a point is needed, and each refusal names the place and the next step."""
    with pytest.raises(InputError) as caught:
        read(content)
    assert str(caught.value) == message


def test_a_missing_file(tmp_path, monkeypatch):
    """It is refused by the name that was given."""
    monkeypatch.chdir(tmp_path)
    with pytest.raises(MissingFileError, match=r"^float\.csv: there is no such file; check the"):
        read_offsets("float.csv")


def test_damaged_offsets_are_read_or_refused(read):
    """Of 500 copies with a few bytes changed, each is read or refused by name."""
    good = (
        HEADER + "0,keel,0,0\n0,deck edge,30.25,40\n90,keel,0,-1\n90,deck edge,30,4E+01\n"
    ).encode()
    assert len(read(good)[0]) == 4
    generator = np.random.default_rng(7)
    refusals, read_copies = [], 0
    for _ in range(500):
        data = bytearray(good)
        for _ in range(generator.integers(1, 4)):
            data[generator.integers(len(data))] = int(generator.integers(256))
        try:
            points, _ = read(bytes(data))
        except HullcheckError as problem:
            refusals.append(str(problem))
        else:
            assert points
            read_copies += 1
    assert len(refusals) > 50
    assert read_copies > 10
    assert all(message.startswith("float.csv") and "\n" not in message for message in refusals)
