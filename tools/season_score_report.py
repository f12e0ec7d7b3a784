"""The report on the look-back, docs/season-score.md, with its pictures: how often dates were right on real records.

    python -m tools.season_score_report LIST.csv

The list has the columns ``file,name,climate,tuned_until,left_out``: a daily record, its place, its climate in words,
the last year that was used for tuning (blank if none was), and why it does not count (blank if it does). Records are
public and not shipped; the page names each.
"""

from __future__ import annotations

import csv
import sys
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from pathlib import Path

import numpy as np

from dooryard import knowledge, weather
from dooryard.letter.drawing import svg
from dooryard.season import score_report, scores
from dooryard.season.hindcast import (
    LONG_TERM,
    OURS,
    PLAIN,
    RATE,
    RULES,
    THRESHOLDS_F,
    Forecasts,
    Hindcast,
    together,
)
from dooryard.season.scores import Marks
from dooryard.season.timing import HeatSum

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "season-score.md"
PICTURES = ROOT / "docs" / "pictures"
KIND = HeatSum("average", 10.0, None, "none", (1, 1))
OTHER_KINDS = (
    ("single sine above 50 °F, from 1 January", HeatSum("single sine", 10.0, None, "none", (1, 1))),
    ("double sine above 50 °F, from 1 January", HeatSum("double sine", 10.0, None, "none", (1, 1))),
    ("average above 43 °F, from 1 March", HeatSum("average", (43 - 32) / 1.8, None, "none", (3, 1))),
)
DRAWS = 400
SEED = 7

TEXT = """\
# How often the season's dates were right

Made by `python -m tools.season_score_report`; run it again after any change to how dates are forecast. For a record of
your own: `dooryard season score RECORD`.

Every ten days from 1 February, in every past year of a record, the date of each heat sum was forecast from what was
known that morning: the days before, and the thirty years before. Nothing of the day itself, nothing later, and no
weather forecast went in; a test changes all later days and finds the same forecasts. The code is the one that makes a
yard's plan. Sums of 100, 200, 300, 500, 700, 1000, 1400 and 2000 °F·d above 50 °F were asked for, by the plain mean,
from 1 January. The range says that it holds the day 80 times in 100.

{split}

## The answer

{answer}

![Ranges that held the day, and the loss of each rule, all stations](pictures/season-score-all.svg)

{leads}

Groups go by the lead the forecast itself expected. *Came before* and *after*: the day came before the range began, or
after it ended. A day not come by 31 December counts as the day after, for every rule alike.

## Against plain rules

How much smaller the pinball loss is (mean over the earliest, likely and latest day; it counts being off and being wide
together). Every rule gives its range by the same ranks and from the same years; in brackets how often that one holds.

{rivals}

- **Long-term dates**: the dates of those years, whatever this year is like; never before the day asked.
- **14-day rate**: the last fortnight's heat a day carried on, with the range of this rule's own errors on that calendar
  day in those years. In late winter the rate is near nothing, which is why it does so badly.
- **Past years as they were**: this year's sum so far, carried on by each past year's own days, not moved.

## Station by station

{stations}

{pictures}

## How past years are moved

A past year's days are made warmer or cooler before they stand for what may come, in three steps; each year by its own
difference, so that years also draw together:

1. **Warming.** The straight line through the years' own warmth (the twelve months before the calendar day) says how
   much warmer a year has become; a share of {trend_share} of it is carried over the years between, and less if fewer
   than thirty years are known.
2. **The last twelve months.** Of what they differ from the same months of the past year, beyond the warming, a share
   of {year_share} stays for the rest of the year.
3. **The last {recent} days.** Of what they differ beyond that, a share of {recent_share} is there on the first day
   ahead; it fades to 37 of 100 in {fades} days. With a forecast, its days are the last days.

The numbers are facts of the tables (`season.ahead.…`), found by least loss on the tuning years; neighbouring values do
nearly as well. What each step is worth (less loss than past years as they were, the same scored forecasts):

{ablation}

The range takes ranks 0.1 and 0.9 of one more draw beside the thirty (Hyndman and Fan's sixth definition) and the whole
days inside them. No other widening was needed.

## Where it was tuned

{tuned_table}

## Other sums

{kinds}

## What is weak

- Close to the day a range of whole days cannot be shorter than one, so it holds more than it says: {near} of those
  less than five days ahead.
{uneven}
- Which steps and spans to try was settled after a look at all stations; only their numbers were found on the tuning
  years alone. So the scores are a little kinder than those of a place never looked at.
- Years are not independent: one warm spring moves all its forecasts. The shares of single years swing widely.
- No weather forecast is in these scores, because no archive of real ones is at hand. With one, dates a week ahead
  should be better than shown; how much is not known.
- Places in the desert and in the tropics are missing, and everything south of the equator.

## Records

{records}

All are public records: of the United States' weather service and its archive, and of Japan's agency through that
archive. Bangor and Donaldsonville have daily means only, so each day's lowest and highest are taken as that mean; the
plain mean needs no more, the other methods lose the days that cross the base. Gainesville lacks 1970 to 1983.

Left out of all figures above, for what their files hold:

{left_out}
"""


