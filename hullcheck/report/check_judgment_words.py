"""What no arithmetic settles, in sentences; each is judgment, common practice without a source."""

from collections.abc import Mapping
from typing import Final

from hullcheck.answers.check_records import JudgmentPoint
from hullcheck.report.numbers import height_text

JUDGMENT: Final = "judgment: common practice, no source"

_WORDS: Final[Mapping[str, str]] = {
    "wind": "steady, under a third of her stall speed, gusts and all; without a water rudder she "
    "turns into the wind by herself, and out of it she may tip",
    "waves": "crest to trough under half her bow freeboard and a quarter of her beam",
    "hump": "up elevator first if the nose ploughs, then ease it level; held full up, the heel "
    "drags and she does not get over",
    "retrieval": "planned before she goes: boat ready, buoyancy aid worn, never alone, a second "
    "person ashore, nobody swims out; cold water kills good swimmers",
    "batteries": "an arming plug within reach from outside, propeller clear of hands; a wet pack "
    "goes outside, away from anything that burns, and what got wet does not run the same day",
    "local_rules": "the owner's leave, club and insurance, registration, flight and water rules; "
    "keep off people, swimmers, anglers and birds",
}


def judgment_words(point: JudgmentPoint) -> str:
    """Return what to judge by, with planning values in the units shown."""
    words = _WORDS[point.key]
    values = [row.value for row in point.values if row.value is not None]
    if not values:
        return words
    each = " and ".join(height_text(value) for value in values)
    return f"{words}: {each}"
