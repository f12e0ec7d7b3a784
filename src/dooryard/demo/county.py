"""The invented county's weather: two stations' records from the generator, and a week's forecast."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np

from dooryard.weather.generator import MONTHLY, Climate, Generated, generate

_PARAMETERS = Path(__file__).parent / "stations.toml"
_COLUMNS = {"us": "date,tmin_F,tmax_F,rain_in,dew_F", "metric": "date,tmin_C,tmax_C,rain_mm,dew_C"}


def write(folder: Path) -> list[Path]:
    """Write stations/*.csv, county.toml and forecast.csv into `folder` (made if absent); the same bytes every time.

    Returns the files written, the forecast last.
    """
    parameters = tomllib.loads(_PARAMETERS.read_text(encoding="utf-8"))
    stations = folder / "stations"
    stations.mkdir(parents=True, exist_ok=True)
    written = []
    for station in parameters["stations"]:
        path = stations / station["file"]
        path.write_text(station_csv(parameters, station), encoding="utf-8", newline="\n")
        written.append(path)
    path = folder / "county.toml"
    path.write_text(f'name = "{parameters["county"]}"\n', encoding="utf-8", newline="\n")
    written.append(path)
    forecast = parameters["forecast"]
    path = folder / forecast["file"]
    lines = [f"# issued: {forecast['issued']}", forecast["header"], *forecast["lines"]]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    return [*written, path]


def climate(parameters: dict[str, Any], station: dict[str, Any]) -> Climate:
    """The climate of one station: the county's rain with the station's temperatures."""
    lists = parameters["climate"] | station
    return Climate(**{name: np.array(lists[name], dtype=float) for name in MONTHLY})


def weather_of(parameters: dict[str, Any], station: dict[str, Any]) -> Generated:
    """The generated days of one station, whole: its blemishes are put in when it is written."""
    return generate(
        climate(parameters, station),
        parameters["first"],
        parameters["last"],
        seed=station["seed"],
        region_seed=parameters["region_seed"],
        shared=parameters["shared"],
    )


def station_csv(parameters: dict[str, Any], station: dict[str, Any]) -> str:
    """One station's record as a plain CSV in its own units, rounded as stations do, with its blemishes."""
    days = weather_of(parameters, station)
    us = station["units"] == "us"
    # A gauge is read to 0.01 in or 0.1 mm; a wet day with less than half of that is a trace.
    least_mm, rain_digits = (0.254, 2) if us else (0.1, 1)
    rain = days.rain_mm / 25.4 if us else days.rain_mm
    degrees = [
        _fahrenheit(series) if us else series for series in (days.t_min_c, days.t_max_c, days.dew_point_c)
    ]
    temperatures = [
        [f"{value:.0f}" if us else f"{value:.1f}" for value in series.tolist()] for series in degrees
    ]
    amounts = [
        "T" if wet and amount_mm < least_mm / 2 else f"{amount:.{rain_digits}f}"
        for wet, amount_mm, amount in zip(
            days.wet.tolist(), days.rain_mm.tolist(), rain.tolist(), strict=True
        )
    ]
    for column in (temperatures[0], temperatures[1], temperatures[2]):
        _blank(column, parameters["first"], station["no_temperature"])
    _blank(amounts, parameters["first"], station["no_rain"])
    lines = [
        f"{day},{low},{high},{amount},{dew}"
        for day, low, high, amount, dew in zip(
            days.dates.astype(str).tolist(),
            temperatures[0],
            temperatures[1],
            amounts,
            temperatures[2],
            strict=True,
        )
    ]
    for span in sorted(station["no_line"], reverse=True):
        del lines[_span(parameters["first"], span)]
    return "\n".join([*_head(parameters, station), *lines]) + "\n"


def _head(parameters: dict[str, Any], station: dict[str, Any]) -> list[str]:
    return [
        f"# station: {station['name']}",
        f"# id: {station['id']}",
        f"# county: {parameters['county']} (invented)",
        "# invented: made by a weather generator for this county; nobody measured it",
        f"# latitude: {station['latitude']}",
        f"# longitude: {station['longitude']}",
        f"# elevation: {station['elevation']}",
        "# days run from midnight to midnight; T is a trace of rain; blank is missing",
        _COLUMNS[station["units"]],
    ]


def _fahrenheit(
    series_c: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return series_c * 9 / 5 + 32


def _span(first: date, span: Sequence[str]) -> slice:
    start, end = (date.fromisoformat(day) for day in span)
    return slice((start - first).days, (end - first).days + 1)


def _blank(column: list[str], first: date, spans: Sequence[Sequence[str]]) -> None:
    for span in spans:
        where = _span(first, span)
        column[where] = [""] * (where.stop - where.start)
