"""What is typed for the logbook: times, masses with the scale's digits, numbers, yes and no."""

import re
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final

import click

_DECIMAL: Final = re.compile(r"(?P<whole>[0-9]+)(?:[.,](?P<part>[0-9]+))?")
_CLOCKS_DIFFER: Final = timedelta(seconds=2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """A mass as it was typed.

    Attributes
    ----------
    mass_g : float
        [g]
    digits_g : float
        What its last digit stands for [g]: 0.1 of "704.6", 1 of "704".
    """

    mass_g: float
    digits_g: float


def weighed(text: str) -> Weighed:
    """Return a mass [g] and what its last digit stands for; ValueError says why not."""
    typed = text.strip()
    bare = re.sub(r"\s*g$", "", typed, flags=re.IGNORECASE)
    found = _DECIMAL.fullmatch(bare)
    if found is None:
        raise ValueError(f"{typed!r} is not a mass in grams, such as 704.6")
    part = found["part"] or ""
    if "," in bare and len(part) == 3:
        raise ValueError(f"{typed!r} may be thousands or decimals: write it with a point, or none")
    mass_g = float(f"{found['whole']}.{part or 0}")
    if not mass_g > 0.0:
        raise ValueError(f"{typed!r}: a mass must be above 0 g")
    return Weighed(mass_g=mass_g, digits_g=float(f"1e-{len(part)}"))


def number(text: str) -> float:
    """Return a number of any sign; ValueError says why not."""
    typed = text.strip().replace("−", "-")
    if not re.fullmatch(r"[+-]?[0-9]+(?:[.,][0-9]+)?", typed):
        raise ValueError(f"{text.strip()!r} is not a number, such as 1.5, without a unit")
    return float(typed.replace(",", "."))


def not_negative(text: str) -> float:
    """Return a number of 0 or more; ValueError says why not."""
    value = number(text)
    if value < 0.0:
        raise ValueError(f"{text.strip()!r} must not be below 0")
    return value


def positive(text: str) -> float:
    """Return a number above 0; ValueError says why not."""
    value = number(text)
    if not value > 0.0:
        raise ValueError(f"{text.strip()!r} must be above 0")
    return value


def yes_or_no(text: str) -> bool:
    """Return whether the answer is yes; ValueError says why it is neither."""
    word = text.strip().lower()
    if word in {"y", "yes"}:
        return True
    if word in {"n", "no"}:
        return False
    raise ValueError(f"{text.strip()!r} is neither yes nor no")


def some_text(text: str) -> str:
    """Return a text without the blanks around it; ValueError if nothing is left."""
    words = text.strip()
    if not words:
        raise ValueError("there is nothing there")
    return words


def moment(text: str, now: datetime) -> datetime:
    """Return a time with its zone; ValueError says why not.

    Parameters
    ----------
    text : str
        "2026-05-12 18:30" in the local zone, with an offset such as +02:00 in that; "18:30" is
        today.
    now : datetime
        The time now, with the local zone.
    """
    typed = " ".join(text.split())
    if re.fullmatch(r"[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?", typed):
        typed = f"{now.date().isoformat()} {typed.zfill(5 if typed.count(':') == 1 else 8)}"
    try:
        at = datetime.fromisoformat(typed)
    except ValueError as problem:
        raise ValueError(
            f"{text.strip()!r} is not a time such as 2026-05-12 18:30 or 2026-05-12T18:30+02:00"
        ) from problem
    if ":" not in typed:
        raise ValueError(f"{text.strip()!r} has no time of day: write it as in 2026-05-12 18:30")
    try:
        at = at.astimezone() if at.tzinfo is None else at
        ahead = at - now
    except (OverflowError, OSError) as problem:
        raise ValueError(f"{text.strip()!r} is no time of this age") from problem
    if ahead > _CLOCKS_DIFFER:
        raise ValueError(
            f"{text.strip()!r} lies in the future: it is {now.isoformat(' ', 'minutes')} now"
        )
    return at


class Typed(click.ParamType[Any]):
    """The value of an option, read by one of the functions above and refused in its words."""

    def __init__(self, read: Any, name: str) -> None:  # noqa: ANN401 - any of the readers above
        self.read, self.name = read, name

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> Any:  # noqa: ANN401 - what the reader returns
        """Return what a text stands for."""
        if not isinstance(value, str):
            return value
        try:
            return self.read(value)
        except ValueError as problem:
            self.fail(str(problem), param, ctx)


def now_here() -> datetime:
    """Return the time now, in the local zone, to the second."""
    return datetime.now().astimezone().replace(microsecond=0)


MASS: Final = Typed(weighed, "grams")
NUMBER: Final = Typed(number, "number")
NOT_NEGATIVE: Final = Typed(not_negative, "number")
POSITIVE: Final = Typed(positive, "number")
YES_NO: Final = Typed(yes_or_no, "yes or no")
TEXT: Final = Typed(some_text, "text")
