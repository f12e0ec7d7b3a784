"""The first sentences of a plan: what matters most, in the order a person should hear it."""

from __future__ import annotations

from dooryard.plan.draft import Draft
from dooryard.plan.task import Task

MOST = 5


def sentences(draft: Draft, near: list[Task]) -> list[str]:
    """The most pressing headlines, or that nothing is pressing; then whether anything was refused."""
    ranked = [text for _, text in sorted(draft.headlines, key=lambda pair: pair[0])]
    said = ranked[:MOST]
    if not said:
        said = [
            "Nothing presses this week." if not near else "Only the usual upkeep is due in these three weeks."
        ]
    return [*said, *refused(draft)]


def refused(draft: Draft) -> list[str]:
    """That something was refused and where it stands; nothing if nothing was."""
    if not draft.refusals:
        return []
    many = len(draft.refusals)
    what, it = ("is one thing", "it") if many == 1 else (f"are {many} things", "them")
    return [f"There {what} we will not say; further down stands what is missing for {it}."]
