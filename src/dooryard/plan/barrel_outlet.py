"""What comes out of a barrel's spigot, for the water report: pressure, minutes to a can, hours to run down.

What each bed gets of it is in `barrel_beds`.
"""

from __future__ import annotations

from typing import NamedTuple

from dooryard.figure import Input
from dooryard.plan.document import Refusal
from dooryard.plan.draft import Draft
from dooryard.plan.figures import join_range, slug
from dooryard.water.outlet import discharge_coefficient, drain_time, fill_time, orifice_flow, pressure
from dooryard.yard.model import Storage

_LONG_H = 2.0
_LONG_S = 120.0


class Heights(NamedTuple):
    """Of a barrel over the ground line [m]: its spigot and its water when full; and its water surface [m2]."""

    spigot_m: float
    full_m: float
    section_m2: float

    @property
    def depth_m(self) -> float:
        """Usable depth of water, above the spigot."""
        return self.full_m - self.spigot_m


def heights(storage: Storage) -> Heights | None:
    """The heights that decide what comes out; None if one is missing in the yard file. No stand is the ground."""
    top_m = storage.overflow_height_m if storage.overflow_height_m is not None else storage.height_m
    section_m2 = storage.section_m2
    if top_m is None or section_m2 is None or storage.outlet_height_m is None:
        return None
    stand_m = storage.stand_height_m or 0.0
    return Heights(stand_m + storage.outlet_height_m, stand_m + top_m, section_m2)


def sentences(draft: Draft, storage: Storage) -> list[str]:
    """Pressure, can and run-down of one barrel; a refusal if its heights are not in the yard file."""
    known = heights(storage)
    if known is None:
        draft.refusals.append(
            Refusal(
                f"We will not say what comes out of the {storage.name}",
                "The heights of its outlet and of its overflow are not in the yard file",
                "Measure both from its bottom and write outlet_height and overflow_height",
            )
        )
        return []
    return [
        f"{_pressure(draft, storage, known)} {_can(draft, storage, known)} {_run_down(draft, storage, known)}"
    ]


def pressure_mark(draft: Draft, figure_id: str, name: str, head_m: float) -> str:
    """The figure of a pressure under a head of water."""
    return draft.book.quantity(
        figure_id,
        name,
        float(pressure(head_m)),
        "pressure",
        "water.head",
        inputs=(draft.book.input("water above it", head_m, "length"),),
    )


def hours_words(hours: float) -> str:
    """A time for use: "20 minutes", "8.2 hours", "3 days"."""
    if hours < _LONG_H:
        minutes = max(1, round(hours * 60))
        return f"{minutes} minute{'' if minutes == 1 else 's'}"
    if hours < 10:
        return f"{hours:.1f} hours"
    return f"{hours:.0f} hours" if hours < 72 else f"{hours / 24:.0f} days"


def seconds_words(seconds: float) -> str:
    """A short time for use: "45 seconds", "4 minutes"."""
    return f"{seconds:.0f} seconds" if seconds < _LONG_S else hours_words(seconds / 3600)


def can(draft: Draft) -> tuple[float, str]:
    """A watering can of the yard's system: what it holds [L] and where the figure comes from."""
    fact = draft.knowledge.fact("can.volume" if draft.yard.units == "us" else "can.volume_metric")
    return fact.value, fact.source


def _pressure(draft: Draft, storage: Storage, known: Heights) -> str:
    key = f"storage.{slug(storage.name)}"
    high = draft.book.quantity(
        f"{key}.spigot",
        f"height of the spigot of the {storage.name} above the ground",
        known.spigot_m,
        "length",
        "yard.file",
        inputs=(
            draft.book.input("height of the stand", storage.stand_height_m or 0.0, "length", "the yard file"),
            draft.book.input(
                "spigot above the bottom", storage.outlet_height_m or 0.0, "length", "the yard file"
            ),
        ),
    )
    full = pressure_mark(
        draft, f"{key}.pressure-full", f"pressure at the ground from the full {storage.name}", known.full_m
    )
    last = pressure_mark(
        draft,
        f"{key}.pressure-last",
        f"pressure at the ground from the {storage.name}, down to its spigot",
        known.spigot_m,
    )
    house = draft.knowledge.fact("house.pressure")
    pipe = draft.book.quantity(
        "house.pressure",
        "pressure in house pipes",
        house.value,
        "pressure",
        "water.head",
        low=house.low,
        high=house.high,
        inputs=(draft.book.input("usual", house.value, "pressure", house.source),),
    )
    return (
        f"The spigot stands {high} above the ground. At the ground the water presses with {full} when full and "
        f"{last} when down to the spigot; a house pipe has {pipe}."
    )


def _can(draft: Draft, storage: Storage, known: Heights) -> str:
    """Seconds to a can at the open spigot, full and with little left."""
    key = f"storage.{slug(storage.name)}"
    volume_l, source = can(draft)
    left = draft.knowledge.fact("can.part_left")
    bore, losses = draft.knowledge.fact("outlet.bore"), draft.knowledge.fact("outlet.loss_sum")
    marks = []
    for state, share in (("full", 1.0), ("low", left.value)):
        head_m = known.depth_m * share
        quick, slow = (
            float(fill_time(volume_l, orifice_flow(bore.value, head_m, discharge_coefficient(loss))))
            for loss in (losses.low or losses.value, losses.high or losses.value)
        )
        marks.append(
            draft.book.plain(
                f"{key}.can-{state}",
                f"time to fill a can at the {storage.name}, {'full' if share == 1 else 'a quarter left'}",
                quick,
                join_range(seconds_words(quick), seconds_words(slow)),
                "water.can_fill",
                unit="s",
                exact=f"{quick:.1f} to {slow:.1f} seconds",
                low=quick,
                high=slow,
                inputs=(
                    draft.book.input("one can", volume_l, "volume", source),
                    draft.book.input("water above the spigot", head_m, "length"),
                    draft.book.input("bore of the spigot, the usual one", bore.value, "length", bore.source),
                    Input("losses in the spigot", f"{losses.low:g} to {losses.high:g}", losses.source),
                ),
            )
        )
    size = draft.book.show(volume_l, "volume")
    return f"A {size} can fills in {marks[0]} when it is full and in {marks[1]} with a quarter left."


def _run_down(draft: Draft, storage: Storage, known: Heights) -> str:
    key = f"storage.{slug(storage.name)}"
    bore, losses = draft.knowledge.fact("outlet.bore"), draft.knowledge.fact("outlet.loss_sum")
    quick, slow = (
        float(drain_time(known.section_m2, bore.value, discharge_coefficient(loss), known.depth_m))
        for loss in (losses.low or losses.value, losses.high or losses.value)
    )
    mark = draft.book.plain(
        f"{key}.run-down",
        f"time in which the open spigot empties the {storage.name}",
        quick,
        join_range(hours_words(quick), hours_words(slow)),
        "water.drain_time",
        unit="h",
        exact=f"{quick * 60:.1f} to {slow * 60:.1f} minutes",
        low=quick,
        high=slow,
        inputs=(
            draft.book.input("water above the spigot when full", known.depth_m, "length"),
            draft.book.input("water surface", known.section_m2, "area", "the yard file"),
            draft.book.input("bore of the spigot, the usual one", bore.value, "length", bore.source),
            Input("losses in the spigot", f"{losses.low:g} to {losses.high:g}", losses.source),
        ),
    )
    return f"Left open without a hose, it runs down to the spigot in {mark}."
