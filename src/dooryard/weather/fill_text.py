"""A plan to fill gaps as text for the terminal, as JSON, and as the comment lines of the file it writes."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import Any, Literal

import numpy as np

from dooryard.weather.fill import FillPlan, Stretch
from dooryard.weather.gap_answers import Neighbour
from dooryard.weather.gap_words import means_filled, means_left
from dooryard.weather.record import CORE, WORDS, Flag
from dooryard.words import range_words

System = Literal["us", "metric"]

_WIDTH = 80
_MOST_SHOWN = 12
KM_IN_A_MILE = 1.609344


def render(plan: FillPlan, system: System, frost_allowed_d: int) -> str:
    """The plan for a terminal: what is missing, how good each neighbour is, what would be filled, what stays."""
    if not plan.stretches:
        return "\n".join(_wrapped(f"{_title(plan)} No temperature and no rain is missing: nothing to fill."))
    parts = [_wrapped(f"{_title(plan)} {_missing(plan)}")]
    if plan.neighbours:
        head = ["Tried on real days, hidden a fortnight at a time"]
        parts.append([*head, *(line for one in plan.neighbours for line in _neighbour(one, system))])
    parts += [_wrapped(note) for note in plan.notes]
    if plan.filled:
        parts.append(["Can be filled", *_listed(plan.filled, system)])
        meant = dict.fromkeys(words for stretch in plan.filled for words in means_filled(stretch.element))
        parts.append(_wrapped(" ".join(("An estimate is no measurement.", *meant))))
    if plan.left:
        parts.append(["Stays missing", *_listed(plan.left, system)])
        parts.append(["What that means", *_meant(plan.left, frost_allowed_d)])
    return "\n\n".join("\n".join(lines) for lines in parts)


def as_json(plan: FillPlan, frost_allowed_d: int, written: str | None = None) -> dict[str, Any]:
    """The plan as plain data, canonical units; written : the file made, or None."""
    return {
        "station": plan.record.station.name,
        "first": plan.record.first.isoformat(),
        "last": plan.record.last.isoformat(),
        "neighbours": [_neighbour_json(neighbour) for neighbour in plan.neighbours],
        "notes": list(plan.notes),
        "days": {
            element: {"filled": _days(plan.filled, element), "left": _days(plan.left, element)}
            for element in CORE
        },
        "stretches": [_stretch_json(stretch, frost_allowed_d) for stretch in plan.stretches],
        "written": written,
    }


def comments(plan: FillPlan) -> list[tuple[str, str]]:
    """Lines (key, text) that say in a filled file where its estimates come from; the reader tells them again."""
    source = plan.record.source
    read_as = f"{source.layout}, {source.note}" if source.note else source.layout
    lines = [("filled from", f"{source.path_name}, read as {read_as}, SHA-256 {source.sha256}")]
    for element in CORE:
        told = [
            f"{_count(days)} from {origin}, usually {_plain(element, error)} off"
            for origin, days, error in _origins(plan, element)
        ]
        before = int((plan.record.flags[element] == Flag.ESTIMATED).sum())
        if before:
            told.append(f"{_count(before)} had been estimated before{_earlier(plan, element)}")
        if told:
            lines.append((f"estimated {WORDS[element]}", "; ".join(told)))
    return lines


def _title(plan: FillPlan) -> str:
    record = plan.record
    return f"{record.station.name}, {record.first} to {record.last}."


def _missing(plan: FillPlan) -> str:
    told = []
    for element in CORE:
        days = _days(plan.stretches, element)
        if days:
            estimable = _days(plan.filled, element)
            told.append(f"{WORDS[element]} on {_count(days)}, of which {estimable:,} can be estimated")
    return f"Missing: {'; '.join(told)}."


def _neighbour(neighbour: Neighbour, system: System) -> list[str]:
    place = []
    if neighbour.distance_km is not None:
        miles = neighbour.distance_km / KM_IN_A_MILE
        place.append(
            f"{neighbour.distance_km:.1f} km away" if system == "metric" else f"{miles:.1f} miles away"
        )
    else:
        place.append("how far away is not known")
    if neighbour.higher_m is not None:
        place.append(
            f"{_height(abs(neighbour.higher_m), system)} {'higher' if neighbour.higher_m >= 0 else 'lower'}"
        )
    lines = _wrapped(f"{neighbour.label}: {', '.join(place)}.")
    for element in CORE:
        lines += _wrapped(f"{WORDS[element]}: {_verdict(neighbour, element, system)}", "  ", "    ")
    return lines


def _verdict(neighbour: Neighbour, element: str, system: System) -> str:
    usual = neighbour.usual.get(element)
    if usual is None:
        return "too few days in common to try it."
    daily, most, guess = (
        _error(element, size, system) for size in (usual.daily, usual.nine_in_ten, usual.guess)
    )
    tried = (
        f"usually {daily} off, {most} or less on 9 days in 10 ({usual.days:,} days tried); "
        f"a guess without it would be {guess} off."
    )
    if neighbour.unfit[element]:
        where = "some months" if neighbour.fits[element] else "any month"
        tried += f" Not used in {where}: {neighbour.unfit[element]}."
    return tried


def _listed(stretches: Sequence[Stretch], system: System) -> list[str]:
    """The longest stretches in the order of their dates, and how many more there are."""
    shown = sorted(stretches, key=lambda stretch: -stretch.days)[:_MOST_SHOWN]
    lines = []
    for stretch in sorted(shown, key=lambda stretch: (stretch.first, CORE.index(stretch.element))):
        when = range_words(stretch.first, stretch.last, year=True)
        lines += _wrapped(
            f"{when} ({_count(stretch.days)}), {WORDS[stretch.element]}: {_answer(stretch, system)}",
            "  ",
            "    ",
        )
    rest = sorted(stretches, key=lambda stretch: -stretch.days)[_MOST_SHOWN:]
    if rest:
        days = sum(stretch.days for stretch in rest)
        lines.append(f"  and {len(rest):,} shorter ones, {_count(days)} in all (--json lists them)")
    return lines


def _answer(stretch: Stretch, system: System) -> str:
    if stretch.refused:
        return stretch.refused
    told = f"from {stretch.source}"
    if stretch.daily_error is not None:
        told += f", usually {_error(stretch.element, stretch.daily_error, system)} off"
    if stretch.sum_error is not None and stretch.days > 1:
        total = _sum_error(stretch.element, stretch.sum_error, system)
        told += f" a day and {total} over all {stretch.days}"
    return f"{told}."


def _meant(left: Iterable[Stretch], frost_allowed_d: int) -> list[str]:
    """For each element, what its longest stretch means; shorter ones mean no more than that."""
    lines: list[str] = []
    longest: dict[str, Stretch] = {}
    for stretch in left:
        kind = "rain" if stretch.element == "rain_mm" else "temperature"
        if kind not in longest or stretch.left_days > longest[kind].left_days:
            longest[kind] = stretch
    for kind, stretch in longest.items():
        when = range_words(stretch.first, stretch.last, year=True)
        told = means_left(stretch.element, stretch.first, stretch.last, stretch.left_days, frost_allowed_d)
        lines += _wrapped(f"No {kind} on {when}: {' '.join(told)}", "  ", "    ")
    return lines


def _stretch_json(stretch: Stretch, frost_allowed_d: int) -> dict[str, Any]:
    told = (
        means_left(stretch.element, stretch.first, stretch.last, stretch.left_days, frost_allowed_d)
        if stretch.refused
        else means_filled(stretch.element)
    )
    return {
        "element": stretch.element,
        "first": stretch.first.isoformat(),
        "last": stretch.last.isoformat(),
        "days": stretch.days,
        "gap_days": stretch.gap_days,
        "source": stretch.source or None,
        "values": list(stretch.values),
        "daily_error": stretch.daily_error,
        "sum_error": stretch.sum_error,
        "refused": stretch.refused or None,
        "means": list(told),
    }


def _neighbour_json(neighbour: Neighbour) -> dict[str, Any]:
    tried = {}
    for element, relation in neighbour.relations.items():
        usual = neighbour.usual.get(element)
        tried[element] = {
            "hidden_days": usual.days if usual else 0,
            "usual_error": usual.daily if usual else None,
            "nine_in_ten_below": usual.nine_in_ten if usual else None,
            "bias": usual.bias if usual else None,
            "guess_error": usual.guess if usual else None,
            "moved_days": -relation.lag_d,
            "months_used": [number + 1 for number in neighbour.fits[element]],
            "refused": neighbour.unfit[element] or None,
        }
    return {
        "name": neighbour.label,
        "file": neighbour.file,
        "distance_km": neighbour.distance_km,
        "higher_m": neighbour.higher_m,
        "elements": tried,
    }


def _origins(plan: FillPlan, element: str) -> list[tuple[str, int, float | None]]:
    """Each way an element is filled by, with its days and usual daily error, weighted by days."""
    found: dict[str, list[Stretch]] = {}
    for stretch in plan.filled:
        if stretch.element == element:
            found.setdefault(stretch.source, []).append(stretch)
    files = {neighbour.label: neighbour.file for neighbour in plan.neighbours}
    told = []
    for source, stretches in found.items():
        days = [stretch.days for stretch in stretches]
        errors = [np.nan if stretch.daily_error is None else stretch.daily_error for stretch in stretches]
        error = float(np.average(errors, weights=days))
        name = f"{source} ({files[source]})" if source in files else source
        told.append((name, sum(days), None if np.isnan(error) else error))
    return told


def _earlier(plan: FillPlan, element: str) -> str:
    beginning = f"The {WORDS[element]} of "
    for issue in plan.record.issues:
        if issue.kind == "estimated" and issue.text.startswith(beginning) and issue.instead:
            return f" ({issue.instead.rstrip('.')})"
    return ""


def _days(stretches: Iterable[Stretch], element: str) -> int:
    return sum(stretch.days for stretch in stretches if stretch.element == element)


def _count(days: int) -> str:
    return "1 day" if days == 1 else f"{days:,} days"


def _plain(element: str, error: float | None) -> str:
    if error is None:
        return "an unknown amount"
    return f"{error:.1f} {'mm' if element == 'rain_mm' else 'degC'}"


def _error(element: str, size: float, system: System) -> str:
    from dooryard import units

    if element == "rain_mm":
        return units.show(size, "depth", system, 2 if system == "us" else 1)
    return units.show(size, "temperature_difference", system, 1)


def _sum_error(element: str, size: float, system: System) -> str:
    from dooryard import units

    return _error(element, size, system) if element == "rain_mm" else units.show(size, "degree_days", system)


def _height(metres: float, system: System) -> str:
    from dooryard import units

    return units.show(metres, "length", system, 0)


def _wrapped(text: str, first: str = "", rest: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
