"""What the sums share: measures as options, one or the other of two, and how the answer is told."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from dooryard.cli.shared import Day, hand_over, json_option, out_option, why_option

if TYPE_CHECKING:
    from dooryard.plan.document import Plan
    from dooryard.unit_table import Dimension

__all__ = [
    "Day",
    "Measure",
    "Share",
    "Size",
    "answer_options",
    "hand_over",
]

Command = TypeVar("Command", bound=Callable[..., Any])

on_option = click.option("--on", type=Day(), help="Day it is asked on; else today.")
units_option = click.option(
    "--units",
    "system",
    type=click.Choice(["us", "metric"]),
    default="us",
    show_default=True,
    help="Units of the answer.",
)


def answer_options(command: Command) -> Command:
    """The options that every sum has: units, day, where to write, JSON, why."""
    for option in (why_option, json_option, out_option, on_option, units_option):
        command = option(command)
    return command


class Measure(click.ParamType[float]):
    """A quantity with its unit, such as "6 ft 2 in", in the canonical unit of its dimension. It is above zero."""

    def __init__(self, dimension: Dimension, *, any_sign: bool = False) -> None:
        self.dimension = dimension
        self.any_sign = any_sign
        self.name = {"length": "LENGTH", "area": "AREA", "volume": "VOLUME", "depth": "DEPTH"}.get(
            dimension, "AMOUNT"
        )

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Read the quantity, or say how to write it."""
        from dooryard import units
        from dooryard.problem import InputError

        if isinstance(value, float):
            return value
        try:
            read = units.parse(str(value), self.dimension)
        except InputError as error:
            self.fail(" ".join(str(error.problems[0]).split()), param, ctx)
        if not self.any_sign and read <= 0:
            self.fail(f'"{value}" is not above zero.', param, ctx)
        return read


class Area(click.ParamType[float]):
    """An area, given at once or as simple shapes, in m2."""

    name = "AREA"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Read the area, or say how to write it."""
        from dooryard.care.shapes import parse_area
        from dooryard.problem import InputError

        if isinstance(value, float):
            return value
        try:
            read = parse_area(str(value))
        except InputError as error:
            self.fail(" ".join(str(error.problems[0]).split()), param, ctx)
        return read


class Size(click.ParamType[tuple[float, float]]):
    """Two lengths, such as "6 ft x 5 ft", in m."""

    name = "SIZE"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[float, float]:
        """Read both lengths, or say how to write them."""
        if isinstance(value, tuple):
            return value
        sides = re.split(r"\s+x\s+|\s*×\s*|\s+by\s+", str(value).strip())
        if len(sides) != 2:
            self.fail(f'"{value}" is not two lengths. Write, for example: "6 ft x 5 ft".', param, ctx)
        measure = Measure("length")
        return measure.convert(sides[0], param, ctx), measure.convert(sides[1], param, ctx)


class Share(click.ParamType[float]):
    """A part of a whole, such as "10 %", as a number from 0 to 1. most : in per cent."""

    name = "PERCENT"

    def __init__(self, most: float = 100.0) -> None:
        self.most = most

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Read the share, or say how to write it."""
        if isinstance(value, float):
            return value
        found = re.fullmatch(r"\s*(\d{1,3}(?:\.\d+)?)\s*(?:%|percent|per cent)\s*", str(value))
        if found is None or float(found[1]) > self.most:
            self.fail(f'"{value}" is not a share. Write, for example: "10 %".', param, ctx)
        return float(found[1]) / 100


def tell(plan: Plan, stem: str, *, out: Path | None, as_json: bool, why: bool) -> int:
    """Print the answer and write its forms if a folder is given; gives the exit code."""
    return hand_over(plan, stem, out=out, as_json=as_json, why=why)


def today(on: date | None) -> date:
    """The day that is asked about."""
    return on or date.today()
