"""Peak flow, overflow and filling against formulas worked out independently in US units."""

import math

import numpy as np
import pytest

from dooryard.knowledge import load
from dooryard.water.storm import (
    Pattern,
    burst_rate,
    drawdown,
    fill_depth,
    fill_hour,
    fill_time,
    fill_window,
    overflow_bore_needed,
    overflow_capacity,
    pattern,
    peak_flow,
    weir_flow,
)

IN = 0.0254
IN_MM = 25.4
FT = 0.3048
FT2 = FT**2
GAL_L = 3.785411784
GPM = GAL_L / 60
WEIR = 3.33 * math.sqrt(FT)  # the US coefficient in metres
ROOF = 400 * FT2
BARREL = 55 * GAL_L


@pytest.fixture(scope="module")
def type_ii() -> Pattern:
    return pattern(load().facts, "type-ii")


@pytest.mark.check("W-00-4", source="exact conversions; 0.0104 in a plumbing code", status="second-hand")
def test_one_square_foot_at_an_inch_an_hour():
    assert float(peak_flow(FT2, IN_MM)) / GPM == pytest.approx(0.01038961, rel=1e-6)
    assert float(peak_flow(96.25 * FT2, IN_MM)) / GPM == pytest.approx(1.0, rel=1e-9)


@pytest.mark.check("W-03-9", source="International Plumbing Code 2012, 4 in drain", status="second-hand")
def test_peak_flow_of_a_code_example():
    flow = float(peak_flow(2506 * FT2, 3 * IN_MM)) / GPM
    assert flow == pytest.approx(78.11, abs=0.005)
    assert flow / 0.01038961 * 0.0104 == pytest.approx(78.2, abs=0.05)  # the code rounds the factor


@pytest.mark.check("W-03-10", source="rational formula", status="computed")
def test_peak_flow_of_400_square_feet():
    flow = peak_flow(ROOF, np.array([2, 6]) * IN_MM)
    assert (flow / GPM).tolist() == pytest.approx([8.312, 24.935], abs=0.0005)
    assert flow.tolist() == pytest.approx([0.5244, 1.5732], abs=0.00005)


@pytest.mark.check("W-03-11", source="rational formula", status="computed")
def test_peak_flow_of_1600_square_feet():
    flow = float(peak_flow(1600 * FT2, 4 * IN_MM))
    assert (flow / GPM, flow) == (pytest.approx(66.494, abs=0.0005), pytest.approx(4.1951, abs=0.00005))


@pytest.mark.check("W-03-17", source="orifice equation, 0.6", status="computed")
def test_hose_fitting_cannot_pass_a_thunderstorm():
    flow = float(overflow_capacity(0.75 * IN, 2 * IN, 0.60, WEIR))
    assert flow / GPM == pytest.approx(2.706, abs=0.0005)
    assert flow / float(peak_flow(ROOF, IN_MM)) == pytest.approx(0.651, abs=0.0005)  # inches an hour


@pytest.mark.check("W-03-18", source="orifice equation, 0.6", status="computed")
def test_overflow_capacity_of_common_bores():
    flow = overflow_capacity(np.array([1, 1.5, 2, 3]) * IN, 2 * IN, 0.60, WEIR)
    assert (flow / GPM).tolist() == pytest.approx([4.81, 10.82, 19.24, 43.29], abs=0.005)


@pytest.mark.check("W-03-19", source="orifice equation, 0.6", status="computed")
def test_overflow_capacity_at_other_heads():
    flow = overflow_capacity(2 * IN, np.array([1, 3, 4]) * IN, 0.60, WEIR)
    assert (flow / GPM).tolist() == pytest.approx([13.60, 23.56, 27.21], abs=0.006)


@pytest.mark.check("W-03-20", source="orifice equation, 0.6", status="computed")
def test_overflow_bore_that_passes_a_burst():
    heads = np.array([1, 2, 3, 4]) * IN
    bore = overflow_bore_needed(24.935 * GPM, heads, 0.60, WEIR)
    assert (bore / IN).tolist() == pytest.approx([2.708, 2.277, 2.057, 1.915], abs=0.0005)
    assert overflow_capacity(bore, heads, 0.60, WEIR).tolist() == pytest.approx([24.935 * GPM] * 4, rel=1e-12)


@pytest.mark.check("W-03-21", source="weir and orifice equations", status="computed")
def test_upright_pipe_is_a_rim_at_low_head_and_an_opening_at_high():
    heads = np.array([0.25, 0.5, 1.0]) * IN
    as_rim = weir_flow(math.pi * 2 * IN, heads, WEIR)
    assert (as_rim / GPM).tolist() == pytest.approx([2.35, 6.66, 18.83], abs=0.005)
    smaller = overflow_capacity(2 * IN, heads, 0.60, WEIR) / GPM
    assert smaller.tolist() == pytest.approx([2.35, 6.66, 13.60], abs=0.006)


