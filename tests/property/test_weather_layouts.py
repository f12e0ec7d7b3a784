"""The same station written in every layout that is read gives the same record, to the last bit."""

import gzip
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from dooryard import weather
from dooryard.weather.outlook import bridge_gaps
from dooryard.weather.readers.uscrn import FIELDS
from dooryard.weather.record import Flag

STATES = ("value", "missing", "trace", "suspect", "total")


@dataclass
class Day:
    """One day as a station would note it: tenths of degC and of mm; None is missing."""

    day: date
    low: int | None
    high: int | None
    state: str
    rain: int

    @property
    def blank(self):
        return self.low is None and self.high is None and self.state == "missing"


@st.composite
def stations(draw):
    """Up to fifty days from any date on; the first and the last day hold something, for all layouts to agree."""
    first = draw(st.dates(date(1890, 1, 1), date(2090, 12, 31)))
    days = []
    count = draw(st.integers(1, 50))
    for step in range(count):
        low = draw(st.none() | st.integers(-400, 300))
        high = draw(st.none() | st.integers(0, 150).map(lambda more, low=low: (low or 0) + more))
        state = draw(st.sampled_from(STATES))
        days.append(Day(first + timedelta(days=step), low, high, state, draw(st.integers(0, 999))))
    for day in (days[0], days[-1]):
        day.low, day.high, day.state = -5, 105, "value"
    return days


def totals(days):
    """(last day, number of days) of each run of days that share one total."""
    runs = [list(run) for is_total, run in groupby(days, lambda day: day.state == "total") if is_total]
    return {run[-1].day: len(run) for run in runs}


def plain(days, separator=",", written=date.isoformat, decimal=".", absent=False):
    head = separator.join(("date", "tmin_C", "tmax_C", "rain_mm"))
    lines = [head]
    for day in days:
        if absent and day.blank:
            continue
        rain = {
            "value": tenths(day.rain),
            "missing": "",
            "trace": "T",
            "suspect": f"{tenths(day.rain)}S",
            "total": "A",
        }
        cells = (tenths(day.low), tenths(day.high), rain[day.state])
        lines.append(separator.join((written(day.day), *(cell.replace(".", decimal) for cell in cells))))
    return "\n".join(lines) + "\n"


def tenths(value):
    if value is None:
        return ""
    return f"{'-' if value < 0 else ''}{abs(value) // 10}.{abs(value) % 10}"


def summaries(days, number, absent):
    ends = totals(days)
    lines = ["STATION,DATE,NAME,PRCP,PRCP_ATTRIBUTES,TMAX,TMIN,MDPR,DAPR"]
    for day in days:
        if absent and day.blank and day.day not in ends:
            continue
        rain = {"value": number(day.rain), "trace": "0", "suspect": number(day.rain)}.get(day.state, "")
        marks = {"value": '",,S"', "trace": '"T,,S"', "suspect": '",O,S"'}.get(day.state, "")
        total = ("127", str(ends[day.day])) if day.day in ends else ("", "")
        cells = (rain, marks, number(day.high), number(day.low), *total)
        lines.append(f'X1,{day.day},"PLACE, XX",' + ",".join(cells))
    return "\n".join(lines) + "\n"


def fixed(days):
    ends = totals(days)
    values = {}
    for day in days:
        month = values.setdefault((day.day.year, day.day.month), {})
        marks = {"value": (day.rain, "  S"), "trace": (0, "T S"), "suspect": (day.rain, " OS")}
        noted = {
            "TMAX": None if day.high is None else (day.high, "  S"),
            "TMIN": None if day.low is None else (day.low, "  S"),
            "PRCP": marks.get(day.state),
            "MDPR": (127, "  S") if day.day in ends else None,
            "DAPR": (ends[day.day], "  S") if day.day in ends else None,
        }
        for element, note in noted.items():
            if note is not None:
                month.setdefault(element, {})[day.day.day] = note
    lines = []
    for (year, month), elements in values.items():
        for element, notes in elements.items():
            cells = [notes.get(number, (-9999, "   ")) for number in range(1, 32)]
            lines.append(f"XX000000001{year}{month:02d}{element}" + "".join(f"{v:5d}{m}" for v, m in cells))
    return "\n".join(lines) + "\n"


