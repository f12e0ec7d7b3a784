"""The last day of fall to divide or plant: so many weeks before the middle date of the first hard freeze."""

from __future__ import annotations

from datetime import date, timedelta

from dooryard.figure import Input
from dooryard.plan.work.sheet import Sheet
from dooryard.words import day_words


def last_day(sheet: Sheet, hard_freeze: date | None, freeze_from: str) -> tuple[str, date] | None:
    """The mark of the last good day, and the very last one; None after refusing, where no freeze date is known.

    hard_freeze : its middle date in the year of the sheet. freeze_from : where that comes from.
    """
    if hard_freeze is None:
        sheet.refuse(
            "We will not name the last day to divide in fall",
            "The middle date of the first hard freeze is not known here",
            "Give the station's record with --weather, or that date with --hard-freeze",
        )
        return None
    least, most = sheet.fact_range("divide.before_freeze")
    good, last = (hard_freeze - timedelta(days=round(days)) for days in (most, least))
    mark = sheet.book.plain(
        "divide.by",
        "last day of fall to divide",
        good.isoformat(),
        day_words(good),
        "care.divide_by",
        unit="date",
        high=last.isoformat(),
        inputs=(Input("middle date of the first hard freeze", day_words(hard_freeze), freeze_from),),
    )
    return mark, last
