"""What the barrel gives in a season, and what the next one would add, from the station's own years."""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from dooryard.figure import Input
from dooryard.plan import roofs
from dooryard.plan.document import Json
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.water.network import PoolRun, YardRun
from dooryard.water.worth import Worth, season_worth
from dooryard.weather.record import Floats
from dooryard.words import list_words

STEPS = 3
FEWEST_YEARS = 5


def describe(draft: Draft, run: YardRun, pool: PoolRun) -> tuple[list[str], list[Json]]:
    """Sentences on how much of the wanted water it gives and what one more would add, and the worth steps."""
    name = list_words([f"the {storage}" for storage in pool.storages])
    demand_l = pool.reachable_demand_l
    if not np.nansum(demand_l) > 0:
        return [f"No bed takes water from {name}, so a bigger store would add nothing."], []
    step_l = max(draft.yard.storage(storage).active_l for storage in pool.storages)
    worth = season_worth(run.dates, pool.inflow_l, demand_l, pool.capacity_l, step_l, STEPS)
    if len(worth.years) < FEWEST_YEARS or None in (worth.dry_year, worth.middling_year, worth.wet_year):
        too_few = (
            f"The record has only {len(worth.years)} whole years of rain: too few to say what a second barrel "
            "would be worth."
        )
        return [too_few], []
    return _sentences(draft, run, pool, worth, step_l), [_chart(draft, pool, worth)]


def counted_all_the_same(draft: Draft, storages: Collection[str] | None = None) -> list[str]:
    """That food beds are counted which the water should stay off; nothing if there are none."""
    kept = roofs.kept_from(draft, storages)
    if not kept:
        return []
    names = list_words([f"the {name}" for name in kept])
    return [f"That counts {names}, though this water should stay off food plants: there is less use for it."]


def askers(draft: Draft, pool: PoolRun) -> str:
    """Who asks for the water of a pool: "its beds", "their beds and other uses"."""
    storages = [draft.yard.storage(name) for name in pool.storages]
    asking = ["beds"] if any(bed.watered_from in pool.storages for bed in draft.yard.beds) else []
    if any(one.daily_use_l > 0.0 for one in storages):
        asking.append("other uses")
    return f"{'its' if len(storages) == 1 else 'their'} {list_words(asking)}"


def _sentences(draft: Draft, run: YardRun, pool: PoolRun, worth: Worth, step_l: float) -> list[str]:
    name = list_words([f"the {storage}" for storage in pool.storages])
    given_l = [_mean_yearly(run, rule.supplied_l, worth.years) for rule in (pool.yas, pool.ybs)]
    key = f"storage.{slug(pool.storages[0])}"
    given = draft.book.quantity(
        f"{key}.given",
        f"water {name} gives in a season, over {len(worth.years)} years, by the two operating rules",
        sum(given_l) / 2,
        "volume",
        "water.yas",
        low=min(given_l),
        high=max(given_l),
        inputs=(
            Input("years", f"{worth.years[0]} to {worth.years[-1]}, {len(worth.years)} whole years"),
            draft.book.input("usable volume", pool.capacity_l, "volume", "the yard file"),
        ),
        note="Use after the day's rain is the low end, use before it the high end. A day is too coarse a step "
        "for a barrel, so the truth lies between.",
    )
    wanted = draft.book.quantity(
        f"{key}.wanted",
        f"water that is asked of {name} in a season, middle of {len(worth.years)} years",
        float(np.median(worth.demand_l)),
        "volume",
        "water.soil_balance",
        low=float(np.quantile(worth.demand_l, 0.1)),
        high=float(np.quantile(worth.demand_l, 0.9)),
        inputs=(Input("range", "one year in ten asks for less, one in ten for more"),),
    )
    return [
        f"Over the years of this record {name} gave {given} a season of the {wanted} {askers(draft, pool)} wanted.",
        _next_words(draft, worth, key, step_l),
        *counted_all_the_same(draft, pool.storages),
    ]


def _chart(draft: Draft, pool: PoolRun, worth: Worth) -> Json:
    years = _named(worth)
    added = {word: worth.added_in(year) for word, year in years.items()}
    unit = "gal" if draft.yard.units == "us" else "L"

    def shown(word: str, step: int) -> float:
        return round(draft.book.number(float(added[word][step]), "volume"))

    steps = [
        {
            "label": f"{_ordinal(step)} more",
            **{word: shown(word, step) for word in years},
        }
        for step in range(STEPS)
    ]
    return {
        "id": f"{slug(pool.storages[0])}.worth",
        "kind": "worth",
        "title": "What each further barrel would add in a season",
        "words": "Each step is one more barrel like the largest here. A low step means it would seldom be used.",
        "unit": unit,
        "years": years,
        "steps": steps,
        "table": {
            "caption": f"Water each further barrel adds in a season, {unit}",
            "columns": [
                {"text": "Barrel", "align": "left"},
                *({"text": f"{word} year {year}", "align": "right"} for word, year in years.items()),
            ],
            "rows": [[step["label"], *(f"{step[word]:,.0f}" for word in years)] for step in steps],
        },
    }


def _mean_yearly(run: YardRun, supplied_l: Floats, years: tuple[int, ...]) -> float:
    """Mean over the given years of what was supplied in each [L]."""
    year = run.dates.astype("datetime64[Y]").astype(int) + 1970
    counted = np.isin(year, years)
    return float(np.nansum(supplied_l[counted])) / len(years)


def _next_words(draft: Draft, worth: Worth, key: str, step_l: float) -> str:
    named = _named(worth)
    added = [float(worth.added_in(year)[0]) for year in named.values()]
    mark = draft.book.quantity(
        f"{key}.next",
        "water one more barrel would add in a season",
        added[1],
        "volume",
        "water.worth",
        low=min(added),
        high=max(added),
        inputs=(
            draft.book.input("one more barrel holds", step_l, "volume", "the largest barrel here"),
            *(
                draft.book.input(f"{word} year {year}", amount, "volume")
                for (word, year), amount in zip(named.items(), added, strict=True)
            ),
        ),
    )
    if max(added) < 1.0:
        return "One more barrel like it would have added nothing: this one never ran dry while a bed was due."
    return (
        f"One more like it would have added {mark} a season "
        f"(dry year {named['dry']}, middling {named['middling']}, wet {named['wet']})."
    )


def _named(worth: Worth) -> dict[str, int]:
    """The dry, middling and wet year by those words."""
    years = {"dry": worth.dry_year, "middling": worth.middling_year, "wet": worth.wet_year}
    return {word: year for word, year in years.items() if year is not None}


def _ordinal(step: int) -> str:
    return ("one", "two", "three", "four", "five")[step]
