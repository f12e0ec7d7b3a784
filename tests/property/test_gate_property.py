"""The review gate over drawn texts: it is never broken, its places are true, and no good part hides a bad one."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard import knowledge as tables
from dooryard.letter.gate import RULES, Context, Stage, review
from dooryard.letter.gate.release import Override, release

ON = date(2031, 10, 12)
CONTEXT = Context(
    tables.load(), ON, (Stage("bagworm", "bagworm", "over"),), "bagworm", "juniper", names=("Imra Holt",)
)
BAD = {
    "brand": "Spray Brand-X on the leaves.",
    "mixture": "Pour vinegar over the weeds.",
    "label": "Use 3 oz per gallon.",
    "stage": "Spray the bagworms now.",
    "hazard tree": "The oak is safe.",
    "medical": "Take an antihistamine.",
    "policy": "Cut 40 % of the crown.",
    "caution": "Permethrin keeps borers out.",
    "private": "Call 555-201-7788.",
}
GOOD = (
    "Look at the tree each week.",
    "Pick off the bags by hand.",
    "Keep mulch off the bark.",
    "Call a certified arborist.",
    "Water in the morning, if the soil is dry.",
)
PIECES = st.lists(
    st.one_of(
        st.sampled_from([*BAD.values(), *GOOD]),
        st.text(max_size=30),
        st.sampled_from(["3 oz per", "Brand-", "®", "8 June", "50 %"]),
    ),
    max_size=8,
)


@given(PIECES, st.sampled_from([" ", "\n", "\n\n", ". ", "; "]))
def test_gate_places_hold_the_words_they_name(pieces: list[str], between: str) -> None:
    text = between.join(pieces)
    found = review(text, CONTEXT)
    assert [one.start for one in found] == sorted(one.start for one in found)
    for one in found:
        assert one.rule in RULES
        assert one.why
        assert one.instead
        assert one.places[0].start == one.start
        for place in one.places:
            assert text[place.start : place.end] == place.words != ""


@given(
    st.lists(st.sampled_from(GOOD), max_size=5),
    st.sampled_from(sorted(BAD)),
    st.lists(st.sampled_from(GOOD), max_size=5),
    st.sampled_from([" ", "\n\n", "\n- "]),
)
def test_gate_catches_a_bad_sentence_wherever_it_stands(
    before: list[str], rule: str, after: list[str], between: str
) -> None:
    text = between.join([*before, BAD[rule], *after])
    found = review(text, CONTEXT)
    assert rule in [one.rule for one in found]
    assert all(text.index(BAD[rule]) <= one.start < text.index(BAD[rule]) + len(BAD[rule]) for one in found)


@given(st.lists(st.sampled_from(GOOD), max_size=8), st.sampled_from([" ", "\n", "\n\n"]))
def test_gate_lets_good_sentences_pass_in_any_order(sentences: list[str], between: str) -> None:
    assert review(between.join(sentences), CONTEXT) == ()


@given(st.lists(st.sampled_from(sorted(BAD.values())), unique=True, max_size=6), st.data())
def test_release_is_open_as_long_as_one_reason_is(sentences: list[str], data: st.DataObject) -> None:
    found = review(" ".join(sentences), CONTEXT)
    set_aside = [one for one in found if data.draw(st.booleans())]
    held = release(found, [Override(one.key, "adviser", "known", ON) for one in set_aside])
    assert len(held.open) + len(held.overridden) == len(found)
    assert held.released == (not held.open)
    assert {one.key for one in held.open} == {one.key for one in found} - {one.key for one in set_aside}


@pytest.mark.parametrize("rule", sorted(BAD))
def test_gate_finds_the_same_whatever_the_line_breaks(rule: str) -> None:
    wrapped = BAD[rule].replace(" ", "\n  ")
    assert [one.rule for one in review(wrapped, CONTEXT)] == [one.rule for one in review(BAD[rule], CONTEXT)]
