"""Tables as spreadsheets write them, and what is refused of them."""

import csv
import io
import os
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullcheck.errors import InputError, MissingFileError
from hullcheck.files import table as table_module
from hullcheck.files.cells import label, number, number_if_any, words
from hullcheck.files.table import read_table

COLUMNS = {"item": "", "planned_g": "g", "x_mm": "mm", "note": ""}


@pytest.fixture
def read(tmp_path, monkeypatch):
    """Return a function that reads text or bytes as a table under the name weights.csv."""
    monkeypatch.chdir(tmp_path)

    def reading(content, *, columns=COLUMNS, required=("item",)):
        data = content if isinstance(content, bytes) else content.encode()
        (tmp_path / "weights.csv").write_bytes(data)
        return read_table("weights.csv", columns=columns, required=required)

    return reading


@pytest.fixture
def refused(read):
    """Return a function that returns the message a table is refused with."""

    def refusing(content, **arguments):
        with pytest.raises(InputError) as caught:
            values(read(content, **arguments))
        message = str(caught.value)
        assert "\n" not in message
        assert "error" not in message
        return message

    return refusing


def values(table, column="planned_g"):
    """Return the numbers of a column."""
    return [number_if_any(row[column]) for row in table.rows]


def texts(table):
    """Return what the cells of each row hold, in the order of the known columns."""
    return [[row[column].text for column in COLUMNS] for row in table.rows]


ROWS = [["rib, fore", "12.5", "-3", "ü"], ["mast", "7", "", ""]]


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le-bom", "utf-16-be-bom", "cp1252"]
)
@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_dialect_reads_the_same(read, encoding, separator, end):
    """Encoding, separator and line end do not change what a table says; a guess is noted."""
    out = io.StringIO()
    csv.writer(out, delimiter=separator, lineterminator=end).writerows([list(COLUMNS), *ROWS])
    if encoding.endswith("-bom"):
        data = ("\ufeff" + out.getvalue()).encode(encoding.removesuffix("-bom"))
    else:
        data = out.getvalue().encode(encoding)
    table = read(data)
    assert texts(table) == ROWS
    assert table.page.separator == separator
    guessed = "weights.csv: is not UTF-8; read as Windows-1252, so look at letters such as é and ü"
    assert table.notes == ((("encoding-assumed", guessed),) if encoding == "cp1252" else ())


def test_cells_in_quotation_marks(read):
    """Separators, doubled marks and line breaks stand in cells as RFC 4180 writes them.

    Y. Shafranovich, Common Format and MIME Type for CSV Files, RFC 4180, 2005, section 2, rules
    5 to 7: the cells are those of its examples.
    """
    table = read('"item","note"\r\n"aaa","b \r\nbb"\r\n"ccc","b""bb"\r\nzzz,"y,yy"\r\n')
    assert [(row["item"].text, row["note"].text) for row in table.rows] == [
        ("aaa", "b \nbb"),
        ("ccc", 'b"bb'),
        ("zzz", "y,yy"),
    ]
    assert [row.number for row in table.rows] == [2, 3, 4]


def test_rows_are_numbered_as_a_spreadsheet_shows_them(read):
    """Blank rows and the header count, a cell of two lines is one row, a line sep= is hidden."""
    body = '\n;;;\nitem;note\n\n ; \n"a\nb";1\n;;\nc;2\n'
    for first in ("", "sep=;\r\n", '"SEP=;"\n'):
        table = read(first + body)
        assert table.header_row == 3
        assert [row.number for row in table.rows] == [6, 8]


def test_a_line_sep_decides(read, refused):
    """The separator it names is taken even where the header would say another."""
    assert read("sep=\t\nitem\tnote\na\tb;c\n").rows[0]["note"].text == "b;c"
    assert refused("sep=;\nitem,note\na,b\n").startswith(
        "weights.csv row 1: names no column 'item', but 'item,note'; the first row must name"
    )
    assert refused("sep=|\nitem|note\n") == (
        "weights.csv: its first line 'sep=|' asks for a separator that is not read; "
        "save with commas, semicolons or tabs"
    )


