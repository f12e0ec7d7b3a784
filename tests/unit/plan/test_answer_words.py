"""Sentence builders of the letter, one by one, and edits laid over computed parts."""

from __future__ import annotations

from datetime import date

import pytest

from dooryard.care.diagnosis import Word
from dooryard.plan.answer import wording
from dooryard.plan.answer.case import Edit
from dooryard.plan.answer.edits import laid_over

DAY = date(2031, 7, 21)


@pytest.mark.parametrize(
    ("word", "says"),
    [
        ("confirmed", "The laboratory confirmed it: your oak has galls."),
        ("probable", "What you see on your oak is probably galls."),
        ("possible", "What you see on your oak may be galls."),
        ("cannot tell", "What ails your oak we cannot tell yet."),
    ],
)
def test_what_it_is_never_says_more_than_its_word(word: Word, says: str) -> None:
    assert wording.what_it_is(word, "galls", "oak") == says


@pytest.mark.parametrize(
    ("stage", "says"),
    [
        ("too early", "Do not spray now: look again by 21 July."),
        ("soon", "Do not spray now: look again by 21 July."),
        ("over", "It is too late to spray this year: pick off the bags."),
        ("now", "Look first, and act only on what you find: pick off the bags."),
        ("", "Pick off the bags."),
    ],
)
def test_what_to_do_says_too_early_and_too_late_plainly(stage: str, says: str) -> None:
    assert wording.what_to_do(stage, "Pick off the bags.", DAY) == says


def test_option_that_may_not_be_done_says_so_first_and_why() -> None:
    said = wording.option("oil or soap", "Dormant oil on bare twigs.", "late winter", ["flowers are open"])
    assert (
        said
        == "Oil or soap, not now: dormant oil on bare twigs. Time: late winter. Why not: flowers are open."
    )
    assert wording.option("by hand", "Bt may wait.", "", []) == "By hand: Bt may wait."


def test_months_of_a_cause_are_said_in_words() -> None:
    assert wording.months_said("sooty mold, a film", (5, 10)) == "Sooty mold is seen from May to October."
    assert wording.months_said("frost crack", (1, 12)) == "Frost crack can be seen all year."


def test_photo_alone_is_never_more_than_probable() -> None:
    assert "From a photo we never say more than probable." in wording.how_sure("probable", "photo")
    assert wording.how_sure("confirmed", "lab") == ["We call this confirmed.", "A laboratory had a sample."]


def test_edit_replaces_its_part_and_what_moved_is_told_by_sentence() -> None:
    computed = {"summary": ("It may be scale.", "Look by [[day]].")}
    spelled = {"summary": "It may be scale. Look by 21 July."}
    still = Edit("summary", "Leave it.", "adviser", DAY, "It may be scale.  Look by 21 July.")
    parts, moved = laid_over(computed, [still], spelled)  # type: ignore[arg-type]
    assert (parts["summary"], moved) == (("Leave it.",), ())
    old = Edit("summary", "Leave it. Write to us.", "adviser", DAY, "It may be scale. Look by 3 July.")
    parts, moved = laid_over(computed, [old], spelled)  # type: ignore[arg-type]
    assert parts["summary"] == ("Leave it.", "Write to us.")
    assert (moved[0].new, moved[0].gone) == (("Look by 21 July.",), ("Look by 3 July.",))
    _, moved = laid_over(computed, [Edit("summary", "Leave it.", "adviser", DAY)], spelled)  # type: ignore[arg-type]
    assert moved[0].unknown
    assert laid_over(computed, [], spelled) == ({"summary": computed["summary"]}, ())  # type: ignore[arg-type]


def test_rivals_are_named_and_what_cannot_wait_is_told_apart() -> None:
    assert wording.as_well(["slug", "deer"], known=True) == "It could be slug or deer as well."
    assert wording.as_well(["slug"], known=False) == "It could be slug, among others."
    assert wording.cannot_wait("late blight, fast").startswith(
        "It may even be late blight, which cannot wait"
    )
    assert wording.without_material("Mulch it.", urgent=False)[0].startswith("Do nothing")
    assert "Do nothing" not in " ".join(wording.without_material("Bag it.", urgent=True))
