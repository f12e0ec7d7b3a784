"""Plans to fill gaps: which way each day gets, what is refused and why, and what the filled record is."""

from datetime import date

import numpy as np
import pytest

from dooryard.weather import fill
from dooryard.weather.fill import OWN_DAYS
from dooryard.weather.gap_limits import gap_limits
from dooryard.weather.record import Flag
from tests.unit.weather.gap_stations import FIRST, YEARS_4, day, noise, rain_of, station


def with_gaps(column, *gaps):
    """The column with these (start, days) stretches missing."""
    holed = np.array(column, dtype=float)
    for start, days in gaps:
        holed[start : start + days] = np.nan
    return holed


def answers(plan):
    """(element, offset, days, source or the reason) of every stretch."""
    return [
        (stretch.element, (stretch.first - FIRST).days, stretch.days, stretch.source or stretch.refused)
        for stretch in plan.stretches
    ]


@pytest.fixture(scope="module")
def truth():
    """Four years of weather and a neighbour 1 degC milder with nine tenths of the rain, both to 0.1."""
    low = np.round(5 + noise(11, YEARS_4), 1)
    high = np.round(low + 8 + np.abs(noise(12, YEARS_4)), 1)
    rain = rain_of(13, YEARS_4)
    there = station(
        FIRST, t_min_c=low + 1, t_max_c=high + 1, rain_mm=np.round(rain * 0.9, 6), name="There",
        place=(38.0, -85.0, 250.0),
    )  # fmt: skip
    return low, high, rain, there


def here(truth, *, low=(), high=(), rain=(), flags=None):
    """The station itself with gaps (start, days) in each element."""
    columns = {"t_min_c": (truth[0], low), "t_max_c": (truth[1], high), "rain_mm": (truth[2], rain)}
    return station(
        FIRST,
        **{element: with_gaps(column, *gaps) for element, (column, gaps) in columns.items()},
        flags=flags,
        place=(38.09, -85.0, 200.0),
    )


def test_plan_from_a_neighbour_brings_back_what_was_hidden(truth):
    """The relation is exact, so every estimate is the value that was taken out, and its usual error is nothing."""
    record = here(truth, low=[(100, 9)], high=[(100, 9)], rain=[(400, 5)])
    plan = fill.plan(record, [truth[3]])
    assert answers(plan) == [
        ("t_min_c", 100, 9, "There"), ("t_max_c", 100, 9, "There"), ("rain_mm", 400, 5, "There"),
    ]  # fmt: skip
    for stretch, column in zip(plan.stretches, truth[:3], strict=True):
        at = (stretch.first - FIRST).days
        np.testing.assert_allclose(stretch.values, column[at : at + stretch.days], atol=1e-9)
        assert (stretch.daily_error, stretch.sum_error) == pytest.approx((0, 0), abs=1e-6)
    (neighbour,) = plan.neighbours
    assert (neighbour.higher_m, round(neighbour.distance_km)) == (50.0, 10)
    filled = fill.apply(plan)
    assert not np.isnan(filled.t_min_c).any()
    assert [Flag(code).name for code in filled.flags["rain_mm"][398:406]] == [
        "OBSERVED", "OBSERVED", *["ESTIMATED"] * 5, "OBSERVED",
    ]  # fmt: skip
    assert {(issue.kind, issue.days) for issue in filled.issues} == {("estimated", 9), ("estimated", 5)}
    kept = ~np.isnan(record.t_min_c)
    assert np.array_equal(filled.t_min_c[kept], record.t_min_c[kept])
    assert np.isnan(record.t_min_c[100])


def test_plan_without_neighbour_bridges_temperatures_of_three_days_and_never_rain(truth):
    record = here(truth, low=[(50, 3), (90, 4)], rain=[(50, 1)])
    plan = fill.plan(record)
    nobody = "No neighbouring station was given."
    assert answers(plan) == [
        ("t_min_c", 50, 3, OWN_DAYS),
        ("rain_mm", 50, 1, nobody),
        ("t_min_c", 90, 4, nobody),
    ]
    before, after = record.t_min_c[49], record.t_min_c[53]
    line = [before + (after - before) * step / 4 for step in (1, 2, 3)]
    np.testing.assert_allclose(plan.stretches[0].values, line, atol=0.0501)
    assert (plan.stretches[0].left_days, plan.stretches[2].left_days) == (0, 4)


