"""Suspects: the causes that may be behind a complaint of one plant, as numbers that `diagnosis` can reckon with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from dooryard.care import diagnosis
from dooryard.care.diagnosis import Evidence, Numbers
from dooryard.knowledge import Cause, Knowledge
from dooryard.problem import InputError, Problem, nearest

UNLISTED = "unlisted"
# Verdicts on an organism that say its stage has not begun, so that what is seen now is hardly its work.
NOT_YET = ("too early",)


@dataclass(frozen=True)
class Ranked:
    """One suspect. key : of the cause, or "unlisted" for none of ours. chance : 0 to 1."""

    key: str
    chance: float


@dataclass(frozen=True)
class Look:
    """One next look. sign : which. gain_bits : how much it settles on average [bit]. told_apart : the two leading
    suspects it has the most different chances under.
    """

    sign: str
    gain_bits: float


class Suspects:
    """The causes of one plant's complaints. plant : as found in the tables."""

    def __init__(
        self,
        knowledge: Knowledge,
        plant: str,
        *,
        month: int,
        verdicts: Mapping[str, str],
        evidence: Evidence | None = None,
    ) -> None:
        """Take what may live on a plant.

        plant : a kind of plant, by its common name. month : 1 to 12, of the day asked. verdicts : organism to the
        verdict word at the station on that day, where a record is at hand; it counts more than the month.
        evidence : what the signs were read from, which says how often one is missed or mistaken; None for signs that
        are as told.
        Raises InputError if the plant is not known.
        """
        self.plant = _plant(knowledge, plant)
        groups = {self.plant, *_groups(knowledge, self.plant)}
        self.causes: tuple[Cause, ...] = tuple(
            cause for cause in knowledge.causes.values() if _lives_on(cause, groups)
        )
        self.signs = tuple(dict.fromkeys(sign for cause in self.causes for sign in cause.shows))
        fact = {key: knowledge.fact(key).value for key in _FACTS}
        met = {key: fact[f"sign.met_{knowledge.signs[key].met}"] for key in self.signs}
        given = np.array(
            [
                [
                    fact[f"sign.{cause.shows[sign]}"] if sign in cause.shows else met[sign]
                    for sign in self.signs
                ]
                for cause in self.causes
            ]
        )
        late = fact["cause.out_of_season"]
        prior = np.array(
            [
                fact[f"cause.{cause.how_common}"] * (1.0 if _in_season(cause, month, verdicts) else late)
                for cause in self.causes
            ]
        )
        background = np.array([fact["cause.unlisted_times"] * met[sign] for sign in self.signs])
        if evidence in _READ:
            misread = [knowledge.fact(key).value for key in _READ[evidence]]
            given, background = (diagnosis.as_read(one, *misread) for one in (given, background))
        self.prior, self.given = diagnosis.with_unlisted(prior, given, fact["cause.unlisted"], background)

    def ranked(self, seen: Sequence[str], unseen: Sequence[str]) -> tuple[Ranked, ...]:
        """Every suspect, the likeliest first. seen, unseen : signs that were looked for. Raises as `answers`."""
        chance = diagnosis.posterior(self.prior, self.given, self.answers(seen, unseen))
        keys = [*(cause.key for cause in self.causes), UNLISTED]
        return tuple(Ranked(keys[at], float(chance[at])) for at in np.argsort(-chance, kind="stable"))

    def looks(self, seen: Sequence[str], unseen: Sequence[str]) -> tuple[Look, ...]:
        """What to look for next, the most telling first. seen, unseen : signs that were looked for."""
        gain: Numbers = diagnosis.information_gain(self.prior, self.given, self.answers(seen, unseen))
        order = np.argsort(-gain, kind="stable")
        return tuple(Look(self.signs[at], float(gain[at])) for at in order if gain[at] > 0)

    def answers(self, seen: Sequence[str], unseen: Sequence[str]) -> dict[int, bool]:
        """Signs as columns. A sign that no suspect of this plant shows or denies changes nothing and is left out.

        Raises InputError if a sign was both seen and not seen.
        """
        both = sorted(set(seen) & set(unseen))
        if both:
            what = f"{', '.join(both)} cannot be seen and not seen."
            raise InputError(Problem(what, "Keep one of the two answers."))
        place = {sign: at for at, sign in enumerate(self.signs)}
        found = {place[sign]: True for sign in seen if sign in place}
        return found | {place[sign]: False for sign in unseen if sign in place}


_READ: dict[Evidence | None, tuple[str, str]] = {
    "told": ("look.missed_told", "look.mistaken_told"),
    "photo": ("look.missed_photo", "look.mistaken_photo"),
    "sample": ("look.missed_sample", "look.mistaken_sample"),
}
_FACTS = (
    "sign.always", "sign.usually", "sign.often", "sign.sometimes", "sign.rarely", "sign.never", "sign.met_common",
    "sign.met_uncommon", "sign.met_rare", "cause.common", "cause.uncommon", "cause.rare", "cause.out_of_season",
    "cause.unlisted", "cause.unlisted_times",
)  # fmt: skip


def plants(knowledge: Knowledge) -> tuple[str, ...]:
    """Kinds of plants that can be asked about, in order of the alphabet."""
    return tuple(sorted({*knowledge.plant_groups, *(host.plant_kind for host in knowledge.hosts)}))


def _plant(knowledge: Knowledge, plant: str) -> str:
    name = " ".join(plant.lower().replace("-", " ").split())
    known = plants(knowledge)
    if name in known:
        return name
    if name.endswith("s") and name[:-1] in known:
        return name[:-1]
    hint = nearest(name, known) or "Give its common name, such as magnolia, tomato or lawn."
    raise InputError(
        Problem("We do not know this plant, so we name no cause.", hint, field="--plant", found=plant)
    )


def _groups(knowledge: Knowledge, plant: str) -> tuple[str, ...]:
    row = knowledge.plant_groups.get(plant)
    if row is not None:
        return row.groups
    # "pin oak" is an oak: the last word of a name is its kind.
    kind = plant.split()[-1]
    row = knowledge.plant_groups.get(kind)
    return (kind, *row.groups) if row is not None else ()


def _lives_on(cause: Cause, groups: set[str]) -> bool:
    return bool(groups & set(cause.plants)) or ("any" in cause.plants and "turf" not in groups)


def _in_season(cause: Cause, month: int, verdicts: Mapping[str, str]) -> bool:
    word = verdicts.get(cause.organism, "")
    if word:
        return word not in NOT_YET
    first, last = cause.months
    return first <= month <= last if first <= last else month >= first or month <= last
