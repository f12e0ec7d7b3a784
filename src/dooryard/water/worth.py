"""What the next barrel would be worth, in this station's own dry, middling and wet years."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem
from dooryard.water.yield_curve import yield_curve

Floats = NDArray[np.float64]

DRY, MIDDLING, WET = 0.1, 0.5, 0.9
"""Where the named years stand among all years ranked by their season's inflow: a definition, not a fact."""


@dataclass(frozen=True, slots=True)
class Worth:
    """Supply of each complete calendar year for growing capacity.

    years : (Y,) calendar years with every day known. excluded : the others, each with the reason.
    capacities_l : (steps + 1,) capacity today and after each further step [L]. supplied_l : (Y, steps + 1)
    water supplied in the year from an empty start, yield before spillage [L]. demand_l : (Y,) water asked
    for in the year [L]. inflow_l : (Y,) water reaching the storage in that year's season of demand, its
    first to its last day [L]. dry_year, middling_year, wet_year : the years at 10, 50 and 90 % of the
    ranking by ``inflow_l`` (nearest rank, the
        earlier year first among equals); all None without a complete year, the same year twice with fewer
        than three.
    """

    years: tuple[int, ...]
    excluded: tuple[tuple[int, str], ...]
    capacities_l: Floats
    supplied_l: Floats
    demand_l: Floats
    inflow_l: Floats
    dry_year: int | None
    middling_year: int | None
    wet_year: int | None

    def supplied_in(self, year: int) -> Floats:
        """Supply of one year for each capacity [L], (steps + 1,)."""
        return np.asarray(self.supplied_l[self.years.index(year)])

    def added_in(self, year: int) -> Floats:
        """What each further step would have added in one year [L], (steps,); it never grows."""
        return np.diff(self.supplied_in(year))


def season_worth(
    dates: NDArray[np.datetime64],
    inflow_l: ArrayLike,
    demand_l: ArrayLike,
    capacity_l: float,
    step_l: float,
    steps: int,
) -> Worth:
    """What capacity today and each further step would have supplied in each year of the record.

    Parameters
    ----------
    dates : datetime64 array (N,)
        Every calendar day, ascending, without a hole.
    inflow_l, demand_l : array (N,), demand may be a float
        Litres reaching the storage and asked for each day [L]; NaN where unknown.
    capacity_l, step_l : float
        Active capacity today and of one more barrel [L].
    steps : int
        How many further barrels to look at.

    Returns
    -------
    Worth
        Each calendar year on its own, from an empty start on 1 January.

    Raises
    ------
    InputError
        Dates with a hole or out of order; negative inflow, demand, capacity, step or steps.

    Notes ----- Yield before spillage: the kinder of the two rules. With demand through New Year the empty
    start costs each year up to one tank.

    Source
    ------
    `yield_curve`, exact for every capacity.
    """
    days = np.asarray(dates, dtype="datetime64[D]")
    inflow = np.asarray(inflow_l, dtype=np.float64)
    demand = np.broadcast_to(np.asarray(demand_l, dtype=np.float64), inflow.shape)
    if not (np.diff(days) == np.timedelta64(1, "D")).all():
        raise InputError(
            Problem(
                "The days do not follow one another.",
                "Give every calendar day once, missing ones as NaN.",
                field="dates",
            )
        )
    if steps < 0:
        raise InputError(
            Problem("Fewer than no further barrels.", "Write 0 or more.", field="steps", found=str(steps))
        )
    capacities = np.asarray(capacity_l + step_l * np.arange(steps + 1), dtype=np.float64)
    years: list[int] = []
    excluded: list[tuple[int, str]] = []
    supplied: list[Floats] = []
    asked: list[float] = []
    gained: list[float] = []
    for year, span in calendar_years(days):
        q, d = inflow[span], demand[span]
        reason = why_incomplete(year, q, d)
        if reason:
            excluded.append((year, reason))
            continue
        years.append(year)
        supplied.append(yield_curve(q, d).supplied_l(capacities))
        asked.append(float(d.sum()))
        gained.append(season_inflow(q, d))
    ranked = [years[i] for i in np.argsort(np.array(gained), kind="stable").tolist()]
    return Worth(
        years=tuple(years),
        excluded=tuple(excluded),
        capacities_l=capacities,
        supplied_l=np.array(supplied, dtype=np.float64).reshape(len(years), capacities.size),
        demand_l=np.array(asked, dtype=np.float64),
        inflow_l=np.array(gained, dtype=np.float64),
        dry_year=at_rank(ranked, DRY),
        middling_year=at_rank(ranked, MIDDLING),
        wet_year=at_rank(ranked, WET),
    )


def calendar_years(days: NDArray[np.datetime64]) -> list[tuple[int, slice]]:
    """Each calendar year that the days touch, and which of them lie in it."""
    if days.size == 0:
        return []
    first, last = (int(str(day)[:4]) for day in (days[0], days[-1]))
    starts = np.array([f"{year:04d}-01-01" for year in range(first, last + 2)], dtype="datetime64[D]")
    cuts = np.searchsorted(days, starts).tolist()
    return [(year, slice(cuts[i], cuts[i + 1])) for i, year in enumerate(range(first, last + 1))]


def why_incomplete(year: int, inflow: Floats, demand: Floats) -> str:
    """Why a year cannot be counted; empty if it can."""
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    absent = 365 + leap - inflow.size
    if absent:
        return f"the record holds only {inflow.size} of its days"
    missing = int((np.isnan(inflow) | np.isnan(demand)).sum())
    if missing:
        return f"{missing} day{'' if missing == 1 else 's'} without a known inflow or demand"
    return ""


def season_inflow(inflow: Floats, demand: Floats) -> float:
    """Inflow from the first to the last day with demand; of the whole year if nothing is asked for."""
    wanted = np.flatnonzero(demand > 0.0)
    if wanted.size == 0:
        return float(inflow.sum())
    return float(inflow[wanted[0] : wanted[-1] + 1].sum())


def at_rank(ranked: list[int], share: float) -> int | None:
    """The year at that share of the ranking, nearest rank: rank ceil(share x Y), counted from 1."""
    if not ranked:
        return None
    return ranked[int(np.ceil(share * len(ranked) - 1e-9)) - 1]
