"""Where a forecast's days begin: standard time of a place all year, by its time zone or by the sun.

Stations keep standard time all year, so a forecast that is to continue a station's record does too.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta, timezone

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem

DEGREES_AN_HOUR = 15.0
"""The earth turns 360 degrees in 24 hours."""


@dataclass(frozen=True, slots=True)
class StandardClock:
    """A clock that is a fixed time ahead of Universal Time. `words` says which clock it is."""

    ahead_min: int
    words: str

    def local(self, hours: NDArray[np.datetime64]) -> NDArray[np.datetime64]:
        """Local hours of hours in Universal Time, datetime64[h]."""
        return (hours.astype("datetime64[m]") + np.timedelta64(self.ahead_min, "m")).astype("datetime64[h]")

    def day(self, moment: datetime) -> date:
        """The calendar day of a moment that knows its offset from Universal Time."""
        return moment.astimezone(timezone(timedelta(minutes=self.ahead_min))).date()


def in_zone(name: str, year: int) -> StandardClock:
    """Standard time of a named zone such as America/Chicago in a year. InputError if it is not known."""
    from zoneinfo import ZoneInfo

    try:
        zone = ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        write = "Write one such as America/Chicago."
        raise InputError(
            Problem("This time zone is not known here.", write, field="zone", found=name)
        ) from None
    # Standard time is the one less far ahead, on both halves of the globe.
    offsets = (datetime(year, month, 1, tzinfo=zone).utcoffset() for month in (1, 7))
    ahead = min(offset for offset in offsets if offset is not None)
    return StandardClock(round(ahead.total_seconds() / 60), f"standard time of {name}")


def by_longitude(longitude: float) -> StandardClock:
    """Standard time that the sun gives a longitude [degree, east positive], in whole hours."""
    ahead_h = round(longitude / DEGREES_AN_HOUR)
    words = f"the sun's clock at longitude {longitude:.1f}, {ahead_h:+d} h from Universal Time"
    return StandardClock(ahead_h * 60, words)
