"""`dooryard build YARD`: the build sheet of a yard's barrels, with a drawing to scale and a hole template."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.shared import (
    county_option,
    hand_over,
    json_option,
    on_option,
    out_option,
    why_option,
    yard_argument,
)


@click.command("build", short_help="How to build a yard's barrels.")
@yard_argument
@click.option("--storage", default="", help="Name of one barrel; else all of them.")
@county_option
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    yard: Path, storage: str, county: Path | None, on: date | None, out: Path | None, as_json: bool, why: bool
) -> int:
    """Tell how to build the barrels of a yard: drawing, hole template, parts, tools, steps.

    YARD is a yard file (TOML). Every height comes from it; a barrel with a measure missing is not drawn, and
    the key to add is named (exit code 1). With --out the PDF holds the drawing to scale and the holes in true
    size: print it at full size and check its ruler.
    """
    from dooryard.knowledge.county import beside, with_county
    from dooryard.plan.build_report import build
    from dooryard.yard import file

    tables = with_county(beside(yard, county))
    plan = build(file.read(yard, tables), tables, on or date.today(), storage=storage)
    return hand_over(plan, f"{yard.stem}-build", out=out, as_json=as_json, why=why)
