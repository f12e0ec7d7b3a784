"""Before a storm of one day or several: what finds room, what runs over, and what letting water out changes.

The days of a forecast are played forward from the level of this morning. Nothing is drawn for beds meanwhile: it
rains. A day's rain comes after that morning's letting out.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.water.outlet import require_not_negative

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Played:
    """A storage through the days of a forecast; arrays (D,) [L].

    before_l : what stands in it when the day's rain begins, after letting out. let_out_l, spilled_l : that day.
    level_l : in the evening. Water is neither made nor lost: level before plus inflow is what was let out, what
    ran over and the level after.
    """

    let_out_l: Floats
    before_l: Floats
    spilled_l: Floats
    level_l: Floats


@dataclass(frozen=True, slots=True)
class Spell:
    """Days of rain with no more than `dry_days` dry ones between: indices `first` up to `end`, not included."""

    first: int
    end: int


def spells(rain_mm: ArrayLike, dry_days: int = 1) -> tuple[Spell, ...]:
    """The rainy spells of a forecast, in order.

    rain_mm : (D,) [mm]; a day of which nothing is foretold (NaN) ends a spell, for nobody knows what it brings.
    dry_days : a spell goes on over so many days without rain, for nobody empties a barrel for a day [d].

    >>> [(spell.first, spell.end) for spell in spells([0.0, 5.0, 0.0, 3.0, 0.0, 0.0, 2.0])]
    [(1, 4), (6, 7)]
    """
    found: list[Spell] = []
    rain = np.asarray(rain_mm, dtype=np.float64)
    unknown = np.isnan(rain)
    for index in np.flatnonzero(rain > 0.0).tolist():
        if found and index - found[-1].end <= dry_days and not unknown[found[-1].end : index].any():
            found[-1] = Spell(found[-1].first, index + 1)
        else:
            found.append(Spell(index, index + 1))
    return tuple(found)


def play(level_l: float, full_l: float, dead_l: float, inflow_l: ArrayLike, let_out_l: ArrayLike) -> Played:
    """Play a storage through days of rain.

    Parameters
    ----------
    level_l : float
        What stands in it on the first morning, stranded water included [L].
    full_l, dead_l : float
        What it holds up to the overflow, and what no outlet reaches [L].
    inflow_l : array (D,)
        What each day's rain sends [L].
    let_out_l : array (D,)
        What is to be let out on each morning [L]; no more than stands above the outlet is.

    Returns
    -------
    Played

    Raises
    ------
    InputError
        A volume below zero.
    """
    for name, value in (("level_l", level_l), ("inflow_l", inflow_l), ("let_out_l", let_out_l)):
        require_not_negative(name, value, "L")
    inflow, wanted = (np.asarray(value, dtype=np.float64) for value in (inflow_l, let_out_l))
    let, before, spilled, level = (np.zeros(len(inflow)) for _ in range(4))
    stands = level_l
    for day, comes in enumerate(inflow.tolist()):
        let[day] = min(float(wanted[day]), max(stands - dead_l, 0.0))
        before[day] = stands - let[day]
        spilled[day] = max(before[day] + comes - full_l, 0.0)
        stands = level[day] = before[day] + comes - spilled[day]
    return Played(let, before, spilled, level)


@dataclass(frozen=True, slots=True, eq=False)
class Drill:
    """What to let out before a spell of rain, and what that changes.

    room_l : when the spell begins, if nothing is let out. let_out_l : before its first day. kept : the days if
    nothing is let out; done : if that is; again : if each morning of the spell makes room for that day as well.
    """

    room_l: float
    let_out_l: float
    kept: Played
    done: Played
    again: Played

    @property
    def held_l(self) -> float:
        """Water that letting out once keeps from running over [L]."""
        return float(self.kept.spilled_l.sum() - self.done.spilled_l.sum())

    @property
    def held_again_l(self) -> float:
        """Water that letting out on each morning keeps from running over [L]."""
        return float(self.kept.spilled_l.sum() - self.again.spilled_l.sum())


def drill(level_l: float, full_l: float, dead_l: float, inflow_l: ArrayLike, spell: Spell) -> Drill:
    """What to let out on the eve of a spell so that as much of its water as can finds room.

    Parameters
    ----------
    level_l, full_l, dead_l : float
        As in `play`, on the morning of the first day of `inflow_l` [L].
    inflow_l : array (D,)
        What each day of the forecast sends, up to the end of the spell at least [L].
    spell : Spell
        The days to make room for.

    Returns
    -------
    Drill
        Over the days up to the spell's end. As much is let out as the whole spell needs, at most what stands
        above the outlet.

    Example
    -------
    >>> found = drill(60.0, 100.0, 10.0, [70.0, 80.0], Spell(0, 2))
    >>> found.room_l, found.let_out_l, found.held_l, found.held_again_l
    (40.0, 50.0, 50.0, 110.0)
    """
    inflow = np.asarray(inflow_l, dtype=np.float64)[: spell.end]
    nothing = np.zeros(len(inflow))
    kept = play(level_l, full_l, dead_l, inflow, nothing)
    room = full_l - float(kept.before_l[spell.first])
    wanted = nothing.copy()
    wanted[spell.first] = max(float(inflow[spell.first :].sum()) - room, 0.0)
    done = play(level_l, full_l, dead_l, inflow, wanted)
    again = _again(level_l, full_l, dead_l, inflow, spell)
    return Drill(room, float(done.let_out_l[spell.first]), kept, done, again)


def _again(level_l: float, full_l: float, dead_l: float, inflow: Floats, spell: Spell) -> Played:
    """Let out each morning of the spell what that day and those after it need."""
    wanted = np.zeros(len(inflow))
    stands = level_l
    for day, comes in enumerate(inflow.tolist()):
        if day >= spell.first:
            wanted[day] = min(
                max(float(inflow[day:].sum()) - (full_l - stands), 0.0), max(stands - dead_l, 0.0)
            )
        stands = min(stands - wanted[day] + comes, full_l)
    return play(level_l, full_l, dead_l, inflow, wanted)
