"""Gutters and downspouts in words: what a burst sends them, what they carry by which code, and where it goes."""

from __future__ import annotations

from dooryard.figure import Input
from dooryard.plan import bursts, roofs
from dooryard.plan.document import Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.water import gutters
from dooryard.water.gutters import Code
from dooryard.water.roof import Drain, DrivenArea, Section
from dooryard.water.storm import peak_flow
from dooryard.words import list_words
from dooryard.yard.model import Roof

NAMES = {
    "nspc-2006": "National Standard Plumbing Code 2006",
    "ipc-2012": "International Plumbing Code up to 2012",
    "ipc-2015": "International Plumbing Code from 2015",
    "adh-table2": "Approved Document H, England",
}
"""What each code of the facts tables is called in print."""

EN_NAME = "EN 12056-3, Europe"


def gutter(draft: Draft, roof: Roof, section: Section) -> list[str]:
    """Whether the section's gutter carries a burst, by every code that lists its width; empty without a width."""
    burst = bursts.design(draft)
    if roof.gutter_width_m is None or burst is None:
        return []
    width_m = roof.gutter_width_m
    peak, flows = _peak(draft, f"roof.{slug(roof.name)}.peak", roof.name, section.driven, burst)
    carried = [(EN_NAME, "W-EN12056", float(gutters.half_round_flow(width_m)))]
    carried += _listed(gutters.codes(draft.knowledge.facts, "half-round"), width_m)
    flows_l_s = [flow for _, _, flow in carried]
    carries = draft.book.quantity(
        f"roof.{slug(roof.name)}.gutter",
        f"what a clean level half-round gutter of that width carries at the {roof.name}",
        flows_l_s[0],
        "flow",
        "water.half_round",
        low=min(flows_l_s),
        high=max(flows_l_s),
        inputs=(
            draft.book.input("width of the gutter", width_m, "length", "the yard file"),
            *(Input(name, draft.book.exact(flow, "flow"), source) for name, source, flow in carried),
        ),
    )
    said = (
        f"In a burst of {burst.mark} its gutter must take {peak}. "
        f"Clean and level, one of that width carries {carries}, depending on the code."
    )
    draft.caution("water.ladder")
    return [said, _verdict(flows_l_s, flows, "gutter", burst.rare_words)]


def downspout(draft: Draft, drain: Drain) -> Stop:
    """The stop of one downspout: what comes, what it carries by each code, how far the codes part, where it goes."""
    key = f"spout.{slug(drain.downspout)}"
    names = list_words([section.name for section in drain.sections])
    sentences = [
        f"{_capital(roofs.spout_words(drain.downspout))} takes the water of the {names}.",
        _onward(drain),
    ]
    burst = bursts.design(draft)
    if burst is None:
        sentences.append("The record has no whole year of rain, so the pipe is not judged against a burst.")
        return Stop("roof", key.replace(".", "-"), drain.downspout, tuple(sentences))
    driven = _driven(drain)
    peak, flows = _peak(draft, f"{key}.peak", drain.downspout, driven, burst)
    sentences.append(f"In a burst of {burst.mark} it must take {peak}.")
    sentences += bursts.others(draft)
    if not driven.pitch_known:
        sentences.append(
            "How steep the roof is, is not in the yard file, so it is taken as flat; wind can bring more."
        )
    bore_m = gutters.round_bore(drain.opening_m2)
    carried = _listed(gutters.codes(draft.knowledge.facts, "leader"), bore_m)
    if not carried:
        sentences.append("No code lists a pipe of this size, so nothing is said of what it carries.")
        return Stop("roof", key.replace(".", "-"), drain.downspout, tuple(sentences))
    flows_l_s = [flow for _, _, flow in carried]
    carries = draft.book.quantity(
        f"{key}.carries",
        f"what the {drain.downspout} carries",
        min(flows_l_s),
        "flow",
        "water.leader_table",
        low=min(flows_l_s),
        high=max(flows_l_s),
        inputs=(
            draft.book.input("bore of the round pipe with its opening", bore_m, "length", "the yard file"),
            *(Input(name, draft.book.exact(flow, "flow"), source) for name, source, flow in carried),
        ),
    )
    sentences.append(
        f"It carries {carries}, depending on the code. {_verdict(flows_l_s, flows, 'pipe', burst.rare_words)}"
    )
    if max(flows_l_s) > min(flows_l_s) * _APART:
        more = max(flows_l_s) / min(flows_l_s) - 1
        sentences.append(f"The codes differ by {more:.0%} for the same pipe, so each is named below.")
    return Stop(
        "roof", key.replace(".", "-"), drain.downspout, tuple(sentences), _table(draft, drain, carried, burst)
    )


