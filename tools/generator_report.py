"""The report on the fitted generator, docs/generator.md, with its pictures: records beside what is made from them.

    python -m tools.generator_report            write the page and its pictures anew
    python -m tools.generator_report FILE ...   hold the generator against records of your own, on the screen

The page uses the climates that a registry package of the test set-up ships, so anybody can make it again.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from importlib.util import find_spec
from pathlib import Path

import numpy as np

from dooryard import knowledge, weather
from dooryard.weather import invented
from dooryard.weather.invented import likeness
from dooryard.weather.invented.fitting import by_month, measured, needs
from dooryard.weather.record import Codes, Flag, Floats, Source, Station, WeatherRecord, on_calendar
from tools.generator_pictures import Axis, Panel, months_axis, picture

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "generator.md"
PICTURES = ROOT / "docs" / "pictures"
STATIONS = {
    "brussels": "Brussels, Belgium",
    "suffolk": "Suffolk, England",
    "champion": "Champion, Nebraska",
    "tunis": "Tunis, Tunisia",
    "cordoba": "Córdoba, Argentina",
    "hyderabad": "Hyderabad",
}
FIRST, LAST = date(1000, 1, 1), date(1999, 12, 31)
SEED = 20
LONGEST_D = 60  # dry spells drawn


@dataclass(frozen=True)
class Held:
    """One record, the weather made from it with and without hidden deviations, and the comparison."""

    name: str
    record: WeatherRecord
    made: WeatherRecord
    plain: WeatherRecord
    rows: tuple[likeness.Compared, ...]
    other_years: tuple[likeness.Compared, ...]

    @property
    def years(self) -> int:
        """Years of the record."""
        return len(self.record.dates) // 365


def main(words: list[str]) -> int:
    """Write the report, or compare the files named."""
    if words:
        for name in words:
            record = weather.read(Path(name))
            rows = likeness.compare(record, _made(record))
            print(f"{name}: {likeness.told(rows)}")
            for row in rows:
                worst = int(np.argmax(np.abs(row.difference) / row.allowed))
                print(
                    f"  {'' if row.within else 'beyond: '}{row.measure.words}: {row.measure.value[worst]:.3g},"
                    f" generated {row.made[worst]:.3g} {row.measure.unit}, allowed {row.allowed[worst]:.2g}"
                )
        return 0
    stations = [_station(key, name) for key, name in STATIONS.items()]
    PICTURES.mkdir(parents=True, exist_ok=True)
    for stem, drawn in _pictures(stations).items():
        (PICTURES / f"generator-{stem}.svg").write_text(drawn + "\n", encoding="utf-8", newline="\n")
    PAGE.write_text(_page(stations), encoding="utf-8", newline="\n")
    print("docs/generator.md and its pictures written")
    return 0


def package_record(key: str) -> WeatherRecord:
    """A climate of the package: Day Month Year Tmin Tmax Prcp …, apart by blanks, every day present."""
    package = find_spec("aquacrop")
    if package is None or not package.submodule_search_locations:
        raise SystemExit("The development packages are not installed: run tools/setup.py install.")
    table = Path(package.submodule_search_locations[0]) / "data" / f"{key}_climate.txt"
    rows = [line.split() for line in table.read_text(encoding="utf-8").splitlines()[1:] if line.strip()]
    days = [f"{int(year):04d}-{int(month):02d}-{int(day):02d}" for day, month, year, *_ in rows]
    low, high, rain = np.array([[float(cell) for cell in row[3:6]] for row in rows]).T
    values = {"t_min_c": low, "t_max_c": high, "rain_mm": rain}
    flags: dict[str, Codes] = {name: np.zeros(len(days), dtype=np.uint8) for name in values}
    dates = np.array(days, dtype="datetime64[D]")
    return on_calendar(Station(key), dates, values, flags, (), Source(table.name, "table"))


def _station(key: str, name: str) -> Held:
    record = package_record(key)
    made = _made(record)
    plain = invented.make(invented.fit(record, slow=False), FIRST, LAST, seed=SEED)
    halves = [_some_years(record, odd) for odd in (0, 1)]
    # Both halves are draws of the climate, so chance counts twice over.
    other = likeness.compare(halves[0], _made(halves[1]))
    return Held(name, record, made, plain, likeness.compare(record, made), other)


def _made(record: WeatherRecord) -> WeatherRecord:
    return invented.make(invented.fit(record), FIRST, LAST, seed=SEED)


def _some_years(record: WeatherRecord, odd: int) -> WeatherRecord:
    """The record with every other year blanked."""
    kept = (record.dates.astype("datetime64[Y]").astype(int) + 1970) % 2 == odd
    values = {name: np.where(kept, record.element(name), np.nan) for name in record.elements}
    flags: dict[str, Codes] = {
        name: np.where(kept, codes, Flag.MISSING).astype(np.uint8) for name, codes in record.flags.items()
    }
    return on_calendar(record.station, record.dates, values, flags, (), record.source)


def _pictures(stations: list[Held]) -> dict[str, str]:
    """Every picture by the end of its file name."""
    monthly = {
        "wet-days": ("wet_share", "Share of wet days", "", True),
        "rain": ("rain_mean", "Rain of a month", "mm", True),
        "rain-spread": ("rain_spread", "Spread of a month's rain", "mm", True),
        "warmth": ("t_max_c.mean", "Mean highest temperature", "degC", False),
        "memory": ("t_max_c.lag_1", "Correlation of highest temperatures a day apart", "", False),
    }
    drawn = {}
    for stem, (measure, title, unit, from_zero) in monthly.items():
        panels = [_months(station, measure) for station in stations]
        words = f"{title}, month by month, of six records and of what was generated from them."
        drawn[stem] = picture(title, words, months_axis(unit, from_zero=from_zero), panels)
    ticks = [(float(day), str(day)) for day in (1, 10, 20, 30, 40, 50, 60)]
    spells = Axis(ticks, 1, LONGEST_D, "days", logarithmic=True)
    words = "Share of dry spells that last at least so many days, of six records and of what was generated."
    drawn["dry-spells"] = picture("Dry spells", words, spells, [_spells(station) for station in stations])
    ranks = [(0.0, "driest"), (0.5, "middle"), (1.0, "wettest")]
    years = Axis(ranks, -0.05, 1.05, "mm")
    words = "Rain of a year, from the driest to the wettest, of six records and of what was generated."
    drawn["years"] = picture(
        "Rain of a year",
        words,
        years,
        [_years(station) for station in stations],
        extra="without hidden deviations",
    )
    return drawn


def _months(station: Held, measure: str) -> Panel:
    row = next(row for row in station.rows if row.measure.key == measure)
    x = np.arange(12.0)
    wide = 1.645 * row.chance  # nine in ten, if the stretches' values are about normal
    low = row.made - wide if row.measure.unit == "degC" else np.maximum(row.made - wide, 0.0)
    return Panel(station.name, x, row.measure.value, x, row.made, low, row.made + wide)


def _spells(station: Held) -> Panel:
    at_least = np.arange(1, LONGEST_D + 1)

    def shares(record: WeatherRecord) -> Floats:
        lengths, _ = likeness.spells(_wet(record), 0.0)
        return np.array([np.mean(lengths >= day) for day in at_least])

    pieces = np.array([shares(piece) for piece in _stretches(station)])
    seen = shares(station.record)
    thinned = [day for day in range(LONGEST_D) if (day < 10 or day % 3 == 0) and seen[day] > 0]
    low, high = np.quantile(pieces, (0.05, 0.95), axis=0)
    return Panel(
        station.name,
        at_least[thinned].astype(float),
        seen[thinned],
        at_least.astype(float),
        shares(station.made),
        low,
        high,
    )


def _years(station: Held) -> Panel:
    rank = np.linspace(0, 1, 41)

    def totals(record: WeatherRecord) -> Floats:
        sums = by_month(record.dates, np.where(_wet(record) == 0, 0.0, measured(record, "rain_mm"))).sum(
            axis=1
        )
        return np.sort(sums[~np.isnan(sums)])

    seen, plain = totals(station.record), totals(station.plain)
    # The middle of the stretches at each rank: the ends of a thousand years are wider than those of thirty.
    pieces = np.array([np.quantile(totals(piece), rank) for piece in _stretches(station)])
    low, middle, high = np.quantile(pieces, (0.05, 0.5, 0.95), axis=0)
    whole = len(plain) // station.years * station.years
    shuffled = np.random.RandomState(SEED).permutation(plain)[:whole].reshape(-1, station.years)
    flat = np.median(np.quantile(shuffled, rank, axis=1), axis=1)
    return Panel(station.name, np.linspace(0, 1, len(seen)), seen, rank, middle, low, high, flat)


def _stretches(station: Held) -> list[WeatherRecord]:
    """The made weather in pieces as long as the record."""
    years = station.years
    count = (LAST.year - FIRST.year + 1) // years
    return [likeness.some_years(station.made, FIRST.year + at * years, years) for at in range(count)]


def _wet(record: WeatherRecord) -> Floats:
    rain_mm = measured(record, "rain_mm")
    return np.where(np.isnan(rain_mm), np.nan, rain_mm >= needs().wet_day_mm)


def _page(stations: list[Held]) -> str:
    facts = knowledge.load().facts
    limit: Callable[[str], str] = lambda key: f"{facts[f'generator.{key}'].value:g}"  # noqa: E731
    passed = [sum(row.within for row in station.rows) for station in stations]
    count = len(stations[0].rows)
    head = f"""# The weather generator, held against records

