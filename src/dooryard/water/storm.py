"""Bursts: how fast water comes, how soon a storage is full, whether its overflow copes, what to drain before.

A day's rain says nothing about its worst ten minutes. A published 24-hour storm pattern (the share of the
day's rain that falls in its largest window) turns a depth into a rate; a rate from a gauge or a design
table is better.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.knowledge import Fact
from dooryard.problem import InputError, Problem
from dooryard.water.outlet import GRAVITY_M_S2, LITRES_PER_M3, orifice_flow

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Pattern:
    """A storm pattern: what share of the depth has fallen by each hour.

    hours : from the storm's start, ascending [h], (J,).
    share : of the whole depth, from 0 to 1, ascending [1], (J,).
    """

    hours: Floats
    share: Floats

    def largest_share(self, window_h: float) -> float:
        """Largest share of the depth in any window of that length [1]."""
        # Between the listed hours the curve is straight, so the best window begins or ends at a listed hour.
        begins = np.concatenate((self.hours, self.hours - window_h))
        before = np.interp(begins, self.hours, self.share)
        after = np.interp(begins + window_h, self.hours, self.share)
        return float((after - before).max())

    def shortest_window(self, share: float) -> float:
        """Shortest window in which that share of the depth falls [h]; infinite if the share is above 1."""
        if share > self.share[-1] - self.share[0]:
            return math.inf
        end = np.interp(self.share + share, self.share, self.hours)
        begin = np.interp(self.share - share, self.share, self.hours)
        windows = np.concatenate(
            (
                (end - self.hours)[self.share + share <= self.share[-1]],
                (self.hours - begin)[self.share - share >= self.share[0]],
            )
        )
        return float(windows.min())


def pattern(facts: Mapping[str, Fact], name: str) -> Pattern:
    """The pattern of that name (such as ``"type-ii"``) from the facts ``storm.<name>.by.<hour>h``.

    Raises InputError if there is none.
    """
    head = f"storm.{name}.by."
    points = sorted(
        (float(key[len(head) : -1]), fact.value) for key, fact in facts.items() if key.startswith(head)
    )
    if not points:
        raise InputError(
            Problem(
                "No storm pattern of this name is in the tables.",
                "Add its rows to a facts table, or use another.",
                field="pattern",
                found=name,
            )
        )
    hours, share = np.array(points, dtype=np.float64).T
    return Pattern(hours, share)


def burst_rate(depth_mm: ArrayLike, share: ArrayLike, window_h: ArrayLike) -> Floats:
    """Rain rate of the worst window of a 24-hour depth [mm/h]: depth x share / window; inputs broadcast.

    depth_mm : rain of the 24 hours [mm]. share : largest share of it in the window [1]. window_h : window
    [h].

    >>> float(burst_rate(25.4, 0.5, 0.5))
    25.4
    """
    depth, part, window = (np.asarray(v, dtype=np.float64) for v in (depth_mm, share, window_h))
    return np.asarray(depth * part / window)


def peak_flow(area_m2: ArrayLike, rate_mm_h: ArrayLike) -> Floats:
    """Flow off a roof at a rain rate [L/s]: area x rate / 3600, all of the rain as sizing asks."""
    area, rate = np.asarray(area_m2, dtype=np.float64), np.asarray(rate_mm_h, dtype=np.float64)
    return np.asarray(area * rate / 3600.0)


def fill_depth(free_l: ArrayLike, area_m2: ArrayLike, coefficient: ArrayLike) -> Floats:
    """Rain on a wet roof that fills the free volume [mm]; infinite for no roof. Add losses for a dry roof."""
    free, area, share = (np.asarray(v, dtype=np.float64) for v in (free_l, area_m2, coefficient))
    with np.errstate(divide="ignore"):
        return np.asarray(free / (area * share))


def fill_time(free_l: ArrayLike, area_m2: ArrayLike, coefficient: ArrayLike, rate_mm_h: ArrayLike) -> Floats:
    """Time to fill the free volume at a steady rain rate [h]; infinite at no rain."""
    with np.errstate(divide="ignore"):
        return np.asarray(fill_depth(free_l, area_m2, coefficient) / np.asarray(rate_mm_h, dtype=np.float64))


def fill_hour(storm: Pattern, depth_mm: float, free_l: float, area_m2: float, coefficient: float) -> float:
    """Hour of a storm of that depth at which the free volume is full [h]; infinite if never."""
    wanted_mm = float(fill_depth(free_l, area_m2, coefficient))
    if wanted_mm > depth_mm:
        return math.inf
    if wanted_mm <= 0.0:
        return float(storm.hours[0])
    return float(np.interp(wanted_mm / depth_mm, storm.share, storm.hours))


def fill_window(storm: Pattern, depth_mm: float, free_l: float, area_m2: float, coefficient: float) -> float:
    """Shortest time in which a storm of that depth can fill the free volume [h]; infinite if it cannot."""
    if depth_mm <= 0.0:
        return 0.0 if free_l <= 0.0 else math.inf
    return storm.shortest_window(float(fill_depth(free_l, area_m2, coefficient)) / depth_mm)


def weir_flow(crest_m: ArrayLike, head_m: ArrayLike, coefficient: ArrayLike) -> Floats:
    """Flow over an edge [L/s]: coefficient x length x head^1.5.

    crest_m : length of the edge; for an upright pipe its inside rim, pi x bore [m]. head_m : water above
    the edge [m]. coefficient : about 1.84 [m^0.5/s] (3.33 with feet). Source: sharp-crested weir equation.
    """
    crest, head, share = (np.asarray(v, dtype=np.float64) for v in (crest_m, head_m, coefficient))
    return np.asarray(LITRES_PER_M3 * share * crest * np.power(head, 1.5))


def overflow_capacity(
    bore_m: ArrayLike, head_m: ArrayLike, orifice_coefficient: float, weir_coefficient: float
) -> Floats:
    """What a round overflow can pass [L/s]: as a full opening or as a rim, whichever passes less.

    bore_m : inside diameter [m]. head_m : water above the middle of a side outlet, or above the lip of an
    upright pipe [m]. Long hoses, screens and leaves take more away. Source: orifice and weir equations.
    """
    as_opening = orifice_flow(bore_m, head_m, orifice_coefficient)
    as_rim = weir_flow(math.pi * np.asarray(bore_m, dtype=np.float64), head_m, weir_coefficient)
    return np.asarray(np.minimum(as_opening, as_rim))


def overflow_bore_needed(
    flow_l_s: ArrayLike, head_m: ArrayLike, orifice_coefficient: float, weir_coefficient: float
) -> Floats:
    """Inside diameter whose `overflow_capacity` is that flow [m]: the larger of what opening and rim need."""
    flow, head = np.asarray(flow_l_s, dtype=np.float64), np.asarray(head_m, dtype=np.float64)
    speed = np.sqrt(2.0 * GRAVITY_M_S2 * head)
    with np.errstate(divide="ignore", invalid="ignore"):
        as_opening = np.sqrt(4.0 * flow / (math.pi * LITRES_PER_M3 * orifice_coefficient * speed))
        as_rim = flow / (math.pi * LITRES_PER_M3 * weir_coefficient * np.power(head, 1.5))
    return np.asarray(np.maximum(as_opening, as_rim))


def drawdown(volume_l: ArrayLike, capacity_l: ArrayLike, inflow_l: ArrayLike) -> Floats:
    """Water to let out before a storm so that its inflow fits [L]: inflow minus free volume, at most all."""
    volume, capacity, inflow = (np.asarray(v, dtype=np.float64) for v in (volume_l, capacity_l, inflow_l))
    return np.asarray(np.minimum(np.maximum(inflow - (capacity - volume), 0.0), volume))
