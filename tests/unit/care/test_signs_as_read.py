"""Signs as they are read: a household's word, a photo and a sample miss and mistake signs more or less often."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard import knowledge
from dooryard.care import diagnosis
from dooryard.care.suspects import UNLISTED, Suspects

KNOWN = knowledge.load()


def test_sign_as_read_is_seen_and_kept_or_unseen_and_mistaken() -> None:
    """There in 8 of 10, missed 1 in 10, mistaken 2 in 100: 0.72 + 0.004."""
    assert diagnosis.as_read(np.array(0.8), 0.1, 0.02) == pytest.approx(0.724)
    assert diagnosis.as_read(np.array([0.3, 0.9]), 0.0, 0.0) == pytest.approx([0.3, 0.9])


@given(st.floats(0.01, 0.99), st.floats(0.01, 0.99), st.floats(0, 0.49), st.floats(0, 0.49))
def test_sign_read_badly_tells_two_causes_apart_less(
    one: float, other: float, missed: float, mistaken: float
) -> None:
    """The odds that a seen sign gives never go beyond those of the sign itself."""
    read = diagnosis.as_read(np.array([one, other]), missed, mistaken)
    assert 0 < read.min() <= read.max() < 1
    assert abs(np.log(read[0] / read[1])) <= abs(np.log(one / other)) + 1e-9
    assert abs(np.log((1 - read[0]) / (1 - read[1]))) <= abs(np.log((1 - one) / (1 - other))) + 1e-9


@pytest.mark.parametrize(("missed", "mistaken"), [(0.5, 0.0), (0.0, 0.6), (-0.1, 0.0)])
def test_sign_read_wrongly_as_often_as_not_is_refused(missed: float, mistaken: float) -> None:
    with pytest.raises(ValueError, match="rightly more often"):
        diagnosis.as_read(np.array(0.5), missed, mistaken)


def test_better_evidence_is_surer_of_the_leader_and_leaves_less_to_what_nobody_listed() -> None:
    chance: dict[str, dict[str, float]] = {}
    for evidence in ("told", "photo", "sample"):
        suspects = Suspects(KNOWN, "tomato", month=7, verdicts={}, evidence=evidence)
        chance[evidence] = {one.key: one.chance for one in suspects.ranked(["rings", "lower-first"], [])}
        assert sum(chance[evidence].values()) == pytest.approx(1)
    told, photo, sample = (chance[evidence] for evidence in ("told", "photo", "sample"))
    assert told["early-blight"] < photo["early-blight"] < sample["early-blight"]
    assert told[UNLISTED] > photo[UNLISTED] > sample[UNLISTED]