def test_columns_come_in_any_order_and_spelling(read):
    """Case, blanks, underscores and stray marks do not matter; missing ones are blank."""
    table = read(" NOTE ,\u00a0Planned  G,\ufeffItem\nhi,3,mast\n")
    assert table.columns == ("note", "planned_g", "item")
    assert texts(table) == [["mast", "3", "", "hi"]]
    row = table.rows[0]
    assert number_if_any(row["x_mm"]) is None
    assert (row["x_mm"].row, row["x_mm"].column, row["x_mm"].blank) == (2, "x_mm", True)


def test_unknown_columns(read, refused):
    """One named almost like a known one is refused with it, another is left out and noted."""
    table = read("item,price,supplier\na,3,b\n")
    left_out = "weights.csv: left out columns 'price', 'supplier'"
    assert table.notes == (("column-ignored", left_out),)
    for wrong, right in (
        ("pland_g", "planned_g"),
        ("planned", "planned_g"),
        ("Planned (g)", "planned_g"),
        ("x", "x_mm"),
        ("Notes", "note"),
    ):
        assert refused(f"\nitem,{wrong}\na,3\n") == (
            f"weights.csv row 2: there is no column '{wrong}'; did you mean '{right}'? "
            "Name it so, or give it a name less alike"
        )


def test_columns_in_another_unit_are_not_renamed(refused):
    """A column in kilograms or inches is refused with what to do to its values."""
    for wrong, right, other, unit in (
        ("planned_kg", "planned_g", "kg", "g"),
        ("x_cm", "x_mm", "cm", "mm"),
        ("x_in", "x_mm", "in", "mm"),
    ):
        assert refused(f"item,{wrong}\na,3\n") == (
            f"weights.csv row 1: there is no column '{wrong}'; did you mean '{right}'? "
            f"It holds {unit}: turn the values from {other} into {unit}, then name it so"
        )


def test_a_table_without_a_header_is_said(refused):
    """A first row of values is no header, even where two of them are alike."""
    assert refused("battery,160,0,0\n") == (
        "weights.csv row 1: holds numbers and no names; the first row must name the columns: "
        "item, planned_g, x_mm, note"
    )


def test_headers_that_make_no_sense(refused):
    """A name twice, none that is needed, or none at all is refused with the columns wanted."""
    assert refused("item,note,Item \n") == (
        "weights.csv row 1: two columns are named 'Item'; take one out, or give it another name"
    )
    assert refused("My weights\nitem,note\n") == (
        "weights.csv row 1: names no column 'item', but 'My weights'; "
        "the first row must name the columns: item,planned_g,x_mm,note"
    )
    many = ",".join(f"c{i}" for i in range(201))
    assert refused(many) == (
        "weights.csv row 1: 201 columns, over the limit of 200; keep nothing but the table in the "
        "file"
    )
    for nothing in ("", "\n\n", " ;;\n", "\ufeff", "sep=;\n"):
        assert refused(nothing) == (
            "weights.csv: is empty; its first row must name the columns: item,planned_g,x_mm,note"
        )


def test_a_row_longer_than_the_header(read, refused):
    """Blank cells more do nothing; one with something in it is half of a number, mostly."""
    assert texts(read("item,planned_g\na,1,,\nb\n")) == [["a", "1", "", ""], ["b", "", "", ""]]
    half = (
        "stands under no name of the header: probably a decimal comma in a file separated by "
        'commas: write 12.5, or "12,5" in quotation marks, or name the column'
    )
    assert refused("item,planned_g\na,12,5\n") == f"weights.csv row 2: '5' in cell 3 {half}"
    assert refused("item,,planned_g,\na,,1\nb,2,3\n") == f"weights.csv row 3: '2' in cell 2 {half}"
    assert refused("item;planned_g\na;12;5\n") == (
        "weights.csv row 2: '5' in cell 3 stands under no name of the header: put quotation marks "
        "around a cell that holds the separator, or name the column"
    )


def test_quotation_marks_that_do_not_close(read, refused):
    """They must not swallow the rows behind them; a mark for inches inside a cell is none."""
    assert texts(read('item\n3" foam\n'))[0][0] == '3" foam'
    unclosed = (
        "a cell begins with a quotation mark and does not end with one: "
        "close it, or take the mark out"
    )
    assert refused('item,note\na,b\n"c,d\ne,f\n') == f"weights.csv row 3: {unclosed}"
    assert refused('item,note\n"a"b,c\n') == f"weights.csv row 2: {unclosed}"
    assert refused('item,planned_g,note\na,1,"b\nc,2,d\ne,3"\n') == (
        "weights.csv row 2: the cell 'b?c,2,d?e,3' holds whole rows between its quotation marks: "
        "close the first one, or take it out"
    )
    assert refused("item\n" + "x" * 131073) == (
        "weights.csv row 2: a cell holds over 131072 characters: shorten it, or look for a "
        "quotation mark that is not closed"
    )


