"""What may be done about one organism at one place today, mildest first, with every reason against the rest."""

from __future__ import annotations

from datetime import date

from dooryard.care import treatment
from dooryard.care.treatment import Option, Site
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan, Table
from dooryard.plan.organism_tasks import plain_order
from dooryard.plan.treatment_words import WHY
from dooryard.plan.work.sheet import Sheet
from dooryard.season.sentences import span_words
from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import CANNOT_TELL, CLOSING, NOW, OVER, SOON, TOO_EARLY
from dooryard.units import System
from dooryard.words import day_words, sentence

NAMES = {
    "do nothing": "do nothing",
    "cultural": "care of the plant",
    "physical": "by hand",
    "biological": "living agent",
    "oil or soap": "oil or soap",
    "active ingredient": "active ingredient",
    "ask": "ask",
}


def treat(
    knowledge: Knowledge,
    on: date,
    *,
    verdict: OrganismVerdict,
    plant: str,
    site: Site,
    station: str,
    system: System = "us",
) -> Plan:
    """The options for one organism. verdict : at the station that day. plant : where it sits. site : the place."""
    sheet = Sheet(f"{verdict.name[:1].upper()}{verdict.name[1:]}: what to do", knowledge, on, system)
    found = treatment.options(knowledge, verdict.organism, verdict.word, site, on, sheet.fact("spray.reach"))
    organism = knowledge.organisms[verdict.organism]
    sheet.more_sources |= {organism.source, *(one.treatment.source for one in found)}
    _in_short(sheet, verdict, found, station)
    if "scale" in organism.kind:
        sheet.caution("care.crawlers")
    rows = tuple(
        (
            NAMES.get(one.treatment.kind, one.treatment.kind),
            one.treatment.action,
            one.treatment.when,
            "yes"
            if one.allowed
            else sentence("no: " + "; ".join(WHY[why] for why in one.blocked)).rstrip("."),
        )
        for one in found
    )
    columns = (("Kind", "left"), ("What", "left"), ("When", "left"), ("May it be done now?", "left"))
    sheet.part(f"What can be done on {plant}, mildest first", table=Table("Options", columns, rows))
    if organism.leave_alone:
        sheet.part("When to leave it alone", organism.leave_alone)
    if organism.mistake:
        sheet.part("A common mistake", organism.mistake)
    _laws(sheet, found, on)
    for one in found:
        if one.treatment.kind in treatment.KILLING:
            sheet.caution(*one.treatment.cautions)
    if any(one.treatment.kind in treatment.KILLING for one in found):
        sheet.refuse(
            "We will not name an amount",
            "It stands on the label alone",
            'Type a label card and ask "dooryard work mix"',
        )
    return sheet.finish()


def _in_short(sheet: Sheet, verdict: OrganismVerdict, found: tuple[Option, ...], station: str) -> None:
    sheet.short.append(f"{sentence(verdict.word).rstrip('.')}, by the record of {station}. {verdict.reason}")
    killing = [one for one in found if one.treatment.kind in treatment.KILLING]
    if verdict.word in (NOW, CLOSING) and any(one.allowed for one in killing):
        sheet.short.append("Look first, and treat only what you find.")
    elif killing:
        stages = {why for one in killing for why in one.blocked}
        sheet.short.append("No spray now." if stages - {"law unsure"} else "Ask before you spray.")
    _tape(sheet, verdict)
    mild = treatment.mildest(found)
    if mild is not None and mild.treatment.kind not in treatment.KILLING:
        sheet.short.append(f"What can be done today: {mild.treatment.action}")
    if verdict.word in (TOO_EARLY, SOON, OVER, CANNOT_TELL):
        sheet.short.append(sentence(plain_order(verdict.do_now)))
    if verdict.changes_on is not None and verdict.word in (TOO_EARLY, SOON, NOW, CLOSING):
        sheet.short.append(f"This is likely to change on {day_words(verdict.changes_on)}.")


def _tape(sheet: Sheet, verdict: OrganismVerdict) -> None:
    """For a scale whose crawlers are still to come: tape shows the day, better than any sum."""
    window = verdict.deciding
    if window is None or "crawler" not in window.window.name or verdict.word not in (TOO_EARLY, SOON):
        return
    first = window.opens.earliest or window.opens.likely
    if first is not None:
        mark = sheet.book.plain(
            "treat.crawlers",
            f"first crawlers of {verdict.name}",
            window.opens.likely.isoformat() if window.opens.likely else "unknown",
            span_words(window.opens),
            "season.crossing",
            unit="date",
            low=first.isoformat(),
            high=window.opens.latest.isoformat() if window.opens.latest else None,
        )
        sheet.short.append(
            f"First crawlers {mark}. Wrap a strip of double-sided tape round some twigs by {day_words(first)} and look "
            "at it every few days: crawlers stick to it."
        )


def _laws(sheet: Sheet, found: tuple[Option, ...], on: date) -> None:
    laws = {one.law.key: one.law for one in found if one.law is not None}
    for law in laws.values():
        if treatment.in_force(law, on):
            sheet.part(
                f"The law of {law.place}",
                f"{law.rule} ({law.material}; {law.status})",
                "Ask your county office what holds now.",
            )
        else:
            sheet.part(
                f"The law of {law.place}",
                f"What we have on file held from {day_words(law.since, year=True)} and was good until "
                f"{day_words(law.good_until, year=True)}. Ask your county office what holds now.",
            )
        sheet.more_sources.add(law.source)
