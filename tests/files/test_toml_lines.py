"""Lines of keys, against a writer that knows on which line it wrote each, and against tomllib."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullcheck.files.toml_lines import key_lines

# Each as it stands in a document, and what it means to a TOML reader.
BARE = [("plain", "plain"), ("a-b_1", "a-b_1"), ("1234", "1234"), ("true", "true")]
QUOTED = [
    ('"canopy edge"', "canopy edge"),
    ("'wing.seat'", "wing.seat"),
    ('"say \\"no\\" # [x]"', 'say "no" # [x]'),
    ('"\\u00e9 = 1"', "é = 1"),
    ("'a]b}c'", "a]b}c"),
    ('""', ""),
    ('"back\\\\slash"', "back\\slash"),
]
SCALARS = [
    "1",
    "-0.5e3",
    "true",
    "inf",
    "0x1F",
    "1979-05-27 07:32:00",
    "1979-05-27T07:32:00Z",
    '"#no comment, [no] {list}"',
    "'C:\\path\\'",
    '"quote \\" and \\\\"',
    '""',
    '"""one line"""',
    '"""\nfirst # no comment\n"quoted" \\\n  last"""',
    "'''\n[not.a.table]\nkey = 1\n'''",
    '"""ends in quotes"""""',
    "''''quoted'''''",
    '"""\\"""\n"""',
]
COMMENTS = ["", " # plain", " # it's [[odd]] \"}", " #"]
SPACES = ["", " ", "\t", "  "]


class Writer:
    """Writes a document and keeps the line of every path."""

    def __init__(self, draw):
        self.draw = draw
        self.text = ""
        self.lines = {}
        self.used = set()

    def one_of(self, choices):
        """Draw one of some choices."""
        return self.draw(st.sampled_from(choices))

    def put(self, text):
        """Write a text."""
        self.text += text

    def gap(self):
        """Write blanks that may stand between two signs."""
        self.put(self.one_of(SPACES))

    def note(self, path):
        """Note that a path begins here, and what it lies in, unless that began before."""
        line = self.text.count("\n") + 1
        for n in range(1, len(path) + 1):
            self.lines.setdefault(path[:n], line)

    def new_key(self, path):
        """Draw a key that is not in a table yet: as it is written, and what it is."""
        written, meant = self.one_of(BARE + QUOTED)
        while (*path, meant) in self.used:
            written = meant = f"{self.one_of(['k', 'up_deg'])}{len(self.used)}"
        self.used.add((*path, meant))
        return written, meant

    def end(self):
        """Write a comment perhaps, a line end, and perhaps a blank line or a line of comment."""
        self.put(self.one_of(COMMENTS) + "\n" + self.one_of(["", "", "\n", "# [x]\n", "  \n"]))

    def pair(self, table, depth):
        """Write key = value, the key dotted perhaps."""
        written, meant = self.new_key(table)
        texts, path = [written], (*table, meant)
        if self.draw(st.booleans()):
            written, meant = self.new_key(path)
            texts, path = [*texts, written], (*path, meant)
        self.note(path)
        self.put(self.one_of([".", " . "]).join(texts))
        self.gap()
        self.put("=")
        self.gap()
        self.value(path, depth)

    def value(self, path, depth):
        """Write a value."""
        self.note(path)
        kind = self.one_of(["scalar", "scalar", "list", "inline"] if depth < 3 else ["scalar"])
        if kind == "scalar":
            self.put(self.one_of(SCALARS))
        elif kind == "list":
            self.list(path, depth)
        else:
            self.put("{ ")
            for i in range(self.draw(st.integers(0, 3))):
                self.put(", " if i else "")
                self.pair(path, depth + 1)
            self.put(" }")

    def list(self, path, depth):
        """Write a list, over several lines perhaps."""
        count = self.draw(st.integers(0, 3))
        between = self.one_of(["", "\n", " # one, [two\n", "\n\n\t"])
        self.put("[" + between)
        for i in range(count):
            self.value((*path, i), depth + 1)
            last = i == count - 1
            self.put((self.one_of(["", ","]) if last else ",") + between)
        self.put("]")

    def document(self):
        """Write pairs, tables, tables of arrays and tables inside of these."""
        self.end()
        for _ in range(self.draw(st.integers(0, 3))):
            self.pair((), 0)
            self.end()
        for _ in range(self.draw(st.integers(0, 4))):
            written, meant = self.new_key(())
            count = self.draw(st.integers(0, 3))
            for i in range(max(count, 1)):
                path = (meant, i) if count else (meant,)
                self.note(path)
                self.put(f"[[ {written} ]]" if count else f"[{written}]")
                self.end()
                for _ in range(self.draw(st.integers(0, 3))):
                    self.pair(path, 0)
                    self.end()
                if self.draw(st.booleans()):
                    inner, inner_meant = self.new_key(path)
                    self.note((*path, inner_meant))
                    self.put(f"[{written}.{inner}]")
                    self.end()
                    self.pair((*path, inner_meant), 0)
                    self.end()