def test_too_many_rows(refused, monkeypatch):
    """Rows with something in them are counted, not blank ones."""
    monkeypatch.setattr(table_module, "MAX_ROWS", 3)
    assert refused("item\na\n\n\n\nb\nc\n") == (
        "weights.csv row 7: over the limit of 3 rows that are not blank; "
        "keep nothing but the table in the file"
    )


def test_a_sheet_saved_with_all_its_blank_rows(read):
    """Several hundred thousand of them are passed over."""
    (row,) = read("item;note\n" + ";\n" * 500_000 + "a;\n").rows
    assert row.number == 500_002


SAVE = "save the table as CSV (UTF-8) from the spreadsheet"


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"PK\x03\x04rest", "looks like a spreadsheet's own file (xlsx, ods) or another ZIP arch"),
        (b"PK\x05\x06", "looks like an empty ZIP archive, not a CSV file"),
        (b"\xd0\xcf\x11\xe0\xa1", "looks like a spreadsheet's own file (xls), not a CSV file"),
        (b"%PDF-1.7", "looks like a PDF document, not a CSV file"),
        (b"glTF\x02\0", "looks like a mesh, not a CSV file"),
        (b"\xef\xbb\xbf <html>", "looks like a web page or another XML document, not a CSV file"),
        (b"item\n\xff\xfe\x81", "is not text: byte 8 is 0x81, which is neither UTF-8 nor Windows"),
        ("item\n".encode("utf-16-le"), "is not text: character 2 is 0x00, which no table holds"),
        (b"item\n\x1a", "is not text: character 6 is 0x1A, which no table holds"),
        (b"\xef\xbb\xbfitem\n\xe9", "is damaged: it is marked as UTF-8, but byte 9 is none"),
        (b"\xff\xfei\0t", "is damaged: it is marked as UTF-16, but byte 5 is none"),
        (bytes(84) + b"\x0c\0\0\0", "is not text: character 1 is 0x00, which no table holds"),
    ],
)
def test_what_is_no_text_is_refused(refused, data, what):
    """A workbook, a document, a mesh or damage is named, with how to save the table."""
    message = refused(data)
    assert message.startswith(f"weights.csv: {what}")
    assert SAVE in message


def test_files_that_cannot_be_read(tmp_path, monkeypatch, refused):
    """A missing file, a folder, a pipe and one too large are each refused."""
    monkeypatch.chdir(tmp_path)
    for missing in ("none.csv", "weights.csv/none.csv"):
        (tmp_path / "weights.csv").write_text("item\n")
        with pytest.raises(MissingFileError, match=f"^{missing}: there is no such file; check"):
            read_table(missing, columns=COLUMNS, required=())
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    for name, why in (
        ("folder", "folder: is a folder; name a CSV file in it"),
        ("pipe", "pipe: is no plain file; name a CSV file"),
        ("nul\0byte", "nul\0byte: cannot be read (embedded null byte); check the name and"),
    ):
        with pytest.raises(InputError, match="^" + re.escape(why)):
            read_table(name, columns=COLUMNS, required=())
    assert refused(b"item\n" + bytes(10_000_000)) == (
        "weights.csv: 10000005 bytes, over the limit of 10000000 (10 MB); "
        "keep nothing but the table in it"
    )


