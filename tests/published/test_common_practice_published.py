"""What every county office tells of trees and shrubs, said again by the sums and the tables."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from dooryard import knowledge
from dooryard.care.wound import Wound, share_lost
from dooryard.cli.app import dooryard

KNOWN = knowledge.load()
INCH_M = 0.0254
SCALES = [row.key for row in KNOWN.organisms.values() if "scale" in row.kind]


def _said(*words: str) -> str:
    return " ".join(CliRunner().invoke(dooryard, ["work", *words]).output.split())


@pytest.mark.check("S-07-01", source="mulch 2 to 3 in, never against the trunk", status="common practice")
def test_mulch_is_two_to_three_inches_and_never_against_the_trunk() -> None:
    depth = KNOWN.fact("mulch.depth")
    assert depth.low == pytest.approx(2 * 25.4)
    assert depth.high == pytest.approx(3 * 25.4)
    said = _said("mulch", "--ring", "3 ft", "--trunk", "7 in")
    assert "6 in away from the bark" in said
    assert "Keep mulch off the bark" in said


@pytest.mark.check(
    "P-3.1", source="3 in wide and 5 tall is better than 5 wide and 3 tall", status="common practice"
)
def test_wound_counts_by_its_width_and_not_by_its_height() -> None:
    """On a trunk 5 in through, 15.7 in around: 3 in wide is 19.1 %, 5 in wide 31.8 %, another class."""
    girth = 5 * 3.141592653589793 * INCH_M
    assert share_lost(girth, [Wound(3 * INCH_M)]) == pytest.approx(0.191, abs=0.0005)
    assert share_lost(girth, [Wound(5 * INCH_M)]) == pytest.approx(0.318, abs=0.0005)
    narrow, wide = (_said("wound", "--girth", "15.7 in", "--width", width) for width in ("3 in", "5 in"))
    assert "less than a quarter" in narrow
    assert "between a quarter and a half" in wide


@pytest.mark.check("S-07-04", source="no paint, tar, cement or foam", status="seen")
def test_nothing_is_painted_on_a_wound() -> None:
    assert "No paint, tar, cement or foam" in _said("wound", "--girth", "22 in", "--width", "4 in")


@pytest.mark.check("S-07-05", source="borer 1 to 2 years, no fertilizer the first year", status="from memory")
def test_wounded_tree_is_watched_two_seasons_and_not_fed() -> None:
    said = _said("wound", "--girth", "22 in", "--width", "4 in")
    assert "Look in each of the next 2 seasons" in said
    assert "No fertilizer" in said
    assert "Water in dry weeks" in said


@pytest.mark.check("S-07-06", source="hazard signs to an arborist", status="from memory")
@pytest.mark.parametrize("width", ["3 in", "9 in", "14 in", "22 in"])
def test_every_wound_is_told_the_signs_of_a_tree_that_may_fall(width: str) -> None:
    said = _said("wound", "--girth", "22 in", "--width", width)
    assert "call a certified arborist" in said
    assert "no opinion on whether a tree will fall" in said


@pytest.mark.check("P-3.1", source="bridge graft of a valued fruit tree in spring", status="common practice")
@pytest.mark.parametrize(("width", "offered"), [("4 in", False), ("14 in", True), ("22 in", True)])
def test_bridge_graft_is_offered_where_most_of_the_bark_is_gone(width: str, offered: bool) -> None:
    assert ("bridge-grafted" in _said("wound", "--girth", "22 in", "--width", width)) is offered


@pytest.mark.check(
    "P-3.3", source="old wood: right after bloom; in autumn next year's flowers go", status="common practice"
)
@pytest.mark.parametrize("plant", ["lilac", "forsythia", "azalea"])
def test_old_wood_is_cut_right_after_bloom_and_not_in_autumn(plant: str) -> None:
    spring = _said("prune", "--plant", plant, "--bloom-ended", "2031-05-10", "--on", "2031-05-15")
    assert "It blooms on last year's wood" in spring
    assert "Its bloom ended about 10 May: cut it by 21 June." in spring
    assert "That is past" not in spring
    fall = _said("prune", "--plant", plant, "--bloom-ended", "2031-05-10", "--on", "2031-10-10")
    assert "That is past. Next year's buds are set: wait until it has bloomed again." in fall


@pytest.mark.check(
    "P-4.3", source="crawlers are easier than adults and need full coverage", status="common practice"
)
@pytest.mark.parametrize("scale", SCALES)
def test_sprays_for_scale_wait_for_crawlers_or_bare_twigs(scale: str) -> None:
    rows = [row for row in KNOWN.treatments_of(scale) if row.kind == "oil or soap"]
    for row in rows:
        assert any(word in row.when for word in ("crawler", "bud", "dormant", "winter", "bare", "spring")), (
            row.when
        )
    text = KNOWN.cautions["care.crawlers"].text
    assert "easier" in text
    assert "both sides" in text


@pytest.mark.check("P-4.3", source="Bt works on small caterpillars that eat it", status="common practice")
def test_bt_is_tied_to_small_caterpillars_wherever_it_is_advised() -> None:
    rows = [row for row in KNOWN.treatments.values() if "kurstaki" in row.action]
    assert len(rows) >= 8
    for row in rows:
        small = ("small", "young", "under ", "half an inch", "first", "enter", "hatch")
        assert any(word in f"{row.when} {row.action}" for word in small), (row.organism, row.when)


@pytest.mark.check(
    "P-4.3", source="a peach with borers inside is past saving; prevention only", status="common practice"
)
def test_peach_with_borers_inside_is_past_saving() -> None:
    row = KNOWN.organisms["peachtree-borer"]
    assert "past saving" in row.do_over
    assert "it only prevents" in row.do_over
    assert "past saving" in KNOWN.causes["peachtree-borer"].first


@pytest.mark.check("P-4.3", source="stink bugs fly in again from next door", status="common practice")
def test_stink_bugs_are_said_to_fly_in_again() -> None:
    assert "fly in from next door" in KNOWN.organisms["brown-marmorated-stink-bug"].do_now
    assert "fly in again from next door" in KNOWN.causes["stink-bug-fruit"].first


@pytest.mark.check("P-4.3", source="honeydew is not sap", status="common practice")
def test_honeydew_is_told_from_sap() -> None:
    assert "is not sap" in KNOWN.signs["sticky"].look
    # Tacky drops with insects above them are never put down to the tree itself.
    assert "aphids" in str(KNOWN.causes["pine-resin"].shows)
    assert KNOWN.causes["pine-resin"].shows["aphids"] == "never"


def test_facts_of_limits_stand_once() -> None:
    """A number of a material is a row of the spray limits and no fact beside it."""
    assert not {
        key
        for key in KNOWN.facts
        if key.startswith(("spray.oil", "spray.soap", "spray.thaw", "spray.rain_fast"))
    }
    assert date.fromisoformat(min(row.good_until for row in KNOWN.restrictions.values())) > date(2026, 11, 25)


def test_label_card_s_page_names_the_limits_that_are_used() -> None:
    page = (Path(__file__).parents[2] / "docs" / "label-card.md").read_text(encoding="utf-8")
    for words in ("spray_limits.csv", "--oil-or-sulfur", "covers alone"):
        assert words in page
