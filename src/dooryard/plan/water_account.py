"""Where a yard's water came from and went in a mean year, by name, for the water report."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta

from dooryard.figure import Input
from dooryard.plan.document import Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.storages import pool_words
from dooryard.water.budget import AIR, OTHERS, STORE, Budget, budgets, tap_l
from dooryard.water.network import Narrowing, PoolRun, YardRun
from dooryard.words import list_words
from dooryard.yard.model import DOWNSPOUT, GROUND, TAP

_YEAR_D = 365.25
_LEAST_D = 365
_PLACES: Mapping[str, str] = {
    AIR: "the air",
    STORE: "kept in store",
    OTHERS: "other barrels",
    TAP: "the tap",
    GROUND: "the ground",
    DOWNSPOUT: "the old downspout",
}
_NAMES: Mapping[str, str] = {
    "rain and melt": "Rain and melt on its roofs",
    "wetting": "Only wets the dry roof",
    "splash": "Splashes off or dries",
    "out of service": "While the barrel is put away",
    "past the diverter": "Past the diverter",
    "first flush": "First flush",
    "into the storage": "Reaches it",
    "overflow of others": "Runs over from others",
    "watering": "Waters",
    "tap": "Tap makes up the rest",
    "other use": "Other use",
    "overflow": "Runs over",
    "poured out": "Poured out at season's end",
    "set right by a reading": "Set right by level readings",
    "held more": "Held more at the end",
}


def describe(draft: Draft, run: YardRun) -> None:
    """Add one stop with the account of every pool, and a sentence on what hours of rain narrow."""
    if not run.pools or not len(run.dates):
        return
    first, end = run.dates[0].item(), run.dates[-1].item() + timedelta(days=1)
    for pool, budget in zip(run.pools, budgets(run, first, end), strict=True):
        sentences = _sentences(draft, run, pool, budget)
        table = _table(draft, pool, budget) if budget.days >= _LEAST_D else None
        stop = Stop("part", f"{slug(pool.storages[0])}-account", f"Where the water of {pool_words(pool)} goes",
                    tuple(sentences), table)  # fmt: skip
        draft.walk.append(stop)
    draft.record_notes += list(run.notes)


def _sentences(draft: Draft, run: YardRun, pool: PoolRun, budget: Budget) -> list[str]:
    if budget.days < _LEAST_D:
        return ["The record holds less than a year of rain days, so no mean year is given."]
    key = f"storage.{slug(pool.storages[0])}"
    parts = {
        name: _yearly(budget, name) for name in ("rain and melt", "into the storage", "overflow", "watering")
    }
    counted = (
        Input("days with a rain record", f"{budget.days:,}"),
        Input("left out", f"{budget.missing_days:,} days"),
    )
    marks = {
        name: draft.book.quantity(
            f"{key}.account-{slug(name)}",
            f"{_NAMES[name].lower()} in a mean year at {pool_words(pool)}",
            sum(ends) / 2,
            "volume",
            "water.account",
            low=min(ends),
            high=max(ends),
            inputs=counted,
        )
        for name, ends in parts.items()
    }
    said = [
        f"In a mean year {marks['rain and melt']} of rain and melt fall on its roofs and {marks['into the storage']} "
        f"reach it. It gives the beds {marks['watering']}, and {marks['overflow']} run over. The two ends are the two "
        "orders of rain and use within a day."
    ]
    if pool is run.pools[0]:
        said.append(_tap(draft, run, budget))
    said += [_narrowed(draft, one) for one in run.narrowed if one.storages == pool.storages and one.days]
    return said


def _tap(draft: Draft, run: YardRun, budget: Budget) -> str:
    first, end = run.dates[0].item(), run.dates[-1].item() + timedelta(days=1)
    low, high = (litres * _YEAR_D / budget.days for litres in tap_l(run, first, end))
    tap = draft.book.quantity(
        "yard.tap",
        "water from the tap in a mean year, for beds on it and for what the barrels lacked",
        (low + high) / 2,
        "volume",
        "water.account",
        low=low,
        high=high,
        inputs=(Input("days with a rain record", f"{budget.days:,}"),),
    )
    return f"All beds and barrels of the yard together take {tap} a year from the tap."


def _narrowed(draft: Draft, one: Narrowing) -> str:
    """What the hours of rain tell more of one pool than its days."""
    widths = [draft.book.show(width, "volume") for width in (one.width_by_day_l, one.width_by_hour_l)]
    ends = [
        draft.book.range_words(*supplied, "volume")
        for supplied in (one.supplied_by_day_l, one.supplied_by_hour_l)
    ]
    return (
        f"Hours of rain are known for {one.days:,} days. On these the level is known to {widths[1]} instead of "
        f"{widths[0]}, and what it gave is {ends[1]} instead of {ends[0]}."
    )


def _yearly(budget: Budget, name: str) -> tuple[float, float]:
    """A flow's sums under the two rules, as a mean year's [L]."""
    yas, ybs = budget.total_l(name)
    return yas * _YEAR_D / budget.days, ybs * _YEAR_D / budget.days


def _table(draft: Draft, pool: PoolRun, budget: Budget) -> Table:
    rows = []
    for flow in budget.flows:
        low, high = sorted(litres * _YEAR_D / budget.days for litres in (flow.yas_l, flow.ybs_l))
        rows.append(
            (
                _NAMES.get(flow.name, flow.name),
                _place(flow.source, pool),
                _place(flow.target, pool),
                draft.book.range_words(low, high, "volume"),
            )
        )
    return Table(
        f"Every flow at {pool_words(pool)} in a mean year, over {budget.days:,} days",
        (("Flow", "left"), ("From", "left"), ("To", "left"), ("Amount", "right")),
        tuple(rows),
    )


def _place(name: str, pool: PoolRun) -> str:
    if name == ", ".join(pool.storages):
        return list_words(pool.storages)
    if name == ", ".join(pool.roofs):
        return list_words(pool.roofs)
    return _PLACES.get(name, name)
