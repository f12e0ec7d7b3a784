"""Label cards beside a yard file: which of the coming days each of them allows on the yard's own plants.

A card stands for a label in hand. Nothing is said of a material without one, and nothing of an amount here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from dooryard.care.card import Card, Use
from dooryard.care.log import Applied, season
from dooryard.plan.document import Stop
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.work.treat_days import Done, treat_days
from dooryard.season.windows import NOT_HERE, OVER, SOON, TOO_EARLY
from dooryard.words import day_words

# Crops of these kinds are eaten.
_EATEN = ("vegetable", "fruit")
LOOK_FIRST = "A card says how, not whether: look first, and treat only what you find."


@dataclass(frozen=True)
class Shelf:
    """What a household has in hand. cards : one for each label. log : treatments so far."""

    cards: tuple[Card, ...]
    log: tuple[Applied, ...] = ()


@dataclass(frozen=True)
class _Growing:
    """One plant or bed. kind : common name. eaten : whether anything of it is."""

    name: str
    kind: str
    in_bloom: bool | None
    eaten: bool


def describe(draft: Draft, shelf: Shelf, words: dict[str, str]) -> None:
    """Add a part for each use of each card that names something growing here.

    shelf : cards and log. words : organism's common name to its verdict word today, as far as judged.
    """
    for card in shelf.cards:
        for use, growing in _fitting(draft, card):
            _add(draft, card, use, growing, shelf.log, words)


def _fitting(draft: Draft, card: Card) -> Iterator[tuple[Use, _Growing]]:
    for growing in _everything(draft):
        for use in card.uses_on(growing.kind):
            yield use, growing


def _everything(draft: Draft) -> Iterator[_Growing]:
    for plant in draft.yard.plants:
        yield _Growing(plant.name, plant.kind, plant.in_bloom, eaten=False)
    for bed in draft.yard.beds:
        crop = draft.knowledge.crops.get(bed.grows)
        kinds = (bed.grows.replace("-", " "), crop.name if crop is not None else "")
        eaten = crop is not None and crop.kind in _EATEN
        # A crop's row may be called "tomatoes", a label says "tomato".
        yield _Growing(bed.name, min((kind for kind in kinds if kind), key=len), None, eaten)


def _add(
    draft: Draft, card: Card, use: Use, growing: _Growing, log: Sequence[Applied], words: dict[str, str]
) -> None:
    key = f"card.{slug(card.name)}.{slug(use.name)}.{slug(growing.name)}"
    title = f"{card.name} on the {growing.name}"
    closed = [
        (pest, words[pest]) for pest in use.pests if words.get(pest) in (TOO_EARLY, SOON, OVER, NOT_HERE)
    ]
    if closed and len(closed) == len(use.pests):
        said = [f"Not now: {'; '.join(f'{pest}: {word}' for pest, word in closed)}."]
        draft.walk.append(Stop("part", slug(key), title, tuple(said)))
        return
    if draft.forecast is None or draft.forecast.last < draft.on:
        said = ["Which days it allows cannot be said without a forecast: add one with --forecast."]
        draft.walk.append(Stop("part", slug(key), title, tuple(said)))
        return
    last, used = season(log, card.name, growing.name, draft.on)
    told = treat_days(
        draft.knowledge,
        draft.on,
        replace(card, uses=(use,)),
        plant=growing.kind,
        pest="",
        done=Done(last=last, used=used, in_bloom=growing.in_bloom),
        forecast=draft.forecast,
        record=draft.record,
        system=draft.yard.units,
    )
    for figure in told.figures.values():
        draft.book.add(replace(figure, id=f"{key}.{figure.id}"))
    said = [LOOK_FIRST, *(text.replace("[[", f"[[{key}.") for text in told.summary)]
    if growing.eaten:
        said.append(_picking(use))
    said += [f"{one.what}: {one.missing[:1].lower()}{one.missing[1:]}. {one.how}." for one in told.refusals]
    said.append(_since(last))
    table = next((stop.table for stop in told.walk if stop.name == "The foretold days"), None)
    draft.walk.append(Stop("part", slug(key), title, tuple(said), table))
    draft.caution(*told.cautions)
    draft.more_sources |= set(told.more_sources)


def _picking(use: Use) -> str:
    if use.harvest_d is None:
        return "The card has no days to picking, so it goes on nothing that is eaten: look for them on the label."
    if use.harvest_d == 0:
        return "By the label it may be picked on the same day, once dry. Wash what you pick."
    days = "1 day" if use.harvest_d == 1 else f"{use.harvest_d} days"
    return f"After it nothing is picked for {days}, by the label."


def _since(last: date | None) -> str:
    if last is None:
        return "No treatment with it stands in the log this year."
    return f"By the log it was last used there on {day_words(last)}."
