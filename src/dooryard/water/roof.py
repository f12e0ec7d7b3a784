"""The roof survey: how much ground each roof section covers and how sure that is, and where it drains.

Two areas are told apart. The *plan* area decides how much water comes: a steep roof catches no more than a
flat one over the same ground. The *driven* area decides how fast it can come, because in a hard rain the wind
blows drops against a slope or a wall: it sizes gutters and downspouts and never adds a litre to a barrel.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.knowledge import Fact, Knowledge
from dooryard.weather.record import WeatherRecord
from dooryard.yard.model import Roof, RoofPart, Yard

Floats = NDArray[np.float64]

MONTHS = 12
_INCH_RISE = 1 / 12  # pitches of the trade's table are inches of rise in a foot of run


class Range(NamedTuple):
    """A value between two ends, all in one unit."""

    low: float
    value: float
    high: float


@dataclass(frozen=True, slots=True)
class DrivenArea:
    """Area a gutter must be sized for by three conventions, each with the wall above it [m2].

    plan_m2 : nothing but the plan area. european_m2 : rain that falls two down to one across (EN 12056-3).
    trade_m2 : the factor US gutter trades take by pitch. pitch_known : False if the roof's pitch is not known
    and was taken as flat, which makes all three the same.
    """

    plan_m2: float
    european_m2: float
    trade_m2: float
    wall_m2: float
    pitch_known: bool

    @property
    def largest_m2(self) -> float:
        """The most cautious of the three [m2]."""
        return max(self.plan_m2, self.european_m2, self.trade_m2)


@dataclass(frozen=True, slots=True)
class Section:
    """One roof section as surveyed.

    area_m2 : plan area [m2]. coefficient : share of the rain that leaves it wet [1]. litres_per_mm : what a
    millimetre of rain brings once it is wet [L]; its ends take area and coefficient at their ends together.
    """

    name: str
    downspout: str
    covering: str
    area_m2: Range
    coefficient: Range
    litres_per_mm: Range
    driven: DrivenArea


@dataclass(frozen=True, slots=True)
class Drain:
    """A downspout and what comes to it: its sections, their plan and driven areas, the storages it feeds."""

    downspout: str
    opening_m2: float
    sections: tuple[Section, ...]
    storages: tuple[str, ...]
    area_m2: Range
    litres_per_mm: Range

    @property
    def driven_m2(self) -> Range:
        """Area to size the pipe for [m2]: plan area, US trade's, and the most cautious of the conventions."""
        plan = sum(section.driven.plan_m2 for section in self.sections)
        trade = sum(section.driven.trade_m2 for section in self.sections)
        return Range(plan, trade, sum(section.driven.largest_m2 for section in self.sections))


def part_area(part: RoofPart, tape_error_m: float) -> Range:
    """Plan area of one slope if each of its measures may be wrong by so much [m2].

    tape_error_m : how far eave, ridge and run may each be off, either way [m]. The ends take all errors on the
    same side, so the truth lies between them; a triangle's missing ridge is exact.
    """

    def shifted(by_m: float) -> float:
        ridge_m = part.ridge_m + by_m if part.ridge_m > 0.0 else 0.0
        edges_m = max(part.eave_m + by_m, 0.0) + max(ridge_m, 0.0)
        return edges_m / 2.0 * max(part.run_m + by_m, 0.0)

    return Range(shifted(-tape_error_m), part.area_m2, shifted(tape_error_m))


def plan_area(roof: Roof, facts: Mapping[str, Fact]) -> Range:
    """Plan area of a section with the spread its measures leave [m2].

    Parameters
    ----------
    roof : Roof
    facts : mapping
        ``roof.tape_error`` where the roof does not state its own, ``roof.area_error`` (a share) where only an
        area is given and nobody knows how it was found.

    Returns
    -------
    Range
    """
    if roof.parts:
        error_m = facts["roof.tape_error"].value if roof.tape_error_m is None else roof.tape_error_m
        return _sum([part_area(part, error_m) for part in roof.parts])
    if roof.tape_error_m is not None:
        # Only the product is known: the two sides are taken as equal.
        side_m = roof.area_m2**0.5
        low_m, high_m = max(side_m - roof.tape_error_m, 0.0), side_m + roof.tape_error_m
        return Range(low_m**2, roof.area_m2, high_m**2)
    share = facts["roof.area_error"].value
    return Range(roof.area_m2 * (1 - share), roof.area_m2, roof.area_m2 * (1 + share))


