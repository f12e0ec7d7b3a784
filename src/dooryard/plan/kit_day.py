"""A workshop's tools and people, the run of its day, and what each household takes home."""

from __future__ import annotations

from dooryard.figure import Input
from dooryard.plan.document import Table
from dooryard.plan.work.sheet import Sheet
from dooryard.water.workshop import clock, drills, helpers


def tools(sheet: Sheet, many: int) -> None:
    """Drills, helpers and tools for so many kits."""
    known = sheet.knowledge
    holes, minutes, each = (
        sheet.fact("kit.holes"),
        sheet.fact("kit.drilling_minutes"),
        sheet.fact_range("kit.hole_minutes"),
    )
    few, most = (drills(many, holes, one, minutes) for one in each)
    drilled = sheet.book.plain(
        "kit.drills",
        "drills of the workshop",
        most,
        f"{few} to {most} drills" if few != most else f"{most} drill" + ("s" if most > 1 else ""),
        "kit.drills",
        exact=f"{few} to {most}",
        inputs=(
            Input("holes", f"{many * holes:.0f}"),
            Input("minutes for a hole", f"{each[0]:g} to {each[1]:g}"),
            Input("minutes of drilling", f"{minutes:g}"),
        ),
    )
    per = sheet.fact("kit.people_per_helper")
    needed = helpers(many, per)
    helped = sheet.book.plain(
        "kit.helpers",
        "helpers of the workshop",
        needed,
        f"{needed} helper" + ("s" if needed > 1 else ""),
        "kit.helpers",
        inputs=(Input("people", f"{many}"), Input("people for each helper", f"{per:g}")),
    )
    rows = []
    for tool in known.tools.values():
        sheet.more_sources.add(tool.source)
        if tool.people > 0:
            rows.append((tool.name, f"{helpers(many, tool.people)}"))
        elif tool.key == "drill":
            rows.append((tool.name, f"{most}, and one to spare"))
        elif tool.key != "tamper":
            rows.append((tool.name, f"{most}, one for each drill, and one to spare"))
    sheet.part(
        "Tools and people",
        f"Bring {drilled} and {helped}. Set one table at sitting height, and have someone drill for those who cannot.",
        table=Table("What to bring", (("Tool", "left"), ("Bring", "left")), tuple(rows)),
    )


def day(sheet: Sheet, many: int) -> None:
    """What to do ahead, the run of the day by the clock, and what to hand out."""
    steps = list(sheet.knowledge.steps.values())
    for step in steps:
        if step.phase in ("ahead", "run", "hand-out"):
            sheet.more_sources.add(step.source)
    ahead = [step for step in steps if step.phase == "ahead"]
    sheet.part(
        "Before the day",
        table=Table(
            "Before the day", (("Do", "left"), ("Done", "left")), tuple((s.text, "____") for s in ahead)
        ),
    )
    run = [step for step in steps if step.phase == "run"]
    spans = [(step.minutes_low or 0.0, step.minutes_high or 0.0) for step in run]
    starts = clock(spans)
    end = (starts[-1][0] + spans[-1][0], starts[-1][1] + spans[-1][1])
    rows = [
        (_minutes(start), step.text, _span(span))
        for step, start, span in zip(run, starts, spans, strict=True)
    ]
    rows.append((_minutes(end), "End.", ""))
    sheet.part(
        "Run of the day",
        f"In all it takes {_minutes(end)}, in hours and minutes.",
        table=Table(
            "By the clock, from the start",
            (("Begins after, h:min", "left"), ("What", "left"), ("Takes", "right")),
            tuple(rows),
        ),
    )
    given = [step for step in steps if step.phase == "hand-out"]
    sheet.part(
        "Hand-outs",
        table=Table(
            f"For each household: {many} of each",
            (("Hand out", "left"), ("Packed", "left")),
            tuple((step.text, "____") for step in given),
        ),
    )


def _minutes(ends: tuple[float, float]) -> str:
    said = [f"{int(end) // 60}:{int(end) % 60:02d}" for end in ends]
    return said[0] if said[0] == said[1] else f"{said[0]} to {said[1]}"


def _span(span: tuple[float, float]) -> str:
    return f"{span[0]:g} min" if span[0] == span[1] else f"{span[0]:g} to {span[1]:g} min"