def test_a_file_that_is_being_written(refused, monkeypatch):
    """Where there is more than there was a moment ago, half a table would be read."""
    real = Path.stat

    def a_moment_ago(path):
        fields = list(real(path))
        fields[6] -= 3  # the size
        return os.stat_result(fields)

    monkeypatch.setattr(Path, "stat", a_moment_ago)
    assert refused("item\nmast\n") == (
        "weights.csv: 7 bytes at first and 8 when read: it is being written; "
        "try again when that is done"
    )


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("0", 0.0),
        ("12.5", 12.5),
        ("12,5", 12.5),
        ("1,25", 1.25),
        ("0,250", 0.25),
        ("0.1250", 0.125),
        ("1250,125", 1250.125),
        ("+3", 3.0),
        (".5", 0.5),
        (",5", 0.5),
        ("-7,25", -7.25),
        ("\u22127.25", -7.25),
        ("1E+02", 100.0),
        ("1,250E+01", 12.5),
        ("1e-3", 0.001),
        ("\u00a012.5\u202f", 12.5),
        ("\u200912.5 ", 12.5),
        ("0.1000000000000000055511151231257827", 0.1),
        ("0012", 12.0),
    ],
)
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_numbers_that_say_one_thing(read, text, value, separator):
    """A point or a comma is the decimal sign in any file where it cannot part thousands."""
    table = read(f'item{separator}x_mm\na{separator}"{text}"\n')
    assert values(table, "x_mm") == [value]
    assert number(table.rows[0]["x_mm"]) == value


@given(value=st.floats(min_value=-1e9, max_value=1e9))
def test_numbers_are_read_to_the_last_digit(tmp_path_factory, value):
    """What Python writes of a number is read back as the same float."""
    path = tmp_path_factory.getbasetemp() / "number.csv"
    path.write_text(f"item,x_mm\na,{value!r}\n")
    assert values(read_table(path, columns=COLUMNS, required=()), "x_mm") == [value]


def test_numbers_that_could_be_two(read, refused):
    """A sign before three digits is read only where the rest of the file settles it."""
    where = "weights.csv row 2, planned_g:"
    for text, separator, why in (
        ("1,250", ",", "could be 1250 or 1.25: write 1250 or 1.25"),
        ("-1,250", ",", "could be -1250 or -1.25: write -1250 or -1.25"),
        ("12,000", ",", "could be 12000 or 12: write 12000 or 12"),
        ("1,125", ",", "could be 1125 or 1.125: write 1125 or 1.1250"),
        ("1,250", ";", "could be 1250 or 1.25: write 1250 or 1,25"),
        ("1,125", "\t", "could be 1125 or 1.125: write 1125 or 1,1250"),
        ("1.250", ";", "could be 1250 or 1.25: write 1250 or 1.25"),
        ("1.250", "\t", "could be 1250 or 1.25: write 1250 or 1.25"),
    ):
        table = f'item{separator}planned_g\na{separator}"{text}"\n'
        assert refused(table) == f"{where} '{text}' {why}"
        # What it says to write is read as that.
        lone, clear = re.fullmatch(r".*: write (\S+) or (\S+)", why).groups()
        for written in (lone, clear):
            again = read(f'item{separator}planned_g\na{separator}"{written}"\n')
            assert values(again) == [float(written.replace(",", "."))]


def test_other_numbers_settle_the_decimal_sign(read, refused):
    """Beside 0,5 in another column, 1,250 is 1.25 and 1.250 is in doubt; and the reverse."""
    assert values(read("item;planned_g;x_mm\na;1,250;0,5\n")) == [1.25]
    assert values(read("item;planned_g;x_mm\na;1.250;0.5\n")) == [1.25]
    assert values(read("item,planned_g\na,1.250\n")) == [1.25]
    doubt = "weights.csv row 2, planned_g: '1.250' could be 1250 or 1.25: write 1250 or"
    assert refused("item;planned_g;x_mm\na;1.250;0,5\n") == f"{doubt} 1,25"
    assert refused('item,planned_g,x_mm\na,1.250,"0,5"\n') == f"{doubt} 1,25"
    # Quoted commas in a file separated by commas settle nothing: either may be a slip.
    assert refused('item,planned_g,x_mm\na,"1,250","0,5"\n').endswith("write 1250 or 1,25")
    # Words settle nothing.
    assert refused("item;planned_g;note\na;1,250;0,5\n").endswith("write 1250 or 1,25")


def test_both_decimal_signs_in_a_file_are_noted(read, refused):
    """12,5 and 12.5 each say one thing; where both stand, 1.250 is in doubt in any file."""
    table = read("item;planned_g\na;12,5\nb;13.5\n")
    assert values(table) == [12.5, 13.5]
    mixed = "weights.csv: numbers with decimal points and with decimal commas; read as such"
    assert table.notes == (("decimal-signs-mixed", mixed),)
    assert refused("item;planned_g\na;12,5\nb;13.5\nc;1.250\n").startswith(
        "weights.csv row 4, planned_g: '1.250' could be 1250 or 1.25"
    )


