"""A storm's hardest minutes at one barrel: the flow it may bring, and which overflow passes it."""

from __future__ import annotations

from typing import NamedTuple

from dooryard.figure import Input
from dooryard.plan import barrel_burst, bursts
from dooryard.plan.document import Table
from dooryard.plan.draft import Draft
from dooryard.plan.storages import pool_words
from dooryard.plan.storm_case import Case
from dooryard.plan.storm_marks import NO_ROOM_L
from dooryard.water.storm import fill_depth, overflow_bore_needed, overflow_capacity, peak_flow
from dooryard.water.uphill import uphill
from dooryard.yard.model import DOWNSPOUT

# Two bores that differ by less are one [m].
_SAME_BORE_M = 0.0005


class _Peak(NamedTuple):
    """One way to tell the hardest minutes: its key, its rate [mm/h], flow [L/s], and the words for it."""

    key: str
    rate_mm_h: float
    flow_l_s: float
    words: str


def sentences(draft: Draft, case: Case) -> list[str]:
    """Rain that fills the room left, and what the forecast's and the design burst ask of an overflow."""
    said = _fills(draft, case)
    for peak in _peaks(draft, case):
        bore, water = _bore(draft, case, peak)
        rate = draft.book.quantity(
            f"{case.key}.burst-{peak.key}",
            f"hardest rain, {peak.words}",
            peak.rate_mm_h,
            "rainfall_rate",
            "water.storm_forecast_burst" if peak.key == "forecast" else bursts.method(draft),
        )
        flow = draft.book.quantity(
            f"{case.key}.peak-{peak.key}",
            f"flow to {pool_words(case.pool)} in the hardest rain, {peak.words}",
            peak.flow_l_s,
            "flow",
            "water.peak_flow",
            inputs=(
                draft.book.input("roof area", _area_m2(draft, case), "area", "the yard file"),
                draft.book.input("rain rate", peak.rate_mm_h, "rainfall_rate"),
            ),
        )
        said.append(
            f"The hardest rain {peak.words} is {rate}. It sends {flow}; an overflow needs a bore of {bore} for that, "
            f"with {water} of water over its middle."
        )
    return [*said, *_own(draft, case)]


def table(draft: Draft, case: Case) -> Table | None:
    """What each usual size of overflow passes, and whether that is enough; None without a burst to judge by."""
    peaks = _peaks(draft, case)
    if not peaks:
        return None
    head, orifice, weir = _facts(draft)
    prefix = f"overflow.size.{draft.yard.units}."
    sizes = sorted(fact.value for key, fact in draft.knowledge.facts.items() if key.startswith(prefix))
    own = _own_bores(draft, case)
    others = sorted({bore for bore in own if not any(_same(bore, size) for size in sizes)})
    rows = []
    for bore_m in sorted([*sizes, *others]):
        passes = float(overflow_capacity(bore_m, head, orifice, weir))
        mine = " (yours)" if any(_same(bore, bore_m) for bore in own) else ""
        enough = ("enough" if passes >= peak.flow_l_s else "too small" for peak in peaks)
        rows.append((f"{draft.book.exact(bore_m, 'length')}{mine}", draft.book.show(passes, "flow"), *enough))
    return Table(
        f"What an overflow passes with {draft.book.show(head, 'length')} of water over its middle",
        (
            ("Bore", "right"),
            ("Passes", "right"),
            *((f"For the rain {peak.words}", "left") for peak in peaks),
        ),
        tuple(rows),
    )


