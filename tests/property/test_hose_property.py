"""Hose and drip hold for any barrel: more head more flow, no water from nowhere, two roads to one time."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.water.drip import drip_time, emitter_flow, line_flow, out_of_reach, rise_loss
from dooryard.water.hose import friction_factor, hose_flow, hose_loss, run_down_time
from dooryard.water.outlet import bore_area, drain_time, head_for_pressure, orifice_flow, pressure

WATER = {"roughness_m": 1.5e-6, "viscosity_m2_s": 1.13e-6}
heads = st.floats(0.005, 3.0)
bores = st.floats(0.004, 0.05)
lengths = st.floats(0.0, 100.0)
losses = st.floats(0.0, 10.0)
exponents = st.floats(0.0, 1.2)


@given(heads, bores, lengths, losses)
def test_flow_uses_up_just_the_head(head_m, bore_m, length_m, loss_sum):
    flow = float(hose_flow(head_m, bore_m, length_m, loss_sum=loss_sum, **WATER))
    speed_head = (flow / 1000 / float(bore_area(bore_m))) ** 2 / (2 * 9.80665)
    lost = float(hose_loss(flow, bore_m, length_m, loss_sum=loss_sum, **WATER))
    assert speed_head + lost == pytest.approx(head_m, rel=1e-9)


@given(heads, bores, lengths, losses)
def test_longer_hose_or_less_head_never_gives_more(head_m, bore_m, length_m, loss_sum):
    flow = float(hose_flow(head_m, bore_m, length_m, loss_sum=loss_sum, **WATER))
    assert float(hose_flow(head_m, bore_m, length_m + 1, loss_sum=loss_sum, **WATER)) < flow
    assert float(hose_flow(head_m * 0.9, bore_m, length_m, loss_sum=loss_sum, **WATER)) < flow


@given(heads, bores, losses)
def test_hose_of_no_length_is_an_open_spigot(head_m, bore_m, loss_sum):
    spigot = float(orifice_flow(bore_m, head_m, 1 / math.sqrt(1 + loss_sum)))
    assert float(hose_flow(head_m, bore_m, 0.0, loss_sum=loss_sum, **WATER)) == pytest.approx(spigot)


@given(st.floats(1.0, 1e8), st.floats(0.0, 0.05))
def test_friction_factor_has_no_jump(number, rough):
    here, near = friction_factor([number, number * (1 + 1e-9)], rough)
    assert near == pytest.approx(here, rel=1e-6)
    assert here > 0


@given(st.floats(0.05, 2.0), heads, st.floats(0.0, 1.0), bores)
def test_open_spigot_closed_form_and_summed_steps_agree(surface_m2, head_m, part, bore_m):
    closed = float(drain_time(surface_m2, bore_m, 0.6, head_m, head_m * part))
    summed = run_down_time(surface_m2, lambda h: orifice_flow(bore_m, h, 0.6), head_m, head_m * part)
    assert summed == pytest.approx(closed, rel=1e-9, abs=1e-12)


@given(st.floats(0.05, 2.0), heads, st.floats(0.05, 1.0), exponents)
def test_drip_closed_form_and_summed_steps_agree(surface_m2, head_m, part, exponent):
    closed = drip_time(surface_m2, head_m, head_m * part, 0.02, 100.0, exponent)
    summed = run_down_time(
        surface_m2, lambda h: emitter_flow(pressure(h), 0.02, 100.0, exponent), head_m, head_m * part
    )
    assert summed == pytest.approx(closed, rel=1e-7, abs=1e-9)


@given(st.floats(0.05, 2.0), heads, st.floats(0.0, 1.0))
def test_drip_with_the_root_law_takes_volume_over_mean_of_first_and_last_flow(surface_m2, head_m, part):
    first, last = emitter_flow(pressure([head_m, head_m * part]), 0.02, 100.0, 0.5)
    by_mean = surface_m2 * head_m * (1 - part) * 1000 / ((first + last) / 2) / 3600
    closed = drip_time(surface_m2, head_m, head_m * part, 0.02, 100.0, 0.5)
    assert closed == pytest.approx(by_mean, rel=1e-9, abs=1e-12)


@given(heads, st.floats(1e-4, 0.2), st.floats(0.3, 1.0), bores, lengths)
def test_line_takes_from_the_emitters_what_it_loses(head_m, rated_l_s, exponent, bore_m, length_m):
    line = {"bore_m": bore_m, "length_m": length_m, "loss_sum": 2.0, **WATER}
    flow = float(line_flow(head_m, rated_l_s, 100.0, exponent, **line))
    free = float(emitter_flow(pressure(head_m), rated_l_s, 100.0, exponent))
    assert 0 < flow <= free * (1 + 1e-12)
    lost_m = float(hose_loss(flow, bore_m, length_m, loss_sum=2.0, **WATER))
    left_m = float(head_for_pressure(100.0 * (flow / rated_l_s) ** (1 / exponent)))
    assert lost_m + left_m == pytest.approx(head_m, rel=1e-9)


@given(heads, heads, exponents)
def test_emitter_that_lies_higher_loses_between_nothing_and_all(head_m, rise_m, exponent):
    lost = float(rise_loss(head_m, rise_m, exponent))
    assert 0.0 <= lost <= 1.0
    if rise_m >= head_m and exponent > 0:
        assert lost == 1.0


@given(
    st.floats(0.0, 2.0), st.integers(-100, 300).map(lambda n: n / 100), st.just(0.0) | st.floats(0.01, 2.0)
)
def test_out_of_reach_lies_between_nothing_and_all_the_water(outlet_m, bed_m, depth_m):
    depth, litres = out_of_reach(0.25, outlet_m, bed_m, outlet_m + depth_m)
    assert 0.0 <= depth <= depth_m + 1e-12
    assert litres == pytest.approx(depth * 250)
    assert (depth == 0) == (bed_m <= outlet_m or depth_m == 0)


def test_missing_head_stays_missing():
    assert np.isnan(hose_flow(np.nan, 0.016, 10.0, loss_sum=2.0, **WATER))
    assert np.isnan(emitter_flow(np.nan, 1.0, 100.0, 0.5))
    assert float(hose_flow(0.0, 0.016, 10.0, loss_sum=2.0, **WATER)) == 0.0


def test_porous_wall_takes_for_ever_to_the_last_drop():
    assert drip_time(0.25, 0.5, 0.0, 0.02, 70.0, 1.0) == math.inf
    assert drip_time(0.25, 0.5, 0.5, 0.02, 70.0, 1.0) == 0.0
