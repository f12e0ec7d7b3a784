"""Hours a leaf must stay wet for a disease to enter, by temperature, and the wet spells that were long enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from dooryard.knowledge.season_rows import Infection
from dooryard.season.wetness import Spell

Word = Literal["possible", "too short", "outside the table", "not known"]


@dataclass(frozen=True, slots=True)
class Needed:
    """Wet hours needed at a temperature; None outside the table, with its first and last temperature [degC]."""

    hours: float | None
    from_c: float
    upto_c: float


def needed(rows: Sequence[Infection], mean_c: float) -> Needed:
    """Wet hours needed at a mean temperature, on a straight line between the listed ones, not rounded.

    Parameters
    ----------
    rows : sequence of Infection
        One disease's rows of one severity.
    mean_c : float
        Mean temperature of the wet hours [degC].

    Returns
    -------
    Needed
    """
    points = sorted({(t, row.wet_hours) for row in rows for t in (row.t_low_c, row.t_high_c)})
    warmth = [t for t, _ in points]
    # Fahrenheit numbers turned into Celsius: the table's own ends must lie inside it.
    if not warmth[0] - 1e-9 <= mean_c <= warmth[-1] + 1e-9:
        return Needed(None, warmth[0], warmth[-1])
    return Needed(float(np.interp(mean_c, warmth, [h for _, h in points])), warmth[0], warmth[-1])


@dataclass(frozen=True, slots=True)
class Entered:
    """A wet spell judged for one disease: was it long enough at its warmth?

    needed_h : hours it needed, None outside the table or without a temperature.
    """

    spell: Spell
    word: Word
    needed_h: float | None


def judge(rows: Sequence[Infection], spell: Spell, *, after_h: float = 0.0) -> Entered:
    """Whether a wet spell was long enough for a disease to enter.

    Parameters
    ----------
    rows : sequence of Infection
        One disease's rows of one severity.
    spell : Spell
        Wet hours that belong together. Too short with unknown hours in it is not known.
    after_h : float
        Hours that are lost before spores are there, such as on dry rust galls [h].

    Returns
    -------
    Entered
    """
    if spell.mean_c is None:
        return Entered(spell, "not known", None)
    need = needed(rows, spell.mean_c).hours
    if need is None:
        return Entered(spell, "outside the table", None)
    need += after_h
    if spell.wet_h >= need - 1e-9:
        return Entered(spell, "possible", need)
    return Entered(spell, "not known" if spell.unknown_h else "too short", need)
