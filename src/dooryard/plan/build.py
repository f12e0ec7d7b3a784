"""plan(): one yard, one record and the knowledge tables become one dated plan. The place where all rooms meet."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from dooryard.knowledge import Knowledge
from dooryard.plan import assemble, beds, frost, organisms, pruning, roofs, storages, storm_drill, upkeep
from dooryard.plan.assemble import Sky
from dooryard.plan.document import Plan, Refusal
from dooryard.weather.forecast import Forecast
from dooryard.weather.record import WeatherRecord
from dooryard.yard.model import Yard

if TYPE_CHECKING:
    from dooryard.plan.label_cards import Shelf
    from dooryard.weather.gauge import GaugeRecord
    from dooryard.weather.readers.atlas14 import DesignTable


def plan(
    yard: Yard,
    record: WeatherRecord,
    knowledge: Knowledge,
    on: date,
    forecast: Forecast | None = None,
    *,
    gauge: GaugeRecord | None = None,
    design_table: DesignTable | None = None,
    shelf: Shelf | None = None,
) -> Plan:
    """The plan of a yard as seen on the morning of `on`: the next 21 days and the season ahead.

    yard : as read, every name resolved. record : the station's days; only those before `on` are used.
    forecast : days from `on` on, or None. The station's nights are moved to the yard's, if it has an offset.
    shelf : label cards and the treatment log of the household, if it has any.

    Raises
    ------
    InputError
        If the record begins on or after `on`.
    """
    begun = assemble.begin(yard, Sky(record, forecast, gauge, design_table), knowledge, on)
    draft, run, _ = begun
    roofs.describe(draft)
    storages.describe(draft, run)
    storm_drill.describe(draft, run)
    beds.describe(draft, run)
    organisms.describe(draft)
    if shelf is not None:
        from dooryard.plan import label_cards

        words = {entry["name"]: entry["word"] for entry in draft.organisms}
        label_cards.describe(draft, shelf, words)
    pruning.describe(draft)
    upkeep.describe(draft, run)
    frost.describe(draft, run)
    if not draft.outlook.years:
        draft.refusals.append(
            Refusal(
                "We will not give dates ahead",
                "The record has no whole past year to go by",
                "Bring a record of at least ten years of this station",
            )
        )
    return assemble.finish(begun)
