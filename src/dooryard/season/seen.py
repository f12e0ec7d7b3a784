"""What was seen, told in a line with its day: "2031-06-09: bags hatching (unsure)"."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Literal, cast

from dooryard.knowledge import Knowledge
from dooryard.problem import InputError, Problem
from dooryard.season.from_events import starts
from dooryard.season.names import Named
from dooryard.yard.model import Sighting

SURE = ("certain", "likely", "unsure")


def parse(
    lines: Sequence[str], named: Named, knowledge: Knowledge, on: date
) -> tuple[tuple[Sighting, ...], tuple[tuple[date, str], ...]]:
    """Sightings of the organisms asked about, and blooms as (day, words).

    A line whose words speak of a bloom is one; any other is a sign of the organism asked about, or, where a plant was
    asked about, of the one whose name it holds. A place may stand
    behind "at" in the words and counts as the plant; "(likely)" or "(unsure)" at the end says how sure the eye was.

    Raises
    ------
    InputError
        If a line has no day, no words, a day after `on`, or names a plant's bloom no table has.
    """
    problems = []
    sightings: list[Sighting] = []
    blooms: list[tuple[date, str]] = []
    plants = {bloom.plant.casefold() for bloom in knowledge.blooms}
    for line in lines:
        written, _, words = line.partition(":")
        try:
            day = date.fromisoformat(written.strip())
        except ValueError:
            day = None
        words, sure = _sure(words.strip())
        if day is None or not words:
            problems.append(
                Problem(
                    "This sighting has no day or no words.",
                    'Write it as "2031-06-09: bags hatching", with (likely) or (unsure) behind it if need be.',
                    field="--seen",
                    found=line,
                )
            )
        elif day > on:
            problems.append(
                Problem(
                    f"This was seen after the day asked, {on.isoformat()}.",
                    "Give the day it was seen, or ask for a later day with --on.",
                    field="--seen",
                    found=line,
                )
            )
        elif "bloom" in words.casefold() and not _starts_a_sum(words, named, knowledge):
            if not any(plant in words.casefold() for plant in plants):
                problems.append(
                    Problem(
                        "No table has the bloom of this plant.",
                        "dooryard season --list gives the plants whose bloom is known.",
                        field="--seen",
                        found=line,
                    )
                )
            blooms.append((day, words))
        else:
            place = words.partition(" at ")[2] or "as told"
            meant = _meant(words, named, knowledge)
            if not meant:
                problems.append(
                    Problem(
                        "This does not say which pest was seen.",
                        "Write its name in the line, or ask for the pest instead of the plant.",
                        field="--seen",
                        found=line,
                    )
                )
            sightings += [Sighting(day, place, key, words, sure) for key in meant]
    if problems:
        raise InputError(problems)
    return tuple(sightings), tuple(blooms)


def _meant(words: str, named: Named, knowledge: Knowledge) -> tuple[str, ...]:
    """The organism asked about; of a plant's, those whose name stands in the words."""
    if named.plant is None:
        return named.organisms
    said = words.casefold()
    return tuple(key for key in named.organisms if knowledge.organisms[key].name.casefold() in said)


def _starts_a_sum(words: str, named: Named, knowledge: Knowledge) -> bool:
    return any(starts(stage, words) for key in named.organisms for stage in knowledge.stages_of(key))


def _sure(words: str) -> tuple[str, Literal["certain", "likely", "unsure"]]:
    for word in SURE:
        if words.casefold().endswith(f"({word})"):
            sure = cast(Literal["certain", "likely", "unsure"], word)
            return words[: -len(word) - 2].strip(), sure
    return words, "certain"
