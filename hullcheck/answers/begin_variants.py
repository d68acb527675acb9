"""Files and objects that are other versions or copies of one part: told by name, shape, place."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.areas import surface_area_mm2
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.part_groups import box_within, shared_box

_SUFFIX: Final = re.compile(
    r"(?:[\s_.-]*\(\d+\)|[\s_.-]+(?:v|ver|version|rev|mk)[\s_.-]?\d+(?:\.\d+)*"
    r"|[\s_.-]+(?:copy|new|old|final|fix|fixed|repaired|alt|alternative|test))$"
)
_PREFIX: Final = re.compile(r"^copy of[\s_.-]+")
_SAME_STEM: Final = 0.5
_SAME_PLACE: Final = 0.95
_SAME_AREA: Final = 0.1
_SIZE_SHARE: Final = 0.2
_COPY_MM: Final = 0.01
"""Corners of a copy turned and moved on a plate: far above the rounding of files."""
_NUMBER: Final = re.compile(r"[\s_.-]*\(?\d+\)?$")

Part = tuple[str, FloatArray]


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """A part that seems to be another version of one that is used, by number; and why."""

    part: int
    used: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Variants:
    """Parts to leave out, and names that are doubtful though their parts are used."""

    left_out: tuple[Variant, ...]
    doubts: tuple[str, ...]


def plain_name(name: str) -> str:
    """Return a part's name without what marks a version or a copy.

    Examples
    --------
    >>> plain_name("mid_v2"), plain_name("Mid (1)"), plain_name("mid 2")
    ('mid', 'mid', 'mid 2')
    """
    plain = _PREFIX.sub("", name.casefold().strip())
    while (shorter := _SUFFIX.sub("", plain).strip()) and shorter != plain:
        plain = shorter
    return re.sub(r"[\s_.-]+", " ", plain).strip() or name


def variants_among(
    parts: Sequence[Part], *, in_place: bool, plates: Sequence[str] | None = None
) -> Variants:
    """Return which parts are other versions of one before them.

    Parameters
    ----------
    parts : sequence of (str, ndarray of shape (n, 3, 3))
        Names of the files without their ending, or of objects, and triangles as they lie [mm].
    in_place : bool
        Whether they lie in place; if not, places tell nothing.
    plates : sequence of str, optional
        The file that each is an object of, "" for one that is all of its file. Objects of one file
        that are not in place, of one shape and, numbers at the end aside, of one name, are one part
        set on the plate more than once.

    Returns
    -------
    Variants
        Of two versions the one with the plain name is used, else the first.
    """
    plain = [plain_name(name) for name, _ in parts]
    order = sorted(range(len(parts)), key=lambda i: parts[i][0].casefold().strip() != plain[i])
    on = plates or [""] * len(parts)
    used: list[int] = []
    left_out: list[Variant] = []

    def why(k: int, i: int) -> str:
        """Return why the second of two parts seems to be a version of the first, or ""."""
        plated = not in_place and on[i] != "" and on[k] == on[i]
        if plated and _numbered_alike(plain[k], plain[i]) and is_copy(parts[k][1], parts[i][1]):
            return f"a copy of {parts[k][0]}; if she carries both, place it as well"
        return _why(parts, plain, (k, i), in_place=in_place)

    doubts: list[str] = []
    for i in order:
        found = next(((k, w) for k in used if (w := why(k, i))), None)
        if found is not None:
            left_out.append(Variant(part=i, used=found[0], why=found[1]))
            continue
        namesake = next((k for k in used if plain[k] == plain[i]), None)
        if namesake is not None:
            doubts.append(
                f"{parts[i][0]} is named like a version of {parts[namesake][0]} but is another "
                "shape or lies elsewhere: both are used"
            )
        used.append(i)
    return Variants(left_out=tuple(sorted(left_out, key=lambda v: v.part)), doubts=tuple(doubts))


def is_copy(one: FloatArray, two: FloatArray) -> bool:
    """Return whether a part is another one turned and moved, triangle by triangle.

    Parameters
    ----------
    one, two : ndarray, shape (n, 3, 3)
        As they lie [mm].

    Notes
    -----
    The turn that lays the corners of the one best on those of the other is the closest rotation to
    their correlation; a mirror image is no copy.

    References
    ----------
    W. Kabsch, *A solution for the best rotation to relate two sets of vectors*, Acta
    Crystallographica A32, 1976, p. 922 (from memory).
    """
    if one.shape != two.shape:
        return False
    first, second = (p.reshape(-1, 3) - p.reshape(-1, 3).mean(axis=0) for p in (one, two))
    left, _, right = np.linalg.svd(first.T @ second)
    keep = np.diag([1.0, 1.0, float(np.sign(np.linalg.det(left @ right)))])
    return bool(np.abs(first @ (left @ keep @ right) - second).max() <= _COPY_MM)


def _numbered_alike(one: str, two: str) -> bool:
    """Return whether two names are the same but for a number at the end."""
    return (_NUMBER.sub("", one) or one) == (_NUMBER.sub("", two) or two)


def _why(
    parts: Sequence[Part], plain: Sequence[str], pair: tuple[int, int], *, in_place: bool
) -> str:
    """Return why one part seems to be a version of another, or ""."""
    k, i = pair
    (name, one), (_, two) = parts[k], parts[i]
    same = one.shape == two.shape and bool(np.array_equal(one, two))
    named = plain[k] == plain[i]
    if same and (named or in_place):
        return f"the same surface as {name}"
    if not in_place:
        sizes = [np.sort(np.ptp(np.array(bounds(part)), axis=0)) for part in (one, two)]
        near = np.abs(sizes[0] - sizes[1]) <= _SIZE_SHARE * np.maximum(*sizes) + 1.0
        return f"named like {name} and about its size" if named and near.all() else ""
    share = shared_box(one, two)
    if named and share >= _SAME_STEM:
        return f"named like {name} and in its place"
    if named and (_within(one, two) or _within(two, one)):
        return f"named like {name}, and one lies within the other's place"
    areas = [surface_area_mm2(part) for part in (one, two)]
    if share >= _SAME_PLACE and abs(areas[0] - areas[1]) <= _SAME_AREA * max(areas):
        return f"as large as {name} and in its place"
    return ""


def _within(one: FloatArray, two: FloatArray) -> bool:
    """Return whether the box of a part lies within that of another."""
    return box_within(np.array(bounds(one)), np.array(bounds(two)))
