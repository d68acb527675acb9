"""What a first look at mesh files finds: parts, how they lie, bodies, skins, what is doubtful."""

from dataclasses import dataclass

import numpy as np

from hullcheck.answers.begin_axes import AxesFound
from hullcheck.answers.begin_variants import Variant
from hullcheck.answers.begin_weights import PlannedPart
from hullcheck.craft.bodies import Role
from hullcheck.geometry.arrays import FloatArray, owned
from hullcheck.geometry.outer_records import OuterSkin
from hullcheck.geometry.print_placement import Suggestion
from hullcheck.geometry.step import Step


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FilePart:
    """A part as its file holds it: all of the file, or one object of it.

    Attributes
    ----------
    file : str
        The path as given.
    object : str
        The object of the file, as a sheet names it; "" where the part is all of the file.
    name : str
        What it is called: the name of the object, or of the file without its ending; blanks for
        underscores.
    triangles_mm : ndarray, shape (n, 3, 3)
        In the axes of the file [mm].
    """

    file: str
    object: str = ""
    name: str
    triangles_mm: FloatArray

    @property
    def source(self) -> str:
        """Where it is from, in words: "nose.stl", or "nose of project.3mf"."""
        return f"{self.object} of {self.file}" if self.object else self.file

    def __post_init__(self) -> None:
        """Own the triangles."""
        object.__setattr__(self, "triangles_mm", owned(self.triangles_mm, (-1, 3, 3)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodyBegun:
    """A body of a first sheet.

    Attributes
    ----------
    name : str
    role : str
        Guessed from size and place.
    parts : tuple of int
        Numbers of its parts.
    skin : OuterSkin or None
        None where it was refused.
    refusal : str
        Why; "" where it was made.
    step : Step or None
        The step of its bottom.
    twin : str
        The body that is its mirror image, where there is one.
    lone : bool
        Whether it lies aside and has no twin.
    inside : tuple of int
        Numbers of the parts of which nothing is outer skin.
    low_mm, high_mm : tuple of float
        Corners of the box around its parts, body axes [mm].
    """

    name: str
    role: Role
    parts: tuple[int, ...]
    skin: OuterSkin | None
    refusal: str
    step: Step | None
    twin: str = ""
    lone: bool = False
    inside: tuple[int, ...] = ()
    low_mm: tuple[float, float, float]
    high_mm: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Begun:
    """What a first look at mesh files found.

    Attributes
    ----------
    parts : tuple of FilePart
        In the order given.
    planned : tuple of PlannedPart
        What each may weigh, its place in body axes.
    axes : AxesFound or None
        None where parts lie in axes of their own.
    bodies : tuple of BodyBegun
        What floats her, the largest first.
    center_plane_mm : float
        Where the center plane of the hull stands, or that between twin main floats, y [mm].
    left_out : tuple of Variant
        Parts that seem to be other versions of one that is used.
    suggestion : Suggestion or None
        Where parts in print axes may belong: one placement for each of `loose`.
    loose : tuple of int
        Numbers of the parts that do not lie in place; empty where all do.
    no_suggestion : str
        Why none could be made.
    doubts : tuple of str
        What else should be looked at, a sentence each.
    notes : tuple of str
        What was found in the skins, a sentence each.
    """

    parts: tuple[FilePart, ...]
    planned: tuple[PlannedPart, ...]
    axes: AxesFound | None
    bodies: tuple[BodyBegun, ...]
    center_plane_mm: float
    left_out: tuple[Variant, ...] = ()
    suggestion: Suggestion | None = None
    loose: tuple[int, ...] = ()
    no_suggestion: str = ""
    doubts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def used(self) -> tuple[int, ...]:
        """Numbers of the parts that are not left out."""
        left_out = {variant.part for variant in self.left_out}
        return tuple(i for i in range(len(self.parts)) if i not in left_out)

    @property
    def in_place(self) -> bool:
        """Whether all parts lie in place in their files."""
        return not self.loose

    @property
    def stations_mm(self) -> tuple[float, float]:
        """Her foremost and aftmost station [mm]."""
        return (
            float(np.min([body.low_mm[0] for body in self.bodies])),
            float(np.max([body.high_mm[0] for body in self.bodies])),
        )
