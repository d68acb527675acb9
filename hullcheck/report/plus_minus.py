"""How well heights and grams left are known, as they are printed."""

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.uncertainty import READING_MM


def height_plus_minus_mm(answer: FloatAnswer) -> float:
    """Return how well the height that counts is known [mm]; what reading leaves, at least."""
    board = answer.freeboard_mm
    return READING_MM if board is None or board.plus_minus is None else board.plus_minus


def grams_plus_minus(answer: FloatAnswer) -> float | None:
    """Return how well the grams left are known [g]; None where they end in a jump."""
    return answer.margin_plus_minus_g
