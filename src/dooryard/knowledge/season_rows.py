"""Rows about what happens when: bloom, soil warmth, germination, wet leaves, chill, windows of fixed dates.

As in `rows`: every row has its source, its status and its origin. Temperatures are in degrees Celsius, turned
exactly from the printed Fahrenheit where that was printed; the note then keeps the printed number.
"""

from __future__ import annotations

from dataclasses import dataclass

BLOOM_EVENTS = ("first bloom", "full bloom", "early bloom", "late bloom", "in bloom")


@dataclass(frozen=True, slots=True)
class Bloom:
    """A plant's bloom by warmth: degree-days [degC.d] above ``base_c``, summed from ``start``.

    ``start`` is month-day ("01-01") or "not stated"; ``method`` is how the list sums, or "not stated". Rows of
    one list (same source, same start) stand in a true order; rows of two lists must not be compared.
    """

    key: str
    plant: str
    event: str
    low_cd: float
    base_c: float
    start: str
    method: str
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class SoilTemperature:
    """Soil warmth for a seed or transplant [degC], as one source gives it; None where it says nothing.

    A crop may have several rows: one for each source, and they may differ.
    """

    key: str
    crop: str
    name: str
    minimum_c: float | None
    realistic_c: float | None
    optimum_c: float | None
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Germination:
    """Days from sowing to seedling at one soil temperature [degC]; ``grows`` False: tried, and none came up.

    ``days`` is None where none came up. A temperature that was not tried has no row.
    """

    crop: str
    name: str
    temperature_c: float
    days: float | None
    grows: bool
    source: str
    status: str
    origin: str


INFECTION_SEVERITIES = ("any", "light", "severe")


@dataclass(frozen=True, slots=True)
class Infection:
    """Hours a leaf must stay wet for a disease to enter, at temperatures from ``t_low_c`` to ``t_high_c``."""

    key: str
    disease: str
    severity: str
    t_low_c: float
    t_high_c: float
    wet_hours: float
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Severity:
    """A day's severity value: mean temperature of the wet spell [degC], whole wet hours, both ends included.

    ``wet_high_h`` is None where every longer spell counts the same.
    """

    key: str
    disease: str
    t_low_c: float
    t_high_c: float
    wet_low_h: int
    wet_high_h: int | None
    value: int
    source: str
    status: str
    origin: str


@dataclass(frozen=True, slots=True)
class Chill:
    """What one hour counts towards a plant's winter rest: ``weight``, at temperatures above one and up to another.

    ``above_c`` None: no lower end; ``upto_c`` None: no upper end. The upper end belongs to the step unless
    the note says otherwise.
    """

    key: str
    model: str
    above_c: float | None
    upto_c: float | None
    weight: float
    source: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class DatedWindow:
    """A time of the year given by dates only (month-day), true of ``place`` and of no other.

    ``latitude`` of that place [degree north], None where the source names no one place.
    """

    key: str
    organism: str
    name: str
    opens: str
    closes: str
    place: str
    latitude: float | None
    source: str
    status: str
    note: str
    origin: str
