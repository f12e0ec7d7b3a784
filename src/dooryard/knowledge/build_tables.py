"""The columns of the tables in `build_rows`, and how a line of each becomes a row."""

from __future__ import annotations

from dooryard.knowledge import build_rows as rows
from dooryard.knowledge.cells import Cells
from dooryard.knowledge.tables import Table, columns


def _part(c: Cells) -> rows.Part:
    c.ordered("cost_low", "cost_low", "cost_high")
    row = rows.Part(
        key=c.filled("key"),
        name=c.filled("name"),
        use=c.filled("use"),
        by=c.word("by", rows.GOES_BY),
        each=c.number("each"),
        unit=c.text("unit"),
        pack=c.number("pack"),
        pack_name=c.filled("pack_name"),
        spare=c.word("spare", ("yes", "no")) == "yes",
        when=c.word("when", rows.WHEN),
        cost_low=c.number("cost_low"),
        cost_high=c.number("cost_high"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )
    for field, value in (("each", row.each), ("pack", row.pack)):
        if value <= 0.0:
            c.fault(field, "This is not above zero.", "Write how much there is, such as 1.")
    return row


def _tool(c: Cells) -> rows.Tool:
    return rows.Tool(
        key=c.filled("key"),
        name=c.filled("name"),
        use=c.filled("use"),
        people=c.whole("people"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _step(c: Cells) -> rows.Step:
    c.ordered("minutes_low", "minutes_low", "minutes_high")
    return rows.Step(
        key=c.filled("key"),
        phase=c.word("phase", rows.PHASES),
        text=c.filled("text"),
        caution=c.text("caution"),
        cautions=c.words("cautions"),
        minutes_low=c.maybe_number("minutes_low"),
        minutes_high=c.maybe_number("minutes_high"),
        when=c.word("when", rows.WHEN),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


PARTS = Table(
    "parts.csv",
    columns(
        "key,name,use,by,each,unit,pack,pack_name,spare,when,cost_low,cost_high,source,place,status,note"
    ),
    _part,
    lambda row: row.key,
)
TOOLS = Table(
    "tools.csv", columns("key,name,use,people,source,place,status,note"), _tool, lambda row: row.key
)
STEPS = Table(
    "steps.csv",
    columns("key,phase,text,caution,cautions,minutes_low,minutes_high,when,source,place,status,note"),
    _step,
    lambda row: row.key,
)
