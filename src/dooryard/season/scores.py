"""How good forecast ranges were: how often they held the day, how wide they were, how far off, and one loss for all.

Rows are grouped by the lead that the forecast itself expected, never by the lead that came: to group by what came
would be to know the answer. A day that did not come by 31 December counts as the day after it, for every rule alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dooryard.season.ensemble import SHARES, Counts, Numbers
from dooryard.season.hindcast import OURS, Forecasts

Marks = NDArray[np.bool_]

LEADS = ((0, 15), (15, 30), (30, 50), (50, 75), (75, 100), (100, 366))
"""Groups of expected lead [d]: from the first to before the last."""

ABOUT = {10: (7, 14), 20: (15, 26), 40: (33, 48)}
"""What is meant by about 10, 20 and 40 days ahead [d]: from the first to before the last."""


@dataclass(frozen=True, slots=True)
class Score:
    """The scores of one rule over some forecasts.

    count : forecasts. held, too_late, too_early : shares in which the day came inside the range, before it (the
        range was too late) and after it. width_d : usual (median) number of days in the range, both ends counted.
    error_d : mean of likely day less the day it came. off_d : mean of its size. loss_d : mean pinball loss over the
        three shares (earliest, likely, latest) [d].
    """

    count: int
    held: float
    too_late: float
    too_early: float
    width_d: float
    error_d: float
    off_d: float
    loss_d: float


def pinball(said: Numbers | Counts, came: Numbers | Counts, shares: Sequence[float] = SHARES) -> Numbers:
    """Pinball loss (N, shares) of quantile forecasts (N, shares) for what came (N,), in the unit of both.

    ``share x (came - said)`` if it came later than said, ``(1 - share) x (said - came)`` if earlier: least on average
    if just the stated share comes earlier (Koenker and Bassett 1978, Econometrica 46:33).
    """
    off = np.asarray(came, dtype=np.float64)[:, None] - said
    level = np.asarray(shares)
    return np.maximum(level * off, (level - 1) * off)


def dated(forecasts: Forecasts) -> Marks:
    """Forecasts that expect the day within the year, and so give a date."""
    return forecasts.days[OURS][:, 1] < forecasts.end


def ahead(forecasts: Forecasts, lead: tuple[int, int]) -> Marks:
    """Forecasts that give a date and expect it from so many to before so many days ahead."""
    likely = forecasts.days[OURS][:, 1]
    return dated(forecasts) & (likely >= lead[0]) & (likely < lead[1])


def score(forecasts: Forecasts, rule: str, rows: Marks) -> Score | None:
    """The scores of one rule over the rows for which it gives a range; None if there are none."""
    rows = rows & (forecasts.days[rule][:, 0] >= 0)
    if not rows.any():
        return None
    said, came = forecasts.days[rule][rows], forecasts.came[rows]
    early, late = came < said[:, 0], came > said[:, 2]
    off = said[:, 1] - came
    return Score(
        count=int(rows.sum()),
        held=float((~early & ~late).mean()),
        too_late=float(early.mean()),
        too_early=float(late.mean()),
        width_d=float(np.median(said[:, 2] - said[:, 0] + 1)),
        error_d=float(off.mean()),
        off_d=float(np.abs(off).mean()),
        loss_d=float(pinball(said, came).mean()),
    )


def gain(forecasts: Forecasts, rival: str, rows: Marks) -> float | None:
    """How much less our loss is than the rival's, as a share of it, over the rows where both give a range."""
    rows = rows & (forecasts.days[rival][:, 0] >= 0)
    ours, theirs = score(forecasts, OURS, rows), score(forecasts, rival, rows)
    if ours is None or theirs is None or theirs.loss_d <= 0:
        return None
    return 1 - ours.loss_d / theirs.loss_d
