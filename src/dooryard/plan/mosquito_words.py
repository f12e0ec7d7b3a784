"""Mosquitoes at a yard's barrels: when it is warm enough, how soon they fly, how often a larvicide would be due."""

from __future__ import annotations

from datetime import date
from statistics import median

import numpy as np

from dooryard.figure import Input
from dooryard.plan.draft import Draft
from dooryard.plan.figures import join_range, slug
from dooryard.plan.frost import date_of
from dooryard.plan.storages import pool_words
from dooryard.water.mosquito import WarmSeason, days_in_water, doses, flushes, mesh_opening, warm_seasons
from dooryard.water.network import PoolRun, YardRun
from dooryard.words import range_words

FEWEST_YEARS = 5
_ALL_YEAR_D = 350


def sentences(draft: Draft, run: YardRun) -> list[str]:
    """The season, how soon they fly now, and the larvicide by the kind of its label; nothing without barrels."""
    if not run.pools:
        return []
    draft.caution("water.mosquitoes")
    found = seasons(draft)
    if len(found) < FEWEST_YEARS:
        return ["The record has too few whole years of temperatures to say when mosquitoes are about here."]
    return [_season(draft, found), _now(draft), _larvicide(draft, run, found)]


def seasons(draft: Draft) -> tuple[WarmSeason, ...]:
    """The warm season of each whole year of the record."""
    return warm_seasons(
        draft.record.dates,
        (draft.record.t_min_c + draft.record.t_max_c) / 2,
        draft.fact("mosquito.season_above"),
        round(draft.fact("mosquito.window")),
    )


def usual(draft: Draft, found: tuple[WarmSeason, ...]) -> tuple[date, date]:
    """First and last day of the middling season, in the planning year."""
    first, last = median(one.first for one in found), median(one.last for one in found)
    return date_of(draft.on.year, first), date_of(draft.on.year, min(last, 365))


def every(draft: Draft) -> str:
    """The mark of how often standing water is used or emptied."""
    fact = draft.knowledge.fact("mosquito.empty_every")
    return draft.book.plain(
        "mosquito.every",
        "how often standing water is used or emptied",
        fact.value,
        f"every {fact.value:.0f} days",
        "water.mosquito",
        unit="d",
        low=fact.low,
        high=fact.high,
    )


def now_days(draft: Draft) -> tuple[float, float, float] | None:
    """Mean warmth of the last two weeks [degC] and the days the common kind needs then, least and most; or None."""
    window = round(draft.fact("mosquito.window"))
    recent = (draft.record.t_min_c[-window:] + draft.record.t_max_c[-window:]) / 2
    known = recent[~np.isnan(recent)]
    base, heat = draft.knowledge.fact("mosquito.base"), draft.knowledge.fact("mosquito.heat")
    if not known.size or float(known.mean()) <= draft.fact("mosquito.season_above"):
        return None
    mean = float(known.mean())
    days = sorted(
        float(days_in_water(mean, one, sum_cd))
        for one, sum_cd in ((base.low or base.value, heat.low or heat.value), (base.value, heat.value))
    )
    return mean, days[0], days[1]


def days_mark(draft: Draft, now: tuple[float, float, float]) -> str:
    """The mark of the days from hatching to flight at the warmth of the last two weeks."""
    mean, least, most = now
    base, heat = draft.knowledge.fact("mosquito.base"), draft.knowledge.fact("mosquito.heat")
    return draft.book.plain(
        "mosquito.days",
        "days from hatching to flight of the common house mosquito at that warmth",
        most,
        join_range(f"{least:.0f} days", f"{most:.0f} days"),
        "water.mosquito_days",
        unit="d",
        low=least,
        high=most,
        exact=f"{least:.1f} to {most:.1f} days",
        inputs=(
            draft.book.input("mean of the last two weeks", mean, "temperature"),
            draft.book.input("no growth below", base.value, "temperature", base.source),
            draft.book.input("warmth they need above it", heat.value, "degree_days", heat.source),
        ),
    )


def _season(draft: Draft, found: tuple[WarmSeason, ...]) -> str:
    first, last = usual(draft, found)
    length = median(one.days for one in found)
    mark = draft.book.plain(
        "mosquito.season",
        "season in which it is warm enough for mosquitoes, in a middling year",
        length,
        "all year" if length >= _ALL_YEAR_D else range_words(first, last),
        "water.mosquito_season",
        unit="d",
        exact=f"{length:.0f} days",
        low=min(one.days for one in found),
        high=max(one.days for one in found),
        inputs=(
            draft.book.input(
                "two weeks' mean above", draft.fact("mosquito.season_above"), "temperature", "P-PRACTICE"
            ),
            Input("years counted", f"{len(found)}"),
        ),
    )
    return (
        f"By this station's years it is warm enough for mosquitoes {mark}. A tight screen on every opening comes "
        f"first, the overflow too: {_mesh(draft)}. In that time use or empty the water {every(draft)} and look for "
        "wrigglers."
    )


