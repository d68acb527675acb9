"""What check and report rest on; where both are run at once it is worked out once."""

from datetime import datetime, timedelta
from typing import Any, Final

import click

from hullcheck.answers.check_evidence import CheckEvidence, check_evidence
from hullcheck.cli.as_of import book_as_of
from hullcheck.cli.inputs import chosen_build
from hullcheck.cli.options import Progress
from hullcheck.craft.logbook import Logbook

_BEARING: Final = ("mass", "cg", "water", "temperature", "density", "setup", "at")
"""Options that bear on the answers; units and forms do not."""
_KEPT: Final = "hullcheck.cli.evidence"


def chosen_evidence(
    what: str, options: dict[str, Any], *, full_minute: bool = False
) -> CheckEvidence:
    """Return a build with its logbook and every answer about it, worked out when asked for.

    Kept within one run of the program for who asks again with the same options and --at: the demo
    goes through the list and then writes the page.

    Parameters
    ----------
    what : str
        A build sheet, or the folder that holds one.
    options : dict
        Those of the command.
    full_minute : bool, default False
        Whether without --at the time told for is a full minute.
    """
    kept = click.get_current_context().meta.setdefault(_KEPT, {})
    key = (what, *(options[name] for name in _BEARING))
    if key in kept:
        found: CheckEvidence = kept[key]
        return found
    progress = Progress()
    build = chosen_build(what, options, progress)
    logbook, now = book_as_of(what, options)
    asked = options["at"] is not None
    if full_minute and not asked:
        now = to_the_minute(now, logbook)
    made = check_evidence(build, logbook, now, setup=options["setup"], progress=progress)
    if asked:
        kept[key] = made
    return made


def to_the_minute(now: datetime, logbook: Logbook) -> datetime:
    """Return the full minute that a report is told for: the last one, or the next.

    It is the next where the logbook has an entry of this minute, so that --at with the time that
    the report names finds the same logbook.
    """
    told = now.replace(second=0, microsecond=0)
    entries = logbook.entries
    late = any(max(entry.written, entry.at) > told for entry in entries)
    return told + timedelta(minutes=1) if late and now > told else told
