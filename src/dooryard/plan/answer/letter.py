"""The ten parts of an answer letter, in order, as one document. Every number in it is a figure."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from dooryard.care import treatment
from dooryard.care.suspects import UNLISTED
from dooryard.care.treatment import KILLING
from dooryard.figure import Figure, Input
from dooryard.knowledge import Knowledge
from dooryard.plan.answer import edits, wording
from dooryard.plan.answer.case import PARTS, Part
from dooryard.plan.answer.edits import Moved
from dooryard.plan.answer.grounds import Grounds
from dooryard.plan.diagnosis_report import LEAST_GAIN
from dooryard.plan.document import Plan, Stop
from dooryard.plan.task import Task
from dooryard.plan.treatment_words import WHY
from dooryard.plan.work.sheet import Sheet
from dooryard.plan.work.treat import NAMES
from dooryard.season.sentences import span_words
from dooryard.season.windows import CLOSING, NOW, OVER, SOON, TOO_EARLY
from dooryard.units import System
from dooryard.words import sentence

HEADINGS: dict[Part, str] = {
    "summary": "In short",
    "confidence": "How sure we are",
    "seen": "What was seen, and what was not",
    "options": "What can be done, mildest first",
    "timing": "When",
    "amounts": "How much",
    "cautions": "Cautions",
    "sample": "When to send a sample",
    "follow-up": "When to look again",
    "sources": "Who says so",
}


@dataclass(frozen=True)
class Signature:
    """How the office ends its letters. All may be empty but office and reviewer."""

    office: str
    reviewer: str
    contact: Sequence[str] = ()
    mail_to: str = ""
    fee: str = ""
    fairness: str = ""
    offers: str = ""


@dataclass(frozen=True)
class Answer:
    """A letter. plan : the document. computed : each part's own words, figures spelled out. moved : edits to look at.

    follow_up : the day to look again.
    """

    plan: Plan
    computed: Mapping[Part, str]
    moved: tuple[Moved, ...]
    follow_up: date


def answer(knowledge: Knowledge, grounds: Grounds, signature: Signature, *, system: System = "us") -> Answer:
    """The letter that answers a case. signature : how the office ends it."""
    title = f"Answer to {grounds.case.code}"
    sheet = Sheet(title, knowledge, grounds.on, system, report="letter")
    sheet.more_sources.add("S-OWN")
    due = _follow_up(sheet, grounds)
    computed: dict[Part, list[str]] = {
        "summary": _summary(sheet, grounds, due),
        "confidence": _confidence(sheet, grounds),
        "seen": _seen(sheet, grounds),
        "options": _options(sheet, grounds),
        "timing": _timing(sheet, grounds),
        "amounts": _amounts(sheet, grounds),
        "cautions": _cautions(sheet, grounds),
        "sample": _sample(grounds, signature),
        "follow-up": _again(sheet, grounds, due),
    }
    computed["sources"] = _sources(sheet, signature)
    spelled = {part: _spelled(said, sheet.book.figures) for part, said in computed.items()}
    said, moved = edits.laid_over(computed, grounds.case.edits, spelled)
    sheet.short += said["summary"]
    for part in PARTS[1:]:
        sheet.stops.append(Stop("part", part, HEADINGS[part], said[part]))
    task = Task(
        id="letter.look-again",
        verb="Look",
        place=grounds.plant,
        kind="organism",
        what=f"Look at the {grounds.plant} again",
        from_=due,
        to=due,
        why="To see whether it helped",
        if_missed="Look as soon as you can",
    )
    heading = f"answer about the {grounds.plant}"
    plan = replace(
        sheet.finish(), ahead=(task,), until=min(due, grounds.on + timedelta(days=14)), title=heading
    )
    return Answer(plan, spelled, moved, due)


def _spelled(said: Sequence[str], figures: Mapping[str, Figure]) -> str:
    return re.sub(r"\[\[([^\]]+)\]\]", lambda found: figures[found[1]].shown, " ".join(said))


def _name(sheet: Sheet, grounds: Grounds) -> str:
    """What it is called: the cause, else the pest, else nothing."""
    if grounds.cause is not None:
        return grounds.cause.name
    return sheet.knowledge.organisms[grounds.organism].name if grounds.organism else ""


def _summary(sheet: Sheet, grounds: Grounds, due: date) -> list[str]:
    name = _name(sheet, grounds)
    stage = grounds.stage if grounds.organism and grounds.verdict is not None else ""
    mild = treatment.mildest(grounds.options)
    by_hand = mild is not None and mild.treatment.kind not in KILLING
    if grounds.word == "cannot tell":
        grave = _grave(sheet, grounds)
        step = wording.look_today(grave[0]) if grave else "Take the look below first, and spray nothing."
    elif stage == OVER and mild is not None and by_hand:
        step = mild.treatment.action
    elif grounds.cause is not None:
        step = grounds.cause.first.split(". ")[0]
    elif mild is not None and by_hand:
        step = mild.treatment.action
    else:
        step = "Look at it once a week."
    waits = stage in (TOO_EARLY, SOON)
    urgent = grounds.cause is not None and grounds.cause.urgent
    second = (
        "Tell us today, and leave the plant as it is."
        if urgent
        else wording.what_to_do(stage, step, due if waits else None)
    )
    return [wording.what_it_is(grounds.word, name, grounds.plant), second]


def _confidence(sheet: Sheet, grounds: Grounds) -> list[str]:
    case = grounds.case
    said = wording.how_sure(grounds.word, case.evidence)
    if grounds.cause is not None and not case.lab and not case.organism:
        chance = grounds.ranked[0].chance
        mark = sheet.book.plain(
            "letter.chance",
            f"chance of {grounds.cause.name}",
            chance,
            f"about {min(9, max(1, round(chance * 10)))} in 10",
            "care.diagnosis",
            exact=f"{chance:.3f}",
            inputs=[Input("seen", wording.names(_spoken(case.seen)) or "nothing", "given")],
        )
        said.append(f"By the signs told, the chance is {mark}.")
    said += _rivals(sheet, grounds)
    looks = [one for one in grounds.looks if one.gain_bits >= LEAST_GAIN]
    question = sheet.knowledge.signs[looks[0].sign].question if looks else ""
    if grounds.word != "confirmed":
        said.append(wording.would_change(question))
    return said


def _rivals(sheet: Sheet, grounds: Grounds) -> list[str]:
    """Other causes that fit nearly as well, and those that cannot wait, however unlikely they look."""
    case, first = grounds.case, grounds.ranked[0]
    if case.lab or case.organism or not (case.seen or case.unseen):
        return []
    leading = "" if grounds.cause is None else grounds.cause.key
    others = [one for one in grounds.ranked if one.key not in (UNLISTED, leading)]
    causes = sheet.knowledge.causes
    near = [causes[one.key].name for one in others[:2] if one.chance > first.chance / 2]
    said = [wording.as_well(near, known=bool(leading))] if near else []
    return [*said, *(wording.cannot_wait(name) for name in _grave(sheet, grounds))]


def _grave(sheet: Sheet, grounds: Grounds) -> list[str]:
    """Names of causes beside the leading one that cannot wait and are likely enough to be told."""
    case, causes = grounds.case, sheet.knowledge.causes
    if case.lab or case.organism or not (case.seen or case.unseen):
        return []
    least = sheet.fact("cause.urgent_from")
    leading = "" if grounds.cause is None else grounds.cause.key
    return [
        causes[one.key].name
        for one in grounds.ranked
        if one.key not in (UNLISTED, leading) and one.chance >= least and causes[one.key].urgent
    ]


def _spoken(signs: Sequence[str]) -> list[str]:
    return [sign.replace("-", " ") for sign in signs]


def _seen(sheet: Sheet, grounds: Grounds) -> list[str]:
    case, signs = grounds.case, sheet.knowledge.signs
    said = [f"You asked: {sentence(case.question)}"] if case.question else []
    said += [f"Seen: {signs[key].question}" for key in case.seen]
    said += [f"Looked for and not seen: {signs[key].question}" for key in case.unseen]
    if not case.seen and not case.unseen:
        said.append("No sign was told to us.")
    return [*said, wording.who_looked(case.who)]


def _options(sheet: Sheet, grounds: Grounds) -> list[str]:
    said = [
        wording.option(
            NAMES.get(one.treatment.kind, one.treatment.kind),
            one.treatment.action,
            one.treatment.when,
            [WHY[why] for why in one.blocked],
        )
        for one in grounds.options
    ]
    sheet.more_sources |= {one.treatment.source for one in grounds.options}
    if grounds.cause is not None:
        sheet.more_sources.add(grounds.cause.source)
        if not said:
            said = wording.without_material(grounds.cause.first, urgent=grounds.cause.urgent)
    return said or ["Do nothing to the plant until we know more.", "Keep it watered when the soil is dry."]


def _timing(sheet: Sheet, grounds: Grounds) -> list[str]:
    name = _name(sheet, grounds)
    if not name:
        return ["We name no time before we know what it is."]
    if not grounds.organism:
        return [wording.months_said(name, grounds.cause.months)] if grounds.cause else []
    said = [wording.stage_said(grounds.stage, sheet.knowledge.organisms[grounds.organism].name)]
    verdict = grounds.verdict
    if verdict is None:
        return [
            *said,
            "We have no weather record of your place. Send us the name of your town, and we look it up.",
        ]
    window = verdict.deciding
    if window is None:
        said.append(f"By the weather of {grounds.station}: {sentence(verdict.reason)}")
    else:
        said.append(f"We go by the weather of {grounds.station}, and by {window.window.name}.")
    if window is not None:
        bounds = (
            (window.opens, "begins", "began", window.window.opens),
            (window.closes, "ends", "ended", window.window.closes),
        )
        for moment, verb, done, stage in bounds:
            if moment.likely is None and moment.earliest is None:
                continue
            mark = sheet.book.plain(
                f"letter.{verb}",
                f"{window.window.name} of {verdict.name} {verb}",
                (moment.likely or moment.earliest or grounds.on).isoformat(),
                span_words(moment),
                "season.crossing",
                unit="date",
                inputs=_heat(sheet, grounds, stage),
                low=moment.earliest.isoformat() if moment.earliest else None,
                high=moment.latest.isoformat() if moment.latest else None,
            )
            said.append(f"Its time {done if moment.passed else verb}: {mark}.")
    if verdict.conflict:
        said.append("The published tables do not agree here, so look from the earliest day on.")
    return said


def _heat(sheet: Sheet, grounds: Grounds, stage: str) -> tuple[Input, ...]:
    """What a date rests on: the published number, and the station."""
    row = sheet.knowledge.stages[stage]
    station = Input("weather of", grounds.station, "given")
    if row.dd_low is None or row.base is None:
        return (station,)
    number = f"{row.dd_low:g} °{row.unit}·d above {row.base:g} °{row.unit}"
    return (Input(f"{row.stage}, as published for {row.place}", number, row.source), station)


def _amounts(sheet: Sheet, grounds: Grounds) -> list[str]:
    card, rated = grounds.card, [use for use in grounds.uses if use.rate is not None]
    if card is None or not rated:
        said = [wording.no_amount()]
        return said if card is None else ["The label card in hand does not name this plant and pest.", *said]
    if grounds.stage not in (NOW, CLOSING):
        return ["We name no amount now, since it is not the time.", wording.no_amount()]
    told = []
    for use in rated:
        assert use.rate is not None
        mark = sheet.book.plain(
            f"letter.rate.{use.name}",
            f"amount on the label for {use.name}",
            use.rate.high,
            use.rate.text,
            "letter.label",
            unit="as typed",
            exact=use.rate.text,
            inputs=[Input("label card", card.name, "given"), Input("read by", card.read_by, "given")],
        )
        told.append(wording.amount(mark, use.name, card.read_on))
    return told


def _cautions(sheet: Sheet, grounds: Grounds) -> list[str]:
    keys = dict.fromkeys(
        key
        for one in grounds.options
        if one.treatment.kind in KILLING and "not here" not in one.blocked
        for key in one.treatment.cautions
    )
    if keys:
        keys |= {"bees-bloom": None, "poison-help": None}
    keys |= {key: None for one in grounds.options for key in one.treatment.cautions}
    sheet.more_sources |= {sheet.knowledge.cautions[key].source for key in keys}
    return [sheet.knowledge.cautions[key].text for key in keys] or [
        "Nothing is to be sprayed, so no caution is due."
    ]


def _sample(grounds: Grounds, signature: Signature) -> list[str]:
    if grounds.word == "confirmed":
        return ["No further sample is needed."]
    what = grounds.cause.send if grounds.cause is not None else ""
    said = [
        "Send one if it spreads, or if much hangs on it.",
        f"What to send: {what[:1].lower()}{what[1:]}"
        if what
        else "Take a part where sound and sick meet, not a dead one.",
        "Wrap it in dry paper and add no water. Put roots with their soil in a bag of their own, and the form apart.",
        "Mail it early in the week. Add photos: the whole plant, the part, and one close up with a coin beside it.",
    ]
    if signature.mail_to:
        said.append(f"Send it to {signature.mail_to}.")
    said.append(
        f"The laboratory asks {signature.fee}."
        if signature.fee
        else "Ask us first what the laboratory takes for it."
    )
    return said


def _follow_up(sheet: Sheet, grounds: Grounds) -> date:
    """The day to look again: the case's own, the day its stage may begin, else two weeks on."""
    if grounds.case.follow_up is not None:
        return grounds.case.follow_up
    verdict = grounds.verdict
    if verdict is not None and grounds.stage in (TOO_EARLY, SOON) and verdict.deciding is not None:
        first = verdict.deciding.opens.earliest or verdict.deciding.opens.likely
        if first is not None and first > grounds.on:
            return first
    return grounds.on + timedelta(days=round(sheet.fact("letter.follow_up")))


def _again(sheet: Sheet, grounds: Grounds, due: date) -> list[str]:
    sign = sheet.knowledge.organisms[grounds.organism].look.split(". ")[0] if grounds.organism else ""
    return wording.look_again(due, sign)


def _sources(sheet: Sheet, signature: Signature) -> list[str]:
    known = sheet.knowledge.sources
    titles = [
        f"{known[key].author}, {known[key].title}" for key in sorted(sheet.more_sources) if key in known
    ]
    said = [wording.sources(titles), f"Answered by {signature.reviewer} of {signature.office}."]
    if signature.contact:
        said.append(f"You reach us at {wording.names(signature.contact)}.")
    return [*said, *(line for line in (signature.fairness, signature.offers) if line)]
