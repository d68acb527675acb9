"""Names of seams and openings as they are typed for the logbook, held against those known."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import PurePath
from typing import Any, Final

from hullcheck.cli.log_ask import asked
from hullcheck.cli.log_options import say
from hullcheck.craft.log_records import LeakTest, Note, Reopening, Sealing
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError
from hullcheck.files.known_names import glance_at, nearest, plain_name
from hullcheck.files.logbook import read_logbook

_JOINT: Final = re.compile(r"joint of (?P<one>.+) and (?P<other>.+)")
"""What a seam is called that only the parts tell of."""


@dataclass(slots=True, kw_only=True)
class Names:
    """Names that a seam or an opening may have.

    Attributes
    ----------
    known : tuple of str
        Those of the build sheet, and those the logbook has already.
    parts : frozenset of str
        What the parts' files are called, without their endings.
    source : str
        Where the names come from, in words; "" where there is no sheet to hold a name against.
    new : bool
        Whether any other name will do.
    """

    known: tuple[str, ...]
    parts: frozenset[str]
    source: str
    new: bool = False
    _refused: str = field(default="", init=False)

    def __call__(self, text: str) -> str:
        """Return a name as it is known; ValueError says why not, once for each new name."""
        name = " ".join(text.split())
        if not name:
            raise ValueError("there is nothing there")
        found = next((one for one in self.known if plain_name(one) == plain_name(name)), None)
        if found is not None or self.new or not self.source:
            return found or name
        joint = _JOINT.fullmatch(name)
        if joint is not None and {joint["one"], joint["other"]} <= self.parts:
            return name
        if self._refused == name:
            return name
        self._refused = name
        raise ValueError(f"{self._unknown(name)}. To keep it as a new name type it again")

    def given(self, text: str) -> str:
        """Return a name that was given on the command line; refused if it is not known."""
        try:
            return self(text)
        except ValueError as problem:
            if not text.strip():
                raise InputError("the seam's name has no text") from problem
            raise InputError(
                f"{self._unknown(' '.join(text.split()))}; --new-seam keeps it as a new name"
            ) from problem

    def _unknown(self, name: str) -> str:
        """Say that a name is not known, and those that are nearest."""
        near = nearest(name, self.known)
        hint = (
            f"nearest: {', '.join(near)}" if near else f"known: {', '.join(self.known) or 'none'}"
        )
        return f"no seam or opening is called {name!r} in {self.source} ({hint})"


def names_of(where: str, *, new: bool) -> Names:
    """Return the names a build knows; says so where there is no sheet to know them from."""
    logged = _logged(read_logbook(where))
    try:
        glance = glance_at(where)
    except InputError as problem:
        say(f"{problem}; names are not checked.")
        return Names(known=logged, parts=frozenset(), source="", new=new)
    if glance is None:
        say(f"no build sheet in {where}: names are not checked.")
        return Names(known=logged, parts=frozenset(), source="", new=new)
    known = tuple(dict.fromkeys((*glance.seams, *logged)))
    parts = frozenset(PurePath(part).stem for part in glance.parts)
    return Names(known=known, parts=parts, source=f"{glance.name} or the logbook", new=new)


def asked_seam(typed: Sequence[str], options: dict[str, Any], *, needs: str) -> str:
    """Return the seam or opening that was typed, or is asked for; a name the build knows.

    Parameters
    ----------
    typed : sequence of str
        Its words; none where it was left out.
    options : dict
        `where` and `new_seam`.
    needs : str
        What is needed, where it cannot be asked for.
    """
    names = names_of(options["where"], new=options["new_seam"])
    return asked(
        names.given(" ".join(typed)) if typed else None,
        "Which seam or opening?",
        names,
        option="SEAM",
        needs=needs,
    )


def _logged(book: Logbook) -> tuple[str, ...]:
    """Return the names that standing entries have, each once."""
    names: list[str] = []
    for entry in book.standing:
        record = entry.record
        if isinstance(record, Sealing | Reopening):
            names.append(record.seam)
        elif isinstance(record, LeakTest):
            names.extend(record.found)
        elif isinstance(record, Note) and record.about is not None:
            names.append(record.about)
    return tuple(dict.fromkeys(names))
