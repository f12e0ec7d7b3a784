"""What the plan says about the station and its record: how far away, how long, and every gap that matters."""

from __future__ import annotations

import numpy as np

from dooryard import units
from dooryard.plan.document import unmarked
from dooryard.plan.draft import Draft
from dooryard.weather import forecast_fit
from dooryard.weather.distance import great_circle_km
from dooryard.weather.record import MADE_UP, Flag, WeatherRecord, as_date
from dooryard.words import day_words, list_words, range_words
from dooryard.yard.model import Place

_KM_IN_A_MILE = 1.609344
SAME_HEIGHT_M = 5.0  # a smaller difference in height says nothing about the weather


def describe(draft: Draft) -> dict[str, str]:
    """The station as the document holds it; adds the record's notes to the draft."""
    record = draft.record
    gaps = [issue for issue in record.issues if issue.kind in ("gap", "missing")]
    told = sorted((*record.issues, *draft.outlook.issues), key=lambda issue: issue.kind != MADE_UP)
    for issue in told:
        # Gaps of long ago are told as one sum; `dooryard weather` lists each.
        if issue.kind not in ("gap", "missing", "outlook"):
            draft.record_notes.append(f"{issue.text} {issue.instead}".strip())
    if gaps:
        draft.record_notes.append(_whole_record(record))
    draft.record_notes.append(_recent_gaps(draft))
    draft.record_notes.append(_years_ahead(draft))
    if draft.forecast is not None:
        place = draft.yard.place
        draft.record_notes += forecast_fit.against(
            draft.forecast, place.latitude, place.longitude, draft.on, draft.yard.units
        )
    return {
        "name": unmarked(record.station.name),
        "words": _words(draft),
        "first": record.first.isoformat(),
        "last": _last_observed(record),
    }


def distance_km(place: Place, record: WeatherRecord) -> float | None:
    """Great-circle distance from the yard to the station [km], None if the record has no coordinates."""
    station = record.station
    if station.latitude is None or station.longitude is None:
        return None
    return great_circle_km(place.latitude, place.longitude, station.latitude, station.longitude)


def _words(draft: Draft) -> str:
    place, station = draft.yard.place, draft.record.station
    parts = ["invented weather, not measured"] if draft.record.invented else []
    away = distance_km(place, draft.record)
    if away is None:
        parts.append("the file does not say where it stands")
    elif away < 1:
        parts.append(
            "less than a mile from the yard" if draft.yard.units == "us" else "less than 1 km from the yard"
        )
    else:
        distance = f"{away / _KM_IN_A_MILE:.0f} miles" if draft.yard.units == "us" else f"{away:.0f} km"
        distance = "a mile" if distance in ("0 miles", "1 miles") else distance
        parts.append(f"about {distance} from the yard")
    if station.elevation_m is not None:
        rise = station.elevation_m - place.elevation_m
        if abs(rise) >= SAME_HEIGHT_M:
            higher = "higher" if rise > 0 else "lower"
            parts.append(f"{units.show(abs(rise), 'length', draft.yard.units)} {higher}")
    without = [word for word, values in _kinds(draft.record) if np.isnan(values).all()]
    if without:
        parts.append(f"without any usable {list_words(without)}")
    return ", ".join(parts)


def _kinds(record: WeatherRecord) -> tuple[tuple[str, np.ndarray], ...]:
    return (("rain", record.rain_mm), ("temperature", record.t_min_c + record.t_max_c))


def _whole_record(record: WeatherRecord) -> str:
    """Missing days of the whole record as shares, in one sentence."""
    days = len(record.dates)
    counts = (
        ("rain", np.isnan(record.rain_mm)),
        ("the lowest temperature", np.isnan(record.t_min_c)),
        ("the highest temperature", np.isnan(record.t_max_c)),
    )
    said = [f"{word} is missing on {int(gone.sum()):,} days" for word, gone in counts if gone.any()]
    if not said:
        return f"No day of the {days:,} of this record lacks rain or a temperature."
    return (
        f"Of the {days:,} days of this record {list_words(said)}. None is filled in here; what needs a missing day is "
        'given as a range or refused. "dooryard weather" with the record\'s file lists every gap.'
    )


def _years_ahead(draft: Draft) -> str:
    """How many of the station's years are played on from today, and how many were left out."""
    used, left = len(draft.outlook.years), len(draft.outlook.excluded)
    said = f"Dates ahead rest on {used} past years of this station"
    if len(draft.heat_years) < used:
        said += f", those of heat sums on the last {len(draft.heat_years)} of them"
    if draft.outlook.forecast_days:
        said += f", after {draft.outlook.forecast_days} days of forecast"
    if left:
        said += f"; {left} other {'year was' if left == 1 else 'years were'} left out for gaps in the temperatures"
    return f"{said}."


def _last_observed(record: WeatherRecord) -> str:
    seen = ~np.isnan(record.t_max_c) | ~np.isnan(record.rain_mm)
    last = np.flatnonzero(seen)
    return as_date(record.dates[last[-1]]).isoformat() if last.size else record.last.isoformat()


def _recent_gaps(draft: Draft) -> str:
    """Days of the last year without rain or without a temperature, each stretch named."""
    record = draft.record
    since = max(0, len(record.dates) - 365)
    said = []
    no_temperature = np.isnan(record.t_min_c[since:]) | np.isnan(record.t_max_c[since:])
    for word, missing in (("rain", np.isnan(record.rain_mm[since:])), ("temperature", no_temperature)):
        if missing.any():
            stretches = _stretches(missing, record.dates[since:])
            many = " and others" if len(stretches) > 4 else ""
            said.append(f"{_days(int(missing.sum()))} no {word} value: {', '.join(stretches[-4:])}{many}")
    estimated = sum(int((codes[since:] == Flag.ESTIMATED).sum()) for codes in record.flags.values())
    if estimated:
        said.append(
            f"{estimated} {'value is an estimate' if estimated == 1 else 'values are estimates'}, flagged in the record"
        )
    if not said:
        return f"In the year before {day_words(draft.on)} no day is missing."
    return f"In the year before {day_words(draft.on)}: {'; '.join(said)}. The plan filled in no value."


def _days(count: int) -> str:
    return "1 day has" if count == 1 else f"{count} days have"


def _stretches(missing: np.ndarray, dates: np.ndarray) -> list[str]:
    edges = np.flatnonzero(np.diff(np.concatenate(([False], missing, [False])).astype(int)))
    return [
        range_words(as_date(dates[first]), as_date(dates[last - 1]))
        for first, last in zip(edges[::2], edges[1::2], strict=True)
    ]
