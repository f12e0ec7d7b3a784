"""The rain ribbon's numbers: rain of the last weeks and of the forecast, and the level or soil store below."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np

from dooryard import units
from dooryard.plan.document import Json
from dooryard.plan.draft import Draft
from dooryard.units import Dimension, System
from dooryard.weather.record import as_date
from dooryard.words import day_words

# Decimals of a table's numbers, the same down a column, so that they stand under each other.
DECIMALS: dict[tuple[Dimension, System], int] = {
    ("depth", "us"): 2,
    ("depth", "metric"): 1,
    ("volume", "us"): 1,
    ("volume", "metric"): 0,
}


def ribbon(
    draft: Draft,
    *,
    chart_id: str,
    title: str,
    words: str,
    low: Sequence[float],
    high: Sequence[float],
    dimension: Dimension,
    capacity: float,
    level_name: str,
    lines: Sequence[tuple[str, float]] = (),
) -> Json:
    """One ribbon over the last ``len(low)`` days of the record and the days of the forecast.

    low, high : the evening's level or soil store of each day [canonical unit of `dimension`], NaN unknown.
    capacity and the values of `lines` are in the same unit.
    """
    days = len(low)
    dates = [as_date(day) for day in draft.record.dates[-days:]]
    rain = [float(value) for value in draft.record.rain_mm[-days:]]
    ahead = _forecast(draft)
    shown = [_number(draft, value, "depth") for value in [*rain, *(amount for _, amount in ahead)]]
    dates += [day for day, _ in ahead]
    nothing: list[float | None] = [None] * len(ahead)
    lows = [_number(draft, value, dimension) for value in low] + nothing
    highs = [_number(draft, value, dimension) for value in high] + nothing
    rain_unit = units.unit_name("depth", draft.yard.units)
    level_unit = units.unit_name(dimension, draft.yard.units)
    fall, store = (DECIMALS[part, draft.yard.units] for part in ("depth", dimension))
    weeks = range(max(0, days - 21), len(dates))
    return {
        "id": chart_id,
        "kind": "ribbon",
        "title": title,
        "words": words,
        "dates": [day.isoformat() for day in dates],
        "rain": shown,
        "rain_unit": rain_unit,
        "low": lows,
        "high": highs,
        "level_unit": level_unit,
        "capacity": _number(draft, capacity, dimension),
        "level_name": level_name,
        "marks": [{"label": label, "value": _number(draft, value, dimension)} for label, value in lines],
        "today": draft.on.isoformat(),
        "forecast_from": ahead[0][0].isoformat() if ahead else None,
        "table": {
            "caption": f"{title}: the last three weeks and the forecast",
            "columns": [
                {"text": "Day", "align": "left"},
                {"text": f"Rain, {rain_unit}", "align": "right"},
                {"text": f"Lowest, {level_unit}", "align": "right"},
                {"text": f"Highest, {level_unit}", "align": "right"},
            ],
            "rows": [
                [
                    f"{day_words(dates[i])}{' (forecast)' if i >= days else ''}",
                    *(
                        ("no record" if i < days else "") if value is None else f"{value:,.{decimals}f}"
                        for value, decimals in cells
                    ),
                ]
                for i, cells in ((i, ((shown[i], fall), (lows[i], store), (highs[i], store))) for i in weeks)
            ],
        },
    }


def _forecast(draft: Draft) -> list[tuple[date, float]]:
    if draft.forecast is None or draft.outlook.forecast_days == 0:
        return []
    last = draft.outlook.dates[draft.outlook.forecast_days - 1]
    return [
        (as_date(day), float(rain))
        for day, rain in zip(draft.forecast.dates, draft.forecast.rain_mm, strict=True)
        if np.datetime64(draft.on) <= day <= last
    ]


def _number(draft: Draft, value: float, dimension: Dimension) -> float | None:
    if np.isnan(value):
        return None
    return round(draft.book.number(value, dimension), 2 if dimension == "depth" else 1)
