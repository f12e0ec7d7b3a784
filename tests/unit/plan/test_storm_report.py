"""The storm drill for yards whose amounts can be worked out in the head: several days, several barrels."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.letter import screen
from dooryard.plan.assemble import Sky
from dooryard.plan.storm_report import storm
from dooryard.problem import InputError
from dooryard.weather.forecast import Forecast, ForecastHours
from dooryard.yard.model import Bed, Level, Roof, Storage, Yard
from tests.water_yards import days, record, yard

ON = dt.date(2010, 6, 15)
# Metal sheds 0.92 of the rain: 1 mm on 100 / 0.92 m2 is 100 L.
ROOF = Roof("roof", 100.0 / 0.92, "metal", "spout")
BARREL = Storage(
    "barrel",
    200.0,
    diameter_m=0.56,
    height_m=0.8,
    outlet_height_m=0.08,
    stand_height_m=0.4,
    fed_by=("spout",),
)


def foretold(
    rain_mm: list[float],
    *,
    low_mm: list[float] | None = None,
    high_mm: list[float] | None = None,
    first: dt.date = ON,
    issued: dt.date | None = ON,
    hours: ForecastHours | None = None,
) -> Forecast:
    """A forecast of rain alone, one day after another."""
    count = len(rain_mm)
    nothing = np.full(count, np.nan)
    return Forecast(
        issued=issued,
        dates=np.datetime64(first) + np.arange(count),
        t_min_c=np.full(count, 10.0),
        t_max_c=np.full(count, 20.0),
        rain_mm=np.array(rain_mm),
        rain_low_mm=nothing if low_mm is None else np.array(low_mm),
        rain_high_mm=nothing if high_mm is None else np.array(high_mm),
        burst_mm_h=None,
        source="forecast.csv",
        hours=hours,
    )


def drilled(knowledge: Knowledge, place: Yard, forecast: Forecast | None, on: dt.date = ON) -> dict[str, Any]:
    """The drill of a rainless yard."""
    dates = days("2000-01-01", str(on - dt.timedelta(days=1)))
    return storm(replace(place, units="metric"), Sky(record(dates), forecast), knowledge, on).document()


def one_barrel(level_l: float, barrel: Storage = BARREL) -> Yard:
    """A yard whose barrel was read on the eve."""
    levels = (Level("barrel", ON - dt.timedelta(days=1), level_l),)
    return yard(roofs=(ROOF,), storages=(barrel,), levels=levels)


def value(document: dict[str, Any], part: str, barrel: str = "barrel") -> float:
    found: float = document["figures"][f"storage.{barrel}.{part}"]["value"]
    return found


def test_storm_of_two_days_is_one_spell_and_every_morning_counts(knowledge: Knowledge) -> None:
    """120 of 200 L stand there, 20 below the outlet. 150 and 180 L come: 330, room 80.

    Shut, 70 and then 180 L run over. Let out 100 L: 20 + 150 fits, then 150 run over. Opened again on the second
    morning 150 L go first (of 170, down to 20), 180 fit: nothing runs over.
    """
    document = drilled(knowledge, one_barrel(120.0), foretold([0.0, 1.5, 1.8, 0.0]))
    assert value(document, "storm") == pytest.approx(330.0)
    assert value(document, "spill-kept") == pytest.approx(250.0)
    assert value(document, "drain") == pytest.approx(100.0)
    assert value(document, "spill") == pytest.approx(150.0)
    assert value(document, "held-again") == pytest.approx(150.0)
    rows = document["walk"][0]["table"]["rows"]
    assert [row[2:] for row in rows] == [["0", "0", "0"], ["150", "70", "0"], ["180", "180", "150"]]
    assert "16 to 17 June" in document["summary"][0]


def test_storm_after_other_rain_counts_what_that_rain_fills(knowledge: Knowledge) -> None:
    """Half a millimetre today brings 50 L, so 150 of 200 L stand there when the storm of 17 June begins."""
    document = drilled(knowledge, one_barrel(100.0), foretold([0.5, 0.0, 0.0, 2.0]))
    assert document["summary"][0].endswith("is forecast for 18 June.")
    assert value(document, "room") == pytest.approx(50.0)
    assert value(document, "drain") == pytest.approx(130.0)
    assert "0.5 mm of rain before it" in " ".join(document["walk"][0]["sentences"])


def test_storm_that_finds_room_asks_for_nothing(knowledge: Knowledge) -> None:
    document = drilled(knowledge, one_barrel(50.0), foretold([0.0, 1.0]))
    assert [task["verb"] for task in document["tasks"]] == ["Look"]
    assert document["refusals"] == []
    assert "All of it finds room" in document["summary"][1]


def test_storm_let_out_only_in_part_says_where_to_stop(knowledge: Knowledge) -> None:
    """160 L stand there and 100 come: 60 L out leave 100 L, half of 0.8 m."""
    document = drilled(knowledge, one_barrel(160.0), foretold([0.0, 1.0]))
    assert value(document, "drain") == pytest.approx(60.0)
    assert value(document, "spill") == pytest.approx(0.0)
    task = next(task for task in document["tasks"] if task["verb"] == "Do")
    assert "until the water stands 40 cm above the bottom" in task["what"]


def test_storm_that_may_not_come_says_what_letting_out_costs(knowledge: Knowledge) -> None:
    """At the low end only 30 L come: 160 + 30 L if shut, 100 + 30 L after letting out 60."""
    forecast = foretold([0.0, 1.0], low_mm=[0.0, 0.3], high_mm=[0.0, 2.0])
    document = drilled(knowledge, one_barrel(160.0), forecast)
    assert value(document, "lacking") == pytest.approx(60.0)
    figure = document["figures"]["storage.barrel.spill"]
    # The most: 100 L stand there, 200 come.
    assert (figure["low"], figure["high"]) == pytest.approx((0.0, 100.0))
    assert figure["shown"] == "0 L (0 to 100)"


def test_storm_likely_to_fit_is_only_looked_at(knowledge: Knowledge) -> None:
    """Most likely 50 L into 80; at the high end 200."""
    forecast = foretold([0.0, 0.5], low_mm=[0.0, 0.0], high_mm=[0.0, 2.0])
    document = drilled(knowledge, one_barrel(120.0), forecast)
    assert {task["verb"] for task in document["tasks"]} == {"Look"}
    assert "Most likely nothing runs over; let nothing out." in " ".join(document["summary"])
    assert value(document, "spill-kept") == pytest.approx(0.0)
    assert document["figures"]["storage.barrel.spill-kept"]["high"] == pytest.approx(120.0)


def test_storm_follows_what_runs_from_one_barrel_into_the_next(knowledge: Knowledge) -> None:
    """The upper barrel is full: all 300 L that come run on into the lower one, which holds 50 of 200 L: 150 over.

    Upper: let out 180 (20 stay), so 120 L run on instead, and the lower one takes them.
    """
    upper = replace(BARREL, empties_to="lower")
    lower = replace(BARREL, name="lower", fed_by=())
    levels = (
        Level("barrel", ON - dt.timedelta(days=1), 200.0),
        Level("lower", ON - dt.timedelta(days=1), 50.0),
    )
    place = yard(roofs=(ROOF,), storages=(upper, lower), levels=levels)
    document = drilled(knowledge, place, foretold([0.0, 3.0]))
    assert value(document, "drain") == pytest.approx(180.0)
    assert value(document, "spill") == pytest.approx(120.0)
    assert value(document, "storm", "lower") == pytest.approx(300.0)
    assert value(document, "held-share", "lower") == pytest.approx(0.5)
    assert value(document, "spill-kept", "lower") == pytest.approx(150.0)
    assert value(document, "spill", "lower") == pytest.approx(0.0)
    assert "runs on into the lower" in " ".join(document["summary"])
    # The refusal speaks of the barrel whose overflow reaches the ground.
    assert "storage.lower.storm" in document["refusals"][0]["missing"]
    assert "storage.barrel.storm" not in document["refusals"][0]["missing"]


def test_storm_never_keeps_more_than_comes_to_the_last_of_two_barrels(knowledge: Knowledge) -> None:
    """Both are full, 180 of 200 L can be let out of each. At the low end 250 L come: 250 over, or none.

    So all that comes is kept, and not more: what was let out above counts in what is kept, and in what comes.
    """
    upper = replace(BARREL, empties_to="lower")
    lower = replace(BARREL, name="lower", fed_by=())
    levels = tuple(Level(name, ON - dt.timedelta(days=1), 200.0) for name in ("barrel", "lower"))
    place = yard(roofs=(ROOF,), storages=(upper, lower), levels=levels)
    document = drilled(knowledge, place, foretold([0.0, 5.0], low_mm=[0.0, 2.5], high_mm=[0.0, 9.0]))
    share = document["figures"]["storage.lower.held-share"]
    assert share["high"] == pytest.approx(1.0)
    assert share["value"] == pytest.approx(360.0 / 500.0)
    assert share["low"] == pytest.approx(360.0 / 900.0)
    assert "That counts what is let out of the barrels above it" in " ".join(screen.render(document).split())


def test_storm_at_two_full_barrels_that_share_a_level_speaks_of_two(knowledge: Knowledge) -> None:
    other = replace(BARREL, name="other", fed_by=(), linked_to=("barrel",))
    levels = tuple(Level(name, ON - dt.timedelta(days=1), 200.0) for name in ("barrel", "other"))
    place = yard(roofs=(ROOF,), storages=(BARREL, other), levels=levels)
    text = " ".join(screen.render(drilled(knowledge, place, foretold([3.0]))).split())
    assert "the barrel and the other are full: any rain runs over" in text


def test_storm_from_an_hourly_forecast_says_the_hour(knowledge: Knowledge) -> None:
    """Rain from 5 pm on 16 June; 180 L take well under an hour, so the spigot is open by 4 pm."""
    local = np.datetime64("2010-06-15T00") + np.arange(48)
    rain = np.zeros(48)
    rain[24 + 17 : 24 + 21] = 0.5
    empty = np.full(48, np.nan)
    hours = ForecastHours(local, "standard time", empty, empty, empty, rain, empty, empty, empty, empty)
    place = one_barrel(200.0)
    document = drilled(knowledge, place, foretold([0.0, 2.0], hours=hours))
    task = next(task for task in document["tasks"] if task["verb"] == "Do")
    assert "by 16:00 on 16 June" in task["what"]
    assert (task["from"], task["to"]) == ("2010-06-15", "2010-06-16")


def test_storm_that_has_begun_is_drilled_at_once(knowledge: Knowledge) -> None:
    document = drilled(knowledge, one_barrel(200.0), foretold([3.0]))
    task = next(task for task in document["tasks"] if task["verb"] == "Do")
    assert (task["from"], task["to"]) == (str(ON), str(ON))
    assert "now, before the rain begins," in task["what"]


def test_storm_in_the_months_of_hard_frost_finds_no_barrel(knowledge: Knowledge) -> None:
    on = dt.date(2010, 1, 15)
    document = drilled(knowledge, one_barrel(0.0), foretold([0.0, 20.0], first=on, issued=on), on)
    assert "No barrel of this yard stands under a downspout now" in document["summary"][1]
    assert document["tasks"] == []
    assert document["refusals"] == []


def test_storm_forecast_without_rain_or_of_which_all_is_past(knowledge: Knowledge) -> None:
    dry = drilled(knowledge, one_barrel(100.0), foretold([0.0, 0.0]))
    assert dry["summary"] == ["No rain is forecast for 15 to 16 June. There is nothing to let out."]
    with pytest.raises(InputError, match="ends on 2010-06-13"):
        drilled(knowledge, one_barrel(100.0), foretold([5.0], first=dt.date(2010, 6, 13)))


def test_storm_forecast_of_last_week_is_called_old(knowledge: Knowledge) -> None:
    document = drilled(knowledge, one_barrel(100.0), foretold([5.0], issued=dt.date(2010, 6, 9)))
    assert any("6 days ago" in note for note in document["record"])


def test_storm_diverter_is_told_instead_of_an_overflow(knowledge: Knowledge) -> None:
    barrel = replace(BARREL, empties_to="downspout")
    document = drilled(knowledge, one_barrel(200.0, barrel), foretold([3.0]))
    assert "down the old downspout" in screen.render(document)


def test_storm_barrel_without_measures_gets_amounts_and_no_time(knowledge: Knowledge) -> None:
    bare = Storage("barrel", 200.0, fed_by=("spout",))
    document = drilled(knowledge, one_barrel(200.0, bare), foretold([3.0]))
    assert value(document, "drain") == pytest.approx(200.0)
    assert "storage.barrel.drain-time" not in document["figures"]


def test_storm_uses_the_hose_of_a_bed_for_the_time_through_a_hose(knowledge: Knowledge) -> None:
    bed = Bed("bed", 4.0, "tomato", "loam", "barrel", how="hose", hose_length_m=15.0)
    place = replace(one_barrel(200.0), beds=(bed,))
    figure = drilled(knowledge, place, foretold([3.0]))["figures"]["storage.barrel.drain-hose-time"]
    assert figure["inputs"][0]["shown"] == "15 m"
    assert (
        figure["value"]
        > drilled(knowledge, place, foretold([3.0]))["figures"]["storage.barrel.drain-time"]["value"]
    )
