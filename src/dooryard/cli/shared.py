"""What the commands that make a document share: their options, and how the document is told and written."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, write_all

if TYPE_CHECKING:
    from dooryard.plan.document import Plan


class Day(click.ParamType[date]):
    """A day written as YYYY-MM-DD."""

    name = "YYYY-MM-DD"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """Read the day, or say how to write one."""
        try:
            return date.fromisoformat(str(value))
        except ValueError:
            self.fail(f"{value!r} is not a day. Write it as 2031-05-20.", param, ctx)


yard_argument = click.argument("yard", type=click.Path(path_type=Path))
weather_option = click.option(
    "--weather", type=click.Path(path_type=Path), help="Station record; else the one the yard file names."
)
county_option = click.option(
    "--county",
    type=click.Path(path_type=Path),
    help="Folder of your own tables; else the folder county beside the yard file.",
)
on_option = click.option("--on", type=Day(), help="Day it is made for; else today.")
out_option = click.option(
    "--out", type=click.Path(path_type=Path), help="Write page, PDF, calendar and JSON there."
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print the document as JSON.")
why_option = click.option("--why", is_flag=True, help="Explain every number: formula, inputs, source.")


def hand_over(plan: Plan, stem: str, *, out: Path | None, as_json: bool, why: bool) -> int:
    """Print a document and write its forms if a folder is given; gives the exit code.

    stem : of the file names.
    """
    from dooryard.letter import data, screen

    document = plan.document()
    if as_json:
        click.echo(data.render(document).encode("utf-8"), nl=False)
    else:
        say(screen.render(document, why=why).rstrip("\n"))
    if out is not None:
        for path in write_all(out, forms(document, stem)):
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
