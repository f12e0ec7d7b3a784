"""Label cards beside a yard file: the plan says which coming days each allows, and never an amount."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard

ROOT = Path(__file__).parents[3]
CARD = (ROOT / "docs" / "label-card.md").read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo county."""
    place = tmp_path_factory.mktemp("demo")
    assert CliRunner().invoke(dooryard, ["demo", "--out", str(place)]).exit_code == 0
    return place


@pytest.fixture
def yard(demo: Path, tmp_path: Path) -> Path:
    """A household of the demo county with a folder of cards."""
    place = tmp_path / "office"
    shutil.copytree(demo, place)
    (place / "cards").mkdir()
    return place / "household-12.toml"


def _plan(yard: Path, *more: str) -> Result:
    return CliRunner().invoke(dooryard, ["plan", str(yard), "--on", "2031-05-20", *more])


def _said(result: Result) -> str:
    return " ".join(result.output.split())


def _forecast(yard: Path) -> tuple[str, str]:
    return "--forecast", str(yard.parent / "forecast.csv")


def test_plan_without_cards_says_nothing_of_labels(demo: Path) -> None:
    assert "tomato copper" not in _said(_plan(demo / "household-12.toml", *_forecast(demo / "x")))


def test_plan_with_a_card_names_open_days_and_no_amount(yard: Path) -> None:
    (yard.parent / "cards" / "copper.toml").write_text(CARD, encoding="utf-8")
    result = _plan(yard, *_forecast(yard))
    said = _said(result)
    assert "Tomato copper on the tomato bed" in said
    assert "The earliest day is" in said
    assert "may be picked on the same day" in said
    assert "No treatment with it stands in the log this year." in said
    assert "Tbsp" not in said
    assert "Traceback" not in said


def test_plan_with_a_log_keeps_the_label_interval(yard: Path) -> None:
    cards = yard.parent / "cards"
    (cards / "copper.toml").write_text(CARD, encoding="utf-8")
    (cards / "log.csv").write_text(
        "date,card,plant,amount,by\n2031-05-19,tomato copper,tomato bed,1.5 gal,household\n", encoding="utf-8"
    )
    said = _said(_plan(yard, *_forecast(yard)))
    assert "last used there on 19 May" in said
    assert "Not today: the label's interval" in said


def test_plan_with_a_card_and_no_forecast_asks_for_one(yard: Path) -> None:
    (yard.parent / "cards" / "copper.toml").write_text(CARD, encoding="utf-8")
    assert "cannot be said without a forecast" in _said(_plan(yard))


def test_plan_with_a_card_whose_stage_is_not_there_names_no_day(yard: Path) -> None:
    text = CARD.replace('["tomato"]', '["magnolia"]').replace(
        '["early blight", "septoria leaf spot"]', '["magnolia scale"]'
    )
    (yard.parent / "cards" / "oil.toml").write_text(text.replace('"fungicide"', '"oil"'), encoding="utf-8")
    said = _said(_plan(yard, *_forecast(yard)))
    assert "Not now: magnolia scale: too early." in said


def test_plan_with_faulty_cards_tells_all_of_them(yard: Path) -> None:
    cards = yard.parent / "cards"
    (cards / "a.toml").write_text(CARD.replace("Tbsp", "Tbs"), encoding="utf-8")
    (cards / "b.toml").write_text(CARD.replace("second_reader", "secnd_reader"), encoding="utf-8")
    result = _plan(yard, *_forecast(yard))
    assert result.exit_code == 2
    assert "a.toml" in result.output
    assert "b.toml" in result.output


def test_card_of_vegetables_without_days_to_picking_goes_on_nothing_eaten(yard: Path) -> None:
    (yard.parent / "cards" / "copper.toml").write_text(
        CARD.replace("harvest_days = 0\n", ""), encoding="utf-8"
    )
    assert "it goes on nothing that is eaten" in _said(_plan(yard, *_forecast(yard)))
