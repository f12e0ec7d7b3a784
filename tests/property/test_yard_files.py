"""Yard files made at random: what is written reads back, and no junk gets past the plain messages."""

import datetime as dt
import string
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.problem import InputError
from dooryard.yard import file, model
from dooryard.yard.file import Add, Change, Put
from dooryard.yard.keys import TABLES as KEYS
from dooryard.yard.reading import from_text
from tests.unit.yard.tables import SMALL, TABLES

IN_M, GAL_L, FT2_M2 = 0.0254, 3.785411784, 0.3048**2

inches = st.integers(1, 400).map(lambda n: n / 8)
gallons = st.integers(1, 4000).map(lambda n: n / 4)
words = st.text(alphabet=string.ascii_letters + "äñ' \"\\#=[]", min_size=1, max_size=20).filter(
    lambda text: text.strip() != ""
)
days = st.dates(dt.date(2031, 1, 1), dt.date(2031, 12, 31))


def _tidy(text: str) -> str:
    return " ".join(text.split())


@st.composite
def downspouts(draw: st.DrawFn, name: str) -> tuple[Change, model.Downspout]:
    width, depth = draw(inches), draw(st.none() | inches)
    keys: dict[str, Any] = {"name": name, "width": f"{width} in"}
    if depth is not None:
        keys["depth"] = f"{depth} in"
    made = model.Downspout(name, width * IN_M, None if depth is None else depth * IN_M)
    return Add("downspouts", keys), made


@st.composite
def storages(
    draw: st.DrawFn, name: str, spouts: list[str], others: list[str]
) -> tuple[Change, model.Storage]:
    volume = draw(gallons)
    fed_by = tuple(draw(st.lists(st.sampled_from(spouts), unique=True))) if spouts else ()
    linked = tuple(draw(st.lists(st.sampled_from(others), unique=True))) if others else ()
    base = draw(st.none() | st.tuples(inches, inches))
    use = draw(st.none() | gallons)
    keys: dict[str, Any] = {"name": name, "volume": f"{volume} gal", "fed_by": fed_by, "linked_to": linked}
    if base is not None:
        keys["stand_base"] = f"{base[0]} in x {base[1]} in"
    if use is not None:
        keys["daily_use"] = f"{use} gal"
    made = model.Storage(
        name,
        volume * GAL_L,
        fed_by=fed_by,
        linked_to=linked,
        stand_base_m=None if base is None else (base[0] * IN_M, base[1] * IN_M),
        daily_use_l=0.0 if use is None else use * GAL_L,
    )
    return Add("storages", keys), made


@st.composite
def beds(draw: st.DrawFn, name: str, barrels: list[str]) -> tuple[Change, model.Bed]:
    area = draw(st.integers(1, 2000))
    water = draw(st.sampled_from([*barrels, "tap", "rain"]))
    planted = draw(st.none() | days)
    keys: dict[str, Any] = {
        "name": name,
        "area": f"{area} sq ft",
        "grows": "tomato",
        "soil": "clay",
        "watered_from": water,
    }
    if planted is not None:
        keys["planted"] = planted
    return Add("beds", keys), model.Bed(name, area * FT2_M2, "tomato", "clay", water, planted=planted)


@st.composite
def plants(draw: st.DrawFn, name: str) -> tuple[Change, model.Plant]:
    kind, bloom = draw(words), draw(st.none() | st.booleans())
    keys: dict[str, Any] = {"name": name, "kind": kind}
    if bloom is not None:
        keys["in_bloom"] = bloom
    return Add("plants", keys), model.Plant(name, _tidy(kind), in_bloom=bloom)


@st.composite
def yards(draw: st.DrawFn) -> tuple[list[Change], model.Yard]:
    """Changes that build a yard from nothing but its head, and the yard they must read back as."""
    title, station = draw(words), draw(words)
    head: list[Change] = [Put("", None, "name", title), Put("place", None, "station", station)]
    spouts = [draw(downspouts(f"spout {n}")) for n in range(draw(st.integers(0, 2)))]
    spout_names = [made.name for _, made in spouts]
    tanks: list[tuple[Change, model.Storage]] = []
    for n in range(draw(st.integers(0, 3))):
        tanks.append(draw(storages(f"tank {n}", spout_names, [made.name for _, made in tanks])))
    plots = [draw(beds(f"bed {n}", [made.name for _, made in tanks])) for n in range(draw(st.integers(0, 2)))]
    greens = [draw(plants(f"plant {n}")) for n in range(draw(st.integers(0, 2)))]
    readings: list[tuple[Change, model.Level]] = []
    for _, tank in tanks:
        day = draw(days)
        keys = {"storage": tank.name, "date": day, "volume": f"{tank.volume_l / 2} L"}
        readings.append((Add("levels", keys), model.Level(tank.name, day, tank.volume_l / 2)))
    # Any order in which no name is used before it is there, and never by kind: the file grows as it comes.
    changes = [change for group in (spouts, tanks, plots, greens, readings) for change, _ in group]
    yard = model.Yard(
        _tidy(title),
        "us",
        model.Place(40.0, -85.0, 100.0, _tidy(station)),
        downspouts=tuple(made for _, made in spouts),
        storages=tuple(made for _, made in tanks),
        beds=tuple(made for _, made in plots),
        plants=tuple(made for _, made in greens),
        levels=tuple(made for _, made in readings),
    )
    return head + changes, yard


