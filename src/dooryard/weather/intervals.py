"""ISO 8601 intervals such as 2031-05-20T21:00:00+00:00/PT6H, and values over them laid on single hours."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

import numpy as np

from dooryard.weather.record import Floats

LONGEST_DAYS = 60
"""A forecast that claims to reach farther has a wrong date in it. A limit of use, not of the trade."""

Hours = np.ndarray[tuple[int, ...], np.dtype[np.datetime64]]

FIRST_YEAR, LAST_YEAR = 1900, 2200

_DURATION = re.compile(
    r"P(?:(?P<weeks>\d+)W)?(?:(?P<days>\d+)D)?"
    r"(?:T(?=\d)(?:(?P<hours>\d+)H)?(?:(?P<minutes>\d+)M)?(?:(?P<seconds>\d+)S)?)?"
)
_HOUR = np.timedelta64(1, "h")


@dataclass(frozen=True, slots=True)
class Interval:
    """A stretch of whole hours in Universal Time: from the start of hour `first`, `hours` of them."""

    first: np.datetime64
    hours: int


def parse_interval(text: str) -> Interval:
    """Start and length of `start/duration`, the start with its offset from Universal Time.

    ValueError with a plain sentence if the text is none, its start has no offset, its length is nothing or in
    months or years (which have no fixed length), or it does not begin and end on whole hours.
    """
    start_text, mark, length_text = text.partition("/")
    if not mark:
        raise ValueError("This is no interval of time.")
    start, length = parse_moment(start_text), parse_duration(length_text)
    seconds = round(length.total_seconds())
    if start.minute or start.second or start.microsecond or seconds % 3600:
        raise ValueError("This interval does not begin and end on whole hours.")
    return Interval(utc_hour(start), seconds // 3600)


def parse_moment(text: str) -> datetime:
    """A moment with its offset from Universal Time. ValueError if it is none or says no offset."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise ValueError("This is no date with a time.") from None
    if moment.tzinfo is None:
        raise ValueError("This time does not say how far it is from Universal Time.")
    if not FIRST_YEAR <= moment.year <= LAST_YEAR:
        raise ValueError("This year cannot be right.")
    return moment


def parse_duration(text: str) -> timedelta:
    """Length of an ISO 8601 duration in weeks, days, hours, minutes and seconds. ValueError if it is none."""
    match = _DURATION.fullmatch(text)
    parts = {} if match is None else {name: int(number or 0) for name, number in match.groupdict().items()}
    try:
        length = timedelta(**parts)
    except OverflowError:
        length = timedelta(0)
    if length <= timedelta(0):
        raise ValueError("This is no length of time in weeks, days, hours and minutes.")
    return length


def utc_hour(moment: datetime) -> np.datetime64:
    """The hour in Universal Time that holds a moment, datetime64[h]."""
    offset = moment.utcoffset() or timedelta(0)
    return np.datetime64(moment.replace(tzinfo=None) - offset, "h")


def spread(
    intervals: Sequence[Interval],
    values: Sequence[float],
    first: np.datetime64,
    hours: int,
    kind: Literal["level", "amount"],
) -> Floats:
    """Values over intervals laid on single hours, shape (hours,) from `first`; NaN where nothing is said.

    kind : a level (temperature, wind) stands in each of its hours; an amount (rain) is parted evenly among
    them, so that the hours sum to what was given. Where intervals overlap, the later one in the list holds.
    ValueError with a plain sentence if an amount is below 0: added to the others it would take rain away.
    """
    laid = np.full(hours, np.nan)
    for interval, value in zip(intervals, values, strict=True):
        if kind == "amount" and value < 0:
            raise ValueError(f"An amount of rain is below 0: {value:g}.")
        start = int((interval.first - first) / _HOUR)
        each = value / interval.hours if kind == "amount" else value
        laid[max(start, 0) : max(start + interval.hours, 0)] = each
    return laid


def span(groups: Sequence[Sequence[Interval]]) -> tuple[np.datetime64, int]:
    """First hour of all intervals and how many hours lie from it to the end of the last.

    ValueError with a plain sentence if there is none, or if they lie too far apart for one forecast.
    """
    every = [interval for group in groups for interval in group]
    if not every:
        raise ValueError("There is not one time in it.")
    first = min(interval.first for interval in every)
    end = max(interval.first + np.timedelta64(interval.hours, "h") for interval in every)
    hours = int((end - first) / _HOUR)
    if hours > LONGEST_DAYS * 24:
        raise ValueError(f"Its times lie {hours // 24:,} days apart, so one of them is wrong.")
    return first, hours
