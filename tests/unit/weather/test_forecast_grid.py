"""The forecast grid: intervals laid on hours, hours gathered to days of standard time, units, blanks, cuts."""

import json
from datetime import UTC, date, datetime

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.weather import forecast

WEST_90 = {
    "type": "Polygon",
    "coordinates": [[[-90.02, 35.0], [-89.98, 35.0], [-90.0, 35.1], [-90.02, 35.0]]],
}


def layer(unit, *entries):
    return {"uom": unit, "values": [{"validTime": time, "value": value} for time, value in entries]}


def grid(geometry=WEST_90, **layers):
    return json.dumps(
        {"geometry": geometry, "properties": {"updateTime": "2031-05-20T04:15:00+00:00", **layers}}
    )


# Two whole days at longitude 90 west: midnight there is 06:00 in Universal Time.
TWO_DAYS = layer("wmoUnit:degC", ("2031-05-20T06:00:00+00:00/P1D", 12), ("2031-05-21T06:00:00+00:00/P1D", 20))


def test_grid_amount_over_six_hours_is_parted_at_midnight_of_the_sun(put):
    rain = layer("wmoUnit:mm", ("2031-05-20T06:00:00+00:00/PT21H", 0), ("2031-05-21T03:00:00+00:00/PT6H", 6),
                 ("2031-05-21T09:00:00+00:00/PT21H", 0))  # fmt: skip
    found = forecast.read(put(grid(temperature=TWO_DAYS, quantitativePrecipitation=rain), "grid.json"))
    assert [str(day) for day in found.dates] == ["2031-05-20", "2031-05-21"]
    assert found.rain_mm.tolist() == pytest.approx([3, 3])
    assert (found.layout, found.burst_mm_h, found.rain_days) == ("grid", None, 2)
    assert found.hours is not None
    assert found.hours.rain_mm.sum() == pytest.approx(6)


def test_grid_days_follow_the_standard_time_of_a_zone_that_is_named(put):
    rain = layer("wmoUnit:mm", ("2031-05-20T06:00:00+00:00/PT21H", 0), ("2031-05-21T03:00:00+00:00/PT6H", 6),
                 ("2031-05-21T09:00:00+00:00/PT21H", 0))  # fmt: skip
    path = put(grid(temperature=TWO_DAYS, quantitativePrecipitation=rain), "grid.json")
    # Standard time in New York is 5 hours behind, also in May: 03:00 is 22:00 of the day before.
    found = forecast.read(path, zone="America/New_York")
    assert found.rain_mm[:2].tolist() == pytest.approx([2, 4])


def test_grid_that_names_its_zone_follows_it(put):
    path = put(grid(geometry=None, temperature=TWO_DAYS, timeZone="America/Chicago"), "grid.json")
    assert forecast.read(path).t_max_c.tolist() == [12, 20]


def test_grid_high_belongs_to_its_day_and_low_to_the_morning_it_ends_on(put):
    found = forecast.read(
        put(
            grid(
                temperature=TWO_DAYS,
                maxTemperature=layer("wmoUnit:degC", ("2031-05-20T13:00:00+00:00/PT13H", 14)),
                minTemperature=layer("wmoUnit:degC", ("2031-05-21T01:00:00+00:00/PT13H", 9)),
            ),
            "grid.json",
        )
    )
    assert (found.t_max_c.tolist(), found.t_min_c.tolist()) == ([14, 20], [12, 9])


def test_grid_units_are_those_the_layer_names(put):
    found = forecast.read(
        put(
            grid(
                temperature=layer("unit:degF", ("2031-05-20T06:00:00+00:00/P1D", 50)),
                quantitativePrecipitation=layer("unit:in", ("2031-05-20T06:00:00+00:00/P1D", 1)),
                windSpeed=layer("wmoUnit:km_h-1", ("2031-05-20T06:00:00+00:00/P1D", 36)),
                windGust=layer("nwsUnit:kt", ("2031-05-20T06:00:00+00:00/PT3H", 36)),
                relativeHumidity=layer("wmoUnit:percent", ("2031-05-20T06:00:00+00:00/P1D", 60)),
            ),
            "grid.json",
        )
    )
    assert found.wind_m_s is not None
    assert found.gust_m_s is not None
    assert found.humidity_pct is not None
    values = (found.t_max_c[0], found.rain_mm[0], found.wind_m_s[0], found.gust_m_s[0], found.humidity_pct[0])
    assert values == pytest.approx((10, 25.4, 10, 18.52, 60))