def reference_network(days, as_csv=False):
    """USCRN: it knows no mark, so it can only write values and what is missing."""
    lines = [",".join(name.lower() for name in FIELDS)] if as_csv else []
    for day in days:
        noted = {"T_DAILY_MAX": day.high, "T_DAILY_MIN": day.low}
        noted["P_DAILY_CALC"] = day.rain if day.state == "value" else None
        cells = dict.fromkeys(FIELDS, "-9999.0") | {"WBANNO": "03739", "LST_DATE": f"{day.day:%Y%m%d}"}
        cells |= {"LONGITUDE": "-86.23", "LATITUDE": "37.25", "CRX_VN": "2.622", "SUR_TEMP_DAILY_TYPE": "C"}
        cells |= {name: tenths(value) for name, value in noted.items() if value is not None}
        lines.append(("," if as_csv else "  ").join(cells.values()))
    return "\n".join(lines) + "\n"


def dutch(days):
    """KNMI: whole tenths, -1 for a trace; it knows no doubt and no totals."""
    lines = ["HEADING IN TWO LANGUAGES", "", "# STN,YYYYMMDD,   TN,   TX,   RH"]
    for day in days:
        rain = {"value": day.rain, "trace": -1}.get(day.state)
        cells = (whole(value).rjust(5) for value in (day.low, day.high, rain))
        lines.append(f"  260,{day.day:%Y%m%d}," + ",".join(cells))
    return "\n".join(lines) + "\n"


def irish(days):
    """Met Eireann: an indicator before each value, month names; it knows no doubt and no totals."""
    lines = ["Station Name: A HILL", "", "date,ind,maxtp,ind,mintp,igmin,gmin,ind,rain"]
    for day in days:
        rain = {"value": (0, tenths(day.rain)), "trace": (2, "0.0")}.get(day.state, (0, ""))
        names = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
        written = f"{day.day.day:02d}-{names[day.day.month - 1]}-{day.day.year}"
        lines.append(f"{written},0,{tenths(day.high)},0,{tenths(day.low)},0,,{rain[0]},{rain[1]}")
    return "\n".join(lines) + "\n"


def in_columns(days):
    """Plain, with the day in three columns."""
    return plain(days, written=lambda day: f"{day.year},{day.month},{day.day}").replace(
        "date", "year,month,day", 1
    )


def whole(value):
    return "" if value is None else str(value)


@given(days=stations())
def test_record_is_the_same_in_every_layout(days, tmp_path_factory):
    folder = tmp_path_factory.mktemp("layouts")
    slashed = len({day.day.day for day in days} - set(range(1, 13))) > 0
    layouts = {
        "plain": (plain(days), None),
        "absent": (plain(days, absent=True), None),
        "semicolon": (plain(days, separator=";", decimal=","), None),
        "tab": (plain(days, separator="\t"), None),
        "tenths": (summaries(days, whole, absent=False), "daily-summaries-tenths"),
        "metric": (summaries(days, tenths, absent=True), "daily-summaries-metric"),
        "fixed": (fixed(days), None),
        "columns": (in_columns(days), None),
    }
    if slashed:
        layouts["month-first"] = (plain(days, written=lambda day: f"{day.month}/{day.day}/{day.year}"), None)
        layouts["day-first"] = (
            plain(days, written=lambda day: f"{day.day:02d}.{day.month:02d}.{day.year}"),
            None,
        )
    assert_alike(folder, layouts, days)


@given(days=stations())
def test_record_is_the_same_in_the_layouts_that_know_fewer_marks(days, tmp_path_factory):
    folder = tmp_path_factory.mktemp("layouts")
    for day in days:
        day.state = "missing" if day.state in ("suspect", "total") else day.state
    layouts = {"plain": (plain(days), None), "dutch": (dutch(days), None), "irish": (irish(days), None)}
    assert_alike(folder, layouts, days)
    for day in days:
        day.state = "missing" if day.state == "trace" else day.state
    network = {
        "columns": (reference_network(days), None),
        "csv": (reference_network(days, as_csv=True), None),
    }
    assert_alike(folder, {"plain": (plain(days), None), **network}, days)


