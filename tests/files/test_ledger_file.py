"""The weight ledger, read from what spreadsheets write and refused row by row."""

import csv
import io
import re
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullcheck.craft.ledger import Item, Ledger
from hullcheck.errors import HullcheckError, InputError, MissingFileError
from hullcheck.files.ledger_file import LEDGER_COLUMNS, read_ledger

HEADER = "item,group,planned_g,weighed_g,x_mm,y_mm,z_mm,plus_minus_g,aboard,note\n"
NUMBERS = ("planned_g", "weighed_g", "x_mm", "y_mm", "z_mm", "plus_minus_g")


@pytest.fixture
def read(tmp_path, monkeypatch):
    """Return a function that reads text or bytes as a ledger under the name weights.csv."""
    monkeypatch.chdir(tmp_path)

    def reading(content):
        data = content if isinstance(content, bytes) else content.encode()
        (tmp_path / "weights.csv").write_bytes(data)
        return read_ledger("weights.csv")

    return reading


@pytest.fixture
def refused(read):
    """Return a function that returns the message a ledger is refused with."""

    def refusing(content):
        with pytest.raises(InputError) as caught:
            read(content)
        message = str(caught.value)
        assert "\n" not in message
        assert "error" not in message
        return message

    return refusing


def written(value, decimal):
    """Return a number with a decimal sign, never with just three digits behind it."""
    text = repr(value)
    if re.fullmatch(r"-?[0-9]+\.[0-9]{3}", text):
        text += "0"
    return text.replace(".", decimal)


def cells_of(item, decimal):
    """Return what a ledger's row holds of an item, by column."""
    cells = {"item": item.name, "group": item.group, "note": item.note}
    cells["aboard"] = "yes" if item.aboard else "no"
    for column in NUMBERS:
        value = getattr(item, column)
        cells[column] = "" if value is None else written(value, decimal)
    return cells


NAME = (
    st.text(alphabet="abkzXYZ019 ,;.'\"-/&üéß°", min_size=1, max_size=12)
    .map(lambda text: " ".join(text.split()))
    .filter(bool)
)
MASS = st.none() | st.just(0.0) | st.floats(0.0, 1e6)
PLACE = st.none() | st.floats(-1e5, 1e5)
ITEMS = st.lists(
    st.builds(
        Item,
        name=NAME,
        group=NAME | st.just(""),
        planned_g=MASS,
        weighed_g=MASS,
        x_mm=PLACE,
        y_mm=PLACE,
        z_mm=PLACE,
        plus_minus_g=MASS,
        aboard=st.booleans(),
        note=st.just("") | NAME | st.tuples(NAME, NAME).map("\n".join),
    ),
    min_size=1,
    max_size=6,
    unique_by=lambda item: item.name.casefold(),
)


@given(
    items=ITEMS,
    order=st.permutations(list(LEDGER_COLUMNS)),
    signs=st.tuples(st.sampled_from(",;\t"), st.sampled_from(".,")),
    file=st.tuples(
        st.sampled_from(["\n", "\r\n", "\r"]),
        st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "cp1252"]),
        st.lists(st.sampled_from(["", ";", " "]), max_size=8),
    ),
)
def test_a_ledger_in_any_dialect_reads_back_equal(tmp_path_factory, items, order, signs, file):
    """Separator, decimal sign, encoding, line ends, column order and blank rows change nothing."""
    (separator, decimal), (end, encoding, blanks) = signs, file
    out = io.StringIO()
    # The csv module leaves a line break unquoted where another one ends the rows.
    quoting = csv.QUOTE_ALL if end == "\r" else csv.QUOTE_MINIMAL
    writer = csv.writer(out, delimiter=separator, lineterminator=end, quoting=quoting)
    rows = [order] + [[cells_of(item, decimal)[column] for column in order] for item in items]
    for i, row in enumerate(rows):
        if i < len(blanks):
            out.write(blanks[i].replace(";", separator * 9) + end)
        writer.writerow(row)
    path = tmp_path_factory.getbasetemp() / "dialect.csv"
    path.write_bytes(out.getvalue().encode(encoding))
    ledger, _ = read_ledger(path)
    assert ledger == Ledger(items=tuple(items))
    path.write_bytes(f"sep={separator}{end}{out.getvalue()}".encode(encoding))
    ledger, _ = read_ledger(path)
    assert ledger == Ledger(items=tuple(items))


def test_a_ledger_by_another_writer(tmp_path):
    """What pandas writes in the German way is read with the same numbers, blanks as blanks."""
    pandas = pytest.importorskip("pandas")
    generator = np.random.default_rng(5)
    frame = pandas.DataFrame(
        {
            "item": [f"rib {i}" for i in range(50)],
            "planned_g": [round(generator.uniform(0.0, 300.0), 4) for _ in range(50)],
            "weighed_g": [None if i % 3 else generator.uniform(0.0, 3000.0) for i in range(50)],
            "x_mm": [generator.uniform(-10.0, 900.0) for _ in range(50)],
            "aboard": [i % 2 == 0 for i in range(50)],
        }
    )
    for arguments in (
        {"sep": ";", "decimal": ","},
        {"sep": "\t", "encoding": "utf-16"},
        {"encoding": "utf-8-sig", "lineterminator": "\r\n"},
    ):
        frame.to_csv(tmp_path / "weights.csv", index=False, **arguments)
        ledger, notes = read_ledger(tmp_path / "weights.csv")
        assert notes == ()
        assert ledger.names == tuple(frame["item"])
        assert [item.planned_g for item in ledger.items] == list(frame["planned_g"])
        assert [item.x_mm for item in ledger.items] == list(frame["x_mm"])
        assert [item.aboard for item in ledger.items] == list(frame["aboard"])
        weighed = [None if pandas.isna(value) else value for value in frame["weighed_g"]]
        assert [item.weighed_g for item in ledger.items] == weighed


