"""Reference evapotranspiration day by day against independent libraries, over whole climate records.

The records come with the `aquacrop` package (tests only): temperatures, rain and that program's own
reference ET. Station heights and latitudes are not in the files; any plausible place will do, because both
sides are given the same one.
"""

from __future__ import annotations

from pathlib import Path

import aquacrop
import numpy as np
import pandas as pd
import pyet
import pytest
import refet

from dooryard.water import air, radiation
from dooryard.water import evapotranspiration as et

DATA = Path(aquacrop.__file__).parent / "data"


def climate(name: str) -> pd.DataFrame:
    """Columns t_min_c, t_max_c, rain_mm, et_mm by day, from one file of the package."""
    table = pd.read_csv(DATA / f"{name}_climate.txt", sep=r"\s+")
    table.columns = ["day", "month", "year", "t_min_c", "t_max_c", "rain_mm", "et_mm"]
    table.index = pd.to_datetime(table[["year", "month", "day"]])
    return table


PLACES = [
    ("brussels", 50.8, 100.0),
    ("tunis", 36.8, 4.0),
    ("champion", 41.4, 375.0),
    ("hyderabad", 17.4, 540.0),
]


@pytest.mark.parametrize(("name", "latitude"), [place[:2] for place in PLACES])
def test_extraterrestrial_radiation_whole_record_agrees_with_pyet(name: str, latitude: float) -> None:
    table = climate(name)
    theirs = pyet.extraterrestrial_r(table.index, np.radians(latitude))
    ours = radiation.extraterrestrial_radiation(table.index.dayofyear.to_numpy(), latitude)
    assert ours == pytest.approx(theirs.to_numpy(), rel=1e-8)


@pytest.mark.parametrize(("name", "latitude", "elevation_m"), PLACES)
def test_from_temperature_whole_record_agrees_with_pyet(
    name: str, latitude: float, elevation_m: float
) -> None:
    table = climate(name)
    phi = np.radians(latitude)
    arriving = pyet.extraterrestrial_r(table.index, phi)
    clear = pyet.calc_rso(ra=arriving, elevation=elevation_m)
    solar = np.minimum(0.16 * np.sqrt(table.t_max_c - table.t_min_c) * arriving, clear)
    theirs = pyet.pm_fao56(
        (table.t_min_c + table.t_max_c) / 2,
        pd.Series(2.0, index=table.index),
        rs=solar,
        tmax=table.t_max_c,
        tmin=table.t_min_c,
        ea=pyet.calc_e0(table.t_min_c),
        elevation=elevation_m,
        lat=phi,
    )
    ours = et.from_temperature(
        table.index.dayofyear.to_numpy(),
        table.t_min_c.to_numpy(),
        table.t_max_c.to_numpy(),
        latitude=latitude,
        elevation_m=elevation_m,
    )
    assert len(ours) > 4000
    assert ours == pytest.approx(theirs.to_numpy(), abs=1e-7)


@pytest.mark.check(
    "W-07-12", source="pyet, with a latent heat that varies with temperature", status="computed"
)
@pytest.mark.parametrize(("name", "latitude"), [place[:2] for place in PLACES])
def test_hargreaves_whole_record_agrees_with_pyet(name: str, latitude: float) -> None:
    table = climate(name)
    t_mean_c = (table.t_min_c + table.t_max_c) / 2
    theirs = pyet.hargreaves(t_mean_c, table.t_max_c, table.t_min_c, np.radians(latitude))
    arriving = radiation.extraterrestrial_radiation(table.index.dayofyear.to_numpy(), latitude)
    ours = np.maximum(et.hargreaves(table.t_min_c.to_numpy(), table.t_max_c.to_numpy(), arriving), 0.0)
    # FAO-56 fixes the latent heat at 1/0.408 MJ/kg; they let it fall with temperature (2.501 - 0.002361 T)
    latent_mj_kg = (2.501 - 0.002361 * t_mean_c).to_numpy()
    assert ours / 0.408 / latent_mj_kg == pytest.approx(theirs.to_numpy(), rel=1e-3, abs=1e-9)
    assert np.mean(ours) == pytest.approx(np.mean(theirs), rel=0.01)


@pytest.mark.parametrize(("name", "latitude", "elevation_m"), PLACES)
def test_from_temperature_is_near_the_reference_et_shipped_with_the_record(
    name: str, latitude: float, elevation_m: float
) -> None:
    """A yardstick, not an oracle: theirs had measured sun, wind and humidity, ours sees temperatures only.

    FAO-56 asks for means over several days when data are estimated, and so does this test: months. A fifth
    of the mean is what the missing sun and wind can cost in a windy place; the seasons must follow each
    other closely.
    """
    table = climate(name)
    ours = pd.Series(
        et.from_temperature(
            table.index.dayofyear.to_numpy(),
            table.t_min_c.to_numpy(),
            table.t_max_c.to_numpy(),
            latitude=latitude,
            elevation_m=elevation_m,
        ),
        index=table.index,
    )
    monthly = pd.DataFrame({"ours": ours, "theirs": table.et_mm}).resample("MS").mean()
    assert monthly.ours.mean() == pytest.approx(monthly.theirs.mean(), rel=0.20)
    assert monthly.ours.corr(monthly.theirs) > 0.95


@pytest.mark.check("W-07-19", source="Fallon NV, 1 July 2015, with the refet library", status="computed")
def test_penman_monteith_fallon_agrees_with_refet() -> None:
    t_min_c, t_max_c, dew_c = ((value - 32) / 1.8 for value in (66.65, 102.80, 49.84))
    solar = 674.07 * 0.041868  # langleys to MJ/m2
    wind_3m_m_s = 4.80 * 0.44704
    latitude, elevation_m = 39.4575, 1208.5
    arriving = radiation.extraterrestrial_radiation(182, latitude)
    clear = radiation.clear_sky_radiation(arriving, elevation_m)
    vapour_kpa = air.vapour_pressure_from_dew_point(dew_c)
    net = radiation.net_shortwave(solar) - radiation.net_longwave(t_min_c, t_max_c, vapour_kpa, solar, clear)
    ours = et.penman_monteith(
        t_min_c,
        t_max_c,
        net_radiation_mj_m2=net,
        wind_2m_m_s=air.wind_at_2m(wind_3m_m_s, 3.0),
        vapour_pressure_kpa=vapour_kpa,
        pressure_kpa=air.atmospheric_pressure(elevation_m),
    )
    assert ours == pytest.approx(7.99719, abs=2e-4)
    theirs = refet.Daily(
        tmin=t_min_c, tmax=t_max_c, ea=vapour_kpa, rs=solar, uz=wind_3m_m_s, zw=3, elev=elevation_m,
        lat=latitude, doy=182, method="asce", rso_type="simple",
    ).eto()  # fmt: skip
    assert ours == pytest.approx(float(theirs[0]), abs=0.005)
