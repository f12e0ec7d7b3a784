"""Before a forecast storm: how much to let out, by when, how long it takes, and what little it changes."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from dooryard.figure import Input
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.storages import in_use, pool_words, standing_l
from dooryard.plan.task import Task
from dooryard.water.catchment import runoff
from dooryard.water.network import PoolRun, YardRun
from dooryard.water.outlet import discharge_coefficient, drain_time
from dooryard.water.storm import drawdown
from dooryard.weather.record import as_date
from dooryard.words import day_words, list_words

NO_ROOM_L = 2.0  # below this a storage is called full


def describe(draft: Draft, run: YardRun) -> None:
    """Add a task for every storage that the forecast's wettest day would overfill."""
    if draft.forecast is None:
        return
    for pool in run.pools:
        if pool.area_m2 > 0 and in_use(pool):
            _drill(draft, pool)


def _drill(draft: Draft, pool: PoolRun) -> None:
    assert draft.forecast is not None
    rain = draft.forecast.rain_mm
    ahead = [
        i for i, day in enumerate(draft.forecast.dates) if as_date(day) >= draft.on and not np.isnan(rain[i])
    ]
    if not ahead:
        return
    wettest = max(ahead, key=lambda i: float(rain[i]))
    day = as_date(draft.forecast.dates[wettest])
    depths = [float(rain[wettest]), *_spread(draft, wettest)]
    inflow, low_inflow, high_inflow = (_inflow(draft, pool, depth) for depth in depths)
    low, high = standing_l(pool)
    full = pool.capacity_l + pool.dead_l
    if inflow <= full - high:
        return
    _task(draft, pool, day, depths, (inflow, low_inflow, high_inflow), (low, high))


def _spread(draft: Draft, index: int) -> tuple[float, float]:
    assert draft.forecast is not None
    likely = float(draft.forecast.rain_mm[index])
    low, high = float(draft.forecast.rain_low_mm[index]), float(draft.forecast.rain_high_mm[index])
    return (likely if np.isnan(low) else low), (likely if np.isnan(high) else high)


def _inflow(draft: Draft, pool: PoolRun, depth_mm: float) -> float:
    total = 0.0
    for roof in draft.yard.roofs:
        if roof.name in pool.roofs:
            covering = draft.knowledge.coverings[roof.covering]
            total += float(
                runoff(np.array([depth_mm]), roof.area_m2, covering.coefficient, covering.wetting_loss_mm)[0]
            )
    return total


