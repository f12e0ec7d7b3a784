"""A diagnosis in words: the likeliest causes, how sure, what to look at next, what to do first, what to send."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from dooryard.care import diagnosis
from dooryard.care.diagnosis import Evidence, Word
from dooryard.care.suspects import UNLISTED, Ranked, Suspects
from dooryard.figure import Input
from dooryard.knowledge import Cause, Knowledge
from dooryard.plan.document import Plan, Table
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem, nearest
from dooryard.units import System
from dooryard.words import list_words

MOST_CAUSES = 6
MOST_LOOKS = 3
# A look that settles less than this is not worth a walk to the plant [bit].
LEAST_GAIN = 0.02
EVIDENCE: dict[Evidence, str] = {
    "told": "nobody but the household has looked",
    "photo": "a photo was seen",
    "sample": "a sample was seen",
    "lab": "the laboratory's result",
}
KINDS = {
    "insect": "insect",
    "mite": "mite",
    "disease": "disease",
    "abiotic": "no living cause",
    "animal": "animal",
    "normal": "no harm",
}


@dataclass(frozen=True)
class Complaint:
    """What was told. plant : common name. seen, unseen : keys of signs. evidence : what was looked at.

    lab : key of the cause a laboratory named, with evidence "lab".
    """

    plant: str
    seen: tuple[str, ...] = ()
    unseen: tuple[str, ...] = ()
    evidence: Evidence = "told"
    lab: str = ""


def sign_keys(knowledge: Knowledge, words: Sequence[str]) -> tuple[str, ...]:
    """Keys of the signs a person named, by key or by words. InputError with a near one for each that is not known."""
    found, problems = [], []
    by_name = {key.replace("-", " "): key for key in knowledge.signs}
    for word in words:
        name = " ".join(word.lower().replace("-", " ").split())
        if name in by_name:
            found.append(by_name[name])
            continue
        hint = nearest(name, by_name).replace("Did you mean", "Did you mean the sign")
        within = [
            row.key
            for row in knowledge.signs.values()
            if len(name) > 3 and word.lower() in f"{row.question} {row.look}".lower()
        ]
        if within and not hint:
            hint = f"Did you mean the sign {' or '.join(within[:3])}?"
        hint = hint or "--signs lists them."
        problems.append(Problem("We know no sign of this name.", hint, field="--yes, --no", found=word))
    if problems:
        raise InputError(problems)
    return tuple(dict.fromkeys(found))


def diagnose(
    knowledge: Knowledge,
    on: date,
    complaint: Complaint,
    *,
    verdicts: Mapping[str, str],
    weather: str = "",
    system: System = "us",
) -> Plan:
    """What may be behind a complaint. verdicts : organism to verdict word at the station that day; empty without one.

    weather : the station's name, if verdicts come from its record. Raises InputError for an unknown plant, or a
    laboratory's cause that is not listed.
    """
    suspects = Suspects(
        knowledge, complaint.plant, month=on.month, verdicts=verdicts, evidence=complaint.evidence
    )
    sheet = Sheet(f"What is wrong with the {suspects.plant}", knowledge, on, system, report="look")
    ranked = suspects.ranked(complaint.seen, complaint.unseen)
    if complaint.evidence == "lab":
        _lab(sheet, complaint)
    elif not complaint.seen and not complaint.unseen:
        _nothing_told(sheet)
    else:
        _leading(sheet, complaint, ranked)
        _urgent(sheet, ranked)
    _seen(sheet, complaint)
    if complaint.evidence != "lab":
        _list(sheet, ranked, verdicts, weather)
        _looks(sheet, suspects, complaint)
    _sample(sheet, complaint, ranked)
    return sheet.finish()


def sure(sheet: Sheet, chance: float, evidence: Evidence) -> Word:
    """The word for how sure one may be."""
    return diagnosis.word(
        chance, evidence, possible=sheet.fact("cause.possible"), probable=sheet.fact("cause.probable")
    )


def _lab(sheet: Sheet, complaint: Complaint) -> None:
    cause = sheet.knowledge.causes.get(complaint.lab)
    if cause is None:
        hint = (
            nearest(complaint.lab, sheet.knowledge.causes) or "Give the key of a cause, such as late-blight."
        )
        raise InputError(Problem("No cause has this name.", hint, field="--lab", found=complaint.lab))
    sheet.short += [f"Confirmed by the laboratory: {cause.name}.", f"First step: {cause.first}"]
    _organism(sheet, cause)


def _nothing_told(sheet: Sheet) -> None:
    sheet.short.append("Nothing was told yet, so we name no cause. Begin with the looks below.")
    sheet.refuse(
        "We will not name a cause",
        "Nobody has looked yet",
        'Answer the questions with --yes and --no, or let the program ask with "--ask"',
    )


def _leading(sheet: Sheet, complaint: Complaint, ranked: tuple[Ranked, ...]) -> None:
    first = ranked[0]
    word = sure(sheet, first.chance, complaint.evidence) if first.key != UNLISTED else "cannot tell"
    if word == "cannot tell":
        sheet.short.append("From what was seen we cannot tell yet.")
        sheet.refuse(
            "We will not name one cause",
            "What was seen fits several, or none that we list",
            "Take the next looks below, or send a sample",
        )
        return
    cause = sheet.knowledge.causes[first.key]
    mark = _chance(sheet, first, complaint)
    sheet.short.append(
        f"The likeliest is {cause.name}, {mark}: {word}, since {EVIDENCE[complaint.evidence]}."
    )
    sheet.short.append(f"First step: {cause.first}")
    close = [one for one in ranked[1:3] if one.key != UNLISTED and one.chance > first.chance / 2]
    if close:
        names = list_words([sheet.knowledge.causes[one.key].name for one in close], "or")
        sheet.short.append(f"It could be {names} as well: take the next look before you act.")
    _organism(sheet, cause)


def _urgent(sheet: Sheet, ranked: tuple[Ranked, ...]) -> None:
    """Causes that cannot wait are named, likeliest or not."""
    least = sheet.fact("cause.urgent_from")
    for one in ranked:
        if one.key != UNLISTED and one.chance >= least and sheet.knowledge.causes[one.key].urgent:
            cause = sheet.knowledge.causes[one.key]
            sheet.short.append(
                f"It may be {cause.name}, which spreads fast, is to be reported, or can hurt people. Tell your county "
                f"office today. {cause.first}"
            )


def _organism(sheet: Sheet, cause: Cause) -> None:
    if cause.organism:
        name = sheet.knowledge.organisms[cause.organism].name
        sheet.short.append(f'Whether now is the time for anything else: ask "dooryard season" for {name}.')


def _chance(sheet: Sheet, one: Ranked, complaint: Complaint) -> str:
    inputs = [Input("seen", list_words(_names(sheet, complaint.seen)) or "nothing", "given")]
    if complaint.unseen:
        inputs.append(Input("not seen", list_words(_names(sheet, complaint.unseen)), "given"))
    return sheet.book.plain(
        f"look.{one.key}",
        f"chance of {sheet.knowledge.causes[one.key].name}",
        one.chance,
        _tenths(one.chance),
        "care.diagnosis",
        exact=f"{one.chance:.3f}",
        inputs=inputs,
    )


def _tenths(chance: float) -> str:
    """A coarse chance for coarse words: "about 6 in 10"."""
    if chance < 0.05:
        return "less than 1 in 20"
    return f"about {min(9, max(1, round(chance * 10)))} in 10"


def _names(sheet: Sheet, signs: Sequence[str]) -> list[str]:
    return [key.replace("-", " ") for key in signs if key in sheet.knowledge.signs]


def _seen(sheet: Sheet, complaint: Complaint) -> None:
    said = [f"Yes: {sheet.knowledge.signs[key].question}" for key in complaint.seen]
    said += [f"No: {sheet.knowledge.signs[key].question}" for key in complaint.unseen]
    if said:
        sheet.part("What was seen, and what was not", *said)


def _list(sheet: Sheet, ranked: tuple[Ranked, ...], verdicts: Mapping[str, str], weather: str) -> None:
    least = sheet.fact("cause.told_least")
    rows: list[tuple[str, ...]] = []
    for one in ranked[: MOST_CAUSES + 1]:
        if one.chance < least:
            continue
        if one.key == UNLISTED:
            rows.append(("none that we list", _tenths(one.chance), "", ""))
            continue
        cause = sheet.knowledge.causes[one.key]
        word = verdicts.get(cause.organism, "")
        rows.append((cause.name, _tenths(one.chance), KINDS[cause.kind], word))
    columns = [("Cause", "left"), ("Chance", "left"), ("Kind", "left")]
    if weather:
        columns.append((f"Season at {weather}", "left"))
    else:
        rows = [row[:3] for row in rows]
    sheet.part(
        "The causes that fit best",
        "The chances are coarse: they come from words such as usually and seldom, not from counts.",
        table=Table("Causes, the likeliest first", tuple(columns), tuple(rows)),
    )


def _looks(sheet: Sheet, suspects: Suspects, complaint: Complaint) -> None:
    looks = [
        look for look in suspects.looks(complaint.seen, complaint.unseen) if look.gain_bits >= LEAST_GAIN
    ][:MOST_LOOKS]
    if not looks:
        return
    sheet.part(
        "What to look at next, the most telling first",
        *(
            f"{sheet.knowledge.signs[look.sign].question} {sheet.knowledge.signs[look.sign].look}"
            for look in looks
        ),
    )


def _sample(sheet: Sheet, complaint: Complaint, ranked: tuple[Ranked, ...]) -> None:
    first = next((one for one in ranked if one.key != UNLISTED), None)
    if first is None or complaint.evidence == "lab":
        return
    what = sheet.knowledge.causes[first.key].send
    if not what and first.chance >= sheet.fact("cause.possible"):
        return
    sheet.part(
        "If it matters, send a sample",
        what or "A part with the line between sound and sick, not a dead one.",
        "Pack it dry in paper, add no water, put roots with soil in a bag of their own, and the form apart. Mail it "
        "early in the week.",
        "Add photos of the whole plant, of the part, and close up with a coin beside it.",
    )
