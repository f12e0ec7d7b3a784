"""Downspouts and gutters: the codes' tables against the closed forms behind them, each code by its name."""

import math

import pytest

from dooryard.knowledge import Knowledge
from dooryard.water.gutters import (
    GPM_L_S,
    Code,
    codes,
    filled_share,
    half_round_flow,
    leader_flow,
    roof_area,
)
from dooryard.water.roof import driven_area
from dooryard.water.storm import peak_flow
from dooryard.yard.model import Roof

IN, IN_MM, FT2 = 0.0254, 25.4, 0.09290304


def code(knowledge: Knowledge, kind: str, key: str) -> Code:
    return next(one for one in codes(knowledge.facts, kind) if one.key == key)


@pytest.mark.parametrize(
    ("bore_in", "gpm", "sq_ft", "closed_gpm", "closed_sq_ft"),
    [
        pytest.param(
            2,
            23,
            2180,
            22.6,
            2179,
            marks=pytest.mark.check(
                "W-03-1", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen"
            ),
        ),
        pytest.param(
            3,
            67,
            6426,
            66.8,
            6426,
            marks=pytest.mark.check(
                "W-03-2", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen"
            ),
        ),
        pytest.param(
            4,
            144,
            13840,
            143.8,
            13838,
            marks=pytest.mark.check(
                "W-03-3", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen"
            ),
        ),
        pytest.param(
            5,
            261,
            25094,
            260.7,
            25091,
            marks=pytest.mark.check(
                "W-03-4", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen"
            ),
        ),
        pytest.param(
            6,
            424,
            40805,
            423.9,
            40800,
            marks=pytest.mark.check(
                "W-03-5", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen"
            ),
        ),
        pytest.param(
            8,
            913,
            87878,
            912.9,
            87868,
            marks=pytest.mark.check(
                "W-03-6", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen"
            ),
        ),
        pytest.param(
            10,
            1655,
            159334,
            1655.2,
            159315,
            marks=pytest.mark.check(
                "W-03-7", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen"
            ),
        ),
        pytest.param(
            12,
            2692,
            259095,
            2691.6,
            259064,
            marks=pytest.mark.check(
                "W-03-7", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen"
            ),
        ),
        pytest.param(
            15,
            4880,
            469771,
            4880.1,
            469714,
            marks=pytest.mark.check(
                "W-03-7", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen"
            ),
        ),
    ],
)
def test_leader_nspc_table_and_closed_form_agree(
    knowledge: Knowledge, bore_in: int, gpm: int, sq_ft: int, closed_gpm: float, closed_sq_ft: int
) -> None:
    """A code's printed flows and areas of upright pipes come out of the closed form within 0.05 %."""
    flow_l_s = float(leader_flow(bore_in * IN))
    assert flow_l_s / GPM_L_S == pytest.approx(closed_gpm, abs=0.051)
    area_sq_ft = float(roof_area(flow_l_s, IN_MM)) / FT2
    assert area_sq_ft == pytest.approx(closed_sq_ft, abs=0.6)
    assert area_sq_ft == pytest.approx(sq_ft, rel=5e-4)
    listed = code(knowledge, "leader", "nspc-2006").flow_l_s(bore_in * IN)
    assert listed is not None
    assert listed / GPM_L_S == pytest.approx(gpm, rel=1e-9)


@pytest.mark.check("W-03-8", source="National Standard Plumbing Code 2006, table 13.6.1", status="seen")
@pytest.mark.parametrize(("inches_h", "sq_ft"), [(2, 3213), (4, 1607), (6, 1071), (12, 536)])
def test_leader_of_three_inches_serves_less_roof_in_harder_rain(inches_h: int, sq_ft: int) -> None:
    printed_flow_l_s = peak_flow(6426 * FT2, IN_MM)
    # the code rounds halves up
    assert float(roof_area(printed_flow_l_s, inches_h * IN_MM)) / FT2 == pytest.approx(sq_ft, abs=0.501)
    assert float(roof_area(leader_flow(3 * IN), inches_h * IN_MM)) / FT2 == pytest.approx(sq_ft, rel=0.0011)


@pytest.mark.check(
    "W-03-codes", source="International Plumbing Code quiz: 3 in at 6 in/h", status="second-hand"
)
def test_older_ipc_area_at_six_inches_an_hour(knowledge: Knowledge) -> None:
    """A published quiz lists 1,470 sq ft for a 3 in leader at 6 in/h."""
    flow = code(knowledge, "leader", "ipc-2012").flow_l_s(3 * IN)
    assert flow is not None
    assert float(roof_area(flow, 6 * IN_MM)) / FT2 == pytest.approx(1470, rel=0.003)


@pytest.mark.check("W-03-10", source="rational formula", status="computed")
def test_peak_flow_and_roof_area_are_each_others_inverse() -> None:
    flow_l_s = peak_flow(400 * FT2, 6 * IN_MM)
    assert float(flow_l_s) == pytest.approx(1.5732, abs=5e-5)
    assert float(roof_area(flow_l_s, 6 * IN_MM)) == pytest.approx(400 * FT2, rel=1e-12)


