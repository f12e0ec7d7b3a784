"""Barrels that share one level, run through a record: what came in, what was asked, what stood in them.

A pool is one storage or several joined at the bottom. It stands in service between the usual hard freezes;
outside of that it is empty and off the downspout. The level is kept as a bracket that holds whatever the
order of rain and watering within a day, and opens on every day without a rain record. Accounts (supplied,
spilled, unmet) follow the two published rules.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dooryard.water import storage
from dooryard.water.reach import Reach, drawn, simulate
from dooryard.water.storage import StorageRun

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class RoofShare:
    """A roof section as one pool sees it: name, plan area that feeds this pool [m2], covering's key.

    diverted_share : part of its downspout's water that the diverter takes [1].
    """

    name: str
    area_m2: float
    covering: str
    diverted_share: float = 1.0


@dataclass(frozen=True, slots=True)
class DailyUse:
    """Water one storage gives for other things than the beds: on some weekdays, or only after dry days [L]."""

    litres: float
    weekdays: tuple[str, ...] = ()
    dry_days: int = 0


@dataclass(frozen=True, slots=True)
class Pool:
    """Storages with one level. capacity_l : to be drawn, dead_l : stranded below the outlets [L].

    empties_to : index of the pool that takes the overflow, or None (ground, a bed, the old downspout).
    overflow : the name of where the overflow goes, as in the yard file. off_months : months (1 to 12) out of
    service; None is from the usual first to the usual last hard freeze.
    readings : (index of the day on whose morning it was read, water above the outlet [L]), in order of days.
    floors : (bed, water above the outlet that does not run to it [L]), for beds on a hose or line that lie higher
    than the outlet.
    """

    storages: tuple[str, ...]
    capacity_l: float
    dead_l: float
    first_flush_l: float
    uses: tuple[DailyUse, ...]
    roofs: tuple[RoofShare, ...]
    empties_to: int | None
    overflow: str
    off_months: tuple[int, ...] | None
    readings: tuple[tuple[int, float], ...]
    floors: tuple[tuple[str, float], ...] = ()


class Bounds(NamedTuple):
    """A daily series known between two ends; `high` is infinite on a day nobody measured. Arrays (N,) [L]."""

    low: Array
    high: Array


@dataclass(frozen=True, slots=True)
class Totals:
    """A stretch of days added up, without its missing days; pairs are (least, most) of the two rules [L].

    unmet_l : asked for and not there, so taken from the tap.
    """

    days: int
    missing_days: int
    inflow_l: float
    demand_l: float
    supplied_l: tuple[float, float]
    spilled_l: tuple[float, float]
    unmet_l: tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class RoofAccount:
    """Where the rain and melt on the roofs of a pool went; arrays (N,) [L], NaN on a missing day.

    fell_l : on their plan area, once it was liquid. wetted_l, splashed_l : never left the roof as a stream.
    disconnected_l : down the old spout while the pool was out of service. bypassed_l : past the diverter.
    flushed_l : first flush. reached_l : came to the pool.
    """

    fell_l: Array
    wetted_l: Array
    splashed_l: Array
    disconnected_l: Array
    bypassed_l: Array
    flushed_l: Array
    reached_l: Array

    def closure_error_l(self) -> float:
        """Largest amount of water made or lost on a known day; 0 but for rounding [L]."""
        gone = self.wetted_l + self.splashed_l + self.disconnected_l + self.bypassed_l + self.flushed_l
        errors = np.abs(self.fell_l - gone - self.reached_l)
        return float(np.max(errors, initial=0.0, where=~np.isnan(errors)))


@dataclass(frozen=True, slots=True, eq=False)
class PoolRun:
    """One pool, day by day. Arrays (N,) [L]; the evening's value for levels.

    capacity_l, dead_l : as in `Pool`. area_m2 : plan area that feeds it.
    low_share, high_share : inflow if the coverings' coefficients stood at the ends of their ranges, over
    the inflow [1].
    in_service : days on which it stands under its downspout.
    inflow_l : from its roofs, and overflow of other pools under the cautious rule; NaN on a day in service
    of which nobody knows the rain, 0 out of service. demand_l : asked of it; use_l : the part not for beds.
    yas, ybs : the accounts under both rules; on a missing day they take no rain and read NaN.
    reaches : the same water by who can take it down to where, ascending floors; one of floor 0 as a rule.
    roof_account : where the water of its roofs went. received_l : overflow of other pools under the two rules
    (2, N). emptied_l : poured away at the end of each season under the two rules (2, N). corrected_l : by
    how much a level reading set the story right that morning, plus is more water (2, N).
    overflow : the name of where it spills; spill_low_l, spill_high_l : what spilled at least and at most,
    whatever the order of rain and use; infinite on a day nobody measured.
    level_low_l, level_high_l : standing water, the stranded part included; 0 out of service.
    known_since : first day from which no gap in the rain matters any more; None if one still does.
    settled : first day from which it does not matter what stood in it when the record began; None if it still
    does. The accounts start empty.
    closure_l : largest amount of water made or lost on a day by the accounts.
    """

    storages: tuple[str, ...]
    roofs: tuple[str, ...]
    capacity_l: float
    dead_l: float
    area_m2: float
    low_share: float
    high_share: float
    dates: NDArray[np.datetime64]
    in_service: Flags
    inflow_l: Array
    demand_l: Array
    use_l: Array
    roof_account: RoofAccount
    received_l: Array
    yas: StorageRun
    ybs: StorageRun
    reaches: tuple[Reach, ...]
    emptied_l: Array
    corrected_l: Array
    overflow: str
    spill_low_l: Array
    spill_high_l: Array
    level_low_l: Array
    level_high_l: Array
    known_since: date | None
    settled: date | None
    closure_l: float

    def reach_of(self, bed: str) -> Reach:
        """Those who take water down to the same floor as that bed."""
        return next((reach for reach in self.reaches if bed in reach.beds), self.reaches[0])

    @property
    def reachable_demand_l(self) -> Array:
        """What is asked of it by all to whom any of its water runs (N,) [L]."""
        return np.asarray(
            sum(
                (reach.demand_l for reach in self.reaches if np.isfinite(reach.floor_l)),
                np.zeros(len(self.dates)),
            )
        )

    @property
    def use_given_l(self) -> Array:
        """What was taken for other things than the beds, under the two rules (2, N) [L], NaN on a missing day."""
        lowest = self.reaches[0]
        share = np.divide(
            self.use_l, lowest.demand_l, out=np.zeros(len(self.use_l)), where=lowest.demand_l > 0.0
        )
        return np.asarray(lowest.supplied_l * share)

    def totals(self, first: date, end: date) -> Totals:
        """The account from `first` (included) to `end` (not), over days with a rain record."""
        inside = (self.dates >= np.datetime64(first)) & (self.dates < np.datetime64(end))
        known = inside & ~np.isnan(self.inflow_l)

        def pair(name: str) -> tuple[float, float]:
            sums = [float(np.sum(getattr(run, name)[known])) for run in (self.yas, self.ybs)]
            return min(sums), max(sums)

        return Totals(
            days=int(np.count_nonzero(known)),
            missing_days=int(np.count_nonzero(inside & ~known)),
            inflow_l=float(np.sum(self.inflow_l[known])),
            demand_l=float(np.sum(self.demand_l[known])),
            supplied_l=pair("supplied_l"),
            spilled_l=pair("spilled_l"),
            unmet_l=pair("unmet_l"),
        )


class Bracket(NamedTuple):
    """Evening level and the day's overflow as bounds, and whether no gap matters any more. Arrays (N,)."""

    level: Bounds
    spilled: Bounds
    known: Flags


