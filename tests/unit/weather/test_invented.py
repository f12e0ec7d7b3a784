"""Fitting the generator and making weather with it: what is used, what is refused, what stays the same."""

import json
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.weather import invented
from dooryard.weather.invented import curves, fitting, likeness, occurrence, parameters, residuals, slow
from dooryard.weather.invented.amounts import Amounts
from dooryard.weather.record import Flag, Source, Station, on_calendar

FIRST = date(1901, 1, 1)


def flat(value):
    return np.array([value])


def given_parameters(**changed):
    """A plain climate written by hand: the same all year but for the warmth of summer."""
    pair = np.stack([np.array([[1.0, 0.6], [0.6, 1.0]])] * 12)
    before = np.stack([np.array([[0.6, 0.4], [0.5, 0.65]])] * 12)
    still = np.zeros((5, 1))
    elements = (
        residuals.Element("t_max_c", np.array([18.0, -10.0, 0.0]), still - 0.4, flat(np.log(9.0)), 0.0),
        residuals.Element("t_min_c", np.array([6.0, -9.0, 0.0]), still + 0.2, flat(np.log(8.0)), 0.0),
    )
    whole = parameters.Parameters(
        least_mm=0.2,
        least_range_c=1.0,
        occurrence=occurrence.Occurrence(flat(-1.0), flat(0.2), np.array([-0.4]), np.zeros(0)),
        amounts=Amounts(flat(1.6), 0.2, np.full(12, 0.5), np.full(12, 0.4)),
        residuals=residuals.Residuals(elements, pair, before, 0 * pair, np.zeros((2, 2))),
        slow=slow.Slow(),
    )
    return replace(whole, **changed)


def made(years=40, seed=3, **changed):
    return invented.make(given_parameters(**changed), FIRST, date(1900 + years, 12, 31), seed=seed)


def without(record, hidden, flag=Flag.MISSING, elements=("rain_mm", "t_min_c", "t_max_c")):
    """The record with some days of some elements marked and, unless estimated, blanked."""
    values = {name: record.element(name).copy() for name in record.elements}
    flags = {name: codes.copy() for name, codes in record.flags.items()}
    for name in elements:
        flags[name][hidden] = flag
        values[name][hidden] = 999.0 if flag == Flag.ESTIMATED else np.nan
    return on_calendar(record.station, record.dates, values, flags, (), record.source)


def numbers(whole):
    return np.concatenate([np.ravel(cell) for cell in flattened(whole.plain())])


def flattened(part):
    if isinstance(part, dict):
        return [cell for value in part.values() for cell in flattened(value)]
    if isinstance(part, list) and part and isinstance(part[0], dict):
        return [cell for value in part for cell in flattened(value)]
    return [] if isinstance(part, str) else [np.asarray(part, dtype=float)]


def test_made_weather_covers_every_day_and_says_it_is_invented():
    record = made(years=3)
    assert (record.first, record.last, len(record.dates)) == (FIRST, date(1903, 12, 31), 1095)
    assert [issue.kind for issue in record.issues] == ["invented"]
    assert record.source.layout == "invented"
    assert not any(np.isnan(record.element(name)).any() for name in record.elements)


def test_made_weather_keeps_order_of_temperatures_and_least_rain():
    record = made()
    assert (record.t_max_c - record.t_min_c).min() >= 1.0 - 1e-9
    wet = record.rain_mm > 0
    assert record.rain_mm[wet].min() >= 0.2
    assert 0.2 < wet.mean() < 0.5


def test_made_weather_is_the_same_for_the_same_seed_and_other_for_another():
    first, again, other = made(years=2), made(years=2), made(years=2, seed=4)
    assert (first.rain_mm == again.rain_mm).all()
    assert (first.t_max_c == again.t_max_c).all()
    assert (first.t_max_c != other.t_max_c).mean() > 0.99


@pytest.mark.parametrize("first", [date(1901, 1, 1), date(1904, 2, 29), date(1903, 12, 20)])
def test_made_weather_of_a_longer_run_begins_with_the_shorter_one(first):
    deviating = given_parameters(slow=slow.Slow(0.2, 0.2, 0.2, 0.2))
    short = invented.make(deviating, first, date(1905, 3, 3), seed=9)
    long = invented.make(deviating, first, date(1911, 5, 5), seed=9)
    for name in short.elements:
        assert short.element(name) == pytest.approx(long.element(name)[: len(short.dates)], abs=1e-9)


def test_made_weather_of_one_day_can_be_had():
    assert len(invented.make(given_parameters(), FIRST, FIRST, seed=1).dates) == 1


