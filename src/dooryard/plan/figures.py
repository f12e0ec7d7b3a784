"""FigureBook: every number a plan prints is entered here once, and text refers to it by a mark.

A sentence holds ``[[storage.back-barrel.level]]`` instead of "about 40 gal". Page, sheet, screen and calendar
replace the mark by the figure's `shown` text, so they cannot disagree, and hang the *why* on it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

import numpy as np

from dooryard import units
from dooryard.figure import Figure, Input
from dooryard.units import Dimension, System

CANONICAL_UNIT = {
    "length": "m",
    "area": "m2",
    "volume": "L",
    "depth": "mm",
    "temperature": "degC",
    "temperature_difference": "degC",
    "degree_days": "degC.d",
    "speed": "m/s",
    "mass": "kg",
    "rainfall_rate": "mm/h",
    "pressure": "kPa",
    "angle": "degree",
    "flow": "L/s",
}
INCH_M, YARD_M = 0.0254, 0.9144


def slug(name: str) -> str:
    """A name as part of a figure or task id: "Back barrel" becomes "back-barrel"."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "unnamed"


class FigureBook:
    """The figures of one plan, in the order they were entered."""

    def __init__(self, system: System) -> None:
        self.system = system
        self.figures: dict[str, Figure] = {}

    def add(self, figure: Figure) -> str:
        """Enter a figure and give its mark. Entering one id twice with different values is our bug."""
        known = self.figures.get(figure.id)
        if known is not None and known != figure:
            raise ValueError(f"figure {figure.id} entered twice with different values")
        self.figures[figure.id] = figure
        return f"[[{figure.id}]]"

    def quantity(
        self,
        figure_id: str,
        name: str,
        value: float,
        dimension: Dimension,
        method: str,
        *,
        inputs: Iterable[Input] = (),
        low: float | None = None,
        high: float | None = None,
        about: bool = False,
        note: str = "",
    ) -> str:
        """Enter a measured or computed quantity [canonical unit of its dimension] and give its mark.

        With `low` and `high` the shown text is a range; with `about` a single value is called "about".
        """
        single = self.show(value, dimension)
        shown = f"about {single}" if about else single
        if low is not None and high is not None:
            shown = self.range_words(low, high, dimension)
            if not shown_as_range(shown) and about:
                shown = f"about {shown}"
        exact = f"{self.exact(value, dimension)}"
        return self.add(
            Figure(
                id=figure_id,
                name=name,
                value=float(value),
                unit=CANONICAL_UNIT[dimension],
                shown=shown,
                exact=exact,
                method=method,
                inputs=tuple(inputs),
                low=None if low is None else float(low),
                high=None if high is None else float(high),
                note=note,
            )
        )

    def plain(
        self,
        figure_id: str,
        name: str,
        value: float | str,
        shown: str,
        method: str,
        *,
        unit: str = "1",
        exact: str = "",
        inputs: Iterable[Input] = (),
        low: float | str | None = None,
        high: float | str | None = None,
        note: str = "",
    ) -> str:
        """Enter a count, share or date, whose shown text the caller words, and give its mark."""
        return self.add(
            Figure(
                id=figure_id,
                name=name,
                value=value,
                unit=unit,
                shown=shown,
                exact=exact or str(value),
                method=method,
                inputs=tuple(inputs),
                low=low,
                high=high,
                note=note,
            )
        )

    def input(self, name: str, value: float, dimension: Dimension, source: str = "") -> Input:
        """One input line of a figure: the value in the yard's units, with where it comes from."""
        return Input(name, self.exact(value, dimension), source)

    def show(self, value: float, dimension: Dimension) -> str:
        """A quantity rounded for use, in the yard's units."""
        return units.show(value, dimension, self.system)

    def number(self, value: float, dimension: Dimension) -> float:
        """A quantity's bare number in the yard's units."""
        return units.number(value, dimension, self.system)

    def exact(self, value: float, dimension: Dimension) -> str:
        """A quantity to four figures, in the yard's units; a short length in inches or cm, as it is measured."""
        if dimension == "length" and self.system == "us" and abs(value) < YARD_M:
            return f"{plain_number(value / INCH_M)} in"
        if dimension == "length" and self.system == "metric" and abs(value) < 1:
            return f"{plain_number(value * 100)} cm"
        number = units.number(value, dimension, self.system)
        return f"{plain_number(number)} {units.unit_name(dimension, self.system)}"

    def range_words(self, low: float, high: float, dimension: Dimension) -> str:
        """ "20 to 35 gal"; one value if both round to the same; the unit only once where it is the same."""
        return join_range(self.show(low, dimension), self.show(high, dimension))


def plain_number(number: float) -> str:
    """Four significant figures without exponent: 12,345 as "12,345", 0.04513 as "0.04513"."""
    if number == 0 or not np.isfinite(number):
        return f"{number:.0f}"
    digits = max(0, 3 - int(np.floor(np.log10(abs(number)))))
    text = f"{number:,.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def join_range(low: str, high: str) -> str:
    """Two shown quantities as a range, naming a shared unit once."""
    if low == high:
        return low
    low_number, _, low_unit = low.partition(" ")
    _, _, high_unit = high.partition(" ")
    return f"{low_number} to {high}" if low_unit == high_unit else f"{low} to {high}"


def shown_as_range(shown: str) -> bool:
    """Whether a shown text is a range rather than one value."""
    return " to " in shown
