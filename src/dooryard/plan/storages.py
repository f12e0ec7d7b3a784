"""Each barrel or tank in the plan: what stands in it, what it weighs, how it stands, how it overflows."""

from __future__ import annotations

from datetime import timedelta

from dooryard.figure import Input
from dooryard.plan import barrel_burst, barrel_stand, barrel_worth
from dooryard.plan.document import Json, Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.ribbon import ribbon
from dooryard.plan.task import Task
from dooryard.water.network import PoolRun, YardRun
from dooryard.water.storm import fill_depth
from dooryard.water.uphill import uphill
from dooryard.words import day_words, list_words
from dooryard.yard.model import Storage

# A level range wider than this share of the storage is worth a look in it: a choice of use, not of the trade.
WIDE_SHARE = 0.25
RIBBON_DAYS = 75


def describe(draft: Draft, run: YardRun) -> None:
    """Add stops, tasks, drawings and refusals for every storage of the yard."""
    for pool in run.pools:
        worth_words, worth_chart = barrel_worth.describe(draft, run, pool)
        drawn = shared_drawings(draft, pool, worth_chart)
        for number, storage in enumerate(members(draft, pool)):
            sentences = standing(draft, run, pool, storage)
            sentences += filling(draft, pool, storage) if number == 0 else []
            sentences += barrel_stand.sentences(draft, storage)
            sentences += barrel_burst.sentences(draft, storage)
            sentences += worth_words if number == 0 else []
            add_stop(draft, pool, storage, sentences, drawn if number == 0 else [])
        look(draft, pool)


def members(draft: Draft, pool: PoolRun) -> list[Storage]:
    """The storages of a pool."""
    return [draft.yard.storage(name) for name in pool.storages]


def shared_drawings(draft: Draft, pool: PoolRun, more: list[Json]) -> list[str]:
    """Enter the drawings that belong to a pool as a whole, `more` among them; gives their ids."""
    charts = [*([_ribbon(draft, pool)] if in_use(pool) else []), *more]
    draft.charts.extend(charts)
    return [chart["id"] for chart in charts]


def standing(draft: Draft, run: YardRun, pool: PoolRun, storage: Storage) -> list[str]:
    """What stands in a storage this morning, or that it is put away."""
    if in_use(pool):
        return [level_words(draft, pool, storage, len(pool.storages))]
    return [_put_away(run, storage)]


def add_stop(
    draft: Draft,
    pool: PoolRun,
    storage: Storage,
    sentences: list[str],
    shared: list[str],
    *,
    drawn: bool = True,
) -> None:
    """Add the stop of one storage: its sentences, its heights, its glass, and drawings it shares with its pool.

    drawn : whether to draw the glass, which a pool that is put away has not.
    """
    glasses = glass(draft, pool, storage) if drawn and in_use(pool) else []
    draft.charts.extend(glasses)
    draft.walk.append(
        Stop(
            "storage",
            slug(storage.name),
            storage.name,
            tuple(sentences),
            _heights(draft, storage),
            (*(chart["id"] for chart in glasses), *shared),
        )
    )


def look(draft: Draft, pool: PoolRun) -> None:
    """The look at a pool's level, or that it is drained."""
    if in_use(pool):
        _look_at_level(draft, pool)
    else:
        _look_that_it_is_drained(draft, pool)


def in_use(pool: PoolRun) -> bool:
    """Whether the pool stood under its downspout on the eve of the plan."""
    return bool(pool.in_service[-1])


def standing_l(pool: PoolRun) -> tuple[float, float]:
    """Water standing in a pool on the morning of the plan, lowest and highest [L]."""
    return float(pool.level_low_l[-1]), float(pool.level_high_l[-1])


def usable_l(pool: PoolRun) -> tuple[float, float]:
    """Water a pool can give through its outlets on the morning of the plan, lowest and highest [L]."""
    low, high = standing_l(pool)
    return max(low - pool.dead_l, 0.0), max(high - pool.dead_l, 0.0)


