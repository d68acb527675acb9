"""How small a tip float would do, in words."""

from hullcheck.answers.righting_records import FloatReport
from hullcheck.report.numbers import arm_text, volume_text
from hullcheck.report.righting_words import ratio_text


def size_line(one: FloatReport) -> tuple[str, ...]:
    """Return ways to say the least float that holds, the longest first; empty text if unknown."""
    if not one.sizes:
        return ("",)
    just, full = one.sizes[0], one.sizes[-1]
    whole = volume_text(one.volume_cm3)
    if just.least_volume_cm3 is None:
        return (f"{whole} do not hold her, nor ten times as much",)
    if just.least_volume_cm3 == 0.0:
        return (f"none is needed to hold her there; it has {whole}",)
    least = volume_text(just.least_volume_cm3)
    gives = "" if one.ratio is None else f"{ratio_text(one.ratio)} × what upsets her"
    rule = f"{gives} (full size {full.factor:g}); " if gives else ""
    out = (
        ""
        if just.least_reach_mm is None
        else f", or {arm_text(just.least_reach_mm)} out, not {arm_text(one.reach_mm)}"
    )
    if just.least_volume_cm3 > one.volume_cm3:
        return (f"{rule}{least} would hold, it has {whole}", f"{least} would hold, not {whole}")
    hold = f"{least} of {whole} would hold"
    return (f"{rule}{hold}{out}", f"{rule}{hold}", f"{rule}{least} of {whole} hold", hold)
