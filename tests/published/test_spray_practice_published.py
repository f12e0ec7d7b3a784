"""What every county office says of sprays: heat, rain, tender plants, caterpillars, sulfur after oil, leftovers."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from dooryard import knowledge
from dooryard.care import material, mix
from dooryard.care.card import Card
from dooryard.care.card_reading import from_text
from dooryard.letter import data, screen
from dooryard.plan.document import Plan
from dooryard.plan.work import mixing, treat_days
from dooryard.weather.forecast import Forecast

ON = date(2031, 7, 12)
KNOWN = knowledge.load()
GALLON_L, FOOT_M = 3.785411784, 0.3048
EXAMPLE = Path(__file__).parents[2] / "docs" / "label-card.md"


def _card(**changes: str) -> Card:
    """The card of the manual's example, with values changed; the label is silent on rain unless told."""
    text = EXAMPLE.read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    for key, value in {"rain_fast_hours": "", **changes}.items():
        start = text.index(f"{key} = ")
        end = text.index("\n", start)
        text = text[:start] + (f"{key} = {value}" if value else "") + text[end:]
    return from_text(text, "card.toml", KNOWN)


def _oil(plant: str = "magnolia", rate: str = "2 %", **changes: str) -> Card:
    return _card(
        material='"horticultural oil"', kind='"oil"', plants=f'["{plant}"]', rate=f'"{rate}"', **changes
    )


def _plan(
    card: Card,
    plant: str,
    highs_f: tuple[float, ...],
    done: treat_days.Done | None = None,
    low_c: float = 12.0,
) -> Plan:
    count = len(highs_f)
    absent = np.full(count, np.nan)
    forecast = Forecast(
        issued=ON, dates=np.arange(np.datetime64(ON), np.datetime64(ON) + count), t_min_c=np.full(count, low_c),
        t_max_c=(np.array(highs_f) - 32) / 1.8, rain_mm=np.zeros(count), rain_low_mm=absent, rain_high_mm=absent,
        burst_mm_h=None, source="made for this test",
    )  # fmt: skip
    done = done or treat_days.Done()
    return treat_days.treat_days(KNOWN, ON, card, plant=plant, pest="", done=done, forecast=forecast)


def _text(plan: Plan) -> str:
    document = plan.document()
    assert data.render(document)
    return " ".join(screen.render(document).split())


@pytest.mark.check("S-04-03", source="oil and soap: not above 90 °F, with care from 85", status="seen")
def test_oil_waits_out_ninety_degrees_and_warns_from_eighty_five() -> None:
    said = _text(_plan(_oil(), "magnolia", (91, 93, 95)))
    assert "None of the foretold days passes" in said
    assert "Rather wait for autumn" in said
    warm = _text(_plan(_oil(), "magnolia", (91, 88, 80, 80)))
    assert "The earliest day is Sunday 13 July" in warm
    assert "With care on 13 July: above 85 °F it may scorch" in warm
    assert "With care" not in _text(_plan(_oil(), "magnolia", (80, 80)))


@pytest.mark.check(
    "S-04-03", source="oil and soap: not below 40 °F or before a freezing night", status="second-hand"
)
@pytest.mark.parametrize(
    ("high_f", "low_c", "limit"), [(39, 1.0, "too cold"), (50, -1.0, "frost in the night after")]
)
def test_oil_is_not_sprayed_in_the_cold(high_f: float, low_c: float, limit: str) -> None:
    assert f"Not today: {limit}." in _text(_plan(_oil(), "magnolia", (high_f, high_f), low_c=low_c))


@pytest.mark.check(
    "S-04-04", source="sensitive plants: maples, Japanese maple, blue spruce", status="second-hand"
)
@pytest.mark.parametrize(("plant", "hurt"), [
    ("red maple", True), ("Japanese maple", True), ("blue spruce", True), ("Norway spruce", False), ("magnolia", False),
])  # fmt: skip
def test_oil_is_closed_on_a_plant_that_it_hurts(plant: str, hurt: bool) -> None:
    said = _text(_plan(_oil(plant), plant, (75, 75)))
    assert (f"We will not name a day for it on {plant}" in said) is hurt
    assert ("The earliest day is" in said) is not hurt


