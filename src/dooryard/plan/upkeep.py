"""The upkeep that comes round by itself: wrigglers each week, the drain before hard frost."""

from __future__ import annotations

from datetime import timedelta

import numpy as np

from dooryard.plan.draft import Draft
from dooryard.plan.storages import in_use, pool_words
from dooryard.plan.task import Task
from dooryard.water.network import PoolRun, YardRun
from dooryard.words import list_words

WARM_DAYS = 14


def describe(draft: Draft, run: YardRun) -> None:
    """Add the weekly look for mosquito larvae while it is warm, and the cautions every storage needs."""
    if not run.pools:
        return
    draft.caution("water.not_drinking", "water.mosquitoes")
    if draft.yard.household.children:
        draft.caution("water.children")
    draft.caution("water.rules", "water.backflow")
    filled = tuple(pool for pool in run.pools if in_use(pool))
    if filled and _warm(draft):
        _weekly(draft, filled)


def _warm(draft: Draft) -> bool:
    """Whether the last two weeks were warm enough for common mosquitoes to breed."""
    recent = (draft.record.t_min_c[-WARM_DAYS:] + draft.record.t_max_c[-WARM_DAYS:]) / 2
    known = recent[~np.isnan(recent)]
    return known.size > 0 and float(known.mean()) > draft.fact("mosquito.season_above")


def _weekly(draft: Draft, pools: tuple[PoolRun, ...]) -> None:
    every = draft.knowledge.fact("mosquito.empty_every")
    names = list_words([pool_words(pool) for pool in pools])
    several = sum(len(pool.storages) for pool in pools) > 1
    rest = draft.knowledge.fact("mosquito.water_stage")
    week = draft.book.plain(
        "mosquito.every",
        "how often standing water is used or emptied",
        every.value,
        f"every {every.value:.0f} days",
        "water.mosquito",
        unit="d",
        low=every.low,
        high=every.high,
    )
    stage = draft.book.plain(
        "mosquito.stage",
        "time larvae spend in the water",
        rest.value,
        f"{rest.low:.0f} to {rest.high:.0f} days",
        "water.mosquito",
        unit="d",
        low=rest.low,
        high=rest.high,
    )
    draft.tasks.append(
        Task(
            id="upkeep.mosquitoes",
            verb="Look",
            place=list_words([name for pool in pools for name in pool.storages]),
            kind="upkeep",
            what=f"Look into {names} for wrigglers and see that every screen lies tight, {week}. "
            f"Use or empty the water in that time if {'they hold' if several else 'it holds'} any.",
            from_=draft.on,
            to=draft.last_day,
            best=min(draft.on + timedelta(days=2), draft.last_day),
            why=f"It is warm enough for mosquitoes, and they grow up in water in {stage}.",
            cautions=draft.caution("water.mosquitoes", "water.larvicide"),
            if_missed="A brood flies. Empty the barrel at once, over dry ground, and mend the screen.",
        )
    )