Made by `python -m tools.generator_report`; run it again after any change to the generator.

A record of thirty years is one throw of the dice. To try a barrel or a planting date on years that never were but
could have been, `dooryard.weather.invented` fits a generator to any record (`fit`) and makes days from it (`make`).
Made weather says that it is invented and is never evidence of what happened. (The invented county of the
demonstration is older and made by the simpler generator in `weather/generator.py`; its numbers stay as they are.)
`dooryard weather invent FILE` does the same for a record of your own, and writes the days to a new file if asked.

## How it works

- **Wet or dry**: a chance that follows the year as sines and knows how long it has been wet or dry already, in
  classes of 1, 2, 3-4, 5-7, 8-12, 13 days and more. A day with {limit("wet_day_mm")} mm or more is wet. The data
  decide how many sines and classes there are.
- **Rain of a wet day**: a mean that follows the year and is other after a wet day, times a mixture of two exponentials.
- **Temperatures, sunshine, dew point**: means and spreads that follow the year and the rain of the five days about a
  day, and residuals that hang together from day to day and with each other, month by month.
- **Months and years**: each has a hidden deviation of its own, as large as daily chance leaves unexplained. Without
  it years are too much alike, the known weakness of daily generators.

The published formulas, with their sources and limits, are in `knowledge/methods/weather_generator.toml`.

