"""A rain notebook as people keep it: a date, what stood in the gauge, now and then a word.

    # units: in
    # read at: 7 am
    2031
    May 3   0.40
    May 4   T
    Mon May 5   1 1/4 since Saturday

A gauge keeps its water until it is emptied, so a reading after unread days is a total over them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from typing import Literal

import numpy as np

from dooryard.problem import InputError
from dooryard.weather.gauge import GaugeRecord, in_order
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.notebook_dates import Reading, dated
from dooryard.weather.readers.notebook_lines import NO_DATE, Entry, Heading, hour_of, parse_line
from dooryard.weather.readers.plain import station_of
from dooryard.weather.record import Flag, Issue, Source

LAYOUT = "rain notebook"

_LOOKED_AT = 40
_A_DAY = timedelta(days=1)
_WRITE_UNIT = "Put a first line # units: in (or mm) into the file, or write the unit behind the depth."
_Unwritten = Literal["unsaid", "dry", "missing"]


@dataclass(frozen=True, slots=True)
class _Rules:
    """What the notebook says of itself, or what was taken instead; see the facts `weather.gauge.*`.

    unit : of depths without one, "" if not said. read_h : usual hour of reading. unwritten : what days without
    a line are.
    """

    unit: str
    read_h: float
    unwritten: _Unwritten
    snap: timedelta
    longest_total: timedelta
    longest_dry: timedelta


@dataclass(frozen=True, slots=True)
class _Interval:
    """What stood in the gauge between two times; depth_mm is NaN where it does not say."""

    start: datetime
    end: datetime
    depth_mm: float
    flag: Flag


def looks_like(opened: Opened) -> bool:
    """True if at least half of the lines that hold a digit begin with a date, and one is whole or a heading."""
    lines = [line for line in opened.head() if line.strip() and not line.startswith("#")][:_LOOKED_AT]
    if lines and lines[0][0] in ",;\t":
        return False  # the header of a table whose first column has no name
    under_month = False
    headed = entries = begun = held = 0
    for line in lines:
        parsed = parse_line(line, under_month=under_month)
        if isinstance(parsed, Heading):
            headed, under_month = headed + 1, under_month or parsed.month is not None
        held += isinstance(parsed, Entry | str)
        entries += isinstance(parsed, Entry)
        begun += isinstance(parsed, Entry) or (isinstance(parsed, str) and parsed != NO_DATE)
    return headed + entries > 0 and begun > 0 and begun >= held / 2


def read(opened: Opened) -> GaugeRecord:
    """The notebook's readings as intervals. InputError listing every line that cannot be understood."""
    faults = Faults(opened.name)
    comments = _comments(opened)
    rules = _rules(comments, faults)
    readings, issues = dated(opened, comments.get("dates", ""), comments.get("year", ""), faults)
    if not readings and not faults.problems:
        faults.add("There is no reading in this notebook.", "Write lines such as May 3 0.40 below the year.")
    station = station_of(comments, opened.name, faults)
    faults.raise_any()
    if "read at" not in comments:
        rules, told = _usual_hour(rules, readings)
        issues += told
    intervals, told = _intervals(readings, rules, faults)
    faults.raise_any()
    if not intervals:
        faults.add("No reading in this notebook has a depth.", "Write one, such as May 3 0.40.")
        faults.raise_any()
    start = np.array([interval.start for interval in intervals], dtype="datetime64[m]")
    end = np.array([interval.end for interval in intervals], dtype="datetime64[m]")
    return in_order(
        station,
        start,
        (end - start).astype(np.int64),
        np.array([interval.depth_mm for interval in intervals]),
        np.array([interval.flag for interval in intervals], dtype=np.uint8),
        (*issues, *told, _day_of(rules.read_h)),
        Source(opened.name, LAYOUT, opened.sha256),
        day_begins_h=rules.read_h,
    )


def _comments(opened: Opened) -> dict[str, str]:
    comments: dict[str, str] = {}
    for line in opened.lines:
        if line.startswith("#"):
            key, _, value = line.lstrip("# ").partition(":")
            comments[key.strip().lower()] = value.strip()
    if "gauge" in comments:
        comments.setdefault("station", comments["gauge"])
    return comments


