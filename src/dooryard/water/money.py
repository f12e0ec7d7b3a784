"""What water from a barrel saves on the bill, and in how many years a barrel has paid for itself."""

from __future__ import annotations

import math

_LITRES_M3 = 1000.0


def saving(water_l: float, price_m3: float) -> float:
    """Money saved by water that would have come from the tap; water below zero saves nothing [as the price].

    water_l : used from the barrel [L]. price_m3 : of tap water, for a cubic metre.

    >>> round(saving(800 * 3.785411784, 4.0 / 3.785411784), 2)  # 800 gal at 4 dollars for 1,000 gal
    3.2
    """
    return max(0.0, water_l) * price_m3 / _LITRES_M3


def payback(cost: float, yearly_saving: float) -> float:
    """Years until savings have made up the cost, without interest; infinite if nothing is saved [a]."""
    return cost / yearly_saving if yearly_saving > 0.0 else math.inf


def payback_range(
    cost_low: float, cost_high: float, saving_low: float, saving_high: float
) -> tuple[float, float]:
    """Least and most years: low cost over a good year's saving, high cost over a poor year's [a]."""
    return payback(cost_low, saving_high), payback(cost_high, saving_low)
