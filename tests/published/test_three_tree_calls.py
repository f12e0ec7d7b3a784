"""Three calls about trees, worked by hand: a scale asked about too early, an ash beside a bed, a linden in bloom."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from dooryard.care import treatment
from dooryard.care.treatment import Site
from dooryard.knowledge import load
from dooryard.letter import screen
from dooryard.plan.work.treat import treat
from dooryard.season.verdicts import judge
from dooryard.season.windows import TOO_EARLY, WORDS
from dooryard.weather.outlook import Outlook
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

KNOWN = load()
REACH_M = KNOWN.fact("spray.reach").value
CALL = date(2031, 7, 8)


def _celsius(fahrenheit: object) -> np.ndarray:
    return (np.asarray(fahrenheit, dtype=float) - 32) / 1.8


def _record(sum_f: float) -> WeatherRecord:
    """From 1 January to the eve of the call: nothing before March, then the same heat each day up to a sum [°F·d]."""
    days = np.arange(np.datetime64("2031-01-01"), np.datetime64(CALL))
    since_march = days >= np.datetime64("2031-03-01")
    warm = _celsius(50 + np.where(since_march, sum_f / since_march.sum(), 0.0))
    values = {"t_max_c": warm, "t_min_c": warm}
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Creek Bottom"), days, values, flags, (), Source("made here", "none"))


def _futures(rates_f: tuple[float, ...]) -> Outlook:
    """One future of one rate each [°F·d a day]."""
    warm = _celsius(np.repeat(50 + np.array(rates_f)[:, None], 120, axis=1))
    return Outlook(
        on=CALL, dates=np.datetime64(CALL, "D") + np.arange(120), t_min_c=warm, t_max_c=warm,
        rain_mm=np.zeros(warm.shape), years=tuple(range(2000, 2000 + len(rates_f))), excluded=(), forecast_days=0,
        issues=(),
    )  # fmt: skip


def test_magnolia_honeydew_in_early_july_is_too_early_and_asks_for_tape_in_august() -> None:
    """DD 1180 with the day itself, 20 to 26 a day, crawlers from 2075: 12 to 22 August. (2075-1180)/26 = 35 days."""
    rates = (26.0, 26.0, 25.0, 24.0, 23.0, 23.0, 22.0, 21.0, 20.0, 20.0)
    verdict = judge("magnolia-scale", KNOWN, _record(1180 - 23), _futures(rates), CALL)
    assert verdict.word == TOO_EARLY
    delaware = next(one for one in verdict.windows if one.window.key == "magnolia-scale.delaware")
    assert delaware.opens.earliest is not None
    assert delaware.opens.latest is not None
    assert abs((delaware.opens.earliest - date(2031, 8, 12)).days) <= 1
    assert abs((delaware.opens.latest - date(2031, 8, 22)).days) <= 1
    plan = treat(
        KNOWN, CALL, verdict=verdict, plant="magnolia", site=Site(in_bloom=False), station="Creek Bottom"
    )
    said = " ".join(screen.render(plan.document()).split())
    assert "Too early" in said
    assert "No spray now." in said
    assert "tape round some twigs by" in said
    assert not plan.figures.keys() & {"mix.product"}


def test_linden_in_bloom_gets_no_treatment_and_no_systemic() -> None:
    for word in WORDS:
        found = treatment.options(KNOWN, "aphids", word, Site(in_bloom=True), date(2031, 6, 10), REACH_M)
        assert found[0].treatment.kind == "do nothing"
        assert found[0].allowed
    with_systemic = [
        organism for organism in KNOWN.organisms
        if any("systemic-bloom" in row.cautions for row in KNOWN.treatments_of(organism))
    ]  # fmt: skip
    assert with_systemic
    for organism in with_systemic:
        for one in treatment.options(KNOWN, organism, "now", Site(in_bloom=True), CALL, REACH_M):
            if "systemic-bloom" in one.treatment.cautions and one.treatment.kind in treatment.KILLING:
                assert "systemic bloom" in one.blocked


@pytest.mark.parametrize("organism", sorted(KNOWN.organisms))
def test_treatment_comes_mildest_first_and_nothing_that_kills_is_allowed_out_of_its_stage(
    organism: str,
) -> None:
    order = ("do nothing", "cultural", "physical", "biological", "oil or soap", "active ingredient", "ask")
    for word in WORDS:
        found = treatment.options(KNOWN, organism, word, Site(state="Nowhere"), CALL, REACH_M)
        assert found
        assert found[0].treatment.kind in order[:3]
        for one in found:
            if word not in ("now", "closing") and one.treatment.kind in treatment.KILLING:
                assert not one.allowed, (word, one)
            if one.treatment.kind not in treatment.KILLING:
                assert one.allowed


def test_peach_with_borers_inside_is_not_sprayed_in_winter() -> None:
    """Common practice: a peach with borers inside is past saving; prevention only, at its stage."""
    for word in ("too early", "over"):
        for one in treatment.options(KNOWN, "peachtree-borer", word, Site(), CALL, REACH_M):
            assert one.treatment.kind not in treatment.KILLING or not one.allowed


@pytest.mark.parametrize(("day", "why"), [(date(2026, 6, 1), "law"), (date(2031, 6, 1), "law unsure")])
def test_law_of_a_state_holds_until_its_row_expires(day: date, why: str) -> None:
    found = treatment.options(KNOWN, "magnolia-scale", "now", Site(state="maryland"), day, REACH_M)
    systemic = [one for one in found if "systemic-state" in one.treatment.cautions]
    assert systemic
    assert all(why in one.blocked for one in systemic)


def test_tall_tree_is_not_sprayed_from_the_ground() -> None:
    found = treatment.options(KNOWN, "bagworm", "now", Site(height_m=12.0), CALL, REACH_M)
    assert all("height" in one.blocked for one in found if one.treatment.kind == "biological")
