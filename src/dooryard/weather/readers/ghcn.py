"""What both layouts of the Global Historical Climatology Network share: elements, marks, several-day totals.

Source: the network's own description of its files (source W-GHCN of the knowledge tables).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.record import WORDS, Codes, Days, Flag, Floats, Issue, as_date

ELEMENTS: Mapping[str, str] = MappingProxyType(
    {"PRCP": "rain_mm", "TMAX": "t_max_c", "TMIN": "t_min_c", "TAVG": "t_mean_c", "AWND": "wind_m_s"}
)
TOTAL, TOTAL_DAYS = "MDPR", "DAPR"
LONGEST_TOTAL_DAYS = 31


def apply_marks(
    element: str, values: Floats, measurement: NDArray[np.str_], quality: NDArray[np.str_], dates: Days
) -> tuple[Floats, Codes, tuple[Issue, ...]]:
    """Values and flags of one element after its measurement and quality marks; all arrays (rows,).

    A value with a quality mark becomes NaN and SUSPECT; rain marked T is a trace; rain marked P was presumed
    to be nothing by the publisher and is ESTIMATED. element : our name.
    """
    flags = np.where(np.isnan(values), Flag.MISSING, Flag.OBSERVED).astype(np.uint8)
    issues: tuple[Issue, ...] = ()
    if element == "rain_mm":
        trace = (measurement == "T") & ~np.isnan(values)
        values = np.where(trace, 0.0, values)
        flags[trace] = Flag.TRACE
        presumed = (measurement == "P") & ~np.isnan(values)
        flags[presumed] = Flag.ESTIMATED
        issues += _told(
            presumed, dates, "On {days} the publisher presumed that no rain fell.", "Kept, as estimated."
        )
    failed = (quality != "") & ~np.isnan(values)
    if failed.any():
        letters, counts = np.unique(quality[failed], return_counts=True)
        which = ", ".join(f"{letter} {count}" for letter, count in zip(letters, counts, strict=True))
        text = f"The {WORDS[element]} of {{days}} failed the publisher's own check (marks {which})."
        issues += _told(failed, dates, text, "These values are left out.")
        values = np.where(failed, np.nan, values)
        flags[failed] = Flag.SUSPECT
    return values, flags, issues


def mark_totals(
    dates: Days, rain_mm: Floats, flags: Codes, total_mm: Floats, total_days: Floats
) -> tuple[Codes, tuple[Issue, ...]]:
    """Flag the days covered by several-day rain totals as ACCUMULATED; a total is never spread over its days.

    All arrays (days,) on the calendar. total_mm stands on the last day of each total; total_days says how
    many days it covers; where it is NaN, the days without rain directly before it count as covered, up to 31.
    """
    flags = flags.copy()
    ends = np.flatnonzero(~np.isnan(total_mm))
    covered = np.zeros(len(dates), dtype=bool)
    for end in ends.tolist():
        if np.isnan(total_days[end]):
            start = end
            while start > 0 and end - start + 1 < LONGEST_TOTAL_DAYS and np.isnan(rain_mm[start - 1]):
                start -= 1
        else:
            start = max(0, end - max(int(total_days[end]), 1) + 1)
        covered[start : end + 1] = True
    covered &= np.isnan(rain_mm)
    flags[covered] = Flag.ACCUMULATED
    text = f"{{days}} lie in {len(ends)} totals over several days ({np.nansum(total_mm):,.0f} mm in all)."
    return flags, _told(
        covered, dates, text, "The totals are not spread over the days; their rain is missing.", "accumulated"
    )


def _told(
    where: NDArray[np.bool_], dates: Days, text: str, instead: str, kind: str = "quality"
) -> tuple[Issue, ...]:
    rows = np.flatnonzero(where)
    if not rows.size:
        return ()
    days = "1 day" if rows.size == 1 else f"{rows.size:,} days"
    first, last = as_date(dates[rows[0]]), as_date(dates[rows[-1]])
    return (Issue(kind, text.format(days=days), first, last, int(rows.size), instead),)
