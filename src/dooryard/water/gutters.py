"""What gutters and downspouts carry, by published codes that do not agree, each with its name.

A pipe down a wall runs as a ring of water with air in its middle; what it carries depends on how much of it a
code lets fill. A gutter carries what its lowest point lets over the edge. Both are judged against the flow
off the roof in a burst (`storm.peak_flow` over `roof.driven_area`).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.knowledge import Fact
from dooryard.problem import InputError, Problem

Floats = NDArray[np.float64]

INCH_M = 0.0254
GPM_L_S = 3.785411784 / 60.0
SQ_FT_M2 = 0.09290304
MM_PER_M = 1000.0

WYLY_EATON = 27.8
"""Coefficient of the closed form in US units [gpm per in^(8/3)]; with it the pipe's bore is in inches."""

NSPC_FILLED = 7 / 24
"""Share of the pipe's section that NSPC lets fill [1]; other codes take up to about a third."""


@dataclass(frozen=True, slots=True)
class Size:
    """One line of a code's table: a nominal size and what the code lets it carry [m, L/s]."""

    size_m: float
    flow_l_s: float
    status: str


@dataclass(frozen=True, slots=True)
class Code:
    """A code's table of sizes, ascending. key : as in the facts table. source : id of the code itself."""

    key: str
    source: str
    sizes: tuple[Size, ...]

    @property
    def status(self) -> str:
        """How sure its least sure line is known."""
        return max((size.status for size in self.sizes), key=_SURENESS.index)

    def flow_l_s(self, size_m: float) -> float | None:
        """What a pipe or gutter of that size may carry by this code [L/s]; None outside its listed sizes.

        Between two listed sizes the flow follows the power of the size that joins them, which is how the
        tables themselves were made.
        """
        bores = np.log([size.size_m for size in self.sizes])
        wanted = math.log(size_m)
        slack = 1e-9
        if not bores[0] - slack <= wanted <= bores[-1] + slack:
            return None
        return float(np.exp(np.interp(wanted, bores, np.log([size.flow_l_s for size in self.sizes]))))


_SURENESS = ("seen", "computed", "second-hand", "common practice", "from memory", "judged")


def leader_flow(bore_m: ArrayLike, filled: ArrayLike = NSPC_FILLED) -> Floats:
    """What an upright round pipe carries when water fills a share of its section [L/s].

    Parameters
    ----------
    bore_m : float or array
        Inside diameter [m].
    filled : float or array
        Share of the section the water takes, 0 to 1 [1].

    Returns
    -------
    float or array

    Source
    ------
    Wyly and Eaton: 27.8 gpm times filled^(5/3) times inches of bore^(8/3), terminal flow on the wall of a
    vertical stack; the form behind the plumbing codes' tables.

    Example
    -------
    >>> round(float(leader_flow(3 * 0.0254)) / GPM_L_S, 1)
    66.8
    """
    share = np.asarray(filled, dtype=np.float64)
    bore_in = np.asarray(bore_m, dtype=np.float64) / INCH_M
    if np.any((share < 0.0) | (share > 1.0)):
        raise InputError(
            Problem("Water fills a pipe by a share from 0 to 1.", field="filled", found=str(filled))
        )
    return np.asarray(GPM_L_S * WYLY_EATON * share ** (5 / 3) * bore_in ** (8 / 3))


def filled_share(bore_m: float, flow_l_s: float) -> float:
    """Share of a pipe's section that a flow takes by the closed form [1]; the other way round of `leader_flow`.

    bore_m : inside diameter [m]. flow_l_s : flow [L/s]. Above 1 the pipe cannot pass it as a ring on its wall.
    """
    return float((flow_l_s / leader_flow(bore_m, 1.0)) ** (3 / 5))


def roof_area(flow_l_s: ArrayLike, rate_mm_h: ArrayLike) -> Floats:
    """Roof that sheds that flow at a rain rate [m2]: flow x 3600 / rate; infinite without rain."""
    with np.errstate(divide="ignore"):
        flow, rate = np.asarray(flow_l_s, dtype=np.float64), np.asarray(rate_mm_h, dtype=np.float64)
        return np.asarray(flow * 3600.0 / rate)


def round_bore(opening_m2: float) -> float:
    """Bore of the round pipe with the same opening [m]: how the code tables treat rectangular pipes."""
    return math.sqrt(4.0 * opening_m2 / math.pi)


