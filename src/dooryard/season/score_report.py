"""The scores of a look-back as one document of plain data, and as text for the screen."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any, TypedDict

from dooryard.season import scores
from dooryard.season.hindcast import LONG_TERM, OURS, PLAIN, RATE, RULES, Forecasts
from dooryard.season.scores import Marks
from dooryard.words import list_words

SCHEMA = "dooryard-season-score-1"
WIDTH = 80
SAID = 0.8
"""What a range says of itself: that it holds the day eight times in ten."""

BAND = 0.08
"""How far off a group of leads may be before the page calls it wrong."""

RIVALS = RULES[1:]
RIVAL_WORDS = {
    LONG_TERM: "the long-term dates",
    RATE: "the last 14 days' rate carried on",
    PLAIN: "past years as they were",
}


class Group(TypedDict):
    """The scores of all rules over some forecasts: `from` and `to` are the expected lead [d], `rules` by name."""

    name: str
    lead: list[int]
    rules: dict[str, dict[str, float | int] | None]
    gains: dict[str, float | None]


class Report(TypedDict):
    """The whole document; shares are 0 to 1, times in days."""

    schema: str
    stations: list[dict[str, Any]]
    heat: str
    thresholds: list[str]
    issued_every_d: int
    said: float
    all: Group
    leads: list[Group]
    about: list[Group]


def report(
    found: Forecasts,
    *,
    stations: Sequence[dict[str, Any]],
    heat: str,
    thresholds: Sequence[str],
    every_d: int,
) -> Report:
    """The scores of one or several stations together.

    stations : each with its name, first and last day of record, years forecast, and whether it is made up.
    heat : how sums are made, in words. thresholds : in words. every_d : days from one forecast to the next.
    """
    last = len(scores.LEADS) - 1
    names = [
        f"under {end}" if not i else f"{first} or more" if i == last else f"{first} to {end - 1}"
        for i, (first, end) in enumerate(scores.LEADS)
    ]
    return Report(
        schema=SCHEMA,
        stations=list(stations),
        heat=heat,
        thresholds=list(thresholds),
        issued_every_d=every_d,
        said=SAID,
        all=_group(found, "all", (0, 366), scores.dated(found)),
        leads=[
            _group(found, name, lead, scores.ahead(found, lead))
            for name, lead in zip(names, scores.LEADS, strict=True)
        ],
        about=[
            _group(found, f"about {days}", lead, scores.ahead(found, lead))
            for days, lead in scores.ABOUT.items()
        ],
    )


def render(told: Report) -> str:
    """The report in plain words, the answer first."""
    whole = told["all"]["rules"][OURS]
    who = list_words([station["name"] for station in told["stations"]])
    if whole is None:
        return f"{who}: no forecast gave a date within its year, so there is nothing to score."
    lines = [who, ""]
    lines += [*_fold(answer(told)), "", *(part for said in _against(told) for part in _fold(said)), ""]
    lines.append("By how many days ahead the forecast itself expected the day:")
    lines.append("")
    lines.append(
        f"{'days ahead':<12}{'ranges':>8}{'held':>7}{'day came':>10}{'day came':>10}{'usual':>8}{'off by,':>9}"
    )
    lines.append(f"{'':<12}{'':>8}{'':>7}{'before':>10}{'after':>10}{'width':>8}{'mean':>9}")
    for group in [*told["leads"], told["all"]]:
        one = group["rules"][OURS]
        if one is not None:
            lines.append(
                f"{group['name']:<12}{one['count']:>8,}{_share(one['held']):>7}{_share(one['too_late']):>10}"
                f"{_share(one['too_early']):>10}{one['width_d']:>6.0f} d{one['off_d']:>7.1f} d"
            )
    lines += ["", *(part for said in _small_print(told) for part in _fold(said))]
    return "\n".join(lines)


def answer(told: Report) -> str:
    """One or two sentences: how often ranges held the day, and how wide they usually are."""
    whole = told["all"]["rules"][OURS]
    if whole is None:
        return "No forecast gave a date within its year."
    held, wanted = _share(whole["held"]), _share(told["said"])
    said = f"Of {whole['count']:,} ranges issued, {held} held the day; they say {wanted}."
    widths = [
        f"{one['width_d']:.0f} days at {group['name']} days ahead"
        for group in told["about"]
        if (one := group["rules"][OURS]) is not None
    ]
    return f"{said} Usual width: {list_words(widths)}." if widths else said


def _against(told: Report) -> list[str]:
    """How the forecasts compare with each plain rule, a sentence each."""
    said = []
    for rival in RIVALS:
        parts = [
            f"{_share(abs(gain))} {'better' if gain >= 0 else 'worse'} {where}"
            for group, where in [
                *((group, f"at {group['name']} days") for group in told["about"]),
                (told["all"], "over all"),
            ]
            if (gain := group["gains"][rival]) is not None
        ]
        if parts:
            said.append(f"Against {RIVAL_WORDS[rival]}: {list_words(parts)}.")
    return said


def _small_print(told: Report) -> list[str]:
    years = [station["forecast"] for station in told["stations"]]
    spans = list_words([f"{first} to {last}" for first, last in years])
    made_up = [station["name"] for station in told["stations"] if station["invented"]]
    return [
        *(f"{name} is made-up weather: its score says nothing about a real place." for name in made_up),
        f"Forecast again: {spans}, every {told['issued_every_d']} days from 1 February, for sums of "
        f"{list_words(told['thresholds'])}.",
        f"Sums: {told['heat']}. Each forecast knew the days before its own and the 30 years before, nothing else.",
        "Better and worse go by the pinball loss, which counts days off and width together; 0 would be no gain.",
        "A range is made of whole days. Close to the day it cannot be shorter than one, and holds more than it says.",
    ]


def _group(found: Forecasts, name: str, lead: tuple[int, int], rows: Marks) -> Group:
    rules: dict[str, dict[str, float | int] | None] = {}
    for rule in RULES:
        one = scores.score(found, rule, rows)
        rules[rule] = None if one is None else {part: getattr(one, part) for part in one.__slots__}
    gains = {rival: scores.gain(found, rival, rows) for rival in RIVALS}
    return Group(name=name, lead=[lead[0], lead[1] - 1], rules=rules, gains=gains)


def _fold(said: str) -> list[str]:
    return textwrap.wrap(said, WIDTH, subsequent_indent="  ")


def _share(share: float) -> str:
    return f"{100 * share:.0f} %"


def chart(told: Report) -> dict[str, Any]:
    """The picture's chart: how often ranges held the day, and the loss of each rule, by days ahead."""
    names = {OURS: "these forecasts", PLAIN: "past years as they were", LONG_TERM: LONG_TERM, RATE: RATE}
    groups = [group for group in told["leads"] if group["rules"][OURS] is not None]

    def part(group: Group, rule: str, name: str) -> float | None:
        one = group["rules"][rule]
        return None if one is None else one[name]

    return {
        "id": "season-score",
        "kind": "lookback",
        "title": "How often the dates were right",
        "words": answer(told),
        "groups": [group["name"] for group in groups],
        "held": [part(group, OURS, "held") for group in groups],
        "said": told["said"],
        "band": [told["said"] - BAND, told["said"] + BAND],
        "rules": [
            {"name": name, "loss": [part(group, rule, "loss_d") for group in groups]}
            for rule, name in names.items()
        ],
    }
