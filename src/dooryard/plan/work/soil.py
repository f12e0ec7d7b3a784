"""What a soil report's advice comes to: lime of the strength in hand, fertilizer of the grade in hand."""

from __future__ import annotations

from datetime import date

from dooryard.care import soil_report
from dooryard.care.rate import Rate
from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem
from dooryard.units import System
from dooryard.words import day_words

NUTRIENTS = ("nitrogen", "phosphate", "potash")


def soil(
    knowledge: Knowledge,
    on: date,
    *,
    area_m2: float,
    report: date | None,
    lime: Rate | None = None,
    strength: float | None = None,
    nutrient: str = "",
    feed: Rate | None = None,
    grade: tuple[float, float, float] | None = None,
    system: System = "us",
) -> Plan:
    """The amounts for one area. report : day of the soil report; without one nothing is reckoned.

    area_m2 : [m2]. lime, feed : the report's rates, weight per ground. strength : calcium carbonate equivalent of
    the lime, 1 for pure. nutrient : which one `feed` is of. grade : the bag's three numbers as shares.
    Raises InputError if a rate is not a weight per ground, or what it needs is missing.
    """
    sheet = Sheet("Lime and fertilizer", knowledge, on, system)
    sheet.caution("care.soil_spread")
    if report is None:
        sheet.short.append("No amount without a soil report.")
        sheet.refuse(
            "We will not reckon lime or fertilizer",
            "Nothing is known of the soil: no report is given",
            "Send a sample to the laboratory your county office names, then give the report's day with --report",
        )
        return sheet.finish()
    _age(sheet, report)
    problems = [
        Problem(
            f"The {what} rate is not a weight for so much ground.", 'Write it as "60 lb per 1,000 sq ft".'
        )
        for what, one in (("lime", lime), ("fertilizer", feed))
        if one is not None and (one.basis, one.amount) != ("area", "mass")
    ]
    if lime is None and feed is None:
        problems.append(Problem("No rate is given.", 'Give --lime "60 lb per 1,000 sq ft" or --feed.'))
    if lime is not None and strength is None:
        problems.append(
            Problem(
                "The strength of the lime is missing.", 'Give --cce "90 %", its calcium carbonate equivalent.'
            )
        )
    if feed is not None and (grade is None or nutrient not in NUTRIENTS):
        problems.append(
            Problem("The grade or the nutrient is missing.", "Give --grade 10-6-4 and --nutrient nitrogen.")
        )
    if (
        feed is not None
        and grade is not None
        and nutrient in NUTRIENTS
        and grade[NUTRIENTS.index(nutrient)] == 0
    ):
        problems.append(Problem(f"The bag holds no {nutrient}.", "Choose one that does.", field="--grade"))
    if problems:
        raise InputError(problems)
    if lime is not None and strength is not None:
        _lime(sheet, lime, strength, area_m2)
    if feed is not None and grade is not None:
        _feed(sheet, feed, nutrient, grade, area_m2)
    return sheet.finish()


def _age(sheet: Sheet, report: date) -> None:
    if report > sheet.on:
        raise InputError(Problem("The report lies ahead.", "Check --report and --on.", found=str(report)))
    if (sheet.on - report).days > sheet.fact("soil.report_old"):
        sheet.refuse(
            "We will not call this report current",
            f"It is of {day_words(report, year=True)}, more than three years old",
            "Send a new sample before you lime or feed again",
        )


def _lime(sheet: Sheet, rate: Rate, strength: float, area_m2: float) -> None:
    found = soil_report.lime(rate.high, area_m2, strength, sheet.fact("soil.lime_most"))
    mark = sheet.book.quantity(
        "soil.lime",
        "lime in hand",
        found.total_kg,
        "mass",
        "care.lime",
        inputs=(
            Input("the report's rate", rate.text, "given"),
            Input("calcium carbonate equivalent", f"{strength:.0%}", "given"),
            sheet.book.input("area", area_m2, "area", "given"),
        ),
    )
    sheet.short.append(f"{sheet.book.show(area_m2, 'area')} takes {mark} of this lime.")
    if found.times > 1:
        sheet.short.append(
            f"Spread it in {found.times} parts of {sheet.book.show(found.each_kg, 'mass')}, some months apart: more "
            "than that at once on the surface does no good."
        )


def _feed(sheet: Sheet, rate: Rate, nutrient: str, grade: tuple[float, float, float], area_m2: float) -> None:
    share = grade[NUTRIENTS.index(nutrient)]
    amount = soil_report.fertilizer_kg(rate.high, area_m2, share)
    bag = "-".join(f"{100 * part:g}" for part in grade)
    mark = sheet.book.quantity(
        "soil.feed",
        f"fertilizer {bag}",
        amount,
        "mass",
        "care.fertilizer",
        inputs=(
            Input(f"the report's {nutrient}", rate.text, "given"),
            Input("the bag's share", f"{share:.0%}", "given"),
            sheet.book.input("area", area_m2, "area", "given"),
        ),
    )
    brings = [
        f"{sheet.book.show(amount * part, 'mass')} of {name}"
        for name, part in zip(NUTRIENTS, grade, strict=True)
        if part and name != nutrient
    ]
    sheet.short.append(f"{sheet.book.show(area_m2, 'area')} takes {mark} of {bag} for its {nutrient}.")
    if brings:
        sheet.short.append(f"That also brings {' and '.join(brings)}: does the report want it?")
