"""When to plant out by the frost dates, how warm the soil is now, and what can be sown into it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import timedelta

from dooryard.figure import Input
from dooryard.knowledge.season_rows import Germination
from dooryard.plan.document import Refusal, Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.frost import date_of
from dooryard.plan.frost_dates import HALF, NINE_IN_TEN, coming_autumn
from dooryard.plan.frost_nights import LIMITS
from dooryard.season.freeze_levels import Level
from dooryard.season.germination import Sowing, days_to_emerge, sowings
from dooryard.season.soil_temperature import Estimate, estimate
from dooryard.words import day_words, list_words, range_words

# From this month on the warmth of the soil no longer limits sowing: the days left do.
_FROM_AUGUST = 8


def describe(draft: Draft, found: Sequence[Level]) -> None:
    """Add planting out, and the soil with what can be sown."""
    said = _planting_out(draft, found)
    if said:
        draft.walk.append(Stop("part", "planting-out", "When to plant out", tuple(said)))
    soil = estimate(
        (draft.record.t_min_c + draft.record.t_max_c) / 2,
        days=round(draft.fact("soil_warmth.days")),
        bridged_most=round(draft.fact("soil_warmth.bridged")),
    )
    if soil.soil_c is None:
        draft.refusals.append(
            Refusal(
                "We will not say how warm the soil is",
                soil.refused[:1].upper() + soil.refused[1:],
                "Hold a thermometer 4 in deep into the soil at 9 in the morning, some days in a row",
            )
        )
        return
    words, table = _soil(draft, soil, soil.soil_c, found)
    draft.walk.append(Stop("part", "soil", "The soil, and what can be sown now", tuple(words), table))


def _planting_out(draft: Draft, found: Sequence[Level]) -> list[str]:
    if not found:
        return []
    frost = found[LIMITS.index("frost.frost")]
    half, late = frost.over[HALF], frost.over[NINE_IN_TEN]
    if half is None or late is None:
        return ["Most springs here have no frost, so the soil and not the frost says when to plant out."]
    weeks = draft.knowledge.fact("planting.cool_weeks")
    assert weeks.low is not None
    assert weeks.high is not None
    year = draft.on.year + (1 if date_of(draft.on.year, late) < draft.on else 0)
    middle, safe = date_of(year, half), date_of(year, late)
    begin, end = middle - timedelta(weeks=weeks.high), middle - timedelta(weeks=weeks.low)
    tender = draft.book.plain(
        "planting.tender",
        "day from which tender plants may go out",
        safe.isoformat(),
        day_words(safe),
        "season.planting_out",
        unit="date",
        inputs=(
            Input("chance of frost after it", "one year in ten"),
            Input("springs counted", f"{frost.springs}"),
        ),
    )
    cool = draft.book.plain(
        "planting.cool",
        "days on which cool-season vegetables go out",
        begin.isoformat(),
        range_words(begin, end),
        "season.planting_out",
        unit="date",
        low=begin.isoformat(),
        high=end.isoformat(),
        inputs=(
            Input("half of the years are over their frost by", day_words(middle)),
            Input("weeks before it", f"{weeks.low:g} to {weeks.high:g}", weeks.source),
        ),
    )
    return [
        f"Tender plants, such as tomatoes, peppers, beans and squash: from {tender}, and once the soil is warm enough. "
        "In one year of ten there is frost after that day, so keep a cloth at hand.",
        f"Cool-season ones, such as cabbage, onions, peas and lettuce: {cool}. That is a rule of thumb.",
    ]


def _soil(
    draft: Draft, soil: Estimate, soil_c: float, found: Sequence[Level]
) -> tuple[list[str], Table | None]:
    mark = draft.book.quantity(
        "soil.warmth",
        "warmth of bare topsoil, an estimate",
        soil_c,
        "temperature",
        "season.soil_warmth",
        about=True,
        inputs=(
            Input("days of air used", f"{soil.days}"),
            *((Input("missing days bridged", f"{soil.bridged_d}"),) if soil.bridged_d else ()),
        ),
    )
    said = [
        f"By the air of the last {soil.days} days bare topsoil is {mark}. Wet, shaded or mulched soil is colder in "
        "spring. A thermometer 4 in deep at 9 in the morning knows better."
    ]
    if draft.on.month >= _FROM_AUGUST:
        return [*said, *_days_left(draft, found)], None
    crops = sowings(draft.knowledge.soil_temperatures, soil_c)
    by_crop: dict[str, list[Germination]] = defaultdict(list)
    for row in draft.knowledge.germination:
        by_crop[row.crop].append(row)
    ready = [one for one in crops if one.word == "ready"]
    slow = [one for one in crops if one.word == "slow"]
    said.append(
        f"Warm enough for a good stand: {_names(ready)}."
        if ready
        else "It is not warm enough for a good stand of any crop listed."
    )
    if slow:
        said.append(f"Possible but slow: {_names(slow)}.")
    cold = [one for one in crops if one.word == "too cold"]
    if cold:
        said.append(f"Wait with {_names(cold)}.")
    if ready:
        said.append("Warm soil is not all: tender ones also wait for their date above.")
    return said, _table(draft, [*ready, *slow], by_crop, soil_c)


def _names(crops: Sequence[Sowing]) -> str:
    return list_words([one.name for one in crops])


def _days_left(draft: Draft, found: Sequence[Level]) -> list[str]:
    """In late summer and autumn: how many days are left before the frost."""
    if not found:
        return []
    left = coming_autumn(draft, found[LIMITS.index("frost.frost")], HALF)
    if left is None:
        return ["Sowing outdoors is over for this year by the usual dates of frost."]
    return [
        f"What is sown now has {left} days to the day by which half of the years have had frost. Compare that with the "
        "days on the seed packet."
    ]


def _table(
    draft: Draft, crops: Sequence[Sowing], rows: dict[str, list[Germination]], soil_c: float
) -> Table | None:
    """Crops that may be sown: the warmth they want, and how long they take to come up in this soil."""
    if not crops:
        return None
    lines = []
    for one in crops:
        up = days_to_emerge(rows[one.crop], soil_c) if one.crop in rows else None
        days = (
            "not listed"
            if up is None
            else "too cold a soil to say"
            if up.days is None
            else f"{round(up.days)} days"
        )
        least = "" if one.least_c is None else draft.book.show(one.least_c, "temperature")
        good = "" if one.good_c is None else draft.book.show(one.good_c, "temperature")
        lines.append((one.name, one.word, least + (" *" if one.differ else ""), good, days))
    star = " (* sources differ)" if any(one.differ for one in crops) else ""
    return Table(
        f"What can be sown into such soil, and when it comes up{star}",
        (
            ("Crop", "left"),
            ("Now", "left"),
            ("At the least", "right"),
            ("Good from", "right"),
            ("Comes up in", "right"),
        ),
        tuple(lines),
    )
