"""What the plan says about the station and its record: how far away, how long, and every gap that matters."""

from __future__ import annotations

from math import asin, cos, radians, sin, sqrt

import numpy as np

from dooryard import units
from dooryard.plan.draft import Draft
from dooryard.weather.record import Flag, Issue, WeatherRecord, as_date
from dooryard.words import day_words, range_words
from dooryard.yard.model import Place

EARTH_RADIUS_KM = 6371.0


def describe(draft: Draft) -> dict[str, str]:
    """The station as the document holds it; adds the record's notes to the draft."""
    record = draft.record
    for issue in record.issues:
        draft.record_notes.append(_issue_words(issue))
    draft.record_notes.append(_recent_gaps(draft))
    return {
        "name": record.station.name,
        "words": _words(draft),
        "first": record.first.isoformat(),
        "last": _last_observed(record),
    }


def distance_km(place: Place, record: WeatherRecord) -> float | None:
    """Great-circle distance from the yard to the station [km], None if the record has no coordinates."""
    station = record.station
    if station.latitude is None or station.longitude is None:
        return None
    north, south = radians(place.latitude), radians(station.latitude)
    half_lat, half_lon = (south - north) / 2, radians(station.longitude - place.longitude) / 2
    chord = sin(half_lat) ** 2 + cos(north) * cos(south) * sin(half_lon) ** 2
    return 2 * EARTH_RADIUS_KM * asin(sqrt(chord))


def _words(draft: Draft) -> str:
    place, station = draft.yard.place, draft.record.station
    name = station.name + (f" ({station.id})" if station.id and station.id != station.name else "")
    parts = [f"Every date and amount comes from the record of {name}"]
    away = distance_km(place, draft.record)
    if away is None:
        parts.append("the file does not say where it stands")
    else:
        distance = f"{away / 1.609344:.0f} miles" if draft.yard.units == "us" else f"{away:.0f} km"
        parts.append(f"about {distance} from the yard" if away >= 1 else "less than a mile from the yard")
    if station.elevation_m is not None and place.elevation_m is not None:
        rise = station.elevation_m - place.elevation_m
        if abs(rise) >= 5:
            higher = "higher" if rise > 0 else "lower"
            parts.append(f"{units.show(abs(rise), 'length', draft.yard.units)} {higher}")
    return ", ".join(parts) + "."


def _issue_words(issue: Issue) -> str:
    return f"{issue.text} {issue.instead}".strip()


def _last_observed(record: WeatherRecord) -> str:
    seen = ~np.isnan(record.t_max_c) | ~np.isnan(record.rain_mm)
    last = np.flatnonzero(seen)
    return as_date(record.dates[last[-1] if last.size else 0]).isoformat()


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
            said.append(f"{int(missing.sum())} days have no {word}: {', '.join(stretches[-4:])}{many}")
    estimated = sum(int((codes[since:] == Flag.ESTIMATED).sum()) for codes in record.flags.values())
    if estimated:
        said.append(f"{estimated} values were estimated by the publisher")
    if not said:
        return f"In the year before {day_words(draft.on)} no day is missing."
    return f"In the year before {day_words(draft.on)}: {'; '.join(said)}. No value was filled in."


def _stretches(missing: np.ndarray, dates: np.ndarray) -> list[str]:
    edges = np.flatnonzero(np.diff(np.concatenate(([False], missing, [False])).astype(int)))
    return [
        range_words(as_date(dates[first]), as_date(dates[last - 1]))
        for first, last in zip(edges[::2], edges[1::2], strict=True)
    ]
