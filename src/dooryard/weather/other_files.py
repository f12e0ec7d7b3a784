"""Weather files that are no station's record, known by their first lines, and the command or key each is for."""

from __future__ import annotations

import re

from dooryard.problem import Problem
from dooryard.weather.opening import Opened

_HEAD = 4_096  # letters in which such a file shows what it is
_DESIGN = re.compile(r"precipitation frequency estimates", re.IGNORECASE)
_ISSUED = re.compile(r"^#\s*issued\s*:", re.MULTILINE | re.IGNORECASE)
_ONLY_FORETOLD = re.compile(
    r"(?:^|,)\s*\"?(?:rain_low|rain_high|burst)_(?:in|mm)", re.MULTILINE | re.IGNORECASE
)


def other_kind(opened: Opened) -> Problem | None:
    """What a file is that was given for a station's record, and where it belongs; None if it may be one."""
    head = "\n".join(opened.head(_HEAD))
    if head.lstrip()[:1] in ("{", "["):
        what = "This is JSON, as forecasts come in, and not a station's record."
        return Problem(what, _forecast(opened.name), opened.name)
    if _ISSUED.search(head) or _ONLY_FORETOLD.search(head):
        return Problem("This is a forecast, not a station's record.", _forecast(opened.name), opened.name)
    return design_rain(opened)


def design_rain(opened: Opened) -> Problem | None:
    """The same for a table of design rain alone."""
    if not _DESIGN.search("\n".join(opened.head(_HEAD))):
        return None
    what = "This is a table of how hard it rains once in so many years, not weather day by day."
    instead = f'Name it in the yard file, under [place]: design_rain = "{opened.name}".'
    return Problem(what, instead, opened.name)


def _forecast(name: str) -> str:
    look, plan = f"dooryard weather forecast {name}", f"dooryard plan YARD --forecast {name}"
    return f'Look at it with "{look}", or plan with it: "{plan}".'
