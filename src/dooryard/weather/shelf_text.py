"""What is on the shelf, in words for a person and as data for a program."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from dooryard import units
from dooryard.unit_table import System
from dooryard.weather.nearest import Candidate
from dooryard.weather.record import CORE, WORDS
from dooryard.weather.shelved import About, Origin

_KM_A_MILE = 1.609344
_SAME_HEIGHT_M = 5.0  # a smaller difference in height says nothing about the weather
_SHORT = 12  # digits of a file's hash that a person needs to tell files apart


def render_list(held: Sequence[About]) -> str:
    """A line a station: key, name, first and last day, whole years, days without a value."""
    if not held:
        ways = ('"dooryard weather shelf add FILE"', '"dooryard weather fetch record STATION"')
        return f"The shelf is empty. {ways[0]} or {ways[1]} fills it."
    width = max(len(about.key) for about in held)
    lines = []
    for about in held:
        years = "1 whole year" if about.complete_years == 1 else f"{about.complete_years} whole years"
        files = "1 file" if len(about.origins) == 1 else f"{len(about.origins)} files"
        span = f"{about.first} to {about.last}, {years}, {files}{', invented' if about.invented else ''}"
        lines.append(f"{about.key:<{width}}  {about.station.name or 'a station without a name'}: {span}")
    return "\n".join(lines)


def render_about(about: About, system: System) -> str:
    """Everything a shelved record says about itself."""
    station = about.station
    place = "The files do not say where it stands."
    if station.latitude is not None and station.longitude is not None:
        place = f"It stands at {station.latitude:.4f}, {station.longitude:.4f}"
        if station.elevation_m is not None:
            place += f", {units.show(station.elevation_m, 'length', system)} above the sea"
        place += "."
    lines = [f"{station.name or 'A station without a name'} (shelf:{about.key})", place]
    lines.append(f"{about.first} to {about.last}, {about.days:,} days, {about.complete_years} whole years.")
    for name in (*CORE, *(name for name in about.missing if name not in CORE)):
        if about.missing.get(name):
            lines.append(f"The {WORDS[name]} is missing on {about.missing[name]:,} days.")
    if about.invented:
        lines.append("Its weather is invented, not measured.")
    lines.append("")
    lines.append("Made from:" if len(about.origins) > 1 else "Read from:")
    for origin in about.origins:
        lines += [f"  {line}" for line in _origin(origin)]
    return "\n".join(lines)


def render_nearest(candidates: Sequence[Candidate], system: System, limit: int = 8) -> str:
    """The stations nearest first, each with distance, difference in height and what speaks against it."""
    lines = []
    for candidate in candidates[:limit]:
        mark = "->" if candidate.chosen else "  "
        where = place_words(candidate.distance_km, candidate.rise_m, system)
        lines.append(f"{mark} {candidate.about.key}: {candidate.about.station.name}, {where}")
        lines += [f"     {sentence}" for sentence in candidate.against]
    if len(candidates) > limit:
        lines.append(f"   and {len(candidates) - limit} farther ones")
    chosen = next((candidate for candidate in candidates if candidate.chosen), None)
    lines.append("")
    if chosen is None:
        lines.append("None of them can speak for this yard as it is; see what speaks against each.")
    else:
        lines.append(f'Use it with "dooryard plan YARD --weather shelf:{chosen.about.key}".')
    return "\n".join(lines)


def place_words(distance_km: float | None, rise_m: float | None, system: System) -> str:
    """ "6 miles away, 120 ft higher"."""
    if distance_km is None:
        away = "no place given"
    elif distance_km < 1:
        away = "less than a mile away" if system == "us" else "less than 1 km away"
    elif system == "us":
        miles = distance_km / _KM_A_MILE
        away = "1 mile away" if round(miles) == 1 else f"{miles:.0f} miles away"
    else:
        away = f"{distance_km:.0f} km away"
    if rise_m is None:
        return f"{away}, height not known"
    if abs(rise_m) < _SAME_HEIGHT_M:
        return f"{away}, as high as the yard"
    return f"{away}, {units.show(abs(rise_m), 'length', system)} {'higher' if rise_m > 0 else 'lower'}"


def about_json(about: About) -> dict[str, Any]:
    """What a record says about itself, as plain data with ISO days."""
    said: dict[str, Any] = plain({**asdict(about), "days": about.days, "invented": about.invented})
    return said


def candidate_json(candidate: Candidate) -> dict[str, Any]:
    """A candidate as plain data; the station's provenance is left to `shelf show`."""
    about = candidate.about
    said: dict[str, Any] = plain(
        {
            "key": about.key,
            "station": asdict(about.station),
            "first": about.first,
            "last": about.last,
            "complete_years": about.complete_years,
            "invented": about.invented,
            "distance_km": candidate.distance_km,
            "rise_m": candidate.rise_m,
            "against": candidate.against,
            "chosen": candidate.chosen,
        }
    )
    return said


def plain(value: Any) -> Any:
    """The value with days and times as ISO text, tuples as lists, and NaN as null."""
    if isinstance(value, dict):
        return {str(name): plain(part) for name, part in value.items()}
    if isinstance(value, list | tuple):
        return [plain(part) for part in value]
    if hasattr(value, "isoformat"):
        return value.isoformat()
    return None if isinstance(value, float) and value != value else value


def _origin(origin: Origin) -> list[str]:
    lines = [f"{origin.path_name}, {origin.layout}{f', {origin.note}' if origin.note else ''}"]
    lines.append(f"  {origin.first} to {origin.last}, read on {origin.read_on} by version {origin.program}")
    if origin.sha256:
        lines.append(f"  SHA-256 {origin.sha256[:_SHORT]}...")
    for element, counts in origin.flagged.items():
        marked = [f"{count:,} {word}" for word, count in counts.items() if word != "missing"]
        if marked:
            lines.append(f"  {WORDS[element]}: {', '.join(marked)}")
    if origin.replaced:
        lines.append(f"  it changed {origin.replaced:,} values that an earlier file had")
    return lines
