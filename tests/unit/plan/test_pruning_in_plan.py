"""When the yard's plants are cut, as tasks of the plan."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import numpy as np
import pytest

from dooryard.knowledge import load
from dooryard.plan.build import plan
from dooryard.plan.task import Task
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar
from dooryard.yard.model import Place, Plant, Yard

KNOWN = load()


@pytest.fixture(scope="module")
def record() -> WeatherRecord:
    """Twelve years of one smooth year: hard freezes until April, warm from May."""
    days = np.arange(np.datetime64("2019-01-01"), np.datetime64("2031-12-31"))
    doy = (days - days.astype("datetime64[Y]")).astype(int)
    mean = 12.0 - 13.0 * np.cos(2 * np.pi * (doy - 20) / 365.25)
    values = {"t_max_c": mean + 6, "t_min_c": mean - 6, "rain_mm": np.zeros(len(days))}
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Creek Bottom"), days, values, flags, (), Source("made here", "none"))


@pytest.fixture(scope="module")
def tasks(record: WeatherRecord) -> Callable[[Plant, date], list[Task]]:
    """The pruning tasks of a yard with one plant."""

    def found(plant: Plant, on: date) -> list[Task]:
        place = Place(latitude=38.0, longitude=-85.0, elevation_m=200.0, station="Creek Bottom")
        made = plan(Yard(name="a yard", units="us", place=place, plants=(plant,)), record, KNOWN, on)
        return [task for task in (*made.tasks, *made.ahead) if task.id.startswith("prune.")]

    return found


def test_lilac_in_bloom_is_cut_after_it_and_never_now(tasks: Callable[[Plant, date], list[Task]]) -> None:
    on = date(2031, 5, 10)
    (task,) = tasks(Plant(name="corner lilac", kind="lilac", in_bloom=True), on)
    assert on < task.from_ <= task.to
    # The list's own last day is stricter than six weeks after bloom.
    assert task.to <= date(2031, 6, 15)
    assert "takes next year's flowers" in task.if_missed


def test_lilac_whose_bloom_is_long_over_is_left_alone(tasks: Callable[[Plant, date], list[Task]]) -> None:
    assert tasks(Plant(name="corner lilac", kind="lilac"), date(2031, 9, 1)) == []


def test_new_wood_is_cut_in_the_coming_late_winter_and_not_told_of_in_june(
    tasks: Callable[[Plant, date], list[Task]],
) -> None:
    myrtle = Plant(name="myrtle", kind="crape myrtle")
    (task,) = tasks(myrtle, date(2031, 1, 20))
    assert date(2031, 1, 20) <= task.from_ < task.to <= date(2031, 5, 1)
    assert tasks(myrtle, date(2031, 6, 10)) == []


def test_oaks_and_plants_not_on_file_get_no_task(tasks: Callable[[Plant, date], list[Task]]) -> None:
    assert tasks(Plant(name="big oak", kind="pin oak"), date(2031, 5, 10)) == []
    assert tasks(Plant(name="thing", kind="unheard of"), date(2031, 5, 10)) == []
