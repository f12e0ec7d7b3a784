"""When a bed is due: members so simple that the dates can be counted on fingers."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.water import soil
from dooryard.water.watering import NextWatering, next_watering

DATES = np.arange(np.datetime64("2021-07-01"), np.datetime64("2021-07-31"))


def ask(
    depletion_mm: float | list[float], rain_mm: np.ndarray, use_mm: np.ndarray | float = 5.0
) -> NextWatering:
    return next_watering(
        depletion_mm, dates=DATES, rain_mm=rain_mm, crop_et_mm=use_mm, taw_mm=100.0, raw_mm=40.0, area_m2=3.0
    )


def dry(members: int = 10) -> np.ndarray:
    return np.zeros((members, len(DATES)))


def test_next_watering_without_rain_is_one_date() -> None:
    found = ask(20.0, dry())
    # 25, 30, 35, 40 on the evenings of the 1st to the 4th: due on the morning of the 5th
    assert (found.earliest, found.likely, found.latest) == (date(2021, 7, 5),) * 3
    assert found.due_l == pytest.approx(40.0 * 3.0)
    assert found.now_l == pytest.approx(20.0 * 3.0)
    assert (found.members, found.unknown) == (10, 0)


def test_next_watering_already_due_is_today() -> None:
    found = ask(45.0, dry())
    assert found.earliest == found.latest == date(2021, 7, 1)
    assert found.due_l == pytest.approx(45.0 * 3.0)


def test_next_watering_spread_of_years_gives_earliest_likely_latest() -> None:
    rain_mm = dry()
    rain_mm[np.arange(10), 0] = 5.0 * np.arange(10)  # each year is a day later than the one before
    found = ask(20.0, rain_mm)
    # year k starts the second day at max(0, 25 - 5 k): from k = 5 on it is full and all are due together
    assert found.earliest == date(2021, 7, 5)
    assert found.likely == date(2021, 7, 9)
    assert found.latest == date(2021, 7, 10)


def test_next_watering_never_due_in_most_years_has_no_likely_date() -> None:
    rain_mm = dry()
    rain_mm[2:] = 6.0
    found = ask(20.0, rain_mm)
    assert found.earliest == date(2021, 7, 5)
    assert found.likely is None
    assert found.latest is None
    assert found.members == 10


def test_next_watering_member_with_a_gap_before_it_is_due_is_left_out_and_counted() -> None:
    rain_mm = dry()
    rain_mm[0, 1] = np.nan
    rain_mm[1, 10] = np.nan  # after it was due: does not matter
    found = ask(20.0, rain_mm)
    assert (found.members, found.unknown) == (9, 1)
    assert found.likely == date(2021, 7, 5)


def test_next_watering_season_that_ends_first_leaves_nothing_due() -> None:
    use_mm = np.full((10, len(DATES)), 5.0)
    use_mm[:, 3:] = np.nan  # nothing grows from the 4th on; the bed would be due on the 5th
    found = ask(20.0, dry(), use_mm)
    assert (found.earliest, found.latest) == (None, None)
    assert (found.members, found.unknown) == (10, 0)


def test_next_watering_nothing_known_gives_no_date() -> None:
    found = ask(20.0, np.full((4, len(DATES)), np.nan))
    assert (found.earliest, found.likely, found.latest, found.due_l) == (None, None, None, None)
    assert found.unknown == 4


def test_next_watering_range_of_depletion_widens_the_dates() -> None:
    found = ask([10.0, 30.0], dry(1))
    assert found.earliest == date(2021, 7, 3)
    assert found.latest == date(2021, 7, 7)
    assert found.members == 2


def test_next_watering_walks_like_the_water_account() -> None:
    luck = np.random.default_rng(5)
    rain_mm = luck.gamma(0.7, 6.0, (20, len(DATES))) * (luck.random((20, len(DATES))) < 0.2)
    use_mm = luck.uniform(2.0, 7.0, (20, len(DATES)))
    for member in range(20):
        run = soil.balance(rain_mm[member], use_mm[member], taw_mm=100.0, raw_mm=40.0, start_mm=10.0)
        evenings = np.flatnonzero(run.depletion_mm >= 40.0)
        due = DATES[evenings[0] + 1].astype(date) if len(evenings) and evenings[0] + 1 < len(DATES) else None
        assert ask(10.0, rain_mm[member], use_mm[member]).likely == due


@pytest.mark.parametrize("depletion", [-1.0, 101.0, float("nan")])
def test_next_watering_impossible_start_is_refused(depletion: float) -> None:
    with pytest.raises(InputError, match="depletion_mm"):
        ask(depletion, dry())
