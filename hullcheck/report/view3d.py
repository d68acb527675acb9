"""The page's view that one can turn: her, the water, centers, openings and seams.

It is an extra: everything it shows stands in the drawings too. Where a page has no script or no
WebGL its still picture stays.
"""

import base64
import hashlib
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Final

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.seams_records import SeamsAnswer
from hullcheck.craft.craft import Craft
from hullcheck.report import style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.page_svg import lean_svg, svg_uri
from hullcheck.report.view3d_data import data_json, skin_in_counts
from hullcheck.report.view3d_eye import start_of, surfaced
from hullcheck.report.view3d_scene import scene3d, with_skin
from hullcheck.report.view3d_shapes import PIXELS_PER_POINT
from hullcheck.report.view3d_skin import fewer_triangles
from hullcheck.report.view3d_still import MOST_TRIANGLES, still_drawing
from hullcheck.report.view3d_words import BUTTONS, CAPTION, alt_text, how, seen_from

SCRIPT: Final = "view3d.js"


@dataclass(frozen=True, slots=True, kw_only=True)
class View3d:
    """What `templates/view3d.html.j2` makes of a craft, as its variable `view`.

    Attributes
    ----------
    data_json : str
        The scene as JSON; no "<", ">" or "&" is in it, so that it may stand in a script element.
    script : str
        The program, a classic script that asks for nothing outside the page.
    still_svg : bytes
        A still picture of the same, 8 in wide.
    alt : str
        Finding and numbers in words.
    seen_from : str
        Where the still picture is seen from, and how far its skin may be off: a view that is turned
        is seen from elsewhere, and drawn in more triangles.
    how : str
        How far the skin that turns may be off, and how to turn it; for pages whose script runs.
    caption : str
        What is seen.
    triangles : int
        Of the skin drawn.
    tolerance_mm : float
        How far the skin that turns may be off the skin that is floated, about [mm].
    """

    data_json: str
    script: str
    still_svg: bytes
    alt: str
    seen_from: str
    how: str
    caption: str
    triangles: int
    tolerance_mm: float

    @property
    def buttons(self) -> tuple[tuple[str, str], ...]:
        """The buttons' values and words."""
        return BUTTONS

    @property
    def script_hash(self) -> str:
        """The script's source expression for a content security policy."""
        return f"sha256-{base64.b64encode(hashlib.sha256(self.script.encode()).digest()).decode()}"

    @property
    def still_uri(self) -> str:
        """The still picture as an address that needs no network."""
        return svg_uri(lean_svg(self.still_svg))

    @property
    def css(self) -> str:
        """The rules of style for what the template makes."""
        return css()


def view3d(craft: Craft, answer: FloatAnswer, seams: SeamsAnswer | None = None) -> View3d:
    """Return the turnable view of a craft afloat.

    Parameters
    ----------
    craft : Craft
        What floats.
    answer : FloatAnswer
        Where she floats, from `hullcheck.answers.float_answer`.
    seams : SeamsAnswer, optional
        From `hullcheck.answers.seams_answer`; without it seams are drawn as only supposed.

    Returns
    -------
    View3d
        The same for the same input, to the byte.

    Raises
    ------
    SurfaceError
        If a body's surface cannot be drawn in few triangles.
    """
    scene = scene3d(craft, answer, seams)
    fewer = fewer_triangles(scene.skin, MOST_TRIANGLES)
    coarse = surfaced(with_skin(scene, fewer))
    scene = replace(scene, marks=coarse.marks)
    start, skin = start_of(coarse), skin_in_counts(scene)
    # What was left out, and whole steps.
    tolerance_mm = scene.skin.tolerance_mm + skin[0].error_mm
    return View3d(
        data_json=data_json(scene, start, skin),
        script=script(),
        still_svg=drawing_bytes(still_drawing(coarse, start), ".svg"),
        alt=alt_text(scene, seams),
        seen_from=seen_from(start, fewer.tolerance_mm, level=answer.rest is None),
        how=how(tolerance_mm),
        caption=CAPTION,
        triangles=scene.skin.count,
        tolerance_mm=tolerance_mm,
    )


@cache
def script() -> str:
    """Return the program that draws the view, without the white space its lines begin with."""
    folder = resources.files("hullcheck.report") / "templates"
    lines = (folder / SCRIPT).read_text(encoding="utf-8").splitlines()
    return "\n".join(line.strip() for line in lines) + "\n"


def css() -> str:
    """Return the rules of style for what the template makes, in the look of every drawing."""
    size = {kind: f"{kind.size * PIXELS_PER_POINT:.1f}px" for kind in (style.NAME, style.NOTE)}
    name, note = size[style.NAME], size[style.NOTE]
    return f"""\
.view3d {{ margin: 0; }}
.view3d-stage {{ position: relative; }}
.view3d-still {{ display: block; width: 100%; height: auto; }}
.view3d-canvas, .view3d-marks, .view3d-labels, .view3d-buttons, .view3d-how {{ display: none; }}
.view3d figcaption {{ color: {style.SOFT}; font-size: {note}; margin-top: 6px; }}
@media screen {{
.view3d-on .view3d-stage {{ height: min(62vw, 520px); min-height: 300px; overflow: hidden; }}
.view3d-on .view3d-still, .view3d-on .view3d-from {{ display: none; }}
.view3d-on .view3d-canvas, .view3d-on .view3d-marks, .view3d-on .view3d-labels {{
  display: block; position: absolute; left: 0; top: 0; width: 100%; height: 100%; }}
.view3d-on .view3d-canvas {{ touch-action: pan-y; cursor: grab; }}
.view3d-canvas:focus-visible {{ outline: 2px solid {style.WATER}; outline-offset: -2px; }}
.view3d-on .view3d-marks, .view3d-on .view3d-labels {{ pointer-events: none; }}
.view3d-on .view3d-buttons {{ display: flex; flex-wrap: wrap; gap: 6px; margin-top: 6px; }}
.view3d-on .view3d-how {{ display: inline; }}
.view3d-buttons button {{ font: inherit; font-size: {name}; color: {style.INK};
  background: {style.PAPER}; border: 1px solid {style.SOFT}; border-radius: 0;
  padding: 6px 10px; min-height: 36px; }}
.view3d-labels div {{ position: absolute; left: 0; top: 0; white-space: nowrap; line-height: 1.25;
  padding: 0 3px; font-size: {name}; color: {style.INK}; }}
.view3d-labels .view3d-over {{ background: {style.PAPER}; }}
.view3d-labels div[hidden], .view3d-labels span[hidden] {{ display: none; }}
.view3d-labels span {{ display: block; }}
.view3d-labels .view3d-head, .view3d-labels .view3d-flag {{ font-weight: bold; }}
.view3d-labels .view3d-flag {{ background: {style.LIMIT}; color: {style.PAPER}; width: max-content;
  padding: 1px 4px; margin-left: -3px; }}
.view3d-labels .view3d-note {{ color: {style.SOFT}; font-size: {note}; }}
}}
@media (max-width: 520px) {{ .view3d-labels .view3d-note {{ display: none; }} }}
"""
