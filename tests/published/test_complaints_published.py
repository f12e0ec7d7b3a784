"""The usual complaints and the cause that the trade ranks first, with what speaks for its look-alikes.

The ranking of each is the trade's, mostly from memory; the ids are those of the list of complaints.
"""

from __future__ import annotations

from datetime import date

import pytest

from dooryard import knowledge
from dooryard.care.suspects import Suspects
from dooryard.letter import screen
from dooryard.plan.diagnosis_report import Complaint, diagnose

KNOWN = knowledge.load()


CASES = [
    pytest.param(
        "pecan",
        8,
        ["web-ends"],
        ["web-fork"],
        "fall-webworm",
        marks=pytest.mark.check("S-08-K01", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "cherry",
        4,
        ["web-fork"],
        [],
        "tent-caterpillar",
        marks=pytest.mark.check("S-08-K02", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "arborvitae",
        7,
        ["bags"],
        [],
        "bagworm",
        marks=pytest.mark.check("S-08-K03", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "linden",
        6,
        ["sticky"],
        ["big-bumps", "white-flies"],
        "aphid-honeydew",
        marks=pytest.mark.check("S-08-K04", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "magnolia",
        7,
        ["black-film", "yellow-old", "big-bumps"],
        [],
        "magnolia-scale",
        marks=pytest.mark.check("S-08-K05", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "oak",
        7,
        ["black-film"],
        ["big-bumps", "aphids"],
        "sooty-mold",
        marks=pytest.mark.check("S-08-K06", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "peach",
        7,
        ["gum-frass"],
        ["gum-high"],
        "peachtree-borer",
        marks=pytest.mark.check("S-08-K07", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "pecan",
        6,
        ["round-black"],
        ["nut-hole"],
        "pecan-scab",
        marks=pytest.mark.check("S-08-K08", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "pecan",
        6,
        ["nut-hole"],
        [],
        "nut-casebearer",
        marks=pytest.mark.check("S-08-K09", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "tomato",
        7,
        ["rings", "lower-first"],
        ["greasy"],
        "early-blight",
        marks=pytest.mark.check("S-08-K10", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "tomato",
        7,
        ["bottom-black"],
        [],
        "blossom-end-rot",
        marks=pytest.mark.check("S-08-K11", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "apple",
        9,
        ["pits"],
        ["worm-core"],
        "bitter-pit",
        marks=pytest.mark.check("S-08-K12", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "apple",
        7,
        ["worm-core"],
        [],
        "codling-moth",
        marks=pytest.mark.check("S-08-K13", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "hydrangea",
        7,
        ["no-flowers", "cut-late"],
        [],
        "wrong-pruning",
        marks=pytest.mark.check("S-08-K14", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "lilac",
        5,
        ["no-flowers", "cut-late"],
        [],
        "wrong-pruning",
        marks=pytest.mark.check("S-08-K15", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "maple",
        6,
        ["torn-bark"],
        ["tooth-marks", "sw-crack"],
        "mower-wound",
        marks=pytest.mark.check("S-08-K16", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "maple",
        2,
        ["sw-crack"],
        ["torn-bark"],
        "sunscald",
        marks=pytest.mark.check("S-08-K17", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "tall fescue",
        7,
        ["patch-ring", "leaf-lesion"],
        ["no-roots"],
        "brown-patch",
        marks=pytest.mark.check("S-08-K18", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "lawn",
        9,
        ["no-roots", "c-grubs"],
        [],
        "white-grubs",
        marks=pytest.mark.check("S-08-K19", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "oak",
        5,
        ["leaf-holes", "caterpillars"],
        ["leaf-lace", "slime"],
        "caterpillars",
        marks=pytest.mark.check("S-08-K20", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "rhododendron",
        7,
        ["edge-notch"],
        ["clean-circles"],
        "vine-weevil",
        marks=pytest.mark.check("S-08-K21", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "azalea",
        6,
        ["pale-dots", "varnish"],
        ["fine-web"],
        "azalea-lace-bug",
        marks=pytest.mark.check("S-08-K22", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "spruce",
        5,
        ["needles-bronze", "fine-web"],
        ["inner-brown"],
        "spruce-mite",
        marks=pytest.mark.check("S-08-K23", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "tomato",
        7,
        ["wilt-noon", "dry-weeks"],
        ["stem-streak", "stem-frass"],
        "dry-soil",
        marks=pytest.mark.check("S-08-K24", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "birch",
        7,
        ["top-dies", "d-holes-fifth"],
        ["hole-rows"],
        "birch-borer",
        marks=pytest.mark.check("S-08-K25", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "ash",
        6,
        ["thin-crown", "flecks", "d-holes"],
        [],
        "emerald-ash-borer",
        marks=pytest.mark.check("S-08-K26", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "crabapple",
        6,
        ["orange-spots"],
        [],
        "cedar-apple-rust",
        marks=pytest.mark.check("S-08-K27", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "apple",
        5,
        ["olive-velvet"],
        [],
        "apple-scab",
        marks=pytest.mark.check("S-08-K28", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "pear",
        6,
        ["crook", "sudden"],
        ["twig-slits"],
        "fire-blight",
        marks=pytest.mark.check("S-08-K29", source="usual complaints", status="second-hand"),
    ),
    pytest.param(
        "oak",
        6,
        ["twig-slits", "hanging-tips"],
        ["crook"],
        "cicada",
        marks=pytest.mark.check("S-08-K30", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "pin oak",
        6,
        ["yellow-veins"],
        ["yellow-old"],
        "iron-chlorosis",
        marks=pytest.mark.check("S-08-K31", source="usual complaints", status="from memory"),
    ),
    pytest.param(
        "linden",
        6,
        ["no-flare", "mulch-cone", "suckers"],
        [],
        "volcano-mulch",
        marks=pytest.mark.check("S-08-K32", source="usual complaints", status="second-hand"),
    ),
]


@pytest.mark.parametrize(("plant", "month", "yes", "no", "cause"), CASES)
def test_complaint_leads_to_the_cause_the_trade_ranks_first(
    plant: str, month: int, yes: list[str], no: list[str], cause: str
) -> None:
    ranked = Suspects(KNOWN, plant, month=month, verdicts={}).ranked(yes, no)
    assert ranked[0].key == cause, ranked[:4]
    assert ranked[0].chance > ranked[1].chance


@pytest.mark.parametrize(
    ("plant", "month", "yes", "no", "cause"),
    [
        ("apple", 6, ["twig-cut", "sudden"], ["crook", "twig-slits"], "squirrels"),
        ("tomato", 7, ["greasy", "sudden"], [], "late-blight"),
        ("tomato", 7, ["gray-specks", "lower-first"], ["rings"], "septoria"),
        ("tomato", 7, ["stem-streak", "one-branch"], [], "wilt-fungus"),
        ("squash", 7, ["stem-frass", "wilt-noon"], [], "squash-vine-borer"),
        ("cucumber", 7, ["strings", "wilt-all"], [], "bacterial-wilt"),
        ("rose", 7, ["clean-circles"], ["slime"], "leafcutter-bee"),
        ("rose", 7, ["leaf-lace", "copper-beetles"], [], "japanese-beetle"),
        ("apple", 2, ["tooth-marks", "torn-bark"], [], "rodent-bark"),
        ("lawn", 7, ["green-rim"], ["leaf-lesion"], "dog-spots"),
        ("spruce", 10, ["inner-brown", "sudden"], ["fine-web", "top-dies"], "needle-shed"),
        ("redbud", 5, ["weedkiller", "twisted", "sudden"], [], "weedkiller-drift"),
    ],
)
def test_look_alike_is_told_apart(plant: str, month: int, yes: list[str], no: list[str], cause: str) -> None:
    ranked = Suspects(KNOWN, plant, month=month, verdicts={}).ranked(yes, no)
    assert ranked[0].key == cause, ranked[:4]


def test_photo_of_tomato_spots_is_no_surer_than_probable() -> None:
    seen = ("rings", "lower-first", "yellow-old")
    for evidence, word in (("told", "possible"), ("photo", "probable")):
        plan = diagnose(
            KNOWN,
            date(2031, 7, 12),
            Complaint("tomato", seen, ("greasy",), evidence),
            verdicts={},  # type: ignore[arg-type]
        )
        said = " ".join(screen.render(plan.document()).split())
        assert f"early blight, about 9 in 10: {word}" in said
        assert "confirmed" not in said.lower()
    lab = diagnose(KNOWN, date(2031, 7, 12), Complaint("tomato", seen, (), "lab", "septoria"), verdicts={})
    assert "Confirmed by the laboratory: Septoria leaf spot." in " ".join(
        screen.render(lab.document()).split()
    )


def test_stage_that_has_not_begun_by_the_heat_sum_counts_against_a_cause() -> None:
    seen = (["sticky"], ["aphids"])
    before = {one.key: one.chance for one in Suspects(KNOWN, "magnolia", month=7, verdicts={}).ranked(*seen)}
    early = Suspects(KNOWN, "magnolia", month=7, verdicts={"magnolia-scale": "too early"}).ranked(*seen)
    assert {one.key: one.chance for one in early}["magnolia-scale"] < before["magnolia-scale"] / 3
