"""The fitted generator against exact results for its parts, and against records a registry package ships."""

from datetime import date

import numpy as np
import pytest

from dooryard.weather import invented
from dooryard.weather.generator import WGEN_A, WGEN_B, residual_matrices, stationary_covariance
from dooryard.weather.invented import amounts, likeness, occurrence, residuals, slow
from tools.generator_report import package_record


@pytest.mark.parametrize("name", ["brussels", "champion", "tunis", "cordoba", "suffolk", "hyderabad"])
@pytest.mark.check("W-09-14", source="daily records shipped with the aquacrop package", status="seen")
def test_generated_weather_resembles_the_record_it_was_fitted_to(name):
    """Wet days, rain and its spread, spells, temperatures and their correlations, from 11 to 37 years of six
    climates, come back within the stated tolerances."""
    record = package_record(name)
    made = invented.make(invented.fit(record), date(1400, 1, 1), date(1999, 12, 31), seed=20)
    rows = likeness.compare(record, made)
    assert len(rows) == 21
    assert [row.measure.key for row in rows if not row.within] == []


@pytest.mark.check("W-09-14", source="daily records shipped with the aquacrop package", status="seen")
def test_generated_weather_of_another_climate_is_told_apart():
    made = invented.make(
        invented.fit(package_record("brussels")), date(1800, 1, 1), date(1999, 12, 31), seed=20
    )
    outside = {row.measure.key for row in likeness.compare(package_record("suffolk"), made) if not row.within}
    assert {"wet_share", "rain_mean", "wet_spell", "dry_7", "t_min_c.mean"} <= outside


@pytest.mark.check("W-09-14", source="daily records shipped with the aquacrop package", status="seen")
@pytest.mark.parametrize("name", ["champion", "tunis", "suffolk"])
def test_hidden_deviations_mend_the_spread_of_years(name):
    """Without them years of rain and warmth vary too little, as is known of daily generators."""
    record = package_record(name)
    spreads = []
    for deviating in (True, False):
        fitted = invented.fit(record, slow=deviating)
        made = invented.make(fitted, date(1600, 1, 1), date(1999, 12, 31), seed=20)
        found = {measure.key: float(measure.value[0]) for measure in likeness.measures(made)}
        spreads.append([found[key] for key in ("year_spread", "t_max_c.year_spread")])
    real = {measure.key: float(measure.value[0]) for measure in likeness.measures(record)}
    for at, key in enumerate(("year_spread", "t_max_c.year_spread")):
        assert spreads[1][at] < 0.87 * real[key]
        assert abs(spreads[0][at] / real[key] - 1) < abs(spreads[1][at] / real[key] - 1)


@pytest.mark.check("W-09-11", source="mixture of exponentials, w .4, means 3 and 15 mm", status="computed")
def test_mixed_exponential_has_the_published_moments_and_comes_back_from_its_draws():
    mean, variance = amounts.mixture_moments(0.4, 3.0, 15.0)
    assert (mean, variance) == pytest.approx((10.2, 173.16), abs=5e-3)
    assert amounts.mixture_above(0.4, 3.0, 15.0, 25.0) == pytest.approx(0.11342, abs=5e-6)
    # Deviates of mean 1, as the generator draws them: the same shares of the same mixture.
    whole = amounts.Amounts(np.array([np.log(10.2)]), 0.0, np.full(12, 0.4), np.full(12, 3 / 10.2))
    assert whole.greater == pytest.approx(np.full(12, 15 / 10.2))
    chance = np.random.RandomState(4)
    month = np.zeros(200_000, dtype=np.int64)
    drawn = 10.2 * whole.deviate(month, chance.random_sample(200_000), chance.standard_exponential(200_000))
    assert drawn.mean() == pytest.approx(10.2, abs=5 * np.sqrt(173.16 / 200_000))
    assert np.mean(drawn > 25) == pytest.approx(0.11342, abs=5 * np.sqrt(0.11342 * 0.88658 / 200_000))
    share, lesser = amounts.mixed_exponential(drawn)
    assert (share, lesser * 10.2) == pytest.approx((0.4, 3.0), rel=0.05)


@pytest.mark.check("W-09-12", source="first-order autoregression, rho .6", status="computed")
def test_autoregression_has_the_published_memory_and_variance_of_means():
    rho, one = np.array([[0.6]]), np.array([[1.0]])
    a, b = residual_matrices(one, rho)
    assert (a[0, 0], b[0, 0]) == pytest.approx((0.6, 0.8), abs=5e-4)
    assert slow.variance_of_mean(rho, one, 30)[0, 0] == pytest.approx(0.1250, abs=5e-5)
    noise = np.random.RandomState(5).standard_normal((200_000, 1))
    by_month = np.zeros(len(noise), dtype=np.int64)
    series = residuals.daily_part(np.stack([a] * 12), np.stack([b] * 12), noise, by_month)[100:, 0]
    for lag, printed in ((1, 0.6), (2, 0.36), (3, 0.216)):
        assert np.corrcoef(series[lag:], series[:-lag])[0, 1] == pytest.approx(printed, abs=0.01)


@pytest.mark.check("W-09-7", source="two-state chain p01 .25, p11 .55, exact", status="computed")
def test_occurrence_of_equal_chances_all_year_is_the_published_chain():
    """One class of spell length on each side is the first-order chain: its share, its runs, its dry months."""
    chain = occurrence.Occurrence(
        np.array([np.log(0.25 / 0.75)]), np.array([np.log(0.55 / 0.45)]), np.zeros(0), np.zeros(0)
    )
    draw = np.random.RandomState(6).random_sample((400, 1000))
    wet = occurrence.wet_days(chain, np.zeros(400), np.log(draw / (1 - draw)))[100:]
    # Ten stretches of thirty days from each of a thousand runs, of which a month's sd is 3.537 wet days.
    assert wet.mean() == pytest.approx(0.357143, abs=5 * 3.537 / 30 / np.sqrt(10_000))
    months = wet.reshape(10, 30, 1000).sum(axis=1)
    assert months.std() == pytest.approx(3.537, rel=5 / np.sqrt(2 * 10_000))
    runs = [
        np.concatenate([likeness.spells(run.astype(float), state)[0] for run in wet.T]) for state in (0, 1)
    ]
    # Spells cut off by the ends of a run are left out, the long ones first: about 2 % of the mean.
    assert (runs[0].mean(), runs[1].mean()) == pytest.approx((4.0, 2.222), rel=0.03)


@pytest.mark.check("W-09-5", source="WGEN correlations M0 and M1, printed pair A and B", status="computed")
def test_fit_recovers_the_matrices_that_made_the_residuals():
    """Three elements driven by the printed A and B give back their own correlations, in every season."""
    days = 365 * 60
    by_month = np.arange(days) // 30 % 12
    noise = np.random.RandomState(7).standard_normal((days, 3))
    series = residuals.daily_part(np.stack([WGEN_A] * 12), np.stack([WGEN_B] * 12), noise, by_month)
    months = np.arange(days) // 30
    fitted = residuals.fit_residuals((), series, months)
    m0 = stationary_covariance(WGEN_A, WGEN_B)
    # A season holds 90 days of 60 years, some 1,400 of them as good as independent: five standard errors.
    assert fitted.m0 == pytest.approx(np.stack([m0] * 12), abs=5 / np.sqrt(1400))
    assert fitted.m1 == pytest.approx(np.stack([WGEN_A @ m0] * 12), abs=5 / np.sqrt(1400))
    assert np.abs(fitted.yearly).max() < 0.03
    assert np.abs(fitted.monthly).max() < 0.15
