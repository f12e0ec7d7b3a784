"""Torn bark: how much of a trunk's circumference is lost, overlaps counted once.

Only width counts. Sap moves up and down, so a wound that is taller cuts no more of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Wound:
    """One bare place. width_m : along the circumference [m].

    start_m : from a mark, going round one way, to its near edge [m]; None if it was not measured.
    """

    width_m: float
    start_m: float | None = None


def bark_lost_m(girth_m: float, wounds: Sequence[Wound]) -> float:
    """Length of the circumference that has no bark [m], at most the girth.

    girth_m : of the trunk at the wounds [m]. wounds : where their starts are known, overlapping ones are joined;
    those without a start are taken to lie beside all others, which is the worst they can do.

    Raises ValueError if a length is not positive or a start lies outside the girth.
    """
    if girth_m <= 0 or any(wound.width_m <= 0 for wound in wounds):
        raise ValueError("girth and widths must be above zero")
    arcs: list[tuple[float, float]] = []
    loose_m = 0.0
    for wound in wounds:
        if wound.start_m is None:
            loose_m += wound.width_m
            continue
        if not 0 <= wound.start_m < girth_m:
            raise ValueError("a start lies between zero and the girth")
        arcs += _unrolled(wound.start_m, min(wound.width_m, girth_m), girth_m)
    return min(girth_m, _union(arcs) + loose_m)


def share_lost(girth_m: float, wounds: Sequence[Wound]) -> float:
    """Share of the circumference that has no bark, 0 to 1. Arguments and errors as for `bark_lost_m`."""
    return bark_lost_m(girth_m, wounds) / girth_m


def _unrolled(start_m: float, width_m: float, girth_m: float) -> list[tuple[float, float]]:
    """A stretch of the circle as one or two stretches of the unrolled trunk."""
    end_m = start_m + width_m
    if end_m <= girth_m:
        return [(start_m, end_m)]
    return [(start_m, girth_m), (0.0, end_m - girth_m)]


def _union(arcs: list[tuple[float, float]]) -> float:
    covered_m, reached_m = 0.0, 0.0
    for start_m, end_m in sorted(arcs):
        covered_m += max(0.0, end_m - max(start_m, reached_m))
        reached_m = max(reached_m, end_m)
    return covered_m