GROUPS = "has thousands groups or two signs: write the digits with one decimal sign at most"
DATE = (
    "is a date or a time, which spreadsheets make of numbers: format the column as numbers and "
    "type the number again"
)
FORMULA = (
    "is what a spreadsheet writes when its own formula fails: mend the formula there and save again"
)
UNIT = "is not a number: leave the unit out, the column is in g"
NEITHER = "is not a number: write one such as 12.5, or leave the cell empty if it is not known"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        *[(text, GROUPS) for text in ("1.250,5", "1,250.5", "1,250,000", "1.250.000", "12..5")],
        *[(text, GROUPS) for text in ("1 250", "1\u202f250,5", "1'250", "1’250", "12.5.5")],
        *[(text, DATE) for text in ("12. Mai", "12-May", "01.05.2026", "2026-05-01", "12.05.")],
        *[(text, DATE) for text in ("5/12/2026", "May-12", "3. März 2026", "12 févr.", "12/5")],
        *[(text, DATE) for text in ("2026-05-01 00:00:00", "12:30", "1. Dez. 26", "1.5.26")],
        *[(text, FORMULA) for text in ("#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#N/A", "#WERT!")],
        *[(text, FORMULA) for text in ("#NV", "Err:502", "#NULL!", "#BEZUG!", "#####")],
        *[(text, UNIT) for text in ("12 g", "12g", "-12,5 mm", "0.5 kg", "12 %", '3"', "5\u00a0g")],
        *[(text, NEITHER) for text in ("nan", "NaN", "inf", "-inf", "Infinity", "?", "n/a", "-")],
        *[(text, NEITHER) for text in ("ca. 12", "~12", "1_000", "0x10", "--5", "12.", "12 ± 1")],
        *[(text, NEITHER) for text in ("١٢", "e5", "+", ".", "5-", "(12)", "twelve")],
        ("=B2+B3", "is a formula: save the table with values instead of formulas"),
        ("1E+300", "is beyond the limit of 1000000000 g: check the number"),
        ("-1000000001", "is beyond the limit of 1000000000 g: check the number"),
        ("1E+999", "is beyond the limit of 1000000000 g: check the number"),
    ],
)
def test_what_is_no_number_is_refused(refused, text, why):
    """File, row, column, value and the next step are in one line."""
    quoted = text.replace('"', '""')
    shown = "".join(c if c.isprintable() else "?" for c in text)
    where = "weights.csv row 4, planned_g:"
    assert refused(f'\nitem;planned_g\n\na;"{quoted}"\n') == f"{where} '{shown}' {why}"


def test_a_blank_is_a_number_only_where_it_may_be(read):
    """`number` refuses it by place, and says nothing of leaving cells empty."""
    first, second = read("item;x_mm\na; \nb;lots\n").rows
    with pytest.raises(InputError, match=r"^weights\.csv row 2, x_mm: is empty: write a number$"):
        number(first["x_mm"])
    with pytest.raises(InputError, match=r"'lots' is not a number: write one such as 12\.5$"):
        number(second["x_mm"])


def test_words(read):
    """A failed formula is no name; a name is one line of at most 120 characters."""
    first, second, third = read(f'item\n#REF!\n"tail \u200b\n boom"\n{"x" * 121}\n').rows
    with pytest.raises(InputError, match=re.escape(f"weights.csv row 2, item: '#REF!' {FORMULA}")):
        words(first["item"])
    assert label(second["item"]) == "tail boom"
    with pytest.raises(InputError, match=r"row 4.* has 121 characters, over the limit of 120: sho"):
        label(third["item"])
    assert label(read("item\n#3 rib!\n").rows[0]["item"]) == "#3 rib!"


def test_long_cells_and_headers_take_no_time(read, refused):
    """A hundred thousand blanks, digits or letters in a cell are looked at once."""
    long = "1" + " " * 100_000 + "2"
    assert refused(f"item,planned_g\na,{long}\n").endswith(GROUPS)
    assert refused(f"item,planned_g\na,{'1' * 100_000}\n").endswith("g: check the number")
    assert refused(f"item,planned_g\na,{'1,' * 9}{'1' * 90_000}\n").startswith("weights.csv row 2")
    assert read(f"item,{'q' * 100_000}\na,\n").notes[0][0] == "column-ignored"
