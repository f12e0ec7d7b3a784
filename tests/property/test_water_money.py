"""Money for water: more price or more water never saves less, and pays back no later."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from dooryard.water import money

amounts = st.floats(0.0, 1e6)
prices = st.floats(0.0, 50.0)


@given(water_l=amounts, more_l=amounts, price=prices, dearer=prices)
def test_saving_rises_with_price_and_with_water(
    water_l: float, more_l: float, price: float, dearer: float
) -> None:
    assert money.saving(water_l, price + dearer) >= money.saving(water_l, price) >= 0.0
    assert money.saving(water_l + more_l, price) >= money.saving(water_l, price)
    assert money.saving(-water_l, price) == 0.0


@given(cost=st.floats(0.01, 1e5), water_l=amounts, price=prices, dearer=prices)
def test_payback_is_no_later_at_a_higher_price(
    cost: float, water_l: float, price: float, dearer: float
) -> None:
    now, then = (money.payback(cost, money.saving(water_l, each)) for each in (price, price + dearer))
    assert then <= now


@given(
    low=st.floats(0.0, 1e3), width=st.floats(0.0, 1e3), spent=st.floats(1.0, 1e3), more=st.floats(0.0, 1e3)
)
def test_payback_range_is_in_order(low: float, width: float, spent: float, more: float) -> None:
    first, last = money.payback_range(spent, spent + more, low, low + width)
    assert first <= last
