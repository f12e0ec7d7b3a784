"""How warm the soil is at a station, and whether roots grow in it."""

from __future__ import annotations

from dooryard.plan.work.sheet import Sheet
from dooryard.season.soil_temperature import estimate
from dooryard.weather.record import WeatherRecord


def say(sheet: Sheet, record: WeatherRecord) -> None:
    """A sentence on the soil's warmth today, by the air of the last weeks; nothing where that is not known."""
    known = record.until(sheet.on)
    found = estimate(
        (known.t_min_c + known.t_max_c) / 2,
        days=round(sheet.fact("soil_warmth.days")),
        bridged_most=round(sheet.fact("soil_warmth.bridged")),
    )
    if found.soil_c is None:
        sheet.short.append(f"How warm the soil is we cannot say: {found.refused}.")
        return
    grows = sheet.fact("divide.roots_grow")
    mark = sheet.book.quantity(
        "divide.soil",
        "warmth of the topsoil, by the air of the last weeks",
        found.soil_c,
        "temperature",
        "season.soil_warmth",
        about=True,
    )
    limit = sheet.book.show(grows, "temperature")
    if found.soil_c >= grows:
        sheet.short.append(f"The topsoil is {mark} now: warm enough for roots to grow, which takes {limit}.")
    else:
        sheet.short.append(f"The topsoil is {mark} now: roots hardly grow below {limit}. Wait.")
