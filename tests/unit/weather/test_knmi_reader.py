"""Dutch daily values: heading in two languages, tenths, -1 for a trace, a rain day that ends in the morning."""

import numpy as np

from dooryard import weather
from dooryard.weather import Flag

GAUGE = """DEZE GEGEVENS MOGEN VRIJ WORDEN GEBRUIKT
THESE DATA CAN BE USED FREELY

STN      = stationsnummer/stationnumber
RD       = 24-uur som / daily amount in 0.1 mm over the period 08.00 preceding day - 08.00 UTC present day

STN,YYYYMMDD,   RD,   SX,
967,20310502,   13,     ,
967,20310503,    0,  997,
967,20310505,   25,     ,
967,20310506,     ,     ,
"""
STATION = """# STN         LON(east)   LAT(north)  ALT(m)      NAME
# 260         5.180       52.100      1.90        De Bilt
# TG        : Etmaalgemiddelde temperatuur (in 0.1 graden Celsius)
# STN,YYYYMMDD,   FG,   TG,   TN,   TX,    Q,   RH,   UG
  260,20310501,   32,  121,  -15,  182, 1523,   -1,   81
  260,20310502,   41,  110,   34,  170,     ,   48,   79
"""


def test_knmi_rain_gauge_day_belongs_to_the_day_before(put):
    record = weather.read(put(GAUGE, "gauge.txt"))
    assert (str(record.first), str(record.last)) == ("2031-05-01", "2031-05-05")
    assert np.array_equal(record.rain_mm, [1.3, 0.0, np.nan, 2.5, np.nan], equal_nan=True)
    issue = next(issue for issue in record.issues if issue.kind == "day boundary")
    assert "moved to the day before" in issue.text
    assert issue.element == "rain_mm"


def test_knmi_station_in_tenths_with_place_and_trace(put):
    record = weather.read(put(STATION, "etmgeg.txt"))
    assert (record.station.name, record.station.latitude, record.station.longitude) == ("De Bilt", 52.1, 5.18)
    assert (record.t_min_c.tolist(), record.t_max_c.tolist()) == ([-1.5, 3.4], [18.2, 17.0])
    assert record.rain_mm.tolist() == [0.0, 4.8]
    assert record.flags["rain_mm"].tolist() == [Flag.TRACE, Flag.OBSERVED]
    assert record.wind_m_s.tolist() == [3.2, 4.1]
    # 1523 J/cm2 is 15.23 MJ/m2.
    assert np.array_equal(record.solar_mj_m2, [15.23, np.nan], equal_nan=True)
    assert record.humidity_pct.tolist() == [81.0, 79.0]
    assert record.first.isoformat() == "2031-05-01"


def test_knmi_latin_1_heading_packed_with_windows_line_ends(put):
    text = GAUGE.replace("DEZE GEGEVENS", "GEGEVENS °C").replace("\n", "\r\n")
    record = weather.read(put(text.encode("latin-1"), "gauge.txt.gz"))
    assert record.rain_mm[0] == 1.3


def test_knmi_faults_have_the_line_of_the_file(faults_of):
    problems = faults_of(GAUGE.replace("   25,", "  2x5,"), "gauge.txt")
    assert [(problem.line, problem.found) for problem in problems] == [(10, "2x5")]


def test_knmi_two_stations_are_refused(faults_of):
    problems = faults_of(GAUGE + "968,20310507,    1,     ,\n", "gauge.txt")
    assert "mixes 2 stations" in problems[0].what
