"""Single sums as a household meets them: four cases reckoned by hand, and what is refused."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from dooryard import knowledge
from dooryard.care import rate
from dooryard.care.card import Card
from dooryard.care.card_reading import from_text
from dooryard.care.wound import Wound
from dooryard.letter import data, screen
from dooryard.plan.document import Plan
from dooryard.plan.work import drench, mixing, mulch, plugs, soil, treat_days, tree_water, wound
from dooryard.problem import InputError
from dooryard.weather.forecast import Forecast

INCH_M, FOOT_M, GALLON_L = 0.0254, 0.3048, 3.785411784
ON = date(2031, 7, 12)
KNOWN = knowledge.load()
EXAMPLE = Path(__file__).parents[3] / "docs" / "label-card.md"


def _card(**changes: str) -> Card:
    """The card of the manual's example, with values changed."""
    text = EXAMPLE.read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    for key, value in changes.items():
        start = text.index(f"{key} = ")
        end = text.index("\n", start)
        text = text[:start] + (f"{key} = {value}" if value else "") + text[end:]
    return from_text(text, "card.toml", KNOWN)


def _forecast(rain_mm: tuple[float, ...], chance: tuple[float, ...]) -> Forecast:
    count = len(rain_mm)
    absent = np.full(count, np.nan)
    return Forecast(
        issued=ON,
        dates=np.arange(np.datetime64(ON), np.datetime64(ON) + count),
        t_min_c=np.full(count, 18.0),
        t_max_c=np.full(count, 29.0),
        rain_mm=np.array(rain_mm),
        rain_low_mm=absent,
        rain_high_mm=absent,
        burst_mm_h=None,
        source="made for this test",
        rain_chance_pct=np.array(chance),
    )


def _text(plan: Plan) -> str:
    document = plan.document()
    assert data.render(document)
    return " ".join(screen.render(document).split())


def _days(done: treat_days.Done, card: Card | None = None) -> Plan:
    return treat_days.treat_days(
        KNOWN, ON, card, plant="tomato", pest="", done=done, forecast=_forecast((0, 0, 7.0), (10, 20, 60))
    )


def test_tomato_is_treated_on_the_first_dry_morning_the_label_allows() -> None:
    """Last 6 July, today the 12th, 2.35 in since, at least 7 days, 8 a season of which 3 are used."""
    done = treat_days.Done(date(2031, 7, 6), 3, date(2031, 7, 20), False, False, 2.35 * 25.4)
    said = _text(_days(done, _card()))
    assert "The earliest day is Sunday 13 July, in the morning" in said
    assert "Not today: the label's interval." in said
    assert "Monday 14 July closed rain that day" in said
    assert "After it 4 of the label's 8 in a season are left." in said
    mixed = _text(
        mixing.mixture(KNOWN, ON, _card(), plant="tomato", pest="", job=mixing.Job(water_l=1.5 * GALLON_L))
    )
    assert "3 Tbsp = 9 tsp = 1.5 fl oz = 44.4 mL" in mixed


@pytest.mark.parametrize(
    ("done", "changes", "says"),
    [
        (treat_days.Done(date(2031, 7, 6), 8), {}, "No more treatments this season"),
        (treat_days.Done(date(2031, 7, 6), 3, date(2031, 7, 13)), {"harvest_days": "3"}, "too near the picking"),
        (treat_days.Done(None, 0, date(2031, 7, 20)), {"harvest_days": ""}, "will not name a day before a harvest"),
        (treat_days.Done(date(2031, 7, 6), 1), {"interval_days": "", "interval_most_days": ""}, "not say how soon"),
        (treat_days.Done(), {}, "earliest day is Saturday 12 July"),
    ],
)  # fmt: skip
def test_treat_days_say_what_closes_or_is_missing(
    done: treat_days.Done, changes: dict[str, str], says: str
) -> None:
    assert says in _text(_days(done, _card(**changes)))


def test_systemic_under_a_tree_in_bloom_is_closed_on_every_day() -> None:
    card = _card(kind='"insecticide"', plants='["linden"]', pests='["aphids"]')
    plan = treat_days.treat_days(
        KNOWN, ON, card, plant="linden", pest="", done=treat_days.Done(in_bloom=True),
        forecast=_forecast((0, 0, 0), (0, 0, 0)),
    )  # fmt: skip
    said = _text(plan)
    assert "None of the foretold days passes" in said
    assert "Not today: in bloom." in said


def test_no_card_no_amount_and_no_day() -> None:
    for plan in (
        mixing.mixture(KNOWN, ON, None, plant="tomato", pest="", job=mixing.Job(water_l=4.0)),
        _days(treat_days.Done()),
    ):
        assert plan.needs_a_person
        assert "No amount without the label in hand." in _text(plan)
        assert not plan.figures


