"""Weather from pieces of the record: chance lengths as published, seasons kept, nothing made up."""

from datetime import date

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.weather.invented import blocks
from dooryard.weather.record import Source, Station, on_calendar

DRAWS = 400_000


def record(first="1991-03-10", last="2003-08-01"):
    """A record whose every value tells which day it was: rain its number, temperature its day of the year."""
    dates = np.arange(np.datetime64(first), np.datetime64(last))
    day = (dates - dates.astype("datetime64[Y]").astype("datetime64[D]")).astype(float)
    values = {"rain_mm": np.arange(float(len(dates))), "t_max_c": day, "t_min_c": day - 1}
    flags = {name: np.zeros(len(dates), dtype=np.uint8) for name in values}
    return on_calendar(Station("Here"), dates, values, flags, (), Source("here.csv", "plain", "abc"))


def resampled(**changed):
    asked = {"mean_piece_d": 10.0, "window_d": 15, "seed": 3} | changed
    return blocks.resample(record(), date(2031, 1, 1), date(2060, 12, 31), **asked)


@pytest.mark.check("W-09-13", source="stationary bootstrap: geometric pieces, exact", status="computed")
def test_pieces_have_the_published_lengths_and_successors():
    taken = blocks.positions(365, DRAWS, 10.0, seed=1)
    follows = np.diff(taken) % 365 == 1
    assert follows.mean() == pytest.approx(0.90027, abs=4 * np.sqrt(0.9 * 0.1 / DRAWS))
    ends = np.flatnonzero(np.concatenate(([True], ~follows, [True])))
    lengths = np.diff(ends)
    pieces = len(lengths)
    assert np.mean(lengths >= 20) == pytest.approx(0.1351, abs=4 * np.sqrt(0.1351 * 0.8649 / pieces) + 1e-3)
    # Every day as often as every other; pieces make the counts vary ten times and more as much as single draws.
    share = np.bincount(taken, minlength=365) / DRAWS
    assert share == pytest.approx(np.full(365, 1 / 365), rel=6 * np.sqrt(365 * 19 / DRAWS))


@pytest.mark.check("W-09-13", source="stationary bootstrap: limits of the mean length", status="computed")
def test_pieces_of_one_day_are_single_draws_and_endless_ones_a_shift():
    single = blocks.positions(365, DRAWS, 1.0, seed=2)
    assert np.mean(np.diff(single) % 365 == 1) == pytest.approx(1 / 365, abs=4 * np.sqrt(1 / 365 / DRAWS))
    endless = blocks.positions(365, 1000, 1e12, seed=2)
    assert (np.diff(endless) % 365 == 1).all()


def test_resampled_days_are_whole_days_of_the_record_near_their_date():
    made = resampled()
    assert (made.first, made.last) == (date(2031, 1, 1), date(2060, 12, 31))
    whole = record()
    place = made.rain_mm.astype(int)
    assert (whole.t_max_c[place] == made.t_max_c).all()
    assert (whole.t_min_c[place] == made.t_min_c).all()
    day = (made.dates - made.dates.astype("datetime64[Y]").astype("datetime64[D]")).astype(float)
    apart = np.abs((made.t_max_c - day + 182) % 365 - 182)
    # Fifteen days aside, and one or two more where a piece runs over a leap day or the record's end.
    assert apart.max() <= 15 + 5
    years = whole.dates[place].astype("datetime64[Y]").astype(int) + 1970
    assert set(years.tolist()) == set(range(1991, 2004))


def test_resampled_weather_says_it_is_invented_and_repeats_with_its_seed():
    made, again, other = resampled(), resampled(), resampled(seed=4)
    assert [issue.kind for issue in made.issues] == ["invented"]
    assert made.station.name == "Here (invented)"
    assert (made.rain_mm == again.rain_mm).all()
    assert (made.rain_mm != other.rain_mm).mean() > 0.9


def test_resampled_gap_stays_a_gap():
    whole = record()
    values = {name: whole.element(name).copy() for name in whole.elements}
    values["rain_mm"][100:1200] = np.nan
    holed = on_calendar(whole.station, whole.dates, values, whole.flags, (), whole.source)
    made = blocks.resample(
        holed, date(2031, 1, 1), date(2060, 12, 31), mean_piece_d=10.0, window_d=15, seed=3
    )
    assert 0.1 < np.isnan(made.rain_mm).mean() < 0.4
    assert not np.isnan(made.t_max_c).any()


@pytest.mark.parametrize("changed", [{"mean_piece_d": 0.5}, {"window_d": -1}, {"window_d": 200}])
def test_resampling_in_impossible_pieces_is_refused(changed):
    with pytest.raises(InputError, match="make no weather"):
        resampled(**changed)


def test_resampling_a_short_record_or_no_days_is_refused_at_once():
    with pytest.raises(InputError) as caught:
        blocks.resample(
            record(last="1991-06-01"),
            date(2031, 1, 2),
            date(2031, 1, 1),
            mean_piece_d=5.0,
            window_d=5,
            seed=1,
        )
    assert len(caught.value.problems) == 2