@pytest.mark.check("S-04-07", source="oil and sulfur 30 days apart, either order", status="seen")
@pytest.mark.parametrize(
    ("last", "earliest"), [(date(2031, 6, 12), "12 July"), (date(2031, 6, 13), "13 July")]
)
@pytest.mark.parametrize(("kind", "stuff"), [("oil", "horticultural oil"), ("fungicide", "wettable sulfur")])
def test_oil_and_sulfur_stay_thirty_days_apart(kind: str, stuff: str, last: date, earliest: str) -> None:
    card = _oil(), _card(material=f'"{stuff}"', kind=f'"{kind}"', plants='["magnolia"]')
    said = _text(_plan(card[kind != "oil"], "magnolia", (75, 75, 75), treat_days.Done(other_last=last)))
    assert earliest in said.split("The earliest day is")[1][:25]


def test_sulfur_stays_in_the_shed_above_eighty_five_degrees() -> None:
    sulfur = _card(material='"wettable sulfur"')
    assert "Not today: too hot." in _text(_plan(sulfur, "tomato", (86, 80)))
    assert "tell the last day of the other" in _text(_plan(sulfur, "tomato", (80,)))


@pytest.mark.check("S-04-05", source="hours without rain where the label is silent", status="from memory")
@pytest.mark.parametrize(("kind", "stuff", "hours"), [
    ("insecticide", "Bacillus thuringiensis kurstaki", 24), ("oil", "horticultural oil", 24),
    ("soap", "potassium salts of fatty acids", 24), ("fungicide", "copper octanoate", 6),
    ("insecticide", "spinosad", 24),
])  # fmt: skip
def test_rain_is_kept_off_for_the_material_s_own_hours(kind: str, stuff: str, hours: int) -> None:
    card = _card(kind=f'"{kind}"', material=f'"{stuff}"')
    assert material.advice(KNOWN, card).dry_h == hours
    assert f"{hours} hours afterwards" in _text(_plan(card, "tomato", (75, 75, 75)))


def test_open_day_tells_how_far_it_stays_inside_its_limits() -> None:
    """80 °F is 10 °F under oil's 90; a night of 12 °C (53.6 °F) is 21 °F (21.6) above freezing."""
    said = str(_plan(_oil(), "magnolia", (80, 80)).document())
    assert "To spare" in said
    assert "10 °F of heat, 21 °F from frost" in said


def test_label_overrules_what_is_usual() -> None:
    said = _text(_plan(_oil(rain_fast_hours="2"), "magnolia", (75, 75)))
    assert "2 hours afterwards" in said


@pytest.mark.check("S-04-14", source="Bt must be eaten by small caterpillars", status="seen")
def test_bt_is_said_to_work_on_young_caterpillars_alone() -> None:
    bt = _card(kind='"insecticide"', material='"Bacillus thuringiensis kurstaki"')
    said = _text(_plan(bt, "tomato", (75, 75, 75)))
    assert "Young caterpillars only" in said
    assert "late afternoon" in said


def test_rain_since_counts_for_a_cover_and_for_nothing_else() -> None:
    done = treat_days.Done(date(2031, 7, 3), 1, None, False, False, 60.0)  # 60 mm, 2.36 in
    cover = _card(interval_most_days="20")
    other = _card(interval_most_days="20", material='"spinosad"', kind='"insecticide"')
    assert "It is due on 12 July (2.36 in since 3 July: more rain" in _text(
        _plan(cover, "tomato", (75, 75, 75), done)
    )
    said = _text(_plan(other, "tomato", (75, 75, 75), done))
    assert "It is due on 23 July, by the label's interval. Rain is only counted for covers" in said


