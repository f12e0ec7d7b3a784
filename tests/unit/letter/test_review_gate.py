"""The review gate: bad drafts of every rule are caught, each by its rule; good sentences pass."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from dooryard import knowledge as tables
from dooryard.care.card_reading import from_text as card_from_text
from dooryard.letter.gate import RULES, Context, Policy, Stage, review
from dooryard.letter.gate.policy import from_text as policy_from_text
from dooryard.letter.gate.release import Override, release
from dooryard.problem import InputError

OCTOBER, MAY = date(2031, 10, 12), date(2031, 5, 2)
OVER = Stage("bagworm", "bagworm", "over")
EARLY = Stage("magnolia-scale", "magnolia scale", "too early")
NOW = Stage("aphids", "aphids", "now")
CAUTIONS = (
    "Read the label in hand and follow it. Spray nothing on open flowers, where bees fly. Keep children and pets away "
    "until it is dry. Wear gloves."
)
FIGURES: Mapping[str, Mapping[str, Any]] = {
    "crawlers": {
        "name": "first crawlers of magnolia scale",
        "shown": "12 to 22 August, most likely 16",
        "unit": "date",
        "value": "2031-08-16",
        "low": "2031-08-12",
        "high": "2031-08-22",
    },
    "level": {
        "name": "water in the back barrel",
        "shown": "20 to 35 gal",
        "unit": "L",
        "value": 104.0,
        "low": 75.7,
        "high": 132.5,
    },
    "mulch": {
        "name": "mulch for the oak",
        "shown": "about 12 cu ft",
        "unit": "L",
        "value": 339.8,
        "low": None,
        "high": None,
    },
    "chance": {
        "name": "chance of bagworm",
        "shown": "about 6 in 10",
        "unit": "1",
        "value": 0.61,
        "low": None,
        "high": None,
    },
}
CARD = """
name = "caterpillar card"
material = "Bacillus thuringiensis"
kind = "insecticide"
read_on = 2031-04-02
read_by = "volunteer 3"
second_reader = "adviser"
[[uses]]
name = "bagworm"
sites = ["home garden"]
plants = ["juniper"]
pests = ["bagworm"]
rate = "2 Tbsp per gal"
"""


def context(**changes: Any) -> Context:
    given: dict[str, Any] = {
        "knowledge": tables.load(),
        "on": OCTOBER,
        "stages": (OVER, EARLY, NOW),
        "plant": "juniper",
        "figures": FIGURES,
        "names": ("Imra Holt",),
    }
    return Context(**(given | changes))


def rules(text: str, **changes: Any) -> list[str]:
    return [finding.rule for finding in review(text, context(**changes))]


@pytest.mark.check("P-4.5", source="pesticide rules of an extension desk", status="common practice")
def test_gate_scenario_of_october_gives_exactly_four_reasons() -> None:
    text = "Spray Brand-X at 3 oz per gallon, or dish soap, on all bagworms; safe everywhere"
    found = review(text, context(stages=(OVER,), figures={}))
    assert sorted(one.rule for one in found) == ["brand", "label", "mixture", "stage"]
    words = {one.rule: [place.words for place in one.places] for one in found}
    # An amount and a promise of safety are both the label's to give: one reason, two places.
    assert words["label"] == ["3 oz per gallon", "safe everywhere"]
    assert words["brand"] == ["Brand-X"]
    assert words["mixture"] == ["dish soap"]
    assert not release(found).released


BAD = [
    ("brand", "Spray Brand-X on the leaves."),
    ("brand", "Buy Killzall at the store."),
    ("brand", "Use Bugaway® on the leaves."),
    ("brand", "Apply the product Grow-Plus (TM) in spring."),
    ("brand", "Do not use Killzall on bloom."),
    ("brand", "A brand-name product works as well, such as Brand-Y."),
    ("mixture", "Mix dish soap and water and spray the leaves."),
    ("mixture", "Pour vinegar over the weeds."),
    ("mixture", "A spoon of baking soda in water keeps mildew off."),
    ("mixture", "Try a home-made garlic spray first."),
    ("mixture", "Kerosene kills the nest."),
    ("mixture", "Do not spray, use dish soap."),
    ("label", "Use 3 oz per gallon of water."),
    ("label", "Two tablespoons in a gallon will do."),
    ("label", "Mix half a cup per gallon of water."),
    ("label", "A 2 % solution is enough."),
    ("label", "Put 1/2 tsp in a quart of water."),
    ("label", "Spread 3 lb per 1,000 sq ft of lawn."),
    ("label", "Take double the dose if it rains."),
    ("label", "It is completely harmless to bees."),
    ("label", "Dilute it 1:40 with water."),
    ("stage", "Spray the bagworms now."),
    ("stage", "It is worth treating bagworm this week."),
    ("stage", "Drench the soil for magnolia scale today."),
    ("stage", "Apply oil to the magnolia scale this weekend. " + CAUTIONS),
    ("hazard tree", "The oak is safe and will stand for years."),
    ("hazard tree", "That limb could fall on the roof."),
    ("hazard tree", "The trunk is structurally sound."),
    ("hazard tree", "The lean is not a danger to the house."),
    ("hazard tree", "You may park under the tree, it is not a hazard to anyone."),
    ("medical", "Take an antihistamine for the itch."),
    ("medical", "The rash is nothing to worry about."),
    ("medical", "Make the child drink milk."),
    ("medical", "Your dog has been poisoned by the bait."),
    ("medical", "The berries are good to eat."),
    ("policy", "Water the tomatoes from your rain barrel each evening."),
    ("policy", "Cut 40 % of the crown this winter."),
    ("policy", "Remove half of the canopy."),
    ("policy", "An ash that has lost 60 percent of its crown can still be treated. " + CAUTIONS),
    ("caution", "Bt works on small caterpillars."),
    ("caution", "Permethrin on the bark keeps borers out."),
    ("caution", "Wash the barrel with bleach."),
    ("caution", "Clean the gutter from a ladder."),
    ("range", "Crawlers of the magnolia scale come out on 16 August."),
    ("range", "Crawlers come on August 14."),
    ("range", "There are 26 gal of water in the back barrel."),
    ("number", "First crawlers of the magnolia scale come on 3 July."),
    ("number", "The back barrel holds 50 gal of water today."),
    ("number", "Buy 20 cu ft of mulch for the oak."),
    ("number", "The chance of bagworm is about 9 in 10."),
    ("private", "Call me at 555-201-7788."),
    ("private", "Write to imra@example.org."),
    ("private", "The tree stands at 14 North Mill Road."),
    ("private", "Imra Holt saw it last week."),
    ("private", "It stands at 38.2214, -85.1042 by the map."),
    ("brand", "I would just get some Killzall from the hardware store."),
    ("brand", "KILLZALL works best on these."),
    ("brand", "Treat with Zap."),
    ("label", "One ounce to the gallon should be plenty."),
    ("label", "Mix 4 tablespoons with two gallons of water."),
    ("label", "1 Tbsp/gal works."),
    ("label", "Apply 1 lb of 10-10-10 per 100 square feet."),
    ("label", "About 2 capfuls per sprayer will do."),
    ("label", "Use 1.5 ounces per inch of trunk diameter."),
    ("label", "It won't hurt your dog."),
    ("stage", "Hit those bagworms with Bt today. "),
    ("stage", "You can still spray for bagworms in October."),
    ("stage", "Bagworms: spray this weekend."),
    ("hazard tree", "Your tree isn't going anywhere, it is perfectly sound."),
    ("hazard tree", "I don't think it will fall on your house."),
    ("hazard tree", "The cavity is nothing to worry about."),
    ("hazard tree", "It should be removed before it falls."),
    ("medical", "Some cream will help with the itch."),
    ("medical", "That sounds like a poison ivy rash."),
    ("medical", "Your symptoms sound like pesticide poisoning."),
    ("policy", "Rain barrel water is fine for tomatoes."),
    ("caution", "Spray malathion on the roses."),
    ("caution", "Treat it with imidacloprid this spring."),
    ("range", "Crawlers should be out August 16."),
    ("number", "There's an 80% chance of bagworm."),
    ("private", "My cell is (555) 201-7788."),
    ("private", "I stopped by 1208 Oak Street yesterday."),
    ("private", "Write to P.O. Box 12."),
]


@pytest.mark.parametrize(("rule", "text"), BAD)
def test_gate_seeded_bad_draft_is_caught_by_its_rule(rule: str, text: str) -> None:
    assert rule in rules(text)


def test_gate_seeds_cover_every_rule() -> None:
    assert len(BAD) >= 40
    assert {rule for rule, _ in BAD} == set(RULES)


GOOD = [
    "Bagworm is over for this year. Do not spray it now.",
    "Pick off the bags by hand from September to May.",
    "Too late to spray bagworm: cut the bags off.",
    "Spray the bagworms next year, when the bags are small. " + CAUTIONS,
    "Wait with the magnolia scale until crawlers show in August.",
    "First crawlers of the magnolia scale: 12 to 22 August, most likely 16.",
    "Never use dish soap or vinegar on a plant.",
    "Use no oil, soap or vinegar.",
    "Shake the beetles into a pail of soapy water.",
    "The back barrel holds 20 to 35 gal of water.",
    "Buy about 12 cu ft of mulch for the oak.",
    "We give no opinion on whether the tree will fall. Call a certified arborist.",
    "The leaves will drop early this year.",
    "If someone swallowed it, call Poison Help, 1-800-222-1222.",
    "Ask your doctor about the rash.",
    "Keep barrel water off your vegetables.",
    "Water the tomatoes with barrel water in the morning. Water the soil only, and wash what you pick.",
    "Cut at most 25 % of the crown in a year.",
    "Bt may be used on small caterpillars of aphids. " + CAUTIONS,
    "Give the young tree 15 gal of water for each inch of trunk a week.",
    "One inch of rain on 100 sq ft of roof is 60 gal of water.",
    "Spread mulch 2 to 3 in deep, and keep it off the bark.",
    "The full barrel presses on the ground with 120 lb per sq ft.",
    "Use what the label in hand says.",
    "Soil at 4 in has been at 60 °F.",
    "The back barrel holds 20 to 35 gal of water, and a can holds 2 gal.",
    "We looked on 12 October and saw brown bags.",
    "Use the Extension form.",
    "Put straw under the plants.",
    "Use a hose to knock aphids off.",
    "Water the tree with 10 gal of water a week.",
    "We saw no bagworms on the spruce.",
    "Call us on Monday.",
    "Use gloves when you prune Japanese maple.",
    "The tree lost its leaves in July.",
    "It may be too late to save the plant.",
    "Bagworms hang on the twigs all winter.",
    "Treat only what you find.",
    "Cut the dead branches out.",
    "Do not eat the berries.",
    "The oak is 40 ft tall.",
    "Is the trunk sound when you tap it?",
    "In 2 years of 10 it freezes before 12 October.",
]


@pytest.mark.parametrize("text", GOOD)
def test_gate_good_sentence_passes(text: str) -> None:
    assert review(text, context()) == ()


def test_gate_street_words_are_private_and_no_brand() -> None:
    assert rules("May I spray the tree at 14 North Mill Road?") == ["private"]


def test_gate_every_caution_of_the_tables_passes() -> None:
    for caution in tables.load().cautions.values():
        assert review(caution.text, context()) == (), caution.key


def test_gate_amount_of_the_label_card_passes_and_another_does_not() -> None:
    card = card_from_text(CARD, "card.toml", tables.load())
    assert rules("Use 2 Tbsp per gal of water.", card=card) == []
    assert rules("Use 2 tablespoons in a gallon of water.", card=card) == []
    assert rules("Use 3 Tbsp per gal of water.", card=card) == ["label"]
    assert rules("Use 2 Tbsp per gal of water.", card=card, plant="tomato") == ["label"]


def test_gate_own_policy_changes_what_is_refused() -> None:
    strict = Policy(vegetables="never", cut_most=0.15, lost_most=0.5, materials=False)
    careful = "Water the tomatoes with barrel water. Water the soil only, and wash what you pick."
    assert rules(careful) == []
    assert rules(careful, policy=strict) == ["policy"]
    assert rules("Cut 20 % of the crown.") == []
    assert rules("Cut 20 % of the crown.", policy=strict) == ["policy"]
    assert "policy" in rules(f"Spinosad may be used. {CAUTIONS}", policy=strict)


def test_gate_office_file_is_read_and_its_faults_told() -> None:
    policy = policy_from_text(
        'crown_cut_most = "20 %"\nbarrel_water_on_vegetables = "never"\ncontact = ["555-0100"]\n',
        "office.toml",
        tables.load(),
    )
    assert (policy.cut_most, policy.vegetables, policy.contact) == (0.2, "never", ("555-0100",))
    assert rules("Call 555-0100.", policy=policy) == []
    with pytest.raises(InputError) as caught:
        policy_from_text('\ncrown_cut_most = "200 %"\ncontakt = ["x"]\n', "office.toml", tables.load())
    assert [(problem.line, bool(problem.instead)) for problem in caught.value.problems] == [
        (2, True),
        (3, True),
    ]


def test_gate_county_brand_row_is_found_in_small_letters(tmp_path: Path) -> None:
    (tmp_path / "gate_words.csv").write_text(
        "key,rule,words,unless,cautions,why,instead,source,status,note\n"
        "brand.own,brand,killzall;grow plus,,,It is a brand.,Name the ingredient.,S-OWN,judged,\n"
    )
    own = tables.load([tmp_path])
    assert rules("We like killzall best.", knowledge=own) == ["brand"]
    assert rules("We like killzall best.") == []


def test_release_needs_every_reason_overridden_by_its_own_words() -> None:
    found = review("Spray Brand-X on the leaves. Pour vinegar over the weeds.", context())
    brand = next(one for one in found if one.rule == "brand")
    record = Override(brand.key, "adviser", "the household named it; we warn of it", OCTOBER)
    half = release(found, [record])
    assert not half.released
    assert half.overridden == ((brand, record),)
    others = [Override(one.key, "adviser", "kept", OCTOBER) for one in half.open]
    assert release(found, [record, *others]).released
    idle = release((), [record])
    assert (idle.released, idle.idle) == (True, (record,))
    with pytest.raises(ValueError, match="who, and why"):
        Override(brand.key, " ", "x", OCTOBER)
