"""When a treatment may be and is due to be repeated: the label's interval, its season limit, and rain since."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

Rain = Literal["keep", "halve", "again", "unknown"]


@dataclass(frozen=True)
class Repeat:
    """What the calendar of one material says.

    earliest : first day the label's interval allows; None if no more treatments are left this season.
    due : first day it is due again, never before `earliest`. left : treatments left after the next one, None if
    the label names no most. rain : what rain since the last one does to the interval.
    """

    earliest: date | None
    due: date | None
    left: int | None
    rain: Rain


def rain_rule(rain_mm: float | None, halve_mm: float, again_mm: float) -> Rain:
    """What rain since the last treatment does to a protectant's interval.

    rain_mm : since then [mm], None if part of it is not known. halve_mm, again_mm : from which the rest of the
    interval is halved, and beyond which the cover is gone [mm].
    """
    if rain_mm is None:
        return "unknown"
    if rain_mm > again_mm:
        return "again"
    return "halve" if rain_mm >= halve_mm else "keep"


def repeat(
    on: date,
    *,
    last: date | None,
    used: int,
    interval_d: int | None,
    interval_most_d: int | None,
    season_most: int | None,
    rain: Rain = "keep",
) -> Repeat:
    """When the next treatment is allowed and due, seen on the morning of `on`.

    last : day of the last treatment, None if there was none this season. used : treatments so far this season.
    interval_d, interval_most_d, season_most : from the label [d, d, treatments]; without a longest interval the
    shortest stands for both. rain : as `rain_rule` says; it never brings the label's interval nearer.

    Raises ValueError if the last treatment lies after `on` or the count is negative.
    """
    if used < 0 or (last is not None and last > on):
        raise ValueError("what was done lies in the past and is counted from 0")
    if season_most is not None and used >= season_most:
        return Repeat(None, None, 0, rain)
    left = None if season_most is None else season_most - used - 1
    if last is None:
        return Repeat(on, on, left, rain)
    least = interval_d or 0
    most = max(least, interval_most_d or least)
    earliest = max(on, last + timedelta(days=least))
    due = last + timedelta(days=most)
    if rain == "again":
        due = on
    elif rain == "halve" and due > on:
        # Half of what is left, rounded down: cover that is half gone is not stretched by a day.
        due = on + (due - on) // 2
    return Repeat(earliest, max(due, earliest), left, rain)
