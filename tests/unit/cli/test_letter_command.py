"""`dooryard letter`: ten parts in order, reviewed; faults of a case told by line; edits kept, and what moved shown."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result

from dooryard import weather as records
from dooryard.care.suspects import plants
from dooryard.cli.app import dooryard
from dooryard.letter import answer, plain
from dooryard.letter.gate import Policy
from dooryard.plan.answer.case import Case
from dooryard.plan.answer.letter import HEADINGS

CASE = """code = "H-12"
plant = "magnolia"
evidence = "photo"
who = "volunteer 3"
question = "Why are the leaves sticky?"
seen = ["sticky", "big-bumps"]
unseen = ["aphids"]
weather = "stations/creek-bottom.csv"
keep_out = ["Holt"]
"""
KNOWN = CASE + 'organism = "magnolia scale"\n'
CARD = """
name = "summer oil"
material = "mineral oil"
kind = "oil"
read_on = 2031-04-02
read_by = "volunteer 3"
second_reader = "adviser"
[[uses]]
name = "scale crawlers"
sites = ["home garden"]
plants = ["magnolia"]
pests = ["magnolia scale"]
rate = "2 Tbsp per gal"
"""


@pytest.fixture(scope="module")
def county(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("county")
    assert CliRunner().invoke(dooryard, ["demo", "--out", str(folder)]).exit_code == 0
    return folder


@pytest.fixture
def desk(county: Path) -> Iterator[Path]:
    yield county
    for name in ("case.toml", "card.toml", "county/office.toml"):
        (county / name).unlink(missing_ok=True)
    if (county / "county").is_dir():
        (county / "county").rmdir()


def letter(desk: Path, case: str, *words: str, on: str = "2031-05-20") -> Result:
    (desk / "case.toml").write_text(case, encoding="utf-8")
    return CliRunner().invoke(dooryard, ["letter", str(desk / "case.toml"), "--on", on, *words])


def edited(part: str, text: str, was: str) -> str:
    return f'[[edits]]\npart = "{part}"\ntext = "{text}"\nby = "adviser"\non = 2031-05-20\n{was}\n'


def test_letter_has_the_ten_parts_in_order_and_may_go(desk: Path) -> None:
    result = letter(desk, KNOWN, "--mail")
    assert result.exit_code == 0, result.output
    places = [result.stdout.index(f"\n{heading}\n---") for heading in HEADINGS.values()]
    assert places == sorted(places)
    assert len(places) == 10
    assert "may be sent" in result.stderr
    assert max(len(line) for line in result.stdout.splitlines()) <= 72


def test_letter_early_says_so_names_no_amount_and_looks_again_when_the_stage_may_begin(desk: Path) -> None:
    (desk / "card.toml").write_text(CARD)
    result = letter(desk, KNOWN, "--card", str(desk / "card.toml"), "--json")
    document = json.loads(result.stdout)
    said = {stop["id"]: " ".join(stop["sentences"]) for stop in document["walk"]}
    assert "Do not spray now" in " ".join(document["summary"])
    assert "too early" in said["timing"]
    assert "2 Tbsp" not in json.dumps(document)
    opens = document["figures"]["letter.begins"]
    assert document["ahead"][0]["from"] == opens["low"]
    assert "[[letter.begins]]" in said["timing"]


def test_letter_in_the_stage_takes_the_amount_from_the_card_alone(desk: Path) -> None:
    """Lace bugs feed on hawthorn when the record ends, so their stage is open."""
    case = KNOWN.replace("magnolia scale", "hawthorn lace bug").replace("magnolia", "hawthorn")
    card = CARD.replace("magnolia scale", "hawthorn lace bug").replace("magnolia", "hawthorn")
    (desk / "card.toml").write_text(card)
    without = " ".join(letter(desk, case, "--mail").stdout.split())
    assert "Look first, and act only on what you find" in without
    assert "We name no amount" in without
    told = letter(desk, case, "--mail", "--card", str(desk / "card.toml"))
    assert "The label in hand gives 2 Tbsp per gal" in " ".join(told.stdout.split())
    assert told.exit_code == 0, told.stderr
    (desk / "card.toml").write_text(card.replace('plants = ["hawthorn"]', 'plants = ["rose"]'))
    other = letter(desk, case, "--mail", "--card", str(desk / "card.toml")).stdout
    assert "2 Tbsp" not in other
    assert "does not name this plant and pest" in " ".join(other.split())


def test_letter_document_fits_its_schema_and_is_easy_to_read(desk: Path) -> None:
    schema = json.loads(files("dooryard.plan").joinpath("plan.schema.json").read_text("utf-8"))
    for case in (
        CASE,
        KNOWN,
        CASE.replace('seen = ["sticky", "big-bumps"]\n', ""),
        CASE.replace('"photo"', '"told"'),
    ):
        document = json.loads(letter(desk, case, "--json").stdout)
        jsonschema.validate(document, schema, format_checker=jsonschema.FormatChecker())
        assert document["report"] == "letter"
        assert plain.grade("\n".join(plain.texts(document))) <= 8


def test_letter_is_never_surer_than_its_evidence(desk: Path) -> None:
    words = {}
    for evidence in ("told", "photo", "sample"):
        shown = letter(desk, KNOWN.replace('"photo"', f'"{evidence}"'), "--mail").stdout
        words[evidence] = next(
            word for word in ("confirmed", "probable", "possible") if f"We call this {word}." in shown
        )
    assert words == {"told": "possible", "photo": "probable", "sample": "probable"}
    lab = CASE.replace('"photo"', '"lab"') + 'lab = "magnolia-scale"\n'
    assert "We call this confirmed." in letter(desk, lab, "--mail").stdout


def test_letter_names_what_fits_as_well_and_what_cannot_wait(desk: Path) -> None:
    """Greasy patches and rings: no cause stands out, and late blight is among those that fit."""
    case = CASE.replace("magnolia", "tomato").replace('"sticky", "big-bumps"', '"rings", "greasy"')
    case = case.replace('weather = "stations/creek-bottom.csv"\n', "")
    shown = " ".join(letter(desk, case, "--mail", on="2031-07-12").stdout.split())
    assert "Take the look below today, since it may be late blight" in shown
    assert "It could be late blight or early blight, among others." in shown
    assert "It may even be late blight, which cannot wait" in shown


def test_letter_edit_with_a_bad_draft_is_held_back_until_overridden(desk: Path, tmp_path: Path) -> None:
    computed = "We name no amount. It stands on the label of the material in hand, and the label is the law."
    edit = edited("amounts", "Spray Brand-X at 3 oz per gallon. Mr Holt knows.", f'was = "{computed}"')
    result = letter(desk, KNOWN + edit, "--out", str(tmp_path))
    assert result.exit_code == 1
    for words in (
        "brand name",
        "said without the label",
        "stage over or not begun",
        "private data",
        "may not be sent",
    ):
        assert words in result.output
    assert "Draft, not to be sent" in (tmp_path / "draft.html").read_text("utf-8")
    assert not list(tmp_path.glob("letter*"))
    document = json.loads(letter(desk, KNOWN + edit, "--json").stdout)
    assert document["review"]["released"] is False
    found = document["review"]["open"]
    text = letter(desk, KNOWN + edit, "--mail").stdout
    assert all(" ".join(one["words"].split()) in " ".join(text.split()) for one in found)
    overrides = "".join(
        f'[[overrides]]\nfinding = "{one["key"]}"\nby = "adviser"\nreason = "a trial"\non = 2031-05-20\n'
        for one in found
    )
    released = letter(desk, KNOWN + edit + overrides, "--json")
    assert released.exit_code == 0
    review = json.loads(released.stdout)["review"]
    assert (review["open"], len(review["set_aside"])) == ([], len(found))
    assert {one["by"] for one in review["set_aside"]} == {"adviser"}


def test_letter_edit_stays_and_what_moved_beneath_it_is_shown(desk: Path) -> None:
    parts = letter(desk, KNOWN, "--parts").stdout
    was = next(line for line in parts.splitlines() if "Do not spray now" in line)
    edit = edited("summary", "It is a scale. Leave it for now.", was)
    same = letter(desk, KNOWN + edit, "--mail")
    assert same.exit_code == 0, same.stderr
    assert "It is a scale. Leave it for now." in same.stdout
    later = letter(desk, KNOWN.replace('"photo"', '"told"') + edit, "--mail")
    assert later.exit_code == 1
    assert "It is a scale. Leave it for now." in later.stdout
    assert "new: What you see on your magnolia may be magnolia scale." in later.stderr
    assert "gone: What you see on your magnolia is probably magnolia scale." in later.stderr


def test_letter_office_file_signs_it_and_its_rules_hold(desk: Path) -> None:
    (desk / "county").mkdir()
    (desk / "county" / "office.toml").write_text(
        'office = "Mill County Extension office"\ncontact = ["555-201-7788"]\n'
        'fee = "15 dollars"\nnames_materials = false\n'
    )
    result = letter(desk, KNOWN, "--mail")
    assert "Mill County Extension office" in result.stdout
    assert "555-201-7788" in result.stdout
    assert result.exit_code == 1
    assert "outside the county's policy" in result.stderr
    assert "private data" not in result.stderr


@pytest.mark.parametrize(
    ("before", "after", "line", "says"),
    [
        ('plant = "magnolia"', 'plant = "magnolja"', 2, 'Did you mean "magnolia"'),
        ('"sticky", ', '"stickky", ', 6, 'Did you mean "sticky"'),
        ('evidence = "photo"', 'evidence = "seen"', 3, '"told", "photo"'),
        ('evidence = "photo"', 'evidence = "lab"', 3, "lab ="),
        ('unseen = ["aphids"]', 'unseen = ["sticky"]', 7, "cannot be seen and not seen"),
        ('who = "volunteer 3"\n', "", 1, "who is missing"),
        ('keep_out = ["Holt"]\n', '[[edit]]\npart = "summary"\n', 9, "Did you mean [[edits]]"),
        ('keep_out = ["Holt"]\n', "edits = 3\n", 9, "not written as a list"),
        ('who = "volunteer 3"', 'whoo = "volunteer 3"', 4, 'Did you mean "who"'),
    ],
)
def test_letter_case_fault_is_told_with_line_and_what_to_write(
    desk: Path, before: str, after: str, line: int, says: str
) -> None:
    result = letter(desk, CASE.replace(before, after))
    assert result.exit_code == 2
    assert says in result.stderr
    assert f"case.toml line {line}" in result.stderr or (line == 1 and "case.toml" in result.stderr)
    assert "Traceback" not in result.output


@pytest.mark.parametrize("text", ["", "\n\n", "\ufeff"])
def test_letter_of_an_empty_case_is_refused_in_words_of_a_case(desk: Path, text: str) -> None:
    result = letter(desk, text)
    assert result.exit_code == 2
    assert "docs/letter.md" in result.stderr


def test_letter_faults_are_told_all_at_once(desk: Path) -> None:
    bad = (
        CASE.replace("magnolia", "spaceship").replace('sticky",', 'xyzzy",') + '[[edits]]\npart = "sumary"\n'
    )
    result = letter(desk, bad)
    assert result.exit_code == 2
    for words in ("spaceship", "xyzzy", "sumary", "text is missing", "by is missing"):
        assert words in result.stderr


@pytest.mark.parametrize("day", [date(2031, 3, 10), date(2031, 5, 20)])
def test_letter_of_every_organism_passes_its_own_gate_and_is_easy_to_read(
    county: Path, knowledge: Any, day: date
) -> None:
    """In two seasons, so that too early, now, closing and over all come up."""
    record = records.read(county / "stations" / "ridge-school.csv")
    words = set()
    for key in knowledge.organisms:
        case = Case("H-1", _plant(knowledge, key), "photo", "volunteer 3", organism=key, in_bloom=False)
        made = answer.write(knowledge, case, day, policy=Policy(), record=record)
        assert made.release.open == (), key
        assert plain.grade("\n".join(plain.texts(made.document))) <= 8, key
        words.add(made.document["walk"][3]["sentences"][0])
    assert len(words) > 40


def test_letter_of_every_cause_passes_its_own_gate(knowledge: Any) -> None:
    for cause in knowledge.causes.values():
        signs = tuple(sign for sign, word in cause.shows.items() if word in ("always", "usually"))
        plant = next((one for one in cause.plants if one in plants(knowledge)), "rose")
        case = Case("H-1", plant, "lab", "volunteer 3", seen=signs, lab=cause.key)
        made = answer.write(knowledge, case, date(2031, 7, 1), policy=Policy())
        assert made.release.open == (), cause.key
        assert plain.grade("\n".join(plain.texts(made.document))) <= 8, cause.key


def _plant(knowledge: Any, organism: str) -> str:
    return next(row.plant_kind for row in knowledge.hosts if row.organism == organism)
