"""When plants are cut and divided: rules of the trade, closed weeks for oaks, and what is refused."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from dooryard import knowledge
from dooryard.care import pruning
from dooryard.letter import screen
from dooryard.plan.document import Plan
from dooryard.plan.work.divide import divide
from dooryard.plan.work.prune import Known, prune
from dooryard.problem import InputError

KNOWN = knowledge.load()
ON = date(2031, 5, 20)


def _text(plan: Plan) -> str:
    return " ".join(screen.render(plan.document()).split())


@pytest.mark.check("S-06-01", source="old wood after bloom, new wood in late winter", status="seen")
@pytest.mark.parametrize(
    ("plant", "wood", "time"),
    [
        ("forsythia", "old wood", "after bloom"),
        ("lilac", "old wood", "after bloom"),
        ("azalea", "old wood", "after bloom"),
        ("crape myrtle", "new wood", "late winter"),
        ("rose of sharon", "new wood", "late winter"),
    ],
)
def test_pruning_time_follows_the_wood(plant: str, wood: str, time: str) -> None:
    row = pruning.pruning_of(KNOWN, plant)
    assert row is not None
    assert (row.wood, row.time) == (wood, time)


@pytest.mark.check("S-06-02", source="hydrangeas by kind", status="second-hand")
@pytest.mark.parametrize(
    ("plant", "wood"),
    [
        ("bigleaf hydrangea", "old wood"),
        ("mountain hydrangea", "old wood"),
        ("oakleaf hydrangea", "old wood"),
        ("climbing hydrangea", "old wood"),
        ("panicle hydrangea", "new wood"),
        ("smooth hydrangea", "new wood"),
    ],
)
def test_hydrangeas_are_told_apart_by_kind(plant: str, wood: str) -> None:
    row = pruning.pruning_of(KNOWN, plant)
    assert row is not None
    assert row.wood == wood


def test_azalea_has_a_last_day_by_the_list_that_is_stricter_than_six_weeks() -> None:
    """One list says no later than mid-June; six weeks after a bloom that ended 15 May would be 26 June."""
    said = _text(prune(KNOWN, ON, plant="azalea", known=Known(date(2031, 5, 15))))
    assert "cut it by 26 June" in said
    assert "One list is stricter: by 15 June" in said


def test_old_wood_cut_too_late_says_that_buds_are_set() -> None:
    said = _text(prune(KNOWN, date(2031, 9, 1), plant="lilac", known=Known(date(2031, 5, 10))))
    assert "Next year's buds are set" in said


def test_old_wood_without_a_bloom_date_refuses_the_last_day() -> None:
    plan = prune(KNOWN, ON, plant="lilac", known=Known())
    assert plan.needs_a_person
    assert "We will not name a last day" in _text(plan)


def test_new_wood_is_cut_in_the_weeks_before_the_last_hard_freeze() -> None:
    freeze = date(2032, 4, 7)
    plan = prune(
        KNOWN, ON, plant="crape myrtle", known=Known(last_hard_freeze=freeze, freeze_from="30 springs")
    )
    figure = plan.figures["prune.rest"]
    assert figure.high == freeze.isoformat()
    assert date.fromisoformat(str(figure.value)) == freeze - timedelta(days=56)


@pytest.mark.check("S-06-03", source="oak windows by state", status="second-hand")
@pytest.mark.parametrize(
    ("state", "day", "closed"),
    [
        ("michigan", date(2031, 4, 14), False),
        ("michigan", date(2031, 4, 15), True),
        ("michigan", date(2031, 7, 15), True),
        ("michigan", date(2031, 7, 16), False),
        ("Texas", date(2031, 2, 1), True),
        ("wisconsin", date(2031, 8, 1), False),
        ("iowa", date(2031, 1, 20), True),
        ("north", date(2031, 12, 1), False),
    ],
)
def test_oaks_are_closed_in_the_weeks_of_each_state(state: str, day: date, closed: bool) -> None:
    window = pruning.oak_window(KNOWN, state)
    assert pruning.closed_for_oak(window, day) is closed
    plan = prune(KNOWN, day, plant="pin oak", known=Known(oak=window))
    assert plan.needs_a_person is closed


def test_oak_without_a_state_is_refused_and_an_unknown_state_asks() -> None:
    assert prune(KNOWN, ON, plant="oak", known=Known()).needs_a_person
    with pytest.raises(InputError, match="wisconsin"):
        pruning.oak_window(KNOWN, "wisconson")


@pytest.mark.check("S-06-04", source="at most a quarter of the live crown", status="from memory")
def test_no_more_than_a_quarter_of_the_crown_is_advised() -> None:
    assert "Never more than 25% of a tree's live crown" in _text(prune(KNOWN, ON, plant="elm", known=Known()))


def test_unknown_plant_to_prune_asks() -> None:
    with pytest.raises(InputError, match="forsythia"):
        prune(KNOWN, ON, plant="forsythya", known=Known())


def test_renewal_is_a_third_a_year_for_three_years() -> None:
    said = _text(prune(KNOWN, ON, plant="lilac", known=Known(date(2031, 5, 10), renew=True)))
    assert "2031, 2032, 2033" in said


@pytest.mark.check("S-06-05", source="divide four to six weeks before a hard freeze", status="from memory")
def test_hosta_in_fall_is_divided_before_the_hard_freeze() -> None:
    said = _text(divide(KNOWN, ON, plant="hostas", hard_freeze=date(2031, 10, 23), freeze_from="given"))
    assert "by 11 September, at the latest by 25 September" in said


def test_taproots_are_not_divided_and_unknown_perennials_get_the_rule_of_thumb() -> None:
    assert "Do not divide it" in _text(divide(KNOWN, ON, plant="lupine", hard_freeze=None))
    with pytest.raises(InputError, match="Rule of thumb"):
        divide(KNOWN, ON, plant="xyzzy", hard_freeze=None)
