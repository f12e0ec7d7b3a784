"""What the pattern of a whole record gives away: filled gaps, another unit half-way, a gauge read on workdays.

No single day is wrong here; what is wrong shows over years. Numbers are taken out only where the record
contradicts itself, and flagged where they were calculated or stand for a trace.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.doubts import Finding, told
from dooryard.weather.limits import QualityLimits
from dooryard.weather.rain_doubts import put_aside
from dooryard.weather.record import WORDS, Flag, Floats, Issue, WeatherRecord
from dooryard.weather.unit_doubts import STATE, Said, settle

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_SEASONS = 4
_DAYS_OF_A_YEAR = 365
_FEW_YEARS = 3
_FEW_WET_DAYS = 10
_NEAR = 1e-6
_MOSTLY_THERE = 0.2
_SIGNIFICANT = 4.0  # standard errors


def look_for(record: WeatherRecord, quality: QualityLimits, said: Said) -> Finding:
    """The record with such values flagged, and the findings; said : what is known of its units."""
    issues: list[Issue] = []
    record, found = _stand_in_traces(record, quality)
    issues += found
    for season in (_other_unit, _other_rain_unit):
        record, found = season(record, quality, said)
        issues += found
    record, found = _lone_wettest(record, quality, said)
    issues += found
    record, found = _calculated(record, quality)
    issues += found
    for look in (_copied_months, _weekdays):
        issues += look(record, quality)
    return record, tuple(issues)


def _stand_in_traces(record: WeatherRecord, quality: QualityLimits) -> Finding:
    """One tiny amount again and again, such as 0.025 mm: a number put where the publisher noted a trace."""
    rain = record.rain_mm
    tiny = (rain > 0) & (rain < quality.stand_in_mm)
    count = int(tiny.sum())
    if count < quality.stand_in_days:
        return record, ()
    amounts = rain[tiny]
    if amounts.max() - amounts.min() > 1e-9:
        return record, ()
    amount = float(amounts[0])
    text = (
        f"On {{days}} the rain is exactly {amount:g} mm, less than a gauge can show: it stands for a trace."
    )
    flags = np.where(tiny, np.uint8(Flag.TRACE), record.flags["rain_mm"])
    dry = np.where(tiny, 0.0, rain)
    for array in (flags, dry):
        array.setflags(write=False)
    marked = replace(record, rain_mm=dry, flags=MappingProxyType({**record.flags, "rain_mm": flags}))
    instead = "Taken as traces, with 0 mm."
    return marked, told("trace", tiny, record, text, instead, element="rain_mm")


def _other_unit(record: WeatherRecord, quality: QualityLimits, said: Said) -> Finding:
    """Seasons whose days and nights differ by a fraction or a multiple of what they do in other years."""
    spread = record.t_max_c - record.t_min_c
    means, edges = _by_season(record, spread, quality)
    usual = _usual(means)
    ratio = means / usual
    odd = (ratio < quality.tenfold_low) | (ratio > quality.tenfold_high)
    if not odd.any():
        return record, ()
    where = _in_quarters(odd, edges, len(spread)) & ~np.isnan(spread)
    least, most = float(ratio[odd].min()), float(ratio[odd].max())
    text = "On {days} day and night differ far less or far more than in the same season of other years: "
    text += "these temperatures may be in another unit, or ten times too small or too large."
    evidence = f"{least:.2f} to {most:.2f} times the usual difference, in {int(odd.sum())} seasons"
    issues = told("units", where, record, text, STATE, evidence=evidence)
    return settle(record, where, ("t_min_c", "t_max_c"), issues, said)


def _other_rain_unit(record: WeatherRecord, quality: QualityLimits, said: Said) -> Finding:
    """Seasons whose wet days bring a fraction or a multiple of what they do in other years."""
    rain = record.rain_mm
    wet = np.where(rain > 0, rain, np.nan)
    means, edges = _by_season(record, wet, quality, few=_FEW_WET_DAYS)
    ratio = means / _usual(means)
    odd = (ratio < 1 / quality.rain_unit) | (ratio > quality.rain_unit)
    if not odd.any():
        return record, ()
    # One season of drizzle can be weather; two in a row, or one still further off, are not.
    line = odd.ravel()
    beside = np.zeros(line.size, dtype=bool)
    beside[1:] |= line[:-1]
    beside[:-1] |= line[1:]
    far = (ratio < 1 / quality.rain_unit_sure) | (ratio > quality.rain_unit_sure)
    doubted = odd & (beside.reshape(odd.shape) | far)
    text = "On {days} wet days bring far more or far less than in the same season of other years: "
    text += "this rain may be in another unit."
    issues: tuple[Issue, ...] = ()
    for seasons, instead in (
        (doubted, STATE),
        (odd & ~doubted, "It was kept, as it is one season only. Check before using any amount of it."),
    ):
        if not seasons.any():
            continue
        where = _in_quarters(seasons, edges, len(rain)) & ~np.isnan(rain)
        least, most = float(ratio[seasons].min()), float(ratio[seasons].max())
        evidence = f"{least:.3g} to {most:.3g} times the usual amount"
        found = told("units", where, record, text, instead, element="rain_mm", evidence=evidence)
        if seasons is doubted:
            record, found = settle(record, where, ("rain_mm",), found, said)
        issues += found
    return record, issues


def _lone_wettest(record: WeatherRecord, quality: QualityLimits, said: Said) -> Finding:
    """The wettest day far above every other one: asked about, and put aside if the same amount stands twice."""
    rain = record.rain_mm
    known = rain[~np.isnan(rain)]
    if known.size < _DAYS_OF_A_YEAR:
        return record, ()
    most = float(known.max())
    second = float(known[known < most].max(initial=0.0))
    if most < quality.rain_gap_mm or most <= quality.rain_gap * second:
        return record, ()
    where = rain == most
    days = "1 day has" if where.sum() == 1 else f"{int(where.sum())} days have"
    text = f"{days[0].upper()}{days[1:]} {most:.0f} mm, the next wettest has {second:.0f} mm."
    evidence = f"a tenth of it would be {most / 10:.3g} mm"
    if where.sum() > 1:
        instead = "So much rain twice to the last digit is no measurement: these days count as without a rain value."
        issue = told("step", where, record, text, instead, element="rain_mm", evidence=evidence)
        return put_aside(record, where, issue, said)
    instead = "It was kept. Compare it with another gauge nearby: a point may be in the wrong place."
    return record, told("step", where, record, text, instead, element="rain_mm", evidence=evidence)


def _calculated(record: WeatherRecord, quality: QualityLimits) -> Finding:
    """Temperatures with digits no thermometer shows, among others that have none: somebody filled these in."""
    issues: tuple[Issue, ...] = ()
    flags = dict(record.flags)
    for name in ("t_min_c", "t_max_c", "t_mean_c"):
        if name not in record.elements:
            continue
        values = record.element(name)
        off = _off_scale(values)
        count, known = int(off.sum()), int((~np.isnan(values)).sum())
        few = known < _DAYS_OF_A_YEAR  # a habit needs days to show
        if few or not quality.calculated_days <= count <= quality.calculated_most * known:
            continue
        flags[name] = np.where(off & (flags[name] == Flag.OBSERVED), np.uint8(Flag.ESTIMATED), flags[name])
        flags[name].setflags(write=False)
        text = f"The {WORDS[name]} of {{days}} has digits that no thermometer shows, among others that have not: "
        text += "somebody calculated these values."
        evidence = f"such as {values[np.argmax(off)]:.10g} degC; {100 * count / known:.1f} % of the values"
        issues += told("filled", off, record, text, "Kept, as estimated.", element=name, evidence=evidence)
    return (replace(record, flags=MappingProxyType(flags)) if issues else record), issues


def _off_scale(values: Floats) -> NDArray[np.bool_]:
    """Neither a multiple of 0.01 degC nor of 0.05 degF (half a tenth: the mean of two readings)."""
    celsius, fahrenheit = values * 100.0, (values * 1.8 + 32.0) * 20.0
    with np.errstate(invalid="ignore"):
        off = np.abs(celsius - np.rint(celsius)) > 1e-5
        if off.any():
            off &= np.abs(fahrenheit - np.rint(fahrenheit)) > 1e-5
    return off


def _copied_months(record: WeatherRecord, quality: QualityLimits) -> tuple[Issue, ...]:
    """Whole months that agree to the last digit with another one: a gap filled with another year."""
    days = int(quality.copied_month_days)
    ends = np.array([record.dates[0], record.dates[-1]]).astype("datetime64[M]")
    months = np.arange(ends[0], ends[1] + 2)
    places = (months.astype("datetime64[D]") - record.dates[0]).astype(np.int64)
    whole = places[:-1][(places[:-1] >= 0) & (places[:-1] + days <= len(record.dates))]
    if whole.size < 2:
        return ()
    # Months that were copied have nearly the same sums, and an irrational factor keeps the two apart: only
    # months alike in that need to be compared.
    sums = np.add.reduceat(record.t_min_c + np.sqrt(2.0) * record.t_max_c, whole)
    order = np.argsort(sums, kind="stable")
    alike = np.flatnonzero(np.diff(sums[order]) < _NEAR)
    suspects = sorted({*order[alike].tolist(), *order[alike + 1].tolist()})
    seen: dict[bytes, int] = {}
    pairs = []
    for row in suspects:
        month = np.concatenate([column[whole[row] :][:days] for column in (record.t_min_c, record.t_max_c)])
        if not month.max() > month.min():  # nor for a NaN
            continue
        earlier = seen.setdefault(month.tobytes(), row)
        if earlier != row:
            pairs.append((earlier, row))
    # A record that repeats one year throughout was made up as a whole: then single months say nothing.
    if not pairs or 2 * len(pairs) > int((~np.isnan(sums)).sum()):
        return ()
    where = np.zeros(len(record.dates), dtype=bool)
    for _, later in pairs:
        where |= record.dates.astype("datetime64[M]") == record.dates[whole[later]].astype("datetime64[M]")
    first = " and ".join(str(record.dates[whole[row]].astype("datetime64[M]")) for row in pairs[0])
    text = "{days} have the same temperatures to the last digit as another month: somebody copied them."
    instead = "They were kept. Ask who made the file, or leave these months out."
    return told("filled", where, record, text, instead, evidence=f"such as {first}; {len(pairs)} in all")


def _weekdays(record: WeatherRecord, quality: QualityLimits) -> tuple[Issue, ...]:
    """Days of the week on which the gauge was not read: blank there, or nought, and the next day holds it all."""
    rain = record.rain_mm
    weeks = len(rain) // 7
    known = ~np.isnan(rain)
    if np.count_nonzero(known) < 7 * quality.weekday_weeks:
        return ()
    first = (int(record.dates[0].astype(np.int64)) + 3) % 7  # 1970-01-01 was a Thursday
    raining = rain > 0
    # From place to weekday: every seventh day, over whole weeks.
    noted, wet = (
        np.roll([np.count_nonzero(column[day : 7 * weeks : 7]) for day in range(7)], first)
        for column in (known, raining)
    )
    missing = 1 - noted / weeks
    share = np.divide(wet, noted, out=np.zeros(7), where=noted > 0)
    blank: list[int] = []
    nought: list[int] = []
    if missing.max() <= _MOSTLY_THERE and share.min() >= quality.weekday_share * share.max():
        return ()
    for day, (lacking, often, count) in enumerate(
        zip(missing.tolist(), share.tolist(), noted.tolist(), strict=True)
    ):
        # Four of the other six, because Saturday and Sunday may be alike.
        usual = sum(sorted(np.delete(missing, day).tolist())[:4]) / 4
        if lacking > _MOSTLY_THERE and lacking > quality.weekday_missing * usual:
            blank.append(day)
        others = sum(sorted(np.delete(share, day).tolist())[-4:]) / 4
        error = float(max(others * (1 - others), 1e-9) / max(count, 1)) ** 0.5
        enough = count > quality.weekday_weeks / 2
        if enough and often < quality.weekday_share * others and others - often > _SIGNIFICANT * error:
            nought.append(day)
    issues: tuple[Issue, ...] = ()
    for found, what in ((blank, "missing"), (nought, "nought")):
        if not found:
            continue
        weekday = (first + np.arange(len(rain))) % 7
        where = np.isin(weekday, found) & (~known if what == "missing" else (rain == 0))
        names = _listed([f"{_WEEKDAYS[day]}s" for day in found])
        text = f"On {names} rain is {what} far more often than on other days: the gauge was not read then, "
        text += "and the next reading holds the rain of several days."
        shares = missing if what == "missing" else share
        kind = "missing on" if what == "missing" else "wet on"
        evidence = ", ".join(f"{kind} {100 * shares[day]:.0f} % of {_WEEKDAYS[day]}s" for day in found)
        rest = float(np.delete(shares, found).mean())
        evidence += f", {100 * rest:.0f} % of other days, over {weeks:,.0f} weeks"
        instead = "Nothing was moved. Sums over weeks hold, single days do not. Mark such totals with A."
        issues += told("accumulated", where, record, text, instead, element="rain_mm", evidence=evidence)
    return issues


def _by_season(
    record: WeatherRecord, values: Floats, quality: QualityLimits, few: int = 45
) -> tuple[Floats, NDArray[np.int64]]:
    """Mean of each quarter of each year, (years, 4), NaN below `few` values; and where each one begins, (edges,).

    The edges are places in the record, one more than quarters, from 1 January of its first year on: those
    outside the record are put to its ends.
    """
    days = np.array([record.dates[0], record.dates[-1]]).astype("datetime64[Y]")
    starts = np.arange(days[0], days[1] + 2).astype("datetime64[D]")
    places = (starts - record.dates[0]).astype(np.int64)
    quarters = places[:-1, None] + int(quality.season_days) * np.arange(_SEASONS)
    edges = np.clip(np.append(quarters.ravel(), places[-1]), 0, len(values))
    known = ~np.isnan(values)
    whole = np.flatnonzero(np.diff(edges))  # quarters with a day in the record: one behind the other
    sums, counts = np.zeros(len(edges) - 1), np.zeros(len(edges) - 1, dtype=np.int64)
    sums[whole] = np.add.reduceat(np.where(known, values, 0.0), edges[whole])
    counts[whole] = np.add.reduceat(known, edges[whole], dtype=np.int64)
    means = np.full(counts.shape, np.nan)
    np.divide(sums, counts, out=means, where=counts >= few)
    return means.reshape(-1, _SEASONS), edges


def _in_quarters(odd: NDArray[np.bool_], edges: NDArray[np.int64], length: int) -> NDArray[np.bool_]:
    """Which days lie in the odd quarters, (days,)."""
    where = np.zeros(length, dtype=bool)
    for quarter in np.flatnonzero(odd.ravel()).tolist():
        where[edges[quarter] : edges[quarter + 1]] = True
    return where


def _usual(means: Floats) -> Floats:
    """The middle of the years for each quarter, (4,); NaN where fewer than three years have one."""
    usual = np.full(means.shape[1], np.nan)
    for season, column in enumerate(means.T):
        known = np.sort(column[~np.isnan(column)])
        if known.size >= _FEW_YEARS and known[known.size // 2] > 0:
            usual[season] = known[known.size // 2]
    return usual


def _listed(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))
