"""The sentence under a verdict's word fits the word, also where no single table says it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from dooryard.knowledge import Window
from dooryard.season import sentences
from dooryard.season.windows import NOW, OVER, SOON, TOO_EARLY, Moment, WindowVerdict
from dooryard.words import dates_words

WINDOW = Window(
    "a.b", "a", 1, "small bags", "a.x", "low", 0, "a.y", "low", 0, (), "S-OWN", "Ohio", "judged", "", ""
)


def moment(month: int, day: int, *, passed: bool) -> Moment:
    when = date(2030, month, day)
    return Moment(passed, when, when, when, None)


def window(place: str, word: str, begins: Moment, ends: Moment) -> WindowVerdict:
    return WindowVerdict(replace(WINDOW, place=place), word, begins, ends, "a rule")


def test_reason_where_tables_allow_a_word_between_tells_what_each_says() -> None:
    early = window("Ohio", NOW, moment(2, 4, passed=True), moment(3, 4, passed=False))
    late = window("Maine", TOO_EARLY, moment(3, 13, passed=False), moment(4, 5, passed=False))
    said = sentences.reason(early, brood=(early, late), word=SOON)
    assert said == (
        "The tables differ. By that from Ohio the time for small bags began 4 February and is likely to end "
        "about 4 March; that from Maine says too early."
    )


def test_reason_of_a_table_that_says_the_word_stands_alone() -> None:
    over = window("Ohio", OVER, moment(2, 4, passed=True), moment(3, 4, passed=True))
    late = window("Maine", TOO_EARLY, moment(3, 13, passed=False), moment(4, 5, passed=False))
    assert sentences.reason(over, brood=(over, late), word=OVER) == "The time for small bags ended 4 March."


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (date(2030, 5, 16), date(2030, 5, 18), "between 16 and 18 May"),
        (date(2030, 5, 16), date(2030, 6, 2), "between 16 May and 2 June"),
        (date(2030, 5, 16), date(2030, 5, 16), "16 May"),
    ],
)
def test_a_day_hidden_in_a_gap_is_told_as_the_days_it_lies_between(
    first: date, last: date, said: str
) -> None:
    assert dates_words(first, None, last) == said


@pytest.mark.parametrize(
    ("spread_d", "said"),
    [(0, "about 4 March."), (3, "1 to 7 March, most likely 4.")],
)
def test_a_day_ahead_without_a_range_is_never_said_as_if_it_were_sure(spread_d: int, said: str) -> None:
    ends = date(2030, 3, 4)
    spread = timedelta(days=spread_d)
    closes = Moment(False, ends - spread, ends, ends + spread, None)
    one = window("Ohio", NOW, moment(2, 4, passed=True), closes)
    assert sentences.reason(one) == (f"The time for small bags began 4 February and is likely to end {said}")
    early = window("Ohio", TOO_EARLY, closes, moment(4, 5, passed=False))
    assert sentences.reason(early) == f"The time for small bags is likely to begin {said}"
