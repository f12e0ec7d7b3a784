"""What the last two weeks meant for diseases, as lines for a screen, as plain data and as a drawing's chart."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

import numpy as np

from dooryard.knowledge import Knowledge
from dooryard.season.infection import severity
from dooryard.season.infection.fortnight import Days, Meant, doubt
from dooryard.words import range_words

SCHEMA = "dooryard-leaves-1"
WIDTH = 80


def daily_values(days: Days, knowledge: Knowledge) -> np.ndarray:
    """Severity value of early blight of tomato on each day, NaN where not known."""
    rows = [row for row in knowledge.severity if row.disease == "tomato early blight"]
    return severity.values(rows, days.wet_mean_c, days.wet_h)


def lines(days: Days, found: Sequence[Meant], knowledge: Knowledge) -> list[str]:
    """Each disease: what the weather allowed, what helps without a spray, the rest, and how sure its table is."""
    first = days.last - timedelta(days=days.wet_h.size - 1)
    said = [f"{range_words(first, days.last, year=True)}: what the weather meant for leaves", ""]
    known = int((~np.isnan(days.wet_h)).sum())
    if known:
        said += _wrapped(
            f"Leaves were wet for {np.nansum(days.wet_h):.0f} hours on {known} days that are known."
        )
    said += _wrapped(doubt(days, knowledge))
    for one in found:
        said += ["", one.disease[:1].upper() + one.disease[1:], "-" * len(one.disease)]
        said += _wrapped(one.sentences[0])
        said += _wrapped(knowledge.cautions[one.first].text)
        said += [line for sentence in one.sentences[1:] for line in _wrapped(sentence)]
        said += _wrapped(f"How we know: {knowledge.methods[one.method].name.lower()}; table {one.status}.")
    said += ["", *_wrapped("Weather allows a disease; only spots on a leaf say that it is there.")]
    return said


def data(days: Days, found: Sequence[Meant], knowledge: Knowledge) -> dict[str, Any]:
    """The same as plain data: each day's wet hours and severity value, and each disease."""
    first = days.last - timedelta(days=days.wet_h.size - 1)
    return {
        "schema": SCHEMA,
        "from": first.isoformat(),
        "to": days.last.isoformat(),
        "by_hours": days.by_hours,
        "doubt": doubt(days, knowledge),
        "days": [
            {"date": (first + timedelta(days=i)).isoformat(), "wet_h": _known(wet), "severity": _known(value)}
            for i, (wet, value) in enumerate(
                zip(days.wet_h.tolist(), daily_values(days, knowledge).tolist(), strict=True)
            )
        ],
        "diseases": [
            {
                "disease": one.disease,
                "word": one.word,
                "value": _known(one.value),
                "unit": one.unit,
                "first": knowledge.cautions[one.first].text,
                "sentences": list(one.sentences),
                "method": one.method,
                "status": one.status,
            }
            for one in found
        ],
    }


def chart(days: Days, knowledge: Knowledge) -> dict[str, Any]:
    """The chart of the wetness strip, with early blight's severity values."""
    told = data(days, (), knowledge)["days"]
    wet = [day["wet_h"] for day in told]
    hours = [one for one in wet if one is not None]
    return {
        "kind": "strip",
        "id": "leaves",
        "title": "Wet leaves and early blight of tomato",
        "words": f"On {len(hours)} known days leaves were wet for {sum(hours):.0f} hours.",
        "dates": [day["date"] for day in told],
        "wet": wet,
        "value": [day["severity"] for day in told],
        "today": (date.fromisoformat(told[-1]["date"]) + timedelta(days=1)).isoformat(),
    }


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH)


def _known(value: float) -> float | None:
    return None if np.isnan(value) else round(float(value), 2)
