"""Why a treatment may not be done now, in words."""

from __future__ import annotations

from collections.abc import Sequence

from dooryard.care.treatment import Option, Why

WHY: dict[Why, str] = {
    "not begun": "the stage it hits has not begun",
    "over": "the stage it hits is past",
    "look first": "whether its stage is there is not known: look first",
    "not here": "it does not live here",
    "bloom": "flowers are open, and bees would be killed",
    "systemic bloom": "forbidden while it blooms: it gets into nectar and pollen",
    "height": "too tall to cover from the ground: a licensed applicator",
    "law": "the law of the state forbids or limits it",
    "law unsure": "whether your state allows it is not known: ask your county office",
    "water": "water is near, and it kills fish",
    "own time": "only at its own time of the year",
}


def against(options: Sequence[Option]) -> str:
    """What speaks against one treatment at all of its places; empty if at one of them nothing does.

    options : the same treatment at each place.
    """
    if any(one.allowed for one in options):
        return ""
    shared = [why for why in options[0].blocked if all(why in one.blocked for one in options)]
    reasons = shared or list(dict.fromkeys(why for one in options for why in one.blocked))
    return "; ".join(WHY[why] for why in reasons)
