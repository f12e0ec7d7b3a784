"""The weather generator against its paper's matrices and exact results for its chain and its gamma."""

from datetime import date, timedelta

import numpy as np
import pytest

from dooryard.weather import generator
from dooryard.weather.generator import WGEN_A, WGEN_B, Climate

M0 = np.array([[1.0, 0.633, 0.186], [0.633, 1.0, -0.193], [0.186, -0.193, 1.0]])
M1 = np.array([[0.621, 0.445, 0.087], [0.563, 0.674, -0.100], [0.015, -0.091, 0.251]])
HALF_OF_THE_LAST_DIGIT = 5e-4


def climate(after_dry=0.25, after_wet=0.55, shape=0.75, scale_mm=10.0, sd_c=4.0):
    """The same numbers in every month, so that a year is one long chain."""
    values = {
        "wet_after_dry": after_dry, "wet_after_wet": after_wet,
        "rain_shape": shape, "rain_scale_mm": scale_mm,
        "t_max_dry_c": 20.0, "t_max_wet_c": 20.0, "t_min_dry_c": -20.0, "t_min_wet_c": -20.0,
        "t_max_sd_c": sd_c, "t_min_sd_c": sd_c, "dew_below_min_dry_c": 1.0, "dew_below_min_wet_c": 0.0,
    }  # fmt: skip
    return Climate(**{name: np.full(12, value) for name, value in values.items()})


def days_of(years, **parameters):
    first = date(2001, 1, 1)
    return generator.generate(climate(**parameters), first, first + timedelta(days=365 * years - 1), seed=7)


@pytest.mark.check("W-09-1", source="Richardson and Wright 1984 (WGEN), matrix A", status="second-hand")
@pytest.mark.check("W-09-2", source="Richardson and Wright 1984 (WGEN), matrix B", status="second-hand")
def test_wgen_matrices_are_the_printed_ones():
    assert WGEN_A.tolist() == [[0.567, 0.086, -0.002], [0.253, 0.504, -0.050], [-0.006, -0.039, 0.244]]
    assert WGEN_B.tolist() == [[0.781, 0.0, 0.0], [0.328, 0.637, 0.0], [0.238, -0.341, 0.873]]


@pytest.mark.check("W-09-3", source="long-run covariance of the printed WGEN pair", status="computed")
def test_wgen_long_run_covariance_is_that_of_standardised_residuals():
    expected = [[1.000, 0.634, 0.186], [0.634, 1.001, -0.193], [0.186, -0.193, 1.000]]
    found = generator.stationary_covariance(WGEN_A, WGEN_B)
    assert found == pytest.approx(np.array(expected), abs=HALF_OF_THE_LAST_DIGIT)


@pytest.mark.parametrize(
    ("matrix", "place", "misprint"), [("b", (0, 0), 0.718), ("b", (2, 1), -0.314), ("a", (2, 1), 0.039)]
)
def test_wgen_misprint_of_one_digit_is_exposed_by_the_covariance(matrix, place, misprint):
    pair = {"a": WGEN_A.copy(), "b": WGEN_B.copy()}
    pair[matrix][place] = misprint
    moved = generator.stationary_covariance(pair["a"], pair["b"]) - generator.stationary_covariance(
        WGEN_A, WGEN_B
    )
    assert np.abs(moved).max() > 10 * HALF_OF_THE_LAST_DIGIT


@pytest.mark.check("W-09-4", source="lag-1 covariance of the printed WGEN pair", status="computed")
def test_wgen_covariance_with_the_day_before():
    expected = [[0.621, 0.446, 0.087], [0.563, 0.674, -0.100], [0.015, -0.090, 0.250]]
    found = WGEN_A @ generator.stationary_covariance(WGEN_A, WGEN_B)
    assert found == pytest.approx(np.array(expected), abs=HALF_OF_THE_LAST_DIGIT)


@pytest.mark.check("W-09-5", source="WGEN correlations M0 and M1, inverted", status="computed")
def test_wgen_matrices_come_back_from_the_correlations():
    a, b = generator.residual_matrices(M0, M1)
    expected_a = [[0.5672, 0.0856, -0.0020], [0.2531, 0.5042, -0.0498], [-0.0042, -0.0413, 0.2438]]
    expected_b = [[0.7809, 0, 0], [0.3275, 0.6367, 0], [0.2379, -0.3398, 0.8735]]
    assert a == pytest.approx(np.array(expected_a), abs=5e-5)
    assert b == pytest.approx(np.array(expected_b), abs=5e-5)
    assert a == pytest.approx(WGEN_A, abs=3e-3)
    assert b == pytest.approx(WGEN_B, abs=3e-3)


@pytest.mark.check("W-09-6", source="eigenvalues of the printed WGEN A", status="computed")
def test_wgen_chain_of_residuals_dies_out():
    assert sorted(np.linalg.eigvals(WGEN_A).real) == pytest.approx([0.235, 0.392, 0.688], abs=5e-4)


