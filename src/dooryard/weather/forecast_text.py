"""A forecast as text of 80 columns, and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from dooryard.weather.check_text import issues_as_json
from dooryard.weather.forecast import Forecast
from dooryard.weather.record import Floats, Issue
from dooryard.words import WEEKDAYS

if TYPE_CHECKING:
    from dooryard.units import Dimension, System

_WIDTH = 80
_LAYOUTS = {
    "plain": "a plain table",
    "grid": "a forecast grid, gathered from hours",
    "periods": "days and nights, without amounts of rain",
    "hours": "single hours, without amounts of rain",
}


def render(forecast: Forecast, doubts: Sequence[Issue], system: System) -> str:
    """The forecast day by day, then what a person must know about it."""
    from dooryard import units

    head = f"Forecast from {forecast.source}: {_LAYOUTS[forecast.layout]}."
    columns: list[tuple[str, str, Floats | None, Dimension | None]] = [
        ("lowest", units.unit_name("temperature", system), forecast.t_min_c, "temperature"),
        ("highest", units.unit_name("temperature", system), forecast.t_max_c, "temperature"),
        ("rain", units.unit_name("depth", system), forecast.rain_mm, "depth"),
        ("chance", "%", forecast.rain_chance_pct, None),
        ("wind", units.unit_name("speed", system), forecast.wind_m_s, "speed"),
        ("gust", units.unit_name("speed", system), forecast.gust_m_s, "speed"),
    ]
    told = [column for column in columns if column[2] is not None and not np.isnan(column[2]).all()]
    lines = [
        " " * 15 + "".join(name.rjust(9) for name, *_ in told),
        " " * 15 + "".join(unit.rjust(9) for _, unit, *_ in told),
    ]
    for row, day in enumerate(forecast.dates):
        weekday = WEEKDAYS[day.item().weekday()][:3]
        cells = [
            _cell(values, row, dimension, system).rjust(9)
            for _, _, values, dimension in told
            if values is not None
        ]
        lines.append(f"{day} {weekday} " + "".join(cells))
    notes = [line for issue in doubts for line in _wrapped(f"{issue.text} {issue.instead}".strip())]
    return "\n".join([*textwrap.wrap(head, _WIDTH), "", *lines, "", "What a person must know", *notes])


def as_json(forecast: Forecast, doubts: Sequence[Issue]) -> dict[str, Any]:
    """The forecast as plain data in canonical units, None where nothing is said."""
    columns = {
        "t_min_c": forecast.t_min_c,
        "t_max_c": forecast.t_max_c,
        "rain_mm": forecast.rain_mm,
        "rain_low_mm": forecast.rain_low_mm,
        "rain_high_mm": forecast.rain_high_mm,
        "burst_mm_h": forecast.burst_mm_h,
        "rain_chance_pct": forecast.rain_chance_pct,
        "wind_m_s": forecast.wind_m_s,
        "gust_m_s": forecast.gust_m_s,
        "humidity_pct": forecast.humidity_pct,
        "dew_point_c": forecast.dew_point_c,
    }
    return {
        "source": forecast.source,
        "layout": forecast.layout,
        "issued": None if forecast.issued is None else forecast.issued.isoformat(),
        "made_at": None if forecast.made_at is None else forecast.made_at.isoformat(),
        "rain_days": forecast.rain_days,
        "days": [
            {"date": str(day)}
            | {name: _plain(values[row]) for name, values in columns.items() if values is not None}
            for row, day in enumerate(forecast.dates)
        ],
        "issues": issues_as_json(doubts),
    }


def _cell(values: Floats, row: int, dimension: Dimension | None, system: System) -> str:
    from dooryard import units

    value = float(values[row])
    if np.isnan(value):
        return "-"
    if dimension is None:
        return f"{value:.0f}"
    digits = 2 if dimension == "depth" and system == "us" else 1 if dimension == "depth" else 0
    # Adding 0.0 turns a rounded -0 into 0.
    return f"{round(units.number(value, dimension, system), digits) + 0.0:.{digits}f}"


def _plain(value: np.float64) -> float | None:
    return None if np.isnan(value) else float(value)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="- ", subsequent_indent="  ")
