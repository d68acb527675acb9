"""The skin drawing's facts and its alternative text: its finding and its numbers in sentences."""

from hullcheck.answers.skin_records import SkinAnswer
from hullcheck.report.numbers import height_text, station_text
from hullcheck.report.skin_reading import read_sentence
from hullcheck.report.skin_words import (
    file_name,
    gap_text,
    kind_words,
    piece_name,
    title,
    volume_words,
    where_words,
    with_state,
)
from hullcheck.report.words import capital


def facts(answer: SkinAnswer) -> list[str]:
    """Return the drawing's facts, a sentence each."""
    told = [f"{capital(volume_words(answer.volume_cm3, answer.error_cm3))}."]
    if answer.parts:
        told.append(read_sentence(answer))
    heights = [p.height_mm for p in answer.openings if p.height_mm is not None]
    if heights and min(heights) >= 0.0:
        told.append(f"The lowest opening stands {height_text(min(heights))} above the water.")
    return told


def alt_text(answer: SkinAnswer) -> str:
    """Return the drawing in words: its finding, then parts, openings and seams."""
    said = [f"{title(answer)}.", *facts(answer)]
    said += [f"{file_name(part)}: {kind_words(part)}." for part in answer.parts]
    for piece in answer.openings:
        name, where = with_state(piece, piece_name(piece)), where_words(piece)
        said.append(f"{capital(name)}{f': {where}' if where else ''}.")
    for body in answer.bodies:
        said += [
            f"Seam at station {station_text(seam.station_mm)}: {gap_text(seam.gap_mm)}."
            for seam in body.seams
        ]
    return " ".join(said)
