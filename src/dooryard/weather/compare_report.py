"""The comparison with past years as text of 80 columns, and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

import numpy as np

from dooryard.weather.compare import Row
from dooryard.weather.normals import DailyNormals, daily
from dooryard.weather.record import MADE_UP, STATED, WeatherRecord
from dooryard.weather.similar import Likeness
from dooryard.words import day_words, list_words, range_words

if TYPE_CHECKING:
    from dooryard.units import System

YEARS_LIKE = 3
_WIDTH = 80


@dataclass(frozen=True, slots=True, eq=False)
class UsualDay:
    """Normals of the two temperatures of a record, and the eve of the day asked as measured."""

    t_min: DailyNormals
    t_max: DailyNormals


def usual_day(record: WeatherRecord) -> UsualDay:
    """Normals of the lowest and highest temperature from all days of the record."""
    return UsualDay(daily(record.dates, record.t_min_c), daily(record.dates, record.t_max_c))


def render(
    rows: Sequence[Row],
    usual: UsualDay,
    alike: Likeness | None,
    record: WeatherRecord,
    on: date,
    system: System,
) -> str:
    """The comparison as text: the answer in sentences, what was left out, then the table."""
    name = record.station.name
    head = (
        f"The days before {day_words(on, year=True)} against the same days of past years. Usual is what the middle "
        "third of them had, far from usual is beyond nine years of ten."
    )
    parts = [
        "\n".join([name, "-" * min(len(name), _WIDTH), *_wrapped(head)]),
        "\n".join(line for text in warnings(record) for line in _wrapped(text)),
        "\n".join(line for row in rows for line in _wrapped(sentence(row, system), "- ", "  ")),
        "\n".join(_wrapped(_day_sentence(usual, on, system))),
        _table(rows, system) if rows else "",
        "\n".join(_wrapped(_alike_sentence(alike))),
        "\n".join(_wrapped(_gap_sentence(rows))),
    ]
    return "\n\n".join(part for part in parts if part)


def warnings(record: WeatherRecord) -> tuple[str, ...]:
    """What speaks against comparing anything in this record, in sentences: it is invented, or its unit is in doubt."""
    return tuple(
        f"{issue.text} {issue.instead}".strip()
        for issue in record.issues
        if issue.kind in (MADE_UP, STATED) or (issue.kind == "units" and issue.days)
    )


def sentence(row: Row, system: System) -> str:
    """One row in plain words."""
    name = row.quantity.name
    about = f"{name[0].upper()}{name[1:]}, {row.span}"
    if row.value is None:
        return f"{about}: {row.refused}"
    least = "at least " if row.quantity.kind == "total" and row.missing_days else ""
    shown = _shown(row.value, row, system)
    if row.refused:
        return f"{about}: {least}{shown}. {row.refused}"
    return (
        f"{about}: {least}{shown}, {row.word}. Usual is {_number(row.low, row, system)} to "
        f"{_shown(row.high, row, system)}; {_rank(row)}."
    )


def _rank(row: Row) -> str:
    count = len(row.past)
    if row.below == count:
        return f"higher than in all {count} past years"
    if row.above == count:
        return f"lower than in all {count} past years"
    return f"higher than in {row.below} of {count} past years"


def as_json(
    rows: Sequence[Row], usual: UsualDay, alike: Likeness | None, record: WeatherRecord, on: date
) -> dict[str, Any]:
    """The comparison as plain data in canonical units, None where nothing is known."""
    return {
        "station": record.station.name,
        "invented": record.invented,
        "warnings": list(warnings(record)),
        "on": on.isoformat(),
        "usual_day": {
            "t_min_c": _normals(usual.t_min, on),
            "t_max_c": _normals(usual.t_max, on),
        },
        "years_most_like_this_one": [] if alike is None else list(alike.most_like(YEARS_LIKE)),
        "rows": [
            {
                "key": row.quantity.key,
                "name": row.quantity.name,
                "kind": row.quantity.kind,
                "note": row.quantity.note,
                "span": row.span,
                "first": row.first.isoformat(),
                "last": row.last.isoformat(),
                "value": row.value,
                "missing_days": row.missing_days,
                "word": row.word,
                "refused": row.refused,
                "middle_third": [row.low, row.high],
                "middle": row.middle,
                "years_below": row.below,
                "years_above": row.above,
                "past": [
                    {"year": year.year, "value": year.value, "missing_days": year.missing_days}
                    for year in row.past
                ],
                "left_out": [{"year": year, "reason": reason} for year, reason in row.left_out],
            }
            for row in rows
        ],
    }


def _normals(normals: DailyNormals, on: date) -> dict[str, Any]:
    mean, spread, points = normals.on(on)
    known = [None if np.isnan(number) else float(number) for number in (mean, spread, *points)]
    shares = {f"p{share * 100:.0f}": point for share, point in zip(normals.shares, known[2:], strict=True)}
    return {"mean": known[0], "spread": known[1], **shares, "years": list(normals.years)}


def _day_sentence(usual: UsualDay, on: date, system: System) -> str:
    """Usual temperatures of the day asked; nothing if the station has no thermometer."""
    from dooryard import units

    told = []
    for word, normals in (("a lowest", usual.t_min), ("a highest", usual.t_max)):
        mean, _, points = normals.on(on)
        if np.isnan(mean):
            continue
        shown = [
            units.show(value, "temperature", system, digits=0) for value in (mean, points[0], points[-1])
        ]
        told.append(f"{word} temperature of {shown[0]} ({shown[1]} to {shown[2]} in eight years of ten)")
    if not told:
        return ""
    years = len(usual.t_min.years or usual.t_max.years)
    return f"Usual for {day_words(on)} here, from {years} years: {' and '.join(told)}."


def _alike_sentence(alike: Likeness | None) -> str:
    if alike is None or not alike.most_like(YEARS_LIKE):
        return ""
    years = list_words([str(year) for year in alike.most_like(YEARS_LIKE)])
    return (
        f"The last {alike.span_d} days were most like those of {years}, by mean temperature and rain together. That "
        "says little about the months to come."
    )


def _table(rows: Sequence[Row], system: System) -> str:
    lines = [f"{'':25}{'this year':>10}{'lowest':>14}{'middle':>9}{'highest':>14}{'years':>7}"]
    before = ""
    for row in rows:
        if row.quantity.name != before:
            unit = _shown(0.0, row, system).partition(" ")[2]
            lines.append(f"{row.quantity.name[0].upper()}{row.quantity.name[1:]}, {unit}"[:_WIDTH])
            before = row.quantity.name
        days = range_words(row.first, row.last)
        label = f"  {days if len(days) <= 22 else row.span}"
        least = min(row.past, key=lambda year: year.value, default=None)
        most = max(row.past, key=lambda year: year.value, default=None)
        ends = [
            "" if end is None else f"{_number(end.value, row, system)} ({end.year})" for end in (least, most)
        ]
        numbers = [_number(value, row, system) for value in (row.value, row.middle)]
        cells = f"{numbers[0]:>10}{ends[0]:>14}{numbers[1]:>9}{ends[1]:>14}{len(row.past):>7}"
        lines.append(label.ljust(25) + cells)
    return "\n".join(lines)


def _shown(value: float | None, row: Row, system: System) -> str:
    """A value with its unit, with the digits that a span of days deserves."""
    from dooryard import units

    number = _number(value, row, system)
    return f"{number} {units.unit_name(row.quantity.dimension, system)}"


def _number(value: float | None, row: Row, system: System) -> str:
    from dooryard import units

    if value is None:
        return "none"
    number = units.number(value, row.quantity.dimension, system)
    fine = row.quantity.dimension == "temperature" or (row.quantity.dimension == "depth" and system == "us")
    return f"{number:,.{1 if fine else 0}f}"


def _gap_sentence(rows: Sequence[Row]) -> str:
    """How many years were left out, and how many totals stand on a few days less."""
    if not rows:
        return "The record is shorter than 30 days, so there is nothing to compare."
    parts = []
    lacks: dict[tuple[int, str], list[str]] = {}
    for name in dict.fromkeys(row.quantity.name for row in rows if row.missing_days):
        worst = max((row for row in rows if row.quantity.name == name), key=lambda row: row.missing_days)
        lacks.setdefault((worst.missing_days, worst.span), []).append(name)
    for (count, span), names in lacks.items():
        days = "1 day" if count == 1 else f"{count} days"
        parts.append(f"Without value this year, {span}: {days} of {list_words(names)}.")
    if parts:
        parts.append("Past years are taken without the same days, so that like is set against like.")
    left_out = {year for row in rows for year, _ in row.left_out}
    if left_out:
        noun = "1 year was" if len(left_out) == 1 else f"{len(left_out)} years were"
        parts.append(f"{noun} left out of one row or more, for days that are missing or not in the record.")
    lacking = {
        year.year for row in rows for year in row.past if year.missing_days and row.quantity.kind == "total"
    }
    if lacking:
        noun = "In 1 past year" if len(lacking) == 1 else f"In {len(lacking)} past years"
        parts.append(f"{noun} a day or a few of a total have no value; the total is that of the others.")
    return " ".join(parts)


def _wrapped(text: str, first: str = "", rest: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=rest)
