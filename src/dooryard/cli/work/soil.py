"""`dooryard work soil`: what a soil report's advice comes to on one area."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Area,
    Day,
    Share,
    answer_options,
    tell,
    today,
)

if TYPE_CHECKING:
    from dooryard.care.rate import Rate


class Grade(click.ParamType[tuple[float, float, float]]):
    """A fertilizer's three numbers, such as 10-6-4, as shares."""

    name = "N-P-K"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[float, float, float]:
        """Read the three numbers, or say how to write them."""
        if isinstance(value, tuple):
            return value
        found = re.fullmatch(r"\s*(\d{1,2}(?:\.\d+)?)-(\d{1,2}(?:\.\d+)?)-(\d{1,2}(?:\.\d+)?)\s*", str(value))
        shares = tuple(float(part) / 100 for part in found.groups()) if found else ()
        if len(shares) != 3 or sum(shares) > 1:
            self.fail(f'"{value}" is not a grade. Write its three numbers, such as 10-6-4.', param, ctx)
        return shares[0], shares[1], shares[2]


@click.command("soil", short_help="What a soil report's lime and fertilizer come to.")
@click.option("--area", type=Area(), required=True, help='Ground to treat, "400 sq ft".')
@click.option("--report", type=Day(), help="Day of the soil report. Without one nothing is reckoned.")
@click.option("--lime", help='The report\'s lime, "60 lb per 1,000 sq ft".')
@click.option("--cce", type=Share(150.0), help='Calcium carbonate equivalent of the lime in hand, "90 %".')
@click.option("--feed", help='The report\'s nutrient, "1 lb per 1,000 sq ft".')
@click.option(
    "--nutrient", type=click.Choice(["nitrogen", "phosphate", "potash"]), help="Which nutrient that is."
)
@click.option("--grade", type=Grade(), help="The bag's three numbers, 10-6-4.")
@answer_options
@told_plainly
def command(
    area: float,
    report: date | None,
    lime: str | None,
    cce: float | None,
    feed: str | None,
    nutrient: str | None,
    grade: tuple[float, float, float] | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say how much lime or fertilizer in hand does what a soil report advises. Without a report: nothing."""
    from dooryard import knowledge
    from dooryard.plan.work import soil

    plan = soil.soil(
        knowledge.load(),
        today(on),
        area_m2=area,
        report=report,
        lime=_rate(lime),
        strength=cce,
        nutrient=nutrient or "",
        feed=_rate(feed),
        grade=grade,
        system=system,
    )
    return tell(plan, "soil", out=out, as_json=as_json, why=why)


def _rate(text: str | None) -> Rate | None:
    from dooryard.care import rate

    return None if text is None else rate.parse(text)