@dataclass(frozen=True)
class Place:
    """One record with its forecasts: those for scoring, and those of the years it was tuned on."""

    file: Path
    name: str
    climate: str
    tuned_until: int | None
    left_out: str
    first: int
    last: int
    scored: Forecasts
    tuned: Forecasts | None


def main(words: list[str]) -> int:
    """Score every record of the list and write the page."""
    if len(words) != 1:
        print(__doc__)
        return 2
    everything = read(Path(words[0]), KIND)
    places = counting(everything)
    for place in places:
        told = _told(place.name, place.scored)
        (PICTURES / f"season-score-{_stem(place.name)}.svg").write_text(
            svg(score_report.chart(told)), "utf-8"
        )
    whole = together([place.scored for place in places])
    (PICTURES / "season-score-all.svg").write_text(svg(score_report.chart(_told("all", whole))), "utf-8")
    PAGE.write_text(
        page(places, whole, Path(words[0]), [place for place in everything if place.left_out]),
        encoding="utf-8",
    )
    print(f"Wrote {PAGE.relative_to(ROOT)} and {len(places) + 1} pictures.")
    return 0


def read(listed: Path, kind: HeatSum, **changes: float) -> list[Place]:
    """Every record's forecasts. changes : shares of the leaning to be other than the tables say."""
    tables, found = knowledge.load(), []
    for row in csv.DictReader(listed.read_text("utf-8").splitlines()):
        record = weather.read(listed.parent / row["file"])
        back = Hindcast(record, kind, [threshold / 1.8 for threshold in THRESHOLDS_F], tables)
        back.leaning = replace(back.leaning, **changes)  # type: ignore[arg-type]
        made = back.run()
        until = int(row["tuned_until"]) if row["tuned_until"] else None
        later = made.year > (until or 0)
        found.append(
            Place(
                file=Path(row["file"]),
                name=row["name"],
                climate=row["climate"],
                tuned_until=until,
                left_out=row["left_out"],
                first=record.first.year,
                last=record.last.year,
                scored=_part(made, later),
                tuned=None if until is None else _part(made, ~later),
            )
        )
    return found


def counting(places: Sequence[Place]) -> list[Place]:
    """The places that are not left out."""
    return [place for place in places if not place.left_out]


