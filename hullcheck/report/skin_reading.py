"""How each body's skin was made of its files, in words: bodies that were made alike said once."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.skin_records import SkinAnswer, SkinReport
from hullcheck.report.skin_words import count_words, kinds_words
from hullcheck.report.words import capital, shown_name

_METHODS: Final = {
    "as filed": "as filed",
    "united": "made one closed solid",
    "sections": "one closed solid from sections",
    "offsets": "from offsets",
}
_OPEN: Final = "it does not close"
_FULL: Final = {
    "as filed": "closed as filed",
    "made one closed solid": "made one closed solid",
    "one closed solid from sections": "made one closed solid from sections",
    "from offsets": "from offsets",
    _OPEN: "does not close",
}
_SHORT: Final = {
    **_FULL,
    "made one closed solid": "made one",
    "one closed solid from sections": "made one from sections",
}


def read_words(answer: SkinAnswer) -> list[str]:
    """Return what the parts are, what was made of them and whether that closes, longest first."""
    groups = _groups(answer)
    if len(groups) == 1:
        (how,) = groups
        kinds = kinds_words(answer.parts)
        return [f"{kinds}: {how}", how] if kinds else [how]
    counted = [
        f"{count_words(len(bodies), 'body', 'bodies')} {_SHORT[how].removeprefix('closed ')}"
        for how, bodies in groups.items()
    ]
    named = [f"{_called(bodies, answer)} {_SHORT[how]}" for how, bodies in groups.items()]
    return [
        "; ".join(_clause(how, bodies, answer, _FULL) for how, bodies in groups.items()),
        "; ".join(_clause(how, bodies, answer, _SHORT) for how, bodies in groups.items()),
        "; ".join(named),
        ", ".join(counted),
    ]


def read_sentence(answer: SkinAnswer) -> str:
    """Return the same as a sentence, in full."""
    return f"{capital(read_words(answer)[0])}."


def _groups(answer: SkinAnswer) -> dict[str, list[SkinReport]]:
    """Return the bodies by how their skins were made, those that do not close first."""
    groups: dict[str, list[SkinReport]] = {}
    for body in sorted(answer.bodies, key=lambda body: body.watertight):
        how = _METHODS[body.method] if body.watertight else _OPEN
        groups.setdefault(how, []).append(body)
    return groups


def _clause(
    how: str, bodies: Sequence[SkinReport], answer: SkinAnswer, words: dict[str, str]
) -> str:
    """Return what bodies are called and what was made of their parts."""
    name, kinds = _called(bodies, answer), kinds_words([p for body in bodies for p in body.parts])
    if how in (_OPEN, "as filed", "from offsets") or not kinds:
        return f"{name} {words[how]}"
    each = " each" if len(bodies) > 1 else ""
    return f"{name}: {kinds} {words[how]}{each}"


def _called(bodies: Sequence[SkinReport], answer: SkinAnswer) -> str:
    """Return what bodies are called together: by their role where all of it are among them."""
    role = bodies[0].role
    of_role = [body for body in answer.bodies if body.role == role]
    if len(bodies) > 1 and role != "other" and of_role == list(bodies):
        return f"{role}s"
    names = [shown_name(body.name) for body in bodies]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
