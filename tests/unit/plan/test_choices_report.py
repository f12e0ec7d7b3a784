"""What the water report says on more barrels: list, ladder, money, round numbers, and where it cannot say."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.letter.prose import spell
from dooryard.plan.assemble import Sky
from dooryard.plan.water_report import water
from dooryard.yard.model import Bed, Downspout, Household, Roof, Storage, Yard
from tests.water_yards import days, record, yard

GAL = 3.785411784
ON = dt.date(2010, 6, 15)
DRUM = Storage("barrel", 200.0, fed_by=("spout",))
BED = Bed("bed", 10.0, "tomato", "loam", "barrel")
TWO_SPOUTS = (Roof("front", 30.0, "metal", "spout"), Roof("shed", 8.0, "metal", "other"))


def document(
    knowledge: Knowledge,
    place: Yard,
    *,
    price_gal: float | None = None,
    first: str = "2000-01-01",
    seed: int = 3,
) -> dict[str, Any]:
    """The report over ten years of made-up rain; price_gal : dollars for 1,000 gal."""
    dates = days(first, "2010-06-14")
    luck = np.random.default_rng(seed)
    rain = np.where(luck.random(len(dates)) < 0.25, luck.gamma(0.8, 10.0, len(dates)), 0.0)
    price = None if price_gal is None else price_gal / GAL
    made = replace(place, household=Household(water_price_m3=price))
    return water(made, Sky(record(dates, rain_mm=rain)), knowledge, ON).document()


def stop(report: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in report["walk"] if one["id"] == "choices")
    return found


def text(report: dict[str, Any]) -> str:
    return spell(" ".join(stop(report)["sentences"]), report["figures"])


@pytest.fixture(scope="module")
def plain(knowledge: Knowledge) -> dict[str, Any]:
    return document(knowledge, yard(storages=(DRUM,), beds=(BED,)), price_gal=4.50)


def test_list_is_short_ordered_and_every_number_has_its_why(plain: dict[str, Any]) -> None:
    rows = stop(plain)["table"]["rows"]
    assert 2 <= len(rows) <= 8
    barrels = [0 if row[0].startswith("nothing more") else int(row[0].split()[0]) for row in rows]
    assert barrels == sorted(barrels)
    for number, row in enumerate(rows, 1):
        assert row[1] == f"[[choices.row-{number}]]"
        figure = plain["figures"][f"choices.row-{number}"]
        assert figure["method"] == "water.choice"
        assert figure["low"] <= figure["value"] <= figure["high"]
        assert (
            sum(item["name"].split(" year ")[0] in ("dry", "middling", "wet") for item in figure["inputs"])
            == 3
        )
    assert plain["methods"]["water.choice"]["source"] == "W-OWN"


def test_named_years_and_the_yard_as_it_stands_come_first(plain: dict[str, Any]) -> None:
    assert re.search(r"\(dry year 20\d\d, middling 20\d\d, wet 20\d\d\)", text(plain))
    given = plain["figures"]["storage.barrel.given"]
    now = plain["figures"]["choices.now"]
    # One store with a roof of its own: the list is reckoned on what the network itself found.
    assert now["value"] == pytest.approx(given["value"], rel=1e-9)
    assert "Run barrel by barrel" not in text(plain)


def test_money_is_told_with_its_range_and_that_it_is_not_for_money(plain: dict[str, Any]) -> None:
    figures = plain["figures"]
    added, saved, pays = (figures[f"choices.{part}"] for part in ("add-1", "saving", "payback"))
    assert saved["low"] == pytest.approx(added["low"] / GAL / 1000 * 4.50)
    assert saved["high"] == pytest.approx(added["high"] / GAL / 1000 * 4.50)
    assert pays["low"] == pytest.approx(40 / saved["high"])
    assert pays["high"] is None or pays["high"] == pytest.approx(70 / saved["low"])
    assert pays["value"] > 20
    assert "It is not for money" in text(plain)


def test_dear_water_is_worth_money_and_says_so(knowledge: Knowledge) -> None:
    dear = document(knowledge, yard(storages=(DRUM,), beds=(replace(BED, area_m2=60.0),)), price_gal=90.0)
    assert dear["figures"]["choices.payback"]["value"] < 10
    assert "It pays for itself" in text(dear)


def test_without_a_price_money_is_refused_and_all_else_stands(
    knowledge: Knowledge, plain: dict[str, Any]
) -> None:
    unpriced = document(knowledge, yard(storages=(DRUM,), beds=(BED,)))
    said = text(unpriced)
    assert 'water_price = "4.50 per 1000 gal"' in said
    assert "dollars" not in said
    assert stop(unpriced)["table"] == stop(plain)["table"]
    assert unpriced["refusals"] == plain["refusals"]


def test_the_popular_number_is_refused_with_what_the_station_gives(plain: dict[str, Any]) -> None:
    assert "We do not repeat the 1,300 gal a summer" in text(plain)
    fills = plain["figures"]["choices.claim-fills"]
    assert fills["value"] == pytest.approx(1300 / 55 / (1 - (0.0762 + 0.0762) / 0.8509), rel=1e-3)
    assert plain["figures"]["choices.alone"]["high"] < 1300 * GAL


def test_a_yard_without_a_barrel_is_told_of_the_first(knowledge: Knowledge) -> None:
    report = document(knowledge, yard(storages=(), beds=(replace(BED, watered_from="tap"),)), price_gal=4.50)
    said = text(report)
    assert "No barrel stands here yet. The first 55 gal drum would give" in said
    assert "The second adds" in said
    assert "the first 55 gal drum saves" in said
    (chart,) = [chart for chart in report["charts"] if chart["kind"] == "worth"]
    assert chart["id"] == "yard.choices"
    assert [step["label"] for step in chart["steps"]] == ["the first", "the second", "the third"]
    first = report["figures"]["choices.first"]
    assert first["low"] / GAL - 1 <= chart["steps"][0]["middling"] <= first["high"] / GAL + 1


def test_barrels_at_two_downspouts_are_weighed_apart(knowledge: Knowledge) -> None:
    other = Storage("shed barrel", 200.0, fed_by=("other",))
    beds = (BED, replace(BED, name="border", area_m2=30.0, watered_from="shed barrel"))
    both = document(knowledge, yard(roofs=TWO_SPOUTS, storages=(DRUM, other), beds=beds))
    named = {row[0] for row in stop(both)["table"]["rows"]}
    where = stop(both)["table"]["caption"] + " ".join(named)
    assert "barrel" in where
    # Each barrel really waters its own bed, so together they give less than if every bed drew on both.
    assert both["figures"]["choices.network"]["value"] < both["figures"]["choices.now"]["value"]
    assert "look for less than it says" in text(both)


def test_an_unused_downspout_is_a_place_for_the_next_barrel(knowledge: Knowledge) -> None:
    here = yard(roofs=TWO_SPOUTS[::-1], storages=(replace(DRUM, fed_by=("other",)),), beds=(BED,))
    report = document(
        knowledge, replace(here, downspouts=(Downspout("spout", 0.05), Downspout("other", 0.05)))
    )
    assert "One more 55 gal drum at the spout adds" in text(report)


def test_bed_that_is_watered_first_goes_short_less_often(knowledge: Knowledge) -> None:
    beds = (replace(BED, name="vegetables", area_m2=4.0), replace(BED, name="border", area_m2=12.0))
    report = document(knowledge, yard(storages=(DRUM,), beds=beds))
    figures = report["figures"]
    assert figures["choices.first-1"]["name"].endswith(
        "vegetables gets all it asks for if it is watered first"
    )
    assert figures["choices.first-1"]["value"] > figures["choices.now-days"]["value"]


def test_a_few_years_are_too_few_to_choose_by(knowledge: Knowledge) -> None:
    report = document(knowledge, yard(storages=(DRUM,), beds=(BED,)), first="2007-03-01")
    assert text(report) == (
        "The record has only 2 whole years of rain: too few to weigh one choice of barrels against another."
    )
    assert stop(report)["table"] is None


def test_yard_where_nothing_asks_for_water_is_spared_the_list(knowledge: Knowledge) -> None:
    report = document(knowledge, yard(storages=(DRUM,)))
    assert not [one for one in report["walk"] if one["id"] == "choices"]


def test_daily_use_in_the_yard_file_counts_and_is_not_added_again(knowledge: Knowledge) -> None:
    report = document(knowledge, yard(storages=(replace(DRUM, daily_use_l=20.0),)))
    assert "choices.daily" not in report["figures"]
    assert report["figures"]["choices.now"]["value"] > 500
    assert "other use" in stop(report)["table"]["rows"][0][0]


def test_a_great_garden_may_reach_the_popular_number_and_is_told_so(knowledge: Knowledge) -> None:
    thirsty = replace(DRUM, daily_use_l=170.0)
    report = document(
        knowledge, yard(roofs=(Roof("roof", 60.0, "metal", "spout"),), storages=(thirsty,), beds=(BED,))
    )
    assert report["figures"]["choices.alone"]["high"] >= 1300 * GAL
    assert "may come true here in a good year" in text(report)


def test_a_bed_above_all_water_is_no_reason_for_a_barrel(knowledge: Knowledge) -> None:
    tall = Storage(
        "barrel",
        200.0,
        height_m=0.8,
        outlet_height_m=0.08,
        overflow_height_m=0.72,
        stand_height_m=0.3,
        fed_by=("spout",),
    )
    high = replace(BED, how="drip", height_m=1.5)
    report = document(knowledge, yard(storages=(tall,), beds=(high,)))
    assert not [one for one in report["walk"] if one["id"] == "choices"]
    assert "a bigger store would add nothing" in " ".join(
        sentence for one in report["walk"] for sentence in one["sentences"]
    )


def test_a_raised_bed_gets_less_than_the_list_says_and_the_report_tells(knowledge: Knowledge) -> None:
    tall = Storage(
        "barrel",
        200.0,
        height_m=0.8,
        outlet_height_m=0.08,
        overflow_height_m=0.72,
        stand_height_m=0.3,
        fed_by=("spout",),
    )
    report = document(knowledge, yard(storages=(tall,), beds=(replace(BED, how="drip", height_m=0.8),)))
    # Of 0.64 m above the outlet only the upper 0.22 run to it.
    assert report["figures"]["choices.network"]["value"] < 0.7 * report["figures"]["choices.now"]["value"]
