"""Can this hour be weather? Impossible values of hours and intervals are taken out and told."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.gauge import GaugeRecord, told
from dooryard.weather.hourly import WORDS, HourlyRecord
from dooryard.weather.limits import limits
from dooryard.weather.quality import runs
from dooryard.weather.record import Flag, Floats, Issue

_UNITS = {"rain_mm": "mm", "wind_m_s": "m/s", "solar_w_m2": "W/m2", "humidity_pct": "%"}
_LEFT_OUT = "These values are left out."


def examine_hours(record: HourlyRecord) -> HourlyRecord:
    """The same record with impossible values NaN and SUSPECT, and what is missing told."""
    from dooryard import knowledge

    facts, bounds = knowledge.load(), limits()
    between: dict[str, tuple[float, float]] = {
        "temperature_c": (bounds.coldest_c, bounds.hottest_c),
        "dew_point_c": (bounds.coldest_c, bounds.highest_dew_point_c),
        "humidity_pct": (0.0, bounds.highest_humidity_pct),
        "wind_m_s": (0.0, facts.fact("weather.hourly.windiest_m_s").value),
        "solar_w_m2": (
            facts.fact("weather.hourly.darkest_w_m2").value,
            facts.fact("weather.hourly.sunniest_w_m2").value,
        ),
        "rain_mm": (0.0, float(most_rain_mm(60))),
    }
    days = record.hours.astype("datetime64[D]")
    changed: dict[str, Any] = {}
    flags = dict(record.flags)
    issues: list[Issue] = []
    for name in record.elements:
        values = record.element(name)
        low, high = between[name]
        wrong = (values < low) | (values > high)
        edges = ("low_c", "high_c") if name == "temperature_c" else ()
        for edge in edges:
            reading: Floats = getattr(record, edge)
            changed[edge] = _without(reading, wrong | (reading < low) | (reading > high))
        if not wrong.any():
            continue
        changed[name], flags[name] = _without(values, wrong), _suspect(flags[name], wrong)
        example = float(values[np.argmax(wrong)])
        unit = _UNITS.get(name, "degC")
        text = f"The {WORDS[name]} of {_hours(wrong)} cannot be right, such as {example:g} {unit}."
        issues.append(told("suspect", days, wrong, text, _LEFT_OUT))
    if changed:
        record = replace(record, flags=MappingProxyType(flags), **changed)
    issues += _absent(record)
    return replace(record, issues=record.issues + tuple(issues))


def examine_gauge(record: GaugeRecord) -> GaugeRecord:
    """The same record with impossible depths NaN and SUSPECT, and told."""
    most = most_rain_mm(record.minutes)
    wrong = (record.depth_mm < 0) | (record.depth_mm > most)
    if not wrong.any():
        return record
    days = record.start.astype("datetime64[D]")
    example = float(record.depth_mm[np.argmax(wrong)])
    count = int(wrong.sum())
    which = "1 interval" if count == 1 else f"{count:,} intervals"
    text = f"The rain of {which} cannot be right, such as {example:g} mm."
    return replace(
        record,
        depth_mm=_without(record.depth_mm, wrong),
        flags=_suspect(record.flags, wrong),
        issues=(*record.issues, told("suspect", days, wrong, text, _LEFT_OUT)),
    )


def most_rain_mm(minutes: NDArray[np.int64] | float) -> Floats:
    """More rain than was ever measured in that time [mm]; see method weather.rain_envelope."""
    from dooryard import knowledge

    facts = knowledge.load()
    depth, exponent = (facts.fact(f"weather.rain_envelope.{name}").value for name in ("depth_mm", "exponent"))
    return np.asarray(depth * (np.asarray(minutes, dtype=np.float64) / 60) ** exponent)


def _absent(record: HourlyRecord) -> list[Issue]:
    days = record.hours.astype("datetime64[D]")
    issues = []
    for name in record.elements:
        missing = record.flags[name] == Flag.MISSING
        if missing.any():
            starts, ends = runs(missing)
            text = (
                f"The {WORDS[name]} is missing in {int(missing.sum()):,} of {len(missing):,} hours, at most "
            )
            text += f"{int((ends - starts).max()):,} in a row."
            issues.append(told("missing", days, missing, text, "Nothing was filled in."))
    return issues


def _hours(where: NDArray[np.bool_]) -> str:
    count = int(where.sum())
    return "1 hour" if count == 1 else f"{count:,} hours"


def _without(values: Floats, wrong: NDArray[np.bool_]) -> Floats:
    left = np.where(wrong, np.nan, values)
    left.setflags(write=False)
    return left


def _suspect(codes: NDArray[np.uint8], wrong: NDArray[np.bool_]) -> NDArray[np.uint8]:
    marked = np.where(wrong, np.uint8(Flag.SUSPECT), codes)
    marked.setflags(write=False)
    return marked