@pytest.mark.parametrize(("kind", "share", "rate", "warned"), [
    ("oil", "98 %", "4 %", False), ("oil", "98 %", "6 %", True), ("soap", "50 %", "5 %", False),
    ("soap", "50 %", "7 %", True),
])  # fmt: skip
def test_mixture_stronger_than_is_ever_used_is_asked_about(
    kind: str, share: str, rate: str, warned: bool
) -> None:
    """Oil to 4 %, soap to 3 % of the active ingredient: 7 % of a product of half soap is 3.5 %."""
    card = _card(kind=f'"{kind}"', material=f'"{kind}"', share=f'"{share}"', rate=f'"{rate}"')
    plan = mixing.mixture(KNOWN, ON, card, plant="tomato", pest="", job=mixing.Job(water_l=GALLON_L))
    assert ("Read the rate on the label once more" in _text(plan)) is warned


@pytest.mark.parametrize(("need", "tank", "times", "rest"), [
    (7.2, 2.0, 4, 1.2), (2.0, 2.0, 1, 2.0), (6.0, 2.0, 3, 2.0), (0.87, 2.0, 1, 0.87),
])  # fmt: skip
def test_fillings_leave_nothing_over(need: float, tank: float, times: int, rest: float) -> None:
    count, last = mix.fills(need, tank)
    assert count == times
    assert last == pytest.approx(rest)
    assert (count - 1) * tank + last == pytest.approx(need)


def test_mixture_for_a_crown_says_what_the_last_tank_takes() -> None:
    """Crown of 20 by 25 ft takes 7.2 gal; with 2 gal in the tank that is three full ones and 1.2 gal."""
    job = mixing.Job(water_l=2 * GALLON_L, crown_m=(20 * FOOT_M, 25 * FOOT_M))
    said = _text(mixing.mixture(KNOWN, ON, _oil(), plant="magnolia", pest="", job=job))
    assert "3 full tanks of 2 gal, then 1.21 gal" in said
    job = mixing.Job(water_l=2 * GALLON_L, crown_m=(10 * FOOT_M, 12 * FOOT_M))
    said = _text(mixing.mixture(KNOWN, ON, _oil(), plant="magnolia", pest="", job=job))
    assert "A full tank would leave 1.13 gal over" in said


def test_spoons_say_about_where_they_were_rounded() -> None:
    """2 % of 0.87 gal is 2.23 fl oz, 13.4 tsp: four tablespoons and a teaspoon and a quarter."""
    job = mixing.Job(water_l=0.87 * GALLON_L)
    said = _text(mixing.mixture(KNOWN, ON, _oil(), plant="magnolia", pest="", job=job))
    assert "about 4 Tbsp and 1 1/4 tsp = 2.23 fl oz = 65.9 mL" in said


@pytest.mark.check("S-04-01", source="3 to 8 mph where the label is silent", status="seen")
def test_wind_is_held_between_calm_and_eight_miles_an_hour() -> None:
    assert "3 to 8 mph" in str(_plan(_card(), "tomato", (75, 75)).document())
    assert KNOWN.fact("spray.calm").value == pytest.approx(3 * 0.44704)
    assert KNOWN.fact("spray.wind_caution").value == pytest.approx(8 * 0.44704)


@pytest.mark.check("S-04-06", source="no spray on open flowers", status="from memory")
@pytest.mark.parametrize("kind", ["insecticide", "oil", "soap"])
def test_open_flowers_close_every_day(kind: str) -> None:
    card = _card(kind=f'"{kind}"', material='"spinosad"')
    said = _text(_plan(card, "tomato", (75, 75), treat_days.Done(in_bloom=True)))
    assert "Not today: in bloom." in said
    assert "Not today" not in _text(_plan(card, "tomato", (75, 75), treat_days.Done(in_bloom=False)))


@pytest.mark.check("S-04-15", source="earliest pick = spray date + days on the label", status="from memory")
@pytest.mark.parametrize(("pick", "open_today"), [(date(2031, 7, 14), False), (date(2031, 7, 15), True)])
def test_picking_waits_the_label_s_days(pick: date, open_today: bool) -> None:
    """Three days on the label: sprayed on 12 July, picked on the 15th at the earliest."""
    said = _text(_plan(_card(harvest_days="3"), "tomato", (75, 75), treat_days.Done(harvest=pick)))
    assert ("Not today: too near the picking." not in said) is open_today
