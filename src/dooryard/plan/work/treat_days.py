"""Which of the coming days a treatment may fall on, and for every other day the limit that closed it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from dooryard.care.card import Card, Use
from dooryard.care.material import Advice, advice, hurts, is_protectant, is_soft
from dooryard.care.repeat import Repeat, rain_rule, repeat
from dooryard.care.treatment_days import Bounds, Day, Rule, always, days, not_before, picked_after
from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.knowledge.care_rows import SprayLimit
from dooryard.plan.document import Plan, Table
from dooryard.plan.work import material_words
from dooryard.plan.work.mixing import no_card, usable
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem
from dooryard.units import System
from dooryard.weather.forecast import Forecast
from dooryard.weather.record import WeatherRecord
from dooryard.words import day_words, list_words

_CLOSED = {
    "interval": "the label's interval",
    "season": "the label's limit for a season",
    "harvest": "too near the picking",
    "bloom": "in bloom",
    "drought": "the plant lacks water",
    "sulfur gap": "too near the last sulfur or oil",
    "tender": "a plant that it hurts",
    "stage": "not the stage that can be hit",
    "heat": "too hot",
    "cold": "too cold",
    "frost after": "frost in the night after",
    "rain": "rain that day",
    "rain after": "rain too soon afterwards",
    "rain before": "leaves wet from rain",
    "wet leaves": "leaves wet with dew",
    "wind": "too much wind",
    "inversion": "calm and clear, so drift hangs in the air",
}
_UNTOLD = {
    "wind": "wind",
    "inversion": "whether the air is still",
    "wet leaves": "dew on the leaves",
    "rain after": "rain the day after",
    "rain": "rain",
    "heat": "the highest temperature",
    "cold": "the highest temperature",
    "frost after": "frost the night after",
}


@dataclass(frozen=True)
class Done:
    """What the household tells. last : day of the last treatment. used : treatments this season. harvest : next
    picking, None if nothing is eaten. in_bloom, thirsty : of the plant, None if not told. rain_since_mm : since the
    last treatment [mm], None to take it from the record. other_last : of oil and sulfur, the last day of the other.
    """

    last: date | None = None
    used: int = 0
    harvest: date | None = None
    in_bloom: bool | None = None
    thirsty: bool | None = None
    rain_since_mm: float | None = None
    other_last: date | None = None


def treat_days(
    knowledge: Knowledge,
    on: date,
    card: Card | None,
    *,
    plant: str,
    pest: str,
    done: Done,
    forecast: Forecast,
    record: WeatherRecord | None = None,
    system: System = "us",
) -> Plan:
    """The days for one treatment. card : typed from the label in hand; without it no day is named.

    plant, pest : as the label names them. done : what the household tells. forecast : of the coming days. record :
    of the station, for rain since the last treatment. Raises InputError if the forecast is past or `done` lies
    ahead.
    """
    sheet = Sheet("Days to treat", knowledge, on, system, advice_days=3)
    sheet.caution("label-law", "bees-bloom", "people-pets-dry", "wear")
    if card is None:
        no_card(sheet)
        return sheet.finish()
    if forecast.last < on:
        what = f"The forecast ends on {day_words(forecast.last, year=True)}."
        raise InputError(Problem(what, "Fetch a newer one.", forecast.source, field="--forecast"))
    if done.last is not None and done.last > on:
        raise InputError(
            Problem(
                "The last treatment lies ahead.",
                "Check --last and --on.",
                field="--last",
                found=str(done.last),
            )
        )
    use = usable(sheet, card, plant, pest, on)
    if use is None:
        sheet.short.append("No day from this card; why, stands below.")
        return sheet.finish()
    again, rain = _repeat(sheet, card, use, done, record)
    usual = advice(knowledge, card)
    bounds = _bounds(sheet, use, usual)
    rules = _rules(use, card, done, again, usual, plant)
    work_hours = (round(sheet.fact("spray.first_hour")), round(sheet.fact("spray.last_hour")))
    found = days(forecast, bounds, on, lambda _: work_hours, rules)
    _say(sheet, found, card, use, done, again, rain)
    material_words.say(sheet, use, usual, plant, found, other_told=done.other_last is not None)
    _table(sheet, found, bounds)
    material_words.limits(sheet, use, bounds)
    return sheet.finish()


def _repeat(
    sheet: Sheet, card: Card, use: Use, done: Done, record: WeatherRecord | None
) -> tuple[Repeat, float | None]:
    rain = done.rain_since_mm
    if not is_protectant(card):
        # Rain takes nothing from what has been eaten, has dried or was taken up: the rule is for covers alone.
        rain = None
    elif rain is None and record is not None and done.last is not None:
        rain = _rain_since(record, done.last, sheet.on)
    rule = rain_rule(rain, sheet.fact("spray.halve_at"), sheet.fact("spray.again_at"))
    again = repeat(
        sheet.on,
        last=done.last,
        used=done.used,
        interval_d=use.interval_d,
        interval_most_d=use.interval_most_d,
        season_most=use.season_most,
        rain=rule if done.last is not None and is_protectant(card) else "keep",
    )
    return again, rain


def _rain_since(record: WeatherRecord, last: date, on: date) -> float | None:
    """Rain from the day after the treatment to the eve of `on` [mm]; None if a day of it is not known."""
    first = last + timedelta(days=1)
    if first >= on:
        return 0.0
    if record.first > first or record.last < on - timedelta(days=1):
        return None
    begin = (first - record.first).days
    rain = record.rain_mm[begin : begin + (on - first).days]
    return None if np.isnan(rain).any() else float(rain.sum())


def _bounds(sheet: Sheet, use: Use, usual: Advice) -> Bounds:
    """The label's limits, and where it is silent the usual ones of the material."""

    def one(label: float | None, row: SprayLimit | None) -> float | None:
        if label is not None or row is None:
            return label
        sheet.more_sources.add(row.source)
        return row.high if row.low is None else row.low

    thaw = one(None, usual.thaw)
    return Bounds(
        calm_m_s=sheet.fact("spray.calm"),
        windiest_m_s=use.windiest_m_s if use.windiest_m_s is not None else sheet.fact("spray.wind_caution"),
        coldest_c=one(use.coldest_c, usual.coldest),
        hottest_c=one(use.hottest_c, usual.hottest),
        thaw_h=0.0 if thaw is None else thaw,
        dry_h=usual.dry_h if use.rain_fast_h is None else float(use.rain_fast_h),
        wet_h=sheet.fact("spray.wet_before"),
        rain_mm=sheet.fact("spray.rain_counts"),
        chance_pct=sheet.fact("spray.rain_chance"),
        clear_pct=sheet.fact("spray.clear_sky"),
        humid_pct=sheet.fact("spray.humid"),
        rest_of_day_h=sheet.fact("spray.rest_of_day"),
        gusts=sheet.fact("spray.gusts"),
    )


