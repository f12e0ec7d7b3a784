"""A typical year that a solar library ships, read by that library and by us: one and the same weather."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

from dooryard import weather


def shipped(name: str) -> Path:
    """A data file inside the installed library."""
    spec = find_spec("pvlib")
    assert spec is not None
    assert spec.submodule_search_locations
    return Path(spec.submodule_search_locations[0]) / "data" / name


def test_tmy3_hours_equal_a_second_reader() -> None:
    """Greensboro: every hour's temperature, dew point, humidity, wind and sunshine as pvlib reads them."""
    from pvlib.iotools import read_tmy3

    path = shipped("723170TYA.CSV")
    table, _ = read_tmy3(str(path), map_variables=False)
    ours = weather.read_hourly(path)
    assert len(table) == len(ours.hours) == 8760
    for element, column in (
        ("temperature_c", "Dry-bulb (C)"),
        ("dew_point_c", "Dew-point (C)"),
        ("humidity_pct", "RHum (%)"),
        ("wind_m_s", "Wspd (m/s)"),
        ("solar_w_m2", "GHI (W/m^2)"),
    ):
        np.testing.assert_allclose(ours.element(element), table[column].to_numpy(dtype=float), atol=1e-9)


def test_tmy3_rain_is_tenths_of_a_millimetre() -> None:
    """The header says mm, yet hundredths of an inch read 3, 5, 8, 10: tenths. 8,345 of them are 834.5 mm."""
    from pvlib.iotools import read_tmy3

    path = shipped("723170TYA.CSV")
    table, _ = read_tmy3(str(path), map_variables=False)
    column = next(name for name in table.columns if name.startswith("Lprecip depth"))
    published = table[column].to_numpy(dtype=float)
    assert np.nansum(weather.read_hourly(path).element("rain_mm")) == pytest.approx(
        published[published >= 0].sum() / 10
    )
