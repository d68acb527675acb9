"""What kinds of entries are called, and a record's attributes flat."""

from dataclasses import fields
from typing import Any, Final

from hullcheck.craft.log_records import (
    LeakTest,
    LeakTestSetup,
    Note,
    Record,
    Reopening,
    Sealing,
    Strike,
    WeighIn,
)

KINDS: Final[dict[str, type[Record]]] = {
    "weigh": WeighIn,
    "seal": Sealing,
    "reopen": Reopening,
    "leak-test start": LeakTestSetup,
    "leak-test": LeakTest,
    "note": Note,
    "strike": Strike,
}
"""What a kind of entry is called, after the command that writes it."""


def kind_of(record: Record) -> str:
    """Return what a record's kind is called."""
    return next(name for name, kind in KINDS.items() if type(record) is kind)


def values_of(record: Record) -> dict[str, Any]:
    """Return a record's attributes by name; of a test its set-up's first, then its own."""
    own = {field.name: getattr(record, field.name) for field in fields(record)}
    if isinstance(record, LeakTest):
        del own["setup"]
        return {**values_of(record.setup), **own}
    return own