Where formulas smooth too much away, `invented/blocks.py` joins pieces of the record's own days, each near its own date
(the stationary bootstrap): no day is new, and storms and cold snaps stay whole.

## What counts as alike

A thousand years are made from each record and cut into stretches as long as the record. A difference passes if it is
within the tolerance below, or within three times what such stretches differ among themselves, if that is more: a
record of eleven years does not know its climate better. One month in twelve may be beyond that, up to twice as far.

| Measure | Tolerance |
|---|---|
| share of wet days of a month | {limit("like_wet_share")} |
| rain of a month | {limit("like_rain_pct")} % or {limit("like_rain_mm")} mm |
| spread of a month's and a year's rain, wettest day | {limit("like_spread_pct")} % or {limit("like_rain_mm")} mm |
| lengths of spells, days in long dry spells | {limit("like_spell_pct")} % or {limit("like_spell_d")} days |
| mean temperature of a month | {limit("like_mean_c")} °C |
| spreads of temperatures | {limit("like_spread_pct")} % or {limit("like_spread_c")} °C |
| correlations | {limit("like_correlation")} |

## Six records

"""
    table = _table(stations)
    told = "".join(
        f"- {station.name}, {station.years} years: {likeness.told(station.rows)}\n" for station in stations
    )
    others = "".join(
        f"- {station.name}: {likeness.told(station.other_years)}\n"
        for station in stations
        if station.years >= 20
    )
    spreads = _mended(stations)
    return f"""{head}{told}
