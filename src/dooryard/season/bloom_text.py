"""A bloom check in words, and as plain data."""

from __future__ import annotations

from typing import Any

import numpy as np

from dooryard.season.bloom import Checked, Errors, Springs, errors

NAMES = {
    "by_mean": "the mean date of the other years",
    "by_heat": "heat from a fixed day",
    "by_chill": "chill, then heat",
}


def data(springs: Springs, checked: Checked, *, in_blocks: bool) -> dict[str, Any]:
    """The check as plain lists and numbers: errors in days by rule, and each year."""
    rules = {name: errors(getattr(checked, name), checked.bloom) for name in NAMES}
    return {
        "years": int(checked.years.size),
        "first": int(checked.years[0]),
        "last": int(checked.years[-1]),
        "left_out": list(springs.left_out),
        "in_blocks": in_blocks,
        "errors_d": {name: _error(one) for name, one in rules.items()},
        "models": [
            {"chill": model.chill, "base_c": model.base_c, "heat_cd": round(model.heat_cd, 1)}
            for model in checked.models
        ],
        "each": [
            {"year": int(year), "bloom": float(seen), "by_chill": round(float(a), 1), "by_heat": round(float(b), 1),
             "by_mean": round(float(c), 1)}
            for year, seen, a, b, c in zip(
                checked.years, checked.bloom, checked.by_chill, checked.by_heat, checked.by_mean, strict=True
            )
        ],
    }  # fmt: skip


def lines(springs: Springs, checked: Checked) -> list[str]:
    """The check in words, a line each."""
    said = [
        f"{checked.years.size} years from {checked.years[0]} to {checked.years[-1]} have both bloom and the winter "
        "before it."
    ]
    if springs.left_out:
        said.append(f"{len(springs.left_out)} years with bloom lack weather and were left out.")
    said.append(
        "Each year was predicted by rules fitted on other years only, with that year's own weather known:"
    )
    said.append("")
    said.append(f"  {'rule':34} {'off by':>8} {'rms':>6} {'mean':>6} {'within 3 days':>14}")
    for name, words in NAMES.items():
        one = errors(getattr(checked, name), checked.bloom)
        said.append(
            f"  {words:34} {one.mean_size_d:6.1f} d {one.root_square_d:6.1f} {one.mean_d:+6.1f} {one.within_3d:13.0%}"
        )
    chills = np.array([model.chill or 0.0 for model in checked.models])
    bases = np.array([model.base_c for model in checked.models])
    sums = np.array([model.heat_cd for model in checked.models])
    said += [
        "",
        f"Fitted: {_span(chills, '.0f')} chill portions from October on, then {_span(sums, '.0f')} degree-days above "
        f"{_span(bases, 'g')} °C.",
        "These numbers fit this plant at this place; they are no facts of its kind.",
    ]
    return said


def _span(values: np.ndarray, form: str) -> str:
    low, high = format(float(values.min()), form), format(float(values.max()), form)
    return low if low == high else f"{low} to {high}"


def _error(one: Errors) -> dict[str, float]:
    return {
        "mean_size": round(one.mean_size_d, 3),
        "root_mean_square": round(one.root_square_d, 3),
        "mean": round(one.mean_d, 3),
        "within_3_days": round(one.within_3d, 3),
    }
