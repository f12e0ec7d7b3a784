"""NOAA daily summaries: units decided from the numbers, marks honoured, several-day totals never spread."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import Flag

# Ten days of a mild place in tenths of mm and degC: (PRCP, TMAX, TMIN).
TENTHS = [
    (0, 281, 150), (254, 239, 160), (0, 250, 122), (3, 262, 139), (0, 300, 167),
    (0, 322, 189), (508, 289, 200), (13, 267, 178), (0, 272, 150), (0, 294, 161),
]  # fmt: skip


def wide(rows, head="STATION,DATE,NAME,PRCP,TMAX,TMIN", days=None):
    days = days or [f"2024-08-{day:02d}" for day in range(1, len(rows) + 1)]
    lines = [
        f'US1,{day},"SOME PLACE, XX US",{",".join(map(str, row))}'
        for day, row in zip(days, rows, strict=True)
    ]
    return head + "\n" + "\n".join(lines) + "\n"


def metric(rows):
    return [tuple(value / 10 for value in row) for row in rows]


def standard(rows):
    return [
        (round(rain / 254, 2), round(high * 0.18 + 32), round(low * 0.18 + 32)) for rain, high, low in rows
    ]


@pytest.mark.parametrize(
    ("rows", "note", "tolerance_c", "tolerance_mm"),
    [
        (TENTHS * 3, "tenths", 1e-12, 1e-12),
        (metric(TENTHS * 3), "millimetres and degrees C", 1e-12, 1e-12),
        (standard(TENTHS * 3), "inches", 0.28, 0.13),
    ],
)
def test_summaries_units_are_decided_from_the_numbers_and_told(put, rows, note, tolerance_c, tolerance_mm):
    record = weather.read(put(wide(rows)))
    assert record.t_max_c[:10] == pytest.approx([high / 10 for _, high, _ in TENTHS], abs=tolerance_c)
    assert record.t_min_c[:10] == pytest.approx([low / 10 for _, _, low in TENTHS], abs=tolerance_c)
    assert record.rain_mm[:10] == pytest.approx([rain / 10 for rain, _, _ in TENTHS], abs=tolerance_mm)
    issue = next(issue for issue in record.issues if issue.kind == "units")
    assert note in issue.text
    assert "because" in issue.text
    assert note in record.source.note


def test_summaries_wrong_describing_word_does_not_matter_only_numbers_do(put):
    """322 is no Fahrenheit whatever a page beside the file says."""
    record = weather.read(put(wide([(0, 322, 189)])))
    assert record.t_max_c.tolist() == [32.2]


@pytest.mark.parametrize(
    "rows",
    [
        [(0, 50, 40)],  # 50 may be degF, degC or tenths
        [("", "", "")] * 3,
        [(0, 322, 61.5)],  # tenths have no decimals, and 322 is neither degC nor degF
    ],
)
def test_summaries_units_that_cannot_be_decided_are_refused_with_what_to_write(faults_of, rows):
    (problem,) = faults_of(wide(rows))
    assert problem.field == "units"
    assert "# units: standard" in problem.instead


def test_summaries_said_units_are_taken(put):
    rows = [(0, 50, 41)]
    assert weather.read(put("# units: standard\n" + wide(rows))).t_max_c.tolist() == [10.0]
    assert weather.read(put(wide(rows)), layout="daily-summaries-metric").t_max_c.tolist() == [50.0]
    assert weather.read(put(wide(rows)), layout="daily-summaries-tenths").t_min_c.tolist() == [4.1]


def test_summaries_value_the_publisher_doubts_does_not_decide_the_unit(put):
    head = "STATION,DATE,NAME,PRCP,PRCP_ATTRIBUTES,TMAX,TMAX_ATTRIBUTES,TMIN"
    rows = [(rain, '",,S"', high, '",,S"', low) for rain, high, low in standard(TENTHS * 3)]
    rows[0] = (0, '",,S"', 999, '",X,S"', 60)
    record = weather.read(put(wide(rows, head)))
    assert "inches" in record.source.note
    assert record.flags["t_max_c"][0] == Flag.SUSPECT


def access(rows):
    head = '"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME",'
    head += '"PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES"'
    lines = [
        f'"X1","2024-08-{day:02d}","35.017","135.733","46.0","PLACE, XX",{row}'
        for day, row in enumerate(rows, 1)
    ]
    return head + "\n" + "\n".join(lines) + "\n"


def test_summaries_access_layout_keeps_place_trace_and_doubted_values(put):
    rows = [
        '"    0","T,,S","  301",",,S"',
        '"  254",",,S","  322",",I,S"',
        '"    0",",K,S",,',
        '"   13","P,,S","  298","H,,S"',
    ]
    record = weather.read(put(access(rows)))
    station = record.station
    assert (station.latitude, station.longitude, station.elevation_m, station.name) == (
        35.017,
        135.733,
        46.0,
        "PLACE, XX",
    )
    assert [Flag(code).name for code in record.flags["rain_mm"]] == [
        "TRACE",
        "OBSERVED",
        "SUSPECT",
        "ESTIMATED",
    ]
    assert [Flag(code).name for code in record.flags["t_max_c"]] == [
        "OBSERVED",
        "SUSPECT",
        "MISSING",
        "OBSERVED",
    ]
    assert np.array_equal(record.rain_mm, [0, 25.4, np.nan, 1.3], equal_nan=True)
    assert np.array_equal(record.t_max_c, [30.1, np.nan, np.nan, 29.8], equal_nan=True)
    texts = " ".join(issue.text for issue in record.issues)
    assert "marks K 1" in texts
    assert "marks I 1" in texts


def test_summaries_trace_typed_into_the_cell_is_a_trace(put):
    record = weather.read(put(wide([*TENTHS, ("T", 250, 150)])))
    assert (record.rain_mm[-1], record.flags["rain_mm"][-1]) == (0.0, Flag.TRACE)


def test_summaries_total_over_days_is_not_spread(put):
    head = "STATION,DATE,NAME,PRCP,TMAX,TMIN,MDPR,DAPR"
    rows = [(*row, "", "") for row in TENTHS]
    rows[2] = rows[3] = ("", 250, 122, "", "")
    rows[4] = ("", 300, 167, 381, 3)
    record = weather.read(put(wide(rows, head)))
    assert [Flag(code).name for code in record.flags["rain_mm"][1:6]] == [
        "OBSERVED",
        *["ACCUMULATED"] * 3,
        "OBSERVED",
    ]
    assert np.isnan(record.rain_mm[2:5]).all()
    issue = next(issue for issue in record.issues if issue.kind == "accumulated")
    assert (issue.days, "38 mm" in issue.text) == (3, True)


def test_summaries_optional_wind_and_mean_are_in_the_same_units(put):
    head = "STATION,DATE,NAME,PRCP,SNOW,TMAX,TMIN,AWND,TAVG,WSF5"
    rows = [(rain, 0, high, low, 31, 200, 99) for rain, high, low in TENTHS]
    record = weather.read(put(wide(rows, head)))
    assert record.wind_m_s[0] == 3.1
    assert record.t_mean_c[0] == 20.0


@pytest.mark.parametrize("order", ["month first", "day first"])
def test_summaries_slashed_dates_are_told_apart(put, order):
    days = [f"8/{day}/2024" if order == "month first" else f"{day}/8/2024" for day in range(4, 14)]
    record = weather.read(put(wide(TENTHS, days=days)))
    assert (str(record.first), str(record.last)) == ("2024-08-04", "2024-08-13")
    assert order in next(issue.text for issue in record.issues if issue.kind == "dates")


def test_summaries_slashed_dates_all_below_13_are_told_apart_by_their_sequence(put):
    record = weather.read(put(wide(TENTHS, days=[f"{day}/8/2024" for day in range(1, 11)])))
    assert (str(record.first), str(record.last)) == ("2024-08-01", "2024-08-10")


def test_summaries_date_that_may_be_either_is_refused(faults_of):
    assert "day or the month" in faults_of(wide(TENTHS[:1], days=["3/4/2024"]))[0].what


def test_summaries_two_stations_in_one_file_are_refused(faults_of):
    text = wide(TENTHS).replace("US1,2024-08-05", "US2,2024-08-05")
    problems = faults_of(text)
    assert "US1, US2" in problems[0].what


def test_summaries_many_faults_come_at_once(faults_of):
    rows = list(TENTHS)
    rows[1] = ("wet", 239, 160)
    rows[5] = (0, "hot", 189)
    problems = faults_of(wide(rows).replace("2024-08-08", "2024-08-07"))
    assert [(problem.line, problem.field) for problem in problems] == [(3, "PRCP"), (7, "TMAX"), (9, "date")]


def test_summaries_gap_of_years_is_counted_against_the_calendar(put):
    days = ["1969-12-31", "1984-01-01"]
    record = weather.read(put(wide(TENTHS[:2], days=days)))
    assert len(record.dates) == 5115
    gap = next(issue for issue in record.issues if issue.kind == "gap")
    assert (str(gap.first), str(gap.last), gap.days) == ("1970-01-01", "1983-12-31", 5113)


def test_summaries_whole_celsius_degrees_are_not_taken_for_fahrenheit(put, faults_of):
    """A service that notes whole degrees looks like a cold place in Fahrenheit: the rain decides, or nobody does."""
    rows = [(rain / 10, high // 10, low // 10) for rain, high, low in TENTHS * 6]
    days = [str(np.datetime64("2024-06-01") + step) for step in range(len(rows))]
    assert "millimetres and degrees C" in weather.read(put(wide(rows, days=days))).source.note
    dry = [(0, high, low) for _, high, low in rows]
    assert "they could be" in faults_of(wide(dry, days=days))[0].what


def test_summaries_total_of_parts_of_one_day_is_that_day(put):
    # B and D: formed from two 12-hour or four 6-hour amounts of the same day, which is no total over days.
    record = weather.read(put(access(['"  254","B,,S","  301",",,S"', '"   13","D,,S","  298",",,S"'])))
    assert record.rain_mm.tolist() == [25.4, 1.3]
    assert record.flags["rain_mm"].tolist() == [Flag.OBSERVED] * 2


def test_summaries_cut_out_of_their_table_without_station(put):
    rows = "".join(f"{day:02d}-01-48,0.{day:02d},{50 + day},{35 + day}\n" for day in range(1, 32))
    record = weather.read(put("DATE,PRCP,TMAX,TMIN\n" + rows))
    assert "inches" in record.source.note
    assert record.first.isoformat() == "1948-01-01"
    assert record.rain_mm[0] == pytest.approx(0.254)


@pytest.mark.parametrize(
    ("column", "text"),
    [
        ("LATITUDE", "inf"),
        ("LATITUDE", "nan"),
        ("LATITUDE", "138"),
        ("LONGITUDE", "400"),
        ("ELEVATION", "1e999"),
    ],
)
def test_place_that_cannot_be_is_refused(put, column, text):
    with pytest.raises(InputError) as caught:
        weather.read(
            put(f"STATION,DATE,{column},PRCP,TMAX,TMIN\nA,2031-05-01,{text},0.5,20.5,10.5\n", "a.csv"),
            "daily-summaries-metric",
        )
    (problem,) = caught.value.problems
    assert (problem.field, problem.found) == (column, text)


def test_place_that_is_not_known_is_none(put):
    text = "STATION,DATE,LATITUDE,ELEVATION,PRCP,TMAX,TMIN\nA,2031-05-01,38.2,-999.9,0.5,20.5,10.5\n"
    station = weather.read(put(text, "a.csv"), "daily-summaries-metric").station
    assert (station.latitude, station.elevation_m) == (38.2, None)
