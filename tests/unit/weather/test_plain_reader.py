"""The plain layout: what it accepts, and how it tells what is wrong."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import Flag

SMALL = "date,tmin_F,tmax_F,rain_in\n2031-05-01,50,68,0.00\n2031-05-02,41,59,1.00\n"


def test_plain_record_in_us_units_comes_out_in_ours(put):
    record = weather.read(put(SMALL))
    assert record.dates.astype(str).tolist() == ["2031-05-01", "2031-05-02"]
    assert record.t_min_c.tolist() == [10.0, 5.0]
    assert record.t_max_c.tolist() == [20.0, 15.0]
    assert record.rain_mm.tolist() == [0.0, 25.4]
    assert (record.wind_m_s, record.dew_point_c, record.solar_mj_m2) == (None, None, None)
    assert record.issues == ()


def test_plain_optional_columns_and_their_units(put):
    text = "date,tmin_C,tmax_C,rain_mm,wind_mph,dew_F,solar_W_m2,humidity_%,tmean_C,note\n"
    text += "2031-05-01,1,2,0,10,50,100,70,1.5,x\n"
    record = weather.read(put(text))
    assert record.wind_m_s.tolist() == [pytest.approx(4.4704)]
    assert record.dew_point_c.tolist() == [10.0]
    assert record.solar_mj_m2.tolist() == [pytest.approx(8.64)]
    assert record.humidity_pct.tolist() == [70.0]
    assert record.t_mean_c.tolist() == [1.5]


def test_plain_station_is_read_from_comments_and_nothing_is_assumed(put):
    head = "# station: North Farm, hill\n# id: QC-09\n# latitude: 38.2\n# longitude: -85.1\n"
    head += "# elevation: 1,000 ft\n"
    station = weather.read(put(head + SMALL)).station
    assert (station.name, station.id, station.latitude, station.longitude) == (
        "North Farm, hill",
        "QC-09",
        38.2,
        -85.1,
    )
    assert station.elevation_m == pytest.approx(304.8)
    station = weather.read(put(SMALL, "north.csv")).station
    assert (station.name, station.latitude, station.elevation_m) == ("north", None, None)


def test_plain_marks_in_cells_become_flags(put):
    rain = ["T", "0.00T", "", "M", "-9999", "1.25E", "0.40S", "A", "2.10A", "0"]
    text = "date,tmin_F,tmax_F,rain_in\n" + "".join(
        f"2031-05-{day:02d},50,60,{cell}\n" for day, cell in enumerate(rain, 1)
    )
    record = weather.read(put(text))
    names = [Flag(code).name for code in record.flags["rain_mm"]]
    assert names == [
        "TRACE", "TRACE", "MISSING", "MISSING", "MISSING", "ESTIMATED", "SUSPECT",
        "ACCUMULATED", "ACCUMULATED", "OBSERVED",
    ]  # fmt: skip
    expected = [0, 0, np.nan, np.nan, np.nan, 31.75, np.nan, np.nan, np.nan, 0]
    assert np.array_equal(record.rain_mm, expected, equal_nan=True)


def test_plain_absent_dates_are_days_of_the_calendar(put):
    text = "date,tmin_F,tmax_F,rain_in\n2024-02-27,50,60,0\n2024-03-02,50,60,0\n"
    record = weather.read(put(text))
    assert record.dates.astype(str).tolist() == [
        "2024-02-27",
        "2024-02-28",
        "2024-02-29",
        "2024-03-01",
        "2024-03-02",
    ]
    assert record.flags["t_min_c"].tolist() == [0, 5, 5, 5, 0]
    assert [(issue.kind, issue.days) for issue in record.issues] == [("missing", 3)] * 3


def test_plain_long_gap_is_told_with_its_dates(put):
    text = "date,tmin_F,tmax_F,rain_in\n2031-05-01,50,60,0\n2031-05-10,50,60,0\n"
    gap = next(issue for issue in weather.read(put(text)).issues if issue.kind == "gap")
    assert (str(gap.first), str(gap.last), gap.days) == ("2031-05-02", "2031-05-09", 8)
    assert "8 days" in gap.text


@pytest.mark.parametrize(
    "content",
    [
        SMALL.replace("\n", "\r\n"),
        SMALL.replace("\n", "\r"),
        "\ufeff" + SMALL,
        SMALL.encode("utf-16"),
        SMALL.replace(",", ";"),
        SMALL.replace(",", "\t"),
        SMALL.replace("tmin_F", "Tmin (°F)").replace("rain_in", "Rain [inches]"),
        SMALL.replace("2031-05-0", "2031-5-"),
        SMALL.replace("2031-05-0", "2031050"),
        SMALL.replace("2031-05-01", "5/1/2031").replace("2031-05-02", "5/2/2031"),
        SMALL.replace("2031-05-01", "1.5.2031").replace("2031-05-02", "2.5.2031"),
        SMALL.replace("2031-05-01", '"2031-05-01"').replace("2031-05-02", '"2031-05-02"'),
        "# a word\n\n" + SMALL + "\n,,,\n# the end\n",
    ],
)
def test_plain_spelling_of_the_same_days_does_not_matter(put, content):
    plain, other = weather.read(put(SMALL)), weather.read(put(content, "other.csv"))
    assert other.dates.tolist() == plain.dates.tolist()
    for name in ("t_min_c", "t_max_c", "rain_mm"):
        assert other.element(name).tolist() == plain.element(name).tolist()


def test_plain_packed_and_latin_1_file_is_read(put):
    record = weather.read(put("# station: Fähre\n".encode("latin-1") + SMALL.encode(), "packed.csv.gz"))
    assert (record.station.name, record.rain_mm.tolist()) == ("Fähre", [0.0, 25.4])
    assert len(record.source.sha256) == 64


def test_plain_decimal_comma_is_read_where_semicolons_part_the_cells(put):
    record = weather.read(put("date;tmin_C;tmax_C;rain_mm\n2031-05-01;-1,5;20,25;3,2\n"))
    assert (record.t_min_c[0], record.t_max_c[0], record.rain_mm[0]) == (-1.5, 20.25, 3.2)


def test_plain_every_fault_is_told_with_its_line(faults_of):
    problems = faults_of(
        "date,tmin_F,tmax_F,rain_in\n"
        "2031-05-01,50,warm,0\n"  # line 2: no number
        "2031-05-02,50,60\n"  # line 3: a cell short
        "2031-05-31,50,60,0\n"
        "2031-05-03,50,60,0\n"  # line 5: back in time
        "2031-02-30,50,60,0\n"  # line 6: no such day
        "2031-05-31,50,60,0\n"  # line 7: twice
        "31-05-31,50,60,inf\n"  # line 8: two-digit year, no number
    )
    told = [(problem.line, problem.field) for problem in problems]
    assert told == [
        (2, "tmax_F"),
        (3, ""),
        (5, "date"),
        (6, "date"),
        (7, "date"),
        (8, "date"),
        (8, "rain_in"),
    ]
    assert all(problem.file == "record.csv" and problem.instead for problem in problems)
    assert "line 4" in next(problem.what for problem in problems if problem.line == 7)


def test_plain_thousand_faults_are_counted_not_listed(faults_of):
    rows = "".join(
        f"{day},x,60,0\n" for day in np.arange("2020-01-01", "2022-09-27", dtype="datetime64[D]").astype(str)
    )
    problems = faults_of("date,tmin_F,tmax_F,rain_in\n" + rows)
    assert len(problems) <= 21
    assert "995 more" in problems[-1].what


@pytest.mark.parametrize(
    ("header", "found", "write"),
    [
        ("date,tmin,tmax_F,rain_in", "tmin", "tmin_F or tmin_C"),
        ("date,tmin_F,tmax_K,rain_in", "tmax_K", "tmax_F or tmax_C"),
        ("date,tmin_F,tmax_F,rain", "rain", "rain_in or rain_mm"),
        ("date,tmin_F,tmxa_F,rain_in", "tmxa_F", '"tmax_f"'),
        ("date,tmin_F,tmax_F,snow_in", "snow_in", "date,tmin_F,tmax_F,rain_in"),
        ("date,tmin_F,low_F,rain_in", "low_F", "Take one of the two out."),
        ("day,tmin_F,tmax_F,rain_in", "day,tmin_F,tmax_F,rain_in", "date,tmin_F"),
    ],
)
def test_plain_header_that_cannot_be_understood_says_what_to_write(faults_of, header, found, write):
    problems = faults_of(f"{header}\n2031-05-01,50,60,0\n")
    problem = next(problem for problem in problems if problem.found == found)
    assert (problem.line, write in problem.instead) == (1, True)


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b"", "empty"),
        (b"\n \n", "empty"),
        (b"Dear neighbour,\nthank you for the beans.\n", "no weather file"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "no text"),
        (b"PK\x03\x04\x14\x00\x06\x00", "spreadsheet"),
        (b"\x1f\x8b\x08\x00damaged", "damaged"),
        (b"date,tmin_F,tmax_F,rain_in\n", "no day follows"),
        (b"date\n2031-05-01\n", "no weather column"),
    ],
)
def test_file_that_is_no_weather_file_is_refused_in_one_sentence(faults_of, content, word):
    problems = faults_of(content)
    assert len(problems) == 1
    assert word in problems[0].what
    assert problems[0].instead


def test_absent_file_folder_and_unknown_layout_are_told(tmp_path, faults_of):
    with pytest.raises(InputError, match="cannot be read"):
        weather.read(tmp_path / "nowhere.csv")
    with pytest.raises(InputError, match="folder"):
        weather.read(tmp_path)
    assert "plain" in faults_of(SMALL, layout="plane")[0].instead


@pytest.mark.parametrize(
    ("line", "name"),
    [("# latitude: 138", "latitude"), ("# elevation: 890", "elevation"), ("# longitude: west", "longitude")],
)
def test_plain_station_that_cannot_be_is_told(faults_of, line, name):
    assert [problem.field for problem in faults_of(f"{line}\n{SMALL}")] == [name]