def _rules(comments: dict[str, str], faults: Faults) -> _Rules:
    from dooryard import knowledge

    fact = knowledge.load().fact
    unit = comments.get("units", "")
    if unit and unit.rstrip(".").lower() not in ("in", "inch", "inches", "mm", "cm"):
        faults.add("This unit is not known here.", "Write in or mm.", name="units", found=unit)
    unwritten: _Unwritten = "unsaid"
    match comments.get("days not written", "").lower():
        case "dry":
            unwritten = "dry"
        case "missing":
            unwritten = "missing"
        case "":
            pass
        case other:
            faults.add(
                "This is not understood.", "Write dry or missing.", name="days not written", found=other
            )
    read_h = fact("weather.gauge.usual_reading_h").value
    if "read at" in comments:
        said = hour_of(comments["read at"])
        if said is None:
            what, instead = "This is no time of day.", "Write one such as 7 am or 18:30."
            faults.add(what, instead, name="read at", found=comments["read at"])
        else:
            read_h = said
    return _Rules(
        unit,
        read_h,
        unwritten,
        snap=timedelta(hours=fact("weather.gauge.snap_h").value),
        longest_total=timedelta(days=fact("weather.gauge.longest_total_d").value),
        longest_dry=timedelta(days=fact("weather.gauge.longest_dry_d").value),
    )


def _usual_hour(rules: _Rules, readings: Sequence[Reading]) -> tuple[_Rules, tuple[Issue, ...]]:
    """The usual hour of reading where no line of the file says it: the commonest of the readings' own."""
    hours = Counter(round(reading.entry.hour) for reading in readings if reading.entry.hour is not None)
    if hours:
        usual = float(hours.most_common(1)[0][0] % 24)
        how = "it is the commonest hour of the readings"
    else:
        usual, how = rules.read_h, "volunteers read their gauges then"
    text = f"The notebook does not say when the gauge is usually read. {_hour_words(usual)} was taken: {how}."
    instead = "Put a first line such as # read at: 7 am into the file."
    return replace(rules, read_h=usual), (Issue("reading time", text, instead=instead),)


def _day_of(read_h: float) -> Issue:
    whose = "the day before" if read_h < 12 else "the same day"
    return Issue(
        "day boundary", f"The gauge is read at {_hour_words(read_h)}: each reading counts for {whose}."
    )


def _intervals(
    readings: Sequence[Reading], rules: _Rules, faults: Faults
) -> tuple[list[_Interval], tuple[Issue, ...]]:
    depths = _Depths(rules.unit, faults)
    found: list[_Interval] = []
    emptied: datetime | None = None
    unread = False
    shared: list[Reading] = []
    doubted: list[Reading] = []
    last_line = 0
    for reading in readings:
        end = _moment(reading, rules)
        if emptied is not None and end <= emptied:
            what = f"This reading is not later than the one in line {last_line}."
            faults.add(
                what, "Write the hour of each, or keep one.", line=reading.line, found=str(reading.day)
            )
            continue
        depth_mm, flag = depths.of(reading)
        if flag == Flag.MISSING:
            # Nobody emptied the gauge, so what is in it goes on to the next reading.
            unread = True
            continue
        said = _said_start(reading, end, emptied, rules)
        if said is not None and emptied is not None and said < emptied - rules.snap:
            what = f"This span reaches back before the reading in line {last_line}."
            faults.add(what, "Mend the span or the date.", line=reading.line, found=f"since {said:%Y-%m-%d}")
            continue
        start = _start(end, emptied, rules, unread) if said is None else max(said, emptied or said)
        if rules.unwritten == "dry" and not unread and emptied is not None and start > emptied:
            found.append(_Interval(emptied, start, 0.0, Flag.ESTIMATED))
        long = end - start > _A_DAY + rules.snap
        if flag == Flag.SUSPECT:
            doubted.append(reading)
        elif long and depth_mm == 0 and end - start > rules.longest_dry:
            depth_mm, flag = float("nan"), Flag.MISSING
        elif long and depth_mm > 0:
            flag = Flag.ACCUMULATED
            shared += [reading] if said is None else []
        found.append(_Interval(start, end, depth_mm, flag))
        emptied, unread, last_line = end, False, reading.line
    return found, _told(shared, doubted)