def assert_alike(folder, layouts, days):
    """Every layout gives the record the first one gives."""
    records = {}
    for name, (text, layout) in layouts.items():
        path = folder / f"{name}.gz"
        path.write_bytes(gzip.compress(text.encode()))
        records[name] = weather.read(path, layout)
    first = records["plain"]
    assert (first.first, first.last, len(first.dates)) == (days[0].day, days[-1].day, len(days))
    for name, record in records.items():
        assert np.array_equal(record.dates, first.dates), name
        for element in ("t_min_c", "t_max_c", "rain_mm"):
            assert np.array_equal(record.element(element), first.element(element), equal_nan=True), (
                name,
                element,
            )
            assert record.flags[element].tolist() == first.flags[element].tolist(), (name, element)


@given(
    days=st.lists(
        st.tuples(st.integers(-40, 60), st.integers(0, 50), st.integers(0, 999)), min_size=1, max_size=40
    )
)
def test_record_in_inches_and_fahrenheit_is_the_same_in_both_layouts(days, tmp_path_factory):
    folder = tmp_path_factory.mktemp("standard")
    rows = [
        (date(2030, 12, 1) + timedelta(days=step), low, low + more, rain / 100)
        for step, (low, more, rain) in enumerate(days)
    ]
    (folder / "a.csv").write_text(
        "date,tmin_F,tmax_F,rain_in\n" + "".join(f"{d},{lo},{hi},{rain:.2f}\n" for d, lo, hi, rain in rows)
    )
    (folder / "b.csv").write_text(
        "STATION,DATE,PRCP,TMAX,TMIN\n" + "".join(f"X,{d},{rain:.2f},{hi},{lo}\n" for d, lo, hi, rain in rows)
    )
    head = "STATION,DATE,TEMP,DEWP,WDSP,MAX,MAX_ATTRIBUTES,MIN,MIN_ATTRIBUTES,PRCP,PRCP_ATTRIBUTES\n"
    (folder / "c.csv").write_text(
        head
        + "".join(
            f'"X","{d}",9999.9,9999.9,999.9,"  {hi}"," ",{lo}," ",{rain:.2f},G\n' for d, lo, hi, rain in rows
        )
    )
    a, b = weather.read(folder / "a.csv"), weather.read(folder / "b.csv", "daily-summaries-standard")
    c = weather.read(folder / "c.csv")
    for element in ("t_min_c", "t_max_c", "rain_mm"):
        assert np.array_equal(a.element(element), b.element(element), equal_nan=True)
        assert np.array_equal(a.element(element), c.element(element), equal_nan=True)
    kept = a.flags["rain_mm"] == Flag.OBSERVED
    assert (a.rain_mm / 25.4).round(2)[kept].tolist() == np.array([rain for *_, rain in rows])[kept].tolist()


@given(
    start=st.dates(date(1700, 1, 1), date(2200, 12, 31)),
    steps=st.lists(st.integers(1, 400), min_size=0, max_size=20),
)
def test_record_has_every_calendar_day_and_only_the_written_ones_have_values(start, steps, tmp_path_factory):
    written = [start]
    for step in steps:
        written.append(written[-1] + timedelta(days=step))
    path = tmp_path_factory.mktemp("calendar") / "a.csv"
    path.write_text(
        "date,rain_mm\n" + "".join(f"{day},{number % 50}\n" for number, day in enumerate(written))
    )
    record = weather.read(path)
    assert len(record.dates) == (written[-1] - start).days + 1
    assert [record.position(day) for day in written] == np.flatnonzero(~np.isnan(record.rain_mm)).tolist()
    assert record.rain_mm[~np.isnan(record.rain_mm)].tolist() == [
        number % 50 for number in range(len(written))
    ]


@given(
    values=st.lists(st.none() | st.floats(-40, 50), min_size=1, max_size=60),
    longest=st.integers(0, 5),
)
def test_bridged_gaps_are_only_the_short_inner_ones(values, longest):
    series = np.array([np.nan if value is None else value for value in values])
    whole_series, bridged = bridge_gaps(series, longest)
    assert np.array_equal(whole_series[~bridged], series[~bridged], equal_nan=True)
    place = 0
    for is_gap, run in groupby(values, lambda value: value is None):
        length = len(list(run))
        inner = place > 0 and place + length < len(values)
        assert bridged[place : place + length].all() == (is_gap and inner and length <= longest)
        assert bridged[place : place + length].any() == (is_gap and inner and length <= longest)
        if is_gap and inner and length <= longest:
            between = np.linspace(values[place - 1], values[place + length], length + 2)[1:-1]
            np.testing.assert_allclose(whole_series[place : place + length], between, atol=1e-9)
        place += length
