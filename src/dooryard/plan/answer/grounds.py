"""What an answer rests on: the leading cause, how sure one may be, the verdict of the season, what may be done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from dooryard.care import diagnosis, treatment
from dooryard.care.card import Card, Use
from dooryard.care.diagnosis import Word
from dooryard.care.suspects import UNLISTED, Look, Ranked, Suspects
from dooryard.care.treatment import Option, Site
from dooryard.knowledge import Cause, Knowledge
from dooryard.plan.answer.case import Case
from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import CANNOT_TELL


@dataclass(frozen=True)
class Grounds:
    """Everything the parts of a letter are made from.

    plant : in words. ranked : causes, the likeliest first. cause : the leading one, None if it cannot be told or the
    pest was known. organism : its key, or empty. word : how sure. looks : next looks, the most telling first. verdict :
    on the organism that day, None without a record. station : its name. options : what may be done, mildest first.
    card, uses : the label card, and what it allows here.
    """

    case: Case
    on: date
    plant: str
    ranked: tuple[Ranked, ...]
    cause: Cause | None
    organism: str
    word: Word
    looks: tuple[Look, ...]
    verdict: OrganismVerdict | None
    station: str
    options: tuple[Option, ...]
    card: Card | None
    uses: tuple[Use, ...]

    @property
    def stage(self) -> str:
        """The verdict's word; without a record it cannot be told."""
        return CANNOT_TELL if self.verdict is None else self.verdict.word


def weigh(
    knowledge: Knowledge,
    case: Case,
    on: date,
    *,
    verdicts: Mapping[str, OrganismVerdict],
    station: str = "",
    card: Card | None = None,
) -> Grounds:
    """The grounds of an answer. verdicts : by organism, at the station that day; empty without a record."""
    words = {key: one.word for key, one in verdicts.items()}
    suspects = Suspects(knowledge, case.plant, month=on.month, verdicts=words)
    ranked = suspects.ranked(case.seen, case.unseen)
    cause, word = _cause(knowledge, case, ranked)
    organism = case.organism or (cause.organism if cause else "")
    verdict = verdicts.get(organism)
    site = Site(case.in_bloom, case.height_m, case.state, case.near_water)
    options: tuple[Option, ...] = ()
    if organism:
        stage = CANNOT_TELL if verdict is None else verdict.word
        options = treatment.options(knowledge, organism, stage, site, on, knowledge.fact("spray.reach").value)
    pest = knowledge.organisms[organism].name if organism else cause.name if cause else ""
    return Grounds(
        case=case,
        on=on,
        plant=suspects.plant,
        ranked=ranked,
        cause=cause,
        organism=organism,
        word=word,
        looks=() if case.lab or case.organism else suspects.looks(case.seen, case.unseen),
        verdict=verdict,
        station=station,
        options=options,
        card=card,
        uses=card.uses_on(suspects.plant, pest) if card is not None and pest else (),
    )


def _cause(knowledge: Knowledge, case: Case, ranked: tuple[Ranked, ...]) -> tuple[Cause | None, Word]:
    if case.lab:
        return knowledge.causes[case.lab], "confirmed"
    if case.organism:
        named = [one for one in knowledge.causes.values() if one.organism == case.organism]
        return (named[0] if named else None), diagnosis.CEILINGS[case.evidence]
    first = ranked[0]
    if not (case.seen or case.unseen) or first.key == UNLISTED:
        return None, "cannot tell"
    word = diagnosis.word(
        first.chance,
        case.evidence,
        possible=knowledge.fact("cause.possible").value,
        probable=knowledge.fact("cause.probable").value,
    )
    return (None if word == "cannot tell" else knowledge.causes[first.key]), word
