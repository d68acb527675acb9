"""What is no build sheet: no TOML, other encodings, other files, nothing at all."""

import struct

import pytest
from sheet_making import SHEET, box, build_in

from hullcheck.errors import InputError, MissingFileError
from hullcheck.files.sheet import read_sheet
from hullcheck.files.stl_writer import binary_stl_bytes

PNG = b"\x89PNG\r\n\x1a\n" + struct.pack(">I4sIIBBBBB", 13, b"IHDR", 16, 16, 8, 2, 0, 0, 0)


def file_of(folder, data):
    """Write bytes as a build sheet and return its path."""
    path = folder / "build.toml"
    path.write_bytes(data)
    return path


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("grams = 690,5", r"'grams = 690,5' .*decimal point: 1\.5, not 1,5"),
        ("grams = -690,5 # so", r"decimal point: 1\.5, not 1,5"),
        ("grams = .5", r"a decimal point stands between digits: 0\.5, 5\.0"),
        ("grams = 5.", r"a decimal point stands between digits: 0\.5, 5\.0"),
        ('file = "C:\\parts\\hull"', r"write paths with / or in 'single quotes'"),
        ("file = Tarnwing 90", r"'file = Tarnwing 90' \(invalid value\); text stands in quotes"),
        ("watertight = True", r"write true or false$"),
        ("watertight = no", r"write true or false$"),
        ("grams 690", r"'grams 690' \(expected '=' after a key"),
        ("grams = 690 g", r"'grams = 690 g' \(expected newline or end of document"),
        ("cg_mm = [1 2 3]", r"'cg_mm = \[1 2 3\]' \(unclosed array\)"),
        ('file = "one', r"""'file = "one' \(illegal character '\\n'\); the quote is not closed$"""),
        ("[water", r"'\[water' \(expected '\]' at the end of a table declaration\)"),
        ("[craft]", r"'\[craft\]' \(it stands there twice: one of several has double brackets"),
        ("mass_g = 5", r"'mass_g = 5' \(the key stands there twice\)"),
        ("mass_g.x = 5", r"'mass_g\.x = 5' \(the key stands there twice\)"),
        ("grams = 2021-02-30", r"'grams = 2021-02-30' \(invalid date or datetime\)"),
        ("\x07", r"'\?' \(invalid statement\)"),
    ],
)
def test_what_is_no_toml_is_told_with_its_line(tmp_path, line, said):
    """Slips of the pen: the line as it stands, what is wrong with it, and a hint where plain."""
    path = file_of(tmp_path, f"[craft]\nmass_g = 1\n#\n{line}\nlast = 1\n".encode())
    with pytest.raises(InputError, match=rf"build\.toml line 4 is no TOML: .*{said}") as caught:
        read_sheet(path)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("a = [1,\n2\n", 2, r"'2' \(unclosed array\)"),
        ('a = """x\ny\n\n', 2, r"'y' \(unterminated string\)"),
        ("a = 1\na = 2", 2, r"'a = 2' \(the key stands there twice\)"),
    ],
)
def test_what_is_not_closed_is_told_with_the_last_line(tmp_path, text, line, said):
    """A list or a text that never ends: the last line that is written."""
    with pytest.raises(InputError, match=rf"build\.toml line {line} is no TOML: .*{said}"):
        read_sheet(file_of(tmp_path, text.encode()))


@pytest.mark.parametrize(
    "data",
    [
        b"\xef\xbb\xbf" + SHEET.encode(),
        SHEET.replace("\n", "\r\n").encode(),
        b"\xef\xbb\xbf" + SHEET.replace("\n", "\r\n").encode(),
        SHEET.rstrip("\n").encode(),
    ],
    ids=["mark", "line ends", "both", "no last line end"],
)
def test_what_editors_do_to_a_sheet_changes_nothing(tmp_path, data):
    """A byte-order mark, line ends of Windows, no last line end: the same keys and lines."""
    plain = read_sheet(build_in(tmp_path / "plain"))
    changed = read_sheet(file_of(tmp_path, data))
    assert changed.keys == plain.keys
    assert changed.lines == plain.lines


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (SHEET.encode("utf-16"), r"line 1: is not UTF-8 text; save the build sheet as UTF-8"),
        (SHEET.encode("utf-16-le"), r"line 1: is not UTF-8 text; save the build sheet as UTF-8"),
        (
            SHEET.replace('"Test"', '"Lærke"').encode("latin-1"),
            r"line 2: is not UTF-8 text; save the build sheet as UTF-8 from a text editor",
        ),
        (PNG, r"line 1: is not UTF-8 text"),
        (binary_stl_bytes(box()), r"line \d+: is not UTF-8 text"),
        (b"solid hull\n facet normal 0 0 1\n", r"line 1 is no TOML: 'solid hull'"),
        (b"", r"build\.toml, craft: is needed; write \[craft\] there \(1 more after it\)"),
        (b"[craft]\nname = 'x'", r"build\.toml, body: is needed; write \[\[body\]\] and below it"),
        (b"x = 1\n" * 900_000, r"5400000 bytes, and a build sheet has 4194304 at most"),
        (b"a = " + b"[" * 200_000, r"lists or tables lie too deep in each other"),
        (b"craft.mass_g = " + b"1" * 5000, r"holds a number of over 4300 digits; shorten it"),
    ],
    ids=[
        "UTF-16",
        "UTF-16 without mark",
        "Latin-1",
        "PNG",
        "STL",
        "STL in words",
        "empty",
        "no body",
        "5 MB",
        "deep",
        "digits",
    ],
)
def test_what_is_no_sheet_is_refused_in_one_line(tmp_path, data, said):
    """Other encodings, other files, nothing at all, far too much: what it is and the next step."""
    path = file_of(tmp_path, data)
    with pytest.raises(InputError, match=said) as caught:
        read_sheet(path)
    assert str(caught.value).isprintable()
    assert str(caught.value).startswith(str(path))


def test_any_depth_of_lists_is_refused_or_read(tmp_path):
    """Around the depth that Python's own reader bears, no list brings a traceback."""
    for depth in (*range(200, 520, 7), 900):
        path = file_of(tmp_path, b"craft = " + b"[" * depth + b"]" * depth)
        with pytest.raises(InputError, match=r"craft: stands once|lie too deep"):
            read_sheet(path)


def test_a_sheet_that_is_not_there(tmp_path):
    """A folder without a sheet says how to write one; a missing file is named."""
    with pytest.raises(MissingFileError, match=r"there is no build sheet; .*hullcheck begin"):
        read_sheet(tmp_path)
    for name in ("other.toml", "no/where.toml"):
        with pytest.raises(MissingFileError, match=rf"{name}: there is no such file; check"):
            read_sheet(tmp_path / name)
    sheet = build_in(tmp_path)
    with pytest.raises(MissingFileError, match=r"build\.toml/x: there is no such file"):
        read_sheet(sheet / "x")
    with pytest.raises(InputError, match=r"cannot be read \(.*null"):
        read_sheet("a\0b")


def test_what_is_no_plain_file_is_not_waited_for(tmp_path):
    """A device is refused and not read without end."""
    link = tmp_path / "build.toml"
    link.symlink_to("/dev/zero")
    with pytest.raises(InputError, match=r"build\.toml: is no plain file; name a build sheet"):
        read_sheet(link)