def test_grid_day_with_a_blank_hour_has_no_rain_and_no_temperature_of_its_own(put):
    holed = layer("wmoUnit:degC", ("2031-05-20T06:00:00+00:00/P1DT3H", 12), ("2031-05-21T09:00:00+00:00/PT1H", None),
                  ("2031-05-21T10:00:00+00:00/PT20H", 20))  # fmt: skip
    rain = layer("wmoUnit:mm", ("2031-05-20T06:00:00+00:00/PT23H", 5), ("2031-05-21T05:00:00+00:00/PT1H", None),
                 ("2031-05-21T06:00:00+00:00/P1D", 2))  # fmt: skip
    found = forecast.read(put(grid(temperature=holed, quantitativePrecipitation=rain), "grid.json"))
    assert (found.t_max_c[0], np.isnan(found.t_max_c[1])) == (12, True)
    assert (np.isnan(found.rain_mm[0]), found.rain_mm[1]) == (True, pytest.approx(2))


@pytest.mark.parametrize(
    ("start", "known"),
    [("2031-05-20T11:00:00+00:00/PT43H", True), ("2031-05-20T12:00:00+00:00/PT42H", False)],
)
def test_grid_first_day_has_a_lowest_temperature_only_if_it_holds_the_dawn(put, start, known):
    rain = layer("wmoUnit:mm", (start, 4.2))
    found = forecast.read(
        put(grid(temperature=layer("wmoUnit:degC", (start, 12)), quantitativePrecipitation=rain), "grid.json")
    )
    assert bool(np.isfinite(found.t_min_c[0])) is known
    assert found.rain_mm[0] > 0
    assert any("begins at 0" in issue.text for issue in found.issues)


def test_grid_last_day_cut_short_has_neither_rain_nor_highest_temperature(put):
    cut = layer("wmoUnit:degC", ("2031-05-20T06:00:00+00:00/P1DT14H", 12))
    rain = layer("wmoUnit:mm", ("2031-05-20T06:00:00+00:00/P1DT14H", 3.8))
    low = layer("wmoUnit:degC", ("2031-05-21T01:00:00+00:00/PT13H", 9))
    found = forecast.read(
        put(grid(temperature=cut, quantitativePrecipitation=rain, minTemperature=low), "grid.json")
    )
    assert found.rain_mm[0] == pytest.approx(2.4)
    assert np.isnan([found.rain_mm[1], found.t_max_c[1]]).all()
    assert (found.t_min_c[1], found.rain_days) == (9, 1)


def test_grid_says_when_it_was_made_and_on_which_day_there(put):
    found = forecast.read(put(grid(temperature=TWO_DAYS), "grid.json"))
    assert found.made_at == datetime(2031, 5, 20, 4, 15, tzinfo=UTC)
    assert found.issued == date(2031, 5, 19)  # 22:15 on the evening before, at 90 degrees west
    shown = [issue.text for issue in forecast.doubts(found, datetime(2031, 5, 21, 7, 15, tzinfo=UTC))]
    assert any("1 day and 3 hours ago" in text for text in shown)
    assert any("No rain for 1 day: 2031-05-21" in text for text in shown)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        (
            grid(temperature=layer("wmoUnit:K", ("2031-05-20T06:00:00+00:00/P1D", 290))),
            "unit that is not known",
        ),
        (grid(temperature=layer("wmoUnit:degC", ("2031-05-20T06:00:00+00:00", 1))), "no interval"),
        (grid(temperature=layer("wmoUnit:degC", ("2031-05-20T06:00:00/P1D", 1))), "Universal Time"),
        (grid(temperature=layer("wmoUnit:degC", ("2031-05-20T06:00:00+00:00/P1M", 1))), "no length"),
        (grid(temperature=layer("wmoUnit:degC", ("2031-05-20T06:30:00+00:00/P1D", 1))), "whole hours"),
        (grid(temperature=layer("wmoUnit:degC", ("2031-05-20T06:00:00+00:00/P1D", "warm"))), "no number"),
        (grid(temperature=layer("wmoUnit:degC")), "empty"),
        (grid(temperature=layer("wmoUnit:degC", ("2031-05-20T06:00:00+00:00/PT3H", 1))), "not one whole day"),
        (grid(geometry=None, temperature=TWO_DAYS), "where it is"),
        (
            grid(temperature=layer("wmoUnit:degC", ("2031-05-20T06:00:00+00:00/P1D", 68))),
            "beyond any on record",
        ),
        (
            grid(
                temperature=layer(
                    "wmoUnit:degC", ("2031-05-20T06:00:00+00:00/P1D", 1), ("2301-05-20T06:00:00+00:00/P1D", 1)
                )
            ),
            "year cannot be right",
        ),
        (
            grid(
                temperature=layer(
                    "wmoUnit:degC", ("2031-05-20T06:00:00+00:00/P1D", 1), ("2032-05-20T06:00:00+00:00/P1D", 1)
                )
            ),
            "367 days apart",
        ),
        (grid(temperature=TWO_DAYS, timeZone="Mars/Olympus"), "time zone"),
        (grid(temperature=TWO_DAYS)[:300], "cut short"),
        ('{"title": "Not Found", "status": 404, "type": "x"}', "Not Found"),
        ('{"properties": {"forecastGridData": "https://example.org"}}', "look-up"),
        ('{"type": "FeatureCollection", "features": []}', "observations"),
        ('[{"temperature": 3}]', "no forecast"),
        ("[" * 20_000, "no forecast"),
    ],
)
def test_json_that_holds_no_forecast_is_refused_by_what_it_is(put, text, word):
    with pytest.raises(InputError) as caught:
        forecast.read(put(text, "grid.json"))
    assert word in caught.value.problems[0].what