Each cell: the record, then what was generated; a monthly measure as the mean of its twelve months. In brackets how many
of its months (or the one value of the year, as 1) are beyond the tolerance by itself, chance not counted; "no" marks a
measure that does not pass. The record's own spread of a month's rain is uncertain by a sixth and more.

{table}
![Share of wet days](pictures/generator-wet-days.svg)

![Rain of a month](pictures/generator-rain.svg)

![Spread of a month's rain](pictures/generator-rain-spread.svg)

![Dry spells that last at least so many days](pictures/generator-dry-spells.svg)

![Mean highest temperature](pictures/generator-warmth.svg)

![Correlation of the highest temperature with that of the day before](pictures/generator-memory.svg)

## Years that differ

Spread (standard deviation) of the rain of a year and of its mean highest temperature:

{spreads}
Where months differ more than daily chance makes them but years do not (Brussels, Córdoba), the months win and the
years come out too different: thirty years tell the spread of a year to an eighth, that of a month three times as well.

![Rain of a year, from the driest to the wettest](pictures/generator-years.svg)

## Years it has not seen

A harder trial: fitted to the odd years alone, held against the even ones. Half a record on each side, so chance counts
twice and some measures must fail even for a perfect generator.

{others}
## What it does not do

- No trend. A record that warms gives years that vary as much as its own, in no order.
- Rain and warmth of a month deviate independently, but for what wet days do to temperature.
- Residuals are normal, so the coldest nights of a cold climate are not cold enough, and the mildest too mild.
- Rains rarer than the record is long are an extrapolation: no overflow is sized by them.
- One station, or several that share their chance through `region_seed`; not a map.
- Wind and humidity are not made. Sunshine and dew point are, where a record has them; these were tried on made-up
  records only, because no record of many years with sunshine was at hand.
- {_shortfall(passed, count)}

Records of other layouts were held against it by hand, with the tool above. They are longer, so less is allowed:
Seattle (70 years), Washington (77) and Gainesville, Florida (50) passed in all 21 measures, Kyoto (80, with many gaps)
in 20: summer nights there resemble the next ones more (correlation 0.71) than the generated ones do (0.65).
"""


def _table(stations: list[Held]) -> str:
    names = " | ".join(station.name.split(",")[0] for station in stations)
    lines = [f"| Measure | {names} |", "|---|" + "---|" * len(stations)]
    for at, first in enumerate(stations[0].rows):
        unit = {"1": "", "degC": " (°C)", "mm": " (mm)", "d": " (days)"}[first.measure.unit]
        cells = []
        for station in stations:
            row = station.rows[at]
            beyond = int(np.sum(np.abs(row.difference) > row.tolerance))
            cell = f"{_three(float(row.measure.value.mean()))}, {_three(float(row.made.mean()))}"
            cells.append(cell + (f" ({beyond})" if beyond else "") + ("" if row.within else " no"))
        lines.append(f"| {first.measure.words}{unit} | {' | '.join(cells)} |")
    return "\n".join(lines) + "\n"


def _mended(stations: list[Held]) -> str:
    lines = [
        "| Station | Rain: record | generated | without | Temperature: record | generated | without |",
        "|---|---|---|---|---|---|---|",
    ]
    for station in stations:
        cells = []
        plain = {measure.key: measure.value for measure in likeness.measures(station.plain)}
        for key, unit in (("year_spread", "mm"), ("t_max_c.year_spread", "°C")):
            row = next(row for row in station.rows if row.measure.key == key)
            values = (float(row.measure.value[0]), float(row.made[0]), float(plain[key][0]))
            cells += [f"{_three(value)} {unit}" for value in values]
        lines.append(f"| {station.name} | {' | '.join(cells)} |")
    return "\n".join(lines) + "\n"


def _shortfall(passed: list[int], count: int) -> str:
    if all(number == count for number in passed):
        return "A measure that passes is not proved: with a longer record some of these would be told apart."
    missed = sum(count - number for number in passed)
    return f"{missed} of {count * len(passed)} measures do not pass, as the table says."


def _three(value: float) -> str:
    size = abs(value)
    return f"{value:.0f}" if size >= 100 else f"{value:.1f}" if size >= 10 else f"{value:.2f}"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