def _own(draft: Draft, case: Case) -> list[str]:
    """What the pool's own overflows pass, or that a diverter takes the rest."""
    if case.pool.overflow == DOWNSPOUT:
        return ["A diverter sends what the barrel cannot take down the old downspout."]
    bores = _own_bores(draft, case)
    if not bores:
        return ["How wide the overflow is, is not in the yard file: measure its inside."]
    head, orifice, weir = _facts(draft)
    passes = draft.book.quantity(
        f"{case.key}.passes",
        f"what the overflow of {pool_words(case.pool)} passes",
        sum(float(overflow_capacity(bore, head, orifice, weir)) for bore in bores),
        "flow",
        "water.overflow",
        inputs=tuple(draft.book.input("bore", bore, "length", "the yard file") for bore in bores),
    )
    return [f"The overflow of {pool_words(case.pool)} passes {passes}{' in all' if len(bores) > 1 else ''}."]


def _same(one_m: float, other_m: float) -> bool:
    """Whether two bores are the same fitting, measured by tape."""
    return abs(one_m - other_m) < _SAME_BORE_M


def _fills(draft: Draft, case: Case) -> list[str]:
    """The depth of rain on a wet roof that fills the room left this morning."""
    if case.litres_per_mm <= 0.0:
        return []
    rooms = [case.full_l - level for level in case.level_l]
    if max(rooms) < NO_ROOM_L:
        full = "is" if len(case.pool.storages) == 1 else "are"
        return [f"As it stands, {pool_words(case.pool)} {full} full: any rain runs over."]
    depth = draft.book.quantity(
        f"{case.key}.fills-rest",
        f"rain that fills what room is left in {pool_words(case.pool)}",
        float(fill_depth(sum(rooms) / 2, 1.0, case.litres_per_mm)),
        "depth",
        "water.fill_depth",
        low=float(fill_depth(min(rooms), 1.0, case.litres_per_mm)),
        high=float(fill_depth(max(rooms), 1.0, case.litres_per_mm)),
        inputs=(
            draft.book.input("room this morning", sum(rooms) / 2, "volume"),
            Input("a millimetre of rain sends", f"{case.litres_per_mm:.1f} L", "the yard file"),
        ),
    )
    return [f"As it stands, {depth} of rain fills {pool_words(case.pool)}."]


def _peaks(draft: Draft, case: Case) -> list[_Peak]:
    area_m2 = _area_m2(draft, case)
    if area_m2 <= 0.0:
        return []
    found = []
    foretold, design = case.storm.burst_mm_h, bursts.design(draft)
    if foretold is not None and foretold > 0.0:
        found.append(("forecast", foretold, "as forecast"))
    if design is not None:
        found.append(("design", design.rare_mm_h, f"in {design.rare_words}"))
    return [_Peak(key, rate, float(peak_flow(area_m2, rate)), words) for key, rate, words in found]


def _area_m2(draft: Draft, case: Case) -> float:
    """Plan area that sends water here in the worst minutes, wind counted and all above it full [m2]."""
    return barrel_burst.driven_m2(draft, uphill(draft.yard, case.pool.storages[0]))


def _bore(draft: Draft, case: Case, peak: _Peak) -> tuple[str, str]:
    """The bore that passes a peak, and the water over it in words."""
    head, orifice, weir = _facts(draft)
    source = draft.knowledge.fact("overflow.design_head").source
    bore = draft.book.quantity(
        f"{case.key}.bore-{peak.key}",
        f"overflow bore that passes the hardest rain {peak.words}",
        float(overflow_bore_needed(peak.flow_l_s, head, orifice, weir)),
        "length",
        "water.overflow_bore",
        inputs=(
            draft.book.input("flow to pass", peak.flow_l_s, "flow"),
            draft.book.input("water above its middle", head, "length", source),
        ),
    )
    return bore, draft.book.show(head, "length")


def _own_bores(draft: Draft, case: Case) -> list[float]:
    bores = [draft.yard.storage(name).overflow_bore_m for name in case.pool.storages]
    return [bore for bore in bores if bore is not None]


def _facts(draft: Draft) -> tuple[float, float, float]:
    """Water over the overflow [m], orifice and weir coefficient."""
    return (
        draft.fact("overflow.design_head"),
        draft.fact("overflow.orifice_coefficient"),
        draft.fact("overflow.weir_coefficient"),
    )