def pool_words(pool: PoolRun) -> str:
    """ "the back barrel" or "the left tank and the right tank"."""
    return list_words([f"the {name}" for name in pool.storages])


def level_words(draft: Draft, pool: PoolRun, storage: Storage, linked: int) -> str:
    """What stands in one storage this morning, of it what no spigot reaches; linked : storages of its pool."""
    low, high = standing_l(pool)
    full = pool.capacity_l + pool.dead_l
    share = storage.full_l / full if linked > 1 else 1.0
    level = draft.book.quantity(
        f"storage.{slug(storage.name)}.level",
        f"water in the {storage.name} on the morning of {day_words(draft.on)}",
        share * (low + high) / 2,
        "volume",
        "water.level_bracket",
        low=share * low,
        high=share * high,
        about=True,
        inputs=(
            draft.book.input("holds up to the overflow", storage.full_l, "volume", "the yard file"),
            *_dead_input(draft, storage),
            Input("last level reading", _last_reading(draft, pool)),
            Input("no gap in the rain matters since", _known_since(pool)),
        ),
    )
    together = f" It shares one level with {_others(pool, storage)}." if linked > 1 else ""
    return f"The {storage.name} holds {level} this morning.{_stranded(draft, storage)}{together}"


def _last_reading(draft: Draft, pool: PoolRun) -> str:
    read = [
        level.date for level in draft.yard.levels if level.storage in pool.storages and level.date <= draft.on
    ]
    return day_words(max(read), year=True) if read else "none in the yard file"


def _known_since(pool: PoolRun) -> str:
    return "one still does" if pool.known_since is None else day_words(pool.known_since, year=True)


def _put_away(run: YardRun, storage: Storage) -> str:
    season = "" if run.service is None else f" Barrels are taken to be in use {run.service.words()}."
    return (
        f"The {storage.name} is taken to be drained and off its downspout now, for hard frost splits it.{season} "
        "If it still holds water, drain it today."
    )


def _look_that_it_is_drained(draft: Draft, pool: PoolRun) -> None:
    """In the months of hard frost one look replaces all other work on it."""
    several = len(pool.storages) > 1
    draft.tasks.append(
        Task(
            id=f"storage.{slug(pool.storages[0])}.drained",
            verb="Look",
            place=list_words(pool.storages),
            kind="frost",
            what=f"Look that {pool_words(pool)} {'are' if several else 'is'} drained, with the spigot open, tied down "
            "or stored, and that the downspout leads its water away from the wall.",
            from_=draft.on,
            to=draft.last_day,
            best=draft.on,
            why="Hard frost is usual in this part of the year. Ice splits barrels and spigots.",
            cautions=draft.caution("water.freeze", "water.empty_barrel"),
            if_missed="Look for cracks at the spigot before you fill it in spring.",
        )
    )


def _stranded(draft: Draft, storage: Storage) -> str:
    """How much no spigot reaches, or that nobody can say."""
    if storage.outlet_height_m is None:
        return " How much of it stays below the spigot is not known: the yard file has no outlet height."
    if storage.dead_l <= 0:
        return ""
    dead = draft.book.quantity(
        f"storage.{slug(storage.name)}.dead",
        f"water below the outlet of the {storage.name}",
        storage.dead_l,
        "volume",
        "water.dead",
        inputs=(
            draft.book.input("height of the outlet", storage.outlet_height_m, "length", "the yard file"),
        ),
    )
    return f" Of that, {dead} stays below the outlet."


def _dead_input(draft: Draft, storage: Storage) -> list[Input]:
    """The water below the outlet as an input, if the outlet's height is known: nothing is not a measurement."""
    if storage.outlet_height_m is None:
        return []
    return [draft.book.input("below the outlet", storage.dead_l, "volume", "the yard file")]


def _others(pool: PoolRun, storage: Storage) -> str:
    return list_words([f"the {name}" for name in pool.storages if name != storage.name])


