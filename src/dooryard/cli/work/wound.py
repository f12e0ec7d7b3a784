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
    json_option,
    on_option,
    out_option,
    tell,
    today,
    units_option,
    why_option,
)

if TYPE_CHECKING:
    from dooryard.care.wound import Wound


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
@units_option
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    girth: float,
    widths: tuple[str, ...],
    fresh: bool | None,
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

    plan = wound.wounds(
        knowledge.load(), today(on), girth_m=girth, found=_wounds(widths, girth), fresh=fresh, system=system
    )
    return tell(plan, "wound", out=out, as_json=as_json, why=why)


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