def test_decimal_commas_in_a_file_separated_by_commas(tmp_path):
    """Online spreadsheets write them in quotation marks, as pandas does."""
    pandas = pytest.importorskip("pandas")
    masses = [12.5, 0.25, 100.0, 7.75]
    frame = pandas.DataFrame({"item": list("abcd"), "weighed_g": masses})
    frame.to_csv(tmp_path / "weights.csv", index=False, decimal=",")
    assert '"12,5"' in (tmp_path / "weights.csv").read_text()
    ledger, notes = read_ledger(tmp_path / "weights.csv")
    assert [item.weighed_g for item in ledger.items] == masses
    assert notes == ()


def test_a_large_ledger_and_its_sum(read):
    """Of 500 items each is read, and the sum is that of exact fractions of what is written."""
    generator = np.random.default_rng(2)
    masses = [f"{generator.uniform(0.0, 60.0):.{generator.integers(7)}f}" for _ in range(500)]
    rows = [f"part {i},hull,{mass},,{i},0,{i % 7},,," for i, mass in enumerate(masses)]
    ledger, notes = read(HEADER + "\n".join(rows))
    assert len(ledger.items) == 500
    assert notes == ()
    exact = sum(Fraction(mass) for mass in masses)
    # Each mass is the float next to what is written, the sum is rounded once.
    assert ledger.mass_g == pytest.approx(float(exact), rel=2**-52)
    moment = sum(i * Fraction(mass) for i, mass in enumerate(masses))
    # The center is a quotient of such sums about an item: some 2**-52 of 500 mm, ten times.
    assert ledger.center_mm[0] == pytest.approx(float(moment / exact), abs=1e-12)


def test_what_the_columns_mean(read):
    """A blank is not known, 0 is a mass, and only the item and one mass column are needed."""
    ledger, notes = read(
        HEADER
        + 'hull,"print,\u00a0outer", 210 ,214.5,240,,31,1.5,yes,"two\r\nlines"\n'
        + "battery,,,,,,,,no,\n"
        + "tape,,0,,,,,,,\n"
    )
    assert notes == ()
    assert ledger.items[0] == Item(
        name="hull",
        group="print, outer",
        planned_g=210.0,
        weighed_g=214.5,
        x_mm=240.0,
        z_mm=31.0,
        plus_minus_g=1.5,
        note="two\nlines",
    )
    assert ledger.items[1] == Item(name="battery", aboard=False)
    assert ledger.items[2] == Item(name="tape", planned_g=0.0)
    assert ledger.unknown == ("battery",)
    assert read("weighed_g;item\n12,5;mast\n")[0].items == (Item(name="mast", weighed_g=12.5),)


@pytest.mark.parametrize(
    ("texts", "aboard"),
    [
        (("yes", "Y", "true", "TRUE", "1", "x", "X", "", " ", "WAHR", "VRAI"), True),
        (("no", "N", "False", "FALSE", "0", "FALSCH", "faux", "FALSO"), False),
    ],
)
def test_aboard(read, texts, aboard):
    """Yes and no are read as people and spreadsheets write them; blank is a yes."""
    rows = [f"part {i},1,{text}" for i, text in enumerate(texts)]
    ledger, _ = read("item,planned_g,aboard\n" + "\n".join(rows))
    assert [item.aboard for item in ledger.items] == [aboard] * len(texts)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("a,,12 g,,,,,,,", "planned_g: '12 g' is not a number: leave the unit out, the column is"),
        (
            "a,,,-3.5,,,,,,",
            "weighed_g: '-3.5' is below 0: write 0 or more, or leave the cell empty",
        ),
        ("a,,\u22123,,,,,,,", "planned_g: '\u22123' is below 0: write 0 or more, or leave the"),
        ("a,,1,,,,,-1,,", "plus_minus_g: '-1' is below 0: write 0 or more, or leave the cell"),
        ("a,,1,,middle,,,,,", "x_mm: 'middle' is not a number: write one such as 12.5, or leave"),
        ("a,,1,,,,,,maybe,", "aboard: 'maybe' is neither yes nor no: write yes, no, or leave the"),
        ("a,,1,,,,,,#N/A,", "aboard: '#N/A' is what a spreadsheet writes when its own formula"),
        ("a,,1,,,,,,,#REF!", "note: '#REF!' is what a spreadsheet writes when its own formula"),
        (
            "#REF!,,1,,,,,,,",
            "item: '#REF!' is what a spreadsheet writes when its own formula fails",
        ),
        (
            f"{'a' * 121},,1,,,,,,,",
            f"item: '{'a' * 40}…' has 121 characters, over the limit of 120",
        ),
        (
            ",,1,,,,,,,",
            "planned_g: '1' belongs to no item: name the item, or, if it is a sum, take",
        ),
        (",sum,,702,,,,,,", "weighed_g: '702' belongs to no item: name the item, or, if it is a"),
        (",,,,,#REF!,,,,", "y_mm: '#REF!' belongs to no item: name the item, or, if it is a sum"),
        ("mast,,1,,,,,,,", "item: 'mast' stands in row 2 too: take one out, or give each its own"),
        (
            "  MAST ,,1,,,,,,,",
            "item: 'MAST' stands in row 2 too: take one out, or give each its own",
        ),
    ],
)
def test_a_row_that_makes_no_sense_is_refused(refused, row, why):
    """The file as given, the row, the column, the value and the next step are in one line."""
    assert refused(f"{HEADER}mast,,1,,,,,,,\n\n{row}\n").startswith(f"weights.csv row 4, {why}")


