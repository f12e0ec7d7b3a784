"""`dooryard knowledge show`: the rows of a table, each with its source and how sure it is."""

from __future__ import annotations

import json
from pathlib import Path

import click

from dooryard.cli.output import FINE, say, told_plainly


@click.command("show", short_help="The rows of a table, or those that hold a word.")
@click.argument("table", required=False, default="")
@click.argument("word", required=False, default="")
@click.option("--county", type=click.Path(path_type=Path), help="Folder of your own tables, laid over them.")
@click.option("--json", "as_json", is_flag=True, help="Print the rows as JSON.")
@told_plainly
def command(table: str, word: str, county: Path | None, as_json: bool) -> int:
    """Print the rows of TABLE, such as stages; with a WORD, only those that hold it. Without TABLE, list the tables."""
    from dooryard.knowledge import listing
    from dooryard.knowledge.county import own_words, with_county

    if not table:
        click.echo(json.dumps(listing.names()) if as_json else "\n".join(listing.names()))
        return FINE
    rows = listing.rows_of(with_county(county), table, word)
    if as_json:
        click.echo(json.dumps([listing.cells(row) for row in rows.values()], ensure_ascii=False, indent=1))
        return FINE
    for key, row in rows.items():
        say(f"{key}{own_words(row)}")
        for name, value in listing.cells(row).items():
            if name not in ("key", "id", "origin") and value not in ("", None, []):
                say(f"  {name}: {'; '.join(map(str, value)) if isinstance(value, list) else value}")
    say(f"{len(rows)} {'row' if len(rows) == 1 else 'rows'}.")
    return FINE
