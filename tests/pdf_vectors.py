"""The lines and words of a PDF page read back from its content stream, in points."""

import io
from dataclasses import dataclass

import numpy as np
from pypdf import PdfReader
from pypdf.generic import ContentStream

PT_PER_MM = 72.0 / 25.4
"""A PDF's unit is 1/72 in (ISO 32000-1, 8.3.2.3); an inch is 25.4 mm."""


@dataclass(frozen=True, eq=False)
class Line:
    """A stroked line: its points (k, 2) [pt], its width [pt] and its color in 255ths."""

    points: np.ndarray
    width: float
    color: tuple[int, int, int]

    @property
    def size(self):
        """Width and height of the box round it [pt]."""
        return np.ptp(self.points, axis=0)


def pages_of(data):
    """Return the pages of a PDF's bytes."""
    return list(PdfReader(io.BytesIO(data)).pages)


def lines_of(page):
    """Return the stroked straight lines of a page in the order they are drawn."""
    state = {"at": np.eye(3), "width": 1.0, "color": (0, 0, 0)}
    stack, found, paths = [], [], []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        if operator in {b"q", b"Q"}:
            if operator == b"q":
                stack.append(dict(state))
            else:
                state = stack.pop()
        elif operator in _PATH:
            _extend(paths, operator, [float(v) for v in operands])
        elif operator in _PAINTED:
            if operator in _STROKED:
                found += [_line(path, state) for path in paths if path is not None]
            paths = []
        else:
            _set(state, operator, operands)
    return found


_PATH = {b"m", b"l", b"h", b"c"}
_STROKED = {b"S", b"s", b"B", b"b"}
_PAINTED = {*_STROKED, b"f", b"n"}


def _set(state, operator, operands):
    """Change the state of drawing."""
    if operator == b"cm":
        a, b, c, d, e, f = (float(v) for v in operands)
        state["at"] = np.array([[a, b, 0.0], [c, d, 0.0], [e, f, 1.0]]) @ state["at"]
    elif operator == b"w":
        state["width"] = float(operands[0])
    elif operator in {b"RG", b"G"}:
        values = [round(255 * float(v)) for v in operands]
        state["color"] = tuple(values if len(values) == 3 else values * 3)


def _extend(paths, operator, values):
    """Go on with a path; one with a curve is left out."""
    if operator == b"m":
        paths.append([values])
    elif operator == b"c":
        paths[-1] = None
    elif paths[-1] is not None:
        paths[-1].append(values if operator == b"l" else paths[-1][0])


def _line(path, state):
    """Return a path as a line on the page."""
    flat = np.column_stack((np.array(path), np.ones(len(path)))) @ state["at"]
    return Line(points=flat[:, :2], width=state["width"], color=state["color"])


def rgb(color):
    """Return a color of the look in 255ths."""
    return tuple(int(color[i : i + 2], 16) for i in (1, 3, 5))
