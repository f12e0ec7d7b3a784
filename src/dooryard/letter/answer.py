"""From a case file to a reviewed letter: files are opened here, and the gate runs on what would be sent."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from dooryard.care import card_file
from dooryard.care.card import Card
from dooryard.knowledge import Knowledge
from dooryard.knowledge.county import FOLDER, beside, with_county
from dooryard.letter import mail
from dooryard.letter.gate import Context, Finding, Policy, review, stage_of
from dooryard.letter.gate import policy as policies
from dooryard.letter.gate.release import Override, Release, release
from dooryard.plan.answer import case_reading
from dooryard.plan.answer.case import Case
from dooryard.plan.answer.grounds import Grounds, weigh
from dooryard.plan.answer.letter import Answer, Signature, answer
from dooryard.plan.files import fresh_record
from dooryard.season.verdicts import OrganismVerdict, judge_all
from dooryard.units import System
from dooryard.weather.outlook import ahead
from dooryard.weather.record import WeatherRecord
from dooryard.yard import file as yard_file
from dooryard.yard import syntax
from dooryard.yard.model import Yard

OFFICE = "office.toml"


@dataclass(frozen=True)
class Letter:
    """A letter and what the gate says of it. document : with its review. text : for e-mail. answer : its parts."""

    document: dict[str, Any]
    text: str
    answer: Answer
    release: Release

    @property
    def may_go(self) -> bool:
        """Whether it may be sent."""
        return self.release.released and not self.answer.moved


def from_files(
    path: Path, on: date, *, card: Path | None = None, weather: Path | None = None, county: Path | None = None
) -> Letter:
    """Read a case and all it names, and write the letter.

    path : the case file; other files are seen from its folder. card, weather : in place of those it names. county : a
    folder of own tables and `office.toml`, else the folder `county` beside the case. Raises InputError with all
    problems of a file.
    """
    folder = path.parent
    own = beside(path, county)
    knowledge = with_county(own)
    office = (own or folder / FOLDER) / OFFICE
    policy = policies.from_text(syntax.read_text(office), OFFICE, knowledge) if office.is_file() else Policy()
    case = case_reading.from_text(syntax.read_text(path), path.name, knowledge)
    yard = yard_file.read(folder / case.yard, knowledge) if case.yard else None
    case = _with_yard(case, yard)
    record_path = weather or (folder / case.weather if case.weather else None)
    if record_path is None and yard is not None and case.yard:
        record_path = yard_file.weather_path(folder / case.yard, yard)
    record = None if record_path is None else fresh_record(record_path, on)
    card_path = card or (folder / case.card if case.card else None)
    held = None if card_path is None else card_file.read(card_path, knowledge)
    return write(knowledge, case, on, policy=policy, record=record, card=held, yard=yard)


def write(
    knowledge: Knowledge,
    case: Case,
    on: date,
    *,
    policy: Policy,
    record: WeatherRecord | None = None,
    card: Card | None = None,
    yard: Yard | None = None,
) -> Letter:
    """The letter of a case, reviewed. record : the station's. card : the label in hand. yard : if there is a file."""
    verdicts = _verdicts(knowledge, record, on, case, yard)
    station = "" if record is None else record.station.name
    grounds = weigh(knowledge, case, on, verdicts=verdicts, station=station, card=card)
    signature = Signature(
        policy.office,
        policy.reviewer,
        policy.contact,
        policy.mail_to,
        policy.fee,
        policy.fairness,
        policy.offers,
    )
    system: System = "us" if yard is None else yard.units
    made = answer(knowledge, grounds, signature, system=system)
    document = made.plan.document()
    found = review(mail.render(document, width=None), _context(knowledge, grounds, made, document, policy))
    overrides = [Override(one.finding, one.by, one.reason, one.on) for one in case.overrides]
    held = release(found, overrides)
    document["review"] = _review(made, held)
    if not document["review"]["released"]:
        # On paper nobody sees the exit code.
        document["title"] = f"draft, not to be sent: {document['title']}"
    return Letter(document, mail.render(document), made, held)


def _with_yard(case: Case, yard: Yard | None) -> Case:
    """What the yard file knows of the plant, where the case does not say it."""
    plant = None if yard is None else next((one for one in yard.plants if one.kind == case.plant), None)
    if plant is None:
        return case
    return replace(
        case,
        height_m=plant.height_m if case.height_m is None else case.height_m,
        in_bloom=plant.in_bloom if case.in_bloom is None else case.in_bloom,
    )


def _verdicts(
    knowledge: Knowledge, record: WeatherRecord | None, on: date, case: Case, yard: Yard | None
) -> dict[str, OrganismVerdict]:
    if record is None:
        return {}
    known = {case.organism} if case.organism else set()
    keys = known or {cause.organism for cause in knowledge.causes.values() if cause.organism}
    ordered = sorted(keys)
    sightings = () if yard is None else yard.sightings
    found = judge_all(ordered, knowledge, record.until(on), ahead(record, on), on, sightings)
    return dict(zip(ordered, found, strict=True))


def _context(
    knowledge: Knowledge, grounds: Grounds, made: Answer, document: Mapping[str, Any], policy: Policy
) -> Context:
    case = grounds.case
    days = [made.plan.advice_ends, made.follow_up, *(edit.on for edit in case.edits)]
    days += [case.asked_on] if case.asked_on else []
    days += [grounds.card.read_on] if grounds.card else []
    return Context(
        knowledge=knowledge,
        on=grounds.on,
        stages=() if grounds.verdict is None else (stage_of(grounds.verdict),),
        subject=grounds.organism,
        plant=grounds.plant,
        figures=document["figures"],
        days=tuple(days),
        card=grounds.card,
        policy=policy,
        names=case.keep_out,
        places=(grounds.station, policy.office, policy.reviewer),
        known=tuple(f"{one['author']}, {one['title']}" for one in document["sources"].values()),
    )


def _review(made: Answer, held: Release) -> dict[str, Any]:
    return {
        "released": held.released and not made.moved,
        "open": [_finding(one) for one in held.open],
        "set_aside": [
            _finding(one) | {"by": by.by, "reason": by.reason, "on": by.on.isoformat()}
            for one, by in held.overridden
        ],
        "moved": [{"part": one.part, "new": list(one.new), "gone": list(one.gone)} for one in made.moved],
    }


def _finding(one: Finding) -> dict[str, Any]:
    return {
        "rule": one.rule,
        "key": one.key,
        "start": one.start,
        "end": one.end,
        "words": one.words,
        "why": one.why,
        "instead": one.instead,
    }