@pytest.mark.parametrize(
    ("last", "shared"), [(date(1900, 12, 31), 0.0), (date(1902, 1, 1), 1.5), (date(1902, 1, 1), -0.1)]
)
def test_made_weather_of_no_days_or_no_share_is_refused(last, shared):
    with pytest.raises(InputError):
        invented.make(given_parameters(), FIRST, last, seed=1, shared=shared)


def test_neighbours_of_one_region_share_their_weather_and_keep_their_climate():
    wetter = given_parameters(
        occurrence=occurrence.Occurrence(flat(-0.4), flat(0.4), np.zeros(0), np.zeros(0))
    )
    last = date(1960, 12, 31)
    here = invented.make(given_parameters(), FIRST, last, seed=1, region_seed=5, shared=0.8)
    there = invented.make(wetter, FIRST, last, seed=2, region_seed=5, shared=0.8)
    alone = invented.make(wetter, FIRST, last, seed=2)
    stranger = invented.make(given_parameters(), FIRST, last, seed=3)
    deviation = [record.t_max_c - likeness_course(record) for record in (here, there, stranger)]
    assert np.corrcoef(deviation[0], deviation[1])[0, 1] > 0.7
    assert abs(np.corrcoef(deviation[0], deviation[2])[0, 1]) < 0.05
    together = np.mean((here.rain_mm > 0) == (there.rain_mm > 0))
    assert together > np.mean((stranger.rain_mm > 0) == (there.rain_mm > 0)) + 0.1
    assert np.mean(there.rain_mm > 0) == pytest.approx(np.mean(alone.rain_mm > 0), abs=0.02)
    assert there.rain_mm.mean() == pytest.approx(alone.rain_mm.mean(), rel=0.06)


def likeness_course(record):
    columns = curves.basis(curves.angle_of_year(record.dates), 1)
    return columns @ curves.least_squares(columns, record.t_max_c)


def test_parameters_survive_a_file_and_make_the_same_days():
    whole = invented.fit(made(years=20))
    read = parameters.from_plain(json.loads(json.dumps(whole.plain())))
    before, after = (invented.make(one, FIRST, date(1905, 1, 1), seed=2) for one in (whole, read))
    for name in before.elements:
        assert (before.element(name) == after.element(name)).all()


def test_parameters_of_another_form_are_refused():
    with pytest.raises(InputError, match="dooryard-generator-1"):
        parameters.from_plain({"form": "something"})


def test_parameters_with_many_faults_are_refused_with_all_of_them():
    plain = given_parameters().plain()
    plain["amounts"]["share"] = [0.5] * 11
    plain["occurrence"]["after_dry"] = [0.1, 0.2]
    plain["occurrence"]["wet_steps"] = [0.1] * 6
    del plain["slow"]["wet_year"]
    plain["residuals"]["m0"] = [[1.0]]
    plain["residuals"]["elements"][0]["dry"] = "warm"
    del plain["residuals"]["elements"][1]["name"]
    with pytest.raises(InputError) as caught:
        parameters.from_plain(plain)
    assert {problem.field for problem in caught.value.problems} == {
        "amounts.share",
        "occurrence.after_dry",
        "occurrence.wet_steps",
        "slow.wet_year",
        "residuals.m0",
        "residuals.elements[0].dry",
        "residuals.elements[1].name",
    }


def test_parameters_that_make_no_weather_are_refused_with_the_reason():
    runaway = given_parameters().residuals
    plain = given_parameters(residuals=replace(runaway, m1=1.01 * runaway.m0)).plain()
    plain["least_mm"] = 0.0
    plain["amounts"]["share"][3] = 1.0
    plain["amounts"]["lesser"][4] = 1.5
    plain["slow"]["wet_year"] = -0.1
    with pytest.raises(InputError) as caught:
        parameters.from_plain(plain)
    fields = {problem.field for problem in caught.value.problems}
    assert fields == {"least_mm", "amounts.share", "amounts.lesser", "slow"}
    plain = given_parameters(residuals=replace(runaway, m1=1.01 * runaway.m0)).plain()
    with pytest.raises(InputError, match="grow without end"):
        parameters.from_plain(plain)


