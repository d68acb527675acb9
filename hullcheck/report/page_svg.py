"""A drawing's SVG made lean, and as an address that carries the drawing itself."""

import re
from collections.abc import Iterator
from typing import Final
from urllib.parse import quote
from xml.etree import ElementTree as ET

from markupsafe import Markup

SVG: Final = "http://www.w3.org/2000/svg"
XLINK: Final = "http://www.w3.org/1999/xlink"
_HREF: Final = f"{{{XLINK}}}href"
_NUMBER: Final = re.compile(r"-?\d+\.\d+(?:e-?\d+)?")
_POINTS: Final = 2
"""Decimals of a point that are kept: 0.01 pt, a 72,000th of an inch."""
_SHIFTED: Final = re.compile(r"translate\((-?[\d.]+)(?: 0)?\)")
_NAMED: Final = re.compile(r"#([^)\"' ]+)")
_UNQUOTED: Final = "/:=,;()'!*+-._?"
"""Characters an address in double quotes may hold as they are."""


def lean_svg(svg: bytes) -> str:
    """Return an SVG of matplotlib's without what the eye does not see, in a third to a half of it.

    Parameters
    ----------
    svg : bytes
        From `hullcheck.report.drawing_file.drawing_bytes`.

    Returns
    -------
    str
        The same picture to 0.01 pt: coordinates rounded, ids short, metadata and white space gone.
        Attributes stand in single quotes.
    """
    root = ET.fromstring(svg)  # noqa: S314 - our own drawing, read back
    for parent in root.iter():
        for child in list(parent):
            if child.tag in {f"{{{SVG}}}metadata", f"{{{SVG}}}title"}:
                parent.remove(child)
    names = {name: _short(i) for i, name in enumerate(dict.fromkeys(_used(root)))}
    for element in root.iter():
        _trim(element, names)
    root.set("xmlns", SVG)
    return "".join(_written(root))


def svg_uri(svg: str) -> Markup:
    """Return an address that carries an SVG, fit for an attribute in double quotes and `srcset`.

    No white space, quotation mark, ampersand or angle bracket is left in it, whatever the SVG
    holds; so it is marked as needing no more escapes.
    """
    return Markup(f"data:image/svg+xml,{quote(svg, safe=_UNQUOTED)}")  # noqa: S704 - see above


def size_px(svg: bytes) -> tuple[int, int]:
    """Return how wide and high a drawing is shown at 100 px an inch [px]."""
    found = re.search(rb'width="([\d.]+)pt" height="([\d.]+)pt"', svg)
    if found is None:
        raise ValueError("no SVG of matplotlib's: it has no width and height in points")
    wide, high = (float(value) for value in found.groups())
    return round(wide / 0.72), round(high / 0.72)


def _used(root: ET.Element) -> Iterator[str]:
    """Yield the ids that are referred to."""
    for element in root.iter():
        for value in element.attrib.values():
            yield from _NAMED.findall(value) if "#" in value and "url(" in value else ()
        for key in (_HREF, "href"):
            if key in element.attrib:
                yield element.attrib[key].removeprefix("#")


def _short(number: int) -> str:
    """Return a short id."""
    letters = "abcdefghijklmnopqrstuvwxyz"
    return letters[number % 26] + (str(number // 26) if number >= 26 else "")


def _trim(element: ET.Element, names: dict[str, str]) -> None:
    """Shorten an element's attributes and drop the white space around it."""
    old = dict(element.attrib)
    element.attrib.clear()
    element.tail = None
    element.text = (element.text or "").strip() or None
    for key, value in old.items():
        if key == "id":
            if value in names:
                element.set("id", names[value])
            continue
        if key in {_HREF, "href"}:
            element.set("href", f"#{names[value.removeprefix('#')]}")
            continue
        element.set(key, _value(key, value, names))
    shift = _SHIFTED.fullmatch(element.get("transform", ""))
    if element.tag == f"{{{SVG}}}use" and shift is not None:
        del element.attrib["transform"]
        if float(shift[1]) != 0.0:
            element.set("x", shift[1])


def _value(key: str, value: str, names: dict[str, str]) -> str:
    """Return an attribute's value, its numbers rounded and its white space gone."""
    if key == "style":
        value = re.sub(r"\s*([:;])\s*", r"\1", value)
    if "url(" in value:
        return _NAMED.sub(lambda found: f"#{names[found[1]]}", value)
    if key == "d":
        value = _rounded(value, _POINTS)
        value = re.sub(r"\s*([A-Za-z])\s*", r"\1", value.strip())
        return re.sub(r"\s+", ",", value)
    if key == "transform" and "scale" in value:
        return _rounded(value, 5)
    return _rounded(value, _POINTS)


def _rounded(text: str, decimals: int) -> str:
    """Return a text with its numbers rounded, without idle digits."""

    def one(found: "re.Match[str]") -> str:
        """Return one number."""
        short = f"{float(found[0]):.{decimals}f}".rstrip("0").rstrip(".")
        return "0" if short in {"-0", ""} else short

    return _NUMBER.sub(one, text)


def _written(element: ET.Element) -> Iterator[str]:
    """Yield an element's text; groups that say nothing are left away."""
    tag = element.tag.removeprefix(f"{{{SVG}}}")
    inner = list(element)
    bare = tag == "g" and not element.attrib
    if tag in {"g", "defs"} and not inner and element.text is None:
        return
    if not bare:
        attributes = "".join(f" {key}='{_quoted(value)}'" for key, value in element.attrib.items())
        yield f"<{tag}{attributes}"
        yield ">" if inner or element.text else "/>"
    yield _quoted(element.text or "")
    for child in inner:
        yield from _written(child)
    if not bare and (inner or element.text):
        yield f"</{tag}>"


def _quoted(value: str) -> str:
    """Return a text fit for an attribute in single quotes, or for between tags."""
    for mark, name in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ("'", "&#39;")):
        value = value.replace(mark, name)
    return value
