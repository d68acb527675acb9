"""The report as one HTML file: needs no network, no script to be read, and prints."""

from typing import TYPE_CHECKING

from hullcheck import __version__
from hullcheck.errors import SurfaceError
from hullcheck.report.page_answers import Reported
from hullcheck.report.page_end import (
    assumptions_section,
    files_section,
    judgment_section,
    list_section,
)
from hullcheck.report.page_flood import flood_section
from hullcheck.report.page_head import page_head
from hullcheck.report.page_records import PageSection
from hullcheck.report.page_rows import glued
from hullcheck.report.page_seams import leaks_section, seams_section
from hullcheck.report.page_stability import righting_section, step_section
from hullcheck.report.page_style import hash_of, variables
from hullcheck.report.page_weights import growth_section, weights_section
from hullcheck.report.view3d import View3d, view3d

if TYPE_CHECKING:
    from jinja2 import Environment

__all__ = ["page_html"]


def page_html(told: Reported) -> str:
    """Return the report's page.

    Parameters
    ----------
    told : Reported
        All that it tells of.

    Returns
    -------
    str
        One HTML document. The same input, its time `told.evidence.now` too, gives the same text,
        whatever the clock says.

    Notes
    -----
    Everything of the user's goes through Jinja2's autoescape. A content security policy in the page
    forbids every address but those that carry their own data, and every script and style but its
    own two, by their hashes. Drawings are pictures, so that their ids cannot collide.
    """
    told.progress("drawing the report")
    head, sections = page_head(told), _sections(told)
    view, no_view = _view(told)
    templates = _templates()
    css = templates.get_template("page.css.j2").render(variables())
    css += "" if view is None else view.css
    script = "'none'" if view is None else f"'{view.script_hash}'"
    policy = (
        "default-src 'none'; img-src data:; "
        f"style-src '{hash_of(css)}'; script-src {script}; "
        "base-uri 'none'; form-action 'none'"
    )
    return templates.get_template("page.html.j2").render(
        head=head,
        sections=sections,
        view=view,
        no_view=no_view,
        css=css,
        policy=policy,
        version=__version__,
    )


def _view(told: Reported) -> tuple[View3d | None, str]:
    """Return the view that turns; without it, why her skin cannot be drawn: it is an extra."""
    try:
        return view3d(told.evidence.craft, told.evidence.floating, told.evidence.seams), ""
    except SurfaceError as problem:
        return None, str(problem)


def _sections(told: Reported) -> tuple[PageSection, ...]:
    """Return the sections, in the order a builder asks."""
    makers = (
        weights_section,
        growth_section,
        righting_section,
        step_section,
        seams_section,
        leaks_section,
        flood_section,
        list_section,
        judgment_section,
        assumptions_section,
        files_section,
    )
    return tuple(make(told) for make in makers)


def _templates() -> "Environment":
    """Return the page's templates, autoescape on, an unknown name refused."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    templates = Environment(
        loader=PackageLoader("hullcheck.report", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    templates.filters["glued"] = glued
    return templates
