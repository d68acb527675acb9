"""How she floats swamped, in words."""

import math
from typing import Final

from hullcheck.answers.flood_records import FloodAnswer
from hullcheck.answers.swamped_records import KeepDry
from hullcheck.report.fitting import cut, fitting
from hullcheck.report.numbers import arm_text, mass_text, station_text, volume_text
from hullcheck.report.words import trim_words

_ON_HER_BACK_DEG: Final = 120.0
_NOISE: Final = 1e-6


def swamped_words(answer: FloodAnswer, width: int) -> str:
    """Return how she floats swamped, and the foam that keeps a point dry, within a width."""
    found = answer.swamped
    if not found.floats:
        how = f"sinks by {mass_text(found.short_by_g or 0.0)}"
    elif found.rest == "capsized":
        over = abs(found.heel_deg or 0.0) > _ON_HER_BACK_DEG
        how = f"floats on her {'back' if over else 'side'}"
    else:
        trim = "" if found.trim_deg is None else f", {trim_words(found.trim_deg)}"
        how = f"floats awash{trim}"
    if found.keep_dry is not None:
        said = keep_words(found.keep_dry)
        brief = _keep_briefly(found.keep_dry)
        texts = [f"{how}; {said}", said, f"{how}; {brief}", brief, cut(brief, width)]
    elif found.foam_to_float_cm3 is not None:
        foam = f"{how}; {foam_text(found.foam_to_float_cm3)} of foam would just hold her up"
        texts = [f"{foam} (--keep-dry)", foam, how]
    else:
        texts = [how]
    return fitting(texts, width)


def keep_words(keep: KeepDry) -> str:
    """Return the foam that keeps a point dry."""
    place = station_text(keep.foam_mm[0])
    if keep.foam_cm3 is None:
        most = volume_text(keep.most_tried_cm3)
        return f"no foam at station {place} up to {most} keeps the {keep.name} dry"
    if keep.foam_cm3 == 0.0:
        return f"the {keep.name} stays dry, {arm_text(keep.height_mm or 0.0)} up"
    return f"{foam_text(keep.foam_cm3)} of foam at station {place} keep the {keep.name} dry"


def _keep_briefly(keep: KeepDry) -> str:
    """Return the foam that keeps a point dry, in fewer words."""
    if keep.foam_cm3 is None:
        return f"no foam there keeps the {keep.name} dry (--foam-at)"
    return f"{foam_text(keep.foam_cm3)} of foam keep the {keep.name} dry"


def foam_text(foam_cm3: float) -> str:
    """Return a volume of foam, rounded up to 1 cm³: less does not do."""
    return volume_text(math.ceil(foam_cm3 - _NOISE) if foam_cm3 >= 10.0 else foam_cm3)
