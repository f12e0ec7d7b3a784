"""What must hold for hours, gauges and notebooks: one truth in every layout, no water made or lost."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import Flag, Source, Station
from dooryard.weather.clock import to_standard
from dooryard.weather.gauge import in_order
from dooryard.weather.opening import Faults

ZONES = (
    "America/New_York",
    "America/Chicago",
    "Australia/Sydney",
    "Europe/Dublin",
    "America/Phoenix",
    "Asia/Kolkata",
)


def gauge_of(start, minutes, depth):
    count = len(minutes)
    begins = np.datetime64(start, "m") + np.concatenate(([0], np.cumsum(minutes)[:-1])).astype(
        "timedelta64[m]"
    )
    flags = np.full(count, Flag.OBSERVED, dtype=np.uint8)
    return in_order(
        Station("A"),
        begins,
        np.array(minutes),
        np.array(depth, dtype=float),
        flags,
        (),
        Source("a", "made here"),
    )


@given(
    steps=st.lists(st.tuples(st.sampled_from((5, 10, 15)), st.integers(0, 2**31)), min_size=2, max_size=30),
    window=st.integers(1, 120),
)
def test_burst_brackets_what_a_one_minute_gauge_would_have_seen(steps, window):
    minute_rain, minutes, depth = [], [], []
    for length, seed in steps:
        within = np.random.default_rng(seed).random(length) ** 8
        minute_rain += within.tolist()
        minutes.append(length)
        depth.append(within.sum())
    so_far = np.concatenate(([0.0], np.cumsum(minute_rain)))
    window = min(window, len(minute_rain))
    true = (so_far[window:] - so_far[:-window]).max()
    burst = gauge_of("2031-05-01T10:00", minutes, depth).burst(window)
    assert burst.high_mm >= true - 1e-9
    assert burst.low_mm <= burst.high_mm
    # Spread evenly within its steps, the same rain reaches the lower bound exactly.
    even = np.repeat(np.array(depth) / minutes, minutes)
    spread = np.concatenate(([0.0], np.cumsum(even)))
    assert abs(burst.low_mm - (spread[window:] - spread[:-window]).max()) < 1e-9


@given(
    first=st.datetimes(datetime(1950, 1, 1), datetime(2090, 1, 1)),
    minutes=st.lists(st.sampled_from((5, 10, 15, 30, 60, 240, 1440, 4000)), min_size=1, max_size=60),
    begins=st.sampled_from((0.0, 7.0, 18.5)),
    data=st.data(),
)
def test_days_never_hold_more_than_the_gauge_and_lose_only_what_they_tell(first, minutes, begins, data):
    tenths = data.draw(st.lists(st.integers(0, 99), min_size=len(minutes), max_size=len(minutes)))
    record = gauge_of(first.replace(second=0, microsecond=0), minutes, [value / 10 for value in tenths])
    daily = type(record)(
        **{name: getattr(record, name) for name in record.__slots__} | {"day_begins_h": begins}
    ).to_daily()
    known = ~np.isnan(daily.rain_mm)
    assert np.nansum(daily.rain_mm) <= record.total_mm + 1e-9
    assert np.array_equal(known, np.isin(daily.flags["rain_mm"], (Flag.OBSERVED, Flag.TRACE, Flag.ESTIMATED)))
    # A day inside the record is missing only where a total over several days stands.
    assert not (daily.flags["rain_mm"][1:-1] == Flag.MISSING).any()
    if max(minutes) <= 60 and known.all():
        assert abs(np.nansum(daily.rain_mm) - record.total_mm) < 1e-9


@given(
    zone=st.sampled_from(ZONES),
    start=st.datetimes(datetime(1990, 1, 1), datetime(2035, 1, 1)),
    step=st.sampled_from((15, 60)),
    count=st.integers(1, 400),
)
def test_clock_read_in_order_gives_every_hour_of_standard_time_back(zone, start, step, count):
    """Times in order, as a wall clock showed them, come out as steps of one length without hole or repeat."""
    moment = start.replace(minute=0, second=0, microsecond=0, tzinfo=ZoneInfo("UTC"))
    shown = [
        (moment + timedelta(minutes=step * number)).astimezone(ZoneInfo(zone)).replace(tzinfo=None)
        for number in range(count)
    ]
    faults = Faults("a.csv")
    local = np.array(shown, dtype="datetime64[m]")
    standard = to_standard(local, zone, range(count), faults)
    assert faults.problems == []
    steps = np.diff(standard.times).astype(int)
    # A record that begins or ends within the repeated hour cannot show that the hour came twice.
    change = {number for number in range(1, count) if shown[number] <= shown[number - 1]}
    inside = [number for number in range(count) if any(abs(number - at) * step <= 120 for at in change)]
    whole = not inside or (min(inside) > 0 and max(inside) < count - 1)
    if whole and not any("stands in the file once" in issue.text for issue in standard.issues):
        assert (steps == step).all()


@st.composite
def hours(draw):
    """Up to 60 hours around a change of the clock in New York: °F above freezing and hundredths of an inch."""
    start = draw(
        st.sampled_from((datetime(2013, 3, 9, 12), datetime(2013, 11, 2, 12), datetime(2013, 6, 1, 12)))
    )
    count = draw(st.integers(26, 60))
    temps = draw(st.lists(st.integers(321, 899), min_size=count, max_size=count))
    rain = draw(st.lists(st.none() | st.just("T") | st.integers(0, 150), min_size=count, max_size=count))
    return [(start + timedelta(hours=step), temps[step] / 10, rain[step]) for step in range(count)]


def inches(rain):
    return "" if rain is None else "T" if rain == "T" else f"{rain / 100:.2f}"


@given(rows=hours())
def test_hourly_record_is_the_same_in_every_layout(rows, tmp_path_factory):
    """Times are kept in standard time here and written as each layout has them."""
    zone, folder = ZoneInfo("America/New_York"), tmp_path_factory.mktemp("hours")
    utc = [(time + timedelta(hours=5)).replace(tzinfo=ZoneInfo("UTC")) for time, _, _ in rows]
    civil = [time.astimezone(zone) for time in utc]
    files = {
        "reports": "STATION,DATE,HOURLYDRYBULBTEMPF,HOURLYPrecip\n"
        + "".join(f"A,{time:%Y-%m-%dT%H}:51:00,{temp},{inches(rain)}\n" for time, temp, rain in rows),
        "standard": "# clock: EST\ntime,temp_F,rain_in\n"
        + "".join(f"{time:%Y-%m-%d %H:%M},{temp},{inches(rain)}\n" for time, temp, rain in rows),
        "civil": "# clock: America/New_York\ntime;temp_F;rain_in\n"
        + "".join(
            f"{time:%Y-%m-%d %H:%M};{temp};{inches(rain)}\n".replace(".", ",")
            for time, (_, temp, rain) in zip(civil, rows, strict=True)
        ),
        "offsets": "time\ttemp_F\train_in\n"
        + "".join(
            f"{time:%Y-%m-%dT%H:%M%z}\t{temp}\t{inches(rain)}\n"
            for time, (_, temp, rain) in zip(civil, rows, strict=True)
        ),
        "airport": "# units: standard\norigin,year,month,day,hour,temp,precip,time_hour\n"
        + "".join(
            f"A,{time.year},{time.month},{time.day},{time.hour},{temp},{inches(rain)},{there:%Y-%m-%dT%H}:00:00Z\n"
            for time, there, (_, temp, rain) in zip(civil, utc, rows, strict=True)
        ),
        "network": "# longitude: -75\nstation,valid,tmpf,p01i\n"
        + "".join(
            f"A,{there:%Y-%m-%d %H}:53Z,{temp},{inches(rain)}\n"
            for there, (_, temp, rain) in zip(utc, rows, strict=True)
        ),
    }
    records = {}
    for name, text in files.items():
        (folder / f"{name}.csv").write_text(text)
        records[name] = weather.read_hourly(folder / f"{name}.csv")
    first = records["reports"]
    assert len(first.hours) == len(rows)
    assert np.array_equal(np.isnan(first.rain_mm), [rain is None for *_, rain in rows])
    summer_only = rows[0][0].month == 6
    for name, record in records.items():
        # A summer's file that gives each row's distance to UTC cannot know of the winter's.
        moved = np.timedelta64(1 if summer_only and name in ("offsets", "airport") else 0, "h")
        assert np.array_equal(record.hours, first.hours + moved), name
        for element in ("temperature_c", "rain_mm"):
            assert np.array_equal(record.element(element), first.element(element), equal_nan=True), (
                name,
                element,
            )
            assert np.array_equal(record.flags[element], first.flags[element]), (name, element)


@given(
    start=st.dates(date(1990, 1, 1), date(2050, 12, 1)),
    depths=st.lists(st.sampled_from((None, "T", 0, 25, 50, 75, 125, 3, 40, 219)), min_size=2, max_size=40),
    evening=st.booleans(),
    style=st.integers(0, 4),
)
def test_notebook_read_every_day_is_the_plain_record_of_its_days(
    start, depths, evening, style, tmp_path_factory
):
    """A reading of every day, in five hands; a missed one leaves the next a total over two days or more."""
    depths = [40, *depths, 40]
    folder = tmp_path_factory.mktemp("notebook")
    days = [start + timedelta(days=step) for step in range(len(depths))]
    fractions = {25: "1/4", 50: "½", 75: "3/4", 125: "1 1/4"}

    def typed(depth):
        if depth is None:
            return "-"
        if depth == "T":
            return "T"
        return fractions.get(depth, f"{depth / 100:.2f}") if style % 2 else f"{depth / 100:.2f} in"

    hands = (
        lambda day: day.isoformat(),
        lambda day: f"{day:%a} {day:%b} {day.day},",
        lambda day: f"{day.day} {day:%B} {day.year}",
        lambda day: f"{day.month}/{day.day}/{day.year}",
        lambda day: f"{day:%B} {day.day}:",
    )
    head = f"# units: in\n# dates: month first\n# read at: {'6 pm' if evening else '7 am'}\n{start.year}\n"
    lines = [f"{hands[style](day)} {typed(depth)}\n" for day, depth in zip(days, depths, strict=True)]
    (folder / "a.txt").write_text(head + "".join(lines), encoding="utf-8")
    cells, unread = [], False
    for depth in depths:
        several = unread and depth not in (None, 0, "T")
        cells.append("A" if depth is None or several else "T" if depth == "T" else f"{depth / 100:.2f}")
        unread = depth is None
    shift = timedelta(days=0 if evening else 1)
    (folder / "b.csv").write_text(
        "date,rain_in\n" + "".join(f"{day - shift},{cell}\n" for day, cell in zip(days, cells, strict=True))
    )
    notebook, plain = weather.read(folder / "a.txt"), weather.read(folder / "b.csv")
    assert np.array_equal(notebook.dates, plain.dates)
    for place, depth in enumerate(depths):
        after = next((later for later in depths[place:] if later is not None), None)
        if (depth is None and after in (0, "T")) or (
            depth in (0, "T") and place and depths[place - 1] is None
        ):
            # Nothing, or next to nothing, over several days is nothing on each.
            assert notebook.rain_mm[place] == 0 or np.isnan(notebook.rain_mm[place])
            continue
        assert notebook.rain_mm[place] == plain.rain_mm[place] or np.isnan(notebook.rain_mm[place])
        assert notebook.flags["rain_mm"][place] == plain.flags["rain_mm"][place]


@given(
    start=st.datetimes(datetime(2010, 1, 1), datetime(2030, 1, 1)),
    hundredths=st.lists(st.integers(0, 40), min_size=30, max_size=120),
)
def test_gauge_record_is_the_same_in_every_layout(start, hundredths, tmp_path_factory):
    folder = tmp_path_factory.mktemp("gauges")
    start = start.replace(minute=0, second=0, microsecond=0)
    ends = [start + timedelta(minutes=15 * (step + 1)) for step in range(len(hundredths))]
    rows = list(zip(ends, hundredths, strict=True))
    files = {
        "sheet": "agency_cd,site_no,dateTime,rain,X_00045_00000_cd,tz_cd\n"
        + "".join(f"USGS,05408480,{end:%Y-%m-%d %H:%M}:00,{rain / 100:.2f},A,UTC-6\n" for end, rain in rows),
        "service": "# x\nagency_cd\tsite_no\tdatetime\ttz_cd\t9_00045\t9_00045_cd\n5s\t15s\t20d\t6s\t14n\t10s\n"
        + "".join(f"USGS\t05408480\t{end:%Y-%m-%d %H:%M}\tCST\t{rain / 100:.2f}\tA\n" for end, rain in rows),
        "hours": "# times: end\n# clock: UTC-6\ntime,rain_in\n"
        + "".join(f"{end:%Y-%m-%d %H:%M},{rain / 100:.2f}\n" for end, rain in rows),
    }
    records = {}
    for name, text in files.items():
        (folder / name).write_text(text)
        records[name] = weather.read_hourly(folder / name)
    wet = sum(hundredths) * 0.254
    gauge = weather.read_gauge(folder / "sheet")
    assert abs(gauge.total_mm - wet) < 1e-9
    assert gauge.minutes.tolist() == [15] * len(rows)
    for name, record in records.items():
        whole = len(rows) // 4
        assert np.array_equal(record.hours[:whole], records["sheet"].hours[:whole]), name
        assert np.allclose(record.rain_mm[:whole], records["sheet"].rain_mm[:whole], atol=1e-9), name
        assert abs(np.nansum(record.rain_mm) - sum(hundredths[: whole * 4]) * 0.254) < 1e-9


NOTES = (
    "May 3", "5/3", "5/13/2031", "2031", "May 2031", "2031-05-03", "Fri", "since Friday", "since 5/3", "1 1/4", "0.40",
    "T", "-", "in", "mm", "7 am", "25:00", "3 days", "overflowed", "½", ",", ":", "# units: in\n", "# read at: 7 am\n",
    "(", "31/2", "Feb 30", "99", "snow", "1/0", "0/0", "5+", ">", "\t", "# dates: day first\n",
    "# days not written: dry\n",
)  # fmt: skip


@given(
    lines=st.lists(
        st.lists(st.sampled_from(NOTES) | st.text(max_size=6), max_size=6), min_size=1, max_size=12
    )
)
def test_notebook_of_any_words_is_read_or_refused_with_a_reason(lines, tmp_path_factory):
    path = tmp_path_factory.mktemp("words") / "notebook.txt"
    path.write_text("\n".join(" ".join(line) for line in lines), encoding="utf-8")
    try:
        record = weather.read_gauge(path, "notebook")
    except InputError:
        return
    assert np.nansum(record.to_daily().rain_mm) <= record.total_mm + 1e-9


SMALL = {
    "hourly": "time,temp_F,rain_in\n2031-05-20 14:00,50,0.1\n2031-05-20 15:00,51,T\n",
    "usgs-gauge": "agency_cd,site_no,dateTime,rain,X_00045_00000_cd,tz_cd\nUSGS,1,2031-05-20 14:00,0,A,EST\n"
    "USGS,1,2031-05-20 14:15,0.1,A e,EST\n",
    "minute-of-day": "YEAR,MONTH,DAY,MINUTE,rain_in\n2031,5,20,885,0.1\n2031,5,20,890,0.2\n",
    "nerrs": "datetimestamp,atemp,f_atemp,totprcp,f_totprcp\n2031-05-20 14:15,10,<0>,1,<0>\n"
    "2031-05-20 14:30,,<-2>,2,<1>\n",
    "tmy3": '7,"A",NC,-5.0,36.1,-79.9,273\nDate (MM/DD/YYYY),Time (HH:MM),Dry-bulb (C),Lprecip depth (mm)\n'
    "05/20/1988,01:00,10,0\n05/20/1988,24:00,11,3\n",
}
ODD = st.sampled_from(
    (
        "",
        ",",
        "\n",
        "-9999",
        "1e400",
        "nan",
        "99:99",
        "2031-13-45",
        "<9>",
        "é",
        '"',
        "0",
        ";",
        "T",
        "\x00",
        "9" * 30,
    )
)


@given(
    layout=st.sampled_from(tuple(SMALL)),
    place=st.floats(0, 1),
    length=st.integers(0, 12),
    odd=ODD,
    read=st.booleans(),
)
def test_damaged_file_is_read_or_refused_with_a_reason(layout, place, length, odd, read, tmp_path_factory):
    """Any stretch of a sound file put out by something odd."""
    text = SMALL[layout]
    at = int(place * len(text))
    path = tmp_path_factory.mktemp("damaged") / "file.csv"
    path.write_text(text[:at] + odd + text[at + length :], encoding="utf-8")
    for wanted in (layout, None):
        try:
            record = weather.read_hourly(path, wanted) if read else weather.read_gauge(path, wanted)
        except InputError:
            continue
        assert record.to_daily().dates.size > 0
