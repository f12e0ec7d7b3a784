"""`dooryard plan YARD`: one yard's dated plan, on the screen and in every form it leaves the house."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly, write_all


class Day(click.ParamType[date]):
    """A day written as YYYY-MM-DD."""

    name = "YYYY-MM-DD"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """Read the day, or say how to write one."""
        try:
            return date.fromisoformat(str(value))
        except ValueError:
            self.fail(f"{value!r} is not a day. Write it as 2031-05-20.", param, ctx)


@click.command("plan", short_help="One yard's dated plan.")
@click.argument("yard", type=click.Path(path_type=Path))
@click.option(
    "--weather", type=click.Path(path_type=Path), help="Station record; else the one the yard file names."
)
@click.option(
    "--forecast", type=click.Path(path_type=Path), help="Forecast file (CSV, or JSON of the US service)."
)
@click.option("--on", type=Day(), help="Day the plan is made; else today.")
@click.option("--out", type=click.Path(path_type=Path), help="Write page, PDF, calendar and JSON there.")
@click.option("--json", "as_json", is_flag=True, help="Print the plan as JSON.")
@click.option("--why", is_flag=True, help="Explain every number: formula, inputs, source.")
@told_plainly
def command(
    yard: Path,
    weather: Path | None,
    forecast: Path | None,
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Make one yard's plan for the next 21 days and the season ahead.

    YARD is a yard file (TOML). The plan is printed; with --out it is also written as a page, a PDF, a
    calendar and data. Exit code 1 means that something was refused or the record has a gap that matters.
    """
    from dooryard.letter import data, screen
    from dooryard.plan.files import plan_from_files

    plan = plan_from_files(yard, weather=weather, forecast=forecast, on=on or date.today())
    document = plan.document()
    if as_json:
        click.echo(data.render(document).encode("utf-8"), nl=False)
    else:
        say(screen.render(document, why=why).rstrip("\n"))
    if out is not None:
        for path in write_all(out, forms(document, yard.stem)):
            click.echo(f"Wrote {path}", err=as_json)
    return NEEDS_A_PERSON if plan.needs_a_person else FINE


def forms(document: dict[str, object], stem: str) -> dict[str, bytes]:
    """Every file form of a plan document, by file name. All are rendered before any is written."""
    from dooryard.letter import calendar, data, page, sheet

    stamp = datetime.fromisoformat(f"{document['on']}T00:00:00+00:00")
    return {
        f"{stem}.html": page.render(document).encode("utf-8"),
        f"{stem}.pdf": sheet.render(document),
        f"{stem}.ics": calendar.render(document, stamp=stamp),
        f"{stem}.json": data.render(document).encode("utf-8"),
        f"{stem}-tasks.csv": data.tasks_csv(document).encode("utf-8"),
    }