def test_grid_every_fault_is_told_at_once(put):
    bad = layer("wmoUnit:degC", ("soon", 1), ("2031-05-20T06:00:00+00:00/P1D", "warm"))
    rain = layer("wmoUnit:ft", ("2031-05-20T06:00:00+00:00/P1D", 1))
    with pytest.raises(InputError) as caught:
        forecast.read(put(grid(temperature=bad, quantitativePrecipitation=rain), "grid.json"))
    assert len(caught.value.problems) == 3


@pytest.mark.parametrize(
    ("name", "unit", "value", "word"),
    [
        ("quantitativePrecipitation", "wmoUnit:mm", -2.0, "below what there can be"),
        ("probabilityOfPrecipitation", "wmoUnit:percent", 120, "above what there can be"),
        ("relativeHumidity", "wmoUnit:percent", -1, "below what there can be"),
        ("windSpeed", "wmoUnit:km_h-1", -3, "below what there can be"),
    ],
)
def test_grid_value_that_cannot_be_is_refused_with_its_stretch(put, name, unit, value, word):
    """Rain below 0 in one stretch would quietly take away the rain of the others on its day."""
    layers = {
        name: layer(unit, ("2031-05-20T06:00:00+00:00/PT6H", value), ("2031-05-20T12:00:00+00:00/PT6H", 5))
    }
    with pytest.raises(InputError) as caught:
        forecast.read(put(grid(temperature=TWO_DAYS, **layers), "grid.json"))
    (problem,) = caught.value.problems
    assert word in problem.what
    assert (problem.field, problem.found) == (name, f"{value:g}")
    assert "2031-05-20T06:00:00+00:00/PT6H" in problem.instead


def test_grid_without_a_geometry_of_parts_is_read_all_the_same(put):
    path = put(
        grid(geometry={"type": "GeometryCollection", "geometries": None}, temperature=TWO_DAYS), "grid.json"
    )
    assert forecast.read(path, zone="America/Chicago").place is None


def test_grid_says_the_place_it_was_made_for(put):
    found = forecast.read(put(grid(temperature=TWO_DAYS), "grid.json"))
    assert found.place == pytest.approx((35.05, -90.0))
    said = json.loads(grid(temperature=TWO_DAYS)) | {"fetched": {"latitude": 35.01, "longitude": -89.99}}
    assert forecast.read(put(json.dumps(said), "fetched.json")).place == (35.01, -89.99)


@pytest.mark.parametrize("depth", [65, 900, 100_000])
@pytest.mark.parametrize("inside", ["properties", "geometry", "fetched"])
def test_json_nested_without_sense_is_one_message(put, depth, inside):
    """Some parsers fall over at a thousand levels, and some walks through what they read at fewer."""
    said = grid(temperature=TWO_DAYS)
    deep = "[" * depth + "]" * depth
    text = said[:-1] + f', "{inside}": {deep}' + "}"
    with pytest.raises(InputError) as caught:
        forecast.read(put(text, "deep.json"))
    (problem,) = caught.value.problems
    assert "nested more than 64 levels" in problem.what


@pytest.mark.parametrize("number", ["1" * 5000, "1e999", "NaN", "-Infinity"])
@pytest.mark.filterwarnings("error")
def test_json_number_that_is_none_is_refused_without_a_warning(put, number):
    text = grid(temperature=TWO_DAYS).replace('"value": 12', f'"value": {number}')
    with pytest.raises(InputError):
        forecast.read(put(text, "grid.json"))
