"""Fire blight of open blossoms, from hours and from days made here."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from dooryard.cli.app import dooryard
from dooryard.knowledge import Knowledge
from dooryard.letter import plain
from dooryard.problem import InputError
from dooryard.season.infection.blossoms import checked, fire_blight
from dooryard.season.infection.fortnight import Days

LAST = date(2031, 5, 10)
ON = LAST + timedelta(days=1)
SEVENTY_C = (70 - 32) / 1.8


def bloom_days(count: int, *, wet_h: float, mean_c: float = SEVENTY_C) -> Days:
    """Days of even warmth up to `LAST`; at 70 degF each holds 24 times 5 degF above 65, 120 of the 198 needed."""
    even = np.full(count, mean_c)
    heat = np.full(count, 24 * max(mean_c - (65 - 32) / 1.8, 0.0))
    return Days(LAST, np.full(count, wet_h), even, even - 5, even + 5, None, (), by_hours=True, heat_ch=heat)


@pytest.mark.check("S-03-09", source="198 degree-hours above 65 degF since bloom", status="from memory")
def test_blossoms_are_open_to_blight_from_the_second_wet_day_at_seventy_degrees(knowledge: Knowledge) -> None:
    found = fire_blight(bloom_days(3, wet_h=4), knowledge, LAST - timedelta(days=2))
    assert found.word == "favoured"
    assert found.value == pytest.approx(360 / 198)
    assert found.sentences[0].startswith("On 2 days since 8 May")
    assert "9 May and 10 May" in found.sentences[0]


def test_blossoms_warm_but_dry_wait_for_rain(knowledge: Knowledge) -> None:
    found = fire_blight(bloom_days(3, wet_h=0), knowledge, LAST - timedelta(days=2))
    assert found.word == "not favoured"
    assert "next rain or heavy dew" in found.sentences[0]


def test_blossoms_are_wetted_by_a_shower_on_a_day_without_dew(knowledge: Knowledge) -> None:
    dry = bloom_days(3, wet_h=0)
    showers = replace(dry, rained=np.array([False, False, True]))
    found = fire_blight(showers, knowledge, LAST - timedelta(days=2))
    assert found.sentences[0].startswith("On 1 day since 8 May open blossoms may have been infected: 10 May.")


def test_blossoms_of_a_cool_bloom_say_how_far_the_warmth_has_come(knowledge: Knowledge) -> None:
    found = fire_blight(bloom_days(1, wet_h=9), knowledge, LAST)
    assert (found.word, round(found.value, 3)) == ("not favoured", round(120 / 198, 3))
    assert "is 61% of what" in found.sentences[0]


def test_blossoms_on_unknown_days_are_told_as_unknown(knowledge: Knowledge) -> None:
    known = bloom_days(3, wet_h=4)
    assert known.heat_ch is not None
    partly = replace(known, heat_ch=np.array([np.nan, *known.heat_ch[1:]]))
    assert (
        "Of 1 day not all is known" in fire_blight(partly, knowledge, LAST - timedelta(days=2)).sentences[-1]
    )
    blank = replace(known, heat_ch=np.full(3, np.nan))
    assert fire_blight(blank, knowledge, LAST - timedelta(days=2)).word == "cannot tell"


@pytest.mark.parametrize("days_ago", [0, -3, 60])
def test_bloom_of_tomorrow_or_long_gone_is_refused(days_ago: int) -> None:
    with pytest.raises(InputError, match="lossom"):
        checked(ON - timedelta(days=days_ago), ON)


def test_leaves_with_a_day_of_bloom_add_fire_blight_from_hours_and_from_days(tmp_path: Path) -> None:
    """21 degC all day and humid each night, as hours; the same lows and highs with their dew point, as days."""
    hours, daily = tmp_path / "hours.csv", tmp_path / "days.csv"
    lines = ["time,temp_C,humidity_pct,rain_mm"]
    for hour in np.arange(np.datetime64("2031-04-20T00"), np.datetime64("2031-05-11T00")):
        humid = 95 if int(str(hour)[11:13]) < 8 else 60
        lines.append(f"{str(hour).replace('T', ' ')}:00,21.0,{humid},0.0")
    hours.write_text("\n".join(lines) + "\n")
    lines = ["# latitude: 40", "date,tmin_C,tmax_C,rain_mm,dew_point_C"]
    lines += [f"{date(2031, 4, 20) + timedelta(days=i)},15.{i % 7},27.{i % 5},{i % 2},16" for i in range(21)]
    daily.write_text("\n".join(lines) + "\n")
    for record in (hours, daily):
        words = [
            "season",
            "leaves",
            str(record),
            "--on",
            str(ON),
            "--bloom",
            "2031-05-05",
            "--disease",
            "scab",
        ]
        result = CliRunner().invoke(dooryard, words)
        text = " ".join(result.output.split())
        assert result.exit_code == 0, result.output
        assert "Fire blight" in text
        assert "open blossoms may have been infected" in text
        assert text.index("First: in dry weather cut out") < text.index("A laboratory can confirm")
        assert plain.grade(result.output) <= 8
