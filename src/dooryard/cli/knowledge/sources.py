"""`dooryard knowledge sources`: the publications behind the tables, and how many rows rest on each."""

from __future__ import annotations

import json
from pathlib import Path

import click

from dooryard.cli.output import FINE, say, told_plainly


@click.command("sources", short_help="The publications behind the tables.")
@click.argument("word", required=False, default="")
@click.option("--county", type=click.Path(path_type=Path), help="Folder of your own tables, laid over them.")
@click.option("--json", "as_json", is_flag=True, help="Print the sources as JSON.")
@told_plainly
def command(word: str, county: Path | None, as_json: bool) -> int:
    """List the publications, with a WORD those that hold it, and the number of rows that rest on each."""
    from dooryard.knowledge import listing
    from dooryard.knowledge.county import own_words, with_county

    tables = with_county(county)
    counted = listing.uses(tables)
    rows = listing.rows_of(tables, "sources", word)
    if as_json:
        told = [{**listing.cells(row), "rows": counted[key]} for key, row in rows.items()]
        click.echo(json.dumps(told, ensure_ascii=False, indent=1))
        return FINE
    for key, row in rows.items():
        named = ", ".join(part for part in (row.author, row.title, row.edition, row.year) if part)
        say(f"{key}: {named}{own_words(row)}. Rows: {counted[key]}.")
    return FINE
