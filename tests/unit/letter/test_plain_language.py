"""What the program writes is read with ease in grade 8, and the measure of that is the published one."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from dooryard.cli.app import dooryard
from dooryard.letter import plain

GETTYSBURG = (
    "Four score and seven years ago our fathers brought forth on this continent, a new nation, conceived in Liberty, "
    "and dedicated to the proposition that all men are created equal."
)
REPORTS = {
    "plan": ["plan", "household-12.toml", "--on", "2031-05-20"],
    "water report": ["water", "household-12.toml", "--on", "2031-05-20"],
    "storm drill": ["storm", "household-12.toml", "--forecast", "forecast.csv", "--on", "2031-05-20"],
    "frost report": ["frost", "household-12.toml", "--on", "2031-05-20", "--forecast", "forecast.csv"],
    "build sheet": ["build", "household-12.toml", "--on", "2031-05-20"],
    "workshop kit": ["kit", "20", "--on", "2031-05-20"],
    "wound": ["work", "wound", "--girth", "22 in", "--width", "4.5 in"],
    "plugs": ["work", "plugs", "--area", "180 sq ft", "--spacing", "8 in"],
    "mix": ["work", "mix", "--plant", "tomato", "--water", "1 gal"],
    "no bloom": ["work", "no-bloom", "--plant", "lilac", "--wood", "old", "--sun", "3"],
}


def test_grade_of_a_sentence_counted_by_hand() -> None:
    """30 words and 48 syllables in one sentence, counted aloud: 0.39 x 30 + 11.8 x 48 / 30 - 15.59 = 14.99."""
    found = plain.reading(GETTYSBURG)
    assert (found.sentences, found.words, found.syllables) == (1, 30, 48)
    assert plain.grade(GETTYSBURG) == pytest.approx(14.99)


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("mosquito", 3),
        ("barrel", 2),
        ("water", 2),
        ("downspout", 2),
        ("4.5", 1),
        ("gal", 1),
        ("arborist", 3),
        ("doused", 1),
    ],
)
def test_syllables_of_words_we_use(word: str, count: int) -> None:
    assert plain.syllables(word) == count


def test_sentences_end_at_full_stops_and_lines_but_not_in_numbers() -> None:
    text = "It is 4.5 in wide. Fill it to 3.2 gal!\nA heading\nThe end."
    assert plain.sentences(text) == ["It is 4.5 in wide.", "Fill it to 3.2 gal!", "A heading", "The end."]


def test_hardest_sentence_and_long_words_are_named() -> None:
    hard = "Notwithstanding considerable meteorological uncertainty, immediate precautionary evacuation is recommended."
    found = plain.hardest(f"Open the tap. {hard} Close it.", 8)
    assert [text for _, text in found] == [hard]
    assert "meteorological" in plain.long_words(hard)
    assert plain.long_words("Open the tap.") == []


def test_empty_text_has_grade_zero() -> None:
    assert plain.grade("") == 0


@pytest.mark.parametrize("name", REPORTS)
def test_what_the_program_prints_is_read_in_grade_eight(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    runner = CliRunner()
    runner.invoke(dooryard, ["demo", "--out", str(tmp_path)])
    monkeypatch.chdir(tmp_path)
    document = json.loads(runner.invoke(dooryard, [*REPORTS[name], "--json"]).stdout)
    prose = "\n".join(plain.texts(document))
    assert len(plain.words(prose)) > 40
    assert plain.grade(prose) <= 8, plain.hardest(prose, 12)[:5]