@st.composite
def documents(draw):
    """Draw a document and the line of every path in it."""
    writer = Writer(draw)
    writer.document()
    return writer.text, writer.lines


def paths_of(value, path=()):
    """Return every path of a parsed document."""
    found = [path] if path else []
    if isinstance(value, dict):
        pairs = list(value.items())
    else:
        pairs = list(enumerate(value)) if isinstance(value, list) else []
    for step, inner in pairs:
        found += paths_of(inner, (*path, step))
    return found


@given(documents())
def test_every_path_has_the_line_it_was_written_in(document):
    """Each path of what tomllib reads has the line the writer put it in, and no other path has."""
    text, written = document
    assert set(paths_of(tomllib.loads(text))) == set(written)
    assert key_lines(text) == written


@given(documents())
def test_line_ends_of_windows_count_the_same(document):
    """Carriage returns before the line feeds change no line."""
    text, written = document
    assert key_lines(text.replace("\n", "\r\n")) == written


@pytest.mark.parametrize(
    ("text", "path", "line"),
    [
        ("a = 1", ("a",), 1),
        ("\n\n# x\na = 1\n", ("a",), 4),
        ("a.b.c = 1\na.b.d = 2", ("a", "b", "d"), 2),
        ("a.b.c = 1", ("a",), 1),
        ("[a.b]\nc = 1\n[a]\nd = 2", ("a",), 1),
        ("[a.b]\nc = 1\n[a]\nd = 2", ("a", "d"), 4),
        ("[[a]]\n[[a]]\nb = 1", ("a", 1, "b"), 3),
        ("[[a]]\n[[a]]\n[a.c]\nd = 1", ("a", 1, "c", "d"), 4),
        ("[[a]]\n[[a.b]]\n[[a.b]]\n[[a]]\n[[a.b]]\nc = 1", ("a", 1, "b", 0, "c"), 6),
        ("[[a]]\n[[a]]", ("a",), 1),
        ("a = [\n  1,\n  # 2,\n  3,\n]\nb = 1", ("a", 1), 4),
        ("a = [\n  1,\n  # 2,\n  3,\n]\nb = 1", ("b",), 6),
        ("a = [[1, 2],\n[3,\n4]]", ("a", 1, 1), 3),
        ("a = [\n{ b = 1 },\n{ b = [\n2 ] }]", ("a", 1, "b", 0), 4),
        ("a = { b.c = 1, d = 2 }", ("a", "b", "c"), 1),
        ('a = """\n[b]\n"""\nc = 1', ("c",), 4),
        ("a = '''\n\\'''\nc = 1", ("c",), 3),
        ('a = """x"""""\nb = 1', ("b",), 2),
        ('"a\\tb" = 1', ("a\tb",), 1),
        ("'a.b' = 1", ("a.b",), 1),
        ("a = 1 # [b]\nc = 2", ("c",), 2),
    ],
)
def test_lines_of_small_documents(text, path, line):
    """Dotted keys, tables in arrays, lists over lines, strings over lines: the line by eye."""
    tomllib.loads(text)
    assert key_lines(text)[path] == line


def test_an_empty_document_has_no_lines():
    """Nothing, blanks and comments hold no key."""
    assert key_lines("") == key_lines(" \n\t\n") == key_lines("# [craft]\n#a = 1") == {}
