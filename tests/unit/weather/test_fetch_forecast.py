"""The Weather Service's forecast fetched from a service on this computer."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from dooryard.problem import InputError
from dooryard.weather import forecast as forecast_reader
from dooryard.weather.fetch import forecast
from tests.fetch_desk import NOW, Notes, desk_for
from tests.weather_service import Service, body, changed, half_sent, running, status


def layer(unit: str, values: list[tuple[str, float | None]]) -> dict[str, Any]:
    return {
        "uom": f"wmoUnit:{unit}",
        "values": [{"validTime": time, "value": value} for time, value in values],
    }


def grid() -> dict[str, Any]:
    """Three days of a grid cell: cool nights, 6 mm of rain in the small hours of the second day."""
    start = datetime(2031, 6, 10, 10, tzinfo=UTC)
    hours = [(start + timedelta(hours=step)).isoformat() + "/PT1H" for step in range(72)]
    return {
        "type": "Feature",
        "geometry": {"type": "Polygon", "coordinates": [[[-84.99, 30.03], [-84.97, 30.03], [-84.97, 30.01]]]},
        "properties": {
            "updateTime": "2031-06-10T09:15:41+00:00",
            "validTimes": "2031-06-10T10:00:00+00:00/P3D",
            "temperature": layer("degC", [(hour, 20.0 + step % 24 / 4) for step, hour in enumerate(hours)]),
            "maxTemperature": layer("degC", [("2031-06-10T12:00:00+00:00/PT13H", 27.0)]),
            "minTemperature": layer("degC", [("2031-06-11T00:00:00+00:00/PT14H", 16.0)]),
            "quantitativePrecipitation": layer(
                "mm",
                [
                    ("2031-06-10T10:00:00+00:00/PT20H", 0.0),
                    ("2031-06-11T06:00:00+00:00/PT6H", 6.0),
                    ("2031-06-11T12:00:00+00:00/PT46H", 0.0),
                ],
            ),
        },
    }


def periods() -> dict[str, Any]:
    return {
        "properties": {
            "updateTime": "2031-06-10T09:15:41+00:00",
            "periods": [
                {
                    "number": 1,
                    "startTime": "2031-06-10T06:00:00-04:00",
                    "endTime": "2031-06-10T18:00:00-04:00",
                    "isDaytime": True,
                    "temperature": 80,
                    "temperatureUnit": "F",
                    "windSpeed": "5 to 10 mph",
                }
            ],
        }
    }


@pytest.fixture
def service() -> Iterator[Service]:
    with running() as found:
        found.points["30,-85"] = {
            "properties": {
                "gridId": "TAE",
                "gridX": 58,
                "gridY": 65,
                # Another host on purpose: the addresses in an answer are never followed.
                "forecastGridData": "https://elsewhere.invalid/gridpoints/TAE/58,65",
                "timeZone": "America/New_York",
                "relativeLocation": {"properties": {"city": "Sumatra", "state": "FL"}},
            }
        }
        found.grids["TAE/58,65"] = grid()
        found.grids["TAE/58,65/forecast"] = periods()
        yield found


@pytest.fixture
def notes() -> Notes:
    return Notes()


def refusal(call: object) -> str:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    return str(caught.value)


def test_forecast_is_found_by_place_then_by_grid_cell(service: Service, tmp_path: Path, notes: Notes) -> None:
    fetched = forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes))
    assert [asked.path for asked in service.asked] == ["/points/30,-85", "/gridpoints/TAE/58,65"]
    assert all(asked.headers["accept"] == "application/geo+json" for asked in service.asked)
    assert fetched.cell == forecast.Cell("TAE", 58, 65, "America/New_York", "Sumatra, FL")
    assert fetched.updated == datetime(2031, 6, 10, 9, 15, 41, tzinfo=UTC)
    said = json.loads(fetched.content)
    assert said["fetched"]["time_zone"] == "America/New_York"
    assert said["fetched"]["at"] == NOW.isoformat()
    assert said["properties"]["temperature"] == grid()["properties"]["temperature"]


@pytest.mark.parametrize(
    ("latitude", "longitude", "path"),
    [
        (38.038, -84.5, "/points/38.038,-84.5"),
        (38.03801, -84.49999, "/points/38.038,-84.5"),
        (30.0, -85.0, "/points/30,-85"),
        (-0.00001, 100.0, "/points/0,100"),
        (38.12345678, -84.98765432, "/points/38.1235,-84.9877"),
    ],
)
def test_forecast_place_is_written_as_the_service_wants_it(
    service: Service, tmp_path: Path, notes: Notes, latitude: float, longitude: float, path: str
) -> None:
    """Four decimals at most and no trailing zeros: any other spelling is sent on to another address."""
    if path != "/points/30,-85":
        refusal(lambda: forecast.forecast(latitude, longitude, desk_for(service.url, tmp_path, notes)))
    else:
        forecast.forecast(latitude, longitude, desk_for(service.url, tmp_path, notes))
    assert service.asked[0].path == path


def test_forecast_saved_is_read_with_its_days_on_the_clock_of_the_place(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    fetched = forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes))
    path = tmp_path / "forecast.json"
    path.write_bytes(fetched.content)
    read = forecast_reader.read(path)
    by_day = dict(zip(read.dates.tolist(), read.rain_mm.tolist(), strict=True))
    # 06 to 12 UTC on the 11th is 02 to 08 in New York: the whole 6 mm fall on the 11th.
    assert by_day[datetime(2031, 6, 11).date()] == pytest.approx(6.0)


def test_forecast_in_periods_is_fetched_when_asked_for(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    fetched = forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes), kind="periods")
    assert service.asked[-1].path == "/gridpoints/TAE/58,65/forecast"
    assert json.loads(fetched.content)["properties"]["periods"][0]["windSpeed"] == "5 to 10 mph"


def test_forecast_is_asked_for_again_after_an_hour_and_the_cell_is_not(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes))
    soon = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(minutes=59))
    assert forecast.forecast(30.0, -85.0, soon).asked == 0
    later = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(minutes=61))
    assert forecast.forecast(30.0, -85.0, later).asked == 1
    assert service.asked[-1].path == "/gridpoints/TAE/58,65"


def test_forecast_offline_is_the_old_one_with_its_age(service: Service, tmp_path: Path, notes: Notes) -> None:
    forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes))
    away = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(hours=30), offline=True)
    old = forecast.forecast(30.0, -85.0, away)
    assert len(old.warnings) == 1
    assert "1 day old" in old.warnings[0]
    assert json.loads(old.content)["fetched"]["at"] == NOW.isoformat()


def test_forecast_offline_without_one_says_how_to_bring_it(tmp_path: Path, notes: Notes) -> None:
    away = desk_for("http://127.0.0.1:1", tmp_path, notes, offline=True)
    text = refusal(lambda: forecast.forecast(38.04, -84.5, away))
    assert "http://127.0.0.1:1/points/38.04,-84.5" in text
    assert "forecastGridData" in text
    assert "--forecast forecast.json" in text


def test_forecast_outside_the_grid_is_refused_in_the_services_words(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    text = refusal(lambda: forecast.forecast(52.1, 5.2, desk_for(service.url, tmp_path, notes)))
    assert "answer 404" in text
    assert "Data Unavailable For Requested Point" in text


def test_forecast_for_a_place_the_service_knows_but_does_not_serve_is_refused(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    """Some places answer with a cell of nulls."""
    service.points["61.3,-149.5"] = {"properties": {"gridId": None, "gridX": None, "gridY": None}}
    text = refusal(lambda: forecast.forecast(61.3, -149.5, desk_for(service.url, tmp_path, notes)))
    assert "United States only" in text


@pytest.mark.parametrize("office", ["../../x", "TAE/1", "tae", "", 5])
def test_forecast_cell_that_is_no_cell_is_not_asked_for(
    service: Service, tmp_path: Path, notes: Notes, office: object
) -> None:
    service.points["30,-85"]["properties"]["gridId"] = office
    refusal(lambda: forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes)))
    assert [asked.path for asked in service.asked] == ["/points/30,-85"]


def edited(change: Any) -> Any:
    def edit(right: bytes) -> bytes:
        said = json.loads(right)
        change(said["properties"])
        return json.dumps(said).encode()

    return changed(edit)


@pytest.mark.parametrize(
    ("spoiler", "said"),
    [
        (body(b"<html>sign in</html>"), "web page"),
        (body(b"{}"), "holds no forecast"),
        (body(b"[1, 2]"), "no object with names and values"),
        (changed(lambda right: right[:-30]), "cut short"),
        (half_sent, "broke off"),
        (status(503, body=b'{"title": "Unavailable Resource"}'), "out of order"),
        (edited(lambda properties: properties.pop("temperature")), "temperature is not as described"),
        (
            edited(lambda properties: properties["maxTemperature"].pop("uom")),
            "maxTemperature is not as described",
        ),
        (edited(lambda properties: properties.pop("updateTime")), "when it was made"),
        (
            edited(lambda properties: properties["quantitativePrecipitation"].update(values={"a": 1})),
            "quantitativePrecipitation is not as described",
        ),
        (
            edited(lambda properties: [properties[name].update(values=[]) for name in forecast._LAYERS]),
            "is empty",
        ),
    ],
)
def test_forecast_answer_that_is_wrong_is_told_and_never_kept(
    service: Service, tmp_path: Path, notes: Notes, spoiler: Any, said: str
) -> None:
    service.spoil = [None, *[spoiler] * 4]
    text = refusal(lambda: forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes)))
    assert said in text
    service.spoil = []
    assert forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes)).asked == 1


def test_forecast_without_any_period_is_refused(service: Service, tmp_path: Path, notes: Notes) -> None:
    service.grids["TAE/58,65/forecast"]["properties"]["periods"] = [{"number": None, "temperature": None}]
    desk = desk_for(service.url, tmp_path, notes)
    assert "empty" in refusal(lambda: forecast.forecast(30.0, -85.0, desk, kind="periods"))


def test_forecast_no_place_on_earth_is_not_asked_for(service: Service, tmp_path: Path, notes: Notes) -> None:
    refusal(lambda: forecast.forecast(381.0, -84.5, desk_for(service.url, tmp_path, notes)))
    refusal(lambda: forecast.forecast(float("nan"), -84.5, desk_for(service.url, tmp_path, notes)))
    assert service.asked == []


DEEP = b'{"properties": ' + b"[" * 100_000 + b"]" * 100_000 + b"}"


@pytest.mark.parametrize("before", [0, 1], ids=["place", "cell"])
def test_forecast_answer_nested_without_end_is_one_message(
    service: Service, tmp_path: Path, notes: Notes, before: int
) -> None:
    service.spoil = [*[None] * before, body(DEEP, "application/geo+json")]
    text = refusal(lambda: forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes)))
    assert "nested more than 64 levels" in text


def test_forecast_refusal_nested_without_end_is_one_message(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    service.spoil = [status(404, body=b"[" * 100_000)]
    text = refusal(lambda: forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes)))
    assert "answer 404" in text


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (
            lambda properties: properties["quantitativePrecipitation"]["values"][1].update(value=-6.0),
            "below what there can be. (quantitativePrecipitation -6)",
        ),
        (
            lambda properties: properties["temperature"]["values"][3].update(value="warm"),
            "no number. (temperature warm)",
        ),
        (
            lambda properties: properties["temperature"]["values"][3].update(value=300.0),
            "beyond any on record",
        ),
        (
            lambda properties: properties["temperature"]["values"][3].update(validTime="today"),
            "no interval of time. (temperature today)",
        ),
        (lambda properties: properties["temperature"].update(uom="wmoUnit:K"), "unit that is not known"),
    ],
    ids=["rain below 0", "word", "hot", "time", "unit"],
)
def test_forecast_that_no_reader_takes_is_told_and_never_kept(
    service: Service, tmp_path: Path, notes: Notes, change: Any, said: str
) -> None:
    service.spoil = [None, edited(change)]
    desk = desk_for(service.url, tmp_path, notes)
    assert said in refusal(lambda: forecast.forecast(30.0, -85.0, desk))
    assert len(list((tmp_path / "cache").glob("*"))) == 1
    assert forecast.forecast(30.0, -85.0, desk).asked == 1


def test_forecast_periods_that_no_reader_takes_are_told_and_never_kept(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    service.spoil = [None, edited(lambda properties: properties["periods"][0].update(windSpeed="brisk"))]
    desk = desk_for(service.url, tmp_path, notes)
    text = refusal(lambda: forecast.forecast(30.0, -85.0, desk, kind="periods"))
    assert "no wind speed. (windSpeed brisk)" in text
    assert forecast.forecast(30.0, -85.0, desk, kind="periods").asked == 1


def test_forecast_clock_that_is_not_known_here_leaves_the_sun_to_say(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    """A zone newer than this computer's list must not make a good forecast useless; its clock is told."""
    service.points["30,-85"]["properties"]["timeZone"] = "America/Newtown"
    fetched = forecast.forecast(30.0, -85.0, desk_for(service.url, tmp_path, notes))
    (tmp_path / "forecast.json").write_bytes(fetched.content)
    read = forecast_reader.read(tmp_path / "forecast.json")
    assert any("the sun's clock" in issue.text for issue in read.issues)


