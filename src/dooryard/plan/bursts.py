"""The burst of rain that gutters, downspouts and overflows are judged by, and what other ways say of it."""

from __future__ import annotations

from typing import NamedTuple

from dooryard.figure import Input
from dooryard.plan.draft import Draft
from dooryard.problem import InputError
from dooryard.water import design_rain
from dooryard.water.design_rain import DesignBurst
from dooryard.water.storm import pattern

PATTERN = "type-ii"
_METHODS = {"gauge": "water.gauge_burst", "table": "water.design_table", "pattern": "water.burst"}


class Burst(NamedTuple):
    """Rates of a usual and of a rare burst [mm/h], the figure's mark, and the rare one in words."""

    usual_mm_h: float
    rare_mm_h: float
    mark: str
    rare_words: str


def design(draft: Draft) -> Burst | None:
    """The burst to judge by, as the best way at hand gives it; None if there is none.

    A figure of a usual burst to a rare one is entered in the book.
    """
    found = ways(draft)
    return _entered(draft, found[0], "storm.burst") if found else None


def method(draft: Draft) -> str:
    """Key of the method behind the burst to judge by; KeyError if there is none."""
    found = ways(draft)
    if not found:
        raise KeyError("no burst to judge by")
    return _METHODS[found[0].kind]


def others(draft: Draft) -> list[str]:
    """One sentence for each other way at hand, with what it would say instead."""
    sentences = []
    for way in ways(draft)[1:]:
        burst = _entered(draft, way, f"storm.burst.{way.kind}")
        sentences.append(f"{_by(draft, way)} the same minutes bring {burst.mark}.")
    return sentences


def ways(draft: Draft) -> tuple[DesignBurst, ...]:
    """Every way at hand to find the burst, best first; what cannot be used is told among the record's notes."""
    if draft.bursts is None:
        facts = draft.knowledge.facts
        window_min = facts["storm.window"].value * design_rain.HOUR_MIN
        name = draft.yard.place.storm_pattern or PATTERN
        found = [design_rain.from_days(draft.record, pattern(facts, name), window_min, facts)]
        if draft.gauge is not None:
            found.append(design_rain.from_gauge(draft.gauge, window_min, facts))
        if draft.design_table is not None:
            try:
                found.append(design_rain.from_table(draft.design_table, window_min, facts))
            except InputError as error:
                draft.record_notes += [f"{problem.what} {problem.instead}" for problem in error.problems]
        # A way that knows of no rain at all gives no burst to judge by.
        wet = [way for way in found if way is not None and way.rare_mm_h.value > 0.0]
        draft.bursts = design_rain.best_first(wet, facts)
    return draft.bursts


def _entered(draft: Draft, way: DesignBurst, figure_id: str) -> Burst:
    usual = (way.usual_mm_h or way.rare_mm_h).value
    rare = way.rare_mm_h.value
    mark = draft.book.quantity(
        figure_id,
        _name(draft, way),
        usual,
        "rainfall_rate",
        _METHODS[way.kind],
        low=min(usual, rare),
        high=rare,
        inputs=_inputs(draft, way),
    )
    return Burst(usual, rare, mark, _rare_words(way))


def _name(draft: Draft, way: DesignBurst) -> str:
    if way.kind == "pattern":
        return "hardest rain: of a usual year's wettest day to that of the wettest day on record"
    minutes = f"hardest {way.window_min:.0f} minutes"
    if way.kind == "table":
        usual = draft.knowledge.fact("design.usual_years").value
        return f"{minutes} by the design table: once in {usual:g} years to once in {way.rare_years:g} years"
    if not way.years:
        return f"{minutes} of the gauge's record, which has no whole year"
    return f"{minutes} by the gauge: of a usual year to the hardest of its {_years(way.years)}"


def _inputs(draft: Draft, way: DesignBurst) -> tuple[Input, ...]:
    window = draft.knowledge.fact("storm.window")
    worst = Input("worst window of the day", f"{way.window_min:.0f} minutes", window.source)
    if way.kind == "pattern":
        roman = (draft.yard.place.storm_pattern or PATTERN).removeprefix("type-").upper()
        return (worst, Input("storm pattern", f"type {roman}, 24 hours", "W-NRCS"))
    if way.kind == "table":
        place = draft.design_table.place if draft.design_table is not None else ""
        table = draft.design_table.edition if draft.design_table is not None else ""
        return (worst, Input("design table", ", ".join(part for part in (table, place) if part), "W-ATLAS14"))
    ends = draft.book.range_words(way.rare_mm_h.low, way.rare_mm_h.high, "rainfall_rate")
    hardest = Input("hardest on record, by what lies between its steps", ends, "the gauge")
    if way.step_min <= way.window_min:
        return (worst, hardest)
    return (
        worst,
        Input("step of the gauge, longer than that", f"{way.step_min:.0f} minutes", "the gauge"),
        hardest,
    )


def _rare_words(way: DesignBurst) -> str:
    if way.kind == "table":
        return f"a burst that comes once in {way.rare_years:g} years"
    return "the worst burst on record"


def _by(draft: Draft, way: DesignBurst) -> str:
    if way.kind == "table":
        return "By the design table"
    if way.kind == "pattern":
        return "By the record's wettest days and a storm pattern"
    if not way.years:
        return "By the gauge's record, which has no whole year,"
    least = draft.knowledge.fact("design.gauge_years_least").value
    short = ", too few to go by," if way.years < least else ""
    return f"By the {_years(way.years)} of the gauge{short}"


def _years(count: int) -> str:
    return "one year" if count == 1 else f"{count} years"
