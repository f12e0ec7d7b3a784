"""Whole records that a registry package ships, put into our plain layout: totals against independent figures.

The yearly rain below was worked out by others from the same files, not by this program.
"""

from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

from dooryard import weather


def climate_as_plain_csv(name, folder):
    """The package's table (Day Month Year Tmin Tmax Prcp Et0, apart by blanks) as a plain CSV."""
    package = find_spec("aquacrop")
    assert package is not None, "the development packages are not installed"
    table = Path(package.submodule_search_locations[0]) / "data" / f"{name}_climate.txt"
    rows = [line.split() for line in table.read_text().splitlines()[1:] if line.strip()]
    lines = [
        f"{int(y):04d}-{int(m):02d}-{int(d):02d},{low},{high},{rain}" for d, m, y, low, high, rain, *_ in rows
    ]
    path = folder / f"{name}.csv"
    path.write_text("date,tmin_C,tmax_C,rain_mm\n" + "\n".join(lines) + "\n")
    return path


@pytest.mark.parametrize(
    ("name", "first", "last", "rain_mm"),
    [
        ("champion", "1982-01-01", "2018-12-31", 414),
        ("brussels", "1976-01-01", "2005-12-31", 841),
        ("cordoba", "1991-01-01", "2021-12-31", 867),
        ("hyderabad", "2000-01-01", "2010-12-31", 962),
    ],
)
def test_package_record_has_the_yearly_rain_others_found(tmp_path, name, first, last, rain_mm):
    record = weather.read(climate_as_plain_csv(name, tmp_path))
    assert (str(record.first), str(record.last)) == (first, last)
    years = record.complete_years("rain_mm")
    assert len(years) == record.last.year - record.first.year + 1
    assert record.rain_mm.sum() / len(years) == pytest.approx(rain_mm, abs=0.5)
    assert not np.isnan(record.t_min_c).any()
    assert (record.t_min_c <= record.t_max_c).all()


def test_package_record_of_the_south_is_hottest_in_january(tmp_path):
    record = weather.read(climate_as_plain_csv("cordoba", tmp_path))
    month = record.dates.astype("datetime64[M]").astype(int) % 12
    assert int(np.argmax([record.t_max_c[month == number].mean() for number in range(12)])) == 0


def test_package_record_without_a_gap_in_decades_is_told_to_be_filled(tmp_path):
    record = weather.read(climate_as_plain_csv("champion", tmp_path))
    assert "filled" in {issue.kind for issue in record.issues}
