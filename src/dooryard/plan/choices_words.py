"""Words for choices of barrels: how many of which, where, for which beds, and whether it is for money."""

from __future__ import annotations

from collections.abc import Mapping

from dooryard.plan.draft import Draft
from dooryard.water.choices import Choice, Kind, Years
from dooryard.words import list_words

_KINDS: Mapping[str, str] = {"small-drum": "drum", "drum": "drum", "tote": "tote"}
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six")
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")


def kind_words(draft: Draft, kind: Kind) -> str:
    """ "55 gal drum"."""
    return f"{draft.book.show(kind.volume_l, 'volume')} {_KINDS[kind.key]}"


def number_words(number: int) -> str:
    """ "two"; figures above six."""
    return _NUMBERS[number] if number < len(_NUMBERS) else f"{number}"


def ordinal_words(number: int) -> str:
    """ "second" for 2; "number 7" above six."""
    return _ORDINALS[number - 1] if number <= len(_ORDINALS) else f"number {number}"


def added_words(draft: Draft, years: Years, choice: Choice, *, where: bool = True) -> str:
    """What is added, and (unless not `where`) at which of several places: "2 drums of 55 gal, garage downspout"."""
    if choice.kind is None:
        return "nothing more"
    many = "" if choice.barrels == 1 else "s"
    size = draft.book.show(choice.kind.volume_l, "volume")
    what = f"{choice.barrels} {_KINDS[choice.kind.key]}{many} of {size}"
    if len(years.places) == 1 or not where:
        return what
    there = [
        (name.removeprefix("the "), count)
        for name, count in zip(years.places, choice.added, strict=True)
        if count
    ]
    if len(there) == 1:
        return f"{what}, {there[0][0]}"
    return f"{what}, {list_words([f'{count} {name}' for name, count in there])}"


def ask_words(years: Years, ask: int) -> str:
    """Which beds are watered: "all beds", "tomato bed only", "tomato bed and flower bed"."""
    beds = years.asks[ask]
    everything = max(years.asks, key=len)
    if not beds:
        return "other use"
    if len(beds) == 1:
        return beds[0] if len(everything) == 1 else f"{beds[0]} only"
    return "all beds" if len(beds) == len(everything) else list_words(beds)


def days_words(share: float) -> str:
    """ "53 days in 100"."""
    return f"{100 * share:.0f} days in 100"


def dollars_words(low: float, high: float) -> str:
    """ "40 to 70 dollars"; below ten dollars to the cent's tens, and one value if both round to the same."""
    digits = 0 if high >= 10.0 else 2
    shown = [f"{value:,.{digits}f}" for value in (low, high)]
    if shown[0] == shown[1]:
        return f"{shown[0]} dollars"
    return f"{shown[0]} to {shown[1]} dollars"


def years_words(low: float, high: float, most: float) -> str:
    """ "12 to 30 years"; an end beyond `most` is told as more than that."""
    if low > most:
        return f"more than {most:,.0f} years"
    first, last = f"{low:,.0f}", f"{high:,.0f}"
    if high > most:
        return f"{first} to more than {most:,.0f} years"
    return f"{first} years" if first == last else f"{first} to {last} years"


def money_words(payback: float, life_low: float, life_high: float) -> str:
    """What a payback of so many years in the mean says of something that lasts so long."""
    if payback > life_high:
        return "It is not for money: it is worn out first. Other reasons may be good enough."
    if payback > life_low:
        return "It may just pay before it is worn out, so money alone is no reason for it."
    return "It pays for itself before it is worn out."
