"""A winter's cold so far: four countings of made-up winters, and what is refused."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from dooryard.cli.app import dooryard
from dooryard.knowledge import Knowledge
from dooryard.letter import plain
from dooryard.problem import InputError
from dooryard.season import chill_text
from dooryard.season.winter_chill import Winter, span, winter
from dooryard.weather.record import WeatherRecord
from tests.water_yards import days, record

FORTY_F = (40 - 32) / 1.8
ON = date(2020, 1, 9)
"""One hundred days after 1 October 2019."""


def even(first: str, last: str, air_c: float) -> WeatherRecord:
    dates = days(first, last)
    air = np.full(dates.size, air_c)
    return record(dates, t_min_c=air, t_max_c=air)


def sums(found: Winter) -> dict[str, float]:
    return {one.key: one.value for one in found.counts}


def test_winter_of_even_forty_degrees_counts_every_hour(knowledge: Knowledge) -> None:
    """40 degF lies within both countings of hours and in the best step of the units; portions near the best cold."""
    found = winter(even("2019-09-01", "2020-01-31", FORTY_F), ON, 40.0, knowledge)
    assert (found.first, found.last) == (date(2019, 10, 1), date(2020, 1, 8))
    got = sums(found)
    assert got["hours-32-45"] == got["hours-below-45"] == got["utah"] == 100 * 24
    # 1000 h at 4 degC give 29.8 portions, at 6 degC 34.2: 2400 h at 4.4 degC lie between.
    assert 29.8 < got["portions"] / 2.4 < 34.2


def test_winter_of_hard_frost_counts_only_below_45(knowledge: Knowledge) -> None:
    got = sums(winter(even("2019-09-01", "2020-01-31", -10.0), ON, 40.0, knowledge))
    assert got == {
        "hours-32-45": 0.0,
        "hours-below-45": 2400.0,
        "utah": 0.0,
        "portions": pytest.approx(0, abs=0.01),
    }


def test_usual_is_said_from_ten_winters_on_and_only_of_past_ones(knowledge: Knowledge) -> None:
    """Nine winters are too few; of ten, five at 40 and five at 50 degF, the middle lies between."""
    dates = days("2009-10-01", "2021-06-30")
    season = (
        dates.astype("datetime64[Y]").astype(int)
        + 1970
        - (dates.astype("datetime64[M]").astype(int) % 12 < 9)
    )
    air = np.where(season % 2 == 0, FORTY_F, 10.0)
    made = record(dates, t_min_c=air, t_max_c=air)
    found = winter(made, ON, 40.0, knowledge)
    assert found.winters == 10
    usual = next(one.usual for one in found.counts if one.key == "hours-below-45")
    assert usual is not None
    assert usual[0] == 0
    assert 0 < usual[1] < 2400
    assert usual[2] == 2400
    after = np.where(dates >= np.datetime64(ON), 30.0, air)
    later = record(dates, t_min_c=after, t_max_c=after)
    assert winter(later, ON, 40.0, knowledge) == found
    assert winter(made, ON - timedelta(days=366), 40.0, knowledge).counts[0].usual is None


def test_gap_of_up_to_three_days_is_bridged_and_a_longer_one_refused(knowledge: Knowledge) -> None:
    made = even("2019-09-01", "2020-01-31", FORTY_F)
    at = (date(2019, 11, 1) - made.first).days
    for gap_d in (3, 4):
        t_min_c = made.t_min_c.copy()
        t_min_c[at : at + gap_d] = np.nan
        gapped = replace(made, t_min_c=t_min_c)
        if gap_d == 3:
            assert sums(winter(gapped, ON, 40.0, knowledge))["utah"] == 2400
        else:
            with pytest.raises(InputError, match="4 days between 2019-10-01"):
                winter(gapped, ON, 40.0, knowledge)


@pytest.mark.parametrize(
    ("on", "first", "last"),
    [
        (date(2020, 1, 9), date(2019, 10, 1), date(2020, 1, 8)),
        (date(2019, 10, 2), date(2019, 10, 1), date(2019, 10, 1)),
        (date(2019, 10, 1), date(2018, 10, 1), date(2019, 4, 30)),
        (date(2020, 8, 1), date(2019, 10, 1), date(2020, 4, 30)),
    ],
)
def test_winter_runs_from_october_to_the_eve_or_the_end_of_april(on: date, first: date, last: date) -> None:
    assert span(on) == (first, last)


def test_winter_south_of_the_equator_is_refused(knowledge: Knowledge) -> None:
    with pytest.raises(InputError, match="north of the equator"):
        winter(even("2019-09-01", "2020-01-31", FORTY_F), ON, -35.0, knowledge)


def test_chill_command_says_the_answer_first_keeps_countings_apart_and_gives_data(tmp_path: Path) -> None:
    lines = ["date,tmin_F,tmax_F,rain_in"]
    for day in days("2019-09-01", "2020-01-08"):
        wave = int(day.astype(int)) % 5
        lines.append(f"{day},{34 + wave},{44 + wave},0")
    path = tmp_path / "days.csv"
    path.write_text("\n".join(lines) + "\n")
    words = ["season", "chill", str(path), "--on", str(ON)]
    refused = CliRunner().invoke(dooryard, words)
    assert refused.exit_code == 2
    assert "--latitude" in refused.output
    told = CliRunner().invoke(dooryard, [*words, "--latitude", "40"])
    assert told.exit_code == 0, told.output
    assert "portions of cold" in told.output.splitlines()[2]
    assert "cannot be turned into each other" in told.output
    assert "too few to say what is usual" in told.output
    assert plain.grade(told.output) <= 8
    data = json.loads(CliRunner().invoke(dooryard, [*words, "--latitude", "40", "--json"]).output)
    assert data["schema"] == chill_text.SCHEMA
    assert [one["key"] for one in data["counts"]] == ["hours-32-45", "hours-below-45", "utah", "portions"]