_APART = 1.1
"""Codes are said to differ when one allows a tenth more than another."""


def _peak(
    draft: Draft, figure_id: str, name: str, driven: DrivenArea, burst: bursts.Burst
) -> tuple[str, tuple[float, float]]:
    """The figure of the flow in a usual and in a rare burst, and both flows [L/s]."""
    low, high = (float(peak_flow(driven.largest_m2, rate)) for rate in (burst.usual_mm_h, burst.rare_mm_h))
    conventions = [
        draft.book.input("plan area and half of any wall above", driven.plan_m2, "area", "the yard file"),
        draft.book.input("area with wind, European way", driven.european_m2, "area", "W-EN12056"),
        draft.book.input("area with wind, US trade's way", driven.trade_m2, "area", "P-GUTTERS"),
    ]
    mark = draft.book.quantity(
        figure_id,
        f"flow off the {name} in such a burst",
        low,
        "flow",
        "water.peak_flow",
        low=low,
        high=high,
        inputs=(
            *(conventions if driven.largest_m2 > driven.plan_m2 else conventions[:1]),
            draft.book.input("rain rate, usual", burst.usual_mm_h, "rainfall_rate"),
            draft.book.input("rain rate, rare", burst.rare_mm_h, "rainfall_rate"),
        ),
    )
    return mark, (low, high)


def _driven(drain: Drain) -> DrivenArea:
    """The sections' driven areas added up, convention by convention."""
    areas = [section.driven for section in drain.sections]
    return DrivenArea(
        sum(area.plan_m2 for area in areas),
        sum(area.european_m2 for area in areas),
        sum(area.trade_m2 for area in areas),
        sum(area.wall_m2 for area in areas),
        all(area.pitch_known for area in areas),
    )


def _listed(codes: tuple[Code, ...], size_m: float) -> list[tuple[str, str, float]]:
    """(name, source, flow) of every code that lists the size."""
    flows = [(code, code.flow_l_s(size_m)) for code in codes]
    return [(NAMES.get(code.key, code.key), code.source, flow) for code, flow in flows if flow is not None]


def _verdict(carried_l_s: list[float], flows_l_s: tuple[float, float], what: str, rare_words: str) -> str:
    usual, rare = flows_l_s
    if min(carried_l_s) >= rare:
        return f"That is enough even for {rare_words}."
    if min(carried_l_s) >= usual:
        some = "by every code" if max(carried_l_s) < rare else "by the stricter code"
        return f"That is enough in a usual year, and too little {some} for {rare_words}."
    if max(carried_l_s) >= usual:
        return (
            f"By the stricter code that is too little even in a usual year: watch the {what} in a hard rain."
        )
    return f"That is too little even in a usual year: in a hard rain the {what} runs over."


def _onward(drain: Drain) -> str:
    if not drain.storages:
        return "Nothing catches it: the water runs out at its foot. See that it runs away from the house."
    return f"It runs into the {list_words(drain.storages)}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _table(draft: Draft, drain: Drain, carried: list[tuple[str, str, float]], burst: bursts.Burst) -> Table:
    """What the pipe carries by each code and by the trade's rule, and the roof it would serve in the rare burst."""
    rule = gutters.opening_rule(drain.opening_m2, burst.rare_mm_h, draft.knowledge.facts)
    rows = [(name, flow) for name, _, flow in carried] + [("Sheet-metal trade's rule, a cross-check", rule)]
    served = [float(gutters.roof_area(flow, burst.rare_mm_h)) for _, flow in rows]
    return Table(
        f"What the {drain.downspout} carries, and the flat roof it serves in {burst.rare_words}",
        (("By", "left"), ("Carries", "right"), ("Roof served", "right")),
        tuple(
            (name, draft.book.show(flow, "flow"), draft.book.show(area_m2, "area"))
            for (name, flow), area_m2 in zip(rows, served, strict=True)
        ),
    )