@pytest.mark.check("W-03-11", source="rational formula; Wyly-Eaton closed form", status="computed")
def test_burst_on_1600_square_feet_needs_the_share_of_a_pipe() -> None:
    flow_l_s = float(peak_flow(1600 * FT2, 4 * IN_MM))
    assert flow_l_s / GPM_L_S == pytest.approx(66.494, abs=5e-4)
    # 66.8 gpm is a 3 in pipe filled by 7/24.
    assert filled_share(3 * IN, flow_l_s) == pytest.approx(7 / 24, rel=0.003)


@pytest.mark.parametrize(
    ("width_mm", "section_mm2", "formula_l_s", "table_l_s", "formula_m2", "table_m2"),
    [
        pytest.param(
            75,
            2208.9,
            0.3789,
            0.38,
            18.0,
            18,
            marks=pytest.mark.check(
                "W-03-12", source="EN 12056-3 formula; Approved Document H, table 2", status="from memory"
            ),
        ),
        pytest.param(
            100,
            3927.0,
            0.7778,
            0.78,
            37.0,
            37,
            marks=pytest.mark.check(
                "W-03-13", source="EN 12056-3 formula; Approved Document H, table 2", status="seen"
            ),
        ),
        pytest.param(
            115,
            5193.4,
            1.1031,
            1.11,
            52.5,
            53,
            marks=pytest.mark.check(
                "W-03-14", source="EN 12056-3 formula; Approved Document H, table 2", status="from memory"
            ),
        ),
        pytest.param(
            125,
            6135.9,
            1.3587,
            1.37,
            64.7,
            65,
            marks=pytest.mark.check(
                "W-03-15", source="EN 12056-3 formula; Approved Document H, table 2", status="from memory"
            ),
        ),
        pytest.param(
            150,
            8835.7,
            2.1433,
            2.16,
            102.1,
            103,
            marks=pytest.mark.check(
                "W-03-16", source="EN 12056-3 formula; Approved Document H, table 2", status="from memory"
            ),
        ),
    ],
)
def test_half_round_gutter_formula_and_table_agree(
    knowledge: Knowledge,
    width_mm: int,
    section_mm2: float,
    formula_l_s: float,
    table_l_s: float,
    formula_m2: float,
    table_m2: float,
) -> None:
    """A level half-round gutter by the European formula carries what England's table says, within 1 %."""
    assert math.pi / 8 * width_mm**2 == pytest.approx(section_mm2, abs=0.06)
    flow_l_s = float(half_round_flow(width_mm / 1000))
    assert flow_l_s == pytest.approx(formula_l_s, abs=6e-5)
    listed = code(knowledge, "half-round", "adh-table2").flow_l_s(width_mm / 1000)
    assert listed == pytest.approx(table_l_s, rel=1e-12)
    assert flow_l_s == pytest.approx(table_l_s, rel=0.01)
    area_m2 = flow_l_s / 0.021
    assert area_m2 == pytest.approx(formula_m2, abs=0.06)
    assert area_m2 == pytest.approx(table_m2, rel=0.0125)


@pytest.mark.check(
    "W-03-half-round", source="older IPC semicircular gutters, 1/16 in to the foot", status="from memory"
)
@pytest.mark.parametrize("width_in", [4, 5, 6, 7, 8])
def test_us_and_european_half_round_gutters_are_of_one_size_of_flow(
    knowledge: Knowledge, width_in: int
) -> None:
    """Two codes' half-round gutters agree within a quarter."""
    ipc = code(knowledge, "half-round", "ipc-2012").flow_l_s(width_in * IN)
    assert ipc == pytest.approx(float(half_round_flow(width_in * IN)), rel=0.25)


@pytest.mark.check("W-01-7", source="EN 12056-3 as given by trade guides", status="second-hand")
def test_driven_area_of_a_ten_metre_eaves(knowledge: Knowledge) -> None:
    """Ten metres of eaves, five out and three up to the ridge: 50 m2 of ground, 65 m2 for the gutter."""
    roof = Roof("r", 50.0, "slate", "spout", pitch=3 / 5)
    assert driven_area(roof, knowledge.facts).european_m2 == pytest.approx(65.0, rel=1e-12)


@pytest.mark.check("P-1.1-wind-factor", source="US gutter trade guides", status="common practice")
@pytest.mark.parametrize(
    ("rise", "factor"),
    [(0, 1), (3, 1), (4, 1.05), (5, 1.05), (6, 1.1), (8, 1.1), (9, 1.2), (11, 1.2), (12, 1.3), (18, 1.3)],
)
def test_trade_factor_by_pitch(knowledge: Knowledge, rise: int, factor: float) -> None:
    roof = Roof("r", 50.0, "slate", "spout", pitch=rise / 12)
    assert driven_area(roof, knowledge.facts).trade_m2 == pytest.approx(50 * factor)


@pytest.mark.check("W-01-wall", source="International Plumbing Code 1106.4, excerpt", status="second-hand")
def test_half_of_a_wall_above_counts_for_the_gutter(knowledge: Knowledge) -> None:
    plain, walled = (
        driven_area(Roof("r", 50.0, "slate", "spout", wall_above_m2=wall), knowledge.facts)
        for wall in (None, 20.0)
    )
    assert walled.plan_m2 - plain.plan_m2 == pytest.approx(10.0)
    assert walled.european_m2 - plain.european_m2 == pytest.approx(10.0)