def _task(
    draft: Draft,
    pool: PoolRun,
    day: date,
    depths: list[float],
    inflows: tuple[float, float, float],
    levels: tuple[float, float],
) -> None:
    key = f"storage.{slug(pool.storages[0])}"
    name = pool_words(pool)
    full = pool.capacity_l + pool.dead_l
    level = sum(levels) / 2
    usable = max(level - pool.dead_l, 0.0)
    let_out = min(float(drawdown(level, full, inflows[0])), usable)
    spilled_kept = max(inflows[0] - (full - level), 0.0)
    spilled_after = max(inflows[0] - (full - level + let_out), 0.0)
    rain = draft.book.quantity(
        "forecast.rain",
        f"rain forecast for {day_words(day)}",
        depths[0],
        "depth",
        "forecast.file",
        low=depths[1],
        high=depths[2],
        inputs=(draft.book.input("most likely", depths[0], "depth", "the forecast file"),),
    )
    comes = draft.book.quantity(
        f"{key}.storm",
        f"water that rain sends to {name}",
        inflows[0],
        "volume",
        "water.runoff",
        low=inflows[1],
        high=inflows[2],
        inputs=(
            draft.book.input("roof area", pool.area_m2, "area", "the yard file"),
            draft.book.input("rain, most likely", depths[0], "depth", "the forecast file"),
        ),
    )
    room = draft.book.quantity(
        f"{key}.room",
        f"room in {name} this morning",
        full - level,
        "volume",
        "water.level_bracket",
        low=full - levels[1],
        high=full - levels[0],
        inputs=(draft.book.input("holds up to the overflow", full, "volume", "the yard file"),),
    )
    room_words = "there is no room left" if full - levels[0] < NO_ROOM_L else f"there is room for {room}"
    if let_out <= 0:
        draft.tasks.append(
            Task(
                id=f"{key}.storm-{day.isoformat()}",
                verb="Look",
                place=list_words(pool.storages),
                kind="storage",
                what=f"Clear the screen of {name} and see that the overflow is open before {day_words(day)}.",
                from_=draft.on,
                to=max(draft.on, day - timedelta(days=1)),
                best=max(draft.on, day - timedelta(days=1)),
                why=f"{rain} of rain is forecast. It sends {comes}, and {room_words}. "
                "There is nothing to let out first.",
                cautions=draft.caution("water.overflow"),
                if_missed="A blocked screen or overflow sends water down the wall.",
            )
        )
        return
    drain = draft.book.quantity(
        f"{key}.drain",
        f"water to let out of {name} before the storm",
        let_out,
        "volume",
        "water.drawdown",
        about=True,
        inputs=(
            draft.book.input("stands in it", level, "volume"),
            *(
                [draft.book.input("below the outlet, cannot be let out", pool.dead_l, "volume")]
                if pool.dead_l > 0
                else []
            ),
            draft.book.input("comes", inflows[0], "volume"),
        ),
    )
    spill = draft.book.quantity(
        f"{key}.spill",
        f"water that still runs over from {name}",
        spilled_after,
        "volume",
        "water.drawdown",
        about=True,
        inputs=(draft.book.input("would run over if nothing is let out", spilled_kept, "volume"),),
    )
    takes = _drain_words(draft, pool, key, let_out, level)
    draft.headline(
        0, f"{rain} of rain is forecast for {day_words(day)}: let {drain} out of {name} before it."
    )
    draft.caution("water.overflow_place")
    draft.tasks.append(
        Task(
            id=f"{key}.storm-{day.isoformat()}",
            verb="Do",
            place=list_words(pool.storages),
            kind="storage",
            what=f"Open the spigot of {name} and let out {drain} before {day_words(day)}, on a bed that can use it "
            f"or away from the house.{takes}",
            from_=draft.on,
            to=max(draft.on, day - timedelta(days=1)),
            best=max(draft.on, day - timedelta(days=1)),
            why=f"{rain} of rain is forecast for {day_words(day)}. It sends {comes} to {name}, and {room_words}. "
            f"Even then {spill} runs over: this is not flood protection.",
            cautions=draft.caution("water.overflow"),
            if_missed="A little more runs over. See that the overflow is open and its end lies away from the wall.",
        )
    )


def _drain_words(draft: Draft, pool: PoolRun, key: str, let_out_l: float, level_l: float) -> str:
    """How long letting that out takes through the spigots, open all at once; empty if a measure is missing."""
    storages = [draft.yard.storage(name) for name in pool.storages]
    if any(storage.section_m2 is None or storage.outlet_height_m is None for storage in storages):
        return ""
    section = sum(storage.section_m2 or 0.0 for storage in storages)
    bore = draft.knowledge.fact("outlet.bore")
    loss = draft.knowledge.fact("outlet.loss_sum")
    head_from = (level_l - pool.dead_l) / (section * 1000)
    head_to = max(head_from - let_out_l / (section * 1000), 0.0)
    hours = [
        float(
            drain_time(section / len(storages), bore.value, discharge_coefficient(factor), head_from, head_to)
        )
        for factor in (loss.value, loss.low or loss.value, loss.high or loss.value)
    ]
    minutes = [max(1.0, round(hour * 60)) for hour in hours]
    shown = (
        f"{minutes[1]:.0f} to {minutes[2]:.0f} minutes"
        if minutes[1] != minutes[2]
        else f"{minutes[0]:.0f} minutes"
    )
    mark = draft.book.plain(
        f"{key}.drain-time",
        "time to let that out through the open spigot",
        hours[0],
        shown,
        "water.drain_time",
        unit="h",
        exact=f"{hours[0] * 60:.1f} minutes",
        low=min(hours),
        high=max(hours),
        inputs=(
            draft.book.input("bore of the spigot, the usual one", bore.value, "length", bore.source),
            Input("losses in the spigot", f"{loss.value:g} ({loss.low:g} to {loss.high:g})", loss.source),
            draft.book.input("water above the spigot at first", head_from, "length"),
        ),
    )
    return f" Without a hose that takes {mark}."
