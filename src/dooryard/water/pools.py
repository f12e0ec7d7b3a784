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
from dooryard.water.storage import StorageRun

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class RoofShare:
    """A roof section as one pool sees it: name, plan area that feeds this pool [m2], covering's key."""

    name: str
    area_m2: float
    covering: str


@dataclass(frozen=True, slots=True)
class Pool:
    """Storages with one level. capacity_l : to be drawn, dead_l : stranded below the outlets [L].

    empties_to : index of the pool that takes the overflow, or None (ground, a bed, the old downspout).
    readings : (index of the day on whose morning it was read, water above the outlet [L]), in order of days.
    """

    storages: tuple[str, ...]
    capacity_l: float
    dead_l: float
    first_flush_l: float
    daily_use_l: float
    roofs: tuple[RoofShare, ...]
    empties_to: int | None
    readings: tuple[tuple[int, float], ...]


class Bounds(NamedTuple):
    """A daily series known between two ends; `high` is infinite on a day nobody measured. Arrays (N,) [L]."""

    low: Array
    high: Array


@dataclass(frozen=True, slots=True)
class Totals:
    """A stretch of days added up, without its missing days; pairs are (least, most) of the two rules [L]."""

    days: int
    missing_days: int
    inflow_l: float
    demand_l: float
    supplied_l: tuple[float, float]
    spilled_l: tuple[float, float]
    unmet_l: tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class PoolRun:
    """One pool, day by day. Arrays (N,) [L]; the evening's value for levels.

    capacity_l, dead_l : as in `Pool`. area_m2 : plan area that feeds it.
    low_share, high_share : inflow if the coverings' coefficients stood at the ends of their ranges, over
    the inflow [1].
    in_service : days on which it stands under its downspout.
    inflow_l : from its roofs, and overflow of other pools under the cautious rule; NaN on a day in service
    without rain record, 0 out of service. demand_l : asked of it.
    yas, ybs : the accounts under both rules; on a missing day they take no rain and read NaN.
    emptied_l : poured away at the end of each season under the two rules (2, N).
    level_low_l, level_high_l : standing water, the stranded part included; 0 out of service.
    known_since : first day from which no gap in the rain matters any more; None if one still does.
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
    yas: StorageRun
    ybs: StorageRun
    emptied_l: Array
    level_low_l: Array
    level_high_l: Array
    known_since: date | None
    closure_l: float

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


class Account(NamedTuple):
    """A run under one rule, what was poured away at seasons' ends, its largest daily closure error [L]."""

    run: StorageRun
    emptied_l: Array
    closure_l: float


def level_bracket(
    inflow: Bounds,
    demand: Bounds,
    capacity_l: float,
    *,
    begins: Flags,
    lag_l: Array | None = None,
    readings: Sequence[tuple[int, float]] = (),
    known_at_first: bool = True,
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
    days = len(begins)
    lows, highs, knowns = [], [], []
    spill_lows, spill_highs = [0.0] * days, [0.0] * days
    low, high = 0.0, 0.0 if known_at_first else capacity_l
    known = known_at_first
    read = dict(readings)
    first_known = known_at_first or 0 in read
    lags = np.zeros(days) if lag_l is None else lag_l
    held = 0.0
    columns = (inflow.low, inflow.high, demand.low, demand.high, lags)
    rows = zip(*(column.tolist() for column in columns), begins.tolist(), strict=True)
    for index, (in_low, in_high, ask_low, ask_high, lag, begin) in enumerate(rows):
        if lag < held:  # what might still have been asked has been asked by now
            low -= held - lag
            if low < 0.0:
                low = 0.0
        held = lag
        if begin and (index > 0 or first_known):
            low = high = 0.0
            known = True
        if index in read:
            low = high = read[index]
            known = True
        if in_high > 0.0:
            # all drawn in time, part of it from the rain
            spilled = low - held + in_low - ask_high - capacity_l
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
        low = (low if low < capacity_l else capacity_l) - ask_high
        if low < 0.0:
            low = 0.0
        high = (high - ask_low if high > ask_low else 0.0) + in_high
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
    starts = [0, *(index for index, _ in readings)]
    levels = [0.0, *(min(level, capacity_l) for _, level in readings)]
    stops = [*starts[1:], len(inflow_l)]
    pieces = [
        storage.simulate(inflow_l[start:stop], asked[start:stop], capacity_l, rule, level)
        for start, stop, level in zip(starts, stops, levels, strict=True)
        if stop > start
    ]
    if len(pieces) == 1:
        level, supplied, spilled = pieces[0].level_l, pieces[0].supplied_l, pieces[0].spilled_l
    else:
        level = np.concatenate([piece.level_l for piece in pieces])
        supplied = np.concatenate([piece.supplied_l for piece in pieces])
        spilled = np.concatenate([piece.spilled_l for piece in pieces])
    emptied = np.where(ends, supplied, 0.0)
    supplied = np.where(ends, 0.0, supplied)
    before = np.concatenate([[0.0], level[:-1]])
    for start, morning in zip(starts, levels, strict=True):
        if start < len(before):
            before[start] = morning
    errors = np.abs(before + inflow_l - supplied - spilled - emptied - level)
    run = StorageRun(level, supplied, spilled, np.where(ends, 0.0, demand_l - supplied), rule)
    return Account(run, emptied, float(np.max(errors, initial=0.0)))


_UNMEASURED = float("inf")
