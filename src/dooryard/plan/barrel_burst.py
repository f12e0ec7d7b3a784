"""Whether the overflow passes a burst of rain, and where it lets its water out."""

from __future__ import annotations

from dooryard.plan import bursts
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.task import Task
from dooryard.water import roof
from dooryard.water.storm import overflow_bore_needed, overflow_capacity, peak_flow
from dooryard.water.uphill import Uphill, uphill
from dooryard.words import list_words
from dooryard.yard.model import DOWNSPOUT, Storage


def sentences(draft: Draft, storage: Storage) -> list[str]:
    """Overflow against a burst and distance from the wall, with the tasks and cautions that follow."""
    here = uphill(draft.yard, storage.name)
    if not here.roofs:
        return []
    draft.caution("water.overflow")
    if storage != here.mouth:
        known = [] if storage.wall_distance_m is None else distance(draft, storage)
        return [f"It shares its overflow with the {here.mouth.name}: see there.", *known]
    return [*_burst(draft, storage, here), *distance(draft, storage)]


def _burst(draft: Draft, storage: Storage, here: Uphill) -> list[str]:
    burst = bursts.design(draft)
    if burst is None:
        return ["The record has no whole year of rain, so the overflow is not judged against a burst."]
    area_m2 = driven_m2(draft, here)
    key = f"storage.{slug(storage.name)}"
    low, high = (float(peak_flow(area_m2, rate)) for rate in (burst.usual_mm_h, burst.rare_mm_h))
    peak = draft.book.quantity(
        f"{key}.peak",
        f"flow to the {storage.name} in such a burst",
        low,
        "flow",
        "water.peak_flow",
        low=low,
        high=high,
        inputs=(
            draft.book.input("roof area", area_m2, "area", "the yard file"),
            draft.book.input("rain rate, usual", burst.usual_mm_h, "rainfall_rate"),
            draft.book.input("rain rate, rare", burst.rare_mm_h, "rainfall_rate"),
        ),
    )
    sends = "roof sends" if len(here.roofs) == 1 else "roofs send"
    them = " and ".join(["it", *(f"the {one.name}" for one in here.level if one != storage)])
    over = f", with what runs over from {_named(here.above)}" if here.above else ""
    said = f"In a burst of {burst.mark} the {sends} {them} {peak}{over}."
    if storage.empties_to == DOWNSPOUT:
        return [f"{said} A diverter sends what the barrel cannot take down the old downspout."]
    if not here.bores_m:
        return [f"{said} The yard file does not say how wide the overflow is, so it is not judged."]
    return [f"{said} {_against(draft, storage, here, (low, high), burst.rare_words)}"]


def driven_m2(draft: Draft, here: Uphill) -> float:
    """Roof that sends water to a level in the worst minutes, all above it full [m2].

    Wind drives more rain on a steep roof than falls on the ground under it: for the peak only.
    """
    return sum(roof.driven_area(section, draft.knowledge.facts).largest_m2 for section in here.roofs)


def _named(storages: tuple[Storage, ...]) -> str:
    return list_words([f"the {one.name}" for one in storages])


def _against(
    draft: Draft, storage: Storage, here: Uphill, flows: tuple[float, float], rare_words: str
) -> str:
    """The overflow's capacity in words; a task if it is too small in a usual year."""
    low, high = flows
    key = f"storage.{slug(storage.name)}"
    head = draft.knowledge.fact("overflow.design_head")
    orifice = draft.knowledge.fact("overflow.orifice_coefficient")
    weir = draft.knowledge.fact("overflow.weir_coefficient")
    passes = sum(
        float(overflow_capacity(bore_m, head.value, orifice.value, weir.value)) for bore_m in here.bores_m
    )
    water_above = draft.book.input("water above its middle", head.value, "length", head.source)
    capacity = draft.book.quantity(
        f"{key}.overflow",
        f"what the overflow of {_named(here.level)} passes",
        passes,
        "flow",
        "water.overflow",
        inputs=(
            *(draft.book.input("bore", bore_m, "length", "the yard file") for bore_m in here.bores_m),
            water_above,
        ),
    )
    its = "Its overflow passes" if len(here.bores_m) == 1 else "The overflows of this level together pass"
    if passes >= high:
        return f"{its} {capacity}, enough even for that."
    needed_m = float(overflow_bore_needed(high, head.value, orifice.value, weir.value))
    bore = draft.book.quantity(
        f"{key}.bore-needed",
        f"overflow bore that passes {rare_words} at the {storage.name}",
        needed_m,
        "length",
        "water.overflow_bore",
        inputs=(draft.book.input("flow to pass", high, "flow"), water_above),
    )
    if passes >= low:
        return f"{its} {capacity}: enough in a usual year, too little in {rare_words}."
    draft.tasks.append(
        Task(
            id=f"{key}.overflow",
            verb="Do",
            place=storage.name,
            kind="storage",
            what=f"Give the {storage.name} an overflow with a bore of at least {bore}, or a diverter that sends the "
            "rest down the old downspout.",
            from_=draft.on,
            to=draft.last_day,
            why=f"A burst brings [[{key}.peak]] and the overflow passes only {capacity}. "
            "The rest runs over the rim, next to the wall.",
            cautions=draft.caution("water.overflow_small", "water.overflow"),
            if_missed="In a hard shower water runs down beside the wall. Look at the wall and the cellar after rain.",
        )
    )
    return f"{its} only {capacity}; it would need a bore of at least {bore}."


def distance(draft: Draft, storage: Storage) -> list[str]:
    """How far from the wall the overflow ends, a task if that is too near; nothing if it runs into a storage."""
    if storage.empties_to in {one.name for one in draft.yard.storages}:
        return []  # its overflow lets nothing out onto the ground
    if storage.wall_distance_m is None:
        return ["How far from the wall the overflow lets its water out is not in the yard file: measure it."]
    least = draft.knowledge.fact("overflow.wall_distance_least")
    better = draft.knowledge.fact("overflow.wall_distance")
    key = f"storage.{slug(storage.name)}"
    found = draft.book.quantity(
        f"{key}.wall",
        f"distance from the wall to the end of the overflow of the {storage.name}",
        storage.wall_distance_m,
        "length",
        "yard.file",
        inputs=(draft.book.input("distance", storage.wall_distance_m, "length", "the yard file"),),
    )
    wanted = [
        draft.book.quantity(
            f"overflow.{name}",
            f"distance from the wall, {name}",
            fact.value,
            "length",
            "water.wall_distance",
            inputs=(draft.book.input("distance", fact.value, "length", fact.source),),
        )
        for name, fact in (("least", least), ("better", better))
    ]
    if storage.wall_distance_m >= least.value:
        return [f"It lets the rest out {found} from the wall."]
    draft.tasks.append(
        Task(
            id=f"{key}.wall",
            verb="Do",
            place=storage.name,
            kind="storage",
            what=f"Lead the overflow of the {storage.name} at least {wanted[0]} from the wall, better {wanted[1]}, "
            "to ground that falls away from the house.",
            from_=draft.on,
            to=draft.last_day,
            why=f"It ends {found} from the wall now. Water let out there can reach the footing or the cellar.",
            cautions=draft.caution("water.overflow", "water.overflow_place"),
            if_missed="Each rain after the barrel is full wets the ground at the wall.",
        )
    )
    return [f"It lets the rest out only {found} from the wall."]
