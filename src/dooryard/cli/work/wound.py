"""`dooryard work wound`: torn bark on a trunk."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Measure,
    answer_options,
    tell,
    today,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from dooryard.care.wound import Wound
    from dooryard.season.verdicts import OrganismVerdict


@click.command("wound", short_help="Torn bark: how much is lost, what to do.")
@click.option(
    "--girth", type=Measure("length"), required=True, help='Around the trunk at the wounds, "22 in".'
)
@click.option(
    "--width",
    "widths",
    multiple=True,
    required=True,
    help='A bare place along the girth, "4.5 in", or "4.5 in at 3 in" from a mark. Repeat for each.',
)
@click.option("--fresh/--old", default=None, help="Torn within hours and still moist, or older.")
@click.option("--tree", default="", help="What tree it is, for the borers that come to it.")
@click.option("--weather", type=click.Path(path_type=Path), help="Station record, for the dates of borers.")
@answer_options
@told_plainly
def command(
    girth: float,
    widths: tuple[str, ...],
    fresh: bool | None,
    tree: str,
    weather: Path | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say how much of the bark around a trunk is lost, what that means, and what to do.

    Only width along the girth counts, not height. Where places overlap, tell where each begins, going round one
    way from a mark: "4 in at 0 in".
    """
    from dooryard import knowledge
    from dooryard.plan.work import wound

    tables, day = knowledge.load(), today(on)
    kind, borers, station = _borers(tree, weather, day)
    plan = wound.wounds(
        tables,
        day,
        girth_m=girth,
        found=_wounds(widths, girth),
        fresh=fresh,
        tree=kind,
        borers=borers,
        station=station,
        system=system,
    )
    return tell(plan, "wound", out=out, as_json=as_json, why=why)


def _borers(tree: str, weather: Path | None, on: date) -> tuple[str, Sequence[OrganismVerdict], str]:
    """The tree's kind, the verdicts on its borers and the station's name; nothing of what was not given."""
    from dataclasses import replace

    from dooryard import knowledge
    from dooryard import weather as records
    from dooryard.plan.work.wound_watch import borers_of
    from dooryard.problem import InputError, Problem
    from dooryard.season import names, verdicts
    from dooryard.weather.outlook import ahead

    record = None if weather is None else records.read(weather)
    if not tree:
        return "", (), ""
    tables = knowledge.load()
    try:
        kind = names.find(tree, tables).plant
    except InputError as error:
        raise InputError([replace(one, field="--tree") for one in error.problems]) from None
    if kind is None:
        raise InputError(
            Problem(f"{tree} is a pest.", "Name the tree, such as dogwood.", field="--tree", found=tree)
        )
    keys = borers_of(tables, kind)
    if record is None or not keys:
        return kind, (), ""
    found = verdicts.judge_all(keys, tables, record.until(on), ahead(record, on), on)
    return kind, found, record.station.name


def _wounds(texts: tuple[str, ...], girth_m: float) -> list[Wound]:
    """The bare places, or every fault in them."""
    from dooryard import units
    from dooryard.care.wound import Wound
    from dooryard.problem import InputError, Problem

    found: list[Wound] = []
    problems: list[Problem] = []
    for text in texts:
        width_text, at, start_text = (part.strip() for part in re.sub(r"\s+at\s+", "@", text).partition("@"))
        try:
            width = units.parse(width_text, "length")
            start = units.parse(start_text if start_text != "0" else "0 in", "length") if at else None
        except InputError as error:
            problems += [
                Problem(one.what, one.instead, field="--width", found=one.found or text)
                for one in error.problems
            ]
            continue
        if not 0 < width <= girth_m * 1.0001:
            what = "A bare place is above zero and not wider than the girth."
            problems.append(
                Problem(what, "Measure along the girth with a tape.", field="--width", found=text)
            )
        elif start is not None and not 0 <= start < girth_m:
            what = "A bare place begins somewhere on the girth."
            problems.append(
                Problem(what, "Measure from your mark, going round one way.", field="--width", found=text)
            )
        else:
            found.append(Wound(width, start))
    if problems:
        raise InputError(problems)
    return found