def page(places: Sequence[Place], whole: Forecasts, listed: Path, out: Sequence[Place]) -> str:
    """The page's text."""
    tables = knowledge.load()
    tuned = [place for place in places if place.tuned_until is not None]
    near = scores.score(whole, OURS, scores.ahead(whole, (0, 5)))
    gains = {
        place.name: scores.gain(place.scored, PLAIN, scores.dated(place.scored)) or 0.0 for place in places
    }
    least, most = (choose(gains, key=lambda name: gains[name]) for choose in (min, max))
    return TEXT.format(
        split=_fold(
            f"**Tuned on**: {'; '.join(f'{place.name}, up to {place.tuned_until}' for place in tuned)}. **Scored on**: "
            f"{'; '.join(place.name for place in places if place.tuned_until is None)}, all years; and the later years "
            "of "
            "the stations tuned on. Nothing below, unless it says so, was used for tuning."
        ),
        answer=_fold(
            f"{score_report.answer(_told('all', whole))} Drawing whole years of stations again and again, "
            f"{_spread(whole)}."
        ),
        left_out=_table(
            ("station", "years forecast", *_HEAD),
            [[f"{place.name}: {place.left_out}", _years(place.scored), *_one(place.scored)] for place in out],
        ),
        leads=_leads_table(whole),
        rivals=_rivals_table(whole),
        stations=_stations_table(places),
        pictures="\n\n".join(
            f"![{place.name}: {place.climate}](pictures/season-score-{_stem(place.name)}.svg)"
            for place in places
        ),
        ablation=_ablation(listed),
        tuned_table=_tuned_table(places),
        kinds=_kinds_table(listed),
        near="" if near is None else f"{100 * near.held:.0f} %",
        uneven=_item(
            f"The gain over past years as they were is uneven: {_share(gains[least])} at {least}, "
            f"{_share(gains[most])} at {most}. Most of it is warming, and a place that does not warm gains little; "
            "over all it is known no better than the draws above say."
        ),
        records=_table(
            ("record", "years", "climate"),
            [[place.name, f"{place.first} to {place.last}", place.climate] for place in places],
        ),
        **{
            name: f"{tables.fact(f'season.ahead.{name}').value:g}"
            for name in ("trend_share", "year_share", "recent_share", "recent", "fades")
        },
    )


def _part(found: Forecasts, rows: Marks) -> Forecasts:
    plain = {field.name: getattr(found, field.name)[rows] for field in fields(found) if field.name != "days"}
    return Forecasts(**plain, days={rule: days[rows] for rule, days in found.days.items()})


def _told(name: str, found: Forecasts) -> score_report.Report:
    return score_report.report(found, stations=[{"name": name}], heat="", thresholds=[], every_d=10)


def _table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    marks = ["---", *["---:"] * (len(head) - 1)]
    return "\n".join("| " + " | ".join(row) + " |" for row in (head, marks, *rows))


def _share(value: float | None) -> str:
    return "" if value is None else f"{100 * value:.1f} %"


def _fold(said: str) -> str:
    return textwrap.fill(said, 118, break_on_hyphens=False)


def _item(said: str) -> str:
    return textwrap.fill(said, 118, initial_indent="- ", subsequent_indent="  ", break_on_hyphens=False)


def _years(found: Forecasts) -> str:
    return f"{found.year.min()} to {found.year.max()}"


def _stem(name: str) -> str:
    return name.split(",")[0].lower().replace(" ", "-")


def _leads_table(found: Forecasts) -> str:
    rows = []
    told = _told("", found)
    for group in [*told["leads"], told["all"]]:
        one = group["rules"][OURS]
        if one is not None:
            rows.append(
                [
                    group["name"], f"{one['count']:,}", _share(one["held"]), _share(one["too_late"]),
                    _share(one["too_early"]), f"{one['width_d']:.0f}", f"{one['error_d']:+.1f}", f"{one['off_d']:.1f}",
                    f"{one['loss_d']:.2f}",
                ]
            )  # fmt: skip
    head = (
        "days ahead", "ranges", "held", "came before", "came after", "usual width, days", "mean error, days",
        "mean size of error", "loss, days",
    )  # fmt: skip
    return _table(head, rows)


def _rivals_table(found: Forecasts) -> str:
    groups = [
        (f"about {days} ({lead[0]} to {lead[1] - 1})", scores.ahead(found, lead))
        for days, lead in scores.ABOUT.items()
    ]
    groups.append(("all under 100", scores.ahead(found, (0, 100))))
    groups.append(("all", scores.dated(found)))
    rows = []
    for name, marks in groups:
        row = [name]
        for rival in (LONG_TERM, RATE, PLAIN):
            theirs = scores.score(found, rival, marks)
            held = "" if theirs is None else f" (it holds {100 * theirs.held:.0f} %)"
            row.append(_share(scores.gain(found, rival, marks)) + held)
        rows.append(row)
    return _table(("days ahead", *(f"less than {rival}" for rival in (LONG_TERM, RATE, PLAIN))), rows)


