"""Kinds of values a build sheet holds, each with its bounds."""

from typing import Annotated, Any, ClassVar, Literal

from pydantic import BaseModel, ConfigDict, Field

FARTHEST_MM = 1e6
"""A coordinate or a length beyond a kilometer is a slip of the unit [mm]."""

Name = Annotated[
    str, Field(min_length=1, max_length=120, pattern=r"^[^\s\p{Cc}]([^\p{Cc}]*[^\s\p{Cc}])?$")
]
Text = Annotated[str, Field(min_length=1, max_length=1000, pattern=r"^[^\p{Cc}]*$")]
Number = Annotated[float, Field(allow_inf_nan=False)]
Millimeters = Annotated[float, Field(ge=-FARTHEST_MM, le=FARTHEST_MM)]
Length = Annotated[float, Field(gt=0.0, le=FARTHEST_MM)]
Grams = Annotated[float, Field(gt=0.0, le=1e12)]
Turn = Annotated[float, Field(ge=-360.0, le=360.0)]
Angle = Annotated[float, Field(ge=-90.0, le=90.0)]
Point = Annotated[list[Millimeters], Field(min_length=3, max_length=3)]
Turns = Annotated[list[Turn], Field(min_length=3, max_length=3)]
Pair = Annotated[list[Number], Field(min_length=2, max_length=2)]
Points = Annotated[list[Point], Field(min_length=1)]
Matrix = Annotated[
    list[Annotated[list[Number], Field(min_length=4, max_length=4)]],
    Field(min_length=4, max_length=4),
]
Axis = Literal["+x", "-x", "+y", "-y", "+z", "-z"]


def as_table(value: object) -> object:
    """Return a bare file name as the table it stands for."""
    return {"file": value} if isinstance(value, str) else value


class Keys(BaseModel):
    """A table of the sheet: strict types, and no key that is not listed."""

    model_config: ClassVar[ConfigDict] = ConfigDict(extra="forbid", strict=True, frozen=True)


def keys_at(root: type[Keys], path: tuple[str | int, ...]) -> tuple[str, ...]:
    """Return the keys that may stand in the table at a path; () where there is no such table."""
    model = root
    for step in path:
        if isinstance(step, int):
            continue
        inner = _table_of(model, step)
        if inner is None:
            return ()
        model = inner
    return tuple(model.model_fields)


def _table_of(model: type[Keys], key: str) -> type[Keys] | None:
    """Return the table class behind a key, whatever it is wrapped in."""
    field = model.model_fields.get(key)
    return None if field is None else _keys_in(field.annotation)


def _keys_in(hint: Any) -> type[Keys] | None:  # noqa: ANN401 - any annotation
    """Return the table class inside an annotation."""
    if isinstance(hint, type) and issubclass(hint, Keys):
        return hint
    for inner in getattr(hint, "__args__", ()):
        found = _keys_in(inner)
        if found is not None:
            return found
    return None
