"""Values that no weather brings, one kind at a time, each beside the nearest thing that is weather."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag


def record_of(put, lows, highs, rains=None, first="2031-01-01"):
    days = (np.datetime64(first) + np.arange(len(lows))).astype(str)
    rains = [0] * len(lows) if rains is None else rains
    rows = zip(days, lows, highs, rains, strict=True)
    return weather.read(
        put("date,tmin_C,tmax_C,rain_mm\n" + "".join(f"{d},{lo},{hi},{r}\n" for d, lo, hi, r in rows))
    )


def changing(count, base):
    return [base + step % 5 for step in range(count)]


def finding(record, kind):
    return [issue for issue in record.issues if issue.kind == kind]


def test_doubt_spike_is_taken_out_with_its_neighbours_as_evidence(put):
    highs = changing(10, 18)
    highs[5] = 48
    record = record_of(put, changing(10, 5), highs)
    assert record.flags["t_max_c"][5] == Flag.SUSPECT
    assert np.isnan(record.t_max_c[5])
    assert np.isnan(record.t_max_c).sum() == 1
    (issue,) = finding(record, "step")
    assert (str(issue.first), issue.element) == ("2031-01-06", "t_max_c")
    assert "48 between 22 and" in issue.evidence


def test_doubt_tenfold_value_is_called_by_its_name(put):
    lows = changing(10, 2)
    lows[4] = 30
    (issue,) = finding(record_of(put, lows, changing(10, 40)), "step")
    assert "factor of ten" in issue.evidence


def test_doubt_cold_front_that_stays_is_weather(put):
    highs = [28] * 5 + [1] * 5
    record = record_of(put, changing(10, -5), highs)
    assert not np.isnan(record.t_max_c).any()


@pytest.mark.parametrize(("days", "doubted"), [(19, 0), (20, 20), (35, 35)])
def test_doubt_thermometer_that_stands_still(put, days, doubted):
    highs = [*changing(30, 18), *([17.5] * days), *changing(30, 18)]
    record = record_of(put, changing(len(highs), 5), highs)
    assert (record.flags["t_max_c"] == Flag.SUSPECT).sum() == doubted
    assert len(finding(record, "stuck")) == (doubted > 0)


def test_doubt_column_of_one_number_throughout_is_told_and_kept(put):
    record = record_of(put, [5] * 40, changing(40, 18))
    (issue,) = finding(record, "stuck")
    assert (issue.element, issue.days) == ("t_min_c", 40)
    assert not np.isnan(record.t_min_c).any()


@pytest.mark.parametrize(("amount", "days", "doubted"), [(12.7, 6, 6), (12.7, 5, 0), (0.2, 9, 0), (0, 9, 0)])
def test_doubt_gauge_that_stands_still(put, amount, days, doubted):
    rains = [3, 0, 1, *([amount] * days), 2, 0, 1]
    record = record_of(put, changing(len(rains), 5), changing(len(rains), 18), rains)
    assert (record.flags["rain_mm"] == Flag.SUSPECT).sum() == doubted


@pytest.mark.parametrize(("around", "doubted"), [(22, 2), (1, 0)])
def test_doubt_two_noughts_only_far_from_the_days_around(put, around, doubted):
    lows, highs = changing(12, around - 10), changing(12, around)
    for day in (6, 7):
        lows[day] = highs[day] = 0
    record = record_of(put, lows, highs)
    assert (record.flags["t_max_c"] == Flag.SUSPECT).sum() == doubted
    assert (record.flags["t_min_c"] == Flag.SUSPECT).sum() == doubted
    assert len(finding(record, "false zeros")) == (doubted > 0)


def test_doubt_two_noughts_of_fahrenheit(put):
    rows = [f"2031-07-0{day},{60 + day},{80 + day},0\n" for day in range(1, 10)]
    rows[4] = "2031-07-05,0,0,0\n"
    record = weather.read(put("date,tmin_F,tmax_F,rain_in\n" + "".join(rows)))
    assert np.flatnonzero(np.isnan(record.t_max_c)).tolist() == [4]


def test_doubt_value_beyond_every_record_names_the_bound(put):
    issue = finding(record_of(put, [5, 5], [15, 61.2]), "suspect")[0]
    assert "61.2 degC" in issue.evidence
    assert "56.7 degC" in issue.evidence
