"""What further barrels would be worth to a yard: a short list of choices, the ladder of gains, and honest money."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from dooryard import units
from dooryard.figure import Input
from dooryard.plan import barrel_worth
from dooryard.plan import choices_words as words
from dooryard.plan.document import Json, Stop, Table
from dooryard.plan.draft import Draft
from dooryard.water import choices, money
from dooryard.water.choice_years import kinds_of, years_of
from dooryard.water.choices import Choice, Choices, Floats, Kind, Years
from dooryard.water.network import YardRun
from dooryard.words import list_words, sentence

FEWEST_YEARS = 5
_MAIN = "drum"
_RUNGS = 4
_CHART_STEPS = 3
#: Paybacks beyond this are told as more than this [years].
_LONGEST = 100.0


def describe(draft: Draft, run: YardRun) -> None:
    """Add one stop: what choices of barrels give here. Says so if too few years are whole; nothing without a roof."""
    years = years_of(draft.yard, run, draft.knowledge)
    if years is None:
        return
    if len(years.years) < FEWEST_YEARS:
        few = (
            f"The record has only {len(years.years)} whole {'year' if len(years.years) == 1 else 'years'} of rain: "
            "too few to weigh one choice of barrels against another."
        )
        _stop(draft, [few])
        return
    kinds = kinds_of(draft.knowledge)
    main = next(kind for kind in kinds if kind.key == _MAIN)
    played = choices.play(years, kinds)
    listed = choices.short_list(
        choices.unbeaten(
            played.offered,
            least_gain_l=draft.fact("choice.least_gain"),
            least_share=draft.fact("choice.least_share"),
        ),
        most=round(draft.fact("choice.listed")),
        now=years.now,
    )
    rungs = played.ladder(main, years.now)
    sentences = [
        *_as_it_stands(draft, run, played),
        *_ladder(draft, played, rungs, main),
        *_first_in_line(draft, played, rungs),
        *_daily(draft, run, rungs),
        *_money(draft, years, rungs, main),
        *_round_number(draft, years, main),
    ]
    at_hand_l = 0.0 if rungs[0].kind is not None else rungs[0].yearly_l
    worth_drawing = len(run.pools) != 1 and rungs[-1].yearly_l - at_hand_l >= draft.fact("choice.least_gain")
    chart = [_chart(draft, years, rungs)] if worth_drawing else []
    draft.charts += chart
    _stop(draft, sentences, _table(draft, played, listed), tuple(one["id"] for one in chart))


def _stop(
    draft: Draft, sentences: list[str], table: Table | None = None, charts: tuple[str, ...] = ()
) -> None:
    name = "What more barrels would be worth"
    draft.walk.append(Stop("part", "choices", name, tuple(sentences), table, charts))


# --- as it stands, and one by one more --------------------------------------------------------------------


def _as_it_stands(draft: Draft, run: YardRun, played: Choices) -> list[str]:
    years = played.years
    named = f"dry year {years.dry}, middling {years.middling}, wet {years.wet}"
    over = f"Reckoned over the {len(years.years)} whole years of the record, each from an empty barrel ({named})."
    now = played.as_it_stands()
    if now is None:
        return [f"{over} No barrel stands here yet."]
    used = _used(draft, years, now, "now", "water used from the barrels that stand here, in a year")
    days = draft.book.plain(
        "choices.now-days",
        "days on which all that is asked for is in the barrels",
        now.met_share,
        words.days_words(now.met_share),
        "water.choice_days",
        inputs=_counted(years),
    )
    said = f"As it stands the yard gets {used} a year from barrels, and all that was asked for on {days}."
    return [
        " ".join([over, said, *barrel_worth.counted_all_the_same(draft)]),
        *_network(draft, run, years, now),
    ]


def _network(draft: Draft, run: YardRun, years: Years, now: Choice) -> list[str]:
    """Where barrels as they really stand, each with its own beds and overflow, give something else than the list."""
    of_year = np.isin(run.dates.astype("datetime64[Y]").astype(np.int64) + 1970, years.years)
    true_l = sum(
        float(np.nansum(kept.supplied_l[of_year])) / 2 for pool in run.pools for kept in (pool.yas, pool.ybs)
    ) / len(years.years)
    if abs(true_l - now.yearly_l) < draft.fact("choice.least_gain"):
        return []
    mark = draft.book.quantity(
        "choices.network",
        "water all barrels gave in a mean year, run as they really stand",
        true_l,
        "volume",
        "water.network",
        inputs=(draft.book.input("reckoned as one supply", now.yearly_l, "volume"), *_counted(years)),
    )
    more = "less" if true_l < now.yearly_l else "more"
    return [
        f"Run barrel by barrel as they stand, each with its own beds and overflow, they give {mark} in a mean year. "
        f"The list takes every bed to be watered from all barrels, down to the spigot, and follows no overflow: look "
        f"for {more} than it says."
    ]


def _ladder(draft: Draft, played: Choices, rungs: list[Choice], main: Kind) -> list[str]:
    """What each further drum adds, where it adds most."""
    years = played.years
    kind = words.kind_words(draft, main)
    first = rungs[0]
    said = []
    if played.as_it_stands() is None:
        used = _used(draft, years, first, "first", f"water one {kind} would give in a year")
        said.append(f"The first {kind} would give {used} a year{_place(years, first)}.")
    steps = []
    before = 1 if played.as_it_stands() is None else 0
    for number, (gain, rung) in enumerate(zip(choices.gains_l(rungs)[:_RUNGS], rungs[1:], strict=False), 1):
        if float(gain.mean()) < draft.fact("choice.least_gain"):
            break
        mark = _gain(draft, years, gain, rung, number)
        which = f"the {words.ordinal_words(number + before)}" if number + before > 1 else f"one more {kind}"
        steps.append(f"{which}{_place(years, rung)} adds {mark} a year" if number == 1 else f"{which} {mark}")
    if not steps:
        return [*said, f"One more {kind} would add next to nothing: the water would seldom be missed."]
    end = f"; after that a further one adds less than {draft.book.show(draft.fact('choice.least_gain'), 'volume')}"
    return [*said, sentence(f"{', '.join(steps)}{end if len(steps) < _RUNGS else ''}")]


def _gain(draft: Draft, years: Years, gain: Floats, rung: Choice, number: int) -> str:
    low, high = _spread(gain)
    return draft.book.quantity(
        f"choices.add-{number}",
        f"water the {words.ordinal_words(number)} further barrel adds in a year",
        float(gain.mean()),
        "volume",
        "water.choice",
        low=low,
        high=high,
        inputs=(
            Input("added in all", words.added_words(draft, years, rung)),
            *_in_named_years(draft, years, gain),
            *_counted(years),
        ),
        note=_ENDS,
    )


def _place(years: Years, rung: Choice) -> str:
    """Where the barrels of a rung stand, if there is a choice of places."""
    if len(years.places) == 1:
        return ""
    return f" at {list_words([name for name, count in zip(years.places, rung.added, strict=True) if count])}"


def _first_in_line(draft: Draft, played: Choices, rungs: list[Choice]) -> list[str]:
    """Which bed is watered first changes who goes short, not how much is used."""
    years = played.years
    first = rungs[0]
    single = [way for way, beds in enumerate(years.asks) if len(beds) == 1]
    if len(years.asks[first.ask]) < 2 or not single:
        return []
    usable_l = 0.0 if first.kind is None else first.kind.usable_l
    served = choices.first_served(years, first, usable_l, single)
    told = [
        f"the {bed} on "
        + draft.book.plain(
            f"choices.first-{number}",
            f"days on which the {bed} gets all it asks for if it is watered first",
            share,
            words.days_words(share),
            "water.choice_days",
            inputs=_counted(years),
        )
        for number, (bed, share) in enumerate(served, 1)
    ]
    return [
        "Which bed is watered first does not change how much is used, only who goes short. First in line, "
        f"{list_words(told)} would get all they are due."
    ] if told else []  # fmt: skip


def _daily(draft: Draft, run: YardRun, rungs: list[Choice]) -> list[str]:
    """What a little use on every day would bring, where the yard file names none."""
    if any(pool.use_l.any() for pool in run.pools):
        return []
    extra_l = draft.fact("choice.daily_use")
    with_use = years_of(draft.yard, run, draft.knowledge, extra_use_l=extra_l)
    first = rungs[0]
    if with_use is None:
        return []
    kind = None if first.kind is None else replace(first.kind, most=0)
    again = choices.play(with_use, [] if kind is None else [kind])
    one = again.as_it_stands() if kind is None else again.best(kind, 1, with_use.now)
    if one is None:
        return []
    used = _used(draft, with_use, one, "daily", "water used in a year if some is also taken on every day")
    amount = draft.book.show(extra_l, "volume")
    return [
        f"If you also take {amount} on every day of the season, for pots, use from barrels rises to {used} a year."
    ]


# --- money and round numbers ------------------------------------------------------------------------------


def _money(draft: Draft, years: Years, rungs: list[Choice], main: Kind) -> list[str]:
    """What the next drum saves in dollars, and in how many years it pays; or what is missing to say so."""
    price_m3 = draft.yard.household.water_price_m3
    if price_m3 is None:
        return [
            "We do not say what this is worth in money: the price of your water is missing. Write it under "
            '[household], for example water_price = "4.50 per 1000 gal".'
        ]
    kind = words.kind_words(draft, main)
    cost = draft.knowledge.fact("barrel.drum.cost")
    if rungs[0].kind is not None:
        gain, subject = rungs[0].middle_l, f"the first {kind}"
    elif len(rungs) > 1:
        gain, subject = choices.gains_l(rungs)[0], f"one more {kind}"
    else:
        return []
    per_1000 = draft.yard.units == "us"
    shown = price_m3 * units.parse("1000 gal", "volume") / 1000.0 if per_1000 else price_m3
    priced = Input(
        "price of water", f"{shown:.2f} dollars per {'1,000 gal' if per_1000 else 'm3'}", "the yard file"
    )
    if _spread(gain)[1] <= 0.0:
        return [f"At your price of water {subject} saves nothing. It is not for money."]
    saved = [money.saving(litres, price_m3) for litres in (float(gain.mean()), *_spread(gain))]
    saving = draft.book.plain(
        "choices.saving",
        f"what {subject} saves in a year",
        saved[0],
        words.dollars_words(saved[1], saved[2]),
        "water.saving",
        unit="dollar",
        exact=f"{saved[0]:.4g} dollars in a mean year",
        low=saved[1],
        high=saved[2],
        inputs=(
            priced,
            draft.book.input("water in a mean year", float(gain.mean()), "volume"),
            *_counted(years),
        ),
    )
    spent = draft.book.plain(
        "choices.cost",
        f"cost of a {kind} with its fittings",
        main.cost,
        words.dollars_words(main.cost_low, main.cost_high),
        "water.choice_cost",
        unit="dollar",
        low=main.cost_low,
        high=main.cost_high,
        inputs=(Input("a used drum and its fittings", cost.note, cost.source),),
    )
    low, high = money.payback_range(main.cost_low, main.cost_high, saved[1], saved[2])
    mean = money.payback(main.cost, saved[0])
    pays = draft.book.plain(
        "choices.payback",
        f"years until {subject} has paid for itself",
        mean if math.isfinite(mean) else "never in a mean year",
        words.years_words(low, high, _LONGEST),
        "water.payback",
        unit="a",
        exact=f"{mean:.3g} years" if math.isfinite(mean) else "never in a mean year",
        low=low,
        high=high if math.isfinite(high) else None,
        inputs=(priced, Input("cost", words.dollars_words(main.cost_low, main.cost_high))),
    )
    life = draft.knowledge.fact("barrel.life")
    ends = [life.value if end is None else end for end in (life.low, life.high)]
    verdict = words.money_words(mean, ends[0], ends[1])
    return [
        f"At your price of water {subject} saves {saving} a year and costs {spent}, so it has paid for itself in "
        f"{pays}. "
        f"A drum lasts about {ends[0]:.0f} to {ends[1]:.0f} years outdoors. {verdict}"
    ]


def _round_number(draft: Draft, years: Years, main: Kind) -> list[str]:
    """A number that is often told of one barrel, held against what one barrel gives here."""
    said_l = draft.fact("claim.summer_l")
    alone = choices.play(replace(years, capacity_l=np.zeros(len(years.places))), [replace(main, most=0)])
    one = alone.best(main, 1, years.now)
    if one is None:
        return []
    kind = words.kind_words(draft, main)
    claim = units.show(said_l, "volume", "us")
    if draft.yard.units == "metric":
        claim = f"{claim} ({draft.book.show(said_l, 'volume')})"
    fills = draft.book.plain(
        "choices.claim-fills",
        f"how often a {kind} would have to be filled and used up to give {claim}",
        said_l / main.usable_l,
        f"{said_l / main.usable_l:.0f} times",
        "water.claim",
        inputs=(
            Input("often said", claim, draft.knowledge.fact("claim.summer_l").source),
            draft.book.input("between spigot and overflow", main.usable_l, "volume"),
        ),
    )
    used = _used(draft, years, one, "alone", f"water one {kind} alone would give here in a year")
    if _spread(one.middle_l)[1] >= said_l:
        return [
            f"The {claim} a summer that is often said of one barrel may come true here in a good year: a {kind} would "
            f"have to be filled and used up {fills}. In this station's own years, for these beds, one gives {used}."
        ]
    return [
        f"We do not repeat the {claim} a summer that is often said of one barrel: a {kind} would have to be filled and "
        f"used up {fills}. In this station's own years, for these beds, one gives {used}."
    ]


# --- the list ---------------------------------------------------------------------------------------------


def _table(draft: Draft, played: Choices, listed: list[Choice]) -> Table:
    years = played.years
    unit = "gal" if draft.yard.units == "us" else "L"
    rows = []
    used_places = {place for choice in listed for place, count in enumerate(choice.added) if count}
    several = len(used_places) > 1
    for number, choice in enumerate(listed, 1):
        kind = choice.kind or next(kind for kind in played.kinds if kind.key == _MAIN)
        more = played.one_more(choice, kind)
        gain = None if more is None else more.middle_l - choice.middle_l
        label = (
            f"{words.added_words(draft, years, choice, where=several)}; {words.ask_words(years, choice.ask)}"
        )
        used = _used(draft, years, choice, f"row-{number}", f"water in a year from this choice: {label}")
        dry, wet = (float(choice.middle_l[years.years.index(year)]) for year in (years.dry, years.wet))
        low, _, high = choice.cost
        rows.append(
            (
                label,
                used,
                f"{draft.book.number(dry, 'volume'):,.0f}, {draft.book.number(wet, 'volume'):,.0f}",
                f"{100 * choice.met_share:.0f} %",
                "0" if choice.kind is None else f"{low:,.0f} to {high:,.0f}",
                ""
                if gain is None
                else draft.book.range_words(*_spread(gain), "volume").removesuffix(f" {unit}"),
            )
        )
    there = f", all at {years.places[used_places.pop()]}" if len(used_places) == 1 < len(years.places) else ""
    return Table(
        f"Choices that no other beats{there}, in water, days met, cost and number of barrels. One year in ten gives "
        f"less than the low end of a range, one in ten more than the high end. Water in {unit}, cost in dollars",
        (
            ("Add; for", "left"),
            ("Gives a year", "right"),
            (f"{years.dry} (dry), {years.wet} (wet)", "right"),
            ("Days met", "right"),
            ("Cost", "right"),
            ("One more adds", "right"),
        ),
        tuple(rows),
    )


def _chart(draft: Draft, years: Years, rungs: list[Choice]) -> Json:
    """Worth steps of the yard as a whole, where no single store has its own."""
    unit = "gal" if draft.yard.units == "us" else "L"
    from_none = rungs[0].kind is not None
    gains = [*([rungs[0].middle_l] if from_none else []), *choices.gains_l(rungs)][:_CHART_STEPS]
    named = {"dry": years.dry, "middling": years.middling, "wet": years.wet}
    at = {word: years.years.index(year) for word, year in named.items()}
    steps: list[Json] = [
        {
            "label": f"the {words.ordinal_words(number)}"
            if from_none
            else f"{words.number_words(number)} more",
            **{word: round(draft.book.number(float(gain[index]), "volume")) for word, index in at.items()},
        }
        for number, gain in enumerate(gains, 1)
    ]
    size = draft.book.show(next(one.kind.volume_l for one in rungs[::-1] if one.kind is not None), "volume")
    return {
        "id": "yard.choices",
        "kind": "worth",
        "title": f"What each {'' if from_none else 'further '}barrel would add to the yard in a year",
        "words": f"Each step is one drum of {size} where it gives most. A low step means it would seldom be used.",
        "unit": unit,
        "years": named,
        "steps": steps,
        "table": {
            "caption": f"Water each barrel adds in a year, {unit}",
            "columns": [
                {"text": "Barrel", "align": "left"},
                *({"text": f"{word} year {year}", "align": "right"} for word, year in named.items()),
            ],
            "rows": [[step["label"], *(f"{step[word]:,.0f}" for word in named)] for step in steps],
        },
    }


# --- figures ----------------------------------------------------------------------------------------------

_ENDS = "The ends are what one year in ten falls below and one in ten goes above."


def _used(draft: Draft, years: Years, choice: Choice, part: str, name: str) -> str:
    low, high = _spread(choice.middle_l)
    rules = [float(litres.mean()) for litres in choice.used_l]
    return draft.book.quantity(
        f"choices.{part}",
        name,
        choice.yearly_l,
        "volume",
        "water.choice",
        low=low,
        high=high,
        inputs=(
            Input("added", words.added_words(draft, years, choice)),
            Input("watered", words.ask_words(years, choice.ask)),
            *_in_named_years(draft, years, choice.middle_l),
            Input(
                "by the two orders of rain and use", draft.book.range_words(min(rules), max(rules), "volume")
            ),
            *_counted(years),
        ),
        note=_ENDS,
    )


def _in_named_years(draft: Draft, years: Years, litres: Floats) -> tuple[Input, ...]:
    named = {"dry": years.dry, "middling": years.middling, "wet": years.wet}
    return tuple(
        draft.book.input(f"{word} year {year}", float(litres[years.years.index(year)]), "volume")
        for word, year in named.items()
    )


def _counted(years: Years) -> tuple[Input, ...]:
    left_out = f", {len(years.excluded)} left out with days unknown" if years.excluded else ""
    return (
        Input("years", f"{years.years[0]} to {years.years[-1]}, {len(years.years)} whole years{left_out}"),
    )


def _spread(litres: Floats) -> tuple[float, float]:
    """What one year in ten falls below, and one in ten goes above."""
    low, high = np.quantile(litres, [0.1, 0.9]).tolist()
    return low, high
