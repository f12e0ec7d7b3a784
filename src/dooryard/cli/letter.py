"""`dooryard letter`: the answer to a household, and what stands against sending it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly, write_all
from dooryard.cli.shared import forms, json_option, on_option, out_option, why_option

if TYPE_CHECKING:
    from dooryard.letter.answer import Letter


@click.command("letter", short_help="The answer to a household's question, and a review of it.")
@click.argument("case", type=click.Path(path_type=Path))
@click.option(
    "--card", type=click.Path(path_type=Path), help="Label card in hand; else the one the case names."
)
@click.option(
    "--weather", type=click.Path(path_type=Path), help="Station record; else the one the case names."
)
@click.option("--county", type=click.Path(path_type=Path), help="Folder of own tables and office.toml.")
@click.option("--parts", is_flag=True, help="Print each part's computed words, ready for an edit.")
@click.option("--mail", is_flag=True, help="Print the plain text for e-mail.")
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    case: Path,
    card: Path | None,
    weather: Path | None,
    county: Path | None,
    parts: bool,
    mail: bool,
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Write the answer to CASE in ten parts, and hold it against the review gate.

    Exit code 1 means that it may not be sent yet: a reason stands open, or what an edit replaced has changed since. A
    letter that may not be sent is written under the name draft, and without its text for e-mail.
    """
    from dooryard.letter import answer, data, screen

    letter = answer.from_files(case, on or date.today(), card=card, weather=weather, county=county)
    if parts:
        _parts(letter)
    elif mail:
        say(letter.text.rstrip("\n"))
    elif as_json:
        click.echo(data.render(letter.document).encode("utf-8"), nl=False)
    else:
        say(screen.render(letter.document, why=why).rstrip("\n"))
    if not as_json:
        _tell(letter, err=mail or parts)
    if out is not None:
        stem = "letter" if letter.may_go else "draft"
        files = forms(letter.document, stem)
        if letter.may_go:
            files["letter.txt"] = letter.text.encode("utf-8")
        for path in write_all(out, files):
            click.echo(f"Wrote {path}", err=as_json)
    return FINE if letter.may_go else NEEDS_A_PERSON


def _parts(letter: Letter) -> None:
    """Every part with its computed words, as a case file takes them."""
    for part, words in letter.answer.computed.items():
        quoted = words.replace("\\", "\\\\").replace('"', '\\"')
        say(f'# [[edits]]\n# part = "{part}"\nwas = "{quoted}"\n')


def _tell(letter: Letter, *, err: bool) -> None:
    """What stands against sending it. err : on standard error, so that the text can be piped."""
    from dooryard.letter.gate import RULES

    lines = []
    for one in letter.release.open:
        lines += [f'- {RULES[one.rule]}, "{" ".join(one.words.split())}": {one.why}', f"    {one.instead}"]
        lines.append(f'    To set it aside: finding = "{one.key}"')
    for moved in letter.answer.moved:
        if moved.unknown:
            lines.append(f"- Your edit of {moved.part} does not say which computed words it replaced.")
        else:
            lines.append(f"- The computed words of {moved.part} are no longer those your edit replaced.")
        lines += [f"    new: {text}" for text in moved.new] + [f"    gone: {text}" for text in moved.gone]
        lines.append("    Read the edit again, and put what --parts prints behind was.")
    for one, record in letter.release.overridden:
        lines.append(f"- Set aside by {record.by}: {one.key} ({record.reason})")
    head = "Review: it may be sent." if letter.may_go else "Review: it may not be sent yet."
    click.echo("\n".join(["", head, *lines]), err=err)
