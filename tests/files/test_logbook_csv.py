"""The logbook as CSV: everything comes back to the last bit; a spreadsheet runs none of it."""

import csv
import io
import tempfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from log_making import SETUP, TEST, add, held, moments, photos, records

from hullcheck.craft.log_records import Note, Strike, WeighIn
from hullcheck.errors import InputError
from hullcheck.files.logbook import read_logbook
from hullcheck.files.logbook_csv import Imported, export_csv, import_csv
from hullcheck.files.logbook_schema import COLUMNS, NUMBERS


def written(folder):
    """Write some entries of several kinds, one of them struck out."""
    add(folder, WeighIn(mass_g=704.6, plus_minus_g=0.1))
    add(folder, SETUP)
    add(folder, TEST, finishes=2)
    add(folder, Strike(entry=1, why="another craft"))


@settings(max_examples=25)
@given(entries=st.lists(st.tuples(records(), moments(), moments(), photos()), max_size=5))
def test_export_and_import_lose_nothing(entries):
    """Any records, texts, times and pictures: the book read is what was written, and restored."""
    with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other:
        given_to = [add(one, record, at=at, photo=photo) for record, at, _, photo in entries]
        book, text = read_logbook(one), export_csv(one)
        assert [e.record for e in book.entries] == [record for record, *_ in entries]
        assert list(book.entries) == given_to
        import_csv(other, text)
        restored = read_logbook(other)
        assert repr(restored) == repr(book)  # zones and the last bit of numbers too
        assert export_csv(other) == text


@settings(max_examples=25)
@given(entries=st.lists(records(), min_size=1, max_size=4))
def test_no_cell_is_a_formula(entries):
    """No cell but a number begins with what a spreadsheet runs (OWASP, CSV Injection)."""
    with tempfile.TemporaryDirectory() as folder:
        for record in entries:
            add(folder, record)
        rows = list(csv.reader(io.StringIO(export_csv(folder), newline="")))
    for row in rows:
        for name, cell in zip(rows[0], row, strict=True):
            if cell[:1] in {"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"}:
                assert name in NUMBERS
                float(cell)


def test_the_columns_are_the_attributes_names(tmp_path):
    """Times with their zone, numbers with all their digits, yes and no, names as a JSON list."""
    written(tmp_path)
    rows = list(csv.DictReader(io.StringIO(export_csv(tmp_path), newline="")))
    assert tuple(rows[0]) == COLUMNS
    assert [row["kind"] for row in rows] == ["weigh", "leak-test start", "leak-test", "strike"]
    assert rows[0]["at"] == "2026-05-12T12:00:00+02:00"
    assert rows[2]["after_g"] == "704.6"
    assert (rows[2]["stream"], rows[2]["aft_of_step"]) == ("no", "")
    assert rows[2]["found"] == '["step joint"]'
    assert rows[3]["entry"] == "1"


def test_what_is_there_already_is_skipped(tmp_path):
    """Importing twice adds nothing; importing a longer export adds what is new."""
    written(tmp_path)
    (tmp_path / "copy").mkdir()
    text = export_csv(tmp_path)
    assert import_csv(tmp_path / "copy", text) == Imported(added=(1, 2, 3, 4), skipped=())
    before = held(tmp_path / "copy")
    assert import_csv(tmp_path / "copy", text) == Imported(added=(), skipped=(1, 2, 3, 4))
    assert held(tmp_path / "copy") == before
    add(tmp_path, Note(text="new"))
    longer = import_csv(tmp_path / "copy", export_csv(tmp_path))
    assert longer == Imported(added=(5,), skipped=(1, 2, 3, 4))
    assert read_logbook(tmp_path / "copy") == read_logbook(tmp_path)


