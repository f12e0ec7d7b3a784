"""The station shelf: what is put there comes back to the last bit, with where it came from."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import shelved
from dooryard.weather.record import ELEMENTS, Flag, Issue, Source, Station, WeatherRecord, on_calendar
from dooryard.weather.store import Shelf, key_for

Put = Callable[..., Path]
ON = dt.date(2031, 6, 10)
HEAD = "# station: Creek Bottom\n# id: CB1\n# latitude: 38.2\n# longitude: -85.1\n# elevation: 610 ft\n"


def text(
    first: str, lows: list[float | str], rains: list[float | str] | None = None, head: str = HEAD
) -> str:
    """A plain file from its lowest temperatures and rains in metric units; the highest is 10 above the lowest."""
    start = dt.date.fromisoformat(first)
    rows = []
    for step, low in enumerate(lows):
        high = "" if low == "" else f"{float(low) + 10:.1f}"
        rain = (rains or [])[step] if rains else 0.0
        rows.append(f"{start + dt.timedelta(days=step)},{low},{high},{rain}")
    return head + "date,tmin_C,tmax_C,rain_mm\n" + "\n".join(rows) + "\n"


def same(one: WeatherRecord, other: WeatherRecord) -> bool:
    """True if two records agree in every bit and every word."""
    return (
        one.elements == other.elements
        and (one.station, one.issues, one.source) == (other.station, other.issues, other.source)
        and np.array_equal(one.dates, other.dates)
        and all(one.element(name).tobytes() == other.element(name).tobytes() for name in one.elements)
        and all(np.array_equal(one.flags[name], other.flags[name]) for name in one.elements)
    )


def problem(call: Callable[[], object]) -> str:
    with pytest.raises(InputError) as caught:
        call()
    return str(caught.value)


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "shelf")


def test_shelf_gives_back_what_was_read(put: Put, shelf: Shelf) -> None:
    record = weather.read(put(text("2031-05-01", [5, 6.1, "", 7], [0, "T", "2.5E", "A"])))
    added = shelf.add(record, ON)
    assert added.change == "new"
    back = shelf.record("cb1")
    assert same(record, back)
    assert back.flags["rain_mm"].tolist() == [Flag.OBSERVED, Flag.TRACE, Flag.ESTIMATED, Flag.ACCUMULATED]
    with pytest.raises(ValueError, match="read-only"):
        back.rain_mm[0] = 1.0


@st.composite
def records(draw: st.DrawFn) -> WeatherRecord:
    """Any record at all: odd values, every flag, any of the optional elements, odd words."""
    days = draw(st.integers(1, 40))
    first = draw(st.dates(dt.date(1800, 1, 1), dt.date(2200, 1, 1)))
    start = np.datetime64(first, "D")
    names = [name for name in ELEMENTS if draw(st.booleans())]
    number = st.floats(-80, 2000, width=64) | st.just(float("nan"))
    values = {name: np.array(draw(st.lists(number, min_size=days, max_size=days))) for name in names}
    code = st.sampled_from([int(flag) for flag in Flag])
    flags = {
        name: np.array(draw(st.lists(code, min_size=days, max_size=days)), dtype=np.uint8) for name in names
    }
    word = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=12)
    issue = st.builds(
        Issue,
        word,
        word,
        st.none() | st.dates(),
        st.none() | st.dates(),
        st.integers(0, 9),
        word,
        evidence=word,
        element=word,
    )
    place = st.none() | st.floats(-180, 180)
    station = Station(draw(word), "S1", draw(place), draw(place), draw(st.none() | st.floats(-400, 9000)))
    issues = tuple(draw(st.lists(issue, max_size=3)))
    source = Source(draw(word), draw(word), draw(word), draw(word))
    return on_calendar(station, np.arange(start, start + days), values, flags, issues, source)


@settings(max_examples=60)
@given(record=records())
def test_shelf_file_holds_any_record_to_the_last_bit(
    record: WeatherRecord, tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("any") / "s1.parquet"
    made = shelved.shelve("s1", record, (shelved.origin_of(record, ON, "1.0"),))
    content = shelved.packed(made)
    assert content == shelved.packed(made)
    path.write_bytes(content)
    back = shelved.read(path)
    assert same(back.record, record)
    assert back.about == made.about == shelved.read_about(path)


def test_shelf_remembers_where_a_record_came_from(put: Put, shelf: Shelf) -> None:
    path = put(text("2031-05-01", [5, 6, "", 7], [0, "T", "2.5E", "A"]), "creek.csv")
    shelf.add(weather.read(path), ON)
    import hashlib

    (origin,) = shelf.shelved("cb1").about.origins
    assert origin.path_name == "creek.csv"
    assert origin.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert origin.layout == "plain CSV with units in its header"
    assert origin.read_on == ON
    assert (origin.first, origin.last) == (dt.date(2031, 5, 1), dt.date(2031, 5, 4))
    assert origin.flagged["rain_mm"] == {"trace": 1, "estimated": 1, "accumulated": 1}
    assert origin.flagged["t_min_c"] == {"missing": 1}
    assert origin.issues == weather.read(path).issues


def test_shelf_takes_the_same_file_twice_without_touching_anything(put: Put, shelf: Shelf) -> None:
    path = put(text("2031-05-01", [5, 6, 7]))
    shelf.add(weather.read(path), ON)
    (stored,) = shelf.folder.iterdir()
    before = (stored.read_bytes(), stored.stat().st_mtime_ns)
    again = shelf.add(weather.read(path), ON + dt.timedelta(days=30))
    assert again.change == "unchanged"
    assert (stored.read_bytes(), stored.stat().st_mtime_ns) == before
    assert list(shelf.folder.iterdir()) == [stored]


def test_shelf_joins_a_newer_file_to_the_older(put: Put, shelf: Shelf) -> None:
    shelf.add(weather.read(put(text("2031-05-01", [1, 2, 3, 4]), "may.csv")), ON)
    added = shelf.add(weather.read(put(text("2031-05-04", [4, 5, 6]), "late.csv")), ON)
    assert (added.change, added.replaced) == ("merged", 0)
    whole = shelf.shelved("cb1")
    assert whole.record.t_min_c.tolist() == [1, 2, 3, 4, 5, 6]
    assert whole.origin.tolist() == [0, 0, 0, 1, 1, 1]
    assert whole.record.source.path_name == "may.csv, late.csv"
    # The file added first, added again, changes nothing either.
    assert shelf.add(weather.read(put(text("2031-05-01", [1, 2, 3, 4]), "may.csv")), ON).change == "unchanged"
    assert shelf.record("cb1").t_min_c.tolist() == [1, 2, 3, 4, 5, 6]


def test_shelf_file_read_anew_by_a_newer_program_does_not_undo_a_newer_file(
    put: Put, shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = put(text("2031-05-01", [1, 2, 3, 4]), "old.csv")
    shelf.add(weather.read(old), ON)
    shelf.add(weather.read(put(text("2031-05-03", [3.4, 4.4, 5]), "new.csv")), ON)
    monkeypatch.setattr("dooryard.weather.store.__version__", "99.0")
    assert shelf.add(weather.read(old), ON).change == "merged"
    again = shelf.shelved("cb1")
    assert again.record.t_min_c.tolist() == [1, 2, 3.4, 4.4, 5]
    assert again.origin.tolist() == [0, 0, 1, 1, 1]
    assert again.about.origins[0].program == "99.0"
    assert [issue.text for issue in again.record.issues if "older one has" in issue.text] == []
    assert shelf.add(weather.read(old), ON).change == "unchanged"


def test_shelf_counts_and_tells_what_a_newer_file_changed(put: Put, shelf: Shelf) -> None:
    shelf.add(weather.read(put(text("2031-05-01", [1, 2, 3, 4], [0, 0, 9, 0]), "old.csv")), ON)
    newer = weather.read(put(text("2031-05-01", [1, 2, 3.4, ""], [0, 0, "9S", 0]), "new.csv"))
    added = shelf.add(newer, ON)
    record = shelf.record("cb1")
    # 3 became 3.4 in both extremes and the rain was withdrawn by a mark; the blank did not wipe out the 4.
    assert record.t_min_c.tolist() == [1, 2, 3.4, 4]
    assert np.isnan(record.rain_mm[2])
    assert record.flags["rain_mm"][2] == Flag.SUSPECT
    assert added.replaced == 3
    assert added.about.origins[1].replaced == 3
    changed = [issue for issue in record.issues if issue.kind == "changed"]
    assert [(issue.element, issue.days) for issue in changed] == [
        ("t_min_c", 1),
        ("t_min_c", 1),
        ("t_max_c", 1),
        ("t_max_c", 1),
        ("rain_mm", 1),
    ]
    assert "older one has" in changed[1].text


def test_shelf_leaves_a_gap_between_two_files_a_gap(put: Put, shelf: Shelf) -> None:
    shelf.add(weather.read(put(text("2031-01-01", [1.0] * 10), "a.csv")), ON)
    shelf.add(weather.read(put(text("2031-03-01", [2.0] * 10), "b.csv")), ON)
    record = shelf.record("cb1")
    assert len(record.dates) == 69
    assert np.isnan(record.t_min_c[10:59]).all()
    gaps = [issue for issue in record.issues if issue.kind == "gap"]
    assert [(issue.first, issue.last) for issue in gaps] == [(dt.date(2031, 1, 11), dt.date(2031, 2, 28))]


def test_shelf_joined_gap_is_no_longer_told_once_it_is_closed(put: Put, shelf: Shelf) -> None:
    lows: list[float | str] = [1.0] * 5 + [""] * 10 + [1.0] * 5
    blanks: list[float | str] = [0.0] * 5 + [""] * 10 + [0.0] * 5
    shelf.add(weather.read(put(text("2031-01-01", lows, blanks), "a.csv")), ON)
    assert [issue.days for issue in shelf.record("cb1").issues if issue.kind == "gap"] == [10]
    shelf.add(weather.read(put(text("2031-01-06", [1.0] * 10), "b.csv")), ON)
    assert [issue for issue in shelf.record("cb1").issues if issue.kind in ("gap", "missing")] == []


def test_shelf_refuses_another_station_under_a_taken_key(put: Put, shelf: Shelf) -> None:
    shelf.add(weather.read(put(text("2031-01-01", [low / 2 for low in range(40)]))), ON)
    far = weather.read(put(text("2031-01-01", [1.0] * 3, head=HEAD.replace("38.2", "39.2"))))
    assert "111 km from the one on the shelf" in problem(lambda: shelf.add(far, ON))
    unlike = weather.read(put(text("2031-01-01", [low * 0.9 + 3 for low in range(40)])))
    said = problem(lambda: shelf.add(unlike, ON))
    assert "lowest temperature differs from the one on the shelf on 40 of 40 shared days" in said
    assert "--key" in said
    assert shelf.record("cb1").t_min_c[1] == 0.5
    assert shelf.add(unlike, ON, key="other").change == "new"
    assert shelf.add(unlike, ON, afresh=True).change == "replaced"
    assert shelf.record("cb1").t_min_c[1] == pytest.approx(3.9)
    assert len(shelf.shelved("cb1").about.origins) == 1


def test_shelf_joins_files_of_one_station_in_other_units(put: Put, shelf: Shelf) -> None:
    """Whole Fahrenheit and hundredths of an inch differ by rounding only: still one station."""
    lows = [float(low) for low in range(40)]
    rains = [2.5 * (step % 3) for step in range(40)]
    shelf.add(weather.read(put(text("2031-01-01", lows, rains), "metric.csv")), ON)
    rows = [
        f"{dt.date(2031, 1, 1) + dt.timedelta(days=step)},{low * 1.8 + 32:.0f},{low * 1.8 + 50:.0f},{rain / 25.4:.2f}"
        for step, (low, rain) in enumerate(zip(lows, rains, strict=True))
    ]
    us = weather.read(put(HEAD + "date,tmin_F,tmax_F,rain_in\n" + "\n".join(rows) + "\n", "us.csv"))
    assert shelf.add(us, ON).change == "merged"


def test_shelf_holds_several_stations_and_finds_each_by_key_identifier_or_name(
    put: Put, shelf: Shelf
) -> None:
    shelf.add(weather.read(put(text("2031-01-01", [1.0]))), ON)
    hill = HEAD.replace("Creek Bottom", "Hill Top").replace("CB1", "HT2").replace("38.2", "38.4")
    shelf.add(weather.read(put(text("2031-01-01", [2.0], head=hill))), ON)
    held, problems = shelf.contents()
    assert [about.key for about in held] == ["cb1", "ht2"]
    assert problems == ()
    for word in ("ht2", "HT2", "hill top", "shelf:HT2"):
        assert shelf.record(word).t_min_c.tolist() == [2.0]
    assert 'Did you mean "ht2"?' in problem(lambda: shelf.record("ht3"))


def test_shelf_without_anything_says_how_to_begin(shelf: Shelf) -> None:
    assert shelf.contents() == ((), ())
    assert "shelf add FILE" in problem(lambda: shelf.record("creek"))


@pytest.mark.parametrize("keep", [0, 10, 500])
def test_shelf_record_that_is_damaged_is_told_and_the_others_stay(put: Put, shelf: Shelf, keep: int) -> None:
    shelf.add(weather.read(put(text("2031-01-01", [1.0]))), ON)
    good = (shelf.folder / "cb1.parquet").read_bytes()
    (shelf.folder / "bad.parquet").write_bytes(good[:keep])
    held, problems = shelf.contents()
    assert [about.key for about in held] == ["cb1"]
    assert "damaged" in str(problems[0])
    assert "damaged" in problem(lambda: shelf.record("bad"))
    assert shelf.remove("bad") is None
    assert shelf.contents()[1] == ()


def test_shelf_file_of_another_program_is_not_taken_for_a_record(shelf: Shelf) -> None:
    import polars

    shelf.folder.mkdir()
    polars.DataFrame({"a": [1]}).write_parquet(shelf.folder / "odd.parquet")
    assert "no record" in problem(lambda: shelf.record("odd"))


def test_shelf_write_that_fails_leaves_the_old_record_whole(
    put: Put, shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf.add(weather.read(put(text("2031-01-01", [1.0, 2.0]), "a.csv")), ON)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    newer = weather.read(put(text("2031-01-02", [2.0, 3.0]), "b.csv"))
    assert "No space left" in problem(lambda: shelf.add(newer, ON))
    monkeypatch.undo()
    assert shelf.record("cb1").t_min_c.tolist() == [1.0, 2.0]
    assert [path.name for path in shelf.folder.iterdir()] == ["cb1.parquet"]


def test_shelf_takes_particulars_the_file_lacks(put: Put, shelf: Shelf) -> None:
    bare = weather.read(put(text("2031-01-01", [1.0], head="")))
    given = Station("Creek Bottom", latitude=38.2, longitude=-85.1, elevation_m=186.0)
    added = shelf.add(bare, ON, key="creek", station=given)
    assert added.about.station == Station("Creek Bottom", "", 38.2, -85.1, 186.0)
    assert shelf.add(bare, ON, key="creek").change == "unchanged"
    assert shelf.add(bare, ON, key="creek", station=replace(given, elevation_m=190.0)).change == "merged"
    assert shelf.record("creek").station.elevation_m == 190.0


def test_shelf_key_of_a_station_without_identifier_or_name_is_its_files_name(put: Put, shelf: Shelf) -> None:
    record = weather.read(put(text("2031-01-01", [1.0], head=""), "Mill Pond 2.csv"))
    nameless = replace(record, station=Station(""))
    assert shelf.add(nameless, ON).about.key == "mill-pond-2"


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("USW00094846", "usw00094846"),
        ("Creek Bottom, KY", "creek-bottom-ky"),
        ("../../etc", "etc"),
        ("CON", "con-station"),
    ],
)
def test_shelf_key_is_a_name_any_file_system_takes(word: str, key: str) -> None:
    assert key_for(word) == key


def test_shelf_key_of_nothing_is_refused() -> None:
    assert "--key" in problem(lambda: key_for("???"))


@pytest.mark.parametrize("said", ["[" * 100_000, "[]", '{"version": 1, "about": null}', "not JSON"])
def test_shelved_file_with_odd_words_about_itself_is_damaged_and_nothing_worse(
    tmp_path: Path, said: str
) -> None:
    import polars

    shelf = Shelf(tmp_path)
    polars.DataFrame({"a": [1]}).write_parquet(tmp_path / "odd.parquet", metadata={shelved.KEY: said})
    held, problems = shelf.contents()
    assert held == ()
    assert [problem.what for problem in problems] == ["This shelved record is damaged or no record."]
    assert shelf.remove("odd") is None