@pytest.mark.check("W-03-22", source="weir equation", status="computed")
def test_rectangular_weir():
    assert float(weir_flow(0.5 * FT, 2 * IN, WEIR)) / GPM == pytest.approx(50.85, abs=0.005)


@pytest.mark.check("W-06-5", source="US type II distribution; duration ratios", status="second-hand")
def test_largest_shares_of_the_type_ii_curve(type_ii):
    windows = [0.25, 0.5, 1, 2, 3, 6, 12]
    printed = [0.270, 0.380, 0.454, 0.538, 0.595, 0.707, 0.841]
    found = [type_ii.largest_share(window) for window in windows]
    # Outside the burst only half hours are in our table; the printed ratios come from tenths of an hour.
    assert found == pytest.approx(printed, abs=0.0025)


@pytest.mark.check("W-06-5", source="US type II distribution; duration ratios", status="second-hand")
def test_shares_in_the_facts_table_belong_to_its_curve(type_ii):
    facts = load().facts
    shares = {key: fact.value for key, fact in facts.items() if key.startswith("storm.type-ii.share.")}
    assert len(shares) == 8
    for key, share in shares.items():
        window = float(key.rsplit("share.", 1)[1].removesuffix("h"))
        assert type_ii.largest_share(window) == pytest.approx(share, abs=0.0025), key


@pytest.mark.check("W-06-6", source="US type II distribution", status="computed")
def test_worst_six_minutes_of_the_type_ii_curve(type_ii):
    share = type_ii.largest_share(0.1)
    assert share == pytest.approx(0.137, abs=0.0005)
    assert float(burst_rate(IN_MM, share, 0.1)) / IN_MM == pytest.approx(1.37, abs=0.005)


@pytest.mark.check("W-06-8", source="volume over area", status="computed")
def test_depth_that_fills_a_barrel():
    assert float(fill_depth(BARREL, ROOF, 0.9)) / IN_MM == pytest.approx(0.24508, abs=5e-6)


@pytest.mark.check("W-06-9", source="US type II distribution", status="computed")
@pytest.mark.parametrize(("inches", "hour"), [(1.0, 11.105), (2.5, 6.952), (4.0, 4.892)])
def test_hour_at_which_an_empty_barrel_is_full(type_ii, inches, hour):
    assert fill_hour(type_ii, inches * IN_MM, BARREL, ROOF, 0.9) == pytest.approx(hour, abs=0.0006)


@pytest.mark.check("W-06-10", source="volume over flow", status="computed")
def test_minutes_to_fill_at_a_steady_rate():
    hours = fill_time(BARREL, ROOF, 0.9, np.array([1, 2, 4, 6]) * IN_MM)
    assert (hours * 60).tolist() == pytest.approx([14.70, 7.35, 3.68, 2.45], abs=0.006)


@pytest.mark.check("W-06-11", source="US type II distribution", status="computed")
def test_shortest_time_in_which_a_storm_fills_a_barrel(type_ii):
    assert fill_window(type_ii, 2.5 * IN_MM, BARREL, ROOF, 0.9) * 60 == pytest.approx(4.3, abs=0.05)


@pytest.mark.check("W-06-12", source="volume balance", status="computed")
def test_barrel_keeps_a_tenth_of_a_storm():
    storm_l = 2.5 * IN_MM * ROOF * 0.9
    assert storm_l / GAL_L == pytest.approx(561.0, abs=0.05)
    assert BARREL / storm_l == pytest.approx(0.098, abs=0.0005)
    let_out = float(drawdown(BARREL, BARREL, storm_l))
    assert let_out == BARREL  # even an empty barrel lets the rest run over
    assert (storm_l - let_out) / GAL_L == pytest.approx(506.0, abs=0.05)


@pytest.mark.check("W-06-17", source="volume balance", status="computed")
@pytest.mark.parametrize(("inches", "inflow_gal", "release_gal"), [(1.5, 336.6, 40.0), (0.1, 22.44, 7.44)])
def test_drawdown_before_a_storm(inches, inflow_gal, release_gal):
    inflow_l = inches * IN_MM * ROOF * 0.9
    assert inflow_l / GAL_L == pytest.approx(inflow_gal, abs=0.05)
    release_l = float(drawdown(40 * GAL_L, BARREL, inflow_l))
    assert release_l / GAL_L == pytest.approx(release_gal, abs=0.005)