def opening_rule(opening_m2: float, rate_mm_h: float, facts: Mapping[str, Fact]) -> float:
    """Flow by the sheet-metal trade's rule, so much roof for each piece of opening [L/s].

    opening_m2 : of the downspout [m2]. rate_mm_h : any; the rule's area falls as the rate rises, so its flow
    is the same at every rate. Cross-check only: it is linear in the opening, where a pipe's flow is not.
    """
    per_opening = facts["downspout.roof_per_opening"].value  # at the rate the rule is printed for
    printed_mm_h = facts["downspout.roof_per_opening_rate"].value
    area_m2 = per_opening * opening_m2 * printed_mm_h / rate_mm_h
    return area_m2 * rate_mm_h / 3600.0


def codes(facts: Mapping[str, Fact], kind: str) -> tuple[Code, ...]:
    """The codes' tables for ``"leader"`` (upright pipes) or ``"half-round"`` (gutters), in the facts' order.

    Facts are ``<kind>.<code>.flow.<size>`` with flows in gpm or L/s, or ``<kind>.<code>.roof.<size>`` with roof
    areas at 1 in/h in sq ft, as printed. InputError if a row has another unit.
    """
    found: dict[str, list[tuple[Size, str]]] = {}
    for key, fact in facts.items():
        parts = key.split(".", 3)
        if len(parts) == 4 and parts[0] == kind and parts[2] in ("flow", "roof"):
            size = Size(_length_m(parts[3]), _flow_l_s(fact), fact.status)
            found.setdefault(parts[1], []).append((size, fact.source))
    return tuple(
        Code(key, rows[0][1], tuple(sorted((size for size, _ in rows), key=lambda size: size.size_m)))
        for key, rows in found.items()
    )


def half_round_flow(width_m: ArrayLike) -> Floats:
    """Design flow of a level half-round eaves gutter of usual length with a free outlet [L/s].

    Parameters
    ----------
    width_m : float or array
        Inside width at the top [m]; the section is half a circle.

    Returns
    -------
    float or array

    Notes
    -----
    Nominally level (a fall of at most 10 mm in a metre) and at most 50 times as long as deep; for longer ones
    and for corners see `length_factor` and `corner_factor`. A square-fronted gutter of the same width holds
    more, so judging it as half round is the cautious side.

    Source
    ------
    EN 12056-3: 2.78e-5 L/s times mm2 of section^1.25, and nine tenths of it for design.

    Example
    -------
    >>> round(float(half_round_flow(0.100)), 4)
    0.7778
    """
    width_mm = np.asarray(width_m, dtype=np.float64) * MM_PER_M
    section_mm2 = math.pi / 8.0 * width_mm**2
    return np.asarray(0.9 * 2.78e-5 * section_mm2**1.25)


def length_factor(length_m: ArrayLike, depth_m: ArrayLike, facts: Mapping[str, Fact]) -> Floats:
    """Share of its design flow that a long level gutter keeps [1].

    length_m : along the gutter from its outlet to its end [m]. depth_m : of the gutter [m]. Straight lines
    between the listed ratios ``half-round-length.<length over depth>``; beyond the last it stays as there.
    """
    head = "half-round-length."
    points = sorted(
        (float(key.removeprefix(head)), fact.value) for key, fact in facts.items() if key.startswith(head)
    )
    ratios, shares = np.array(points).T
    ratio = np.asarray(length_m, dtype=np.float64) / np.asarray(depth_m, dtype=np.float64)
    return np.asarray(np.interp(ratio, ratios, shares))


def corner_factor(distance_m: float, facts: Mapping[str, Fact]) -> float:
    """Share of its design flow that a gutter with a corner keeps [1], by how far the corner is from the outlet.

    distance_m : from outlet to corner [m].
    """
    if distance_m < facts["half-round-corner.near_within"].value:
        return facts["half-round-corner.near"].value
    if distance_m <= facts["half-round-corner.far_within"].value:
        return facts["half-round-corner.far"].value
    return 1.0


def _flow_l_s(fact: Fact) -> float:
    if fact.unit == "gpm":
        return fact.value * GPM_L_S
    if fact.unit == "sq ft at 1 in/h":
        return fact.value * SQ_FT_M2 * INCH_M * MM_PER_M / 3600.0
    if fact.unit == "L/s":
        return fact.value
    what = "A gutter table is in gpm, in L/s, or in sq ft at 1 in/h."
    raise InputError(Problem(what, "Write one of these units.", fact.origin, field=fact.key, found=fact.unit))


def _length_m(text: str) -> float:
    number = text.rstrip("abcdefghijklmnopqrstuvwxyz")
    unit = {"in": INCH_M, "mm": 1 / MM_PER_M}.get(text[len(number) :])
    if unit is None:
        raise InputError(Problem("A size in a gutter table ends in in or mm.", field="key", found=text))
    return float(number) * unit
