"""The whole of one worked spring: heat so far, what is to come, the date, and what was seen against it."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from dooryard.knowledge import load
from dooryard.plan.assemble import Sky
from dooryard.plan.season_report import Asked, season
from dooryard.season import names
from dooryard.season.timing import HeatSum, SeasonHeat
from dooryard.season.verdicts import judge
from dooryard.weather.outlook import Outlook, ahead
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar
from dooryard.yard.model import Sighting

F_PER_C = 1.8
TEN_DAYS_F = (
    (78, 54), (82, 58), (70, 51), (64, 44), (np.nan, 47), (75, 49), (81, 57), (86, 62), (88, 65), (79, 60),
)  # fmt: skip
FORECAST_F = ((76, 56), (74, 55), (80, 58), (83, 61), (85, 63))
RATES_F_D = (9, 10.5, 11, 12, 12.5, 13.5, 15, 16.5)
ON = date(2030, 5, 30)
SEEN = Sighting(date(2030, 6, 9), "junipers at Creek Bottom", "bagworm", "bags hatching", "certain")
WORKED = pytest.mark.check("S-01-13", source="worked spring of a county adviser, by hand", status="computed")


def celsius(fahrenheit: object) -> np.ndarray:
    return (np.asarray(fahrenheit, dtype=float) - 32) / F_PER_C


def spring(*later: tuple[float, float]) -> WeatherRecord:
    """1 January to 29 May with 300.0 degF.d up to 19 May, then the days of ``later`` (max, min in degF)."""
    warm = 50 + np.zeros(139)
    warm[-1] += 300.0
    known = np.array([*((t, t) for t in warm), *TEN_DAYS_F, *later])
    values = {"t_max_c": celsius(known[:, 0]), "t_min_c": celsius(known[:, 1])}
    days = np.datetime64("2030-01-01") + np.arange(len(known))
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Creek Bottom"), days, values, flags, (), Source("made here", "none"))


def eight_futures() -> Outlook:
    """The forecast, then eight futures of one rate each."""
    rates = np.repeat(50 + np.array(RATES_F_D)[:, None], 60, axis=1)
    lead = np.array(FORECAST_F, dtype=float)
    high, low = (
        celsius(np.concatenate([np.broadcast_to(lead[:, i], (8, 5)), rates], axis=1)) for i in (0, 1)
    )
    return Outlook(
        on=ON,
        dates=np.datetime64(ON, "D") + np.arange(65),
        t_min_c=low,
        t_max_c=high,
        rain_mm=np.zeros((8, 65)),
        years=tuple(range(2000, 2008)),
        excluded=(),
        forecast_days=5,
        issues=(),
    )


@WORKED
@pytest.mark.parametrize(
    ("method", "ten_days"), [("average", 159.75), ("modified average", 164.75), ("single sine", 161.75)]
)
def test_bagworm_date_ten_days_by_three_methods(method: str, ten_days: float) -> None:
    """The missing maximum between 64 and 75 is 69.5; its day is counted as bridged."""
    kind = HeatSum(method, 10.0, None, "none", (5, 20))
    got = SeasonHeat(spring(), eight_futures(), ON).crossings(kind, (1.0,))[0]
    assert got.sum_now is not None
    assert got.sum_now * F_PER_C == pytest.approx(ten_days, abs=0.01)
    assert got.gap_days == 1


@WORKED
def test_bagworm_date_missing_maximum_is_69_and_a_half() -> None:
    """One day alone: (69.5 + 47) / 2 - 50 = 8.25 degF.d, and no date is claimed inside it."""
    heat = SeasonHeat(spring(), eight_futures(), ON)
    before, after = (
        heat.crossings(HeatSum("average", 10.0, None, "none", start), (1.0,))[0].sum_now
        for start in ((5, 24), (5, 25))
    )
    assert before is not None
    assert after is not None
    assert (before - after) * F_PER_C == pytest.approx((69.5 + 47) / 2 - 50)


@WORKED
def test_bagworm_date_table_of_600_says_6_to_8_june_most_likely_7() -> None:
    one = judge("bagworm", load(), spring(), eight_futures(), ON)
    table = next(w for w in one.windows if w.window.key == "bagworm.newjersey")
    assert (table.opens.earliest, table.opens.likely, table.opens.latest) == (
        date(2030, 6, 6), date(2030, 6, 7), date(2030, 6, 8),
    )  # fmt: skip
    row = next(row for row in one.rows if row.stage.key == "bagworm.small.newjersey").low
    assert row is not None
    assert row.sum_now is not None
    assert row.sum_now * F_PER_C == pytest.approx(459.75, abs=0.01)


@WORKED
def test_bagworm_date_sum_after_the_forecast_is_555_and_a_quarter() -> None:
    record = spring(*FORECAST_F)
    on = date(2030, 6, 4)
    got = SeasonHeat(record, ahead(record, on), on).crossings(
        HeatSum("average", 10.0, None, "none", (1, 1)), (1.0,)
    )[0]
    assert got.sum_now is not None
    assert got.sum_now * F_PER_C == pytest.approx(555.25, abs=0.01)


def june() -> WeatherRecord:
    """As it came: the forecast's days, then 12 degF.d a day up to 9 June, so that 600 is reached on 7 June."""
    return spring(*FORECAST_F, *(((62.0, 62.0),) * 6))


@WORKED
def test_bagworm_date_hatch_seen_on_9_june_is_stored_as_two_days_later() -> None:
    on = date(2030, 6, 10)
    one = judge("bagworm", load(), june(), ahead(june(), on), on, (SEEN,))
    kept = next(c for c in one.compared if c.window == "bagworm.newjersey")
    assert (kept.expected, kept.days) == (date(2030, 6, 7), 2)
    # By hand: 2 days at one over 3 squared, against "no shift" at one over 7 squared.
    shift = one.shifts["bagworm.newjersey"]
    assert shift.days == pytest.approx(2 * (1 / 9) / (1 / 9 + 1 / 49))
    assert shift.spread_d == pytest.approx((1 / (1 / 9 + 1 / 49)) ** 0.5)


@WORKED
def test_bagworm_date_hatch_is_shown_in_the_look_back() -> None:
    knowledge, on = load(), date(2030, 6, 10)
    named = names.find("bagworm", knowledge)
    document = season(Asked(named, seen=(SEEN,)), Sky(june()), knowledge, on).document()
    part = next(stop for stop in document["walk"] if stop["name"] == "What was seen here")
    assert ["9 June 2030", "bags hatching (certain)", "New Jersey", "7 June", "+2"] in part["table"]["rows"]