@pytest.mark.parametrize(
    ("changes", "plant", "says"),
    [
        ({}, "peach", "will not allow it on peach"),
        ({"read_on": "2030-01-01"}, "tomato", "more than a year ago"),
        ({"rate": ""}, "tomato", "has no rate for this use"),
        ({"bees": '"x"\nlicensed_only = true'}, "tomato", "for licensed applicators only"),
        ({}, "tomatoe", "Did you mean"),
    ],
)
def test_card_that_does_not_fit_is_refused(changes: dict[str, str], plant: str, says: str) -> None:
    plan = mixing.mixture(KNOWN, ON, _card(**changes), plant=plant, pest="", job=mixing.Job(water_l=4.0))
    assert plan.needs_a_person
    assert says in _text(plan)


def test_mix_without_what_the_rate_goes_by_says_what_to_give() -> None:
    with pytest.raises(InputError, match="--water"):
        mixing.mixture(KNOWN, ON, _card(), plant="tomato", pest="", job=mixing.Job(area_m2=4.0))


def test_mower_wound_is_guarded_and_a_third_one_changes_its_class() -> None:
    def said(*widths_in: float) -> str:
        found = [Wound(width * INCH_M) for width in widths_in]
        return _text(wound.wounds(KNOWN, ON, girth_m=22 * INCH_M, found=found, fresh=True))

    two = said(4.5, 3.0)
    assert "34.1 % of the bark around the trunk is gone: between a quarter and a half." in two
    assert "No paint" in two
    three = said(4.5, 3.0, 4.0)
    assert "52.3 %" in three
    assert "more than half" in three
    assert "would change the class" in three
    ring = _text(
        mulch.ring(
            KNOWN, ON, reach_m=3 * FOOT_M, trunk_m=7 * INCH_M, depth_mm=76.2, clear_m=6 * INCH_M, bag_l=None
        )
    )
    assert "26 sq ft" in ring
    assert "6.6 cu ft, which is 4 bags of 2 cu ft" in ring


def test_ash_drench_is_stopped_by_the_bed_alone_and_no_rate_is_named() -> None:
    """3 May, girth 41.5 in, a fifth of the crown lost, flowers 12 ft away."""
    plan = drench.drench(
        KNOWN, date(2031, 5, 3), girth_m=41.5 * INCH_M, crown_lost=0.2, flowers_m=12 * FOOT_M, water_m=None
    )
    said = _text(plan)
    assert plan.figures["drench.diameter"].exact.startswith("13.2")
    assert "Its size allows it." in said
    assert "Its crown allows it." in said
    assert "That stops the drench" in said
    assert "We will not name a rate" in said


def test_ground_cover_has_the_plugs_spacings_and_last_days_reckoned_by_hand() -> None:
    said = _text(
        plugs.plugs(
            KNOWN, date(2031, 8, 1), area_m2=180 * FOOT_M**2, mat=plugs.Mat(6 * FOOT_M, 5 * FOOT_M),
            plug_m=4 * INCH_M, share_lost=0.1, spacing_m=8 * INCH_M, hard_freeze=date(2031, 11, 25),
        )
    )  # fmt: skip
    for part in ("270 plugs", "243 live", "10.3 in", "405", "468", "by 14 October", "by 28 October"):
        assert part in said


def test_plugs_without_a_freeze_date_refuse_the_last_day() -> None:
    plan = plugs.plugs(KNOWN, ON, area_m2=10.0, spacing_m=0.2)
    assert "We will not name the last day to divide" in _text(plan)


def test_mulch_too_deep_or_against_the_bark_is_refused() -> None:
    deep = mulch.bed(KNOWN, ON, area_m2=10.0, depth_mm=150.0, bag_l=None)
    close = mulch.ring(KNOWN, ON, reach_m=1.0, trunk_m=0.2, depth_mm=None, clear_m=0.01, bag_l=None)
    assert "will not advise" in _text(deep)
    assert "clear enough" in _text(close)
    with pytest.raises(InputError, match="end where it begins"):
        mulch.ring(KNOWN, ON, reach_m=0.1, trunk_m=0.3, depth_mm=None, clear_m=None, bag_l=None)


def test_young_tree_schedule_follows_the_days() -> None:
    planted = ON - timedelta(days=3)
    said = _text(tree_water.young_tree(KNOWN, ON, diameter_m=2 * INCH_M, planted=planted))
    assert "Give 3 gal each time" in said
    assert "42 gal" in said
    assert "90 gal" in said
    with pytest.raises(InputError, match="not the girth"):
        tree_water.young_tree(KNOWN, ON, diameter_m=0.6, planted=planted)


def test_soil_report_amounts_are_said_in_parts_and_an_old_report_is_refused() -> None:
    def said(report: date) -> Plan:
        return soil.soil(
            KNOWN, ON, area_m2=400 * FOOT_M**2, report=report, lime=rate.parse("60 lb per 1,000 sq ft"), strength=0.9,
            nutrient="nitrogen", feed=rate.parse("1 lb per 1,000 sq ft"), grade=(0.10, 0.06, 0.04),
        )  # fmt: skip

    text = _text(said(date(2031, 3, 1)))
    assert "27 lb of this lime" in text
    assert "in 2 parts of 13 lb" in text
    assert "4 lb of 10-6-4 for its nitrogen" in text
    assert not said(date(2031, 3, 1)).needs_a_person
    assert said(date(2027, 3, 1)).needs_a_person