def test_forecast_refreshed_asks_for_place_and_cell(service: Service, tmp_path: Path, notes: Notes) -> None:
    desk = desk_for(service.url, tmp_path, notes)
    forecast.forecast(30.0, -85.0, desk)
    assert forecast.forecast(30.0, -85.0, desk).asked == 0
    assert forecast.forecast(30.0, -85.0, replace(desk, refresh=True)).asked == 2


def test_forecast_of_another_place_is_told_and_never_kept(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    moved = json.loads(json.dumps(grid()))
    moved["geometry"]["coordinates"] = [[[-95.0, 40.0], [-94.9, 40.0], [-95.0, 40.1]]]
    service.spoil = [None, body(json.dumps(moved).encode(), "application/geo+json")]
    desk = desk_for(service.url, tmp_path, notes)
    assert "forecast of a place 1,4" in refusal(lambda: forecast.forecast(30.0, -85.0, desk))
    assert forecast.forecast(30.0, -85.0, desk).asked == 1


def test_forecast_that_the_service_made_long_ago_is_told(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    """Fetched this minute, and three days old all the same: the office has stopped making new ones."""
    later = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(days=3))
    (warning,) = forecast.forecast(30.0, -85.0, later).warnings
    assert warning.startswith("The service made this forecast 3 days ago")
