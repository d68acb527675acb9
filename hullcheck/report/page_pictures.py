"""The page's drawings, each as an address that carries it."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from hullcheck.errors import InputError
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.page_records import PagePicture
from hullcheck.report.page_svg import lean_svg, size_px, svg_uri

if TYPE_CHECKING:
    from matplotlib.figure import Figure

Missing = str


def picture(wide: "Figure", narrow: "Figure | None" = None) -> PagePicture:
    """Return a drawing, with its second one for a phone where there is one."""
    axes = wide.axes[0]
    svg = drawing_bytes(wide, ".svg")
    width, height = size_px(svg)
    second, narrow_width, narrow_height = "", 0, 0
    if narrow is not None:
        small = drawing_bytes(narrow, ".svg")
        second = svg_uri(lean_svg(small))
        narrow_width, narrow_height = size_px(small)
    return PagePicture(
        uri=svg_uri(lean_svg(svg)),
        width=width,
        height=height,
        title=str(axes.get_label()),
        alt=str(axes.get_gid()),
        narrow_uri=second,
        narrow_width=narrow_width,
        narrow_height=narrow_height,
    )


def picture_or_why(
    draw: Callable[[], "Figure"], narrow: "Callable[[], Figure] | None" = None
) -> tuple[PagePicture | None, Missing]:
    """Return a drawing, or in a sentence why there is nothing to draw.

    A drawing function refuses what it cannot draw (she sinks, no compartment holds the water) with
    an `InputError` that says so; the page prints that in the drawing's place. The second drawing,
    for a phone, is of the same and drawn only after the first.
    """
    try:
        figure = draw()
    except InputError as why:
        return None, str(why)
    return picture(figure, None if narrow is None else narrow()), ""
