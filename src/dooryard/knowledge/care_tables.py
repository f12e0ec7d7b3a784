"""The columns of the tables in `care_rows`, and how a line of each becomes a row."""

from __future__ import annotations

from datetime import date

from dooryard.knowledge import care_rows as rows
from dooryard.knowledge.cells import Cells
from dooryard.knowledge.tables import Table, columns


def _month_day_or_none(c: Cells, field: str) -> str:
    return c.month_day(field) if c.text(field) else ""


def _pruning(c: Cells) -> rows.Pruning:
    return rows.Pruning(
        key=c.filled("key"),
        name=c.filled("name"),
        scientific=c.text("scientific"),
        kinds=c.words("kinds"),
        wood=c.word("wood", rows.WOODS),
        time=c.word("time", rows.PRUNING_TIMES),
        safe=c.filled("safe"),
        latest=_month_day_or_none(c, "latest"),
        avoid=c.text("avoid"),
        how=c.text("how"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _division(c: Cells) -> rows.Division:
    c.ordered("years_low", "years_low", "years_high")
    return rows.Division(
        key=c.filled("key"),
        name=c.filled("name"),
        kinds=c.words("kinds"),
        season=c.filled("season"),
        years_low=c.maybe_number("years_low"),
        years_high=c.maybe_number("years_high"),
        how=c.text("how"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _oak_window(c: Cells) -> rows.OakWindow:
    return rows.OakWindow(
        key=c.filled("key"),
        place=c.filled("place"),
        opens=_month_day_or_none(c, "opens"),
        closes=c.month_day("closes"),
        if_wounded=c.text("if_wounded"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _spray_limit(c: Cells) -> rows.SprayLimit:
    c.ordered("low", "low", "high")
    row = rows.SprayLimit(
        key=c.filled("key"),
        material=c.filled("material"),
        quantity=c.filled("quantity"),
        low=c.maybe_number("low"),
        high=c.maybe_number("high"),
        unit=c.text("unit"),
        rule=c.filled("rule"),
        plants=c.words("plants"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )
    if not row.unit and (row.low is not None or row.high is not None):
        c.fault("unit", "A number stands here without its unit.", "Write its unit.")
    return row


def _wound_class(c: Cells) -> rows.WoundClass:
    first, last = c.number("share_from"), c.number("share_to")
    if not 0 <= first < last <= 1:
        c.fault(
            "share_to", "These are not two shares in order.", "Write shares from 0 to 1, the smaller first."
        )
    return rows.WoundClass(
        key=c.filled("key"),
        share_from=first,
        share_to=last,
        words=c.filled("words"),
        follows=c.filled("follows"),
        then=c.filled("then"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _restriction(c: Cells) -> rows.Restriction:
    for field in ("since", "good_until"):
        try:
            date.fromisoformat(c.filled(field))
        except ValueError:
            c.fault(field, "This is not a day.", "Write it as 2031-05-20.")
    return rows.Restriction(
        key=c.filled("key"),
        place=c.filled("place"),
        material=c.filled("material"),
        rule=c.filled("rule"),
        since=c.text("since"),
        good_until=c.text("good_until"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _invasive(c: Cells) -> rows.Invasive:
    try:
        date.fromisoformat(c.filled("good_until"))
    except ValueError:
        c.fault("good_until", "This is not a day.", "Write it as 2031-05-20.")
    return rows.Invasive(
        key=c.filled("key"),
        name=c.filled("name"),
        kinds=c.words("kinds"),
        place=c.filled("place"),
        rule=c.filled("rule"),
        good_until=c.text("good_until"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


PRUNING = Table(
    "pruning.csv",
    columns("key,name,scientific,kinds,wood,time,safe,latest,avoid,how,source,place,status,note"),
    _pruning,
    lambda row: row.key,
)
DIVISION = Table(
    "division.csv",
    columns("key,name,kinds,season,years_low,years_high,how,source,status,note"),
    _division,
    lambda row: row.key,
)
OAK_WINDOWS = Table(
    "oak_windows.csv",
    columns("key,place,opens,closes,if_wounded,source,status,note"),
    _oak_window,
    lambda row: row.key,
)
SPRAY_LIMITS = Table(
    "spray_limits.csv",
    columns("key,material,quantity,low,high,unit,rule,plants,source,place,status,note"),
    _spray_limit,
    lambda row: row.key,
)
RESTRICTIONS = Table(
    "restrictions.csv",
    columns("key,place,material,rule,since,good_until,source,status,note"),
    _restriction,
    lambda row: row.key,
)
INVASIVE = Table(
    "invasive.csv",
    columns("key,name,kinds,place,rule,good_until,source,status,note"),
    _invasive,
    lambda row: row.key,
)
WOUNDS = Table(
    "wounds.csv",
    columns("key,share_from,share_to,words,follows,then,source,status,note"),
    _wound_class,
    lambda row: row.key,
)