def test_plan_takes_for_each_day_the_way_that_is_usually_nearest(truth):
    """A poor neighbour is passed over for a good one, and stands in where only it has the day."""
    poor = station(FIRST, t_min_c=truth[0] + noise(14, YEARS_4) / 2, name="Poor")
    good = station(FIRST, t_min_c=with_gaps(truth[0] + 1, (103, 2)), name="Good")
    plan = fill.plan(here(truth, low=[(100, 9)]), [poor, good])
    assert answers(plan) == [
        ("t_min_c", 100, 3, "Good"), ("t_min_c", 103, 2, "Poor"), ("t_min_c", 105, 4, "Good"),
    ]  # fmt: skip
    good_error, poor_error = plan.stretches[0].daily_error, plan.stretches[1].daily_error
    assert good_error < 1e-6 < 0.5 < poor_error


def test_plan_does_not_use_a_neighbour_that_tells_nothing(truth):
    stranger = station(FIRST, t_min_c=5 + noise(15, YEARS_4), rain_mm=rain_of(16, YEARS_4), name="Stranger")
    plan = fill.plan(here(truth, low=[(100, 9)], rain=[(100, 2)]), [stranger])
    assert not plan.filled
    assert {stretch.refused for stretch in plan.left} == {
        "No neighbour's lowest temperature tells this station's well enough.",
        "No neighbour's rain tells this station's well enough.",
    }
    assert plan.neighbours[0].unfit["rain_mm"] == "its error is more than 0.75 of a guess without it"
    assert plan.neighbours[0].usual["rain_mm"].guess == pytest.approx(np.delete(truth[2], [100, 101]).mean())


def test_plan_refuses_a_relation_that_rests_on_few_days(truth):
    short = station(FIRST, t_min_c=truth[0][:100] + 1, name="Short")
    plan = fill.plan(here(truth, low=[(20, 9)]), [short])
    assert not plan.filled
    assert "fewer than 60 days in common in a season" in plan.neighbours[0].unfit["t_min_c"]


@pytest.mark.parametrize(("element", "longest"), [("t_min_c", 60), ("rain_mm", 31)])
def test_plan_refuses_gaps_beyond_the_limit_and_fills_up_to_it(truth, element, longest):
    assert gap_limits().longest_d(element) == longest
    word = {"t_min_c": "low", "rain_mm": "rain"}[element]
    at_limit = fill.plan(here(truth, **{word: [(200, longest)]}), [truth[3]])
    assert answers(at_limit) == [(element, 200, longest, "There")]
    beyond = fill.plan(here(truth, **{word: [(200, longest + 1)]}), [truth[3]])
    assert answers(beyond) == [(element, 200, longest + 1, f"The gap is longer than {longest} days.")]


def test_plan_refuses_a_year_that_would_be_mostly_estimates(truth):
    """Three gaps of 16 days are 48 in 2020, over the 45 allowed; the one in 2021 is filled."""
    gaps = [(10, 16), (100, 16), (200, 16), (400, 16)]
    plan = fill.plan(here(truth, rain=gaps), [truth[3]])
    crowded = "More than 45 days of that year would be estimates."
    assert [answer for *_, answer in answers(plan)] == [crowded, crowded, crowded, "There"]


def test_plan_counts_estimates_already_in_the_file_towards_the_year(truth):
    before = dict.fromkeys(range(30), Flag.ESTIMATED)
    plan = fill.plan(here(truth, rain=[(200, 16)], flags={"rain_mm": before}), [truth[3]])
    assert [answer for *_, answer in answers(plan)] == ["More than 45 days of that year would be estimates."]


def test_plan_never_estimates_part_of_a_measured_total(truth):
    total = dict.fromkeys((301, 302), Flag.ACCUMULATED)
    plan = fill.plan(here(truth, rain=[(300, 3)], flags={"rain_mm": total}), [truth[3]])
    assert answers(plan) == [
        ("rain_mm", 300, 1, "There"),
        ("rain_mm", 301, 2, "A total over several days was measured; estimates would contradict it."),
    ]
    assert [stretch.gap_days for stretch in plan.stretches] == [3, 3]
    filled = fill.apply(plan)
    assert filled.flags["rain_mm"][301] == Flag.ACCUMULATED
    assert np.isnan(filled.rain_mm[301])


def test_plan_for_an_element_the_record_lacks_refuses_it_whole(truth):
    record = station(FIRST, t_min_c=with_gaps(truth[0], (5, 1)))
    plan = fill.plan(record, [truth[3]])
    refused = {stretch.element: stretch.refused for stretch in plan.left}
    assert refused == {
        "t_max_c": "The record has no highest temperature at all.",
        "rain_mm": "The record has no rain at all.",
    }


def test_plan_takes_back_estimates_that_would_cross_the_other_extreme():
    """The lowest was measured as 12, and the line between the days before and after puts the highest at 10."""
    low, high = np.full(60, 5.0), np.full(60, 10.0)
    low[30] = 12.0
    record = station(FIRST, t_min_c=low, t_max_c=with_gaps(high, (30, 1), (40, 1)))
    plan = fill.plan(record)
    assert [answer for answer in answers(plan) if answer[0] != "rain_mm"] == [
        ("t_max_c", 30, 1, "The estimates of lowest and highest temperature would cross."),
        ("t_max_c", 40, 1, OWN_DAYS),
    ]


