"""build(): the build sheet of a yard's barrels. Drawing, hole template, parts, tools, steps, check list.

Nothing is drawn from a guess: a barrel with a measure missing is refused, with the key to add.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from dooryard.knowledge import Knowledge
from dooryard.knowledge.build_rows import Step
from dooryard.plan import build_barrel, build_words
from dooryard.plan.build_barrel import Barrel, made
from dooryard.plan.build_charts import drawing_chart, heights, template_chart
from dooryard.plan.build_parts import parts_table, priced
from dooryard.plan.document import Json, Plan, Stop, Table
from dooryard.plan.figures import slug
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem, nearest
from dooryard.water.build_measures import Measures, measures, missing
from dooryard.words import list_words
from dooryard.yard.model import Storage, Yard

_PHASES = {
    "before": "Before you begin",
    "ground": "Ground and stand",
    "drill": "Mark and drill",
    "fit": "Fittings",
    "set": "Set it up",
    "join": "Join it to the downspout",
}
ADVICE_DAYS = 365
"""A build sheet holds as long as its measures do; a year on the yard may have changed."""


def build(yard: Yard, knowledge: Knowledge, on: date, *, storage: str = "") -> Plan:
    """The build sheet of all storages of a yard, or of the one named, made on the day `on`.

    Raises
    ------
    InputError
        If the yard has no storage, none of that name, or a stand is too narrow for a block.
    """
    sheet = Sheet(yard.name, knowledge, on, yard.units, advice_days=ADVICE_DAYS)
    charts: list[Json] = []
    barrels = _barrels(sheet, yard, _chosen(yard, storage))
    for barrel in barrels:
        _barrel(sheet, charts, barrel)
    if barrels:
        _lists(sheet, barrels)
        _short(sheet, yard, barrels)
    else:
        sheet.short.append(
            "Nothing can be drawn yet. Measure what is named below, write it in the yard file, ask again."
        )
        sheet.caution("water.weight", "water.children", "water.not_drinking")
    return replace(
        sheet.finish(),
        report="build",
        yard={"name": yard.name, "place": ""},
        charts=tuple(charts),
    )


def _chosen(yard: Yard, storage: str) -> tuple[Storage, ...]:
    if not yard.storages:
        raise InputError(
            Problem(
                "There is no storage in this yard.",
                "Write one as [[storages]] in the yard file.",
                field="storages",
            )
        )
    if not storage:
        return yard.storages
    names = [one.name for one in yard.storages]
    if storage not in names:
        hint = nearest(storage, names) or f"Storages: {', '.join(names)}."
        raise InputError(
            Problem("There is no such storage in this yard.", hint, field="--storage", found=storage)
        )
    return (yard.storage(storage),)


def _barrels(sheet: Sheet, yard: Yard, chosen: tuple[Storage, ...]) -> list[Barrel]:
    """Those that can be drawn, alike ones together; what is missing of the others is refused."""
    found: dict[Measures, list[str]] = {}
    for storage in chosen:
        lacking = missing(yard, storage)
        if lacking:
            sheet.refuse(
                f"We will not draw the {storage.name}",
                f"The yard file lacks {list_words([need.what for need in lacking])}",
                "Measure it and write "
                + ", ".join(f"{need.key} = {need.example}" for need in lacking)
                + f" under the storage named {storage.name}",
            )
            continue
        try:
            found.setdefault(measures(yard, storage, sheet.knowledge), []).append(storage.name)
        except InputError:
            # All it needs is there, so the one thing left to fail is a stand too narrow for a block.
            sheet.refuse(
                f"We will not draw the {storage.name}",
                "Its stand is narrower than one concrete block",
                'Measure the stand again and write stand_base = "24 x 24 in", the two sides of its base',
            )
    barrels: list[Barrel] = []
    for one, names in found.items():
        key = slug(list_words(names))
        taken = {barrel.key for barrel in barrels}
        # Two names may differ only in signs that no key holds.
        while key in taken:
            key += "-too"
        barrels.append(made(sheet, one, tuple(names), key))
    return barrels


# --- one barrel -----------------------------------------------------------------------------------------


def _barrel(sheet: Sheet, charts: list[Json], barrel: Barrel) -> None:
    known, system = sheet.knowledge, sheet.system
    key = barrel.key
    bore = known.fact("outlet.bore").value
    sheet.more_sources |= {
        known.fact(name).source for name in ("outlet.bore", "hole.inlet", "downspout.cut_above")
    }
    marks = heights(barrel.measures, barrel.holes, bore, system)
    charts.append(
        drawing_chart(
            f"build-{key}", barrel.spoken, barrel.measures, marks, system, build_words.notes(sheet, barrel)
        )
    )
    charts.append(template_chart(f"template-{key}", barrel.spoken, barrel.measures, barrel.holes, system))
    numbers = build_barrel.numbers(sheet, barrel)
    sheet.stops.append(
        Stop(
            "storage",
            key,
            barrel.spoken,
            tuple(build_words.sentences(sheet, barrel, numbers)),
            None,
            (charts[-2]["id"], charts[-1]["id"]),
        )
    )
    steps = [step for step in known.steps.values() if _due(step, barrel)]
    for phase, heading in _PHASES.items():
        rows = [step for step in steps if step.phase == phase]
        if rows:
            sheet.stops.append(_phase(sheet, f"{key}-{phase}", heading, rows, numbers, steps))
    checks = [step for step in steps if step.phase == "check"]
    for step in checks:
        sheet.caution(*step.cautions)
        sheet.more_sources.add(step.source)
    sheet.stops.append(
        Stop(
            "part",
            f"{key}-check",
            f"Check list before the first rain: {barrel.spoken}",
            (),
            Table(
                "Each line must be true before water runs in",
                (("Look", "left"), ("Done", "left")),
                tuple((step.text, "____") for step in checks),
            ),
        )
    )


def _due(step: Step, barrel: Barrel) -> bool:
    """Whether a step belongs to this barrel: no stand, no ground work; no overflow of its own, no hole for one."""
    own = barrel.measures
    if step.when == "stand" and own.stand is None:
        return False
    if step.key in ("hole-overflow", "fit-overflow", "lead", "check-overflow"):
        return own.overflow_m is not None
    return own.cut_m is not None if step.key in ("cut", "join") else True


def _phase(
    sheet: Sheet, key: str, heading: str, rows: list[Step], numbers: dict[str, str], steps: list[Step]
) -> Stop:
    """One phase as a numbered list; each step has its caution beside it."""
    order = {step.key: n for n, step in enumerate((s for s in steps if s.phase in _PHASES), 1)}
    listed = []
    for step in rows:
        sheet.caution(*step.cautions)
        sheet.more_sources.add(step.source)
        said = step.text.format_map(numbers)
        listed.append((f"{order[step.key]}", f"{said} Caution: {step.caution}" if step.caution else said))
    span = f"{heading}: steps {listed[0][0]} to {listed[-1][0]}"
    return Stop(
        "part", key, heading, (), Table(span, (("Step", "right"), ("What to do", "left")), tuple(listed))
    )


# --- lists and summary ----------------------------------------------------------------------------------


def _lists(sheet: Sheet, barrels: list[Barrel]) -> None:
    made = [
        (
            barrel.scale,
            barrel.measures.overflow_bore_m,
            len(barrel.names),
            barrel.measures.overflow_m is not None,
        )
        for barrel in barrels
    ]
    lines = priced(sheet, made)
    sheet.stops.append(Stop("part", "parts", "Parts", (
        "Pack sizes and sizes of fittings differ from shop to shop. Take this list and the fittings' sizes along.",
    ), parts_table(sheet, lines)))  # fmt: skip
    tools = list(sheet.knowledge.tools.values())
    sheet.more_sources |= {tool.source for tool in tools}
    sheet.stops.append(Stop("part", "tools", "Tools", (), Table(
            "To have at hand", (("Tool", "left"), ("For", "left")), tuple((tool.name, tool.use) for tool in tools)
    )))  # fmt: skip


def _short(sheet: Sheet, yard: Yard, barrels: list[Barrel]) -> None:
    names = [name for barrel in barrels for name in barrel.names]
    sheet.short.append(
        f"How to build the {list_words(names)}: a drawing to scale, a hole template, parts, tools and the order "
        "of work."
    )
    sheet.short.append(
        "Measure every fitting in hand before you drill. Check the ruler of the template before you trust it."
    )
    sheet.caution("water.not_drinking", "water.backflow", "water.electricity", "water.measure_fitting")
    if yard.household.children:
        sheet.short.append(
            "Children live or visit here: lid, strap and sign go on before the first rain, not after."
        )
        sheet.caution("water.children")
    if sheet.refusals:
        many = "One thing is" if len(sheet.refusals) == 1 else f"{len(sheet.refusals)} things are"
        sheet.short.append(f"{many} not said, for the yard file lacks a measure; see below.")
