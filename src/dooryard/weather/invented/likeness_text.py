"""How like a record invented weather is: as text for the terminal and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any, Literal

from dooryard import units
from dooryard.weather.invented.likeness import Compared, told
from dooryard.weather.invented.parameters import Parameters
from dooryard.weather.record import WeatherRecord

System = Literal["us", "metric"]

_WIDTH = 80
_CELL = 12


def render(record: WeatherRecord, rows: Sequence[Compared], system: System) -> str:
    """What was compared and how well it agrees, 80 columns wide; a monthly measure is its months' mean."""
    years = len(record.dates) / 365.25
    head = f"Weather that could have been at {record.station.name}, fitted to {years:.0f} years."
    lines = [*textwrap.wrap(head, _WIDTH), "", *textwrap.wrap(told(rows), _WIDTH), ""]
    wide = _WIDTH - 2 * _CELL
    lines.append(f"{'':{wide}}{'record':>{_CELL}}{'invented':>{_CELL}}")
    for row in rows:
        name = textwrap.wrap(row.measure.words + ("" if row.within else " (not within)"), wide - 2)
        cells = "".join(
            f"{_shown(float(values.mean()), row, system):>{_CELL}}"
            for values in (row.measure.value, row.made)
        )
        lines += [*name[:-1], f"{name[-1]:{wide}}{cells}"]
    return "\n".join(lines)


def as_json(
    record: WeatherRecord, rows: Sequence[Compared], parameters: Parameters, written: str | None
) -> dict[str, Any]:
    """Comparison and parameters as plain data in canonical units; written : the file made, or None."""
    return {
        "station": record.station.name,
        "first": record.first.isoformat(),
        "last": record.last.isoformat(),
        "measures": [
            {
                "measure": row.measure.key,
                "words": row.measure.words,
                "unit": row.measure.unit,
                "record": row.measure.value.tolist(),
                "invented": row.made.tolist(),
                "allowed": row.allowed.tolist(),
                "within": row.within,
            }
            for row in rows
        ],
        "parameters": parameters.plain(),
        "written": written,
    }


def _shown(value: float, row: Compared, system: System) -> str:
    if row.measure.unit == "mm":
        return units.show(value, "depth", system)
    if row.measure.unit == "degC":
        if row.measure.key.endswith(".mean"):
            return units.show(value, "temperature", system, 1)
        return units.show(value, "temperature_difference", system, 1)
    return f"{value:.1f} days" if row.measure.unit == "d" else f"{value:.2f}"