def _mesh(draft: Draft) -> str:
    """The screen to ask for, with the opening that leaves, against what a mosquito district allows."""
    mesh, wire = draft.knowledge.fact("mosquito.screen_mesh"), draft.knowledge.fact("mosquito.screen_wire")
    most = draft.knowledge.fact("mosquito.screen_opening")
    opening_mm = mesh_opening(mesh.value, wire.value)
    metric = draft.yard.units == "metric"
    mark = draft.book.plain(
        "mosquito.opening",
        f"opening of a screen of {mesh.value:.0f} meshes to the inch",
        opening_mm,
        f"{opening_mm:.1f} mm" if metric else draft.book.show(opening_mm / 1000, "length"),
        "water.mesh",
        unit="mm",
        exact=f"{opening_mm:.3f} mm",
        inputs=(
            Input("meshes to the inch", f"{mesh.value:.0f}", mesh.source),
            draft.book.input("wire", wire.value / 1000, "length", wire.source),
            draft.book.input("allowed at most", most.value / 1000, "length", most.source),
        ),
    )
    return f"{mesh.value:.0f} meshes to the inch or finer, which leave {mark}"


def _now(draft: Draft) -> str:
    now = now_days(draft)
    if now is None:
        return "In the last two weeks it was too cold for them, or nobody measured."
    quickest = draft.knowledge.fact("mosquito.quickest")
    quick = draft.book.plain(
        "mosquito.quickest",
        "days the quickest kinds spend in the water, in heat",
        quickest.value,
        f"{quickest.value:.0f} days",
        "water.mosquito",
        unit="d",
    )
    mean = draft.book.show(now[0], "temperature")
    return (
        f"At the {mean} of the last two weeks the common house mosquito can fly {days_mark(draft, now)} after it "
        f"hatches; in heat the quickest kinds need {quick}. So a week is short enough but for the hottest weeks: then "
        "look twice."
    )


def _larvicide(draft: Draft, run: YardRun, found: tuple[WarmSeason, ...]) -> str:
    """Times due in a season by the kind of label, after large overflows too, and what a ring's surface says."""
    draft.caution("water.larvicide")
    lasts = draft.knowledge.fact("larvicide.bti_lasts")
    length = median(one.days for one in found)
    times = doses(length, lasts.value)
    due = draft.book.plain(
        "larvicide.times",
        "times a slow-release larvicide would be due in a middling season",
        times,
        f"{times} times",
        "water.larvicide",
        inputs=(
            Input("days of the season", f"{length:.0f}"),
            Input("lasts by its label, at most", f"{lasts.value:.0f} days", lasts.source),
        ),
    )
    cold = draft.knowledge.fact("larvicide.cold_dose_ratio")
    said = (
        "If you use a larvicide, take one whose label names containers. The slow-release kind with the bacterium Bti "
        f"lasts {lasts.value:.0f} days at most by its label, so it would be due {due} in such a season"
    )
    large = [(count, words) for pool in run.pools for count, words in _flushed(draft, pool, found)]
    if large:
        days = "; ".join(words for _, words in large)
        said += f", and again after a day on which more runs over than the barrel holds: {days}"
    said += "."
    if any(count >= times for count, _ in large):
        said += " So here it would seldom last that long: the screen and weekly use do more."
    return (
        f"{said} Other kinds last a day or a week. {_surface(draft, run)}It works on feeding larvae only, and in "
        f"water near freezing {cold.value:.0f} times as much was needed, so out of season none is due. The label in "
        "hand decides."
    )


def _flushed(draft: Draft, pool: PoolRun, found: tuple[WarmSeason, ...]) -> list[tuple[float, str]]:
    """Days of large overflow in the season of a middling year, and in words; empty if there are none."""
    years = pool.dates.astype("datetime64[Y]").astype(int) + 1970
    day = (pool.dates - pool.dates.astype("datetime64[Y]").astype("datetime64[D]")).astype(int) + 1
    spilled = np.where(np.isinf(pool.spill_high_l), np.nan, pool.spill_low_l)
    holds, times = pool.capacity_l + pool.dead_l, draft.fact("larvicide.flush")
    counts = [
        flushes(spilled[(years == one.year) & (day >= one.first) & (day <= one.last)], holds, times)
        for one in found
    ]
    count = median(counts)
    if count < 1:
        return []
    mark = draft.book.plain(
        f"storage.{slug(pool.storages[0])}.flushes",
        f"days in a middling season on which more ran over at {pool_words(pool)} than it holds",
        count,
        f"{count:.0f} such {'day' if count == 1 else 'days'}",
        "water.past_years",
        low=min(counts),
        high=max(counts),
        inputs=(
            draft.book.input("holds", holds, "volume", "the yard file"),
            Input("years counted", f"{len(found)}"),
        ),
    )
    return [(count, f"{mark} in a middling year at {pool_words(pool)}")]


def _surface(draft: Draft, run: YardRun) -> str:
    """How many barrels one ring's surface would cover, so that nobody doses by it; a sentence and a space, or ""."""
    ring = draft.knowledge.fact("larvicide.surface_per_ring")
    sections = [
        section for pool in run.pools for name in pool.storages
        if (section := draft.yard.storage(name).section_m2) is not None
    ]  # fmt: skip
    if not sections:
        return ""
    count = ring.value / max(sections)
    half = draft.knowledge.fact("larvicide.ring_share")
    mark = draft.book.plain(
        "larvicide.barrels",
        "barrels as wide as the widest here that one slow-release ring would cover by surface",
        count,
        f"{count:.0f} such barrels",
        "water.larvicide_surface",
        exact=f"{count:.1f}",
        inputs=(
            draft.book.input("one ring is made for", ring.value, "area", ring.source),
            draft.book.input("surface of the barrel", max(sections), "area", "the yard file"),
        ),
    )
    part = "half a ring" if half.value == 0.5 else f"{half.value:.0%} of a ring"
    return (
        f"By surface one ring would do for {mark}, so labels name a least part to use instead, and trainers name "
        f"{part}. "
    )
