"""`dooryard weather check FILE…`: everything that is wrong or doubtful in records, and nothing else."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from dooryard.cli.output import BAD_INPUT, FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.progress import counted
from dooryard.problem import InputError


@click.command("check", short_help="What is wrong with records.")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--layout", help="The layout of all files, if it is not found by looking into them.")
@click.option("--station", help="Which station of each file, if they hold several.")
@click.option("--day-ends", help="When the observer reads, such as 07:00, if the files do not say so.")
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@told_plainly
def command(
    files: tuple[Path, ...], layout: str | None, station: str | None, day_ends: str | None, as_json: bool
) -> int:
    """List everything that is wrong or doubtful in station records.

    FILES are daily records. A file that cannot be read does not keep the others from being checked. Exit
    code 1 means that there are findings, 2 that a file cannot be read.
    """
    from dooryard import weather
    from dooryard.weather import check_text

    told: list[dict[str, Any]] = []
    code = FINE
    for path in counted(files, "Checking", len(files)):
        try:
            record = weather.read(path, layout, day_ends=day_ends, station=station)
        except InputError as error:
            code = BAD_INPUT
            problems = [str(problem) for problem in error.problems]
            told.append({"file": path.name, "unreadable": problems})
            if not as_json:
                say(f"{path.name}: this file cannot be read.")
                for problem in problems:
                    say(f"  {problem}")
            continue
        if record.issues:
            code = max(code, NEEDS_A_PERSON)
        told.append(check_text.as_json(record))
        if not as_json:
            say(check_text.render(record))
    if as_json:
        import json

        click.echo(json.dumps(told, indent=2, ensure_ascii=False).encode("utf-8"))
    return code
