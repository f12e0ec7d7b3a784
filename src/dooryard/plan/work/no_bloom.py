"""Why a shrub does not bloom, in the order of weight, and when to cut it next."""

from __future__ import annotations

from datetime import date

from dooryard.care.no_bloom import Facts, Limits, Reason, Weight, in_year, prune_by, reasons
from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan, Table
from dooryard.plan.work.sheet import Sheet
from dooryard.units import System
from dooryard.words import day_words, list_words

NAMES = {
    "age": "too young",
    "pruning": "cut at the wrong time",
    "light": "too little sun",
    "feeding": "lawn fertilizer",
    "cold": "buds killed by cold",
    "drought": "a dry summer before",
    "deer": "deer",
    "crowded": "old crowded stems, or planted too deep",
}
WEIGHTS: dict[Weight, str] = {
    "main": "very likely",
    "adds": "takes part in it",
    "open": "not told",
    "no": "ruled out",
}
ASK = {
    "age": "How many years has it stood there?",
    "pruning": "When was it last cut, and how?",
    "light": "How many hours of sun does it get in May?",
    "feeding": "Does lawn fertilizer reach it?",
    "cold": "Does it bloom low down only, below last winter's snow? Was there a hard frost when its buds swelled?",
    "drought": "Was last summer dry, and was it watered?",
    "deer": "Are twigs torn off up to 6 ft, with no clean cut?",
    "crowded": "Can you see where the trunk widens into the roots? Were old stems ever taken out?",
}


def no_bloom(
    knowledge: Knowledge,
    on: date,
    *,
    plant: str,
    facts: Facts,
    bloom_now: date | None = None,
    system: System = "us",
) -> Plan:
    """The reasons for one shrub. plant : what it is called. facts : what the household told.

    bloom_now : end of this year's bloom, or when it would have ended, for the day to cut by; None to take the usual
    end from `facts`.
    """
    sheet = Sheet(f"Why the {plant} does not bloom", knowledge, on, system)
    limits = Limits(
        after_bloom_d=round(sheet.fact("bloom.after")),
        sun_h=sheet.fact("bloom.sun"),
        dark_h=sheet.fact("bloom.dark"),
        young_y=sheet.fact("bloom.young"),
        grown_y=sheet.fact("bloom.grown"),
    )
    found = reasons(facts, limits)
    _in_short(sheet, plant, facts, found)
    _cut(sheet, facts, bloom_now)
    rows = tuple((NAMES[one.key], WEIGHTS[one.weight]) for one in found)
    sheet.part(
        "The usual reasons",
        table=Table(
            "Each reason, held against what was told", (("Reason", "left"), ("How likely", "left")), rows
        ),
    )
    asked = [ASK[one.key] for one in found if one.weight == "open"]
    if asked:
        sheet.part("What to ask or look at next", *asked)
    return sheet.finish()


def _in_short(sheet: Sheet, plant: str, facts: Facts, found: tuple[Reason, ...]) -> None:
    main = [one.key for one in found if one.weight == "main"]
    adds = [one.key for one in found if one.weight == "adds"]
    if main:
        sheet.short.append(f"Most likely: {list_words([NAMES[key] for key in main])}.")
        sheet.short += [_because(key, facts) for key in main]
        if adds:
            sheet.short.append(f"It takes part too: {list_words([NAMES[key] for key in adds])}.")
    elif adds:
        sheet.short.append(
            f"No one reason takes all its flowers. What takes part: {list_words([NAMES[key] for key in adds])}."
        )
    else:
        open_ = sum(one.weight == "open" for one in found)
        sheet.refuse(
            f"We will not say why the {plant} does not bloom",
            "Nothing that was told explains it" if not open_ else "Too little is told",
            "Answer the questions below, or show the plant to your county office",
        )
    sheet.short += [_because(key, facts) for key in adds if key == "light"]


def _because(key: str, facts: Facts) -> str:
    if key == "pruning" and facts.pruned is not None:
        day = day_words(facts.pruned, year=True)
        if facts.wood == "new":
            return f"It flowers on this year's shoots, and the cut of {day} took them."
        return f"It flowers on last year's wood. By {day} next year's buds were set, and the cut took them."
    if key == "light" and facts.sun_h is not None:
        return f"It gets {facts.sun_h:g} hours of sun a day; most want 6 or more."
    if key == "age" and facts.planted_y is not None:
        return f"It has stood there {facts.planted_y:g} years; some need 3 to 7."
    if key == "cold":
        return "Its buds stand all winter on old wood, and that cold kills them."
    return f"{NAMES[key][0].upper()}{NAMES[key][1:]} takes flowers."


def _cut(sheet: Sheet, facts: Facts, bloom_now: date | None) -> None:
    if facts.wood == "new":
        sheet.short.append("Cut it in late winter, before growth starts, never in summer.")
        return
    ended = bloom_now
    if ended is None and facts.bloom_ended is not None:
        ended = in_year(facts.bloom_ended, sheet.on.year)
    if ended is None:
        sheet.short.append("Cut it right after bloom, never from midsummer to spring.")
        return
    last = prune_by(ended, round(sheet.fact("bloom.after")))
    mark = sheet.book.plain(
        "bloom.prune-by",
        "last day to cut it",
        last.isoformat(),
        day_words(last),
        "care.prune_by",
        unit="date",
        inputs=(Input("bloom ends", day_words(ended), "given"),),
    )
    past = " That is past for this year: wait until it has bloomed." if sheet.on > last else ""
    sheet.short.append(
        f"Cut it right after bloom, by {mark}: take out a third of the oldest stems at the ground, and do not "
        f"shear.{past}"
    )
