"""`dooryard season score RECORD`: every past year forecast again, and how often the dates were right."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dooryard.cli.output import FINE, say, told_plainly, write_all
from dooryard.cli.progress import counted
from dooryard.problem import InputError, Problem

if TYPE_CHECKING:
    from dooryard.season.hindcast import Forecasts
    from dooryard.season.score_report import Report
    from dooryard.season.timing import HeatSum
    from dooryard.unit_table import System

METHODS = ("average", "modified average", "single sine", "single triangle", "double sine", "double triangle")


@click.command("score", short_help="How often such dates were right, over every past year of a record.")
@click.argument("records", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--base", default="50 F", show_default=True, help="Lower threshold of the heat sum.")
@click.option(
    "--method",
    type=click.Choice(METHODS),
    metavar="METHOD",
    default="average",
    show_default=True,
    help="Method of the sum: average, modified average, single sine, single triangle, double sine, double triangle.",
)
@click.option("--from-year", type=int, help="First year to forecast; else as early as the record allows.")
@click.option("--to-year", type=int, help="Last year to forecast; else the last of the record.")
@click.option(
    "--units",
    "system",
    type=click.Choice(["us", "metric"]),
    default="us",
    show_default=True,
    help="Units to print.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the scores as JSON.")
@click.option("--out", type=click.Path(path_type=Path), help="Write the picture and the JSON there.")
@told_plainly
def command(
    records: tuple[Path, ...],
    base: str,
    method: str,
    from_year: int | None,
    to_year: int | None,
    system: System,
    as_json: bool,
    out: Path | None,
) -> int:
    """Forecast every past year of a station again, and say how often the dates were right.

    RECORDS are daily records with more than twenty whole years; several are scored together. Every ten days from 1
    February the date of each heat sum from 100 to 2000 F.d is forecast from the days before and the 30 years before,
    and compared with the day that came. Three plain rules are held beside it.
    """
    from dooryard import units
    from dooryard.letter.drawing import svg
    from dooryard.season import score_report
    from dooryard.season.timing import HeatSum

    kind = HeatSum(method, units.parse(base, "temperature"), None, "none", (1, 1))
    parts = [_look_back(path, kind, from_year, to_year) for path in records]
    told = _report(parts, kind, system)
    text = json.dumps(told, indent=2, ensure_ascii=False) + "\n"
    if as_json:
        click.echo(text.encode("utf-8"), nl=False)
    else:
        say(score_report.render(told))
    if out is not None:
        files = {
            "season-score.json": text.encode("utf-8"),
            "season-score.svg": svg(score_report.chart(told)).encode("utf-8"),
        }
        for path in write_all(out, files):
            click.echo(f"Wrote {path}", err=as_json)
    return FINE


def _look_back(
    path: Path, kind: HeatSum, from_year: int | None, to_year: int | None
) -> tuple[dict[str, Any], Forecasts]:
    """One record's forecasts, and what the report says of the station."""
    from dooryard import knowledge, weather
    from dooryard.season.hindcast import THRESHOLDS_F, Hindcast

    record = weather.read(path)
    back = Hindcast(record, kind, [threshold / 1.8 for threshold in THRESHOLDS_F], knowledge.load())
    years = [
        year
        for year in back.years()
        if (from_year is None or year >= from_year) and (to_year is None or year <= to_year)
    ]
    if not years and len(back.years()):
        allowed = back.years()
        raise InputError(
            Problem(
                "None of these years can be forecast again.",
                f"This record allows {allowed[0]} to {allowed[-1]}.",
                file=str(path),
                field="--from-year, --to-year",
            )
        )
    found = back.run(counted(years, f"{record.station.name}: forecasting year", len(years)))
    about = {
        "name": record.station.name,
        "first": record.first.isoformat(),
        "last": record.last.isoformat(),
        "forecast": [int(found.year.min()), int(found.year.max())],
        "forecasts": found.count,
        "invented": record.invented,
    }
    return about, found


def _report(parts: Sequence[tuple[dict[str, Any], Forecasts]], kind: HeatSum, system: System) -> Report:
    from dooryard import knowledge, units
    from dooryard.season import score_report
    from dooryard.season.hindcast import THRESHOLDS_F, Limits, together

    return score_report.report(
        together([found for _, found in parts]),
        stations=[about for about, _ in parts],
        heat=f"{kind.method}, above {units.show(kind.lower_c, 'temperature', system)}, from 1 January",
        thresholds=[units.show(threshold / 1.8, "degree_days", system) for threshold in THRESHOLDS_F],
        every_d=Limits.of(knowledge.load()).every_d,
    )