def test_generated_residuals_have_the_published_covariance_today_and_tomorrow():
    noise = np.random.RandomState(3).standard_normal((200_000, 3))
    found = generator.residuals(noise)
    # Four standard errors of a correlation over 200,000 days whose memory lasts about five days.
    assert np.cov(found.T) == pytest.approx(M0, abs=0.02)
    assert (found[1:].T @ found[:-1]) / len(noise) == pytest.approx(M1, abs=0.02)


@pytest.mark.parametrize(
    ("after_dry", "after_wet", "days", "shape", "scale_mm", "wet", "sd_wet", "total_mm", "sd_total_mm"),
    [
        pytest.param(
            0.25, 0.55, 30, 0.75, 10, 10.7143, 3.5370, 80.357, 38.824,
            marks=pytest.mark.check("W-09-7", source="two-state chain and gamma, exact", status="computed"),
        ),
        pytest.param(
            0.40, 0.60, 365, 0.75, 10, 182.5, 11.693, 1368.75, 146.21,
            marks=pytest.mark.check("W-09-8", source="two-state chain and gamma, exact", status="computed"),
        ),
        pytest.param(
            0.20, 0.45, 31, 0.8, 9, 8.2667, 3.1512, 59.52, 32.41,
            marks=pytest.mark.check("W-09-9", source="two-state chain and gamma, exact", status="computed"),
        ),
    ],
)  # fmt: skip
def test_chain_and_gamma_have_the_published_means_and_spreads(
    after_dry, after_wet, days, shape, scale_mm, wet, sd_wet, total_mm, sd_total_mm
):
    found = generator.wet_days_spread(after_dry, after_wet, days)
    assert found == pytest.approx((wet, sd_wet), rel=5e-5)
    found = generator.rain_spread_mm(after_dry, after_wet, shape, scale_mm, days)
    assert found == pytest.approx((total_mm, sd_total_mm), rel=1e-4)

    # And the generator itself, cut into stretches of that length; five standard errors of mean and spread.
    weather = days_of(120, after_dry=after_dry, after_wet=after_wet, shape=shape, scale_mm=scale_mm)
    stretches = len(weather.dates) // days
    counts = weather.wet[: stretches * days].reshape(stretches, days).sum(axis=1)
    totals = weather.rain_mm[: stretches * days].reshape(stretches, days).sum(axis=1)
    for drawn, mean, sd in ((counts, wet, sd_wet), (totals, total_mm, sd_total_mm)):
        assert abs(drawn.mean() - mean) < 5 * sd / np.sqrt(stretches)
        assert abs(drawn.std() / sd - 1) < 5 / np.sqrt(2 * stretches)


@pytest.mark.check("W-09-7", source="two-state chain, exact", status="computed")
def test_chain_runs_and_dry_month_as_published():
    assert generator.wet_share(0.25, 0.55) == pytest.approx(0.357143, abs=5e-7)
    assert generator.chance_all_dry(0.25, 0.55, 30) == pytest.approx(1.531e-4, abs=5e-8)
    wet = days_of(200).wet.astype(int)
    starts, ends = (np.flatnonzero(np.diff(wet) == step) for step in (1, -1))
    runs = min(len(starts), len(ends))
    wet_runs = (
        (ends[-runs:] - starts[:runs]) if starts[0] < ends[0] else (ends[1 : runs + 1] - starts[: runs - 1])
    )
    # Mean wet run 1/(1 - .55) = 2.222 and dry run 1/.25 = 4.0 days; five standard errors of a geometric mean.
    assert wet_runs.mean() == pytest.approx(2.222, abs=5 * 2.222 / np.sqrt(runs))
    assert (len(wet) - wet.sum()) / runs == pytest.approx(4.0, abs=5 * 4.0 / np.sqrt(runs))


@pytest.mark.check("W-09-10", source="gamma distribution, shape .75, scale 10 mm", status="computed")
def test_generated_amounts_follow_the_gamma():
    weather = days_of(200)
    amounts = weather.rain_mm[weather.wet]
    for value_mm, share_below in ((4.5417, 0.5), (24.901, 0.95), (25.0, 1 - 0.04947)):
        error = np.sqrt(share_below * (1 - share_below) / len(amounts))
        assert np.mean(amounts <= value_mm) == pytest.approx(share_below, abs=4 * error)


def test_neighbours_share_weather_and_each_keeps_its_own_climate():
    first, last = date(1800, 1, 1), date(1999, 12, 31)
    left, right = (
        generator.generate(climate(), first, last, seed=seed, region_seed=5, shared=0.8) for seed in (1, 2)
    )
    stranger = generator.generate(climate(), first, last, seed=3, region_seed=6, shared=0.8)
    for weather in (left, right):
        assert weather.wet.mean() == pytest.approx(0.357143, abs=0.01)
        assert weather.rain_mm[weather.wet].mean() == pytest.approx(7.5, abs=0.25)
        assert weather.t_max_c.std() == pytest.approx(4.0, abs=0.1)
    assert np.corrcoef(left.t_max_c, right.t_max_c)[0, 1] == pytest.approx(0.8, abs=0.02)
    assert abs(np.corrcoef(left.t_max_c, stranger.t_max_c)[0, 1]) < 0.05
    assert np.mean(left.wet == right.wet) > np.mean(left.wet == stranger.wet) + 0.15