class ByFloor(NamedTuple):
    """Demand by floors (G,), ascending [L]: at least and at most on each day, arrays (G, N) [L]."""

    floors_l: tuple[float, ...]
    low: Array
    high: Array


class Account(NamedTuple):
    """A run under one rule, what was poured away at seasons' ends, its largest daily closure error [L].

    corrected_l : by how much a reading set the level right on a morning. by_floor_l : what was supplied to those of
    each floor (G, N) [L].
    """

    run: StorageRun
    emptied_l: Array
    corrected_l: Array
    closure_l: float
    by_floor_l: Array


def level_bracket(
    inflow: Bounds,
    demand: Bounds,
    capacity_l: float,
    *,
    begins: Flags,
    lag_l: Array | None = None,
    readings: Sequence[tuple[int, float]] = (),
    known_at_first: bool = True,
    by_floor: ByFloor | None = None,
) -> Bracket:
    """Least and most water a storage can hold each evening, whatever the order of rain and use in a day.

    Parameters
    ----------
    inflow, demand : Bounds of arrays (N,)
        Litres a day at least and at most. An infinite inflow stands for a day nobody measured.
    capacity_l : float
        Litres between outlet and overflow.
    begins : bool array (N,)
        Days on whose morning the storage is put out empty.
    lag_l : array (N,), optional
        By how much the demand of any stretch of days up to this one may exceed the sum of `demand.high` [L].
    readings : pairs
        (index of the day on whose morning it was read, litres above the outlet), in order of days.
    known_at_first : bool
        False if the first day does not begin a season: anything may then stand in it.
    by_floor : ByFloor, optional
        The same demand by who is served down to where; not given, all are served down to the outlet.

    Returns
    -------
    Bracket

    Notes
    -----
    Low: rain first, spill, then all that is asked. High: all that is asked first, then rain, spill. Both
    ends rise with the level of the evening before and with inflow and fall with demand, so bounds stay
    bounds. Yield after and yield before spillage both lie within. A gap stops to matter once even the low
    end has spilled, or the high end is empty.
    """
    lag = np.zeros(len(begins)) if lag_l is None else lag_l
    read = dict(readings)
    cuts = np.flatnonzero(begins)
    whole = _Bracketing(inflow, demand, lag, capacity_l, begins, read, known_at_first, by_floor)
    if len(cuts) < FEWEST_LANES or by_floor is not None:
        return _bracket_steps(whole, 0, len(begins))
    blank = [np.zeros(len(begins)) for _ in range(4)]
    out = Bracket(Bounds(*blank[:2]), Bounds(*blank[2:]), np.ones(len(begins), dtype=bool))
    plain = _plain_stretches(whole, cuts)
    _bracket_side_by_side(whole, cuts, plain, out)
    for first, last in _others(cuts, plain, len(begins)):
        part = _bracket_steps(whole, first, last)
        here = slice(first, last)
        out.level.low[here], out.level.high[here] = part.level
        out.spilled.low[here], out.spilled.high[here] = part.spilled
        out.known[here] = part.known
    return out


