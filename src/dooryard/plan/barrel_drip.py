"""What plain emitters or a soaker hose give at a barrel's pressure: flow, hours, unevenness."""

from __future__ import annotations

from functools import partial

from dooryard.figure import Input
from dooryard.plan.barrel_outlet import hours_words
from dooryard.plan.bed_line import Line, line_hose, per_hour
from dooryard.plan.draft import Draft
from dooryard.plan.figures import join_range
from dooryard.water.drip import drip_time, emitter_flow, rise_loss
from dooryard.water.hose import run_down_time
from dooryard.water.outlet import pressure


def sentences(draft: Draft, line: Line) -> list[str]:
    """Flow and hours of plain emitters or of a soaker; only the share of the rated flow if that is not known."""
    bed, soaker = line.bed, line.bed.how == "soaker"
    rated = draft.knowledge.fact("soaker.rated_pressure" if soaker else "drip.rated_pressure")
    exponent = draft.knowledge.fact("soaker.exponent" if soaker else "drip.exponent")
    rated_kpa = rated.value if bed.emitter_pressure_kpa is None else bed.emitter_pressure_kpa
    pressure_input = draft.book.input(
        "pressure it is rated at",
        rated_kpa,
        "pressure",
        rated.source if bed.emitter_pressure_kpa is None else "the yard file",
    )
    ends = sorted({exponent.low or exponent.value, exponent.high or exponent.value})
    count = 1 if soaker else bed.emitters
    if bed.emitter_flow_l_s is None or count is None:
        return [_share(draft, line, rated_kpa, ends, pressure_input, exponent.source)]
    rated_l_s = count * bed.emitter_flow_l_s
    inputs = (
        *([] if soaker else [Input("emitters", f"{count}", "the yard file")]),
        Input(
            "rated flow of each" if not soaker else "rated flow",
            per_hour(draft, bed.emitter_flow_l_s),
            "the yard file",
        ),
        pressure_input,
        Input("exponent", " to ".join(f"{end:g}" for end in ends), exponent.source),
    )
    said = [_flows(draft, line, rated_l_s, rated_kpa, ends, inputs)]
    # To no head at all a porous wall takes for ever; the spigot above the bed sets an end.
    if line.last_m > 0.0 or ends[-1] < 1.0:
        said.append(_hours(draft, line, rated_l_s, rated_kpa, ends, inputs))
    said.append(_uneven(draft, line, ends))
    return said


def _share(draft: Draft, line: Line, rated_kpa: float, ends: list[float], rated: Input, source: str) -> str:
    """The part of its rated flow that a soaker or emitter gives at all, when its flow is not known."""
    marks = []
    for state, head_m in (("full", line.first_m), ("low", line.last_m)):
        low, high = sorted(
            float(emitter_flow(pressure(head_m), 1.0, rated_kpa, end)) for end in (ends[0], ends[-1])
        )
        words = (
            f"{low * 100:.0f} %"
            if f"{low:.2f}" == f"{high:.2f}"
            else f"{low * 100:.0f} to {high * 100:.0f} %"
        )
        marks.append(
            draft.book.plain(
                f"{line.key}.share-{state}",
                f"share of its rated flow at the {line.bed.name}, barrel {state}",
                high,
                words,
                "water.drip",
                low=low,
                high=high,
                exact=f"{high:.4f}",
                inputs=(
                    draft.book.input("water above it", head_m, "length"),
                    rated,
                    Input("exponent", " to ".join(f"{end:g}" for end in ends), source),
                ),
            )
        )
    what = "Its soaker hose gives" if line.bed.how == "soaker" else "Plain emitters give"
    if line.last_m <= 0.0:
        return (
            f"{what} {marks[0]} of the flow on the package when the barrel is full, and less and less after."
        )
    return (
        f"{what} {marks[0]} of the flow on the package when the barrel is full and {marks[1]} near the end."
    )


def _flow(
    draft: Draft, line: Line, head_m: float, rated_l_s: float, rated_kpa: float, exponent: float
) -> float:
    """Flow of all emitters under a head at the bed [L/s], the hose's loss counted if its length is known."""
    if line.bed.hose_length_m is None:
        return float(emitter_flow(pressure(head_m), rated_l_s, rated_kpa, exponent))
    return float(line_hose(draft, line.bed).drip(head_m, rated_l_s, rated_kpa, exponent))


