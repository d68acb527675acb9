"""A drawing as the bytes of a file: the same drawing, the same bytes."""

import io
from typing import TYPE_CHECKING, Final

from hullcheck.errors import InputError
from hullcheck.report import style

if TYPE_CHECKING:
    from matplotlib.figure import Figure

SUFFIXES: Final = (".svg", ".png", ".pdf")
_PNG_COLORS: Final = 128


def drawing_bytes(figure: "Figure", suffix: str) -> bytes:
    """Return a drawing as the bytes of a file, the same every time.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        From one of the drawing functions.
    suffix : str
        ".svg", ".png" or ".pdf".

    Raises
    ------
    InputError
        If the suffix is none of these.
    """
    if suffix.lower() not in SUFFIXES:
        raise InputError(
            f"a drawing cannot be written as {suffix!r}: use one of {', '.join(SUFFIXES)}"
        )
    kind = suffix.lower().removeprefix(".")
    axes = figure.axes[0]
    title, description = str(axes.get_label()), str(axes.get_gid())
    if kind == "png":
        return _png_bytes(figure, {"Title": title, "Description": description})
    metadata: dict[str, str | None] = {"Creator": "hullcheck", "Title": title}
    if kind == "svg":
        metadata |= {"Date": None, "Description": description}
    else:
        metadata |= {"CreationDate": None, "Producer": None, "Subject": description}
    buffer = io.BytesIO()
    with style.context(str(figure.get_label())):
        figure.savefig(buffer, format=kind, metadata=metadata)
    return buffer.getvalue()


def _png_bytes(figure: "Figure", texts: dict[str, str]) -> bytes:
    """Return a drawing as PNG with a palette: a third of the size of one in full color."""
    from PIL import Image
    from PIL.PngImagePlugin import PngInfo

    raw, packed, info = io.BytesIO(), io.BytesIO(), PngInfo()
    with style.context(str(figure.get_label())):
        figure.savefig(raw, format="png", dpi=style.PNG_DPI, pil_kwargs={"compress_level": 1})
    # Median cut keeps the colors of large areas to the last bit; only edges are blended.
    picture = Image.open(raw).convert("RGB").quantize(
        colors=_PNG_COLORS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE
    )  # fmt: skip
    for key, text in texts.items():
        info.add_itxt(key, text)
    picture.save(packed, "PNG", optimize=True, pnginfo=info, dpi=(style.PNG_DPI, style.PNG_DPI))
    return packed.getvalue()