def _rules(use: Use, card: Card, done: Done, again: Repeat, usual: Advice, plant: str) -> list[Rule]:
    rules = [not_before("season" if again.earliest is None else "interval", again.earliest)]
    if usual.gap is not None and usual.gap.low is not None and done.other_last is not None:
        rules.append(not_before("sulfur gap", done.other_last + timedelta(days=round(usual.gap.low))))
    if hurts(usual.tender, plant):
        rules.append(always("tender", False))
    rules.append(picked_after("harvest", done.harvest, use.harvest_d))
    if done.in_bloom and use.bloom != "no limit":
        kills_bees = card.kind not in ("fungicide", "bactericide", "herbicide") or use.bloom is not None
        rules.append(always("bloom", not kills_bees))
    if done.thirsty:
        rules.append(always("drought", not is_soft(card)))
    return rules


def _say(
    sheet: Sheet,
    found: tuple[Day, ...],
    card: Card,
    use: Use,
    done: Done,
    again: Repeat,
    rain: float | None,
) -> None:
    good = [day for day in found if day.open]
    today = found[0] if found and found[0].day == sheet.on else None
    if good:
        first = good[0]
        sheet.short.append(f"The earliest day is {_day(first)}.")
    elif again.earliest is None:
        sheet.short.append(
            f"No more treatments this season: the label allows {use.season_most}, and {done.used} are done."
        )
    else:
        sheet.short.append(
            "None of the foretold days passes every limit. Look again when the forecast is renewed."
        )
    if today is not None and not today.open:
        closed = list_words([_CLOSED[limit] for limit in today.closed_by])
        sheet.short.append(f"Not today: {closed}.")
    if done.last is not None and again.due is not None:
        sheet.short.append(_due(sheet, use, done, again, rain, is_protectant(card)))
    if again.left is not None and again.earliest is not None:
        left = "none" if again.left == 0 else str(again.left)
        sheet.short.append(f"After it {left} of the label's {use.season_most} in a season are left.")
    if done.harvest is not None and use.harvest_d is None:
        sheet.refuse(
            "We will not name a day before a harvest",
            "The card has no days from the last treatment to picking",
            'Look for "harvest" or "PHI" on the label, and type it as harvest_days; without it nothing goes on food',
        )
    if done.last is not None and use.interval_d is None:
        sheet.refuse(
            "We will not say how soon it may be repeated",
            "The card has no interval between treatments",
            'Look for "repeat" or "days apart" on the label, and type it as interval_days',
        )


