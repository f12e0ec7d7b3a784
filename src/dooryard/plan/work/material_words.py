"""What is said of a material beside the days: heat that may scorch, tender plants, oil and sulfur, its stage."""

from __future__ import annotations

import math
from collections.abc import Callable

from dooryard.care.card import Use
from dooryard.care.material import Advice, hurts
from dooryard.care.treatment_days import Bounds, Day
from dooryard.plan.document import Table
from dooryard.plan.work.sheet import Sheet
from dooryard.words import day_words


def say(
    sheet: Sheet, use: Use, usual: Advice, plant: str, found: tuple[Day, ...], *, other_told: bool
) -> None:
    """Add what the answer must not leave out.

    found : the judged days. other_told : whether the last day of the other of oil and sulfur is known.
    """
    if usual.tender is not None and hurts(usual.tender, plant):
        sheet.more_sources.add(usual.tender.source)
        sheet.refuse(
            f"We will not name a day for it on {plant}",
            f"It can hurt this plant. {usual.tender.rule} ({usual.tender.status})",
            "Choose something milder, or ask your county office",
        )
    elif usual.touchy is not None and hurts(usual.touchy, plant):
        sheet.more_sources.add(usual.touchy.source)
        sheet.short.append(
            f"It hurts some kinds of {plant}. Try a few leaves, wait three days, and look at them first."
        )
    _heat(sheet, use, usual, found)
    if usual.gap is not None and not other_told:
        sheet.more_sources.add(usual.gap.source)
        sheet.short.append(
            f"Oil and sulfur stay {usual.gap.low:.0f} days apart, in either order: tell the last day of the other with "
            "--oil-or-sulfur."
        )
    strong = sheet.knowledge.spray_limits["any.wind_stop"]
    if use.windiest_m_s is not None and strong.high is not None and use.windiest_m_s > strong.high:
        sheet.short.append(
            f"The card allows more wind than {sheet.book.show(strong.high, 'speed')}. Few labels do: read it again."
        )
    if usual.notes:
        sheet.more_sources.update(row.source for row in usual.notes)
        sheet.part(
            "What is known of this material",
            *(_note(row.quantity, row.low, row.high, row.unit, row.rule, row.status) for row in usual.notes),
        )


def _heat(sheet: Sheet, use: Use, usual: Advice, found: tuple[Day, ...]) -> None:
    """Days that pass the label but are warm for an oil or a soap; none of them open: wait for a cooler time."""
    if usual.caution is None or usual.caution.high is None or usual.hottest is None:
        return
    sheet.more_sources.update((usual.caution.source, usual.hottest.source))
    limit = usual.caution.high
    warm = [
        day.day
        for day in found
        if day.open and any(check.limit == "heat" and (check.found or 0.0) > limit for check in day.checks)
    ]
    if warm:
        sheet.short.append(
            f"With care on {day_words(warm[0])}: above {sheet.book.show(limit, 'temperature')} it may scorch leaves. A "
            "cooler day is better."
        )
    if found and all("heat" in day.closed_by for day in found):
        sheet.short.append(
            "It is too hot for it all these days. Rather wait for autumn, or choose another way."
        )
    if use.hottest_c is not None and usual.hottest.high is not None and use.hottest_c > usual.hottest.high:
        sheet.short.append(
            f"The card allows more than {sheet.book.show(usual.hottest.high, 'temperature')}. That is hotter than is "
            "advised for it: read the label again."
        )


def _note(quantity: str, low: float | None, high: float | None, unit: str, rule: str, status: str) -> str:
    """One row as a sentence."""
    ends = " to ".join(f"{end:g}" for end in (low, high) if end is not None)
    for what, counted in (("d", "days "), ("h", "hours ")):
        if ends and unit == what and quantity.startswith(counted):
            return f"Usually {ends} {quantity}; the label decides. {rule} ({status})"
    return f"{quantity[0].upper()}{quantity[1:]}. {rule} ({status})"


def limits(sheet: Sheet, use: Use, bounds: Bounds) -> None:
    """What every day was held against, and which limits are the label's."""
    show: Callable[[bool], str] = lambda told: "the label" if told else "usual advice"  # noqa: E731
    rows = [
        (
            "wind",
            f"{sheet.span(bounds.calm_m_s, bounds.windiest_m_s, 'speed')}",
            show(use.windiest_m_s is not None),
        ),
        ("no rain for", f"{bounds.dry_h:.0f} hours afterwards", show(use.rain_fast_h is not None)),
        ("chance of rain", f"below {bounds.chance_pct:.0f} %", "our judgement"),
    ]
    if bounds.hottest_c is not None:
        rows.append(
            (
                "hottest hour",
                f"up to {sheet.book.show(bounds.hottest_c, 'temperature')}",
                show(use.hottest_c is not None),
            )
        )
    if bounds.coldest_c is not None:
        rows.append(
            (
                "coldest",
                f"from {sheet.book.show(bounds.coldest_c, 'temperature')}",
                show(use.coldest_c is not None),
            )
        )
    if use.interval_d is not None:
        rows.append(("days apart", f"{use.interval_d} at least", "the label"))
    if use.harvest_d is not None:
        rows.append(("before picking", f"{use.harvest_d} days", "the label"))
    sheet.part(
        "The limits",
        table=Table(
            "What each day was held against",
            (("Limit", "left"), ("Value", "left"), ("From", "left")),
            tuple(rows),
        ),
    )


def spare(sheet: Sheet, day: Day, bounds: Bounds) -> str:
    """How far an open day stays inside the limits that have a number, the nearest first; empty if none is told."""
    found = []
    for check in day.checks:
        if check.found is None or not check.passes:
            continue
        if check.limit == "heat" and bounds.hottest_c is not None:
            left = bounds.hottest_c - check.found
            found.append((left / 5.0, f"{_degrees(sheet, left)} of heat"))
        elif check.limit == "cold" and bounds.coldest_c is not None:
            left = check.found - bounds.coldest_c
            found.append((left / 5.0, f"{_degrees(sheet, left)} of cold"))
        elif check.limit == "frost after":
            found.append((check.found / 5.0, f"{_degrees(sheet, check.found)} from frost"))
        elif check.limit == "wind":
            left = bounds.windiest_m_s - check.found
            found.append((left / 2.0, f"{sheet.book.show(left, 'speed')} of wind"))
    # A step of 5 degC and one of 2 m/s are about as likely from one forecast to the next; four steps off is no matter.
    return ", ".join(words for steps, words in sorted(found)[:2] if steps <= 4)


def _degrees(sheet: Sheet, left_c: float) -> str:
    """A difference of temperatures in whole degrees, rounded down: never more room than there is."""
    metric = sheet.system == "metric"
    # A hair of room, for a limit that was converted.
    return f"{math.floor(left_c + 1e-6) if metric else math.floor(left_c * 1.8 + 1e-6)} {'°C' if metric else '°F'}"
