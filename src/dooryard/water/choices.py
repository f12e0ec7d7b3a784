"""Choices of barrels a household could make, and the few among them that no other beats.

A choice is how many further barrels of which size, at which downspouts, for which beds. Each is played through
the station's own whole years. What is beaten in every respect by another is dropped; of the rest a short list
is kept that spans what can be had.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from dooryard.water import side_by_side
from dooryard.water.worth import DRY, MIDDLING, WET, at_rank

Floats = NDArray[np.float64]

RULES = ("yas", "ybs")


@dataclass(frozen=True, slots=True)
class Kind:
    """A barrel that can be had: litres between spigot and overflow, dollars with its fittings, its width [m].

    most : how many of it a household would think about.
    """

    key: str
    volume_l: float
    usable_l: float
    cost_low: float
    cost: float
    cost_high: float
    width_m: float
    most: int


@dataclass(frozen=True, slots=True, eq=False)
class Years:
    """The whole years a choice is played through, days of the calendar year first.

    years : (Y,). places : what stands at, or would stand at, each of S downspouts. capacity_l : (S,) usable water
    of what stands there today [L]. inflow_l : (T, S, Y) [L]. asks : names of the beds watered, for each of B ways;
    () is other use alone. now : index of the way it is today. demand_l : (T, B, Y) [L]. emptied : (T, Y) days at
    whose end all is poured out for winter. dry, middling, wet : named years by inflow in the season of demand.
    """

    years: tuple[int, ...]
    excluded: tuple[tuple[int, str], ...]
    places: tuple[str, ...]
    capacity_l: Floats
    inflow_l: Floats
    asks: tuple[tuple[str, ...], ...]
    now: int
    demand_l: Floats
    emptied: NDArray[np.bool_]
    dry: int
    middling: int
    wet: int

    def asked_days(self) -> Floats:
        """Days on which anything was asked for, by way and year (B, Y)."""
        return np.asarray((self.demand_l > 0.0).sum(axis=0).astype(np.float64))


@dataclass(frozen=True, slots=True, eq=False)
class Choice:
    """One choice and what it did. kind : of the further barrels, None for none. added : of them at each place (S,).

    ask : index into `Years.asks`. used_l : (2, Y) water used from barrels under the two rules [L].
    met_share : days met of the days asked, all years and both rules together [1].
    """

    kind: Kind | None
    added: tuple[int, ...]
    ask: int
    used_l: Floats
    met_share: float

    @property
    def barrels(self) -> int:
        """How many barrels are added."""
        return sum(self.added)

    @property
    def middle_l(self) -> Floats:
        """Water used in each year, the middle of the two rules (Y,) [L]."""
        return np.asarray(self.used_l.mean(axis=0))

    @property
    def yearly_l(self) -> float:
        """The mean of that over all years [L]."""
        return float(self.middle_l.mean())

    @property
    def cost(self) -> tuple[float, float, float]:
        """Low, middle and high cost of what is added [dollars]."""
        if self.kind is None:
            return 0.0, 0.0, 0.0
        each = (self.kind.cost_low, self.kind.cost, self.kind.cost_high)
        low, middle, high = (self.barrels * cost for cost in each)
        return low, middle, high

    @property
    def footprint_m2(self) -> float:
        """Ground the added barrels take, each as a square of its width [m2]."""
        return 0.0 if self.kind is None else self.barrels * self.kind.width_m**2


@dataclass(frozen=True, eq=False)
class Choices:
    """Every choice that was played, and the years it was played through."""

    years: Years
    played: tuple[Choice, ...]
    kinds: tuple[Kind, ...]

    @property
    def offered(self) -> list[Choice]:
        """Those with no more barrels than a household would think about."""
        return [one for one in self.played if one.kind is None or one.barrels <= one.kind.most]

    @cached_property
    def _by_what(self) -> dict[tuple[str, int], list[Choice]]:
        found: dict[tuple[str, int], list[Choice]] = {}
        for choice in self.played:
            found.setdefault((choice.kind.key if choice.kind else "", choice.ask), []).append(choice)
        return found

    def as_it_stands(self, ask: int | None = None) -> Choice | None:
        """Nothing added, watering as today or in another way; None if no barrel stands."""
        way = self.years.now if ask is None else ask
        return next(iter(self._by_what.get(("", way), [])), None)

    def best(self, kind: Kind, barrels: int, ask: int) -> Choice | None:
        """So many barrels of a kind where they give most; None if so many were not played."""
        same = [one for one in self._by_what.get((kind.key, ask), []) if one.barrels == barrels]
        return max(same, key=lambda one: one.yearly_l, default=None)

    def one_more(self, choice: Choice, kind: Kind) -> Choice | None:
        """The choice with one more barrel of that kind, at the place where it gives most; None if not played."""
        if choice.kind is not None and choice.kind.key != kind.key:
            return None
        larger = [
            one
            for one in self._by_what.get((kind.key, choice.ask), [])
            if one.barrels == choice.barrels + 1
            and all(more >= now for more, now in zip(one.added, choice.added, strict=True))
        ]
        return max(larger, key=lambda one: one.yearly_l, default=None)

    def ladder(self, kind: Kind, ask: int) -> list[Choice]:
        """From none (or one, where none stands) to the most, each adding one barrel where it gives most."""
        first = self.as_it_stands(ask) or self.best(kind, 1, ask)
        rungs = [] if first is None else [first]
        while rungs and (following := self.one_more(rungs[-1], kind)) is not None:
            rungs.append(following)
        return rungs


def play(years: Years, kinds: Sequence[Kind]) -> Choices:
    """Play every choice of barrels and beds through the years.

    kinds : barrels that can be had. All ways of adding up to `Kind.most` of one kind are played that stand at one
    place, or are spread over the richest places. One more than the most is played too, to say what it would give.
    """
    additions: list[tuple[Kind | None, tuple[int, ...]]] = []
    if years.capacity_l.any():
        additions.append((None, (0,) * len(years.places)))
    spread = _spreads(years)
    for kind in kinds:
        for barrels in range(1, kind.most + 2):
            additions += [(kind, counts) for counts in _placed(barrels, spread, len(years.places))]
    capacity_l = np.array(
        [
            years.capacity_l + (0.0 if kind is None else kind.usable_l) * np.array(counts)
            for kind, counts in additions
        ]
    ).reshape(len(additions), len(years.places))
    sums = [
        side_by_side.play(years.inflow_l, years.demand_l, capacity_l, rule, emptied=years.emptied)
        for rule in RULES
    ]
    used_l = np.array([one.supplied_l for one in sums])
    met = np.array([one.met_days for one in sums]).mean(axis=0).sum(axis=2)
    asked = years.asked_days().sum(axis=1)
    played = [
        Choice(
            kind,
            counts,
            ask,
            used_l[:, ask, index],
            float(met[ask, index] / asked[ask]) if asked[ask] > 0.0 else 0.0,
        )
        for ask in range(len(years.asks))
        for index, (kind, counts) in enumerate(additions)
    ]
    return Choices(years, tuple(played), tuple(kinds))


def _spreads(years: Years) -> list[tuple[int, ...]]:
    """Sets of places barrels may be spread over: each alone, then the richest two, three and so on."""
    richest = np.argsort(-years.inflow_l.sum(axis=(0, 2)), kind="stable").tolist()
    return [(place,) for place in richest] + [tuple(richest[:many]) for many in range(2, len(richest) + 1)]


def _placed(barrels: int, spreads: Sequence[tuple[int, ...]], places: int) -> list[tuple[int, ...]]:
    """So many barrels laid on each spread as evenly as they go, the richest place first."""
    found: dict[tuple[int, ...], None] = {}
    for spread in spreads:
        if len(spread) > barrels:
            continue
        counts = [0] * places
        for number in range(barrels):
            counts[spread[number % len(spread)]] += 1
        found.setdefault(tuple(counts))
    return list(found)


# --- which of them to name ------------------------------------------------------------------------------


def objectives(choices: Sequence[Choice]) -> Floats:
    """What a household wants more of, one row a choice: water used [L], days met [1], less cost, fewer barrels."""
    return np.array([[one.yearly_l, one.met_share, -one.cost[1], -float(one.barrels)] for one in choices])


def unbeaten(choices: Sequence[Choice], *, least_gain_l: float, least_share: float) -> list[Choice]:
    """The choices that no other beats: at least as good in every respect and better in one.

    least_gain_l, least_share : water used and days met are told apart in steps of these [L, 1]. Of choices that
    are then alike in all, the one with the most water stays.
    """
    if not choices:
        return []
    order = sorted(choices, key=lambda one: (-one.yearly_l, -one.met_share, one.cost[1], one.barrels))
    wanted = objectives(order)
    wanted[:, 0] = np.floor(wanted[:, 0] / least_gain_l)
    wanted[:, 1] = np.floor(wanted[:, 1] / least_share)
    # beaten[i, j]: i is at least as good as j in all respects
    as_good = (wanted[:, None, :] >= wanted[None, :, :]).all(axis=2)
    better = as_good & ~as_good.T
    alike_before = np.triu(as_good & as_good.T, 1)
    kept = np.flatnonzero(~(better | alike_before).any(axis=0))
    return [order[index] for index in kept.tolist()]


def short_list(unbeaten_choices: Sequence[Choice], *, most: int, now: int) -> list[Choice]:
    """At most so many of them, spread over all that can be had, from few barrels to many.

    The cheapest that waters as today, the one with most water and the one with most days met come first; then
    always the one that differs most from those taken. now : index of the way of watering today.
    """
    left = list(unbeaten_choices)
    if len(left) > most:
        wanted = objectives(left)
        width = np.ptp(wanted, axis=0)
        scaled = wanted / np.where(width > 0.0, width, 1.0)
        cheapest = min(
            range(len(left)), key=lambda i: (left[i].cost[1], left[i].ask != now, -left[i].yearly_l)
        )
        taken = list(dict.fromkeys([cheapest, int(wanted[:, 0].argmax()), int(wanted[:, 1].argmax())]))
        apart = np.min([_distance(scaled, i) for i in taken], axis=0)
        while len(taken) < most:
            taken.append(int(apart.argmax()))
            apart = np.minimum(apart, _distance(scaled, taken[-1]))
        left = [left[i] for i in taken]
    return sorted(left, key=lambda one: (one.barrels, one.cost[1], one.yearly_l))


def _distance(scaled: Floats, index: int) -> Floats:
    return np.asarray(np.abs(scaled - scaled[index]).sum(axis=1))


def gains_l(rungs: Sequence[Choice]) -> list[Floats]:
    """What each further barrel of a ladder adds in each year, (Y,) [L]."""
    return [np.asarray(more.middle_l - less.middle_l) for less, more in pairwise(rungs)]


def first_served(
    years: Years, choice: Choice, kinds_l: float, single: Sequence[int]
) -> list[tuple[str, float]]:
    """For each bed of a choice, the share of its days met if it is always watered first [1].

    kinds_l : usable litres of one added barrel. single : indices of the ways that water one bed only.
    """
    beds = [way for way in single if years.asks[way][0] in years.asks[choice.ask]]
    capacity_l = (years.capacity_l + kinds_l * np.array(choice.added))[None, :]
    demand_l = np.repeat(years.demand_l[:, choice.ask : choice.ask + 1], len(beds), axis=1)
    first_l = years.demand_l[:, beds]
    met = np.mean(
        [
            side_by_side.play(
                years.inflow_l, demand_l, capacity_l, rule, emptied=years.emptied, first_l=first_l
            ).first_met_days.sum(axis=(1, 2))
            for rule in RULES
        ],
        axis=0,
    )
    asked = (first_l > 0.0).sum(axis=(0, 2))
    return [
        (years.asks[way][0], float(got / days))
        for way, got, days in zip(beds, met.tolist(), asked.tolist(), strict=True)
        if days
    ]


def named_years(years: Sequence[int], inflow_l: Floats) -> tuple[int, int, int] | None:
    """The dry, middling and wet year by that inflow; None without any."""
    ranked = [years[i] for i in np.argsort(inflow_l, kind="stable").tolist()]
    found = [at_rank(ranked, share) for share in (DRY, MIDDLING, WET)]
    return None if None in found else (found[0] or 0, found[1] or 0, found[2] or 0)
