"""Design tables as served, as a spreadsheet saved them again, and as they go wrong. All values are invented."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.weather.readers import atlas14
from dooryard.weather.readers.atlas14 import DesignTable

SERVED = """\
Point precipitation frequency estimates (inches)
NOAA Atlas 14 Volume 99 Version 1
Data type: Precipitation depth
Time series type: Partial duration
Project area: Nowhere
Location name (ESRI Maps): Quillfeather, Nowhere, USA
Station Name: -
Latitude: 38.2180 Degree
Longitude: -85.1010 Degree
Elevation (USGS): 625 ft


PRECIPITATION FREQUENCY ESTIMATES
by duration for ARI (years):, 1,2,10,100
5-min:, 0.400,0.500,0.700,1.00
60-min:, 1.20,1.50,2.10,3.00
24-hr:, 2.40,3.00,4.20,6.00
2-day:, 2.90,3.60,5.00,7.10

Date/time (GMT):  Mon Jun 19 14:23:29 2023
pyRunTime:  0.013
"""

RESAVED = """\
Point precipitation frequency estimates (inches),,,,
NOAA Atlas 14 Volume 99 Version 1,,,,
Data type: Precipitation depth,,,,
Time series type: Partial duration,,,,
"Location name (ESRI Maps): Quillfeather, Nowhere, USA",,,,
Latitude: 38.2180 Degree,,,,
Longitude: -85.1010 Degree,,,,
Elevation (USGS): 625 ft,,,,
,,,,
PRECIPITATION FREQUENCY ESTIMATES,,,,
,1,2,10,100
5-min,0.4,0.5,0.7,1
60-min,1.2,1.5,2.1,3
24-hr,2.4,3,4.2,6
2-day,2.9,3.6,5,7.1
"""


def table(tmp_path: Path, text: str) -> DesignTable:
    path = tmp_path / "table.csv"
    path.write_text(text, encoding="utf-8")
    return atlas14.read(path)


def told(tmp_path: Path, text: str) -> str:
    with pytest.raises(InputError) as caught:
        table(tmp_path, text)
    return "\n".join(str(problem) for problem in caught.value.problems)


def test_served_table_is_read_with_its_place(tmp_path: Path) -> None:
    found = table(tmp_path, SERVED)
    assert found.minutes.tolist() == [5, 60, 1440, 2880]
    assert found.years.tolist() == [1, 2, 10, 100]
    assert found.depth_mm[1] == pytest.approx(np.array([1.2, 1.5, 2.1, 3.0]) * 25.4)
    assert (found.place, found.edition) == ("Quillfeather, Nowhere, USA", "NOAA Atlas 14 Volume 99 Version 1")
    assert (found.latitude, found.longitude) == (38.218, -85.101)
    assert found.elevation_m == pytest.approx(625 * 0.3048)
    assert (found.series, found.low_mm, found.high_mm) == ("partial duration", None, None)


def test_table_saved_again_by_a_spreadsheet_reads_the_same(tmp_path: Path) -> None:
    served, resaved = table(tmp_path, SERVED), table(tmp_path, RESAVED)
    assert resaved.depth_mm == pytest.approx(served.depth_mm)
    assert resaved.years.tolist() == served.years.tolist()
    assert resaved.minutes.tolist() == served.minutes.tolist()
    assert (resaved.place, resaved.latitude) == (served.place, served.latitude)


def test_place_with_commas_outside_quotes_is_kept_whole(tmp_path: Path) -> None:
    assert table(tmp_path, RESAVED.replace('"', "")).place == "Quillfeather, Nowhere, USA"


def test_table_in_millimetres_and_one_of_rates_give_the_same_depths(tmp_path: Path) -> None:
    head = "Point precipitation frequency estimates ({})\nData type: Precipitation {}\n"
    depths = table(
        tmp_path,
        head.format("millimeters", "depth")
        + "by duration for ARI (years):, 2,10\n30-min:, 20,30\n2-hr:, 40,60\n",
    )
    rates = table(
        tmp_path,
        head.format("millimeters/hour", "intensity")
        + "by duration for ARI (years):, 2,10\n30-min:, 40,60\n2-hr:, 20,30\n",
    )
    assert depths.depth_mm.tolist() == [[20, 30], [40, 60]]
    assert rates.depth_mm == pytest.approx(depths.depth_mm)


def test_bounds_of_the_confidence_interval_are_kept(tmp_path: Path) -> None:
    lower = SERVED[SERVED.index("by duration") : SERVED.index("\nDate")].replace("1.50", "1.30")
    upper = lower.replace("1.30", "1.70")
    text = (
        f"{SERVED.split('Date/time')[0]}\nPRECIPITATION FREQUENCY ESTIMATES AT UPPER BOUND OF 90% CONFIDENCE "
        f"INTERVAL\n{upper}\n\nPRECIPITATION FREQUENCY ESTIMATES AT LOWER BOUND OF 90% CONFIDENCE INTERVAL\n{lower}"
    )
    found = table(tmp_path, text)
    assert found.depth_mm[1, 1] == pytest.approx(1.5 * 25.4)
    assert found.low_mm is not None
    assert found.high_mm is not None
    assert (found.low_mm[1, 1], found.high_mm[1, 1]) == (pytest.approx(1.3 * 25.4), pytest.approx(1.7 * 25.4))


def test_annual_chances_become_recurrence_intervals(tmp_path: Path) -> None:
    text = SERVED.replace(
        "by duration for ARI (years):, 1,2,10,100", "by duration for AEP:, '1/2,'1/5,'1/10,'1/100"
    )
    found = table(tmp_path, text)
    assert found.series == "annual maximum"
    # A chance of one in n a year: -1 / ln(1 - 1/n).
    assert found.years.tolist() == pytest.approx(
        [1 / math.log(2), 1 / math.log(1.25), 9.4912, 99.499], rel=1e-4
    )


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("by duration for ARI (years):, 1,2,10,100\n", "", "return periods"),
        ("(inches)", "", "inches or millimetres"),
        ("60-min:, 1.20,1.50,2.10,3.00", "60-min:, 1.20,1.50,2.10", "3 values under 4"),
        ("60-min:, 1.20,1.50,2.10,3.00", "60-min:, 1.20,1.50,21.0,3.00", "Rarer rain is smaller"),
        ("60-min:, 1.20", "60-min:, -1.20", "no rain depth"),
        ("60-min:, 1.20", "60-min:, none", "no rain depth"),
        ("60-min", "3-min", "do not rise from row to row"),
        ("(years):, 1,2,10", "(years):, 1,20,10", "do not rise from left"),
        ("(years):, 1,2,10", "(years):, 1,Feb,10", "date of a chance"),
        ("60-min:, 1.20,1.50,2.10,3.00\n24-hr", "24-hour x", "two rows"),
    ],
)
def test_table_that_cannot_be_used_says_why(tmp_path: Path, old: str, new: str, words: str) -> None:
    assert SERVED.count(old) == 1
    message = told(tmp_path, SERVED.replace(old, new))
    assert words in message
    assert "table.csv" in message


def test_all_faults_are_told_with_their_lines(tmp_path: Path) -> None:
    text = SERVED.replace("0.400", "-0.4").replace("2.40,3.00", "2.40")
    message = told(tmp_path, text)
    assert "line 15" in message
    assert "line 17" in message


def test_table_whose_value_falls_with_duration_is_told(tmp_path: Path) -> None:
    assert "shorter" in told(
        tmp_path, SERVED.replace("24-hr:, 2.40,3.00,4.20,6.00", "24-hr:, 0.24,0.30,0.42,0.60")
    )
