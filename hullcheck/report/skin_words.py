"""Phrases on an outer skin that its first screen, its table and its drawing share."""

import math
from collections import Counter
from collections.abc import Sequence
from typing import Final

from hullcheck.answers.skin_records import InventedReport, PartReport, SkinAnswer
from hullcheck.report.display import shown
from hullcheck.report.numbers import (
    arm_text,
    given_length_text,
    station_text,
    volume_text,
)
from hullcheck.report.words import (
    capital,
    height_words,
    is_unnamed,
    shown_name,
    state_words,
)

_TITLE_LENGTH: Final = 62
_LEAST_ERROR: Final = 0.001
"""A bound is printed as this, at least: what is less comes from adding up alone [cm³ or %]."""
_TOUCHING_MM: Final = 0.005
LEAST_MISMATCH_MM: Final = 0.5
"""Of two ends' outlines: what a printer may leave; more says that a part is out of place (common
practice, no source)."""
_NUMBERS: Final = (
    "no one two three four five six seven eight nine ten eleven twelve".split()  # noqa: SIM905
)
_SEVERAL: Final = {
    "closed skin": "closed skins",
    "thin wall": "thin walls",
    "sheet": "sheets",
    "patched": "patched",
    "inside": "inside",
}


def count_words(count: int, one: str, several: str | None = None) -> str:
    """Return a number of things in words: "three openings", "1 file" past twelve in figures."""
    return f"{_number(count)} {one if count == 1 else several or one + 's'}"


def bound_text(value: float, unit: str = "") -> str:
    """Return a bound in text: one figure, rounded up, so that it stays one.

    Examples
    --------
    >>> bound_text(0.31, "cm³"), bound_text(0.018, "%"), bound_text(0.0, "cm³")
    ('0.4 cm³', '0.02 %', '0.001 cm³')
    """
    value = max(value, _LEAST_ERROR)
    exponent = math.floor(math.log10(value) + 1e-9)
    count = math.ceil(value / 10.0**exponent - 1e-9)
    if count == 10:
        count, exponent = 1, exponent + 1
    return f"{count * 10.0**exponent:.{max(0, -exponent)}f} {unit}".strip()


def volume_words(volume_cm3: float, error_cm3: float) -> str:
    """Return a volume and how well it is known: "2143 cm³, known to ± 0.4 cm³ (0.02 %)"."""
    text = volume_text(volume_cm3)
    if error_cm3 <= 0.0:
        return text
    return f"{text}, {known_words(volume_cm3, error_cm3)}"


def known_words(volume_cm3: float, error_cm3: float) -> str:
    """Return how well a volume is known: "known to ± 0.4 cm³ (0.02 %)"."""
    about = bound_text(shown().volume_of(error_cm3), shown().volume)
    return f"known to ± {about} ({bound_text(100.0 * error_cm3 / volume_cm3, '%')})"


def kind_words(part: PartReport) -> str:
    """Return what a part is: "thin wall, 1 mm"."""
    if part.wall_mm is None or part.kind != "thin wall":
        return part.kind
    return f"{part.kind}, {wall_text(part.wall_mm)}"


def wall_text(wall_mm: float) -> str:
    """Return the thickness of a wall, to 0.1 mm."""
    return given_length_text(round(wall_mm, 1))


def kinds_words(parts: Sequence[PartReport]) -> str:
    """Return how many parts are what: "5 thin walls of 1 mm, 1 closed skin"."""
    said = []
    for kind, count in Counter(part.kind for part in parts).items():
        words = f"{count} {kind if count == 1 else _SEVERAL[kind]}"
        walls = [p.wall_mm for p in parts if p.kind == kind and p.wall_mm is not None]
        if kind == "thin wall" and walls:
            thin, thick = wall_text(min(walls)), wall_text(max(walls))
            words += f" of {thick}" if thin == thick else f" of {thin.partition(' ')[0]} to {thick}"
        said.append(words)
    return ", ".join(said)


def gap_text(gap_mm: float) -> str:
    """Return a gap between two ends: "gap 0.1 mm", "touching", "overlap 0.2 mm"."""
    if abs(gap_mm) < _TOUCHING_MM:
        return "touching"
    return f"{'gap' if gap_mm > 0.0 else 'overlap'} {fine_text(abs(gap_mm))}"


