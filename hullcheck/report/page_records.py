"""What the report's page is made of: sections with tables, pictures and sentences, all plain text.

Nothing here is escaped; the templates do that.
"""

from dataclasses import dataclass
from typing import Literal

Mark = Literal["stop", "not known", "caution", "pass"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PagePoint:
    """One point of the list: its state, what is asked, what was found, what to do.

    Attributes
    ----------
    state : str
        "stop", "not known", "caution" or "pass".
    question, name : str
        In a few words, and in fewer, for a line that names several.
    finding : str
        With number, unit and limit.
    evidence : str
        What it rests on, and of when.
    next_step : str
        "" for nothing.
    presses : bool
        Whether it must be settled before she goes on the water.
    """

    state: Mark
    question: str
    name: str
    finding: str
    evidence: str
    next_step: str
    presses: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PageCell:
    """A cell of a table.

    Attributes
    ----------
    text : str
        What stands in it.
    number : bool
        Whether it is set to the right.
    strong : bool
        Whether it is bold.
    limit : bool
        Whether it is in the color of what limits.
    seam : str
        A state of a seam whose line and mark stand before the text; "" for none.
    state : str
        A state of the list whose mark stands before the text; "" for none.
    more : str
        A second line, softer.
    """

    text: str
    more: str = ""
    number: bool = False
    strong: bool = False
    limit: bool = False
    seam: str = ""
    state: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PageTable:
    """A table.

    Attributes
    ----------
    title : str
        What it shows.
    head : tuple of PageCell
        Names of its columns with their units; empty for a list of labels with their values.
    rows : tuple of tuple of PageCell
        The first cell of a row names it.
    notes : tuple of str
        Sentences under it.
    wide : bool
        Whether it stands under the drawing, not beside it.
    """

    title: str
    rows: tuple[tuple[PageCell, ...], ...]
    head: tuple[PageCell, ...] = ()
    notes: tuple[str, ...] = ()
    wide: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PagePicture:
    """A drawing as addresses that carry it.

    Attributes
    ----------
    uri, narrow_uri : str
        "data:image/svg+xml,…", already fit for an attribute in double quotes; narrow is "" where
        there is no second drawing for a phone.
    width, height, narrow_width, narrow_height : int
        [px]
    title : str
        The finding.
    alt : str
        The finding and its numbers in words.
    """

    uri: str
    width: int
    height: int
    title: str
    alt: str
    narrow_uri: str = ""
    narrow_width: int = 0
    narrow_height: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PageSection:
    """A section, titled with the builder's question.

    Attributes
    ----------
    key : str
        Its anchor.
    question : str
        Its title.
    answer : str
        The answer in a sentence; "" where table and picture say it.
    tables : tuple of PageTable
    picture : PagePicture or None
    notes : tuple of str
        Sentences behind all of it.
    missing : str
        Why there is no picture, and what would help; "" where there is one, or none is wanted.
    """

    key: str
    question: str
    answer: str = ""
    tables: tuple[PageTable, ...] = ()
    picture: PagePicture | None = None
    notes: tuple[str, ...] = ()
    missing: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PageHead:
    """The first screen: who she is, the verdict, the list, and how she floats.

    Attributes
    ----------
    name : str
        What she is called.
    identity : tuple of str
        Setup, mass, water, logbook: a few words each.
    verdict : str
        The finding of the list, at most 62 characters.
    state : str
        The worst state in the list.
    sentence : str
        What must be settled; "" where nothing must.
    well : str
        What is well, and what is next.
    facts : tuple of (str, str)
        Grams left, the lowest opening, the seam to look at: a label and its words each.
    points : tuple of PagePoint
        Worst first.
    picture : PagePicture
        How she floats.
    closing : tuple of str
        What the list is not.
    """

    name: str
    identity: tuple[str, ...]
    verdict: str
    state: Mark
    sentence: str
    well: str
    facts: tuple[tuple[str, str], ...]
    points: tuple[PagePoint, ...]
    picture: PagePicture
    closing: tuple[str, ...]

    @property
    def pressing(self) -> tuple[PagePoint, ...]:
        """The points that did not pass."""
        return tuple(point for point in self.points if point.state != "pass")

    @property
    def passed(self) -> tuple[PagePoint, ...]:
        """The points that passed."""
        return tuple(point for point in self.points if point.state == "pass")

    def shown(self, most: int) -> int:
        """Return how many of the pressing points are shown: all but cautions beyond so many."""
        firm = sum(point.state != "caution" for point in self.pressing)
        return len(self.pressing) if len(self.pressing) <= most + 1 else max(firm, most)

    @property
    def roomy(self) -> bool:
        """Whether the first screen of a desk has room for the points that passed, one by one."""
        return 63 * len(self.pressing) + 44 * len(self.passed) <= 640


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedFile:
    """A file that was read, and what its bytes hash to.

    Attributes
    ----------
    name : str
        As the build sheet names it, relative to the sheet.
    what : str
        "build sheet", "ledger", "logbook", "mesh" or "offsets".
    sha256 : str
        64 hex digits.
    size_bytes : int
        [bytes]
    """

    name: str
    what: str
    sha256: str
    size_bytes: int
