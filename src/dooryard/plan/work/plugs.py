"""Dividing a ground cover: plugs from a mat, how many live, how far apart, and the last day for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from dooryard.care import spacing
from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan, Table
from dooryard.plan.work import fall, planting_words
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem
from dooryard.units import System
from dooryard.words import day_words


@dataclass(frozen=True)
class Mat:
    """The piece that is divided [m]."""

    length_m: float
    width_m: float


def plugs(
    knowledge: Knowledge,
    on: date,
    *,
    area_m2: float,
    mat: Mat | None = None,
    plug_m: float | None = None,
    share_lost: float | None = None,
    spacing_m: float | None = None,
    hard_freeze: date | None = None,
    freeze_from: str = "",
    plant: str = "",
    planted: date | None = None,
    system: System = "us",
) -> Plan:
    """Plugs for an area: what a mat gives, or what a spacing needs, or both.

    area_m2 : to be planted [m2]. mat, plug_m : what is cut, and the side of a plug [m]. share_lost : that die, from
    0 to below 1; the trade's usual one if None. spacing_m : wished for [m]. hard_freeze : middle date of the first
    hard freeze in the year of `on`; freeze_from : where it comes from. plant : what it is, held against the county's
    list of what runs wild. planted : the day plugs are set, for the weeks of watering in; `on` if None.
    Raises InputError if neither a mat nor a spacing is given, or no plug fits the mat.
    """
    if (mat is None or plug_m is None) and spacing_m is None:
        what = "There is nothing to reckon with."
        instead = 'Give --mat "6 ft x 5 ft" with --plug "4 in", or --spacing "8 in", or all three.'
        raise InputError(Problem(what, instead))
    sheet = Sheet("Plugs of a ground cover", knowledge, on, system)
    if planting_words.runs_wild(sheet, plant):
        return sheet.finish()
    lost = sheet.fact("plug.lost") if share_lost is None else share_lost
    if mat is not None and plug_m is not None:
        _from_mat(sheet, area_m2, mat, plug_m, lost)
    if spacing_m is not None:
        _for_spacing(sheet, area_m2, spacing_m, lost)
    _last_days(sheet, hard_freeze, freeze_from)
    sheet.part(
        "How to do it",
        "Choose a cool, cloudy day and water the mat the evening before.",
        "Cut plugs with roots and soil, and set them as deep as they stood.",
        "Firm the soil around each and water at once.",
        "Weed by hand for two or three years, until it has closed.",
    )
    planting_words.water_in(sheet, planted or on, area_m2=area_m2, hard_freeze=hard_freeze)
    return sheet.finish()


def _from_mat(sheet: Sheet, area_m2: float, mat: Mat, plug_m: float, lost: float) -> None:
    cut = spacing.plugs_from_mat(mat.length_m, mat.width_m, plug_m)
    live = spacing.living(cut, lost)
    if live == 0:
        what = "Not one plug of that size fits into the mat and lives."
        instead = "Make the plugs smaller or the mat larger."
        raise InputError(Problem(what, instead, field="--plug", found=sheet.book.show(plug_m, "length")))
    inputs = (
        Input(
            "mat",
            f"{sheet.book.show(mat.length_m, 'length')} by {sheet.book.show(mat.width_m, 'length')}",
            "given",
        ),
        sheet.book.input("side of a plug", plug_m, "length", "given"),
    )
    plugs_mark = sheet.book.plain(
        "plugs.cut", "plugs from the mat", cut, f"{cut:,} plugs", "care.plugs", inputs=inputs
    )
    share = Input("lost in the first year", f"{lost:.0%}")
    live_mark = sheet.book.plain(
        "plugs.live", "plugs that live", live, f"{live:,}", "care.plugs", inputs=(*inputs, share)
    )
    apart = spacing.square_spacing_m(area_m2, live)
    apart_mark = sheet.book.plain(
        "plugs.apart",
        "distance that just covers the area",
        apart,
        _near(sheet, apart),
        "care.plugs",
        unit="m",
        exact=sheet.book.exact(apart, "length"),
        inputs=(share, sheet.book.input("area", area_m2, "area", "given")),
    )
    sheet.short.append(
        f"The mat gives {plugs_mark}. If {lost:.0%} die, {live_mark} live. On {sheet.book.show(area_m2, 'area')} that "
        f"is one every {apart_mark} in a square grid."
    )


def _for_spacing(sheet: Sheet, area_m2: float, spacing_m: float, lost: float) -> None:
    square = spacing.square_count(area_m2, spacing_m)
    staggered = spacing.triangular_count(area_m2, spacing_m)
    inputs = (
        sheet.book.input("area", area_m2, "area", "given"),
        sheet.book.input("spacing", spacing_m, "length", "given"),
    )
    marks = [
        sheet.book.plain(
            f"plugs.{key}", f"plants in {words}", count, f"{count:,}", "care.plugs", inputs=inputs
        )
        for key, words, count in (
            ("square", "a square grid", square),
            ("staggered", "staggered rows", staggered),
        )
    ]
    sheet.short.append(
        f"{_near(sheet, spacing_m)} apart takes {marks[0]} living plants in a square grid, or {marks[1]} in staggered "
        "rows, which close evenly."
    )
    rows = tuple(
        (words, f"{count:,}", f"{spacing.to_plant(count, lost):,}")
        for words, count in (("square grid", square), ("staggered rows", staggered))
    )
    columns = (("Pattern", "left"), ("Must live", "right"), (f"To set if {lost:.0%} die", "right"))
    sheet.part(f"Plants at {_near(sheet, spacing_m)}", table=Table("Plants for this spacing", columns, rows))


def _last_days(sheet: Sheet, hard_freeze: date | None, freeze_from: str) -> None:
    found = fall.last_day(sheet, hard_freeze, freeze_from)
    if found is None or hard_freeze is None:
        return
    mark, last = found
    sheet.short.append(
        f"Divide by {mark}, at the latest by {day_words(last)}: roots need four to six weeks before a hard freeze, "
        f"which comes about {day_words(hard_freeze)} in a middling year."
    )
    if sheet.on > last:
        sheet.short.append(
            "That is past for this year. Wait for spring, and put it into next year's calendar."
        )


def _near(sheet: Sheet, length_m: float) -> str:
    """A spacing to a tenth of an inch, or to a centimetre."""
    if sheet.system == "metric":
        return f"{length_m * 100:.0f} cm"
    return f"{length_m / 0.0254:.1f}".removesuffix(".0") + " in"