FEWEST_LANES = 4
"""Seasons from which on it pays to play them side by side."""


class _Bracketing(NamedTuple):
    """What `level_bracket` was asked."""

    inflow: Bounds
    demand: Bounds
    lag: Array
    capacity_l: float
    begins: Flags
    read: dict[int, float]
    known_at_first: bool
    by_floor: ByFloor | None


def _plain_stretches(whole: _Bracketing, cuts: NDArray[np.int64]) -> Flags:
    """Which seasons (by their first steps) start empty and have no gap, no reading and no unsure demand."""
    odd = np.isinf(whole.inflow.high) | (whole.lag > 0.0)
    odd[list(whole.read)] = True
    plain = ~np.logical_or.reduceat(odd, cuts)
    plain[0] &= whole.known_at_first or cuts[0] > 0
    return np.asarray(plain)


def _others(cuts: NDArray[np.int64], plain: Flags, steps: int) -> list[tuple[int, int]]:
    """Runs of steps (first, past the last) that are not plain seasons; what precedes the first cut is one."""
    ends = np.append(cuts[1:], steps)
    runs = [(0, int(cuts[0]))] if cuts[0] > 0 else []
    for first, last, simple in zip(cuts.tolist(), ends.tolist(), plain.tolist(), strict=True):
        if simple:
            continue
        if runs and runs[-1][1] == first:
            runs[-1] = (runs[-1][0], last)
        else:
            runs.append((first, last))
    return runs


