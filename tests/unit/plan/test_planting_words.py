"""Plants set out anew: the county's list of what runs wild, and the weeks of watering in."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from dooryard.care.planting import watering_in
from dooryard.cli.app import dooryard

HEAD = "key,name,kinds,place,rule,good_until,source,status,note\n"
IVY = "ivy,English ivy,Hedera helix;common ivy,Example County,It must not be sold.,2032-12-31,S-OWN,judged,\n"
ASKED = ("plugs", "--area", "10 m2", "--spacing", "20 cm", "--units", "metric", "--hard-freeze", "2031-11-25")


def _run(*words: str) -> Result:
    return CliRunner().invoke(dooryard, ["work", *words])


def _county(folder: Path, rows: str) -> str:
    (folder / "invasive.csv").write_text(HEAD + rows, encoding="utf-8")
    return str(folder)


def _said(result: Result) -> str:
    return " ".join(result.output.split())


@pytest.mark.check(
    "S-06-05", source="liriope: water daily for two weeks after dividing", status="from memory"
)
def test_watering_in_is_daily_for_two_weeks_then_rarer() -> None:
    """From 1 September: 14 days, then the 15th, 17th, 19th and 21st, then 9 weeks."""
    found = watering_in(date(2031, 9, 1), daily_d=14, alternate_d=7, weeks=9, each_mm=6, weekly_mm=25)
    assert [(one.first.isoformat(), one.last.isoformat(), one.times) for one in found] == [
        ("2031-09-01", "2031-09-14", 14), ("2031-09-15", "2031-09-21", 4), ("2031-09-22", "2031-11-23", 9),
    ]  # fmt: skip


@given(st.dates(date(2001, 1, 1), date(2040, 1, 1)), st.integers(1, 30), st.integers(1, 30), st.integers(1, 20),
       st.integers(1, 200))  # fmt: skip
def test_watering_in_has_no_gap_and_ends_before_the_freeze(
    planted: date, daily: int, alternate: int, weeks: int, until: int
) -> None:
    stop = planted + timedelta(days=until)
    found = watering_in(
        planted, daily_d=daily, alternate_d=alternate, weeks=weeks, each_mm=6, weekly_mm=25, stop=stop
    )
    assert found[0].first == planted
    assert found[-1].last < stop
    for one, after in pairwise(found):
        assert after.first == one.last + timedelta(days=1)
        assert one.every_d < after.every_d
    for one in found:
        assert (one.times - 1) * one.every_d <= (one.last - one.first).days < one.times * one.every_d


@pytest.mark.check("P-3.4", source="a divided clump is watered in to drive out air", status="common practice")
def test_divided_plants_are_watered_in_at_once() -> None:
    said = _said(_run(*ASKED, "--on", "2031-09-01"))
    assert (
        "Water at once on the day they are set: it closes the soil round the roots and drives out air."
        in said
    )
    assert "1 to 14 September every day 6 mm deep, about 64 L 14" in said
    assert "drives out air" in _said(_run("divide", "--plant", "hosta", "--on", "2031-05-01"))


def test_plugs_set_in_october_are_watered_from_that_day_until_it_freezes_hard() -> None:
    said = _said(_run(*ASKED, "--on", "2031-09-01", "--planted", "2031-10-10"))
    assert "10 to 23 October every day" in said
    assert "Stop at the first hard freeze, about 25 November." in said


def test_listed_plant_is_refused_and_no_amount_is_given(tmp_path: Path) -> None:
    county = _county(tmp_path, IVY)
    for words in ((*ASKED, "--plant", "english IVY"), (*ASKED, "--plant", "Hedera helix")):
        result = _run(*words, "--county", county, "--on", "2031-09-01")
        assert result.exit_code == 1
        said = _said(result)
        assert (
            "Do not plant or give away English ivy: it runs wild in Example County (from your county's own"
            in said
        )
        assert "It must not be sold." in said
        assert "square grid" not in said


def test_listed_perennial_is_not_divided_either(tmp_path: Path) -> None:
    county = _county(tmp_path, IVY.replace("Hedera helix;common ivy", "daylily"))
    result = _run("divide", "--plant", "daylily", "--county", county, "--on", "2031-05-01")
    assert result.exit_code == 1
    assert "Do not plant or give away" in result.output


def test_list_that_has_run_out_asks_and_a_plant_that_is_not_on_it_is_said_so(tmp_path: Path) -> None:
    county = _county(tmp_path, IVY)
    late = _run(*ASKED, "--plant", "English ivy", "--county", county, "--on", "2033-09-01")
    assert late.exit_code == 0
    assert "Ask whether it still does" in _said(late)
    other = _said(_run(*ASKED, "--plant", "Boston ivy", "--county", county, "--on", "2031-09-01"))
    assert "Your county's list, with 1 plant, does not name Boston ivy." in other
    untold = _said(_run(*ASKED, "--county", county, "--on", "2031-09-01"))
    assert "Tell the plant with --plant" in untold
    assert "run wild in some counties" in _said(_run(*ASKED, "--plant", "English ivy", "--on", "2031-09-01"))


def test_faulty_list_is_told_with_its_line(tmp_path: Path) -> None:
    result = _run(*ASKED, "--county", _county(tmp_path, IVY.replace("2032-12-31", "soon")))
    assert result.exit_code == 2
    assert "good_until" in result.output


def test_county_s_own_rule_on_soil_insecticides_goes_before_the_state_s(tmp_path: Path) -> None:
    from dooryard.care.treatment import restriction
    from dooryard.knowledge.county import with_county

    (tmp_path / "restrictions.csv").write_text(
        "key,place,material,rule,since,good_until,source,status,note\nown,Example County,neonicotinoid,"
        "Not in this county.,2030-01-01,2032-12-31,S-OWN,judged,\n",
        encoding="utf-8",
    )
    knowledge = with_county(tmp_path)
    for state in ("Maryland", ""):
        found = restriction(knowledge, state)
        assert found is not None
        assert found.rule == "Not in this county."
