"""Which cause is likely, from what was seen and what was not; and which next look would tell most.

Signs are taken as independent once the cause is given, which they are not quite: two words for one thing count
twice. A cause that nobody listed always keeps a share, so nothing is ever certain.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
Evidence = Literal["told", "photo", "sample", "lab"]
Word = Literal["cannot tell", "possible", "probable", "confirmed"]
WORDS: tuple[Word, ...] = ("cannot tell", "possible", "probable", "confirmed")
# What each kind of evidence can bear at most. Only a laboratory confirms.
CEILINGS: dict[Evidence, Word] = {
    "told": "possible",
    "photo": "probable",
    "sample": "probable",
    "lab": "confirmed",
}


def posterior(prior: Numbers, given: Numbers, answers: Mapping[int, bool]) -> Numbers:
    """Chance of each cause after what was seen and not seen (Bayes' rule).

    prior : (C,) chance before looking, any scale, zero or more; not all zero. given : (C, S) chance of each sign
    under each cause, strictly between 0 and 1. answers : sign's column to whether it was seen; signs that nobody
    looked for are left out and change nothing.

    Returns (C,) chances that add up to 1. Raises ValueError for numbers outside these bounds.
    """
    if prior.ndim != 1 or given.shape[:1] != prior.shape or bool((prior < 0).any()) or not prior.sum() > 0:
        raise ValueError("one prior of zero or more for each cause, not all zero")
    if bool((given <= 0).any()) or bool((given >= 1).any()):
        raise ValueError("chances of signs lie strictly between 0 and 1")
    with np.errstate(divide="ignore"):
        weight = np.log(prior)
    for sign, seen in answers.items():
        weight = weight + np.log(given[:, sign] if seen else 1 - given[:, sign])
    chance: Numbers = np.exp(weight - weight.max())
    found: Numbers = chance / chance.sum()
    return found


def entropy_bits(chance: Numbers) -> float:
    """How undecided a set of chances is [bit]: 0 if one is certain, log2(C) if all are alike. chance : adds up to 1."""
    some = chance[chance > 0]
    return float(-(some * np.log2(some)).sum())


def information_gain(prior: Numbers, given: Numbers, answers: Mapping[int, bool]) -> Numbers:
    """How much each sign, looked for next, lowers the entropy on average [bit].

    Arguments as for `posterior`. Returns (S,); 0 for signs already answered. It is never below zero.
    """
    now = posterior(prior, given, answers)
    seen = now @ given
    joint_yes = now[:, None] * given
    joint_no = now[:, None] * (1 - given)
    left = _entropies(joint_yes / seen) * seen + _entropies(joint_no / (1 - seen)) * (1 - seen)
    gain: Numbers = np.maximum(entropy_bits(now) - left, 0.0)
    gain[list(answers)] = 0.0
    return gain


def _entropies(chances: Numbers) -> Numbers:
    """Entropy of each column [bit]."""
    with np.errstate(divide="ignore", invalid="ignore"):
        terms = np.where(chances > 0, chances * np.log2(chances), 0.0)
    found: Numbers = -terms.sum(axis=0)
    return found


def with_unlisted(
    prior: Numbers, given: Numbers, unlisted: float, background: Numbers
) -> tuple[Numbers, Numbers]:
    """The same causes and, last, the one that nobody listed.

    prior : (C,). given : (C, S). unlisted : its share of the whole before looking, above 0 and below 1.
    background : (S,) how often each sign is met whatever the cause.
    """
    if not 0 < unlisted < 1:
        raise ValueError("the unlisted cause has a share between 0 and 1")
    scaled = prior / prior.sum() * (1 - unlisted)
    return np.append(scaled, unlisted), np.vstack([given, background])


def as_read(given: Numbers, missed: float, mistaken: float) -> Numbers:
    """Chance that a sign is said to be there, from the chance that it is there.

    given : any shape, chance of each sign. missed : share of signs that are there and are said not to be.
    mistaken : share of signs that are not there and are said to be. Raises ValueError unless both are below 0.5.
    """
    if not (0 <= missed < 0.5 and 0 <= mistaken < 0.5):
        raise ValueError("a sign is read rightly more often than not")
    found: Numbers = given * (1 - missed) + (1 - given) * mistaken
    return found


def word(chance: float, evidence: Evidence, *, possible: float, probable: float) -> Word:
    """How sure to sound about the leading cause, never surer than the evidence bears.

    chance : of that cause, 0 to 1. possible, probable : chances from which each word may be used. A laboratory's
    result is `confirmed` whatever the reckoning says.
    """
    if not 0 < possible < probable < 1:
        raise ValueError("possible comes before probable, both between 0 and 1")
    if evidence == "lab":
        return "confirmed"
    earned: Word = "probable" if chance >= probable else "possible" if chance >= possible else "cannot tell"
    return min(earned, CEILINGS[evidence], key=WORDS.index)
