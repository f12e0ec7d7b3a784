"""`dooryard build` and `dooryard kit` on the demo county: every form, exit codes, and nonsense refused plainly."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard
from dooryard.demo import households


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("county")
    households.write(folder)
    return folder


def run(*words: object) -> Result:
    return CliRunner().invoke(dooryard, [str(word) for word in words])


def test_build_writes_every_form_and_needs_no_weather(demo: Path, tmp_path: Path) -> None:
    yard = demo / households.SHOWN_YARD
    result = run("build", yard, "--on", households.MADE_ON, "--out", tmp_path)
    # The demo yard does not say how the ground falls: one thing needs a person.
    assert result.exit_code == 1, result.output
    assert "ground_drop" in result.output
    stem = f"{yard.stem}-build"
    names = {path.name for path in tmp_path.iterdir()}
    assert {f"{stem}.html", f"{stem}.pdf", f"{stem}.json"} <= names


def test_build_as_json_is_the_document(demo: Path) -> None:
    result = run("build", demo / households.SHOWN_YARD, "--on", households.MADE_ON, "--json")
    document = json.loads(result.stdout)
    assert [chart["kind"] for chart in document["charts"]] == ["build", "template"]


def test_build_of_tanks_without_a_width_says_which_key_to_add(demo: Path) -> None:
    result = run("build", demo / households.METRIC_YARD, "--on", households.MADE_ON)
    assert result.exit_code == 1
    assert "diameter =" in result.output
    assert "width, if it is not round" in " ".join(result.output.split())


def test_build_of_a_barrel_that_is_not_there_is_bad_input(demo: Path) -> None:
    result = run("build", demo / households.SHOWN_YARD, "--storage", "back barel")
    assert result.exit_code == 2
    assert "back barrel" in result.output


@pytest.mark.parametrize("number", ["0", "-3", "100000", "ten", "2.5"])
def test_kit_of_nonsense_is_bad_input_without_a_trace(number: str) -> None:
    result = run("kit", number)
    assert result.exit_code == 2
    assert "Write a whole number" in result.output or "Split it" in result.output
    assert "Traceback" not in result.output


def test_kit_of_twenty_is_told(demo: Path) -> None:
    result = run("kit", "20", "--yard", demo / households.SHOWN_YARD, "--on", households.MADE_ON)
    assert result.exit_code == 0, result.output
    for words in ("Shopping list", "3 to 4 drills", "Run of the day", "Hand-outs", "from memory"):
        assert words in " ".join(result.output.split())