def _bracket_side_by_side(whole: _Bracketing, cuts: NDArray[np.int64], plain: Flags, out: Bracket) -> None:
    """Play the plain seasons at once, one step of all of them at a time, and lay them into `out`."""
    lengths = np.diff(cuts, append=len(whole.begins))
    lane = np.repeat(np.arange(len(cuts)), lengths)
    where = np.flatnonzero(np.repeat(plain, lengths)) + int(cuts[0])
    if len(where) == 0:
        return
    lane = lane[where - int(cuts[0])]
    place = (where - cuts[lane], lane)
    shape = (int(lengths.max()), len(cuts))
    laid = []
    for values in (*whole.inflow, *whole.demand):
        table = np.zeros(shape)
        table[place] = values[where]
        laid.append(table)
    in_low, in_high, ask_low, ask_high = laid
    capacity_l = whole.capacity_l
    lows, highs, spill_lows, spill_highs = (np.empty(shape) for _ in range(4))
    low, high = np.zeros(shape[1]), np.zeros(shape[1])
    for step in range(shape[0]):
        came, asked = in_low[step], ask_high[step]
        held = low + came
        np.subtract(held - asked, capacity_l, out=spill_lows[step])
        low = np.maximum(np.minimum(held, capacity_l) - asked, 0.0, out=lows[step])
        came = in_high[step]
        np.subtract(high + came, capacity_l, out=spill_highs[step])
        high = np.minimum(np.maximum(high - ask_low[step], 0.0) + came, capacity_l, out=highs[step])
    for values, table in ((out.level.low, lows), (out.level.high, highs)):
        values[where] = table[place]
    for values, table in ((out.spilled.low, spill_lows), (out.spilled.high, spill_highs)):
        values[where] = np.maximum(table[place], 0.0)


def _bracket_steps(whole: _Bracketing, first: int, last: int) -> Bracket:
    """Play the steps from `first` to `last` on plain numbers."""
    lows, highs, knowns = [], [], []
    spill_lows, spill_highs = [0.0] * (last - first), [0.0] * (last - first)
    at_first = whole.known_at_first
    capacity_l, read = whole.capacity_l, whole.read
    low, high = 0.0, 0.0 if at_first else capacity_l
    known = at_first
    first_known = at_first or 0 in read
    held = 0.0
    floors: tuple[float, ...] = ()
    low_asks: list[list[float]] = []
    high_asks: list[list[float]] = []
    if whole.by_floor is not None:
        floors = whole.by_floor.floors_l
        low_asks, high_asks = whole.by_floor.low.T.tolist(), whole.by_floor.high.T.tolist()
    columns = (*whole.inflow, *whole.demand, whole.lag, whole.begins)
    rows = zip(*(column[first:last].tolist() for column in columns), strict=True)
    for index, (in_low, in_high, ask_low, ask_high, lag, begin) in enumerate(rows):
        if lag < held:  # what might still have been asked has been asked by now
            low -= held - lag
            if low < 0.0:
                low = 0.0
        held = lag
        if begin and (first + index > 0 or first_known):
            low = high = 0.0
            known = True
        if first + index in read:
            low = high = read[first + index]
            known = True
        least, most, most_in_time = ask_low, ask_high, ask_high
        if floors:
            least = drawn(high, floors, low_asks[first + index])
            # where nobody knows when it was asked, the low end gives as if all ran to all
            if held == 0.0:
                most_in_time = drawn(low + in_low, floors, high_asks[first + index])
                most = drawn(min(low + in_low, capacity_l), floors, high_asks[first + index])
                known = known or low == high
        if in_high > 0.0:
            # all drawn in time, part of it from the rain
            spilled = low - held + in_low - most_in_time - capacity_l
            if spilled > 0.0:
                spill_lows[index] = spilled
            spilled = high + in_high - capacity_l
            if spilled > 0.0:
                spill_highs[index] = spilled
            if in_high == _UNMEASURED:
                known = False
            elif low - held + in_low >= capacity_l:
                known = True
        low += in_low
        low = (low if low < capacity_l else capacity_l) - most
        if low < 0.0:
            low = 0.0
        high = (high - least if high > least else 0.0) + in_high
        if high > capacity_l:
            high = capacity_l
        elif high == 0.0:
            known = True
        lows.append(low - held if low > held else 0.0)
        highs.append(high)
        knowns.append(known and held == 0.0)
    return Bracket(
        Bounds(np.array(lows), np.array(highs)),
        Bounds(np.array(spill_lows), np.array(spill_highs)),
        np.array(knowns, dtype=bool),
    )


