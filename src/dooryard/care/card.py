"""The label card: what a person typed from the label in hand. Without one there is no amount."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from dooryard.care.rate import Rate

Bloom = Literal["never on open bloom", "evening only", "no limit"]


@dataclass(frozen=True)
class Use:
    """One use the label allows. What the label does not say is None, and nothing is put in its place.

    name : this use's own name. sites, plants, pests : as on the label. rate : of product.
    interval_d, interval_most_d : least and most days from one treatment to the next [d].
    season_most : treatments a season. harvest_d : from the last treatment to picking [d].
    reentry_h : before anyone goes back in [h], 0 for "when dry". rain_fast_h : without rain afterwards [h].
    coldest_c, hottest_c : air while treating [degC]. windiest_m_s : [m/s]. water_m : distance to keep from water [m].
    bloom : what it says of open flowers. trunk_most_m : largest trunk diameter it may be used on [m].
    """

    name: str
    sites: tuple[str, ...]
    plants: tuple[str, ...]
    pests: tuple[str, ...]
    rate: Rate | None = None
    interval_d: int | None = None
    interval_most_d: int | None = None
    season_most: int | None = None
    harvest_d: int | None = None
    reentry_h: float | None = None
    rain_fast_h: float | None = None
    coldest_c: float | None = None
    hottest_c: float | None = None
    windiest_m_s: float | None = None
    water_m: float | None = None
    bloom: Bloom | None = None
    trunk_most_m: float | None = None


@dataclass(frozen=True)
class Card:
    """A label as typed.

    name : the office's own name for it, never a brand. material : active ingredient. share : of it in the product.
    kind : what it is, such as "fungicide". read_on, read_by, second_reader : who typed it and who checked it.
    good_until : last day its registration or the county's permission is known to hold.
    bees : the label's own words on bees, shortened. licensed_only : whether only a licensed person may apply it.
    """

    name: str
    material: str
    kind: str
    read_on: date
    read_by: str
    second_reader: str
    uses: tuple[Use, ...]
    share: float | None = None
    good_until: date | None = None
    bees: str = ""
    licensed_only: bool = False

    def uses_on(self, plant: str, pest: str = "") -> tuple[Use, ...]:
        """The uses that name a plant, and a pest if one is asked for. plant, pest : words, capitals do not matter."""
        wanted, against = _plain(plant), _plain(pest)
        return tuple(
            use
            for use in self.uses
            if wanted in map(_plain, use.plants) and (not against or against in map(_plain, use.pests))
        )


def _plain(text: str) -> str:
    return " ".join(text.lower().replace("-", " ").split())
