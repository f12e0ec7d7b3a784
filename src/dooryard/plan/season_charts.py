"""The season drawings: a line for each organism's window, and the fan of the heat sum most of them share."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date

import numpy as np

from dooryard.plan.document import Json
from dooryard.plan.draft import Draft
from dooryard.season.book import HeatBook, heat_sum
from dooryard.season.course import SHARES, Course, course
from dooryard.season.timing import HeatSum, SeasonHeat
from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import NOT_HERE
from dooryard.words import dates_words, day_words

AFTER_DAYS = 28  # what is drawn of a season after the last number of an organism is reached
STEP_DAYS = 3  # a fan drawn every third day looks the same and is a third as long


def season_lines(draft: Draft, verdicts: Sequence[OrganismVerdict]) -> list[Json]:
    """One chart with a line for each organism that has a window this year."""
    lines = [
        {
            "label": verdict.name,
            "word": verdict.word,
            "earliest": _iso(verdict.line.earliest),
            "likely_from": _iso(verdict.line.likely_from),
            "likely_to": _iso(verdict.line.likely_to),
            "latest": _iso(verdict.line.latest),
            "usual_from": _iso(verdict.line.usual_from),
            "usual_to": _iso(verdict.line.usual_to),
            "sightings": [seen.date.isoformat() for seen in verdict.sightings],
        }
        for verdict in verdicts
        if verdict.word != NOT_HERE and verdict.line.likely_from is not None
    ]
    words = (
        "The thick bar is the likely window, the thin one earliest to latest over all tables, the notch "
        "the usual window of this station's past years."
    )
    return _season_chart(draft, "When each can be met this year", words, lines)


def window_lines(draft: Draft, verdict: OrganismVerdict, book: HeatBook) -> list[Json]:
    """One chart of one organism with a line for each table's window, brood after brood."""
    lines = [
        {
            "label": f"{one.window.name}, {one.window.place}",
            "word": one.word,
            "earliest": _iso(one.opens.earliest),
            "likely_from": _iso(one.opens.likely),
            "likely_to": _iso(one.closes.likely),
            "latest": _iso(one.closes.latest),
            "usual_from": _iso(book.usual(one.window.opens, one.window.open_at, one.window.open_lag_d)),
            "usual_to": _iso(book.usual(one.window.closes, one.window.close_at, one.window.close_lag_d)),
            "sightings": [
                seen.sighting.date.isoformat()
                for seen in verdict.compared
                if seen.window == one.window.key and seen.sighting.date.year == draft.on.year
            ],
        }
        for one in verdict.windows
        if one.word != NOT_HERE and one.opens.likely is not None
    ]
    words = (
        f"One line for each table that times {verdict.name}. The thick bar is its likely window, the thin one earliest "
        "to latest, the notch the usual window of this station's past years."
    )
    return _season_chart(draft, f"When {verdict.name} can be met this year", words, lines)


def _season_chart(draft: Draft, title: str, words: str, lines: Sequence[Json]) -> list[Json]:
    if not lines:
        return []
    by_start = sorted(lines, key=lambda line: str(line["likely_from"]))
    return [
        {
            "id": "season",
            "kind": "season",
            "title": title,
            "words": words,
            "from": date(draft.on.year, 1, 1).isoformat(),
            "to": date(draft.on.year, 12, 31).isoformat(),
            "today": draft.on.isoformat(),
            "lines": by_start,
            "table": {
                "caption": "Windows of this year",
                "columns": [
                    {"text": text, "align": "left"}
                    for text in ("Name", "Today", "Begins", "Ends", "Usual years")
                ],
                "rows": [
                    [
                        str(line["label"]),
                        str(line["word"]),
                        _span(line["earliest"], line["likely_from"]),
                        _span(line["likely_to"], line["latest"]),
                        _span(line["usual_from"], line["usual_to"]),
                    ]
                    for line in by_start
                ],
            },
        }
    ]


def heat_fan(draft: Draft, verdicts: Sequence[OrganismVerdict], heat: SeasonHeat) -> list[Json]:
    """The fan of the heat sum that most deciding tables use, with their numbers as thresholds."""
    wanted: list[tuple[HeatSum, str, float]] = []
    for verdict in verdicts:
        if verdict.deciding is not None:
            row = next(row for row in verdict.rows if row.stage.key == verdict.deciding.window.opens)
            if row.low is not None:
                wanted.append((heat_sum(row.stage), verdict.name, row.low.threshold))
    if not wanted:
        return []
    shared = Counter(sum_ for sum_, _, _ in wanted).most_common(1)[0][0]
    return _fan(draft, heat, shared, [(name, level) for sum_, name, level in wanted if sum_ == shared])


