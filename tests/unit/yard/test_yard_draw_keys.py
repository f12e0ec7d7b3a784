"""Who draws water when, what a diverter takes, and when a barrel is off its downspout, as written in a file."""

from __future__ import annotations

import pytest

from dooryard.problem import InputError
from dooryard.yard import model
from dooryard.yard.reading import from_text
from tests.unit.yard.tables import SMALL, TABLES

BARREL = '\n[[storages]]\nname = "drum"\nvolume = "55 gal"\n'
BED = '\n[[beds]]\nname = "plot"\narea = "9 sq ft"\ngrows = "tomato"\nsoil = "clay"\nwatered_from = "drum"\n'
SPOUT = '\n[[downspouts]]\nname = "corner"\nwidth = "3 in"\n'


def read(more: str) -> model.Yard:
    return from_text(SMALL + more, "yard.toml", TABLES)


def message(more: str) -> str:
    with pytest.raises(InputError) as caught:
        read(more)
    (problem,) = caught.value.problems
    return f"{problem.field}: {problem.what} {problem.instead}"


def test_draw_keys_left_out_change_nothing() -> None:
    yard = read(BARREL + BED + SPOUT)
    drum, plot = yard.storage("drum"), yard.bed("plot")
    assert yard.downspout("corner").diverted_share == 1.0
    assert (drum.use_days, drum.use_after_dry_days, drum.off_months) == ((), 0, None)
    assert (plot.watering_days, plot.watering_l, plot.watering_after_dry_days) == ((), None, 0)


@pytest.mark.parametrize("written", ['"85 %"', '"85%"', '"85 percent"', "0.85"])
def test_diverter_is_read_as_a_share(written: str) -> None:
    yard = read(f"{SPOUT}diverter = {written}\n")
    assert yard.downspout("corner").diverted_share == pytest.approx(0.85)


@pytest.mark.parametrize("written", ['"85"', '"most of it"', "true", "85", '"120 %"'])
def test_diverter_that_is_no_share_is_refused(written: str) -> None:
    assert "diverter" in message(f"{SPOUT}diverter = {written}\n")


def test_draw_rules_are_read() -> None:
    drum = BARREL + 'use_days = ["Saturday"]\nuse_after_dry_days = 2\noff_months = []\n'
    bed = BED + 'watering_days = ["monday", "thursday"]\nwatering = "5 gal"\nwatering_after_dry_days = 1\n'
    yard = read(drum + bed)
    assert yard.storage("drum").use_days == ("saturday",)
    assert yard.storage("drum").use_after_dry_days == 2
    assert yard.storage("drum").off_months == ()
    assert yard.bed("plot").watering_days == ("monday", "thursday")
    assert yard.bed("plot").watering_l == pytest.approx(5 * 3.785411784)
    assert yard.bed("plot").watering_after_dry_days == 1


@pytest.mark.parametrize("written", ["-1", "1.5", "true", '"two"', "400"])
def test_dry_days_that_are_no_number_of_days_are_refused(written: str) -> None:
    assert "whole number of days" in message(f"{BARREL}use_after_dry_days = {written}\n")


def test_misspelled_weekday_is_told_with_the_right_one() -> None:
    assert "saturday" in message(f'{BARREL}use_days = ["Saterday"]\n')
