"""The task that follows from an organism's verdict: go and look, act inside the window, or wait for it."""

from __future__ import annotations

from datetime import date, timedelta

from dooryard.knowledge import Organism
from dooryard.plan.draft import Draft
from dooryard.plan.organism_figures import moment_mark, verdict_sentence
from dooryard.plan.task import VERBS, Task
from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import CANNOT_TELL, CLOSING, NOW, SOON, TOO_EARLY
from dooryard.words import sentence


def add_task(draft: Draft, verdict: OrganismVerdict, place: str) -> None:
    """The task that follows from the word, if one does this season."""
    organism = draft.knowledge.organisms[verdict.organism]
    window = verdict.deciding
    if verdict.word in (NOW, CLOSING):
        verb, what = _order(verdict.do_now, place)
        end = window.closes.likely if window and window.closes.likely else draft.last_day
        last = max(draft.on, min(end, draft.last_day))
        # The order alone; what to look for stands with the task.
        draft.headline(1, f"{_name(verdict)}: {verdict.word}. {what.partition('. ')[0].rstrip('.')}.")
        _add(draft, verdict, verb, place, what, draft.on, last, min(draft.on + timedelta(days=2), last))
    elif verdict.word in (SOON, TOO_EARLY) and window is not None and window.opens.likely is not None:
        begin = max(window.opens.earliest or window.opens.likely, draft.on)
        end = max(window.closes.likely or window.opens.latest or begin, begin)
        if begin < draft.until:
            end = max(begin, min(end, draft.last_day))
        best = min(max(window.opens.likely, begin), end)
        what = f"Look over the {place} every few days for {verdict.name}. {organism.look}"
        if verdict.word == SOON:
            draft.headline(3, f"{_name(verdict)}: soon, {moment_mark(draft, verdict, window, 'opens')}.")
        _add(draft, verdict, "Look", place, what, begin, end, best)
    elif verdict.word == CANNOT_TELL and verdict.windows:
        what = f"Look over the {place} for {verdict.name}. {organism.look}"
        _add(draft, verdict, "Look", place, what, draft.on, draft.last_day, None)


def _order(text: str, place: str) -> tuple[str, str]:
    """One of the organism's sentences as verb and order, with the place named where it only says "the plant"."""
    verb = text.partition(" ")[0].rstrip(".:,")
    if verb not in VERBS:
        raise ValueError(f"{text!r} does not begin with one of the four verbs")
    said = text.replace("Look on the plant itself.", f"Look at the {place} first.").replace(
        "Look first.", f"Look at the {place} first."
    )
    return verb, sentence(plain_order(said))


def plain_order(text: str) -> str:
    """ "Do pick off bags" as "Pick off bags"; the other verbs stay."""
    rest = text.removeprefix("Do ")
    return rest[:1].upper() + rest[1:]


def _add(
    draft: Draft,
    verdict: OrganismVerdict,
    verb: str,
    place: str,
    what: str,
    begin: date,
    end: date,
    best: date | None,
) -> None:
    organism = draft.knowledge.organisms[verdict.organism]
    draft.tasks.append(
        Task(
            id=f"organism.{verdict.organism}",
            verb=verb,
            place=place,
            kind="organism",
            what=what,
            from_=begin,
            to=end,
            best=best,
            why=verdict_sentence(draft, verdict),
            cautions=_cautions(draft, organism, verdict.word),
            if_missed=sentence(plain_order(organism.do_over)),
            organism=verdict.organism,
        )
    )


def _cautions(draft: Draft, organism: Organism, word: str) -> tuple[str, ...]:
    keys: dict[str, None] = {}
    for row in draft.knowledge.treatments_of(organism.key):
        if word in (NOW, CLOSING, SOON):
            for key in row.cautions:
                keys.setdefault(key)
    return draft.caution(*keys)


def _name(verdict: OrganismVerdict) -> str:
    return verdict.name[:1].upper() + verdict.name[1:]