def heat_picture(draft: Draft, verdict: OrganismVerdict, heat: SeasonHeat) -> list[Json]:
    """The heat of the table that decides for one organism (else its first), with all its numbers of that kind."""
    ranked = [one for one in (verdict.deciding, *verdict.windows) if one is not None]
    rows = {row.stage.key: row for row in verdict.rows if row.low is not None}
    chosen = next((rows[one.window.opens] for one in ranked if one.window.opens in rows), None)
    if chosen is None:
        chosen = next(iter(rows.values()), None)
    if chosen is None:
        return []
    shared = heat_sum(chosen.stage)
    levels: dict[float, str] = {}
    for row in rows.values():
        if heat_sum(row.stage) == shared:
            for bound, words in ((row.low, row.stage.stage), (row.high, f"{row.stage.stage}, at most")):
                if bound is not None:
                    levels.setdefault(bound.threshold, f"{words} ({row.stage.place})")
    return _fan(draft, heat, shared, [(words, level) for level, words in levels.items()], near=True)


def _fan(
    draft: Draft,
    heat: SeasonHeat,
    shared: HeatSum,
    levels: Sequence[tuple[str, float]],
    *,
    near: bool = False,
) -> list[Json]:
    """near : end the picture some weeks after the last number is reached, so that its days can be told apart."""
    path = course(heat, shared)
    if path is None:
        return []
    if near:
        path = _until_reached(path, max(level for _, level in levels))
    unit = "°F·d" if draft.yard.units == "us" else "°C·d"

    def number(value: float) -> float | None:
        return None if np.isnan(value) else round(draft.book.number(float(value), "degree_days"))

    days = len(path.dates)
    kept = sorted({*range(0, days, STEP_DAYS), max(len(path.observed) - 1, 0), days - 1})
    fan = np.full((len(SHARES), days), np.nan)
    fan[:, days - path.fan.shape[1] :] = path.fan
    if len(path.observed) and path.fan.shape[1]:
        fan[:, len(path.observed) - 1] = path.observed[-1]
    observed = np.full(days, np.nan)
    observed[: len(path.observed)] = path.observed
    thresholds = [
        {"label": name, "value": number(threshold)}
        for name, threshold in sorted(levels, key=lambda item: item[1])
    ]
    base = draft.book.exact(shared.lower_c, "temperature")
    start = dates_words(*(date(draft.on.year, *shared.start),) * 3)
    series = {
        name: [number(value) for value in fan[i][kept]]
        for i, name in enumerate(("p10", "p25", "p50", "p75", "p90"))
    }
    return [
        {
            "id": "heat",
            "kind": "fan",
            "title": f"Heat above {base} since {start}",
            "words": "The solid line is the heat so far. The fan is where this station's own years would carry it: "
            "the middle half darker, eight years in ten in all. Eight in ten past years ran between the thin lines.",
            "dates": [path.dates[i].isoformat() for i in kept],
            "observed": [number(value) for value in observed[kept]],
            **series,
            "usual_low": [number(value) for value in path.usual[0][kept]],
            "usual_high": [number(value) for value in path.usual[1][kept]],
            "unit": unit,
            "thresholds": thresholds,
            "today": draft.on.isoformat(),
            "table": {
                "caption": f"Heat sum, {unit}, on the first of each month",
                "columns": [
                    {"text": "Day", "align": "left"},
                    *(
                        {"text": text, "align": "right"}
                        for text in ("So far", "1 in 10 lower", "Middle", "1 in 10 higher")
                    ),
                ],
                "rows": [
                    [
                        day_words(path.dates[i]),
                        *(
                            "" if (value := number(series_[i])) is None else f"{value:,.0f}"
                            for series_ in (observed, fan[0], fan[2], fan[4])
                        ),
                    ]
                    for i in range(days)
                    if path.dates[i].day == 1
                ],
            },
        }
    ]


def _until_reached(path: Course, level_cd: float) -> Course:
    """The course up to `AFTER_DAYS` after the slowest tenth of the futures, and of the past, have reached a sum."""
    days, known = len(path.dates), len(path.observed)
    reached = [int(np.searchsorted(np.nan_to_num(path.usual[0]), level_cd)), known]
    if path.fan.shape[1]:
        reached.append(days - path.fan.shape[1] + int(np.searchsorted(path.fan[0], level_cd)))
    end = min(max(reached) + AFTER_DAYS, days)
    fan = path.fan[:, : max(path.fan.shape[1] - (days - end), 0)]
    return Course(path.dates[:end], path.observed[:end], fan, path.usual[:, :end])


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _span(first: object, last: object) -> str:
    days = [date.fromisoformat(str(day)) for day in (first, last) if day is not None]
    if not days:
        return ""
    return (
        dates_words(days[0], days[0], days[0])
        if len(days) == 1
        else (f"{dates_words(days[0], days[0], days[0])} to {dates_words(days[1], days[1], days[1])}")
    )
