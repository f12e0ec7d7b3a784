"""The picture of temperatures: one mark for a quarter of a month, gaps white, means of whole years only."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import summary, warmth_picture


@pytest.fixture
def record(put):
    """2022 whole: 0 degC on average until 30 June, 20 from then on; 2023 until June, 9 to 15 May left out and 3 June
    without its lowest temperature."""
    rows = []
    for day in np.arange("2022-01-01", "2023-07-01", dtype="datetime64[D]").astype(str):
        if not "2023-05-09" <= day <= "2023-05-15":
            warm = 20 if "2022-07" <= day < "2023" else 0
            rows.append(f"{day},{'' if day == '2023-06-03' else warm - 5},{warm + 5},1\n")
    return weather.read(put("# station: Mill\ndate,tmin_C,tmax_C,rain_mm\n" + "".join(rows)))


def test_quarter_means_are_those_of_the_known_days(record):
    means, gappy = warmth_picture.quarter_means(record)
    assert means.shape == (2, 48)
    assert means[0].tolist() == [0.0] * 24 + [20.0] * 24
    assert np.flatnonzero(np.isnan(means[1])).tolist() == [17, *range(24, 48)]
    assert np.argwhere(gappy).tolist() == [[1, 20]]


def test_warmth_picture_shows_gaps_white_and_whole_years_alone_have_a_mean(record):
    text = warmth_picture.render(record, "metric")
    first, second = (
        next(line for line in text.splitlines() if line.startswith(year)) for year in ("2022", "2023")
    )
    assert first[5:9] == "____"
    assert first[35:39] == "####"
    # 181 days of 0 and 184 of 20.
    assert first.split()[-1] == f"{184 * 20 / 365:.1f}"
    assert (second[25:29], second[30:34]) == ("_ __", "?___")
    assert second.split()[-1] == "8"
    assert all(len(line) <= 80 for line in text.splitlines())
    assert text.isascii() is False  # the degree sign
    assert "█" in warmth_picture.render(record, "us", blocks=True)


def test_summary_ends_with_the_picture_asked_for(record):
    held = summary.summarise(record)
    assert "Mean temperature" in summary.render(held, record, "us", of="temperature")
    assert "Rain, four marks" in summary.render(held, record, "us")


def test_warmth_picture_of_a_rain_gauge_says_there_is_none(put):
    record = weather.read(put("date,rain_mm\n2022-01-01,1\n2022-01-02,2\n"))
    assert "no picture" in warmth_picture.render(record, "us")