def account(
    inflow_l: Array,
    demand_l: Array,
    capacity_l: float,
    rule: str,
    *,
    ends: Flags,
    readings: Sequence[tuple[int, float]] = (),
) -> Account:
    """Run a storage under one published rule through seasons and level readings.

    Parameters
    ----------
    inflow_l, demand_l : array (N,)
        Litres a day, no NaN.
    capacity_l : float
        Litres between outlet and overflow.
    rule : str
        ``"yas"`` or ``"ybs"``.
    ends : bool array (N,)
        First days out of service: whatever stands is poured away and booked as emptied. Nothing may come in
        or be asked on them.
    readings : pairs
        As in `level_bracket`; the difference between story and reading is no flux and leaves closure alone.

    Returns
    -------
    Account
    """
    asked = np.where(ends, capacity_l, demand_l)  # pouring away is a draw of all there is
    starts = np.array([0, *(index for index, _ in readings)], dtype=np.int64)
    mornings = np.array([0.0, *(min(level, capacity_l) for _, level in readings)])
    # a storage poured empty starts anew as well, so such seasons can be played side by side
    fresh = np.setdiff1d(np.flatnonzero(ends) + 1, [*starts, len(inflow_l)])
    if len(fresh) < FEWEST_LANES:
        fresh = fresh[:0]
    cuts = np.union1d(starts, fresh)
    empty = np.setdiff1d(cuts, starts[mornings > 0.0])
    level, supplied, spilled = _play_pieces(
        inflow_l,
        asked,
        capacity_l,
        rule,
        cuts,
        dict(zip(starts.tolist(), mornings.tolist(), strict=True)),
        empty,
    )
    emptied = np.where(ends, supplied, 0.0)
    supplied = np.where(ends, 0.0, supplied)
    before = np.concatenate([[0.0], level[:-1]])
    corrected = np.zeros(len(inflow_l))
    inside = starts < len(inflow_l)
    corrected[starts[inside]] = mornings[inside] - before[starts[inside]]
    errors = np.abs(before + corrected + inflow_l - supplied - spilled - emptied - level)
    run = StorageRun(level, supplied, spilled, np.where(ends, 0.0, demand_l - supplied), rule)
    return Account(run, emptied, corrected, float(np.max(errors, initial=0.0)), supplied[None, :])


def account_by_floor(
    inflow_l: Array,
    asked_l: Array,
    floors_l: Sequence[float],
    capacity_l: float,
    rule: str,
    *,
    ends: Flags,
    readings: Sequence[tuple[int, float]] = (),
) -> Account:
    """As `account`, where some beds are served from the upper water only; asked_l by floor (G, N), floors ascending."""
    kept = simulate(inflow_l, asked_l, floors_l, capacity_l, rule, ends=ends, readings=readings)
    supplied = kept.supplied_l.sum(axis=0)
    before = np.concatenate([[0.0], kept.level_l[:-1]])
    made = before + kept.corrected_l + inflow_l - supplied - kept.spilled_l - kept.emptied_l - kept.level_l
    unmet = np.where(ends, 0.0, asked_l.sum(axis=0) - supplied)
    run = StorageRun(kept.level_l, supplied, kept.spilled_l, unmet, rule)
    worst = float(np.max(np.abs(made), initial=0.0))
    return Account(run, kept.emptied_l, kept.corrected_l, worst, kept.supplied_l)


def _play_pieces(
    inflow_l: Array,
    asked_l: Array,
    capacity_l: float,
    rule: str,
    cuts: NDArray[np.int64],
    mornings_l: dict[int, float],
    empty: NDArray[np.int64],
) -> tuple[Array, Array, Array]:
    """Level, supply and spill, cut into pieces; those that start empty are played at once if there are many."""
    steps = len(inflow_l)
    lengths = dict(zip(cuts.tolist(), np.diff(cuts, append=steps).tolist(), strict=True))
    out = np.empty((3, steps))
    together = empty.tolist() if len(empty) >= FEWEST_LANES else []
    if together:
        sizes = np.array([lengths[first] for first in together])
        lane = np.repeat(np.arange(len(together)), sizes)
        step = np.arange(len(lane)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
        where = np.repeat(empty, sizes) + step
        tables = np.zeros((2, len(together), int(sizes.max())))
        tables[0, lane, step], tables[1, lane, step] = inflow_l[where], asked_l[where]
        run = storage.simulate(tables[0], tables[1], capacity_l, rule, 0.0)
        for row, values in enumerate((run.level_l, run.supplied_l, run.spilled_l)):
            out[row, where] = values[lane, step]
    for first in set(cuts.tolist()) - set(together):
        here = slice(first, first + lengths[first])
        if lengths[first] > 0:
            run = storage.simulate(
                inflow_l[here], asked_l[here], capacity_l, rule, mornings_l.get(first, 0.0)
            )
            out[:, here] = run.level_l, run.supplied_l, run.spilled_l
    return out[0], out[1], out[2]


_UNMEASURED = float("inf")
