"""What can be sown into soil of a given warmth, and how long seed then takes to come up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from dooryard.knowledge.season_rows import Germination, SoilTemperature


@dataclass(frozen=True, slots=True)
class Emergence:
    """Days from sowing to seedling [d]; None with the reason if they cannot be given."""

    days: float | None
    refused: str = ""


def days_to_emerge(rows: Sequence[Germination], soil_c: float) -> Emergence:
    """Days until seed comes up at a soil temperature, on a straight line between the two tried nearest to it.

    Parameters
    ----------
    rows : sequence of Germination
        One crop's rows, in any order.
    soil_c : float
        Warmth of the soil around the seed [degC], taken as the same all the while.

    Returns
    -------
    Emergence
        Refused outside the tried temperatures, and next to one at which none came up: there the line would
        lead from days to never.

    Example
    -------
    Tomato takes 14 days at 59 °F and 8 at 68 °F, so 11 at 63.5 °F.
    """
    tried = sorted(rows, key=lambda row: row.temperature_c)
    same = next((row for row in tried if abs(row.temperature_c - soil_c) < 1e-9), None)
    below = same or max((r for r in tried if r.temperature_c < soil_c), key=_warmth, default=None)
    above = same or min((r for r in tried if r.temperature_c > soil_c), key=_warmth, default=None)
    if below is None or above is None:
        colder = below is None
        return Emergence(None, f"so {'cold' if colder else 'warm'} a soil was not tried")
    if below.days is None or above.days is None:
        # Cold on the one side and heat on the other stop seed; the side without seedlings says which.
        seedlings = [row.temperature_c for row in tried if row.grows]
        if below.days is None and above.days is None and not seedlings:
            return Emergence(None, "none came up at any warmth tried")
        cold = below.days is None and (not seedlings or soil_c < max(seedlings))
        return Emergence(None, f"the soil is too {'cold' if cold else 'warm'} for this seed, or close to it")
    if same is not None:
        return Emergence(below.days)
    share = (soil_c - below.temperature_c) / (above.temperature_c - below.temperature_c)
    return Emergence(below.days + share * (above.days - below.days))


def _warmth(row: Germination) -> float:
    return row.temperature_c


Readiness = Literal["too cold", "slow", "ready"]


@dataclass(frozen=True, slots=True)
class Sowing:
    """Whether a crop may be sown into soil of some warmth.

    word : "too cold" below the lowest that any source gives; "slow" from there to the warmth that promises a
    stand; "ready" from there on. least_c, good_c : those two limits [degC], None where no source gives one.
    sources disagree : True if they give different lowest temperatures.
    """

    crop: str
    name: str
    word: Readiness
    least_c: float | None
    good_c: float | None
    differ: bool
    sources: tuple[str, ...]


def sowings(rows: Sequence[SoilTemperature], soil_c: float) -> tuple[Sowing, ...]:
    """Each crop of a soil temperature table against the soil's warmth [degC], in the table's order of crops.

    Parameters
    ----------
    rows : sequence of SoilTemperature
        A crop may have rows of several sources. The lowest limit is the lowest any of them gives; the good one is
        the highest "realistic" one, else the highest lowest one.
    soil_c : float
        Warmth of the soil at seed depth in the morning [degC].
    """
    crops: dict[str, list[SoilTemperature]] = {}
    for row in rows:
        crops.setdefault(row.crop, []).append(row)
    found = []
    for crop, own in crops.items():
        lowest = [row.minimum_c for row in own if row.minimum_c is not None]
        realistic = [row.realistic_c for row in own if row.realistic_c is not None]
        if not lowest and not realistic:
            continue
        good = max(realistic or lowest)
        least = min(lowest) if lowest else None
        word: Readiness = "ready" if soil_c >= good - 1e-9 else "slow"
        if soil_c < (good if least is None else least) - 1e-9:
            word = "too cold"
        differ = len({round(value, 6) for value in lowest}) > 1
        sources = tuple(dict.fromkeys(row.source for row in own))
        found.append(Sowing(crop, own[0].name, word, least, good, differ, sources))
    return tuple(found)