def test_fit_comes_back_to_the_parameters_that_made_the_record():
    truth = given_parameters()
    found = invented.fit(made(years=150))
    angle = np.linspace(0, 2 * np.pi, 12, endpoint=False)
    chances = [
        1 / (1 + np.exp(-curves.value(part, angle)))
        for part in (found.occurrence.after_dry, found.occurrence.after_wet)
    ]
    assert chances[0] == pytest.approx(np.full(12, 1 / (1 + np.exp(1.0))), abs=0.03)
    assert chances[1] == pytest.approx(np.full(12, 1 / (1 + np.exp(-0.2))), abs=0.03)
    assert found.occurrence.dry_steps[0] == pytest.approx(-0.4, abs=0.12)
    assert curves.value(found.amounts.log_mean, angle) == pytest.approx(np.full(12, 1.6), abs=0.08)
    assert found.amounts.after_wet == pytest.approx(0.2, abs=0.06)
    assert [element.name for element in found.residuals.elements] == ["t_max_c", "t_min_c"]
    for mine, true in zip(found.residuals.elements, truth.residuals.elements, strict=True):
        assert curves.value(mine.dry, angle) == pytest.approx(curves.value(true.dry, angle), abs=0.4)
        assert mine.wet_change[:, 0] == pytest.approx(true.wet_change[:, 0], abs=0.2)
    assert found.residuals.m1 == pytest.approx(truth.residuals.m1, abs=0.07)
    assert max(found.slow.wet_month, found.slow.wet_year) < 0.1
    assert max(found.slow.amount_month, found.slow.amount_year) < 0.12


def test_fit_finds_the_spread_that_hidden_deviations_put_in():
    """What they are made of cannot be told from the record (long spells and wet months are alike), but how much
    wet days and rain vary by month and by year can: here twice to three times as much as without them."""
    truth = slow.Slow(0.3, 0.2, 0.35, 0.25)
    record = made(years=200, slow=truth)
    again = invented.make(invented.fit(record), FIRST, date(2100, 12, 31), seed=77)
    plain = made(years=200, seed=77)
    for of_day in (lambda one: (one.rain_mm > 0).astype(float), lambda one: one.rain_mm):
        real, new, still = (fitting.by_month(one.dates, of_day(one)) for one in (record, again, plain))
        # 2,400 months and 200 years of generated weather on either side: 2 % and 7 % each.
        assert new.std(axis=0).mean() == pytest.approx(real.std(axis=0).mean(), rel=0.07)
        assert new.sum(axis=1).std() == pytest.approx(real.sum(axis=1).std(), rel=0.25)
        assert still.sum(axis=1).std() < 0.65 * real.sum(axis=1).std()


def test_fit_finds_warm_months_and_years_that_were_put_in():
    plain = given_parameters().residuals
    monthly = np.stack([np.array([[0.08, 0.05], [0.05, 0.06]])] * 12)
    yearly = np.array([[0.06, 0.05], [0.05, 0.06]])
    deviating = residuals.Residuals(
        plain.elements, plain.m0 + monthly + yearly, plain.m1 + monthly + yearly, monthly, yearly
    )
    found = invented.fit(made(years=200, residuals=deviating)).residuals
    assert found.yearly / found.m0.mean(axis=0) == pytest.approx(yearly / deviating.m0[0], abs=0.025)
    assert (found.monthly / found.m0).mean(axis=0) == pytest.approx(monthly[0] / deviating.m0[0], abs=0.03)


def test_fit_of_a_record_with_gaps_is_near_that_of_the_whole():
    record = made(years=60)
    hidden = np.random.RandomState(1).random_sample(len(record.dates)) < 0.05
    hidden[4000:4400] = True
    whole, holed = invented.fit(record), invented.fit(without(record, hidden))
    angle = np.linspace(0, 2 * np.pi, 12, endpoint=False)
    for one, other in (
        (whole.occurrence.after_dry, holed.occurrence.after_dry),
        (whole.occurrence.after_wet, holed.occurrence.after_wet),
        (whole.amounts.log_mean, holed.amounts.log_mean),
    ):
        assert curves.value(other, angle) == pytest.approx(curves.value(one, angle), abs=0.25)
    assert holed.residuals.m1 == pytest.approx(whole.residuals.m1, abs=0.08)


def test_fit_takes_no_estimate_for_a_measurement():
    record = made(years=20)
    hidden = np.arange(len(record.dates)) % 50 == 7
    assert numbers(invented.fit(without(record, hidden, Flag.ESTIMATED))) == pytest.approx(
        numbers(invented.fit(without(record, hidden)))
    )


def test_fit_of_rain_alone_makes_rain_alone():
    record = made(years=20)
    rain = on_calendar(
        Station("gauge"), record.dates, {"rain_mm": record.rain_mm}, record.flags, (), Source("", "test")
    )
    found = invented.make(invented.fit(rain), FIRST, date(1930, 12, 31), seed=1)
    assert np.isnan(found.t_max_c).all()
    assert found.rain_mm.mean() == pytest.approx(record.rain_mm.mean(), rel=0.1)


def test_fit_of_a_short_or_dry_record_is_refused_with_what_is_needed():
    with pytest.raises(InputError, match="at least 5 years"):
        invented.fit(made(years=4))
    record = made(years=20)
    dry = on_calendar(
        record.station,
        record.dates,
        {"rain_mm": np.where(np.arange(len(record.dates)) % 100 == 0, 5.0, 0.0)},
        record.flags,
        (),
        record.source,
    )
    with pytest.raises(InputError, match="wet days"):
        invented.fit(dry)