def _one(found: Forecasts) -> list[str]:
    one = scores.score(found, OURS, scores.dated(found))
    if one is None:
        return [""] * 7
    ahead_20 = scores.score(found, OURS, scores.ahead(found, scores.ABOUT[20]))
    gains = [_share(scores.gain(found, rival, scores.dated(found))) for rival in (LONG_TERM, RATE, PLAIN)]
    width = "" if ahead_20 is None else f"{ahead_20.width_d:.0f}"
    return [f"{one.count:,}", _share(one.held), width, f"{one.error_d:+.1f}", *gains]


_HEAD = (
    "ranges",
    "held",
    "width at 20 days",
    "mean error, days",
    *(f"less than {rival}" for rival in RULES[1:]),
)


def _stations_table(places: Sequence[Place]) -> str:
    rows = [
        [
            f"{place.name} ({place.climate})",
            _years(place.scored),
            *_one(place.scored),
        ]
        for place in places
    ]
    return _table(("station", "years forecast", *_HEAD), rows)


def _tuned_table(places: Sequence[Place]) -> str:
    rows = [
        [place.name, _years(place.tuned), *_one(place.tuned)] for place in places if place.tuned is not None
    ]
    whole = together([place.tuned for place in places if place.tuned is not None])
    return _table(("station", "years", *_HEAD), [*rows, ["together", "", *_one(whole)]])


def _kinds_table(listed: Path) -> str:
    rows = [
        [name, *_one(together([place.scored for place in counting(read(listed, kind))]))]
        for name, kind in OTHER_KINDS
    ]
    return _table(("sum", *_HEAD), rows)


def _ablation(listed: Path) -> str:
    nothing = {"trend_share": 0.0, "year_share": 0.0, "recent_share": 0.0}
    rows = []
    for name, kept in (
        ("warming alone", ("trend_share",)),
        ("the last twelve months alone", ("year_share",)),
        ("the last days alone", ("recent_share",)),
        ("warming and the last twelve months", ("trend_share", "year_share")),
        ("all three", tuple(nothing)),
    ):
        changes = {part: 0.0 for part in nothing if part not in kept}
        found = together([place.scored for place in counting(read(listed, KIND, **changes))])
        rows.append([name, _share(scores.gain(found, PLAIN, scores.dated(found)))])
    return _table(("step", "less loss"), rows)


def _spread(found: Forecasts) -> str:
    """Half the width of what nine of ten draws of whole station-years give, for share held and gain."""
    rows = scores.dated(found)
    said, came = found.days[OURS][rows], found.came[rows]
    held = (came >= said[:, 0]) & (came <= said[:, 2])
    ours = scores.pinball(said, came).mean(axis=1)
    theirs = scores.pinball(found.days[PLAIN][rows], came).mean(axis=1)
    # A station-year begins where the year changes: the parts lie one behind another.
    block = np.cumsum(np.diff(found.year[rows], prepend=0) != 0) - 1
    count = int(block.max()) + 1
    sums = np.array(
        [np.bincount(block, weights, count) for weights in (np.ones(len(block)), held, ours, theirs)]
    )
    drawn = np.random.default_rng(SEED).integers(0, count, (DRAWS, count))
    total = sums[:, drawn].sum(axis=2)
    shares, gains = total[1] / total[0], 1 - total[2] / total[3]
    half = [(np.quantile(values, 0.95) - np.quantile(values, 0.05)) / 2 for values in (shares, gains)]
    return (
        f"the share held stays within {100 * half[0]:.1f} points nine times in ten, and the gain on past years "
        f"as they were within {100 * half[1]:.1f} ({count} station-years)"
    )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