class _Depths:
    """Depths as typed, in mm; each different text is understood once."""

    def __init__(self, unit: str, faults: Faults) -> None:
        self._unit = unit
        self._faults = faults
        self._known: dict[str, float] = {}

    def of(self, reading: Reading) -> tuple[float, Flag]:
        """Depth [mm] and flag of one reading; faults are told."""
        entry = reading.entry
        if entry.word == "missing":
            return float("nan"), Flag.MISSING
        if entry.word:
            return 0.0, Flag.TRACE if entry.word == "trace" else Flag.OBSERVED
        unit = entry.unit.replace("''", '"') or self._unit
        if not unit:
            what = "The depth has no unit."
            self._faults.add(what, _WRITE_UNIT, line=reading.line, found=entry.amount)
            return 0.0, Flag.OBSERVED
        text = f"{entry.amount} {unit}"
        if text not in self._known:
            self._known[text] = self._parsed(text, reading.line)
        if entry.doubt:
            return float("nan"), Flag.SUSPECT
        return self._known[text], Flag.OBSERVED

    def _parsed(self, text: str, line: int) -> float:
        from dooryard import units

        try:
            return units.parse(text, "depth")
        except InputError as error:
            problem = error.problems[0]
            self._faults.add(problem.what, problem.instead, line=line, found=text)
            return 0.0


def _moment(reading: Reading, rules: _Rules) -> datetime:
    """When the gauge was read; a time close to the usual one is taken for it, so that days of rain are whole."""
    usual = _at(datetime.combine(reading.day, time()), rules.read_h)
    if reading.entry.hour is None:
        return usual
    moment = _at(datetime.combine(reading.day, time()), reading.entry.hour)
    near = min((usual - _A_DAY, usual, usual + _A_DAY), key=lambda usual: abs(usual - moment))
    return near if abs(near - moment) <= rules.snap else moment


def _said_start(reading: Reading, end: datetime, emptied: datetime | None, rules: _Rules) -> datetime | None:
    """Where the line itself says that its span begins; None if it does not."""
    entry = reading.entry
    if reading.since is not None:
        return _at(datetime.combine(reading.since, time()), rules.read_h)
    if entry.days is not None:
        return end - entry.days * _A_DAY
    return emptied if entry.from_last else None


def _start(end: datetime, emptied: datetime | None, rules: _Rules, unread: bool) -> datetime:
    """Where the span of a reading begins that says nothing of it."""
    a_day = end - _A_DAY
    if emptied is None or emptied >= a_day - rules.snap:
        return a_day if emptied is None else emptied
    if end - emptied > rules.longest_total:
        return a_day
    return a_day if rules.unwritten != "unsaid" and not unread else emptied


def _at(day: datetime, hour: float) -> datetime:
    return day + timedelta(minutes=round(hour * 60))


def _told(shared: Sequence[Reading], doubted: Sequence[Reading]) -> tuple[Issue, ...]:
    issues: tuple[Issue, ...] = ()
    if shared:
        count = len(shared)
        which = "1 reading follows days" if count == 1 else f"{count:,} readings follow days"
        text = f"{which} without one, so it is a total over them."
        instead = "If you write wet days only, put a first line # days not written: dry into the file."
        issues += (Issue("accumulated", text, shared[0].day, shared[-1].day, count, instead),)
    for why in sorted({reading.entry.doubt for reading in doubted}):
        these = [reading for reading in doubted if reading.entry.doubt == why]
        which = "1 reading was" if len(these) == 1 else f"{len(these):,} readings were"
        text = f"{which} left out: {why}."
        issues += (Issue("suspect", text, these[0].day, these[-1].day, len(these), "Their rain is missing."),)
    return issues


def _hour_words(hour: float) -> str:
    whole, minutes = divmod(round(hour * 60), 60)
    clock = f"{(whole - 1) % 12 + 1}" + (f":{minutes:02d}" if minutes else "")
    return f"{clock} {'am' if whole < 12 else 'pm'}"
