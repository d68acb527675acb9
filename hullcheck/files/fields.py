"""Fields of a JSON document that may hold anything: asked for by type, refused by place."""

import json
import math
from collections.abc import Mapping
from typing import Any, NoReturn

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import shown


class Fields:
    """One JSON object: its fields, where in the file it stands, and the file's name.

    Parameters
    ----------
    values : Mapping
        The object.
    where : str
        Such as "meshes 2", for messages.
    name : str
        The path as given.
    """

    def __init__(self, values: Mapping[str, Any], where: str, name: str) -> None:
        """Keep what is given."""
        self.values = values
        self.where = where
        self.name = name

    def __contains__(self, key: str) -> bool:
        """Return whether a field is there."""
        return key in self.values

    def text(self, key: str, default: str = "") -> str:
        """Return a text."""
        value = self.values.get(key, default)
        return value if isinstance(value, str) else self._wrong(key, "a text")

    def whole(self, key: str, default: int | None = None) -> int:
        """Return a whole number from 0 up; without a default it must be there."""
        value = self.values.get(key, default)
        if isinstance(value, int) and not isinstance(value, bool) and 0 <= value < 2**53:
            return value
        return self._wrong(key, "a whole number from 0 up")

    def wholes(self, key: str) -> list[int]:
        """Return a list of whole numbers from 0 up, empty where there is none."""
        value = self._listed(key)
        if all(type(entry) is int and 0 <= entry < 2**53 for entry in value):
            return value
        return self._wrong(key, "a list of whole numbers from 0 up")

    def numbers(self, key: str, default: list[float]) -> list[float]:
        """Return as many finite numbers as the default has."""
        if key not in self.values:
            return default
        value = self._listed(key)
        if len(value) == len(default) and all(_is_finite(entry) for entry in value):
            return [float(entry) for entry in value]
        return self._wrong(key, f"{len(default)} finite numbers")

    def texts(self, key: str) -> list[str]:
        """Return a list of texts, empty where there is none."""
        value = self._listed(key)
        if all(isinstance(entry, str) for entry in value):
            return value
        return self._wrong(key, "a list of texts")

    def fields(self, key: str) -> "Fields":
        """Return a field that is an object itself, without fields where there is none."""
        value = self.values.get(key, {})
        where = f"{self.where} {key}".strip()
        return (
            Fields(value, where, self.name)
            if isinstance(value, dict)
            else self._wrong(key, "an object")
        )

    def each(self, key: str) -> list["Fields"]:
        """Return a list of objects, empty where there is none."""
        value = self._listed(key)
        if not all(isinstance(entry, dict) for entry in value):
            self._wrong(key, "a list of objects")
        where = f"{self.where} {key}".strip()
        return [Fields(entry, f"{where} {i}", self.name) for i, entry in enumerate(value)]

    def refuse(self, what: str, next_step: str = "export the mesh again") -> NoReturn:
        """Refuse the file for what is wrong here."""
        where = f"{self.where}: " if self.where else ""
        raise MeshFileError(f"{self.name}: {where}{what}; {next_step}")

    def _listed(self, key: str) -> list[Any]:
        """Return a list."""
        value = self.values.get(key, [])
        return value if isinstance(value, list) else self._wrong(key, "a list")

    def _wrong(self, key: str, wanted: str) -> NoReturn:
        """Refuse a field of the wrong type."""
        value = self.values.get(key)
        found = "nothing" if value is None else shown(str(value))
        if isinstance(value, list | dict):
            found = "a list" if isinstance(value, list) else "an object"
        self.refuse(f"{shown(key)} is {found} where {wanted} is wanted")


def json_fields(data: bytes, name: str) -> Fields:
    """Return the document; NaN and Infinity, which are no JSON, are refused."""
    try:
        document = json.loads(data, parse_constant=_no_number)
    except (ValueError, RecursionError) as damaged:
        place = f", line {damaged.lineno}" if isinstance(damaged, json.JSONDecodeError) else ""
        msg = f"{name}: damaged or truncated JSON{place}; export or copy it again"
        raise MeshFileError(msg) from damaged
    if not isinstance(document, dict):
        raise MeshFileError(f"{name}: its JSON is not a glTF document; export the mesh again")
    return Fields(document, "", name)


def _is_finite(value: object) -> bool:
    """Return whether a value is a number that is finite as float64."""
    if type(value) is int:
        return abs(value) < 2**1000
    return isinstance(value, float) and math.isfinite(value)


def _no_number(token: str) -> NoReturn:
    """Refuse a word that only some programs take for a number."""
    msg = f"{token} is no number"
    raise ValueError(msg)