def filling(draft: Draft, pool: PoolRun, storage: Storage) -> list[str]:
    """How much rain fills the pool from empty and from here."""
    if pool.area_m2 <= 0:
        above = [
            f"the {one.name}"
            for one in uphill(draft.yard, storage.name).above
            if one.empties_to in pool.storages
        ]
        if above:
            return [
                f"No roof drains to {pool_words(pool)}: it takes what runs over from {list_words(above)}."
            ]
        return [f"No roof drains to {pool_words(pool)}: it must be filled by hand."]
    roofs = [roof for roof in draft.yard.roofs if roof.name in pool.roofs]
    coverings = [draft.knowledge.coverings[roof.covering] for roof in roofs]
    wet_m2 = sum(roof.area_m2 * covering.coefficient for roof, covering in zip(roofs, coverings, strict=True))
    low_m2 = sum(roof.area_m2 * covering.low for roof, covering in zip(roofs, coverings, strict=True))
    high_m2 = sum(roof.area_m2 * covering.high for roof, covering in zip(roofs, coverings, strict=True))
    shares = tuple(
        Input(f"share that runs off, {covering.name}", f"{covering.coefficient:g}", covering.source)
        for covering in dict.fromkeys(coverings)
    )

    def fills(figure_id: str, what: str, litres: float, room: str) -> str:
        return draft.book.quantity(
            f"storage.{slug(storage.name)}.{figure_id}",
            f"rain that fills {pool_words(pool)} {what}",
            float(fill_depth(litres, 1.0, wet_m2)),
            "depth",
            "water.fill_depth",
            low=float(fill_depth(litres, 1.0, high_m2)),
            high=float(fill_depth(litres, 1.0, low_m2)),
            inputs=(
                draft.book.input(room, litres, "volume", "the yard file"),
                draft.book.input("roof area", pool.area_m2, "area", "the yard file"),
                *shares,
            ),
        )

    depth = fills("fill", "from the outlet up", pool.capacity_l, "room above the outlet")
    whole_l = sum(draft.yard.storage(name).volume_l for name in pool.storages)
    if whole_l <= pool.capacity_l:
        return [f"Empty, it takes {depth} of rain to fill. What comes after that runs over."]
    whole = fills("fill-whole", "from dry to the rim", whole_l, "room from dry to the rim")
    return [
        f"All it holds, from dry to the rim, is {whole} of rain on its roof; from the outlet to the overflow it takes "
        f"{depth}. What comes after that runs over."
    ]


def _heights(draft: Draft, storage: Storage) -> Table | None:
    if storage.section_m2 is None or storage.height_m is None:
        return None
    length, volume = ("in", "gal") if draft.yard.units == "us" else ("cm", "L")
    factor = 39.37007874 if length == "in" else 100.0
    rows = []
    for name, height in (
        ("Rim", storage.height_m),
        ("Overflow", storage.overflow_height_m),
        ("Outlet", storage.outlet_height_m),
    ):
        if height is not None:
            litres = min(storage.volume_l, storage.section_m2 * height * 1000)
            rows.append((name, f"{height * factor:.1f}", f"{draft.book.number(litres, 'volume'):.0f}"))
    return Table(
        f"Heights above the bottom of the {storage.name}",
        (("What", "left"), (f"Height, {length}", "right"), (f"Holds below it, {volume}", "right")),
        tuple(rows),
    )


def _look_at_level(draft: Draft, pool: PoolRun) -> None:
    """A wide range of the level is worth a look; a missing reading too."""
    low, high = standing_l(pool)
    if high - low <= WIDE_SHARE * (pool.capacity_l + pool.dead_l):
        return
    draft.tasks.append(
        Task(
            id=f"storage.{slug(pool.storages[0])}.read",
            verb="Look",
            place=list_words(pool.storages),
            kind="storage",
            what=f"Read how high the water stands in {pool_words(pool)} and write it into the yard file.",
            from_=draft.on,
            to=min(draft.on + timedelta(days=2), draft.last_day),
            best=draft.on,
            why="The record alone leaves a wide range: "
            f"[[storage.{slug(pool.storages[0])}.level]]. One reading narrows it for weeks.",
            if_missed="The plan stays right but vague: it cannot say whether the water is enough.",
        )
    )


