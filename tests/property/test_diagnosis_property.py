"""Chances of causes against a general library and against the rules that any such reckoning keeps."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.stats import entropy

from dooryard.care import diagnosis
from dooryard.care.diagnosis import CEILINGS, WORDS, Numbers

CAUSES, SIGNS = 4, 5
shares = st.floats(0.01, 0.99)
priors = arrays(np.float64, CAUSES, elements=st.floats(0.01, 5.0))
tables = arrays(np.float64, (CAUSES, SIGNS), elements=shares)
answered = st.dictionaries(st.integers(0, SIGNS - 1), st.booleans())


@given(priors, tables, answered)
def test_posterior_is_bayes_rule_written_out(
    prior: Numbers, table: Numbers, answers: dict[int, bool]
) -> None:
    by_hand = [
        prior[cause]
        * math.prod(table[cause, sign] if seen else 1 - table[cause, sign] for sign, seen in answers.items())
        for cause in range(CAUSES)
    ]
    found = diagnosis.posterior(prior, table, answers)
    assert found == pytest.approx(np.array(by_hand) / sum(by_hand), rel=1e-9)


@given(priors)
def test_entropy_agrees_with_a_general_library(prior: Numbers) -> None:
    chance = prior / prior.sum()
    assert diagnosis.entropy_bits(chance) == pytest.approx(float(entropy(chance, base=2)), abs=1e-12)


@settings(deadline=None)
@given(priors, tables, answered)
def test_information_gain_is_the_mean_fall_of_entropy(
    prior: Numbers, table: Numbers, answers: dict[int, bool]
) -> None:
    gain = diagnosis.information_gain(prior, table, answers)
    now = diagnosis.posterior(prior, table, answers)
    for sign in range(SIGNS):
        if sign in answers:
            assert gain[sign] == 0
            continue
        yes = float(now @ table[:, sign])
        left = sum(
            chance * float(entropy(diagnosis.posterior(prior, table, {**answers, sign: seen}), base=2))
            for seen, chance in ((True, yes), (False, 1 - yes))
        )
        assert gain[sign] == pytest.approx(float(entropy(now, base=2)) - left, abs=1e-9)
        assert -1e-12 <= gain[sign] <= diagnosis.entropy_bits(now) + 1e-9


@given(priors, tables, answered, st.floats(0.02, 0.5))
def test_unlisted_cause_always_keeps_a_share(
    prior: Numbers, table: Numbers, answers: dict[int, bool], unlisted: float
) -> None:
    priors_, tables_ = diagnosis.with_unlisted(prior, table, unlisted, table.mean(axis=0))
    found = diagnosis.posterior(priors_, tables_, answers)
    assert found[-1] > 0
    assert found.max() < 1
    assert diagnosis.posterior(priors_, tables_, {})[-1] == pytest.approx(unlisted)


@given(priors, tables, answered, st.integers(0, SIGNS - 1))
def test_posterior_seen_sign_favours_the_cause_that_shows_it_most(
    prior: Numbers, table: Numbers, answers: dict[int, bool], sign: int
) -> None:
    answers = {key: seen for key, seen in answers.items() if key != sign}
    best = int(table[:, sign].argmax())
    before = diagnosis.posterior(prior, table, answers)[best]
    assert diagnosis.posterior(prior, table, {**answers, sign: True})[best] >= before - 1e-12


@given(st.floats(0, 1), st.sampled_from(["told", "photo", "sample", "lab"]))
def test_word_is_never_surer_than_its_evidence(chance: float, evidence: diagnosis.Evidence) -> None:
    found = diagnosis.word(chance, evidence, possible=0.3, probable=0.7)
    assert WORDS.index(found) <= WORDS.index(CEILINGS[evidence])
    assert (found == "confirmed") is (evidence == "lab")


def test_word_from_a_photo_is_at_most_probable() -> None:
    assert diagnosis.word(0.999, "photo", possible=0.3, probable=0.7) == "probable"
    assert diagnosis.word(0.999, "told", possible=0.3, probable=0.7) == "possible"
    assert diagnosis.word(0.2, "sample", possible=0.3, probable=0.7) == "cannot tell"
