"""The columns of the tables in `sign_rows`, and how a line of each becomes a row."""

from __future__ import annotations

import re

from dooryard.knowledge import sign_rows as rows
from dooryard.knowledge.cells import Cells
from dooryard.knowledge.tables import Table, columns


def listed(text: str) -> tuple[str, ...]:
    """The parts of a cell that holds several, set apart by semicolons."""
    return tuple(part.strip() for part in text.split(";") if part.strip())


def _sign(c: Cells) -> rows.Sign:
    return rows.Sign(
        key=c.filled("key"),
        part=c.word("part", rows.PARTS),
        question=c.filled("question"),
        look=c.filled("look"),
        met=c.word("met", rows.COMMON),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _cause(c: Cells) -> rows.Cause:
    shows: dict[str, str] = {}
    for word in rows.SHOWS:
        for sign in listed(c.text(word)):
            if sign in shows:
                c.fault(word, f"The sign {sign} stands here twice.", "Keep it under one word.")
            shows[sign] = word
    return rows.Cause(
        key=c.filled("key"),
        name=c.filled("name"),
        kind=c.word("kind", rows.KINDS),
        how_common=c.word("how_common", rows.COMMON),
        plants=listed(c.filled("plants")),
        months=_months(c),
        organism=c.text("organism"),
        urgent=c.word("urgent", ("yes", "no")) == "yes",
        shows=shows,
        first=c.filled("first"),
        send=c.text("send"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _months(c: Cells) -> tuple[int, int]:
    found = re.fullmatch(r"(\d{1,2})-(\d{1,2})", c.filled("months"))
    months = (int(found[1]), int(found[2])) if found else (0, 0)
    if not all(1 <= month <= 12 for month in months):
        c.fault("months", "These are not two months.", "Write the first and the last as numbers: 5-10.")
    return months


def _plant(c: Cells) -> rows.PlantGroups:
    return rows.PlantGroups(
        plant=c.filled("plant"),
        groups=listed(c.filled("groups")),
        source=c.source(),
        status=c.status(),
        origin=c.origin,
    )


SIGNS = Table(
    "signs.csv", columns("key,part,question,look,met,source,status,note"), _sign, lambda row: row.key
)
CAUSES = Table(
    "causes.csv",
    columns(
        "key,name,kind,how_common,plants,months,organism,urgent,always,usually,often,sometimes,rarely,never,first,send,"
        "source,place,status,note"
    ),
    _cause,
    lambda row: row.key,
)
PLANT_GROUPS = Table("plant_groups.csv", columns("plant,groups,source,status"), _plant, lambda row: row.plant)
