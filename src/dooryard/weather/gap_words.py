"""What a gap, or an estimate in its place, means for each result, in words for the person who decides."""

from __future__ import annotations

from datetime import date

from dooryard.weather.outlook import LONGEST_BRIDGED_DAYS


def means_left(
    element: str, first: date, last: date, left_days: int, frost_allowed_d: int
) -> tuple[str, ...]:
    """What it means that these days stay missing.

    left_days : days in a row without a value about them, these included. frost_allowed_d : missing days a half
    year may have and still give a frost date.
    """
    years = _years(first, last)
    if element == "rain_mm":
        return (
            "A barrel's level is open on these days, from empty to full, until it must have been one or the other.",
            f"There is no total of rain for {years}, nor does it help to tell what a barrel is worth.",
            "The water in a bed's soil is known only between limits.",
        )
    if left_days <= LONGEST_BRIDGED_DAYS:
        return (
            "A heat sum draws a straight line over these days and counts them.",
            "If it reaches a number on one of them, no date is claimed, only the days around.",
        )
    told = [
        f"A heat sum of {years} that runs over them is unknown from {first} on, and dates that need it are refused.",
        "A number that was reached inside the gap is not claimed to be reached.",
        f"Where days ahead are played from past years, {years} is left out if it has these days in them.",
        "What beds lose to the air is unknown on these days.",
    ]
    if left_days > frost_allowed_d:
        told.append(f"A half year with more than {frost_allowed_d} missing days gives no frost date.")
    return tuple(told)


def means_filled(element: str) -> tuple[str, ...]:
    """What it means that an estimate stands in the place of a missing day."""
    if element == "rain_mm":
        return ("It counts as rain in totals and barrels, flagged: they are then as good as the estimate.",)
    return (
        "It counts in heat sums, frost dates and water use, flagged.",
        "If a heat sum reaches a number on an estimated day, no date is claimed, only the days around.",
    )


def _years(first: date, last: date) -> str:
    return str(first.year) if first.year == last.year else f"every year from {first.year} to {last.year}"