@pytest.mark.parametrize(
    "name",
    [
        *[
            "total",
            "Total:",
            "TOTALS",
            "Sum",
            "sub-total",
            "Subtotal hull",
            "Sub total",
            "Σ",
            "∑ g",
        ],
        *[
            "all-up",
            "All up weight",
            "AUW",
            "Summe",
            "Gesamtgewicht",
            "Zwischensumme",
            "grand total",
        ],
        *["Empty weight", "flying mass", "take-off weight", "Fluggewicht", "hull (sum)", "Somme"],
    ],
)
def test_a_sum_is_no_item(refused, name):
    """It would count twice."""
    assert refused(f"item,weighed_g\nmast,3\n{name},3\n") == (
        f"weights.csv row 3, item: '{name}' is named like a sum, which would count twice: "
        "take the row out, or name it otherwise"
    )


@pytest.mark.parametrize("name", ["sump", "trim weight", "totem", "fall upper", "summer cowl"])
def test_names_that_only_look_like_sums(read, name):
    """Whole words count, not letters within one."""
    assert read(f"item,weighed_g\n{name},3\n")[0].names == (name,)


def test_rows_of_words_without_an_item_are_left_out(read):
    """A heading or a remark holds no number; that it is left out is said."""
    ledger, notes = read(HEADER + ",Power,,,,,,,,\nmotor,,52,,,,,,,\n,,,,,,,,,to be weighed\n")
    assert ledger.names == ("motor",)
    sentence = "weights.csv: rows 2, 4 left out: neither an item nor a number"
    assert notes == (("row-ignored", sentence),)


def test_ledgers_without_items_or_masses(refused):
    """No rows, or no column for a mass: refused, for nothing can be summed."""
    for empty in (HEADER, HEADER + "\n,,,,,,,,,\n", HEADER + ",Power,,,,,,,,\n"):
        assert refused(empty) == (
            "weights.csv: holds no items; write one in each row below the header"
        )
    assert refused("item,x_mm\na,1\n") == (
        "weights.csv row 1: names neither 'planned_g' nor 'weighed_g'; a ledger needs one of them: "
        + HEADER.strip()
    )
    assert refused("planned_g\n1\n").startswith("weights.csv row 1: names no column 'item', but 'p")
    with pytest.raises(
        MissingFileError, match=r"^none\.csv: there is no such file; check the name"
    ):
        read_ledger("none.csv")


GOOD = (
    HEADER + "hull,print,210,214.5,240,0,31,1,yes,\n"
    'battery,"power, wet",92,,180,,22,,no,"three\ncells"\n'
    "receiver,radio,9,8.7,200.25,-12,25,0.1,x,é\n\nservo,radio,2E+01,,305,4,40,,,\n"
)


STRAY = [b",", b";", b'"', b"\n", b"\r", b"-", b"\0", b"9e"]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_damaged_ledger_is_read_or_refused(read, encoding):
    """Of 500 copies with some bytes changed, each is read or refused in one line by name."""
    good = (GOOD if encoding != "cp1252" else GOOD.replace(",", ";")).encode(encoding)
    assert len(read(good)[0].items) == 4
    generator = np.random.default_rng(len(good))
    refusals, read_copies = [], 0
    for _ in range(500):
        data = bytearray(good)
        for _ in range(generator.integers(1, 5)):
            at = int(generator.integers(len(data)))
            change = generator.integers(3)
            if change == 0:
                data[at] = int(generator.integers(256))
            elif change == 1:
                del data[at : at + int(generator.integers(1, 10))]
            else:
                data[at:at] = STRAY[generator.integers(len(STRAY))]
        try:
            ledger, _ = read(bytes(data))
        except HullcheckError as problem:
            refusals.append(str(problem))
        else:
            assert ledger.mass_g >= 0.0
            read_copies += 1
    assert len(refusals) > 50
    assert read_copies > 10
    for message in refusals:
        assert re.match(r"weights\.csv(:| row [0-9]+)", message)
        assert "\n" not in message
