"""What a label's rate makes of a tank or an area: product, water, hose-end settings, and the same sum backwards.

Every function takes the rate from the label in hand. None is kept here.
"""

from __future__ import annotations

from math import ceil, pi

from dooryard.care.measures import FL_OZ_L, GALLON_L


def product_for_water_l(rate_l_per_l: float, water_l: float) -> float:
    """Product for a tank [L]. rate_l_per_l : product per water, as "2 Tbsp per gallon" [L/L]. water_l : [L]."""
    _not_negative(rate_l_per_l, water_l)
    return rate_l_per_l * water_l


def rate_from_percent(percent: float) -> float:
    """A rate "% by volume" as product per finished spray [L/L]. percent : from 0 to 100."""
    if not 0 <= percent <= 100:
        raise ValueError("a percentage lies between 0 and 100")
    return percent / 100


def product_for_area(rate_per_m2: float, area_m2: float) -> float:
    """Product for an area, in the rate's own unit [L or kg]. rate_per_m2 : [L/m2 or kg/m2]. area_m2 : [m2]."""
    _not_negative(rate_per_m2, area_m2)
    return rate_per_m2 * area_m2


def product_for_trunk(rate_per_m: float, trunk_m: float) -> float:
    """Product for one trunk, in the rate's own unit. rate_per_m : per m of girth, or of diameter, as the label says.

    trunk_m : that same measure of the trunk [m]. Mixing the two up gives three times too much or too little.
    """
    _not_negative(rate_per_m, trunk_m)
    return rate_per_m * trunk_m


def trunk_diameter_m(girth_m: float) -> float:
    """Diameter of a round trunk [m]. girth_m : around it [m]."""
    _not_negative(girth_m)
    return girth_m / pi


def fixed_ratio_jar_l(rate_l_per_l: float, spray_l: float) -> float:
    """Product for the jar of a fixed-ratio hose-end sprayer [L]: label rate times the spray that is to come out.

    rate_l_per_l : [L/L]. spray_l : finished spray [L].
    """
    return product_for_water_l(rate_l_per_l, spray_l)


def dial_setting(rate_l_per_l: float) -> float:
    """Setting of a dial hose-end sprayer [fl oz per gal]. rate_l_per_l : the label's rate [L/L]."""
    _not_negative(rate_l_per_l)
    return rate_l_per_l * GALLON_L / FL_OZ_L


def rate_of_mix(product_l: float, water_l: float) -> float:
    """The rate a mixture has [L/L]: the check line, reckoned the other way round. product_l, water_l : [L]."""
    _not_negative(product_l)
    if water_l <= 0:
        raise ValueError("there must be water")
    return product_l / water_l


def area_served_m2(product: float, rate_per_m2: float) -> float:
    """Area that an amount of product serves [m2], the check line of an area rate. product : [L or kg].

    rate_per_m2 : in the same unit per m2.
    """
    _not_negative(product)
    if rate_per_m2 <= 0:
        raise ValueError("there must be a rate")
    return product / rate_per_m2


def tree_spray_l(crown_width_m: float, crown_height_m: float, per_volume: float) -> float:
    """Spray to wet one tree's crown, taken as an upright cylinder [L].

    crown_width_m : across [m]. crown_height_m : from the lowest leaves to the top [m].
    per_volume : spray per space of crown [L/m3].
    """
    _not_negative(crown_width_m, crown_height_m, per_volume)
    return pi / 4 * crown_width_m**2 * crown_height_m * per_volume


def _not_negative(*numbers: float) -> None:
    if any(number < 0 for number in numbers):
        raise ValueError("a rate or an amount cannot be negative")


def fills(need_l: float, tank_l: float) -> tuple[int, float]:
    """How often a tank is filled, and what goes into it the last time [L], so that nothing is left over.

    need_l, tank_l : spray needed, and what the tank holds [L], both above 0.
    """
    if not (need_l > 0 and tank_l > 0):
        raise ValueError("need and tank are above 0")
    # A hair under one, so that a need of exactly three tanks is not four.
    times = max(1, ceil(need_l / tank_l - 1e-9))
    return times, need_l - (times - 1) * tank_l
