"""Watering a young tree: so much for each inch of trunk, often at first, then weekly."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Stage:
    """One stretch of the schedule. days : how long it lasts [d]. every_d : from one watering to the next [d]."""

    days: int
    every_d: int

    @property
    def times(self) -> int:
        """How often water is given in it."""
        return self.days // self.every_d


def per_watering_l(diameter_m: float, rate_l_per_m: float) -> float:
    """Water for one watering [L]. diameter_m : of the trunk [m]. rate_l_per_m : water per m of diameter [L/m]."""
    if diameter_m <= 0 or rate_l_per_m <= 0:
        raise ValueError("the trunk must have a size and the rate must be above zero")
    return diameter_m * rate_l_per_m


def stage_total_l(stage: Stage, each_l: float) -> float:
    """Water over one stage [L]. stage : how long and how often. each_l : each time [L]."""
    if stage.days < 0 or stage.every_d < 1 or each_l < 0:
        raise ValueError("a stage has days, and water cannot be negative")
    return stage.times * each_l


def next_turn(since_planting_d: int, daily: Stage, alternate: Stage) -> int:
    """Days from the day asked to the next turn, 0 for that day itself [d].

    since_planting_d : days since the tree was set [d]. daily, alternate : the first two stretches; a week lies between
    turns after them.
    """
    if since_planting_d < 0:
        raise ValueError("the tree is not planted yet")
    if since_planting_d < daily.days:
        return 0
    if since_planting_d < daily.days + alternate.days:
        return (since_planting_d - daily.days) % alternate.every_d
    return (daily.days + alternate.days - since_planting_d) % 7


def rain_stands_in(rain_mm: float | None, enough_mm: float) -> bool | None:
    """Whether rain stands for the turn; None if part of it is not known and the rest is not enough.

    rain_mm : since the last turn [mm], None if not known. enough_mm : that stands for one turn [mm].
    """
    return None if rain_mm is None else rain_mm >= enough_mm
