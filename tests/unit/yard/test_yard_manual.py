"""The manual page of the yard file says what the reader does."""

import tomllib
from pathlib import Path

import pytest

from dooryard import knowledge
from dooryard.yard import model
from dooryard.yard.keys import TABLES
from dooryard.yard.reading import from_text

ROOT = Path(__file__).parents[3]
PAGE = (ROOT / "docs" / "yard-file.md").read_text(encoding="utf-8")
EXAMPLE = PAGE.split("```toml\n")[1].split("```")[0]
KINDS = {
    "": model.Yard,
    "place": model.Place,
    "household": model.Household,
    "roofs": model.Roof,
    "downspouts": model.Downspout,
    "storages": model.Storage,
    "beds": model.Bed,
    "plants": model.Plant,
    "sightings": model.Sighting,
    "levels": model.Level,
}


def section(table: str) -> str:
    heading = f"### `{TABLES[table].heading}`" if table else "### At the top of the file"
    return PAGE.split(heading + "\n")[1].split("\n### ")[0]


@pytest.mark.parametrize("table", TABLES)
def test_manual_has_every_key_with_its_words_and_example(table: str) -> None:
    text = section(table)
    for key in TABLES[table].keys.values():
        (row,) = [line for line in text.split("\n") if line.startswith(f"| `{key.name}` |")]
        assert key.says in row
        assert f"`{key.name} = {key.example}`" in row
        assert ("| yes |" in row) == key.required
        for choice in key.choices:
            assert choice in row


@pytest.mark.parametrize("table", TABLES)
def test_manual_has_no_key_the_reader_does_not_know(table: str) -> None:
    rows = [line for line in section(table).split("\n") if line.startswith("| `")]
    assert [row.split("`")[1] for row in rows] == list(TABLES[table].keys)


@pytest.mark.parametrize("table", TABLES)
def test_every_attribute_of_the_model_has_its_key(table: str) -> None:
    attributes = set(KINDS[table].__dataclass_fields__)
    if not table:
        attributes -= set(TABLES) | {"notes"}
    assert {key.attribute for key in TABLES[table].keys.values()} - {""} == attributes


@pytest.mark.parametrize("table", TABLES)
def test_examples_of_keys_are_toml_of_the_right_sort(table: str) -> None:
    for key in TABLES[table].keys.values():
        assert list(tomllib.loads(f"{key.name} = {key.example}")) == [key.name]


@pytest.mark.parametrize("rows", ["coverings", "crops", "soils", "bearing_soils"])
def test_manual_lists_every_name_we_know(rows: str) -> None:
    for key, row in getattr(knowledge.load(), rows).items():
        assert f"- `{key}`: {row.name}" in PAGE


def test_manual_example_is_the_demonstration_yard_and_reads() -> None:
    shipped = ROOT / "src" / "dooryard" / "demo" / "yards" / "household-12.toml"
    assert shipped.read_text(encoding="utf-8").strip() == EXAMPLE.strip()
    assert from_text(EXAMPLE, "example.toml", knowledge.load()).notes == ()
