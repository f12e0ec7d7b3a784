"""Dates, lists, marks and note numbers in words."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from dooryard.letter import prose
from dooryard.words import dates_words, day_words, list_words

FIGURES = {"level": {"shown": "about 40 gal"}, "next": {"shown": "22 May"}}


def document(**changes: Any) -> dict[str, Any]:
    doc: dict[str, Any] = {
        "on": "2031-06-06",
        "summary": [],
        "tasks": [],
        "ahead": [],
        "walk": [],
        "organisms": [],
        "refusals": [],
        "record": [],
        "cautions": [],
        "charts": [],
        "figures": FIGURES,
    }
    return {**doc, **changes}


def task(**changes: Any) -> dict[str, Any]:
    found = {"verb": "Do", "what": "Clear the screen.", "why": "", "if_missed": "", "place": "back barrel"}
    return {**found, "from": "2031-06-06", "to": "2031-06-08", "best": None, "cautions": [], **changes}


def test_spell_marks_become_the_shown_text() -> None:
    assert prose.spell("It holds [[level]] on [[next]].", FIGURES) == "It holds about 40 gal on 22 May."


def test_spell_with_a_mark_gets_id_and_shown() -> None:
    spelled = prose.spell("[[level]] left", FIGURES, lambda figure_id, shown: f"<{figure_id}|{shown}>")
    assert spelled == "<level|about 40 gal> left"


def test_spell_unknown_id_raises_key_error_with_the_id() -> None:
    with pytest.raises(KeyError, match=r"bed\.amount"):
        prose.spell("[[bed.amount]]", FIGURES)


def test_spell_shown_text_that_looks_like_a_mark_is_not_spelled_again() -> None:
    assert prose.spell("[[a]]", {"a": {"shown": "[[b]]"}}) == "[[b]]"


def test_pieces_joined_again_give_the_text() -> None:
    text = "[[level]] and [[next]]; no [mark] here"
    joined = "".join(words if figure is None else f"[[{figure}]]" for words, figure in prose.pieces(text))
    assert joined == text


def test_texts_of_an_organism_hold_its_choices_between_what_to_do_and_the_conflict() -> None:
    organism = {"sentence": "s", "reason": "r", "do": "d", "conflict": "c", "rows": []}
    assert list(prose.organism_texts(organism)) == ["s", "r", "d", "c"]
    assert list(prose.organism_texts({**organism, "choices": ["1", "2"]})) == ["s", "r", "d", "1", "2", "c"]


def test_cautions_fall_into_week_always_and_later_and_are_lettered_in_that_order() -> None:
    doc = document(
        tasks=[task(cautions=["b"]), task(**{"from": "2031-06-20", "to": "2031-06-21"}, cautions=["d", "b"])],
        ahead=[task(**{"from": "2031-08-20", "to": "2031-08-21"}, cautions=["a"])],
        cautions=[{"id": key, "text": key} for key in "abcd"],
    )
    assert prose.caution_parts(doc) == {"week": ["b"], "always": ["c"], "later": ["a", "d"]}
    assert prose.caution_letters(doc) == {"b": "A", "a": "B", "d": "C"}


def test_caution_letters_go_on_after_z() -> None:
    keys = [str(number) for number in range(27)]
    doc = document(tasks=[task(cautions=keys)], cautions=[{"id": key, "text": key} for key in keys])
    assert list(prose.caution_letters(doc).values())[24:] == ["Y", "Z", "A2"]


def test_station_words_read_on_from_the_name_and_may_be_missing() -> None:
    station = {"name": "Creek Bottom", "first": "2001-01-01", "last": "2031-05-19"}
    said = {**station, "words": "less than a mile from the yard, 15 ft lower"}
    assert prose.station_words(document(station=said)) == (
        "Creek Bottom, less than a mile from the yard, 15 ft lower; record 1 January 2001 to 19 May 2031."
    )
    assert prose.station_words(document(station={**station, "words": ""})) == (
        "Creek Bottom, record 1 January 2001 to 19 May 2031."
    )


@pytest.mark.parametrize(
    ("earliest", "likely", "latest", "words"),
    [
        ("2031-06-06", "2031-06-07", "2031-06-08", "6 to 8 June, most likely 7"),
        ("2031-05-28", "2031-06-01", "2031-06-03", "28 May to 3 June, most likely 1 June"),
        ("2031-06-07", "2031-06-07", "2031-06-07", "7 June"),
        (
            "2030-12-28",
            "2030-12-30",
            "2031-01-03",
            "28 December 2030 to 3 January 2031, most likely 30 December 2030",
        ),
        (
            "2031-06-06",
            "2031-06-20",
            None,
            "6 June or later, most likely 20 June, in some years not at all",
        ),
        ("2031-06-06", None, None, "6 June at the earliest, in most years later or not at all"),
        (None, None, None, "no date yet"),
    ],
)
def test_dates_words_say_range_and_likely_day(
    earliest: str | None, likely: str | None, latest: str | None, words: str
) -> None:
    assert dates_words(earliest, likely, latest) == words


def test_dates_words_takes_dates_as_well_as_iso_text() -> None:
    assert dates_words(date(2031, 6, 6), date(2031, 6, 7), date(2031, 6, 8)) == "6 to 8 June, most likely 7"


def test_day_words_with_weekday_and_year() -> None:
    assert day_words("2031-06-08", weekday=True, year=True) == "Sunday 8 June 2031"


@pytest.mark.parametrize(
    ("words", "spoken"),
    [([], ""), (["roof"], "roof"), (["roof", "bed"], "roof and bed"), (["a", "b", "c"], "a, b and c")],
)
def test_list_words_join_the_last_with_and(words: list[str], spoken: str) -> None:
    assert list_words(words) == spoken


def test_headline_starts_with_its_verb_once() -> None:
    assert prose.headline(task()) == ("Do:", " clear the screen.")
    assert prose.headline(task(verb="Look", what="Look for fresh sawdust.")) == (
        "Look",
        " for fresh sawdust.",
    )
    # "Lookout" only begins like the verb.
    assert prose.headline(task(verb="Look", what="Lookout post: climb it")) == (
        "Look:",
        " lookout post: climb it.",
    )


def test_verdict_words_say_the_word_once() -> None:
    assert prose.verdict_words({"word": "soon", "sentence": "Soon: eggs hatch."}) == ("Soon", ": eggs hatch.")
    assert prose.verdict_words({"word": "over", "sentence": "They have left"}) == (
        "Over",
        ": They have left.",
    )


def test_refusal_words_are_three_sentences() -> None:
    refusal = {"what": "we give no rate", "missing": "There is no label card.", "how": "Type it in"}
    assert prose.refusal_words(refusal) == "We give no rate. There is no label card. Type it in."


def test_week_tasks_end_with_the_seventh_day() -> None:
    tasks = [task(**{"from": day, "to": "2031-06-30"}) for day in ("2031-06-01", "2031-06-12", "2031-06-13")]
    doc = document(tasks=tasks)
    assert [found["from"] for found in prose.week_tasks(doc)] == ["2031-06-01", "2031-06-12"]
    assert [found["from"] for found in prose.later_tasks(doc)] == ["2031-06-13"]


def test_footnotes_count_by_first_appearance() -> None:
    doc = document(
        summary=["Water on [[next]]."], tasks=[task(why="There is [[level]], enough until [[next]].")]
    )
    assert prose.footnotes(doc) == {"next": 1, "level": 2}


def test_footnotes_leave_out_a_figure_no_text_mentions() -> None:
    assert prose.footnotes(document(summary=["[[level]]"])) == {"level": 1}


def test_footnotes_unknown_figure_raises_key_error_with_the_id() -> None:
    with pytest.raises(KeyError, match=r"roof\.year"):
        prose.footnotes(document(record=["[[roof.year]]"]))


@pytest.mark.parametrize(
    ("text", "held"),
    [
        ("about 40 gal left", "about 40~gal left"),
        ("1 1/4 in of rain", "1~1/4~in of rain"),
        ("310 sq ft", "310~sq~ft"),
        ("by 8 June", "by 8~June"),
        ("480 °F·d", "480~°F·d"),
        ("most likely 24.", "most likely~24."),
        # A word that only begins like a unit stays free.
        ("3 inches", "3 inches"),
        ("20 gallons", "20 gallons"),
    ],
)
def test_hold_together_number_and_unit(text: str, held: str) -> None:
    assert prose.hold_together(text).replace(prose.NO_BREAK, "~") == held


def test_signs_in_words_replace_what_the_typeface_lacks() -> None:
    assert prose.signs_in_words("≤5 ft → 6′ ≥ 2″") == "at most 5 ft to 6 ft at least 2 in"
