"""Scores of forecast ranges against sums done by hand, and the look-back on a climate without surprises."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard import knowledge
from dooryard.problem import InputError
from dooryard.season import scores
from dooryard.season.hindcast import LONG_TERM, OURS, PLAIN, RATE, RULES, Forecasts, Hindcast, together
from dooryard.season.timing import HeatSum
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

FIRST = date(2001, 1, 1)
KIND = HeatSum("average", 10.0, None, "none", (1, 1))


def forecasts(said: list[list[int]], came: list[int], rival: list[list[int]] | None = None) -> Forecasts:
    count = len(came)
    other = np.array(rival or said)
    return Forecasts(
        year=np.full(count, 2030),
        issued=np.full(count, 31),
        threshold=np.full(count, 100.0),
        came=np.array(came),
        end=np.full(count, 300),
        days={OURS: np.array(said), LONG_TERM: other, RATE: other, PLAIN: other},
    )


def test_pinball_loss_of_one_range_by_hand() -> None:
    # Said 10, 14, 20, came on 16: 0.1 x 6, 0.5 x 2, 0.1 x 4.
    assert scores.pinball(np.array([[10, 14, 20]]), np.array([16]))[0] == pytest.approx([0.6, 1.0, 0.4])


@given(st.lists(st.integers(0, 200), min_size=3, max_size=40), st.sampled_from([0.1, 0.5, 0.9]))
def test_pinball_loss_is_least_at_the_quantile_of_a_general_library(came: list[int], share: float) -> None:
    days = np.array(came)
    best = float(np.quantile(days, share, method="inverted_cdf"))

    def loss(said: float) -> float:
        return float(scores.pinball(np.full((len(days), 1), said), days, [share]).mean())

    assert all(loss(best) <= loss(other) + 1e-9 for other in range(201))


def test_score_counts_held_early_late_width_and_error() -> None:
    found = forecasts([[10, 14, 20], [10, 14, 20], [10, 14, 20], [5, 5, 5]], [16, 9, 21, 5])
    got = scores.score(found, OURS, scores.dated(found))
    assert got is not None
    assert (got.count, got.held, got.too_late, got.too_early) == (4, 0.5, 0.25, 0.25)
    assert got.width_d == 11.0  # 10 to 20 is eleven days
    assert got.error_d == pytest.approx((-2 + 5 - 7 + 0) / 4)
    assert got.off_d == pytest.approx((2 + 5 + 7 + 0) / 4)


def test_forecast_that_expects_no_date_is_not_scored() -> None:
    found = forecasts([[250, 300, 300], [10, 14, 20]], [280, 14])
    assert scores.dated(found).tolist() == [False, True]


def test_gain_is_over_the_rows_for_which_the_rival_says_something() -> None:
    found = forecasts([[10, 14, 20], [0, 0, 0]], [14, 100], rival=[[6, 14, 24], [-1, -1, -1]])
    # Ours 0.1 x 4 + 0.1 x 6, theirs 0.1 x 8 + 0.1 x 10; the second row does not count.
    assert scores.gain(found, RATE, scores.dated(found)) == pytest.approx(1 - 1.0 / 1.8)


def test_groups_of_leads_share_out_every_dated_forecast_once() -> None:
    said = [[lead, lead, lead] for lead in range(299)]
    found = forecasts(said, list(range(299)))
    assert sum(scores.ahead(found, lead).sum() for lead in scores.LEADS) == 299


def every_year_alike(years: int) -> WeatherRecord:
    """5 degree-days on every day of every year."""
    count = (date(FIRST.year + years, 1, 1) - FIRST).days
    values = {"t_min_c": np.full(count, 11.0), "t_max_c": np.full(count, 19.0)}
    flags = {name: np.full(count, Flag.OBSERVED, dtype=np.uint8) for name in values}
    days = np.datetime64(FIRST, "D") + np.arange(count)
    return on_calendar(Station("Mill Hollow"), days, values, flags, (), Source("made here", "none"))


def test_climate_without_surprises_is_forecast_to_the_day_by_every_rule() -> None:
    found = Hindcast(every_year_alike(23), KIND, (300.0, 900.0), knowledge.load()).run()
    assert sorted(set(found.year.tolist())) == [2021, 2022, 2023]
    # 300 falls on the 60th day (index 59), 900 on the 180th: three and fifteen issues from day 31 on, in three years.
    assert found.count == 3 * (3 + 15)
    assert (found.came == np.where(found.threshold == 300, 59, 179) - found.issued).all()
    for rule in RULES:
        got = scores.score(found, rule, scores.dated(found))
        assert got is not None
        assert (got.held, got.width_d, got.off_d, got.loss_d) == (1.0, 1.0, 0.0, 0.0)


def test_threshold_reached_in_a_gap_is_not_scored() -> None:
    record = every_year_alike(22)
    low = record.t_min_c.copy()
    at = (date(2022, 1, 1) - FIRST).days + 59
    low[at] = np.nan  # 300 falls on this day, which a straight line bridges
    values = {"t_min_c": low, "t_max_c": record.t_max_c}
    gone = on_calendar(record.station, record.dates, values, record.flags, (), record.source)
    found = Hindcast(gone, KIND, (300.0, 900.0), knowledge.load()).run()
    assert ((found.year == 2022) & (found.threshold == 300)).sum() == 0
    assert ((found.year == 2022) & (found.threshold == 900)).sum() > 0


def test_record_of_few_years_is_refused_with_what_is_needed() -> None:
    with pytest.raises(InputError, match="more than 20 whole years"):
        Hindcast(every_year_alike(19), KIND, (300.0,), knowledge.load()).run()


def test_stations_together_keep_every_row() -> None:
    one, two = forecasts([[1, 2, 3]], [2]), forecasts([[4, 5, 6], [7, 8, 9]], [5, 8])
    both = together([one, two])
    assert both.count == 3
    assert both.days[OURS].tolist() == [[1, 2, 3], [4, 5, 6], [7, 8, 9]]
