"""A yard as the rest of the program sees it: frozen records in canonical units (m, m2, L, kg).

Names tie the records together: a roof names its downspout, a barrel the downspouts that feed it, a bed the
barrel it is watered from. A yard made by the reader has no dangling names.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field
from math import pi
from typing import Literal, Protocol, TypeVar

from dooryard.problem import Problem
from dooryard.units import System

How = Literal["can", "hose", "drip", "soaker"]
Sure = Literal["certain", "likely", "unsure"]
Storms = Literal["type-i", "type-ia", "type-ii", "type-iii"]
Shape = Literal["rectangle", "gable", "hip", "triangle"]

TAP = "tap"
"""A bed `watered_from` the house supply."""
RAIN = "rain"
"""A bed `watered_from` nothing but rain."""
GROUND = "ground"
"""A storage that `empties_to` open ground."""
DOWNSPOUT = "downspout"
"""A storage whose surplus goes down the old downspout (a diverter)."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the yard is, in degrees (north and east positive) and metres, and whose weather it has.

    station : the station's name in words. weather : its record's file as written in the yard file, relative
    to the yard file; None if the record is named on the command line. rain_gauge, design_rain : likewise the
    files of a sub-daily rain record and of a design table. storm_pattern : key of a 24-hour storm pattern,
    None if not said. night_offset_c : added to the station's lowest temperatures [degC], below 0 for low ground.
    """

    latitude: float
    longitude: float
    elevation_m: float
    station: str
    weather: str | None = None
    rain_gauge: str | None = None
    design_rain: str | None = None
    storm_pattern: Storms | None = None
    night_offset_c: float = 0.0


@dataclass(frozen=True, slots=True)
class Household:
    """Small children near the water? Anything from the yard eaten? Both true if not stated.

    water_price_m3 : what tap water costs [dollars/m3], None if nobody said.
    """

    children: bool = True
    vegetables: bool = True
    water_price_m3: float | None = None


@dataclass(frozen=True, slots=True)
class RoofPart:
    """One slope of a roof seen from above: a strip between its eave and its ridge.

    eave_m, ridge_m : lengths of the lower and the upper edge; a triangle has no ridge. run_m : from eave to
    ridge on the ground. pitch : rise over run, None if not known.
    """

    shape: Shape
    eave_m: float
    ridge_m: float
    run_m: float
    pitch: float | None = None

    @property
    def area_m2(self) -> float:
        """Its plan area [m2]: the mean of the two edges times the run."""
        return (self.eave_m + self.ridge_m) / 2 * self.run_m


@dataclass(frozen=True, slots=True)
class Roof:
    """The part of a roof that drains to one downspout.

    area_m2 : plan area (the footprint under the eaves), not the sloping surface. covering : key of the
    coverings table. metals : metals the water runs over. treated : against moss or algae, in the last years.
    parts : the slopes it was measured by; empty if only the area is given. pitch : rise over run, None if not
    known. tape_error_m : how wrong each measure may be, None if not said. wall_above_m2 : wall that sheds
    onto it.
    """

    name: str
    area_m2: float
    covering: str
    downspout: str
    metals: tuple[str, ...] = ()
    treated: bool = False
    measured_twice: bool = False
    parts: tuple[RoofPart, ...] = ()
    pitch: float | None = None
    tape_error_m: float | None = None
    gutter_width_m: float | None = None
    wall_above_m2: float | None = None


@dataclass(frozen=True, slots=True)
class Downspout:
    """A downspout by its inside size: width and depth, or the bore alone if it is round.

    diverted_share : part of its water that goes to the storages it feeds; the rest runs down the old spout.
    """

    name: str
    width_m: float
    depth_m: float | None = None
    diverted_share: float = 1.0

    @property
    def area_m2(self) -> float:
        """Area of its opening [m2]."""
        return pi / 4 * self.width_m**2 if self.depth_m is None else self.width_m * self.depth_m


@dataclass(frozen=True, slots=True)
class Storage:
    """A barrel or tank. Heights of outlet and overflow are measured from its own bottom.

    volume_l : what it holds to the rim. stand_base_m : (width, depth) of the stand. stand_on : key of the
    bearing soils table. fed_by : downspouts. linked_to : storages joined at the bottom, so that they share
    one level. empties_to : where the overflow goes: another storage, a bed, `GROUND` or `DOWNSPOUT`.
    wall_distance_m : from the house wall to where the overflow lets its water out. ground_drop_m : fall of the
    ground over the first 10 ft from the wall, below zero if it falls towards it. daily_use_l : taken each
    day for other purposes than the beds, only on `use_days` (weekdays; none named is every day) and only when
    the last `use_after_dry_days` days, that day included, were dry. off_months : months in which it is off its
    downspout and empty; None for those of the usual hard freezes. width_m : the side of a tank that is not round
    which is seen from in front, for its drawing.
    """

    name: str
    volume_l: float
    diameter_m: float | None = None
    height_m: float | None = None
    outlet_height_m: float | None = None
    overflow_height_m: float | None = None
    overflow_bore_m: float | None = None
    stand_height_m: float | None = None
    stand_base_m: tuple[float, float] | None = None
    stand_on: str | None = None
    empty_mass_kg: float | None = None
    fed_by: tuple[str, ...] = ()
    linked_to: tuple[str, ...] = ()
    empties_to: str | None = None
    wall_distance_m: float | None = None
    ground_drop_m: float | None = None
    first_flush_l: float = 0.0
    daily_use_l: float = 0.0
    use_days: tuple[str, ...] = ()
    use_after_dry_days: int = 0
    off_months: tuple[str, ...] | None = None
    width_m: float | None = None

    @property
    def section_m2(self) -> float | None:
        """Water area inside, taken as the same at every height [m2]; None if nothing tells it.

        The stated volume over the height, not the outside diameter: walls, ribs and a domed head take some
        of the outside measure. The diameter serves only where no height is given.
        """
        if self.height_m is not None:
            return self.volume_l / (self.height_m * 1000)
        if self.diameter_m is not None:
            return pi / 4 * self.diameter_m**2
        return None

    @property
    def dead_l(self) -> float:
        """Water below the outlet, which no tap reaches [L]; 0 if the outlet's height is not known."""
        return self._below_l(self.outlet_height_m, 0.0)

    @property
    def full_l(self) -> float:
        """What it holds up to the overflow [L]; the whole volume if the overflow's height is not known."""
        return self._below_l(self.overflow_height_m, self.volume_l)

    @property
    def active_l(self) -> float:
        """What can be stored and taken out again: up to the overflow, less the water below the outlet [L]."""
        return self.full_l - self.dead_l

    def _below_l(self, height_m: float | None, unknown_l: float) -> float:
        section = self.section_m2
        if height_m is None or section is None:
            return unknown_l
        return min(self.volume_l, section * height_m * 1000)


