"""Is a record in the units it is taken to be in? If not, its values are put aside until a person says.

Two things give a wrong unit away: more values beyond all weather than slips of the pen explain, and days and
nights, or wet days, that no climate has. A doubt names the slips that would put the values right; nothing is
ever converted on a guess. Where the layout fixes the unit, or a person has stated it, an unlikely climate is told
and kept.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.doubts import doubting, shown, told
from dooryard.weather.limits import Limits, QualityLimits
from dooryard.weather.record import STATED, WORDS, Floats, Issue, WeatherRecord

Days = NDArray[np.bool_]
Finding = tuple[WeatherRecord, tuple[Issue, ...]]

STATE = (
    "Not used until the unit is sure: correct it in the header, or, if it is right, put a first line such as "
)
STATE += '"# units: metric" (or standard, or tenths) into the file.'
"""What a person does about an open doubt."""

_DEGREES = ("t_min_c", "t_max_c", "t_mean_c", "dew_point_c")
_SLIPS_C: Mapping[str, Callable[[Floats], Floats]] = MappingProxyType(
    {
        "ten times as much": lambda values: values * 10.0,
        "a tenth of it": lambda values: values / 10.0,
        "degrees Fahrenheit": lambda values: (values - 32.0) * 5.0 / 9.0,
        "degrees Celsius taken for Fahrenheit": lambda values: values * 1.8 + 32.0,
        "kelvin": lambda values: values - 273.15,
        "ten times as much in Fahrenheit": lambda values: ((values * 1.8 + 32.0) * 10.0 - 32.0) / 1.8,
        "a tenth of it in Fahrenheit": lambda values: ((values * 1.8 + 32.0) / 10.0 - 32.0) / 1.8,
    }
)
_SLIPS_MM: Mapping[str, float] = MappingProxyType(
    {
        "ten times as much": 10.0,
        "a tenth of it": 0.1,
        "inches": 25.4,
        "millimetres taken for inches": 1 / 25.4,
    }
)
_YEAR_D = 360
_FEW_DAYS = 30  # fewer days than this say nothing about how far day and night differ
_FEW_WET_DAYS = 100
_KINDS_OF_VALUE = 3  # one or two numbers again and again are a code for a missing value


@dataclass(frozen=True, slots=True)
class Said:
    """What is known of a record beforehand.

    fixed : its layout has only one system of units. stated : a person has said them. rain_checked : a person has
    compared rain that looks like none with the station.
    """

    fixed: bool = False
    stated: bool = False
    rain_checked: bool = False

    @property
    def known(self) -> bool:
        """True if an unlikely climate is no reason to put a value aside."""
        return self.fixed or self.stated


def doubt_units(record: WeatherRecord, bounds: Limits, quality: QualityLimits, said: Said) -> Finding:
    """The record with values under an open unit doubt NaN and SUSPECT, and the findings."""
    issues: tuple[Issue, ...] = ()
    for check in (_degrees_beyond, _rain_beyond, _odd_days_and_nights):
        record, found = check(record, bounds, quality, said)
        issues += found
    record, found = _odd_wet_days(record, bounds, said)
    return record, issues + found


def settle(
    record: WeatherRecord, where: Days, elements: tuple[str, ...], issue: tuple[Issue, ...], said: Said
) -> Finding:
    """The record and its finding: the values put aside, or, if the units are known, kept and told so."""
    if said.known:
        why = "a person stated the unit" if said.stated else "the layout fixes the unit"
        instead = f"Kept, as {why}."
        return record, tuple(replace(one, kind=STATED, instead=instead) for one in issue)
    return doubting(record, {name: where & ~np.isnan(record.element(name)) for name in elements}), issue


def _degrees_beyond(record: WeatherRecord, bounds: Limits, quality: QualityLimits, said: Said) -> Finding:
    """Too many temperatures above, or below, any on record."""
    there = tuple(name for name in _DEGREES if name in record.elements)
    stretch = np.zeros(len(record.dates), dtype=bool)
    evidence = []
    for name in there[:3]:
        values = record.element(name)
        for limit, beyond in (
            (bounds.hottest_c, values > bounds.hottest_c),
            (bounds.coldest_c, values < bounds.coldest_c),
        ):
            if not _too_many(values, beyond, quality):
                continue
            stretch |= _around(beyond, int(quality.unit_reach_d))
            most = values[beyond][np.argmax(np.abs(values[beyond]))]
            side = "above" if limit > 0 else "below"
            evidence.append(
                f"{int(beyond.sum()):,} values of the {WORDS[name]} lie {side} {shown(name, limit)}, such as "
                f"{shown(name, float(most))}"
            )
    # A person who states the unit is believed about the rest; what no weather brings is taken out one by one.
    if not stretch.any() or said.stated:
        return record, ()
    known = stretch & ~(np.isnan(record.t_min_c) & np.isnan(record.t_max_c))
    fits = _fitting_degrees(record.t_min_c[stretch], record.t_max_c[stretch], bounds, quality)
    text = f"Too many temperatures are beyond any weather on record: {_supposed(fits)}"
    issue = told("units", known, record, text, STATE, evidence="; ".join(evidence + _as_explained(fits)))
    return settle(record, stretch, there, issue, Said())


def _rain_beyond(record: WeatherRecord, bounds: Limits, quality: QualityLimits, said: Said) -> Finding:
    """Too many wet days above any on record."""
    rain = record.rain_mm
    beyond = rain > bounds.wettest_day_mm
    if said.stated or not beyond.any() or not _too_many(np.where(rain > 0, rain, np.nan), beyond, quality):
        return record, ()
    stretch = _around(beyond, int(quality.unit_reach_d))
    wet = rain[stretch & (rain > 0)]
    fits = _fitting_depths(wet, bounds)
    text = f"Too many days have more rain than any day on record: {_supposed(fits)}"
    evidence = [
        f"{int(beyond.sum()):,} of {wet.size:,} wet days, the wettest with {float(wet.max()):,.0f} mm"
    ]
    where = stretch & ~np.isnan(rain)
    issue = told(
        "units",
        where,
        record,
        text,
        STATE,
        element="rain_mm",
        evidence="; ".join(evidence + _as_explained(fits)),
    )
    return settle(record, stretch, ("rain_mm",), issue, Said())


def _odd_days_and_nights(
    record: WeatherRecord, bounds: Limits, quality: QualityLimits, said: Said
) -> Finding:
    """Days and nights that differ as nowhere, or a year or more without one warm day."""
    spread = record.t_max_c - record.t_min_c
    both = ~np.isnan(spread)
    days = np.count_nonzero(both)
    if days < bounds.short_record_days:
        return record, ()
    whole = days >= _YEAR_D
    least_c = bounds.daily_range_low_c if whole else bounds.daily_range_short_c
    usual = _middle(spread if days == len(spread) else spread[both])
    odd = not least_c <= usual <= bounds.daily_range_high_c
    warm = not whole or (
        np.count_nonzero(record.t_max_c >= bounds.coolest_summer_c) > quality.beyond_share * days
    )
    if not odd and warm:
        return record, ()
    fits = _fitting_degrees(record.t_min_c, record.t_max_c, bounds, quality)
    if odd:
        text = f"Day and night differ by {usual:.1f} degC as a rule: {_supposed(fits)}"
    else:
        hottest = _nearly_highest(record.t_max_c[both], quality.beyond_share)
        text = f"Of {{days}} hardly one is warmer than {hottest:.1f} degC: {_supposed(fits)}"
    evidence = "; ".join(_as_explained(fits))
    issue = told("units", both, record, text, STATE, evidence=evidence)
    if not fits and usual <= bounds.daily_range_high_c:
        # An island in the sea or a glacier: strange, but no slip of the pen makes it less so.
        return record, (replace(issue[0], instead="Kept. Check where this station stands, and its unit."),)
    there = tuple(name for name in _DEGREES if name in record.elements)
    return settle(record, np.ones(len(both), dtype=bool), there, issue, said)


def _odd_wet_days(record: WeatherRecord, bounds: Limits, said: Said) -> Finding:
    """Wet days that bring next to nothing, or a flood, on average."""
    rain = record.rain_mm
    raining = rain > 0
    count = np.count_nonzero(raining)
    if count < _FEW_WET_DAYS:
        return record, ()
    mean = (
        float(np.where(raining, rain, 0.0).sum()) / count
    )  # picking the wet days out would take ten times as long
    if bounds.wet_day_low_mm <= mean <= bounds.wet_day_high_mm:
        return record, ()
    wet = rain[raining]
    fits = _fitting_depths(wet, bounds)
    amount = f"{mean:.2f}" if mean < 1 else f"{mean:,.0f}"
    text = f"A wet day brings {amount} mm on average: {_supposed(fits)}"
    there = ~np.isnan(rain)
    evidence = "; ".join(_as_explained(fits))
    issue = told("units", there, record, text, STATE, element="rain_mm", evidence=evidence)
    return settle(record, there, ("rain_mm",), issue, said)


def _too_many(values: Floats, beyond: Days, quality: QualityLimits) -> bool:
    """More values than single slips explain, and not one code for a missing value again and again."""
    count = np.count_nonzero(beyond)
    if count < quality.beyond_days or count <= quality.beyond_share * np.count_nonzero(~np.isnan(values)):
        return False
    return np.unique(np.round(values[beyond], 2)).size >= _KINDS_OF_VALUE


def _around(days: Days, reach: int) -> Days:
    """Days no further than `reach` from one of them, (days,)."""
    near = np.convolve(days.astype(np.int64), np.ones(2 * reach + 1, dtype=np.int64))
    return near[reach : reach + len(days)] > 0


def _fitting_degrees(
    t_min_c: Floats, t_max_c: Floats, bounds: Limits, quality: QualityLimits
) -> dict[str, str]:
    """Slips after which these would be temperatures of some place: their name, and what they would be.

    A few wild values among many must not hide a slip, so the ends are those of nearly all values.
    """
    fits: dict[str, str] = {}
    known = ~(np.isnan(t_min_c) | np.isnan(t_max_c))
    if not known.any():
        return fits
    for words, slip in _SLIPS_C.items():
        low, high = slip(t_min_c[known]), slip(t_max_c[known])
        usual = _middle(high - low)
        coldest = -_nearly_highest(-low, quality.beyond_share)
        hottest = _nearly_highest(high, quality.beyond_share)
        fair = bounds.daily_range_low_c <= usual <= bounds.daily_range_high_c or low.size < _FEW_DAYS
        warm = hottest >= bounds.coolest_summer_c or low.size < _YEAR_D
        if fair and warm and bounds.coldest_c <= coldest and hottest <= bounds.hottest_c:
            fits[words] = f"{usual:.2g} degC between day and night, {coldest:.0f} to {hottest:.0f} degC"
    return fits


def _fitting_depths(wet_mm: Floats, bounds: Limits) -> dict[str, str]:
    fits = {}
    for words, factor in _SLIPS_MM.items():
        mean, most = float(wet_mm.mean()) * factor, float(wet_mm.max()) * factor
        if bounds.wet_day_low_mm <= mean <= bounds.wet_day_high_mm and most <= bounds.wettest_day_mm:
            fits[words] = f"{mean:.2g} mm a wet day, at most {most:,.0f} mm"
    return fits


def _supposed(fits: Mapping[str, str]) -> str:
    return f"the unit may be another one ({' or '.join(fits)})." if fits else "the unit may be another one."


def _as_explained(fits: Mapping[str, str]) -> list[str]:
    words = [f"{words} ({result})" for words, result in fits.items()]
    return [f"within the usual bounds would be: {' or '.join(words)}"] if words else []


def _nearly_highest(values: Floats, share: float) -> float:
    """The highest value but for a share of them."""
    place = int((1 - share) * (values.size - 1))
    return float(np.partition(values, place)[place])


def _middle(values: Floats) -> float:
    # np.median costs 7 ms the first time, because it loads the masked arrays.
    return float(np.partition(values, values.size // 2)[values.size // 2])
