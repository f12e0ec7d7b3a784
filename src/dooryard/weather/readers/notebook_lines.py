"""One line of a rain notebook: "Mon May 5  1 1/4 since Friday (tree down)" as date, depth and span in parts.

Nothing here knows of other lines, of years not written, or of units: `notebook.py` puts the lines together.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from dooryard.words import MONTHS, WEEKDAYS

NO_DATE = "This line does not begin with a date."
"""The fault of a line that may belong to something else than a notebook."""

_MONTH = "|".join(f"{name[:3]}(?:{name[3:]}|{name[3:4]})?\\.?" for name in MONTHS)
_WEEKDAY = "|".join(f"{name[:3]}(?:{name[3:]}|{name[3:4]}|{name[3:5]})?\\.?" for name in WEEKDAYS)
_ORDINAL = "(?:st|nd|rd|th)?"
# A date as people write it; of the two-number form the order is not known yet.
_DATES = (
    r"(?P<iy>\d{4})[-/.](?P<im>\d{1,2})[-/.](?P<id>\d{1,2})",
    rf"(?P<nm>{_MONTH})\s*(?P<nd>\d{{1,2}}){_ORDINAL}(?:,?\s+(?P<ny>\d{{4}}))?",
    rf"(?P<dd>\d{{1,2}}){_ORDINAL}\.?\s+(?P<dm>{_MONTH})(?:,?\s+(?P<dy>\d{{4}}))?",
    r"(?P<a>\d{1,2})(?:/(?P<b>\d{1,2})(?:/(?P<y>\d{4}|\d{2}))?|\.(?P<pb>\d{1,2})\.(?P<py>\d{4})?)",
)
_END = r"(?![\w/.]*\w)"
_DATE = re.compile(rf"(?:(?P<weekday>{_WEEKDAY})[,:]?\s+)?(?:{'|'.join(_DATES)}){_END}", re.IGNORECASE)
_WEEKDAY_ONLY = re.compile(rf"(?P<weekday>{_WEEKDAY}){_END}", re.IGNORECASE)
_HEADING = re.compile(rf"(?:(?P<month>{_MONTH})\s+)?(?P<year>\d{{4}}):?", re.IGNORECASE)
_DAY_ONLY = re.compile(rf"(?P<day>\d{{1,2}}){_ORDINAL}[.:)]?(?=[\s,;])", re.IGNORECASE)
_TIME = re.compile(
    r"(?:at\s+)?(?:(?P<h>\d{1,2})(?::(?P<m>\d\d))?\s*(?P<half>[ap])\.?m\.?|(?P<h24>\d{1,2}):(?P<m24>\d\d)|(?P<noon>noon))"
    + _END,
    re.IGNORECASE,
)
_SEPARATOR = re.compile(r"\s*(?:[,:;|=]|[-\u2013\u2014](?=\s))?\s*")
_FRACTION = "[\u00bc-\u00be\u2150-\u215e]"
_NUMBER = rf"(?:\d+[ -]\d+/\d+|\d+/\d+|\d*\.\d+|\d+\.?\d*\s?{_FRACTION}?|{_FRACTION})"
_UNIT = r"(?:inches|inch|in\b\.?|\"|\u2033|''|mm\b|millimet(?:er|re)s?|cm\b)"
_CLEAR = r"(?=$|[\s;(]|,(?!\d))"  # 0,4 is no 0
_AMOUNT = re.compile(
    rf"(?P<more>>|over\s|at least\s|more than\s)?\s*(?P<number>{_NUMBER})\s*(?P<plus>\+)?\s*(?P<unit>{_UNIT})?"
    rf"{_CLEAR}",
    re.IGNORECASE,
)
_WORDS = re.compile(
    r"(?P<trace>trace|tr|t)|(?P<dry>none|nothing|nil|dry|no rain|zero)|"
    r"(?P<missing>--?|\?|missing|missed|no reading|not read|m|away)",
    re.IGNORECASE,
)
# Only right behind the depth: "first rain since May 3" is a remark.
_SINCE = re.compile(
    rf"[\s,;(]*(?:all\s+|total\s+|in\s+all\s+)?since\s+(?:(?P<last>(?:the\s+)?last(?:\s+(?:reading|time))?)|{_DATE.pattern}|(?P<on>{_WEEKDAY}){_END})",
    re.IGNORECASE,
)
_FOR_DAYS = re.compile(
    r"[\s,;(]*(?:(?:total\s+)?(?:in|over|for|of)\s+)?(?:the\s+last\s+)?(?P<days>\d{1,2})[\s-]days?\b(?!\s+ago)",
    re.IGNORECASE,
)
_GAUGE_FAILED = re.compile(
    r"\boverflow|\bran over|\bgauge\b.*\b(?:spill|spilt|knock|tip|fell|broke|crack|froze|leak|blown|blew)|"
    r"\b(?:spill|spilt|knock|broken?|crack|frozen?|leak)\w*\b.*\bgauge\b",
    re.IGNORECASE,
)
_SNOW = re.compile(r"\b(?:snow|sleet)", re.IGNORECASE)
_MELTED = re.compile(r"\bmelt", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class WrittenDate:
    """A date as written: parts that are absent are None; `pair` is two numbers whose order is not known."""

    year: int | None = None
    month: int | None = None
    day: int | None = None
    pair: tuple[int, int] | None = None
    weekday: int | None = None
    two_digit_year: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """A reading as written.

    date : when. hour : time of day [h], None if not written. amount : the number as text, "" for a word.
    unit : as written, "" if none. word : trace, dry, missing or "". since : date the span begins, None if not
    written; from_last : said to reach back to the last reading. days : length of the span, None if not written.
    doubt : why the depth is not the rain, "" if it is.
    """

    date: WrittenDate
    hour: float | None
    amount: str
    unit: str
    word: str
    since: WrittenDate | None
    from_last: bool
    days: int | None
    doubt: str


@dataclass(frozen=True, slots=True)
class Heading:
    """A line that holds nothing but a year, or a month and its year."""

    year: int
    month: int | None


def parse_line(line: str, *, under_month: bool = False) -> Entry | Heading | str | None:
    """What a line says: a reading, a heading, None for a line without any digit (a remark), or a fault.

    under_month : a month heading is in force, so a line may begin with the number of its day. A fault is a
    plain sentence.
    """
    text = line.strip()
    if heading := _HEADING.fullmatch(text):
        month = heading["month"]
        return Heading(int(heading["year"]), None if month is None else _month(month))
    match = _DATE.match(text)
    written = None if match is None else _written(match)
    if match is None and (match := _WEEKDAY_ONLY.match(text)):
        written = WrittenDate(weekday=_weekday(match["weekday"]))
    if match is None and under_month and (match := _DAY_ONLY.match(text)):
        written = WrittenDate(day=int(match["day"]))
    if match is None or written is None:
        return NO_DATE if re.search(r"\d", text) else None
    return _entry(written, text[match.end() :])


def hour_of(text: str) -> float | None:
    """A time of day as people write it, such as "7 am", "18:30" or "noon" [h]; None if it is none."""
    match = _TIME.fullmatch(text.strip())
    return None if match is None else _hour(match)


def _entry(written: WrittenDate, rest: str) -> Entry | str:
    rest = rest[_end(_SEPARATOR, rest) :]
    hour = None
    if time := _TIME.match(rest):
        hour = _hour(time)
        if hour is None:
            return "There is no such time of day."
        rest = rest[time.end() :]
        rest = rest[_end(_SEPARATOR, rest) :]
    amount, unit, word, more = "", "", "", False
    if match := _AMOUNT.match(rest):
        amount, unit = match["number"].strip(), match["unit"] or ""
        more = bool(match["more"] or match["plus"])
        note = rest[match.end() :]
    else:
        match = re.match(rf"(?:{_WORDS.pattern}){_CLEAR}", rest, re.IGNORECASE)
        if match is None and rest.strip():
            return "There is no depth behind the date."
        if match is None and written.pair is not None and written.weekday is not None:
            return "A depth is missing, or the two numbers are a depth and not a date."
        word = "missing" if match is None else str(match.lastgroup)
        note = "" if match is None else rest[match.end() :]
    since = _SINCE.match(note)
    span = _FOR_DAYS.match(note)
    return Entry(
        written,
        hour,
        amount,
        unit,
        word,
        None if since is None or since["last"] else _since(since),
        since is not None and since["last"] is not None,
        None if span is None else int(span["days"]),
        _doubt(note, more),
    )


def _doubt(note: str, more: bool) -> str:
    if more or _GAUGE_FAILED.search(note):
        return "the gauge did not hold all the rain"
    if _SNOW.search(note) and not _MELTED.search(note):
        return "the depth is snow or ice, not water"
    return ""


def _since(match: re.Match[str]) -> WrittenDate:
    return WrittenDate(weekday=_weekday(match["on"])) if match["on"] else _written(match)


def _written(match: re.Match[str]) -> WrittenDate:
    part = match.groupdict()
    weekday = None if part["weekday"] is None else _weekday(part["weekday"])
    if part["iy"]:
        return WrittenDate(int(part["iy"]), int(part["im"]), int(part["id"]), weekday=weekday)
    if part["a"]:
        year = part["y"] or part["py"]
        pair = (int(part["a"]), int(part["b"] or part["pb"]))
        if year is not None and len(year) == 2:
            return WrittenDate(int(year), pair=pair, weekday=weekday, two_digit_year=True)
        return WrittenDate(None if year is None else int(year), pair=pair, weekday=weekday)
    month, day, year = (
        (part["nm"], part["nd"], part["ny"]) if part["nm"] else (part["dm"], part["dd"], part["dy"])
    )
    return WrittenDate(None if year is None else int(year), _month(month), int(day), weekday=weekday)


def _hour(match: re.Match[str]) -> float | None:
    if match["noon"]:
        return 12.0
    if match["h24"]:
        hour, minute = int(match["h24"]), int(match["m24"])
        return hour + minute / 60 if hour < 24 and minute < 60 else None
    hour, minute = int(match["h"]), int(match["m"] or 0)
    if not 1 <= hour <= 12 or minute > 59:
        return None
    return hour % 12 + (12 if match["half"].lower() == "p" else 0) + minute / 60


def _end(pattern: re.Pattern[str], text: str) -> int:
    match = pattern.match(text)
    return match.end() if match else 0


def _month(text: str) -> int:
    return next(at for at, name in enumerate(MONTHS, start=1) if name[:3].lower() == text[:3].lower())


def _weekday(text: str) -> int:
    return next(at for at, name in enumerate(WEEKDAYS) if name[:3].lower() == text[:3].lower())