def test_fit_with_sunshine_and_dew_point_keeps_them_in_bounds_and_in_step():
    record = made(years=25)
    angle = curves.angle_of_year(record.dates)
    chance = np.random.RandomState(3)
    clear = 18 - 10 * np.cos(angle)
    sun = clear * np.clip(
        0.75 - 0.4 * (record.rain_mm > 0) + 0.15 * chance.standard_normal(len(clear)), 0.05, 1
    )
    dew = record.t_min_c - 1.5 + 0.5 * chance.standard_normal(len(clear))
    values = {name: record.element(name) for name in record.elements}
    values |= {"solar_mj_m2": sun, "dew_point_c": dew}
    flags = {name: np.zeros(len(clear), dtype=np.uint8) for name in values}
    whole = on_calendar(record.station, record.dates, values, flags, (), record.source)
    found = invented.make(invented.fit(whole), FIRST, date(1940, 12, 31), seed=5)
    assert found.elements == whole.elements
    new_angle = curves.angle_of_year(found.dates)
    assert (found.solar_mj_m2 <= (18 - 10 * np.cos(new_angle)) * 1.05).all()
    assert found.solar_mj_m2.min() > 0
    assert found.solar_mj_m2.mean() == pytest.approx(sun.mean(), rel=0.03)
    wet, was = found.rain_mm > 0, record.rain_mm > 0
    lost = found.solar_mj_m2[~wet].mean() - found.solar_mj_m2[wet].mean()
    assert lost == pytest.approx(sun[~was].mean() - sun[was].mean(), rel=0.1)
    assert (found.dew_point_c <= (found.t_min_c + found.t_max_c) / 2).all()
    assert np.corrcoef(found.dew_point_c, found.t_min_c)[0, 1] > 0.95


def test_likeness_of_a_record_with_itself_made_longer_is_told_in_words():
    record = made(years=20)
    rows = likeness.compare(record, made(years=200, seed=8))
    assert likeness.told(rows) == f"All {len(rows)} measures are within what is allowed."
    colder = on_calendar(
        record.station,
        record.dates,
        {"rain_mm": record.rain_mm, "t_max_c": record.t_max_c - 3, "t_min_c": record.t_min_c},
        record.flags,
        (),
        record.source,
    )
    rows = likeness.compare(colder, made(years=200, seed=8))
    assert (
        likeness.told(rows) == "20 of 21 measures are within what is allowed; not: mean highest temperature."
    )


def test_likeness_to_too_few_years_is_refused():
    with pytest.raises(InputError, match="at least 100 years"):
        likeness.compare(made(years=20), made(years=60))


def test_measures_of_a_record_done_in_the_head():
    """One year: rain of 5 mm on every third day, except for twenty dry days in July."""
    dates = np.arange(np.datetime64("2001-01-01"), np.datetime64("2002-01-01"))
    rain = np.where(np.arange(365) % 3 == 0, 5.0, 0.0)
    july = slice(181, 201)
    rain[july] = 0.0
    rain[180] = 5.0
    rain[201] = 5.0
    flags = {"rain_mm": np.zeros(365, dtype=np.uint8)}
    record = on_calendar(Station("x"), dates, {"rain_mm": rain}, flags, (), Source("", "test"))
    found = {measure.key: measure.value for measure in likeness.measures(record)}
    assert found["wet_share"][0] == pytest.approx(11 / 31)
    assert found["rain_mean"][0] == pytest.approx(55.0)
    assert found["longest_dry"][0] == 20
    assert found["dry_14"][0] == 20
    assert found["wet_spell"][0] == 1.0
    assert found["wettest_day"][0] == 5.0
    assert "t_max_c.mean" not in found


def test_spells_beside_an_unknown_day_or_an_end_are_left_out():
    wet = np.array([0, 0, 1, 0, 0, 0, 1, 1, np.nan, 0, 1, 0, 1.0])
    lengths, last = likeness.spells(wet, 0.0)
    assert (lengths.tolist(), last.tolist()) == ([3.0, 1.0], [5, 11])
    lengths, last = likeness.spells(wet, 1.0)
    assert (lengths.tolist(), last.tolist()) == ([1.0, 1.0], [2, 10])


def test_sums_of_months_with_an_unknown_day_are_unknown():
    dates = np.arange(np.datetime64("2003-11-15"), np.datetime64("2004-03-01"))
    values = np.ones(len(dates))
    values[60] = np.nan  # 14 January
    sums = fitting.by_month(dates, values)
    assert sums.shape == (2, 12)
    assert np.isnan(sums[0, :11]).all()
    assert sums[0, 11] == 31
    assert np.isnan(sums[1, 0])
    assert sums[1, 1] == 29