HEAD = """\
name = "x"
units = "us"
[place]
latitude = 40.0
longitude = -85.0
elevation = "100 m"
station = "x"
"""


@settings(max_examples=60)
@given(made=yards(), together=st.booleans())
def test_yard_made_by_edits_reads_back_equal(
    tmp_path_factory: pytest.TempPathFactory, made: tuple[list[Change], model.Yard], together: bool
) -> None:
    changes, expected = made
    path = tmp_path_factory.mktemp("yard") / "yard.toml"
    path.write_text(HEAD, encoding="utf-8")
    for batch in [changes] if together else [[change] for change in changes]:
        returned = file.edit(path, batch, TABLES)
    read = file.read(path, TABLES)
    assert read == returned
    _assert_same(read, expected)


def _assert_same(read: Any, expected: Any) -> None:
    """Equal but for the last bit of a unit conversion."""
    if isinstance(expected, float):
        assert read == pytest.approx(expected, rel=1e-12)
    elif isinstance(expected, tuple):
        assert len(read) == len(expected)
        for one, other in zip(read, expected, strict=True):
            _assert_same(one, other)
    elif hasattr(expected, "__dataclass_fields__"):
        for name in expected.__dataclass_fields__:
            if name != "notes":
                _assert_same(getattr(read, name), getattr(expected, name))
    else:
        assert read == expected


_SCRAPS = st.sampled_from(
    [
        *SMALL.split("\n"),
        *[table.heading for table in KEYS.values()],
        *[f"{key.name} = {key.example}" for table in KEYS.values() for key in table.keys.values()],
        *[f"{key.name} = " for table in KEYS.values() for key in table.keys.values()],
        "[roofs.x]", "roofs = 3", "levels = [1, [2], {}]", "beds = [{}]", 'place = "x"', "place.x.y = 1",
        "[[place]]", "a = 1e400", "latitude = nan", "area = -inf", "width = 9999999999999999999999",
        "date = 0001-01-01", "date = 12:30:00", "fed_by = []", 'fed_by = [""]', "metals = [[]]",
        'stand_base = "1 in x 2 in x 3 in"', 'name = """\n"""', "'", '"', "[", "]", "{", "}", "=", "#",
        "\x00", "\r", "“", "é", '"\\ud800"', "\u2028",
    ]
)  # fmt: skip


@settings(max_examples=400)
@given(scraps=st.lists(_SCRAPS | st.text(max_size=8), max_size=25), between=st.sampled_from(["\n", " ", ""]))
def test_read_scraps_of_yard_files_gives_a_yard_or_plain_problems(scraps: list[str], between: str) -> None:
    _yard_or_problems(between.join(scraps))


@settings(max_examples=300)
@given(at=st.integers(0, len(SMALL)), cut=st.integers(0, 40), junk=_SCRAPS | st.text(max_size=6))
def test_read_damaged_yard_file_gives_a_yard_or_plain_problems(at: int, cut: int, junk: str) -> None:
    _yard_or_problems(SMALL[:at] + junk + SMALL[at + cut :])


@settings(max_examples=200)
@given(data=st.binary(max_size=60) | st.text(max_size=60).map(lambda text: text.encode("utf-8", "ignore")))
def test_read_any_bytes_gives_plain_problems(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    path: Path = tmp_path_factory.getbasetemp() / "junk.toml"
    path.write_bytes(data)
    with pytest.raises(InputError) as caught:
        file.read(path, TABLES)
    assert all(problem.what and problem.instead for problem in caught.value.problems)


def _yard_or_problems(text: str) -> None:
    try:
        yard = from_text(text, "junk.toml", TABLES)
    except InputError as error:
        for problem in error.problems:
            assert problem.what.endswith(".")
            assert problem.instead
            assert problem.file == "junk.toml"
    else:
        assert isinstance(yard, model.Yard)