def _flows(
    draft: Draft, line: Line, rated_l_s: float, rated_kpa: float, ends: list[float], inputs: tuple[Input, ...]
) -> str:
    hose = line_hose(draft, line.bed).inputs if line.bed.hose_length_m is not None else ()
    marks = []
    for state, head_m in (("full", line.first_m), ("low", line.last_m)):
        low, high = sorted(
            _flow(draft, line, head_m, rated_l_s, rated_kpa, end) for end in (ends[0], ends[-1])
        )
        words = per_hour(draft, high)
        if per_hour(draft, low) != words:
            words = f"{per_hour(draft, low).partition(' ')[0]} to {words}"
        marks.append(
            draft.book.plain(
                f"{line.key}.drip-{state}",
                f"flow of the {line.bed.how} line in the {line.bed.name}, barrel {state}",
                high,
                words,
                "water.drip",
                unit="L/s",
                exact=per_hour(draft, high, exact=True),
                low=low,
                high=high,
                inputs=(draft.book.input("water above it", head_m, "length"), *inputs, *hose),
            )
        )
    made = draft.book.plain(
        f"{line.key}.drip-rated",
        f"flow of the {line.bed.how} line in the {line.bed.name} by its package",
        rated_l_s,
        per_hour(draft, rated_l_s),
        "water.drip",
        unit="L/s",
        exact=per_hour(draft, rated_l_s, exact=True),
        inputs=inputs,
    )
    subject = "Its soaker hose gives" if line.bed.how == "soaker" else "All emitters together give"
    later = f"falling to {marks[1]} at the end" if line.last_m > 0.0 else "and less and less after"
    return f"{subject} {marks[0]} when the barrel is full, {later}; the package promises {made}."


def _hours(
    draft: Draft, line: Line, rated_l_s: float, rated_kpa: float, ends: list[float], inputs: tuple[Input, ...]
) -> str:
    """How long it runs from full until nothing more comes."""
    section_m2, end_m = line.known.section_m2, line.last_m
    if line.bed.hose_length_m is None:
        times = sorted(
            drip_time(section_m2, line.first_m, end_m, rated_l_s, rated_kpa, end)
            for end in (ends[0], ends[-1])
        )
    else:
        hose = line_hose(draft, line.bed)
        # The last of the head takes for ever through a hose, so the time is told to where a spot that lies a
        # little higher gets nothing.
        end_m = min(max(end_m, draft.fact("drip.rise_told")), line.first_m)
        times = sorted(
            run_down_time(
                section_m2,
                partial(hose.drip, rated_l_s=rated_l_s, rated_kpa=rated_kpa, exponent=end),
                line.first_m,
                end_m,
            )
            for end in (ends[0], ends[-1])
        )
    words = join_range(hours_words(times[0]), hours_words(times[1]))
    litres = section_m2 * 1000 * (line.first_m - end_m)
    runs = draft.book.plain(
        f"{line.key}.drip-hours",
        f"time the {line.bed.how} line in the {line.bed.name} takes to use the full {line.storage.name}",
        times[0],
        words,
        "water.drip_time",
        unit="h",
        exact=f"{times[0]:.2f} hours",
        low=times[0],
        high=times[1],
        inputs=(draft.book.input("water it can use", litres, "volume", "the yard file"), *inputs),
    )
    gives = draft.book.quantity(
        f"{line.key}.drip-uses",
        f"water of the full {line.storage.name} that reaches the {line.bed.name}",
        litres,
        "volume",
        "water.bed_reach",
        about=True,
        inputs=(draft.book.input("from full to where it stops", line.first_m - end_m, "length"),),
    )
    return f"It takes {runs} to give {gives}."


def _uneven(draft: Draft, line: Line, ends: list[float]) -> str:
    """What an emitter loses by lying a little higher, when the head is least."""
    rise = draft.knowledge.fact("drip.rise_told")
    # With no head left at the end, at half of the first.
    head_m = line.last_m if line.last_m > rise.value else line.first_m / 2
    lost = float(rise_loss(head_m, rise.value, ends[-1]))
    mark = draft.book.plain(
        f"{line.key}.rise",
        f"share of its flow that an emitter loses for each {draft.book.show(rise.value, 'length')} it lies higher",
        lost,
        f"{lost * 100:.0f} %",
        "water.drip",
        exact=f"{lost:.4f}",
        inputs=(
            draft.book.input("water above the others", head_m, "length"),
            draft.book.input("lies higher by", rise.value, "length", rise.source),
        ),
    )
    when = "near the end" if line.last_m > rise.value else "half-way down"
    by = draft.book.show(rise.value, "length")
    return f"A spot that lies {by} higher gets {mark} less {when}, so lay the line level."
