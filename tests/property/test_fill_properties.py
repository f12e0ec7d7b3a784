"""Whatever is missing and whoever stands beside: a plan answers every missing day once and changes nothing else."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.weather import fill
from dooryard.weather.fill import OWN_DAYS
from dooryard.weather.gap_limits import gap_limits
from dooryard.weather.record import CORE, Flag
from tests.unit.weather.gap_stations import FIRST, noise, rain_of, station

DAYS = 800
LOW = np.round(5 + noise(21, DAYS), 1)
TRUTH = {
    "t_min_c": LOW,
    "t_max_c": np.round(LOW + 6 + np.abs(noise(22, DAYS)), 1),
    "rain_mm": rain_of(23, DAYS),
}
ODD = [Flag.ESTIMATED, Flag.SUSPECT, Flag.ACCUMULATED, Flag.MISSING]


@st.composite
def holed(draw, name):
    """A station with the weather above, cut and flagged here and there; some lie a little beside the truth."""
    values, flags = {}, {}
    spread = draw(st.sampled_from([0.0, 0.1, 0.5]))
    for number, element in enumerate(CORE):
        column = TRUTH[element].copy()
        if element != "rain_mm":
            column += np.round(noise(30 + number, DAYS) * spread, 1)
        marks = {}
        gaps = st.tuples(st.integers(0, DAYS - 1), st.integers(1, 70), st.sampled_from(ODD))
        for start, length, flag in draw(st.lists(gaps, max_size=6)):
            if flag is Flag.ACCUMULATED and element != "rain_mm":
                flag = Flag.MISSING
            for row in range(start, min(start + length, DAYS)):
                marks[row] = flag
                column[row] = TRUTH[element][row] if flag is Flag.ESTIMATED else np.nan
        values[element], flags[element] = column, marks
    return station(FIRST, **values, flags=flags, name=name)


@settings(max_examples=60)
@given(record=holed("Here"), neighbours=st.lists(holed("There"), max_size=2))
def test_plan_answers_each_missing_day_once_and_leaves_the_rest(record, neighbours):
    plan = fill.plan(record, neighbours)
    filled = fill.apply(plan)
    limits = gap_limits()
    for element in CORE:
        before, after = record.element(element), filled.element(element)
        gap = np.isnan(before)
        answered = np.zeros(DAYS, dtype=int)
        estimated = np.zeros(DAYS, dtype=bool)
        for stretch in plan.stretches:
            if stretch.element == element:
                at = slice(record.position(stretch.first), record.position(stretch.last) + 1)
                answered[at] += 1
                estimated[at] = not stretch.refused
                assert (stretch.values == ()) == bool(stretch.refused)
                assert stretch.refused or stretch.gap_days <= limits.longest_d(element)
                assert element != "rain_mm" or stretch.source != OWN_DAYS
                assert (stretch.left_days > 0) == bool(stretch.refused)
        assert np.array_equal(answered, gap.astype(int))
        assert np.array_equal(after[~gap], before[~gap])
        assert np.array_equal(filled.flags[element][~estimated], record.flags[element][~estimated])
        assert (filled.flags[element][estimated] == Flag.ESTIMATED).all()
        assert np.array_equal(~np.isnan(after), ~gap | estimated)
        years = filled.dates.astype("datetime64[Y]").astype(int)
        for year in np.unique(years[estimated]):
            of_year = (years == year) & (filled.flags[element] == Flag.ESTIMATED)
            assert of_year.sum() <= limits.year_d(element)
    new = np.isnan(record.t_min_c) | np.isnan(record.t_max_c)
    assert not (filled.t_min_c[new] > filled.t_max_c[new]).any()
    assert not (filled.rain_mm < 0).any()
