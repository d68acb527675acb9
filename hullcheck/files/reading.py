"""How mesh files lie, and their parts turned into body axes and millimeters."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from hullcheck.errors import InputError
from hullcheck.files.mesh_file import MeshFile
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.frames import axis_name, body_rotation
from hullcheck.units import MM_PER_UNIT

_USUAL_MM: Final = (150.0, 3000.0)
"""Longest side of a model's assembly (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """How files are to be read; None leaves it to the file, else to what is usual.

    Attributes
    ----------
    unit : str or None
        "mm", "cm", "m" or "inch".
    forward, up : str or None
        File axes that point to the bow and to the sky.
    """

    unit: str | None = None
    forward: str | None = None
    up: str | None = None

    def __post_init__(self) -> None:
        """Refuse a unit or an axis that is none."""
        if self.unit is not None and self.unit not in MM_PER_UNIT:
            raise InputError(f"unit {self.unit!r} is none of {', '.join(MM_PER_UNIT)}")
        for field in ("forward", "up"):
            value = getattr(self, field)
            if value is not None:
                object.__setattr__(self, field, axis_name(value))


def in_body_axes(
    file: MeshFile, reading: Reading, notes: list[tuple[str, str]]
) -> list[tuple[str, FloatArray]]:
    """Return a file's parts in body axes and millimeters, noting what was assumed or overruled."""
    unit = reading.unit or file.unit or "mm"
    if reading.unit is None and file.unit is None:
        notes.append(("unit-assumed", f"{file.name}: {file.kind} states no unit; mm assumed"))
    for what, wanted, own in (
        ("unit", reading.unit, file.unit),
        ("up", reading.up, file.up),
        ("forward", reading.forward, file.forward),
    ):
        if wanted is not None and own is not None and wanted != own:
            notes.append(
                (
                    f"{what}-overruled",
                    f"{file.name}: {what} {wanted} as asked, though {file.kind} says {own}",
                )
            )
    notes += [("left-out", f"{file.name}: left out {what}") for what in file.left_out]
    up = reading.up or file.up or "+z"
    forward = reading.forward or file.forward or "-x"
    if reading.forward is None and file.forward is None:
        notes.append(("axes-assumed", f"{file.name}: bow assumed at {forward}, up at {up}"))
    try:
        turn = body_rotation(forward=forward, up=up) * MM_PER_UNIT[unit]
    except InputError as problem:
        raise InputError(f"{file.name}: {problem}") from problem
    stem = Path(file.name).stem.replace("_", " ")
    placed = []
    for part in file.parts:
        name = stem if len(file.parts) == 1 else part.name or stem
        same = unit == "mm" and bool((turn == np.eye(3)).all())
        placed.append((name, part.triangles if same else part.triangles @ turn.T))
    return placed


def note_size(
    pieces: list[tuple[str, FloatArray]],
    reading: Reading,
    notes: list[tuple[str, str]],
    *,
    key: str = "--unit {}",
) -> None:
    """Note an overall size that suggests another unit, and the key that would say so."""
    boxes = [bounds(triangles) for _, triangles in pieces]
    low = np.min([box[0] for box in boxes], axis=0)
    high = np.max([box[1] for box in boxes], axis=0)
    size = float((high - low).max())
    least, most = _USUAL_MM
    if least <= size <= most:
        return
    used = reading.unit or "mm"
    own = size / MM_PER_UNIT[used]
    fitting = [unit for unit, mm in MM_PER_UNIT.items() if least <= own * mm <= most]
    hint = f"; {key.format(' or '.join(fitting))} would make it " + " or ".join(
        f"{own * MM_PER_UNIT[unit]:.0f} mm" for unit in fitting
    )
    notes.append(
        (
            "size-unusual",
            f"she is {_plain(size)} mm over all, outside {least:.0f} to {most:.0f} mm"
            + (hint if fitting else ""),
        )
    )


def _plain(value: float) -> str:
    """Return a length without an exponent: whole from 10 mm, three figures below."""
    return f"{value:.0f}" if value >= 10.0 else f"{value:.3g}"