def driven_area(roof: Roof, facts: Mapping[str, Fact]) -> DrivenArea:
    """What a section's gutter must be sized for when wind drives the rain [m2]; never for yield.

    Source
    ------
    EN 12056-3 as given by two trade guides: length times (width + height / 2), which is the plan area times
    (1 + pitch / 2) for a slope of any outline. US gutter trades: a factor by steps of pitch. Plumbing codes:
    half of a wall that sheds onto the roof.
    """
    slopes = [(part.area_m2, part.pitch) for part in roof.parts] or [(roof.area_m2, roof.pitch)]
    half_wall_m2 = (roof.wall_above_m2 or 0.0) * facts["roof.wall_share"].value
    known = all(pitch is not None for _, pitch in slopes)
    pitches = [(area_m2, pitch or 0.0) for area_m2, pitch in slopes]
    return DrivenArea(
        plan_m2=roof.area_m2 + half_wall_m2,
        european_m2=sum(area_m2 * (1.0 + pitch / 2.0) for area_m2, pitch in pitches) + half_wall_m2,
        trade_m2=sum(area_m2 * trade_factor(pitch, facts) for area_m2, pitch in pitches) + half_wall_m2,
        wall_m2=roof.wall_above_m2 or 0.0,
        pitch_known=known,
    )


def trade_factor(pitch: float, facts: Mapping[str, Fact]) -> float:
    """Factor of US gutter trades for wind-driven rain [1], from the facts ``roof.wind_factor.<rise>in12``.

    pitch : rise over run. The factor of a step holds from its rise upwards to the next.
    """
    head = "roof.wind_factor."
    steps = sorted(
        (float(key.removeprefix(head).removesuffix("in12")), fact.value)
        for key, fact in facts.items()
        if key.startswith(head)
    )
    # A hair of slack, so that a pitch typed as the step itself is not rounded below it.
    return [factor for rise, factor in steps if rise * _INCH_RISE <= pitch + 1e-9][-1]


def survey(yard: Yard, knowledge: Knowledge) -> tuple[Section, ...]:
    """Every roof section of a yard, in the file's order."""
    return tuple(_section(roof, knowledge) for roof in yard.roofs)


def drains(yard: Yard, knowledge: Knowledge) -> tuple[Drain, ...]:
    """Every downspout with what comes to it and where it goes, in the file's order."""
    sections = survey(yard, knowledge)
    found = []
    for spout in yard.downspouts:
        own = tuple(section for section in sections if section.downspout == spout.name)
        found.append(
            Drain(
                spout.name,
                spout.area_m2,
                own,
                tuple(storage.name for storage in yard.storages if spout.name in storage.fed_by),
                _sum([section.area_m2 for section in own]),
                _sum([section.litres_per_mm for section in own]),
            )
        )
    return tuple(found)


def gives(litres_per_mm: Range, rain_mm: ArrayLike) -> tuple[Floats, Floats, Floats]:
    """Least, likely and most water from a depth of rain or an array of depths [L]: "one inch gives …".

    litres_per_mm : of a section or of a drain [L]. rain_mm : depths [mm]. Losses by single rains are lumped in
    the coefficient: good for months and years, an upper figure for a single light rain.
    """
    depth = np.asarray(rain_mm, dtype=np.float64)
    low, value, high = (np.asarray(depth * litres) for litres in litres_per_mm)
    return low, value, high


def monthly_rain(record: WeatherRecord) -> Floats:
    """Mean rain of January to December over the months without a missing day [mm], (12,).

    A month that was never whole is NaN.
    """
    month = record.dates.astype("datetime64[M]").astype(int)
    first = int(month[0]) if month.size else 0
    count = int(month[-1]) - first + 1 if month.size else 0
    totals = np.bincount(
        month - first, weights=record.rain_mm, minlength=count
    )  # NaN of a day spoils its month
    days = np.bincount(month - first, minlength=count)
    due = (np.arange(first + 1, first + count + 1).astype("datetime64[M]").astype("datetime64[D]")) - (
        np.arange(first, first + count).astype("datetime64[M]").astype("datetime64[D]")
    )
    whole = ~np.isnan(totals) & (days == due.astype(int))
    of_year = (np.arange(first, first + count)) % MONTHS
    return np.array(
        [
            totals[whole & (of_year == which)].mean() if (whole & (of_year == which)).any() else np.nan
            for which in range(MONTHS)
        ]
    )


def _section(roof: Roof, knowledge: Knowledge) -> Section:
    covering = knowledge.coverings[roof.covering]
    area = plan_area(roof, knowledge.facts)
    share = Range(covering.low, covering.coefficient, covering.high)
    litres = Range(*(m2 * part for m2, part in zip(area, share, strict=True)))
    driven = driven_area(roof, knowledge.facts)
    return Section(roof.name, roof.downspout, roof.covering, area, share, litres, driven)


def _sum(ranges: list[Range]) -> Range:
    return Range(*(sum(one[end] for one in ranges) for end in range(3)))