def _due(sheet: Sheet, use: Use, done: Done, again: Repeat, rain: float | None, washes: bool) -> str:
    assert done.last is not None
    assert again.due is not None
    inputs = [Input("last treatment", day_words(done.last), "given")]
    if use.interval_d is not None:
        inputs.append(Input("the label's interval", f"{use.interval_d} days at least", "S-LABEL"))
    if rain is not None:
        inputs.append(
            sheet.book.input(
                "rain since", rain, "depth", "given" if done.rain_since_mm is not None else "the record"
            )
        )
    mark = sheet.book.plain(
        "treat.due",
        "next treatment due",
        again.due.isoformat(),
        day_words(again.due),
        "care.repeat",
        unit="date",
        inputs=inputs,
    )
    why = {
        "again": "more rain than a cover stands",
        "halve": "enough rain to halve what was left of the interval",
        "keep": "too little rain to change the interval",
        "unknown": "rain since then is not known in full, so the interval is left as it is",
    }[again.rain]
    if not washes:
        return (
            f"It is due on {mark}, by the label's interval. Rain is only counted for covers such as copper."
        )
    amount = "" if rain is None else f"{sheet.book.show(rain, 'depth')} since {day_words(done.last)}: "
    return f"It is due on {mark} ({amount}{why})."


def _day(day: Day) -> str:
    name = day_words(day.day, weekday=True)
    if day.hours:
        spans = list_words([f"{_hour(first)} to {_hour(last + 1)}" for first, last in day.hours])
        return f"{name}, {spans}"
    untold = [_UNTOLD[limit] for limit in dict.fromkeys(day.untold) if limit in _UNTOLD]
    doubt = f"; go by your own eyes for {list_words(untold)}" if untold else ""
    return f"{name}, in the morning once the leaves are dry{doubt}"


def _hour(hour: int) -> str:
    if hour in (0, 12, 24):
        return {0: "midnight", 12: "noon", 24: "midnight"}[hour]
    return f"{hour} am" if hour < 12 else f"{hour - 12} pm"


def _table(sheet: Sheet, found: tuple[Day, ...], bounds: Bounds) -> None:
    rows: list[tuple[str, ...]] = []
    for day in found:
        if day.open:
            hours = list_words([f"{_hour(first)} to {_hour(last + 1)}" for first, last in day.hours])
            room = material_words.spare(sheet, day, bounds)
            rows.append((day_words(day.day, weekday=True), "open", hours or "morning, leaves dry", room))
        else:
            rows.append(
                (
                    day_words(day.day, weekday=True),
                    "closed",
                    list_words([_CLOSED[one] for one in day.closed_by]),
                    "",
                )
            )
    sheet.part(
        "The foretold days",
        table=Table(
            "Each day, and the limits that closed it",
            (
                ("Day", "left"),
                ("Open or closed", "left"),
                ("Hours, or why not", "left"),
                ("To spare", "left"),
            ),
            tuple(rows),
        ),
    )
