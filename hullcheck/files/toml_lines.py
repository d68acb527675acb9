"""Which line of a TOML document each key and each value stands in.

The standard library reads TOML but forgets the lines; a refusal has to name them. The text is one
that `tomllib` has already accepted, so nothing is validated here.
"""

import tomllib
from bisect import bisect_right
from typing import Final

Path = tuple[str | int, ...]
_ENDS: Final = ",]}\n#"


def key_lines(text: str) -> dict[Path, int]:
    r"""Return the line of every key path, the first line being 1.

    Parameters
    ----------
    text : str
        A TOML document that `tomllib.loads` accepts.

    Returns
    -------
    dict
        From a path such as ("body", 0, "parts", 1) to the line it begins in. Tables of an array
        and elements of a list count from 0. A table that is never headed, such as the `a` of
        `a.b = 1`, begins with the first of its keys.

    Examples
    --------
    >>> key_lines("[craft] # she\nname = 'A'")[("craft", "name")]
    2
    """
    return _Scanner(text).scanned()


class _Scanner:
    """Walks once through a document and notes where things begin."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Path, int] = {}
        self.counts: dict[Path, int] = {}
        self.starts = [0, *(i + 1 for i, c in enumerate(text) if c == "\n")]

    def scanned(self) -> dict[Path, int]:
        """Return the lines of the whole document."""
        table: Path = ()
        self._skip()
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
            self._skip()
        return self.lines

    def _note(self, path: Path, at: int) -> None:
        """Note that a path, and what it lies in, begins at a place, unless it did before."""
        line = bisect_right(self.starts, at)
        while path and path not in self.lines:
            self.lines[path] = line
            path = path[:-1]

    def _skip(self) -> None:
        """Go past blanks, line ends and comments."""
        while self.at < len(self.text):
            if self.text[self.at] == "#":
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
            elif self.text[self.at].isspace() or self.text[self.at] == "\ufeff":
                self.at += 1
            else:
                return

    def _header(self) -> Path:
        """Read [table] or [[table]] and return its path."""
        many = self.text.startswith("[[", self.at)
        start = self.at
        self.at += 2 if many else 1
        keys = self._keys("]")
        self.at += 2 if many else 1
        path: Path = ()
        for i, key in enumerate(keys):
            path = (*path, key)
            if i == len(keys) - 1 and many:
                self.counts[path] = self.counts.get(path, -1) + 1
            if path in self.counts:
                path = (*path, self.counts[path])
        self._note(path, start)
        return path

    def _pair(self, table: Path) -> None:
        """Read key = value under a table."""
        start = self.at
        path = (*table, *self._keys("="))
        self._note(path, start)
        self.at += 1
        self._value(path)

    def _keys(self, end: str) -> list[str]:
        """Read a dotted key up to an end character."""
        keys: list[str] = []
        while self.at < len(self.text):
            self._skip()
            char = self.text[self.at]
            if char == end:
                return keys
            if char == ".":
                self.at += 1
            elif char in "\"'":
                start = self.at
                self._string()
                keys.append(tomllib.loads(f"key = {self.text[start : self.at]}")["key"])
            else:
                start = self.at
                while self.at < len(self.text) and self.text[self.at] not in f". \t{end}":
                    self.at += 1
                keys.append(self.text[start : self.at])
        return keys

    def _value(self, path: Path) -> None:
        """Read a value; notes what lies in lists and inline tables."""
        self._skip()
        self._note(path, self.at)
        char = self.text[self.at : self.at + 1]
        if char == "[":
            self._list(path)
        elif char == "{":
            self._inline(path)
        elif char in {'"', "'"}:
            self._string()
        else:
            while self.at < len(self.text) and self.text[self.at] not in _ENDS:
                self.at += 1

    def _list(self, path: Path) -> None:
        """Read a list."""
        self.at += 1
        index = 0
        while True:
            self._skip()
            if self.text[self.at] == "]":
                self.at += 1
                return
            if self.text[self.at] == ",":
                self.at += 1
                continue
            self._value((*path, index))
            index += 1

    def _inline(self, path: Path) -> None:
        """Read an inline table."""
        self.at += 1
        while True:
            self._skip()
            if self.text[self.at] == "}":
                self.at += 1
                return
            if self.text[self.at] == ",":
                self.at += 1
                continue
            self._pair(path)

    def _string(self) -> None:
        """Go past a string."""
        quote = self.text[self.at]
        mark = quote * 3 if self.text.startswith(quote * 3, self.at) else quote
        self.at += len(mark)
        while not self.text.startswith(mark, self.at):
            self.at += 2 if quote == '"' and self.text[self.at] == "\\" else 1
        # A multi-line string may end in up to two quotes of its own.
        while len(mark) == 3 and self.text.startswith(quote, self.at + 3):
            self.at += 1
        self.at += len(mark)
