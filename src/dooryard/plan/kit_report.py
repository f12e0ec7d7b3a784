"""kit(): a workshop in which so many households build a barrel each. Shopping list, cost, people, day, hand-outs."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.plan import kit_day
from dooryard.plan.build_parts import Line, Made, amount_words, pack_words, priced
from dooryard.plan.document import Plan, Table
from dooryard.plan.tape import tape_words
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem, nearest
from dooryard.units import System
from dooryard.water.build_measures import measures, missing, scale, stand_of
from dooryard.words import list_words
from dooryard.yard.model import Storage, Yard

ADVICE_DAYS = 90
"""Prices and shelves change: a shopping list is for a season."""


def kits_from_text(text: str, knowledge: Knowledge) -> int:
    """A number of kits as typed. Raises InputError for anything but a whole number that one workshop can hold."""
    most, usual = knowledge.fact("kit.most"), knowledge.fact("kit.usual")
    advice = f"Write a whole number such as {usual.value:.0f}."
    if not re.fullmatch(r"[+-]?[0-9]+", text.strip()):
        raise InputError(Problem("This is not a number of kits.", advice, field="KITS", found=text))
    many = int(text)
    if many < 1:
        raise InputError(Problem("A workshop has at least one kit.", advice, field="KITS", found=text))
    if many > most.value:
        raise InputError(
            Problem(
                f"That is no one workshop: people cannot be looked after past about {most.value:.0f} kits.",
                f"Split it. Usual are {usual.low:.0f} to {usual.high:.0f} households in a day.",
                field="KITS",
                found=text,
            )
        )
    return many


def kit(
    many: int,
    knowledge: Knowledge,
    on: date,
    *,
    yard: Yard | None = None,
    storage: str = "",
    system: System = "us",
) -> Plan:
    """The workshop of so many kits, made on the day `on`.

    many : from `kits_from_text`. yard : whose barrel is built (units are its own); None is the usual drum on the
    usual stand. storage : which of its barrels.

    Raises
    ------
    InputError
        If the yard's barrel is not named and it has several, or one of its measures is missing.
    """
    title = f"Workshop of {many} kits" if many > 1 else "Workshop of one kit"
    sheet = Sheet(title, knowledge, on, system if yard is None else yard.units, advice_days=ADVICE_DAYS)
    made = _usual(sheet, many) if yard is None else _of_yard(sheet, yard, storage, many)
    share = sheet.fact("kit.spare_share")
    lines = priced(sheet, [made], spare_share=share)
    _short(sheet, many, lines)
    _shopping(sheet, many, lines, share)
    kit_day.tools(sheet, many)
    kit_day.day(sheet, many)
    sheet.caution("water.barrel_past", "water.drilling", "water.measure_fitting", "water.sharp_edges")
    sheet.caution(
        "water.electricity", "water.children", "water.not_drinking", "water.overflow", "water.rules"
    )
    return replace(sheet.finish(), report="kit")


def _usual(sheet: Sheet, many: int) -> Made:
    """The usual drum on the usual stand, all of it said."""
    base, high = sheet.fact("build.usual_base"), sheet.fact("stand.height")
    out = sheet.fact("overflow.wall_distance")
    bore = sheet.fact("kit.usual_bore")
    show = sheet.book.show
    sheet.part(
        "What is built",
        f"No yard file is given, so each kit is the usual drum on a stand {tape_words(base, sheet.system)} square and "
        f"{tape_words(high, sheet.system)} high, with an overflow of {tape_words(bore, sheet.system, parts=16)} bore "
        f"that ends {show(out, 'length')} from the wall. Measures differ at home: each household takes its own "
        "build sheet.",
    )
    stand = stand_of(sheet.knowledge, high, (base, base))
    return scale(sheet.knowledge, stand, (base, base), high, out), bore, many, True


def _of_yard(sheet: Sheet, yard: Yard, storage: str, many: int) -> Made:
    one = _chosen(yard, storage)
    lacking = missing(yard, one)
    if lacking:
        raise InputError(
            Problem(
                f"The {one.name} cannot be made into a kit: {need.what} is not known.",
                f"Measure it and write {need.key} = {need.example}.",
                field=f"storages.{need.key}",
            )
            for need in lacking
        )
    most = sheet.fact("kit.drum_most")
    if one.volume_l > most:
        raise InputError(
            Problem(
                f"The {one.name} is no drum for a workshop: it holds {sheet.book.show(one.volume_l, 'volume')}.",
                f"A kit is a barrel of at most {sheet.book.show(most, 'volume')}. Ask dooryard build for its sheet.",
                field="storages.volume",
            )
        )
    own = measures(yard, one, sheet.knowledge)
    out = own.wall_distance_m
    if out is None:
        sheet.refuse(
            "We will not say how much overflow hose a kit takes",
            f"The yard file does not say how far from the wall the hose of the {one.name} ends",
            'Write wall_distance = "10 ft"',
        )
    sheet.part(
        "What is built", f"Each kit is the {one.name} of {yard.name}, with the measures of its yard file."
    )
    drop = own.overflow_m or 0.0
    by = scale(sheet.knowledge, own.stand, own.stand_base_m, drop if out is not None else 0.0, out or 0.0)
    return by, own.overflow_bore_m, many, own.overflow_m is not None


def _chosen(yard: Yard, storage: str) -> Storage:
    names = [one.name for one in yard.storages]
    if not names:
        raise InputError(Problem("There is no storage in this yard.", "Leave --yard out for the usual drum."))
    if storage and storage not in names:
        hint = nearest(storage, names) or f"Storages: {', '.join(names)}."
        raise InputError(
            Problem("There is no such storage in this yard.", hint, field="--storage", found=storage)
        )
    if not storage and len(names) > 1:
        raise InputError(
            Problem(
                "This yard has several storages and a kit is one of them.",
                f"Name it with --storage: {list_words(names, 'or')}.",
                field="--storage",
            )
        )
    return yard.storage(storage or names[0])


# --- what is said ---------------------------------------------------------------------------------------


def _cost(sheet: Sheet, key: str, name: str, lines: list[Line], many: int) -> str:
    low = sum(line.cost[0] for line in lines) / many
    high = sum(line.cost[1] for line in lines) / many
    return sheet.book.plain(
        f"kit.{key}",
        name,
        (low + high) / 2,
        f"${low:,.0f} to ${high:,.0f}",
        "kit.cost",
        unit="USD",
        exact=f"${low:,.2f} to ${high:,.2f}",
        low=low,
        high=high,
        inputs=(Input("lines of the list", f"{len(lines)}"), Input("households", f"{many}")),
    )


def _short(sheet: Sheet, many: int, lines: list[Line]) -> None:
    barrel = [line for line in lines if line.part.when == "always"]
    stand = [line for line in lines if line.part.when == "stand"]
    whole = _cost(sheet, "barrel-cost", "drum and fittings of a household", barrel, many)
    one = "one household" if many == 1 else f"{many} households"
    sheet.short.append(f"For {one}: what to buy, what to bring, the run of the day and what to hand out.")
    sheet.short.append(
        f"Drum and fittings come to {whole} a household, spares and part packs shared by all. The prices are from "
        "memory and move: ask before you set a fee."
    )
    if stand:
        more = _cost(sheet, "stand-cost", "stand of a household", stand, many)
        sheet.short.append(
            f"Blocks, pavers, stone and splash block come to {more} more. They are heavy: let each household buy them "
            "near home."
        )
    usual = sheet.knowledge.fact("kit.built_cost")
    sheet.more_sources.add(usual.source)
    sheet.short.append(
        f"Trainers speak of ${usual.low:.0f} to ${usual.high:.0f} a household without the stand, when drums are had "
        "cheap."
    )
    few = sheet.knowledge.fact("kit.usual")
    if not (few.low or 0) <= many <= (few.high or many):
        sheet.short.append(f"Usual are {few.low:.0f} to {few.high:.0f} households in one workshop.")


def _shopping(sheet: Sheet, many: int, lines: list[Line], share: float) -> None:
    rows = tuple(
        (
            line.name,
            amount_words(sheet, line),
            pack_words(line),
            f"${line.cost[0]:,.0f} to ${line.cost[1]:,.0f}",
        )
        for line in lines
    )
    sheet.part(
        "Shopping list",
        f"Parts that break or get lost have {share:.0%} spares in them; packs are rounded up; costs are from "
        "memory. Buy one of each fitting "
        "first, measure it, and drill a trial hole before you buy the rest.",
        table=Table(
            f"What to buy for {many}",
            (
                ("Part", "left"),
                ("Needed", "right"),
                ("Buy", "left"),
                ("Cost", "right"),
            ),
            rows,
        ),
    )
