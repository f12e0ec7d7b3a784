"""Facts of the trade with their sources, and the one loader that reads them.

What lives here: the tables (CSV for rows, TOML for methods), the shape of their rows, and `load`. Every row
carries the id of its source and a status word that says how sure it is; a row without them does not load, and
says why. What does not: any calculation. Nothing here knows the weather, a yard or today's date.

The tables:

- ``sources/*.csv``: publications; ``facts/*.csv``: single numbers; ``methods/*.toml``: formulas in words;
  ``cautions/*.csv``: sentences that must stand beside advice.
- ``coverings.csv``, ``bearing.csv``, ``crops.csv``, ``soils.csv``: roofs, ground, beds.
- ``organisms.csv``: what each pest looks like and what to do about it through its year; ``stages.csv``: one
  row per published timing number; ``windows.csv``: which of these numbers open and close the time when
  something can be done (our decisions, marked so); ``treatments.csv``: least toxic first; ``hosts.csv``:
  which pest on which plant.
- ``windows_by_date.csv``: times given by date only, for one place; ``blooms.csv``: when plants bloom, by warmth.
- ``soil_temperatures.csv``, ``germination.csv``: when to sow; ``chill.csv``: winter rest; ``infection.csv`` and
  ``severity.csv``: how long a leaf must stay wet for a disease.
- ``pruning.csv``, ``division.csv``, ``oak_windows.csv``: when to cut and divide; ``spray_limits.csv``: limits of
  garden materials beside those in ``facts``; ``restrictions.csv``, ``invasive.csv``: what a state or county
  forbids, and what it lists as running wild (shipped empty).
- ``troubles.csv``: what may be behind what an owner sees at a barrel, how to test it, what to do then.

A folder of one's own with the same file names and columns can be laid over the shipped tables:
``load([folder])``, or checked through and through, `county.with_county`. Its rows add to or replace the shipped
ones and remember the file they came from.

Open first: ``rows.py`` and ``season_rows.py`` (what a row holds), then the tables themselves.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from dooryard.knowledge.load import Knowledge, load
from dooryard.knowledge.rows import (
    STATUSES,
    BearingSoil,
    Caution,
    Covering,
    Crop,
    Fact,
    Host,
    Method,
    Organism,
    Soil,
    Source,
    Stage,
    Treatment,
    Trouble,
    Window,
)

if TYPE_CHECKING:
    from dooryard.knowledge.care_rows import Division, OakWindow, Pruning, SprayLimit
    from dooryard.knowledge.season_rows import (
        Bloom,
        Chill,
        DatedWindow,
        Germination,
        Infection,
        Severity,
        SoilTemperature,
    )
    from dooryard.knowledge.sign_rows import Cause, PlantGroups, Sign

__all__ = [
    "STATUSES",
    "BearingSoil",
    "Bloom",
    "Cause",
    "Caution",
    "Chill",
    "Covering",
    "Crop",
    "DatedWindow",
    "Division",
    "Fact",
    "Germination",
    "Host",
    "Infection",
    "Knowledge",
    "Method",
    "OakWindow",
    "Organism",
    "PlantGroups",
    "Pruning",
    "Severity",
    "Sign",
    "Soil",
    "SoilTemperature",
    "Source",
    "SprayLimit",
    "Stage",
    "Treatment",
    "Trouble",
    "Window",
    "load",
]

_LATER = {
    **dict.fromkeys(("Division", "OakWindow", "Pruning", "SprayLimit"), "care_rows"),
    **dict.fromkeys(("Bloom", "Chill", "DatedWindow", "Germination", "Infection"), "season_rows"),
    **dict.fromkeys(("Severity", "SoilTemperature"), "season_rows"),
    **dict.fromkeys(("Cause", "PlantGroups", "Sign"), "sign_rows"),
}


def __getattr__(name: str) -> object:
    """The row shapes that a plan does not need, imported when first named."""
    if name in _LATER:
        return getattr(import_module(f"{__name__}.{_LATER[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