def fine_text(length_mm: float) -> str:
    """Return a small length, to 0.01 mm."""
    return given_length_text(round(length_mm, 2))


def size_text(size_mm: tuple[float, float]) -> str:
    """Return a size: "140 × 52 mm"."""
    long, wide = (arm_text(value) for value in size_mm)
    return f"{long.partition(' ')[0]} × {wide}"


def piece_name(piece: InventedReport) -> str:
    """Return what an invented piece is called, in the units shown."""
    return shown_name(piece.name) or piece.kind


def is_nameless(piece: InventedReport) -> bool:
    """Return whether a piece is called after its place, for want of a name."""
    return is_unnamed(piece.name)


def file_name(part: PartReport) -> str:
    """Return what a part is called."""
    return shown_name(part.file) or "no name"


def short_name(piece: InventedReport) -> str:
    """Return what an invented piece is called, without its size."""
    return shown_name(piece.name, size=False) or piece.kind


def place_name(piece: InventedReport) -> str:
    """Return what an invented piece is called; one named after its place by that alone."""
    return short_name(piece).removeprefix("opening at ")


def with_state(piece: InventedReport, name: str) -> str:
    """Return a name of an invented piece with what the sheet says of it: "hatch (taped)"."""
    if piece.kind == "opening" or piece.state is not None:
        return f"{name} ({state_words(piece.state)})"
    return name


def where_words(piece: InventedReport) -> str:
    """Return how an invented piece stands to the water; its state or lid where that is told."""
    if piece.height_mm is None:
        station = station_text(piece.lowest_mm[0])
        return "" if is_nameless(piece) else f"station {station}"
    return height_words(piece.height_mm)


def is_leak(piece: InventedReport) -> bool:
    """Return whether a piece is an opening under water."""
    return piece.kind == "opening" and bool(piece.under_water) and piece.state != "sealed"


def has_unnamed(answer: SkinAnswer) -> bool:
    """Return whether the skin has faces that no file has and no piece names."""
    return any(body.checks.invented_area_cm2 > 0.0 and not body.invented for body in answer.bodies)


def title(answer: SkinAnswer) -> str:
    """Return the finding, at most 62 characters, no full stop."""
    return next(
        (words for words in _titles(answer) if len(words) <= _TITLE_LENGTH),
        "What the files make, and what had to be closed",
    )


def _titles(answer: SkinAnswer) -> list[str]:
    """Return the finding in words, the fullest first."""
    openings, wet = answer.openings, sum(is_leak(piece) for piece in answer.openings)
    broken = [body.name for body in answer.bodies if not body.watertight]
    if broken:
        what = broken[0] if len(broken) == 1 else count_words(len(broken), "body", "bodies")
        return [f"The skin of {what} does not close", "The outer skin does not close"]
    if wet:
        verb = "lies" if wet == 1 else "lie"
        if wet == len(openings) == 1:
            return ["The opening closed for buoyancy lies under water"]
        of = f"{capital(_number(wet))} of {_number(len(openings))}"
        return [f"{of} openings closed for buoyancy {verb} under water"]
    made = _made(answer)
    if not openings:
        return _closed_titles(answer, made)
    count = count_words(len(openings), "opening")
    verb = "is" if len(openings) == 1 else "are"
    return [
        f"{made}; {count} {verb} closed for buoyancy",
        f"{made}; {count} closed for buoyancy",
        f"{made}; {count} {verb} closed",
        f"{made}; {len(openings)} openings closed",
    ]


def _closed_titles(answer: SkinAnswer, made: str) -> list[str]:
    """Return the finding where no opening had to be closed."""
    if has_unnamed(answer):
        return [f"{made}; some of it is in no file"]
    if all(body.method == "as filed" for body in answer.bodies):
        return [f"{made}, closed as filed", f"{made} as filed"]
    return [f"{made}, closed all round", made]


def _made(answer: SkinAnswer) -> str:
    """Return what was made of how many parts."""
    count, bodies = len(answer.parts), len(answer.bodies)
    if count == 0:
        return capital(f"{count_words(bodies, 'body', 'bodies')} from offsets")
    skins = "one skin" if bodies == 1 else count_words(bodies, "body", "bodies")
    return capital(f"{count_words(count, 'part')} {'makes' if count == 1 else 'make'} {skins}")


def _number(count: int) -> str:
    """Return a number in words, in figures past twelve."""
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)
