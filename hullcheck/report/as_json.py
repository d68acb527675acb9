"""An answer as JSON: keys are attribute names, numbers are never rounded."""

import dataclasses
import json
from importlib import resources
from typing import Any


def json_text(answer: Any) -> str:  # noqa: ANN401 - any answer record
    """Return a frozen answer record as JSON text, ending in a line feed.

    Parameters
    ----------
    answer : dataclass instance
        Nested frozen records of numbers, strings and tuples.

    Returns
    -------
    str
        Indented, in the order of the attributes. A number that is not finite raises ValueError:
        JSON has none.
    """
    return (
        json.dumps(dataclasses.asdict(answer), indent=2, allow_nan=False, ensure_ascii=False) + "\n"
    )


def schema(name: str) -> dict[str, Any]:
    """Return the JSON Schema of an output, such as "float", as a dictionary."""
    text = resources.files("hullcheck.report").joinpath("schemas", f"{name}.schema.json")
    loaded: dict[str, Any] = json.loads(text.read_text(encoding="utf-8"))
    return loaded
