"""What can hurt somebody, said where the act is logged."""

import re
from typing import Final

_AIR: Final = re.compile(
    r"\b(?:air|pressur\w*|pump\w*|blow\w*|blew|inflat\w*|bubbl\w*|suction|vacuum)\b", re.IGNORECASE
)
_FAST_GLUE: Final = re.compile(
    r"\b(?:ca|cyano\w*|super ?glue|instant|accelerator|activator|kicker)\b", re.IGNORECASE
)
_RESIN: Final = re.compile(r"\b(?:epox\w*|resin|polyester|uv)\b", re.IGNORECASE)

LEAK_TEST: Final = (
    "batteries out before she floats. Water that is cold numbs in minutes: nobody goes in after "
    "her. If she was dunked, nothing aboard is powered up or charged the same day."
)
"""For a test that begins."""
WET_INSIDE: Final = (
    "water came in: nothing aboard is powered up or charged the same day, and a swollen or hot "
    "battery goes outside, away from anything that burns."
)
"""For a test that found water."""
_BY_AIR: Final = (
    "a test by air needs millibars only, and a vent left partly open: thin hulls split; eyes "
    "covered, face away."
)


def sealing_caution(material: str) -> str:
    """Return what to mind with what a seam is sealed with."""
    if _FAST_GLUE.search(material):
        return (
            "CA and its accelerator give off vapor that sets off asthma: air moving away from the "
            "face, eyes covered, gloves, none of it on cotton (it gets hot enough to burn)."
        )
    if _RESIN.search(material):
        return (
            "uncured resin sensitizes the skin: gloves, air moving away from the face; sand it wet "
            "or with a mask."
        )
    return "glue and solvent give off vapor: air moving away from the face, gloves, no flame."


def air_caution(*texts: str) -> str:
    """Return what to mind in a test by air, where a text names one; "" where none does."""
    return _BY_AIR if any(_AIR.search(text) for text in texts) else ""