def test_plan_bridges_between_measured_days_only(truth):
    """Beside estimates the line runs on to the next measured day, and no further than three days in all."""
    near = {51: Flag.ESTIMATED, 61: Flag.ESTIMATED, 62: Flag.ESTIMATED, 63: Flag.ESTIMATED}
    record = here(truth, low=[(50, 1), (60, 1)], flags={"t_min_c": near})
    plan = fill.plan(record)
    assert answers(plan) == [
        ("t_min_c", 50, 1, OWN_DAYS), ("t_min_c", 60, 1, "No neighbouring station was given."),
    ]  # fmt: skip
    before, after = record.t_min_c[49], record.t_min_c[52]
    assert plan.stretches[0].values[0] == pytest.approx(before + (after - before) / 3, abs=0.0501)
    alone = fill.plan(here(truth, low=[(50, 1)])).stretches[0]
    assert plan.stretches[0].daily_error != alone.daily_error


def test_plan_gaps_at_either_end_come_from_a_neighbour_alone(truth):
    record = here(truth, low=[(0, 2), (YEARS_4 - 2, 2)])
    assert [answer for *_, answer in answers(fill.plan(record))] == ["No neighbouring station was given."] * 2
    assert [answer for *_, answer in answers(fill.plan(record, [truth[3]]))] == ["There", "There"]


def test_plan_of_a_filled_record_has_nothing_left_to_fill(truth):
    record = here(truth, low=[(100, 9)], rain=[(400, 5)])
    again = fill.plan(fill.apply(fill.plan(record, [truth[3]])), [truth[3]])
    assert again.stretches == ()


def test_plan_refuses_a_neighbour_that_was_moved(truth):
    """From the third year on it stands 3 degC warmer: one line through both halves is wrong in each."""
    warmer = np.where(np.arange(YEARS_4) < YEARS_4 // 2, 0.0, 3.0)
    moved = station(FIRST, t_min_c=truth[0] + warmer, name="Moved")
    plan = fill.plan(here(truth, low=[(300, 9), (1200, 9)]), [moved])
    assert not plan.filled
    assert {stretch.refused.partition(":")[0] for stretch in plan.left} == {
        "About these days the neighbour is steadily off"
    }
    steady = station(FIRST, t_min_c=truth[0] + 3.0, name="Steady")
    assert len(fill.plan(here(truth, low=[(300, 9), (1200, 9)]), [moved, steady]).filled) == 2


def test_plan_tells_of_a_copy_and_of_dates_that_were_moved(truth):
    copy = station(FIRST, t_min_c=truth[0], t_max_c=truth[1], rain_mm=truth[2], name="Copy")
    late = station(day(FIRST, 1), t_min_c=truth[0], rain_mm=truth[2], name="Late")
    notes = fill.plan(here(truth), [copy, late]).notes
    assert notes[0] == "Copy hardly differs: it may be another copy of the same record."
    assert "The lowest temperature of Late fits better a day earlier and was moved" in notes[1]
    assert "The rain of Late fits better a day earlier and was moved" in notes[2]


def test_plan_tells_two_neighbours_of_one_name_apart(truth):
    one = station(FIRST, t_min_c=truth[0], name="Twin")
    assert [n.label for n in fill.plan(here(truth), [one, one]).neighbours] == ["Twin (twin.csv)"] * 2


def test_usual_error_foretold_is_the_error_found_on_gaps_made_anew(truth):
    """Sixty gaps of five days, each filled as if never seen: their mean error is near the one foretold."""
    wobble = np.round(noise(17, YEARS_4) / 4, 1)
    there = station(FIRST, t_min_c=truth[0] + wobble, name="There")
    starts = range(20, YEARS_4 - 10, 24)
    daily, sums, foretold = [], [], []
    for start in starts:
        plan = fill.plan(here(truth, low=[(start, 5)]), [there])
        (stretch,) = plan.stretches
        error = np.array(stretch.values) - truth[0][start : start + 5]
        daily.append(np.abs(error).mean())
        sums.append(abs(error.sum()))
        foretold.append((stretch.daily_error, stretch.sum_error))
    assert stretch.source == "There"
    assert np.mean(daily) == pytest.approx(np.mean([one for one, _ in foretold]), rel=0.15)
    assert np.mean(sums) == pytest.approx(np.mean([total for _, total in foretold]), rel=0.25)


def test_filled_days_are_dated_by_the_calendar(truth):
    plan = fill.plan(here(truth, low=[(59, 1)]), [truth[3]])
    assert plan.stretches[0].first == plan.stretches[0].last == date(2020, 2, 29)
