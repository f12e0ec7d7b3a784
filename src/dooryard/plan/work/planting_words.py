"""What is said where plants are set out: the county's list of what runs wild, and the weeks of watering in."""

from __future__ import annotations

from datetime import date, timedelta

from dooryard.care import planting
from dooryard.knowledge.county import own_words
from dooryard.plan.document import Table
from dooryard.plan.task import Task
from dooryard.plan.work.sheet import Sheet
from dooryard.words import day_words, range_words

_OFTEN = {1: "every day", 2: "every other day", 7: "once a week"}


def runs_wild(sheet: Sheet, plant: str) -> bool:
    """Hold a plant against the county's list, and say what came of it; whether the list forbids to set it out.

    plant : its name, empty if it was not told.
    """
    rows = sheet.knowledge.invasive
    if not rows or not plant:
        sheet.caution("care.invasive")
        if rows:
            sheet.short.append("Tell the plant with --plant, and your county's list is asked.")
        return False
    row = planting.listed(sheet.knowledge, plant)
    if row is None:
        count = "1 plant" if len(rows) == 1 else f"{len(rows)} plants"
        sheet.short.append(
            f"Your county's list, with {count}, does not name {plant}. Ask whether it is the whole list."
        )
        return False
    sheet.more_sources.add(row.source)
    until = day_words(date.fromisoformat(row.good_until), year=True)
    if not planting.still_holds(row, sheet.on):
        sheet.short.append(
            f"{row.name} stood on the list of {row.place} until {until}. Ask whether it still does, before you plant."
        )
        sheet.caution("care.invasive")
        return False
    sheet.short.append(f"Do not plant or give away {row.name}: it runs wild in {row.place}{own_words(row)}.")
    sheet.refuse(
        f"We will not reckon how to spread {row.name}",
        row.rule,
        "Ask your county office what to plant in its place, and how to get rid of it",
    )
    return True


def water_in(
    sheet: Sheet, planted: date, *, area_m2: float | None = None, hard_freeze: date | None = None
) -> None:
    """The weeks of watering in, as a table and, if they lie ahead, as tasks.

    planted : the day they are set. area_m2 : of the ground [m2], None to say depths alone. hard_freeze : the first.
    """
    stretches = planting.watering_in(
        planted,
        daily_d=round(sheet.fact("water_in.daily_days")),
        alternate_d=round(sheet.fact("water_in.alternate_days")),
        weeks=round(sheet.fact("water_in.weeks")),
        each_mm=sheet.fact("water_in.each"),
        weekly_mm=sheet.fact("water_in.weekly"),
        stop=hard_freeze,
    )
    wet = sheet.book.show(sheet.fact("water_in.wet_depth"), "length")
    rows: list[tuple[str, ...]] = []
    for at, one in enumerate(stretches):
        depth = f"{one.each_mm:.0f} mm" if sheet.system == "metric" else sheet.book.show(one.each_mm, "depth")
        each = f"{depth} deep"
        if area_m2 is not None:
            # A depth of one millimetre on a square metre is one litre.
            mark = sheet.book.quantity(
                f"water-in.{at}",
                f"water each time, {_OFTEN[one.every_d]}",
                one.each_mm * area_m2,
                "volume",
                "care.water_in",
                about=True,
                inputs=(
                    sheet.book.input("area", area_m2, "area", "given"),
                    sheet.book.input("depth each time", one.each_mm, "depth", "usual advice"),
                ),
            )
            each = f"{each}, {mark}"
        rows.append((range_words(one.first, one.last), _OFTEN[one.every_d], each, f"{one.times}"))
    if stretches[-1].last >= sheet.on:
        begin = max(planted, sheet.on)
        sheet.tasks.append(
            Task(
                id="water-in",
                verb="Do",
                place="the new plants",
                kind="water",
                what=_weeks_words(stretches, wet),
                from_=begin,
                to=stretches[-1].last,
                why="Cut roots take up little until new ones grow, and air round them dries them out.",
                cautions=("care.settle",),
                if_missed="Water at once, and go on. Wilted plants often come back within a day.",
            )
        )
    columns = (("When", "left"), ("How often", "left"), ("Each time", "right"), ("Times", "right"))
    sheet.part(
        "Watering in",
        "Water at once on the day they are set: it closes the soil round the roots and drives out air.",
        f"Feel the soil first. Where it is wet {wet} down, or as much rain fell, leave a turn out.",
        *(
            [f"Stop at the first hard freeze, about {day_words(hard_freeze)}."]
            if hard_freeze is not None and stretches[-1].last == hard_freeze - timedelta(days=1)
            else []
        ),
        table=Table("Water for the new plants", columns, tuple(rows)),
    )
    sheet.caution("care.settle")


def _weeks_words(stretches: tuple[planting.Stretch, ...], wet: str) -> str:
    """When to water, in one sentence. wet : depth to which the soil is felt, in words."""
    parts = [f"{_OFTEN[one.every_d]} to {day_words(one.last)}" for one in stretches]
    return f"water {', then '.join(parts)}, unless the soil is wet {wet} down."