@dataclass(frozen=True, slots=True)
class Bed:
    """A bed: what grows (key of the crops table), in what soil (key of the soils table), watered how.

    watered_from : a storage, `TAP` or `RAIN`. height_m : of its soil above the ground the barrels stand on.
    watering_days : weekdays on which it is watered; none named is whenever its soil is due. watering_l : given
    each time; None is what the soil lacks. watering_after_dry_days : as `Storage.use_after_dry_days`.
    hose_length_m, hose_bore_m : of the hose or tube from the barrel. emitters : of a drip line, None if not
    counted. emitter_flow_l_s, emitter_pressure_kpa : what one of them, or the whole soaker, gives at its rated
    pressure. compensating : whether they hold their flow, and so need a pressure to open. timer : whether a
    timer, electric valve or vacuum breaker sits in the line.
    """

    name: str
    area_m2: float
    grows: str
    soil: str
    watered_from: str
    how: How = "can"
    height_m: float = 0.0
    planted: dt.date | None = None
    last_watered: dt.date | None = None
    watering_days: tuple[str, ...] = ()
    watering_l: float | None = None
    watering_after_dry_days: int = 0
    hose_length_m: float | None = None
    hose_bore_m: float | None = None
    emitters: int | None = None
    emitter_flow_l_s: float | None = None
    emitter_pressure_kpa: float | None = None
    compensating: bool = False
    timer: bool = False


@dataclass(frozen=True, slots=True)
class Plant:
    """A tree, shrub or hedge. kind : plain common name ("juniper"). girth_m : around the trunk at 1.4 m."""

    name: str
    kind: str
    girth_m: float | None = None
    height_m: float | None = None
    spread_m: float | None = None
    in_bloom: bool | None = None


@dataclass(frozen=True, slots=True)
class Sighting:
    """Something seen on a plant or bed: which organism, or what sign of it, and how sure the eye was."""

    date: dt.date
    plant: str
    organism: str | None
    sign: str | None
    sure: Sure


@dataclass(frozen=True, slots=True)
class Level:
    """A reading: what stood in a storage that day, stranded water included [L]."""

    storage: str
    date: dt.date
    volume_l: float


class _Named(Protocol):
    @property
    def name(self) -> str: ...


_N = TypeVar("_N", bound=_Named)


@dataclass(frozen=True, slots=True)
class Yard:
    """One yard. `notes` are things worth a look that are no mistakes; they do not count in comparisons."""

    name: str
    units: System
    place: Place
    household: Household = Household()
    roofs: tuple[Roof, ...] = ()
    downspouts: tuple[Downspout, ...] = ()
    storages: tuple[Storage, ...] = ()
    beds: tuple[Bed, ...] = ()
    plants: tuple[Plant, ...] = ()
    sightings: tuple[Sighting, ...] = ()
    levels: tuple[Level, ...] = ()
    notes: tuple[Problem, ...] = field(default=(), compare=False)

    def roof(self, name: str) -> Roof:
        """The roof of that name; KeyError if there is none."""
        return _named(self.roofs, name)

    def downspout(self, name: str) -> Downspout:
        """The downspout of that name; KeyError if there is none."""
        return _named(self.downspouts, name)

    def storage(self, name: str) -> Storage:
        """The storage of that name; KeyError if there is none."""
        return _named(self.storages, name)

    def bed(self, name: str) -> Bed:
        """The bed of that name; KeyError if there is none."""
        return _named(self.beds, name)

    def plant(self, name: str) -> Plant:
        """The plant of that name; KeyError if there is none."""
        return _named(self.plants, name)

    def roofs_of(self, downspout: str) -> tuple[Roof, ...]:
        """The roof sections that drain to a downspout."""
        return tuple(roof for roof in self.roofs if roof.downspout == downspout)


def _named(places: Iterable[_N], name: str) -> _N:
    for place in places:
        if place.name == name:
            return place
    raise KeyError(name)
