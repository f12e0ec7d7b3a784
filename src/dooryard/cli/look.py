"""`dooryard look`: what may be behind a complaint, and what to look at next."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from dooryard.cli.output import FINE, say, told_plainly
from dooryard.cli.shared import hand_over, json_option, on_option, out_option, why_option

if TYPE_CHECKING:
    from dooryard.care.suspects import Suspects
    from dooryard.knowledge import Knowledge

ENOUGH_BITS = 0.03


@click.command("look", short_help="What may be wrong with a plant, and what to look at next.")
@click.option("--plant", required=True, help="The plant, by its common name.")
@click.option("--yes", "seen", multiple=True, metavar="SIGN", help="A sign that was seen. Repeat for each.")
@click.option(
    "--no", "unseen", multiple=True, metavar="SIGN", help="A sign that was looked for and not seen."
)
@click.option(
    "--evidence",
    type=click.Choice(["told", "photo", "sample"]),
    default="told",
    show_default=True,
    help="What you have looked at yourself.",
)
@click.option("--lab", metavar="CAUSE", help="The cause a laboratory named.")
@click.option("--ask", is_flag=True, help="Ask the most telling questions one by one.")
@click.option("--signs", is_flag=True, help="List the signs that can be told of this plant.")
@click.option("--weather", type=click.Path(path_type=Path), help="Station record: what can be there by now.")
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    plant: str,
    seen: tuple[str, ...],
    unseen: tuple[str, ...],
    evidence: Literal["told", "photo", "sample"],
    lab: str | None,
    ask: bool,
    signs: bool,
    weather: Path | None,
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Rank what may be behind a complaint, say how sure one may be, and which look would tell most.

    It is never surer than the evidence: what is only told is possible at most, a photo probable at most, and only a
    laboratory confirms. Exit code 1 means that it cannot tell.
    """
    from dooryard import knowledge
    from dooryard.care.suspects import Suspects
    from dooryard.plan import diagnosis_report as report

    tables, day = knowledge.load(), on or date.today()
    verdicts, station = _verdicts(tables, weather, day)
    suspects = Suspects(tables, plant, month=day.month, verdicts=verdicts, evidence=evidence)
    if signs:
        return _signs(tables, suspects)
    yes, no = list(report.sign_keys(tables, seen)), list(report.sign_keys(tables, unseen))
    suspects.answers(yes, no)
    if ask:
        _ask(tables, suspects, yes, no)
    complaint = report.Complaint(plant, tuple(yes), tuple(no), "lab" if lab else evidence, lab or "")
    plan = report.diagnose(tables, day, complaint, verdicts=verdicts, weather=station)
    return hand_over(plan, "look", out=out, as_json=as_json, why=why)


def _verdicts(tables: Knowledge, weather: Path | None, on: date) -> tuple[dict[str, str], str]:
    """The verdict word of each organism at the station, and its name; nothing without a record."""
    if weather is None:
        return {}, ""
    from dooryard import weather as records
    from dooryard.season.verdicts import judge_all
    from dooryard.weather.outlook import ahead

    record = records.read(weather)
    keys = sorted({cause.organism for cause in tables.causes.values() if cause.organism})
    found = judge_all(keys, tables, record.until(on), ahead(record, on), on)
    return {key: one.word for key, one in zip(keys, found, strict=True)}, record.station.name


def _signs(tables: Knowledge, suspects: Suspects) -> int:
    say(f"Signs that can be told of {suspects.plant}:")
    for key in sorted(suspects.signs, key=lambda key: (tables.signs[key].part, key)):
        say(f"  {key:<20} {tables.signs[key].question}")
    return FINE


def _ask(tables: Knowledge, suspects: Suspects, yes: list[str], no: list[str]) -> None:
    """Questions one by one: y, n, d for don't know, b for back, s to stop."""
    skipped: list[str] = []
    asked: list[tuple[str, list[str]]] = []
    say("Answer y for yes, n for no, d for don't know, b to go back, s to stop.")
    while True:
        looks = [one for one in suspects.looks(yes, no) if one.sign not in skipped]
        if not looks or looks[0].gain_bits < ENOUGH_BITS:
            return
        sign = looks[0].sign
        say("")
        say(f"{tables.signs[sign].question}\n  {tables.signs[sign].look}")
        try:
            reply = click.prompt("y/n/d/b/s", default="d", show_default=False, err=True).strip().lower()[:1]
        except (click.Abort, EOFError):
            return
        if reply == "s":
            return
        if reply == "b":
            if asked:
                last, answers = asked.pop()
                answers.remove(last)
            continue
        if reply in ("y", "n", "d"):
            answers = {"y": yes, "n": no, "d": skipped}[reply]
            answers.append(sign)
            asked.append((sign, answers))
        else:
            say("Answer with one letter: y, n, d, b or s.")
