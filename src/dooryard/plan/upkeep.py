"""The upkeep that comes round by itself: wrigglers each week, the drain before hard frost."""

from __future__ import annotations

from datetime import timedelta

from dooryard.plan import mosquito_words
from dooryard.plan.draft import Draft
from dooryard.plan.storages import in_use, pool_words
from dooryard.plan.task import Task
from dooryard.water.network import PoolRun, YardRun
from dooryard.words import list_words


def describe(draft: Draft, run: YardRun) -> None:
    """Add the weekly look for mosquito larvae while it is warm, and the cautions every storage needs."""
    if not run.pools:
        return
    draft.caution("water.not_drinking", "water.mosquitoes")
    if draft.yard.household.children:
        draft.caution("water.children")
    draft.caution("water.rules", "water.backflow")
    filled = tuple(pool for pool in run.pools if in_use(pool))
    if filled and mosquito_words.now_days(draft) is not None:
        _weekly(draft, filled)


def _weekly(draft: Draft, pools: tuple[PoolRun, ...]) -> None:
    names = list_words([pool_words(pool) for pool in pools])
    several = sum(len(pool.storages) for pool in pools) > 1
    rest = draft.knowledge.fact("mosquito.water_stage")
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
    now = mosquito_words.now_days(draft)
    common = (
        f"; the common kind in {mosquito_words.days_mark(draft, now)} at the warmth of the last two weeks"
        if now
        else ""
    )
    draft.tasks.append(
        Task(
            id="upkeep.mosquitoes",
            verb="Look",
            place=list_words([name for pool in pools for name in pool.storages]),
            kind="upkeep",
            what=f"Look into {names} for wrigglers and see that every screen lies tight, "
            f"{mosquito_words.every(draft)}. "
            f"Use or empty the water in that time if {'they hold' if several else 'it holds'} any.",
            from_=draft.on,
            to=draft.last_day,
            best=min(draft.on + timedelta(days=2), draft.last_day),
            why=f"It is warm enough for mosquitoes, and they grow up in water in {stage}{common}.",
            cautions=draft.caution("water.mosquitoes", "water.larvicide"),
            if_missed="A brood flies. Empty the barrel at once, over dry ground, and mend the screen.",
        )
    )