def glass(draft: Draft, pool: PoolRun, storage: Storage) -> list[Json]:
    """The storage in section, if its height and width are known."""
    section = storage.section_m2
    if storage.height_m is None or section is None:
        return []
    low, high = standing_l(pool)
    share = storage.full_l / (pool.capacity_l + pool.dead_l)
    unit, factor = ("in", 39.37007874) if draft.yard.units == "us" else ("cm", 100.0)
    width = storage.diameter_m if storage.diameter_m is not None else 2 * (section / 3.14159265) ** 0.5

    def height(litres: float) -> float:
        return round(litres * share / (section * 1000) * factor, 1)

    free_low, free_high = storage.full_l - high * share, storage.full_l - low * share
    chart_id = f"{slug(storage.name)}.glass"
    level = f"[[storage.{slug(storage.name)}.level]]"
    return [
        {
            "id": chart_id,
            "kind": "glass",
            "title": f"The {storage.name} this morning",
            "words": f"The {storage.name} drawn to scale. It holds {level}.",
            "height": round(storage.height_m * factor, 1),
            "diameter": round(width * factor, 1),
            "unit": unit,
            "outlet": None if storage.outlet_height_m is None else round(storage.outlet_height_m * factor, 1),
            "overflow": None
            if storage.overflow_height_m is None
            else round(storage.overflow_height_m * factor, 1),
            "level_low": height(low),
            "level_high": height(high),
            "volume_unit": "gal" if unit == "in" else "L",
            "level_text": f"{draft.book.figures[f'storage.{slug(storage.name)}.level'].shown} in it",
            "free_text": _free_words(draft, max(free_low, 0.0), max(free_high, 0.0)),
            "stranded_text": ""
            if storage.outlet_height_m is None
            else f"{draft.book.show(storage.dead_l, 'volume')} below the outlet",
            "today": draft.on.isoformat(),
            "table": {
                "caption": f"The {storage.name}: heights above its bottom",
                "columns": [{"text": "What", "align": "left"}, {"text": f"Height, {unit}", "align": "right"}],
                "rows": [
                    ["water, lowest", f"{height(low):.1f}"],
                    ["water, highest", f"{height(high):.1f}"],
                ],
            },
        }
    ]


def _free_words(draft: Draft, low_l: float, high_l: float) -> str:
    """The room left, in words: "full", "room for up to 12 gal", "room for 5 to 12 gal"."""
    nothing, low, high = (draft.book.show(litres, "volume") for litres in (0.0, low_l, high_l))
    if high == nothing:
        return "full"
    if low == nothing:
        return f"room for up to {high}"
    return f"room for {draft.book.range_words(low_l, high_l, 'volume')}"


def _ribbon(draft: Draft, pool: PoolRun) -> Json:
    """Rain from above and the level from below, for the last weeks."""
    name = list_words(pool.storages)
    full_l = pool.capacity_l + pool.dead_l
    lip_known = all(draft.yard.storage(one).overflow_height_m is not None for one in pool.storages)
    return ribbon(
        draft,
        chart_id=f"{slug(pool.storages[0])}.ribbon",
        title=f"Rain and the level in {pool_words(pool)}",
        words="Rain hangs from the top. Water in the barrel rises from the bottom; where it is hatched the "
        "record leaves a range.",
        low=[float(value) for value in pool.level_low_l[-RIBBON_DAYS:]],
        high=[float(value) for value in pool.level_high_l[-RIBBON_DAYS:]],
        dimension="volume",
        capacity=full_l,
        level_name=f"water in the {name}",
        lines=(
            ("overflow" if lip_known else "full", full_l),
            *((("outlet", pool.dead_l),) if pool.dead_l > 0 else ()),
        ),
    )
