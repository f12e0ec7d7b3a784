"""Findings of a reader about many days, in one sentence each."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.record import Days, Issue, as_date


def noted(
    kind: str,
    where: NDArray[np.bool_],
    dates: Days,
    text: str,
    instead: str,
    element: str = "",
    evidence: str = "",
) -> tuple[Issue, ...]:
    """One finding about the days `where` holds, both (rows,); none if it holds for no day.

    text : with {days}, which becomes "1 day" or "1,234 days".
    """
    rows = np.flatnonzero(where)
    if not rows.size:
        return ()
    days = "1 day" if rows.size == 1 else f"{rows.size:,} days"
    first, last = as_date(dates[rows[0]]), as_date(dates[rows[-1]])
    return (Issue(kind, text.format(days=days), first, last, int(rows.size), instead, evidence, element),)
