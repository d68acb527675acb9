"""Limits, what ends the grams left, and openings in doubt, as the first screen says them."""

from collections.abc import Sequence
from dataclasses import dataclass

from hullcheck.answers.float_records import FloatAnswer, HeightPoint, LimitCheck
from hullcheck.report.float_titles import the, verb
from hullcheck.report.numbers import MINUS, given_length_text
from hullcheck.report.words import height_words, is_unnamed, shown_name


def margin_end(answer: FloatAnswer) -> str:
    """Return what ends the grams left: "the canopy edge comes under 15 mm"."""
    kind, broken = answer.margin_limited_by or "", not answer.margin_g
    return end_words(answer.limits, kind, answer.margin_at, broken=broken)


def end_words(limits: Sequence[LimitCheck], kind: str, way: str | None, *, broken: bool) -> str:
    """Return what ends grams left, from the limit's key and where, or the way she goes."""
    limit = {check.name: check.limit for check in limits}.get(kind)
    if kind == "freeboard_mm" and isinstance(limit, float):
        at = shown_name(way or "lowest edge", size=False)
        does = verb(at, "is", "are") if broken else verb(at, "comes", "come")
        return f"{the(at)} {does} under {given_length_text(limit)}"
    if kind == "trim_deg" and isinstance(limit, tuple):
        end = f"{limit[way == 'bow up']:g}".replace("-", MINUS)
        beyond = "over" if way == "bow up" else "under"
        return f"her trim {'is' if broken else 'goes'} {beyond} {end}°, {way}"
    if kind == "heel_deg" and isinstance(limit, float):
        return f"she {'lists' if broken else 'comes to list'} more than {limit:g}° {way}"
    return {"sinks": "she sinks", "capsizes": "she capsizes"}.get(kind, "a limit breaks")


def limit_words(answer: FloatAnswer, name: str) -> str:
    """Return a limit and whether it holds, as the end of a line; "" where there is none."""
    check = next((check for check in answer.limits if check.name == name), None)
    if check is None:
        return ""
    state = "holds" if check.ok else "broken"
    if isinstance(check.limit, tuple):
        low, high = (f"{value:g}".replace("-", MINUS) for value in check.limit)
        return f"; limit {low} to {high}° {state}"
    # A length stands behind its value, whose unit it shares.
    length = given_length_text(check.limit).partition(" ")[0]
    return f"; limit {length if name.endswith('_mm') else f'{check.limit:g}°'} {state}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubts:
    """Openings whose state is not stated or that have no name, the lowest first.

    Attributes
    ----------
    points : tuple of HeightPoint
        Those openings.
    matters : bool
        Whether the lowest lies under water or within the freeboard limit.
    """

    points: tuple[HeightPoint, ...]
    matters: bool

    def lines(self, width: int) -> list[str]:
        """Return what is not known, in one line of a width; none where all is known."""
        if not self.points:
            return []
        if self.matters:
            first = self.points[0]
            more = f", {len(self.points) - 1} more" if len(self.points) > 1 else ""
            name, height = shown_name(first.name, size=False), height_words(first.height_mm)
            text = f"state of {name}: {height}{more}"
            if first.state is not None:
                text = f"{name} ({first.state}) has no name: {height}{more}"
            return [text if len(text) <= width else f"{text[: width - 1]}…"]
        many = len(self.points) > 1
        said = f"{len(self.points)} openings have no state or name: " if many else "state of "
        names = ", ".join(shown_name(point.name, size=False) for point in self.points)
        text = f"{said}{names}"
        return [text if len(text) <= width else f"{text[: width - 1]}…"]


def doubts(answer: FloatAnswer) -> Doubts:
    """Return the openings in doubt, and whether they matter."""
    points = () if answer.freeboard_mm is None else answer.freeboard_mm.points
    doubtful = [
        p for p in points if p.what == "opening" and (p.state is None or is_unnamed(p.name))
    ]
    doubtful.sort(key=lambda point: point.height_mm)
    limit = next((c.limit for c in answer.limits if c.name == "freeboard_mm"), 0.0)
    least = limit if isinstance(limit, float) else 0.0
    return Doubts(
        points=tuple(doubtful),
        matters=any(p.height_mm < least and p.state != "sealed" for p in doubtful),
    )
