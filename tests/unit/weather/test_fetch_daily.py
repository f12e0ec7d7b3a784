"""NOAA's daily records fetched from a service on this computer: what is asked, what is kept, what is refused."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather.fetch import daily, stations
from dooryard.weather.record import Flag
from tests.fetch_desk import NOW, Notes, desk_for
from tests.weather_service import Made, Service, body, changed, half_sent, made_days, running, status

STATION = "USC00150001"
FIRST, LAST = date(2028, 1, 1), date(2031, 6, 9)


@pytest.fixture
def service() -> Iterator[Service]:
    with running() as found:
        count = (LAST - FIRST).days + 1
        found.stations[STATION] = Made("CREEK BOTTOM, KY US", 38.2, -85.1, 186.0, made_days(FIRST, count))
        found.stations["USC00150002"] = Made(
            "HILL TOP, KY US", 38.4, -85.0, 270.4, made_days(FIRST, count, seed=8)
        )
        found.stations["USC00150003"] = Made(
            "FAR AWAY, KY US", 36.6, -88.0, 120.0, made_days(FIRST, count, seed=9)
        )
        yield found


@pytest.fixture
def notes() -> Notes:
    return Notes()


def refusal(call: object) -> str:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    return str(caught.value)


def test_daily_question_is_the_documented_one(service: Service, tmp_path: Path, notes: Notes) -> None:
    daily.record(STATION, date(2031, 1, 1), LAST, desk_for(service.url, tmp_path, notes))
    (asked,) = service.asked
    assert asked.path == "/access/services/data/v1"
    assert asked.query == {
        "dataset": "daily-summaries",
        "stations": STATION,
        "startDate": "2031-01-01",
        "endDate": "2031-06-09",
        "dataTypes": "PRCP,TMAX,TMIN,TAVG,AWND,MDPR,DAPR",
        "format": "csv",
        "units": "metric",
        "includeAttributes": "true",
        "includeStationName": "true",
        "includeStationLocation": "1",
    }


def test_daily_record_holds_what_the_archive_holds(service: Service, tmp_path: Path, notes: Notes) -> None:
    fetched = daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    path = tmp_path / "fetched.csv"
    path.write_bytes(fetched.content)
    record = weather.read(path)
    made = service.stations[STATION]
    assert (record.first, record.last) == (FIRST, LAST)
    assert record.station.id == STATION
    assert record.station.name == "CREEK BOTTOM, KY US"
    assert record.station.elevation_m == 186.0
    np.testing.assert_array_equal(record.t_min_c, [float(cells["TMIN"]) for cells in made.days.values()])
    np.testing.assert_array_equal(record.rain_mm, [float(cells["PRCP"]) for cells in made.days.values()])
    traces = [cells["PRCP_ATTRIBUTES"].startswith("T") for cells in made.days.values()]
    assert sum(traces) > 10
    np.testing.assert_array_equal(record.flags["rain_mm"] == Flag.TRACE, traces)
    # The file says its units, so none had to be guessed.
    assert [issue for issue in record.issues if issue.kind == "units"] == []


def test_daily_record_is_asked_for_in_stretches_with_a_counter(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    fetched = daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    assert [(asked.query["startDate"], asked.query["endDate"]) for asked in service.asked] == [
        ("2028-01-01", "2029-12-31"),
        ("2030-01-01", "2031-06-09"),
    ]
    assert fetched.asked == 2
    assert notes.lines == [f"{STATION}: 2028 to 2029, part 1 of 2.", f"{STATION}: 2030 to 2031, part 2 of 2."]


@pytest.mark.parametrize("years", [1, 3, 10, 25])
def test_daily_stretches_cover_every_day_once(years: int) -> None:
    first, last = date(1987, 3, 4), date(2026, 11, 24)
    pieces = daily.stretches(first, last, years)
    assert pieces[0][0] == first
    assert pieces[-1][1] == last
    for (_, end), (start, _) in pairwise(pieces):
        assert start == end + timedelta(days=1)
    # The same cuts come back tomorrow, so that old answers can be used.
    assert daily.stretches(first, last + timedelta(days=1), years)[:-1] == pieces[:-1]


def test_daily_record_fetched_again_asks_only_when_the_answer_is_old(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    first = daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    soon = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(hours=11))
    assert daily.record(STATION, FIRST, LAST, soon).asked == 0
    later = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(hours=13))
    again = daily.record(STATION, FIRST, LAST, later)
    # The years long past are left alone; the running ones are asked for.
    assert again.asked == 1
    assert service.asked[-1].query["startDate"] == "2030-01-01"
    assert again.content == first.content


def test_daily_record_fetched_the_next_day_has_the_new_day(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    daily.record(STATION, FIRST, LAST - timedelta(days=1), desk_for(service.url, tmp_path, notes))
    tomorrow = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(hours=1))
    fetched = daily.record(STATION, FIRST, LAST, tomorrow)
    assert fetched.asked == 1
    assert fetched.last == LAST


def test_daily_record_that_has_not_changed_is_not_sent_again(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    service.headers = {"ETag": '"a1"'}
    first = daily.record(STATION, date(2030, 1, 1), LAST, desk_for(service.url, tmp_path, notes))
    later = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(days=1))
    second = daily.record(STATION, date(2030, 1, 1), LAST, later)
    assert service.asked[-1].headers["if-none-match"] == '"a1"'
    assert second.content == first.content
    # And the answer counts as new from then on.
    after = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(days=1, hours=1))
    assert daily.record(STATION, date(2030, 1, 1), LAST, after).asked == 0


@pytest.mark.parametrize(
    ("said", "hours", "asked"),
    [
        ("max-age=172800", 47, 0),
        ("max-age=3600", 2, 1),
        ("no-store", 1, 1),
        ("no-cache, max-age=90000", 1, 1),
    ],
)
def test_daily_record_is_kept_as_long_as_the_service_says(
    service: Service, tmp_path: Path, notes: Notes, said: str, hours: int, asked: int
) -> None:
    service.headers = {"Cache-Control": said}
    daily.record(STATION, date(2030, 1, 1), LAST, desk_for(service.url, tmp_path, notes))
    later = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(hours=hours))
    assert daily.record(STATION, date(2030, 1, 1), LAST, later).asked == asked


def test_daily_record_offline_uses_the_old_answer_and_tells_its_age(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    first = daily.record(STATION, date(2030, 1, 1), LAST, desk_for(service.url, tmp_path, notes))
    count = len(service.asked)
    away = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(days=3), offline=True)
    old = daily.record(STATION, date(2030, 1, 1), LAST, away)
    assert old.content == first.content
    assert len(service.asked) == count
    (warning,) = old.warnings
    assert "3 days old" in warning
    assert "stay off the network" in warning


def test_daily_record_offline_without_an_answer_says_what_is_missing_and_how_to_bring_it(
    tmp_path: Path, notes: Notes
) -> None:
    away = desk_for("http://127.0.0.1:1", tmp_path, notes, offline=True)
    text = refusal(lambda: daily.record(STATION, date(2030, 1, 1), LAST, away))
    assert f"The record of {STATION} from 2030-01-01 to 2031-06-09 is not here." in text
    assert "http://127.0.0.1:1/access/services/data/v1?dataset=daily-summaries&stations=USC00150001" in text
    assert f"dooryard weather shelf add {STATION}.csv --layout daily-summaries-metric" in text


def test_daily_record_saved_by_hand_reads_like_the_fetched_one(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    """What the message tells a person to do works: open the address, save, read with the named layout."""
    import urllib.request

    fetched = daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    with urllib.request.urlopen(daily.address(service.url, STATION, FIRST, LAST)) as answer:
        (tmp_path / "by-hand.csv").write_bytes(answer.read())
    (tmp_path / "fetched.csv").write_bytes(fetched.content)
    by_hand = weather.read(tmp_path / "by-hand.csv", layout="daily-summaries-metric")
    ours = weather.read(tmp_path / "fetched.csv")
    np.testing.assert_array_equal(by_hand.dates, ours.dates)
    for name in ours.elements:
        np.testing.assert_array_equal(by_hand.element(name), ours.element(name))
        np.testing.assert_array_equal(by_hand.flags[name], ours.flags[name])


@pytest.mark.parametrize(
    ("spoiler", "said"),
    [
        (body(b"<!DOCTYPE html><html>Please sign in</html>"), "web page came instead of data"),
        (body(b'{"errorMessage": "Moved to version 2"}', "application/json"), "Moved to version 2"),
        (body(b"\xff\xfe\x00rubbish", "text/csv"), "no text"),
        (body(b'"SITE","DAY"\n"A","2031-01-01"\n', "text/csv"), "columns have changed: SITE,DAY"),
        (changed(lambda right: right[: len(right) - 10]), "cut short or damaged."),
        (changed(lambda right: right[: right.rindex(b',"')] + b"\n"), "cut short or damaged near"),
        (
            changed(lambda right: right.replace(b"USC00150001", b"USC00150002")),
            "another station, USC00150002",
        ),
        (changed(lambda right: right.replace(b'"2031-01-', b'"2033-01-')), "another day, 2033-01-"),
        (changed(lambda right: right.replace(b'"2031-01-', b'"Jan 2031 ')), "dates have changed"),
        (status(400, body=b'{"errorMessage": "Bad Request", "errors": [{"message": "No such"}]}'), "No such"),
        (status(403), "answer 403"),
        (half_sent, "broke off"),
        (status(503), "out of order"),
    ],
)
def test_daily_answer_that_is_wrong_is_told_and_never_kept(
    service: Service, tmp_path: Path, notes: Notes, spoiler: object, said: str
) -> None:
    service.spoil_all = spoiler  # type: ignore[assignment]
    text = refusal(
        lambda: daily.record(STATION, date(2031, 1, 1), LAST, desk_for(service.url, tmp_path, notes))
    )
    assert said in text
    assert "shelf add" in text
    service.spoil_all = None
    # Nothing of it was kept: the next question goes out and is answered.
    assert daily.record(STATION, date(2031, 1, 1), LAST, desk_for(service.url, tmp_path, notes)).asked == 1


@pytest.mark.parametrize(
    "spoiler",
    [body(b"<html>sign in</html>"), half_sent, status(500), status(404)],
    ids=["page", "half", "busy", "gone"],
)
def test_daily_answer_that_is_wrong_leaves_the_old_one_in_use(
    service: Service, tmp_path: Path, notes: Notes, spoiler: object
) -> None:
    good = daily.record(STATION, date(2031, 1, 1), LAST, desk_for(service.url, tmp_path, notes))
    service.spoil_all = spoiler  # type: ignore[assignment]
    later = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(days=2))
    old = daily.record(STATION, date(2031, 1, 1), LAST, later)
    assert old.content == good.content
    assert "2 days old" in old.warnings[0]


def test_daily_kept_answer_that_is_damaged_is_asked_for_again(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    good = daily.record(STATION, date(2031, 1, 1), LAST, desk_for(service.url, tmp_path, notes))
    (kept,) = (tmp_path / "cache").glob("*.answer")
    kept.write_bytes(kept.read_bytes().replace(b"CREEK", b"GREEK", 1))
    again = daily.record(STATION, date(2031, 1, 1), LAST, desk_for(service.url, tmp_path, notes))
    assert again.asked == 1
    assert again.content == good.content


def test_daily_kept_answer_from_a_clock_that_ran_ahead_is_not_fresh_for_ever(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    ahead = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(days=900))
    daily.record(STATION, date(2031, 1, 1), LAST, ahead)
    assert daily.record(STATION, date(2031, 1, 1), LAST, desk_for(service.url, tmp_path, notes)).asked == 1


def test_daily_answer_that_cannot_be_kept_is_used_and_told(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    (tmp_path / "cache").write_text("a file where the folder should be", encoding="utf-8")
    fetched = daily.record(STATION, date(2031, 1, 1), LAST, desk_for(service.url, tmp_path, notes))
    assert fetched.last == LAST
    (warning,) = fetched.warnings
    assert warning.startswith("An answer could not be kept: Cannot write there")


def test_daily_numbers_in_other_units_than_ordered_are_refused(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    """A service that one day ignores the order and answers in tenths must not make a summer of 300 degrees."""

    def in_tenths(right: bytes) -> bytes:
        rows = list(csv.DictReader(io.StringIO(right.decode())))
        for row in rows:
            for name in ("PRCP", "TMAX", "TMIN"):
                row[name] = f"{float(row[name]) * 10:.0f}" if row[name].strip() else ""
        out = io.StringIO()
        table = csv.DictWriter(out, rows[0])
        table.writeheader()
        table.writerows(rows)
        return out.getvalue().encode()

    service.spoil_all = changed(in_tenths)
    desk = desk_for(service.url, tmp_path, notes)
    text = refusal(lambda: daily.record(STATION, date(2030, 1, 1), LAST, desk))
    assert "tenths" in text
    assert "not in the units ordered" in text


def test_daily_station_without_a_day_is_refused_with_a_way_on(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    desk = desk_for(service.url, tmp_path, notes)
    assert "holds nothing of USC00159999" in refusal(lambda: daily.record("USC00159999", FIRST, LAST, desk))


def test_daily_stretch_without_a_day_is_a_gap_and_no_fault(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    desk = desk_for(service.url, tmp_path, notes)
    fetched = daily.record(STATION, date(1995, 1, 1), LAST, desk)
    assert fetched.first == FIRST
    assert fetched.days == (LAST - FIRST).days + 1


def test_daily_column_that_only_some_years_have_is_blank_in_the_others(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    for day, cells in service.stations[STATION].days.items():
        if day >= date(2030, 1, 1):
            cells["AWND"] = "2.5"
    fetched = daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    (tmp_path / "f.csv").write_bytes(fetched.content)
    record = weather.read(tmp_path / "f.csv")
    assert record.wind_m_s is not None
    known = ~np.isnan(record.wind_m_s)
    assert not known[: record.position(date(2030, 1, 1))].any()
    assert known[record.position(date(2030, 1, 1)) :].all()


@pytest.mark.parametrize("typed", ["USC00150001", "ghcnd:usc00150001", " usc00150001 "])
def test_daily_station_may_be_written_as_people_do(typed: str) -> None:
    assert daily.station_id(typed) == STATION


@pytest.mark.parametrize(
    "typed", ["", "Creek Bottom", "KLEX", "USC001500011", "USC0015000/", "USC00150001,X"]
)
def test_daily_station_that_is_none_is_refused(typed: str) -> None:
    assert "no station identifier" in refusal(lambda: daily.station_id(typed))


def test_stations_near_a_place_are_those_in_the_box(service: Service, tmp_path: Path, notes: Notes) -> None:
    for day in (date(2031, 5, 12), date(2031, 5, 13)):
        service.stations["USC00150002"].days[day].pop("TMIN")
    found = stations.near(38.21, -85.11, desk_for(service.url, tmp_path, notes))
    by_id = {reporting.station.id: reporting for reporting in found.stations}
    assert set(by_id) == {STATION, "USC00150002"}
    assert by_id[STATION].station.elevation_m == 186.0
    assert by_id[STATION].days == {"PRCP": 7, "TMAX": 7, "TMIN": 7}
    assert by_id["USC00150002"].days == {"PRCP": 7, "TMAX": 7, "TMIN": 5}
    assert (found.last - found.first).days == 6
    assert found.last <= NOW.date() - timedelta(days=21)


def test_stations_near_a_place_are_looked_up_once(service: Service, tmp_path: Path, notes: Notes) -> None:
    stations.near(38.21, -85.11, desk_for(service.url, tmp_path, notes))
    stations.near(38.21, -85.11, desk_for(service.url, tmp_path, notes, now=NOW + timedelta(hours=5)))
    assert len(service.asked) == 1


def test_stations_near_a_pole_are_not_looked_for(service: Service, tmp_path: Path, notes: Notes) -> None:
    assert "pole" in refusal(lambda: stations.near(89.9, 0.0, desk_for(service.url, tmp_path, notes)))
    assert service.asked == []


def rows_changed(change: object) -> object:
    """A spoiler that changes the rows of a table, each a dict from column to cell."""

    def edit(right: bytes) -> bytes:
        rows = list(csv.DictReader(io.StringIO(right.decode())))
        rows = change(rows)  # type: ignore[operator]
        out = io.StringIO()
        table = csv.DictWriter(out, rows[0])
        table.writeheader()
        table.writerows(rows)
        return out.getvalue().encode()

    return changed(edit)


def with_cell(name: str, text: str) -> object:
    return rows_changed(lambda rows: [*rows[:9], rows[9] | {name: text}, *rows[10:]])


def every_place(latitude: str) -> object:
    return rows_changed(lambda rows: [row | {"LATITUDE": latitude} for row in rows])


@pytest.mark.parametrize(
    ("spoiler", "said"),
    [
        (with_cell("TMAX", "warm"), "no number: TMAX warm on 2031-01-10"),
        (with_cell("PRCP", "inf"), "no number: PRCP inf on 2031-01-10"),
        (with_cell("PRCP", "1e999"), "no number: PRCP 1e999 on 2031-01-10"),
        (with_cell("AWND", "windy"), "no number"),
        (every_place("north"), "LATITUDE north: This is no number"),
        (rows_changed(lambda rows: [*rows, rows[3]]), "one day twice, 2031-01-04"),
        (
            rows_changed(lambda rows: [row | {"TMAX": "212.4", "TMIN": "180.1"} for row in rows]),
            "not in the units ordered",
        ),
    ],
    ids=["word", "infinite", "overflow", "wind", "place", "twice", "units"],
)
@pytest.mark.filterwarnings("error")
def test_daily_answer_that_no_reader_takes_is_told_and_never_kept(
    service: Service, tmp_path: Path, notes: Notes, spoiler: object, said: str
) -> None:
    """What only the last check finds must not stay in the way of a good answer until it is old."""
    service.stations[STATION].days[date(2031, 1, 20)]["AWND"] = "2.5"
    service.spoil = [spoiler]  # type: ignore[list-item]
    desk = desk_for(service.url, tmp_path, notes)
    text = refusal(lambda: daily.record(STATION, date(2031, 1, 1), LAST, desk))
    assert said in text
    assert list((tmp_path / "cache").glob("*")) == []
    assert daily.record(STATION, date(2031, 1, 1), LAST, desk).asked == 1


def test_daily_stretches_that_make_no_record_together_are_dropped(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    """Each stretch holds nothing but a mean temperature: none is at fault, and together they are no record."""
    made = service.stations[STATION]
    for day in made.days:
        made.days[day] = {"TAVG": "11.0"}
    desk = desk_for(service.url, tmp_path, notes)
    assert "neither rain" in refusal(lambda: daily.record(STATION, FIRST, LAST, desk))
    assert list((tmp_path / "cache").glob("*")) == []


def test_daily_record_refreshed_is_asked_for_however_fresh(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    service.headers = {"ETag": '"a1"'}
    daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    anew = replace(desk_for(service.url, tmp_path, notes), refresh=True)
    assert daily.record(STATION, FIRST, LAST, anew).asked == 2
    # Whole answers are wanted, from the service itself.
    assert "if-none-match" not in service.asked[-1].headers
    assert service.asked[-1].headers["cache-control"] == "no-cache"
    service.spoil_all = status(404)
    old = daily.record(STATION, FIRST, LAST, anew)
    assert "no newer one was to be had" in old.warnings[0]


def cut_after(rows: int) -> object:
    """A table that ends at the end of a line, as one from a server that ran out of time does."""
    return changed(lambda right: b"\n".join(right.split(b"\n")[: rows + 1]) + b"\n")


def test_daily_stretch_cut_at_a_line_end_is_told_and_good_for_hours_only(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    service.headers = {"ETag": '"a1"', "Cache-Control": "max-age=8640000"}
    service.spoil = [cut_after(366)]  # type: ignore[list-item]
    cut = daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    assert cut.wanted == (FIRST, LAST)
    assert cut.days == 366 + (LAST - date(2030, 1, 1)).days + 1
    (warning,) = cut.warnings
    assert "2028-01-01 to 2029-12-31 was asked for, the last day that came is 2028-12-31" in warning
    assert "cut short" in warning
    soon = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(hours=11))
    assert daily.record(STATION, FIRST, LAST, soon).asked == 0
    later = desk_for(service.url, tmp_path, notes, now=NOW + timedelta(hours=13))
    mended = daily.record(STATION, FIRST, LAST, later)
    # "Has it changed?" would be answered with no, and half a table kept for good.
    assert "if-none-match" not in service.asked[-1].headers
    assert mended.asked == 1
    assert mended.days == (LAST - FIRST).days + 1
    assert mended.warnings == ()


def test_daily_record_that_stops_is_told_once_with_what_was_asked(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    days = service.stations[STATION].days
    for day in [day for day in days if day > date(2028, 5, 31)]:
        del days[day]
    fetched = daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    (warning,) = fetched.warnings
    assert "2028-01-01 to 2031-06-09 was asked for, the last day that came is 2028-05-31" in warning


def test_daily_days_still_on_their_way_are_noted_without_alarm(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    days = service.stations[STATION].days
    for day in [day for day in days if day > LAST - timedelta(days=30)]:
        del days[day]
    fetched = daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    assert fetched.warnings == ()
    assert any("the last day that came is 2031-05-10." in note for note in fetched.notes)


def test_daily_elements_ordered_that_did_not_come_are_named(
    service: Service, tmp_path: Path, notes: Notes
) -> None:
    for cells in service.stations[STATION].days.values():
        cells.update({"TMIN": "", "AWND": "2.0"})
    fetched = daily.record(STATION, FIRST, LAST, desk_for(service.url, tmp_path, notes))
    assert fetched.empty == ("TMIN", "TAVG", "MDPR", "DAPR")
    assert fetched.notes == ("Ordered, but not one value came: mean temperature (TAVG).",)
    assert fetched.warnings == ("Ordered, but not one value came: lowest temperature (TMIN).",)


@pytest.mark.parametrize("text", ["north", "inf", "nan"])
def test_stations_whose_place_is_no_number_are_refused_and_not_kept(
    service: Service, tmp_path: Path, notes: Notes, text: str
) -> None:
    service.spoil = [every_place(text)]  # type: ignore[list-item]
    desk = desk_for(service.url, tmp_path, notes)
    assert f"no number: LATITUDE {text}" in refusal(lambda: stations.near(38.21, -85.11, desk))
    assert len(stations.near(38.21, -85.11, desk).stations) == 2


def test_stations_whose_height_is_not_known_have_none(service: Service, tmp_path: Path, notes: Notes) -> None:
    service.stations[STATION].elevation_m = -999.9
    found = stations.near(38.21, -85.11, desk_for(service.url, tmp_path, notes))
    heights = {one.station.id: one.station.elevation_m for one in found.stations}
    assert heights == {STATION: None, "USC00150002": 270.4}
