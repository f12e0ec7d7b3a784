"""The columns of the tables in `season_rows`, and how a line of each becomes a row."""

from __future__ import annotations

from dooryard.knowledge import season_rows as rows
from dooryard.knowledge.cells import Cells
from dooryard.knowledge.tables import Table, columns


def _bloom(c: Cells) -> rows.Bloom:
    if c.text("start") != "not stated":
        c.month_day("start")
    return rows.Bloom(
        key=c.filled("key"),
        plant=c.filled("plant"),
        event=c.word("event", rows.BLOOM_EVENTS),
        low_cd=c.number("low_cd"),
        base_c=c.number("base_c"),
        start=c.filled("start"),
        method=c.filled("method"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _soil_temperature(c: Cells) -> rows.SoilTemperature:
    c.ordered("minimum_c", "realistic_c", "optimum_c")
    row = rows.SoilTemperature(
        key=c.filled("key"),
        crop=c.filled("crop"),
        name=c.filled("name"),
        minimum_c=c.maybe_number("minimum_c"),
        realistic_c=c.maybe_number("realistic_c"),
        optimum_c=c.maybe_number("optimum_c"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )
    if row.minimum_c is None and row.realistic_c is None and row.optimum_c is None:
        c.fault("realistic_c", "This row gives no temperature.", "Fill at least one of the three.")
    return row


def _germination(c: Cells) -> rows.Germination:
    grows = c.word("grows", ("yes", "no")) == "yes"
    days = c.maybe_number("days")
    if grows == (days is None):
        c.fault("days", "Days and grows do not agree.", "Give the days if it grows, and none if it does not.")
    return rows.Germination(
        crop=c.filled("crop"),
        name=c.filled("name"),
        temperature_c=c.number("temperature_c"),
        days=days,
        grows=grows,
        source=c.source(),
        status=c.status(),
        origin=c.origin,
    )


def _infection(c: Cells) -> rows.Infection:
    c.ordered("t_low_c", "t_low_c", "t_high_c")
    return rows.Infection(
        key=c.filled("key"),
        disease=c.filled("disease"),
        severity=c.word("severity", rows.INFECTION_SEVERITIES),
        t_low_c=c.number("t_low_c"),
        t_high_c=c.number("t_high_c"),
        wet_hours=c.number("wet_hours"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _severity(c: Cells) -> rows.Severity:
    c.ordered("t_low_c", "t_low_c", "t_high_c")
    c.ordered("wet_low_h", "wet_low_h", "wet_high_h")
    return rows.Severity(
        key=c.filled("key"),
        disease=c.filled("disease"),
        t_low_c=c.number("t_low_c"),
        t_high_c=c.number("t_high_c"),
        wet_low_h=c.whole("wet_low_h"),
        wet_high_h=c.whole("wet_high_h") if c.text("wet_high_h") else None,
        value=c.whole("value"),
        source=c.source(),
        status=c.status(),
        origin=c.origin,
    )


def _chill(c: Cells) -> rows.Chill:
    c.ordered("above_c", "above_c", "upto_c")
    return rows.Chill(
        key=c.filled("key"),
        model=c.filled("model"),
        above_c=c.maybe_number("above_c"),
        upto_c=c.maybe_number("upto_c"),
        weight=c.number("weight"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _dated_window(c: Cells) -> rows.DatedWindow:
    return rows.DatedWindow(
        key=c.filled("key"),
        organism=c.filled("organism"),
        name=c.filled("name"),
        opens=c.month_day("opens"),
        closes=c.month_day("closes"),
        place=c.filled("place"),
        latitude=c.maybe_number("latitude"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


BLOOMS = Table(
    "blooms.csv",
    columns("key,plant,event,low_cd,base_c,start,method,source,place,status,note"),
    _bloom,
    lambda row: row.key,
)
SOIL_TEMPERATURES = Table(
    "soil_temperatures.csv",
    columns("key,crop,name,minimum_c,realistic_c,optimum_c,source,place,status,note"),
    _soil_temperature,
    lambda row: row.key,
)
GERMINATION = Table(
    "germination.csv",
    columns("crop,name,temperature_c,days,grows,source,status"),
    _germination,
    lambda row: f"{row.crop} at {row.temperature_c:g}",
)
INFECTION = Table(
    "infection.csv",
    columns("key,disease,severity,t_low_c,t_high_c,wet_hours,source,place,status,note"),
    _infection,
    lambda row: row.key,
)
SEVERITY = Table(
    "severity.csv",
    columns("key,disease,t_low_c,t_high_c,wet_low_h,wet_high_h,value,source,status"),
    _severity,
    lambda row: row.key,
)
CHILL = Table(
    "chill.csv",
    columns("key,model,above_c,upto_c,weight,source,status,note"),
    _chill,
    lambda row: row.key,
)
DATED_WINDOWS = Table(
    "windows_by_date.csv",
    columns("key,organism,name,opens,closes,place,latitude,source,status,note"),
    _dated_window,
    lambda row: row.key,
)
