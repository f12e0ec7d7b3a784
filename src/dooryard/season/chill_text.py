"""A winter's cold as lines for a screen and as plain data."""

from __future__ import annotations

import textwrap
from typing import Any

from dooryard.knowledge import Knowledge
from dooryard.season.winter_chill import FEWEST_WINTERS, Count, Winter
from dooryard.words import range_words

SCHEMA = "dooryard-chill-1"
WIDTH = 80
_METHODS = {
    "hours-32-45": "season.chill_hours",
    "hours-below-45": "season.chill_hours",
    "utah": "season.chill_units",
    "portions": "season.chill_portions",
}


def lines(found: Winter, knowledge: Knowledge) -> list[str]:
    """What the winter has brought, beside other winters, and how far each counting can be trusted."""
    said = [f"Winter cold, {range_words(found.first, found.last, year=True)}", ""]
    said += textwrap.wrap(_answer(found), WIDTH)
    said.append("")
    usual = found.winters >= FEWEST_WINTERS
    head = "Usual by then, 8 winters in 10" if usual else ""
    said.append(f"  {'Counted as':24}{'So far':>8}   {head}".rstrip())
    for one in found.counts:
        said.append(f"  {one.name:24}{_rounded(one):>8}   {_usual_words(one)}".rstrip())
    said.append("")
    if usual:
        text = f"Usual: {found.winters} past winters of this station, each up to the same day."
    else:
        text = f"This station has {found.winters} other whole winters, too few to say what is usual."
    if found.left_out:
        text += f" {found.left_out} with gaps, or not wholly in the record, were left out."
    said += textwrap.wrap(text, WIDTH)
    off = knowledge.fact("chill.curve_portions")
    share = knowledge.fact("chill.curve_units")
    said += textwrap.wrap(
        "The hours were made from each day's two temperatures. Against real hours of five stations a winter's portions "
        f"came out between {off.low:+g} and {off.high:+g} off, and its Utah units by {share.low:.0%} to "
        f"{share.high:.0%}.",
        WIDTH,
    )
    said += textwrap.wrap(
        "The four countings cannot be turned into each other: what a kind of fruit needs is true only in the counting "
        "it was found with. Where winters are warm, only the portions hold.",
        WIDTH,
    )
    return said


def data(found: Winter, knowledge: Knowledge) -> dict[str, Any]:
    """The same as plain data."""
    return {
        "schema": SCHEMA,
        "from": found.first.isoformat(),
        "to": found.last.isoformat(),
        "winters": found.winters,
        "left_out": found.left_out,
        "counts": [
            {
                "key": one.key,
                "name": one.name,
                "value": round(one.value, 1),
                "usual": None if one.usual is None else [round(value, 1) for value in one.usual],
                "method": _METHODS[one.key],
                "status": knowledge.methods[_METHODS[one.key]].status,
            }
            for one in found.counts
        ],
    }


def _answer(found: Winter) -> str:
    """More or less than usual, by the counting that holds best in warm and cold winters alike."""
    portions = next(one for one in found.counts if one.key == "portions")
    if portions.usual is None:
        return f"This winter has brought {portions.value:.0f} portions of cold."
    low, _, high = portions.usual
    if portions.value < low:
        return (
            "By the portions this winter has brought less cold than nine of ten past winters by the same day."
        )
    if portions.value > high:
        return (
            "By the portions this winter has brought more cold than nine of ten past winters by the same day."
        )
    return "By the portions this winter has brought about as much cold as is usual by the same day."


def _rounded(one: Count) -> str:
    return f"{one.value:,.0f}"


def _usual_words(one: Count) -> str:
    if one.usual is None:
        return ""
    low, middle, high = one.usual
    return f"{low:,.0f} to {high:,.0f}, in the middle {middle:,.0f}"