def changed(text, old, new):
    """Return an export with something else in it, which must have been there."""
    assert old in text
    return text.replace(old, new, 1)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda t: changed(t, "704.6", "704.5"), "entry 1 is another than the one in .*logbook"),
        (lambda t: changed(t, "12:00:00+02:00", "10:00:00+00:00"), "entry 1 is another"),
        (lambda t: changed(t, "\r\n2,", "\r\n7,"), "entry 7 comes after entry 4"),
        (lambda t: changed(t, "number,", "nr,"), "line 1: no column number"),
        (lambda t: t.replace(",", ";"), "line 1: no column number: this is no export"),
        (lambda t: changed(t, "photo_sha256", "photo"), "line 1: columns that are none of its own"),
        (lambda t: changed(t, ",weigh,", ",wiegh,"), "line 2, kind: 'wiegh' is none of weigh, "),
        (lambda t: changed(t, "704.6", "704,6"), "line 2: has 33 cells, the header has 32"),
        (lambda t: changed(t, "704.6", "heavy"), "line 2: mass_g: 'heavy' is not a number"),
        (lambda t: changed(t, "704.6", "nan"), "line 2: mass_g nan: not a finite number"),
        (lambda t: changed(t, "704.6", ""), "line 2: mass_g: not there"),
        (lambda t: changed(t, "2026-05-12T12:00:00+02:00", "12/05/26"), "line 2: makes no entry"),
        (lambda t: changed(t, "+02:00", ""), "line 2: entry 1: at has no time zone"),
        (lambda t: changed(t, ",fresh,", ",salt,"), "line 3: water 'salt' is none of"),
        (lambda t: changed(t, "30.0,704.6", "30.0,704.6x"), "line 4: after_g"),
        (lambda t: t + t.split("\r\n")[4] + "\r\n", "line 6: entry 4 stands there twice"),
        (lambda t: changed(t, '"[""step joint""]"', "[1]"), "line 4: found '.1.': is no list of"),
        (lambda t: changed(t, ",weigh,,,", ",weigh,,joint,"), "line 2: a weigh has no seam"),
        (lambda t: changed(t, ",fresh,,,,no,", ",fresh,,,,maybe,"), "neither yes nor no"),
        (lambda t: changed(t, ",1,,,", ",1,,a.jpg,"), "line 5: photo_path and photo_sha256: only"),
        (lambda t: changed(t, "\r\n2,", "\r\n,"), "line 3: None is no number of an entry"),
        (lambda t: changed(t, '"[""step', '"[""step" x'), "line 4: "),
        (lambda t: changed(t, ",another craft,", ",,"), "line 5: the reason has no text"),
    ],
)
def test_what_makes_no_sense_is_refused_whole(tmp_path, change, message):
    """Each refusal names file and line, and no entry of the file is added."""
    written(tmp_path)
    wrong = change(export_csv(tmp_path))
    before = held(tmp_path)
    with pytest.raises(InputError, match=message) as refused:
        import_csv(tmp_path, wrong, name="old.csv")
    assert str(refused.value).startswith("old.csv")
    assert held(tmp_path) == before


def test_entries_that_do_not_follow_are_refused_and_make_no_file(tmp_path):
    """A part of an export, or a strike of what is not there, is no logbook."""
    written(tmp_path)
    header, *rows = export_csv(tmp_path).split("\r\n")
    (tmp_path / "new").mkdir()
    with pytest.raises(InputError, match="entry 2 comes after entry 0: those between are missing"):
        import_csv(tmp_path / "new", "\r\n".join([header, *rows[1:]]))
    strike = rows[3].replace("4,", "1,", 1)
    with pytest.raises(InputError, match="there is no entry 1 to strike out: it has none yet"):
        import_csv(tmp_path / "new", f"{header}\r\n{strike}\r\n")
    assert held(tmp_path / "new") == {}


def test_all_or_nothing_holds_for_a_failure_in_the_middle(tmp_path):
    """Two good new entries before one that conflicts: none of them is added."""
    (tmp_path / "other").mkdir()
    add(tmp_path, Note(text="same"))
    add(tmp_path / "other", Note(text="same"))
    for text in ("a", "b", "c"):
        add(tmp_path, Note(text=text))
    text = export_csv(tmp_path).replace("\r\n3,", "\r\n9,")
    before = held(tmp_path / "other")
    with pytest.raises(InputError, match="comes after"):
        import_csv(tmp_path / "other", text)
    assert held(tmp_path / "other") == before


def test_a_byte_order_mark_and_a_text_of_a_megabyte_are_no_obstacle(tmp_path):
    """What editors put in front, and more than the csv module takes by itself."""
    (tmp_path / "new").mkdir()
    add(tmp_path, Note(text="word " * 200_000))
    usual = csv.field_size_limit()
    import_csv(tmp_path / "new", "\ufeff" + export_csv(tmp_path))
    assert csv.field_size_limit() == usual
    assert read_logbook(tmp_path / "new") == read_logbook(tmp_path)


def test_an_empty_logbook_is_a_header(tmp_path):
    """Nothing is there, and nothing is made."""
    assert export_csv(tmp_path) == ",".join(COLUMNS) + "\r\n"
    assert held(tmp_path) == {}
