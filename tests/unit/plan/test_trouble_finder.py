"""The trouble finder answers what owners ask afterwards, by their own words."""

from __future__ import annotations

import pytest

from dooryard.knowledge import Knowledge
from dooryard.plan.troubles import by_symptom, find, topics
from dooryard.problem import InputError

# What owners ask after a workshop, as they say it.
ASKED = (
    "overflow", "basement", "screen", "smell", "green", "low pressure", "soaker", "drip", "leak", "crack", "leaning",
    "bulging", "freezing", "mosquitoes", "paint", "bigger tank", "pump", "vegetables", "pets", "money",
    "homeowner association", "hose end", "ice", "white film", "pollen", "ants", "roof treated", "replaced",
    "houseplants", "neighbor", "join", "how do i join two", "my barrel leaks", "Does it save money?",
)  # fmt: skip


@pytest.mark.parametrize("words", ASKED)
def test_trouble_finder_has_an_entry_for_every_after_question(knowledge: Knowledge, words: str) -> None:
    found = find(knowledge.troubles, words)
    assert 1 <= len(found) <= 4
    for rows in found.values():
        for row in rows:
            assert row.test != row.fix


def test_trouble_finder_gives_the_entry_that_is_meant(knowledge: Knowledge) -> None:
    assert list(find(knowledge.troubles, "ants")) == ["Ants under the blocks"]
    assert list(find(knowledge.troubles, "  Low   PRESSURE ")) == ["Low pressure at the spigot or hose"]
    # Plants are no ants.
    assert "Ants under the blocks" not in find(knowledge.troubles, "house plants")


@pytest.mark.parametrize(
    ("typed", "meant"), [("mosquitos", "mosquitoes"), ("presure", "pressure"), ("algea", "algae")]
)
def test_trouble_finder_suggests_a_near_word(knowledge: Knowledge, typed: str, meant: str) -> None:
    with pytest.raises(InputError) as caught:
        find(knowledge.troubles, typed)
    assert meant in caught.value.problems[0].instead


def test_trouble_finder_lists_what_it_knows_for_an_unknown_word(knowledge: Knowledge) -> None:
    with pytest.raises(InputError) as caught:
        find(knowledge.troubles, "xyzzy")
    assert "It leans" in caught.value.problems[0].instead


def test_trouble_rows_of_one_symptom_share_words_and_topics(knowledge: Knowledge) -> None:
    for rows in by_symptom(knowledge.troubles).values():
        assert len({row.words for row in rows}) == 1
        assert len({row.key.rpartition(".")[0] for row in rows}) == 1


def test_trouble_topics_are_those_of_every_cause(knowledge: Knowledge) -> None:
    assert topics(find(knowledge.troubles, "drip")) >= {"beds", "outlet"}
