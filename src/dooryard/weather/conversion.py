"""From the units weather files are written in to ours: exact, in one order of operations for every layout."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from dooryard.weather.record import Floats


class Conversion(NamedTuple):
    """canonical value = (cell - subtract) * multiply / divide.

    Three numbers, not two: tenths must be divided by ten, not multiplied by 0.1, or 3 tenths come out as
    0.30000000000000004 and two layouts of one station differ in the last bit.
    """

    subtract: float = 0.0
    multiply: float = 1.0
    divide: float = 1.0

    def apply(self, cells: Floats) -> Floats:
        """Canonical values of cells of any shape; NaN stays NaN, and what is beyond all numbers becomes infinite."""
        # An infinite value is refused with the other absurd ones; a warning here would reach the terminal.
        with np.errstate(over="ignore"):
            values = cells - self.subtract if self.subtract else cells
            values = values * self.multiply if self.multiply != 1.0 else values
            return values / self.divide if self.divide != 1.0 else values


SAME = Conversion()
TENTHS = Conversion(divide=10.0)
FAHRENHEIT = Conversion(subtract=32.0, multiply=5.0, divide=9.0)
INCHES = Conversion(multiply=25.4)
MILES_AN_HOUR = Conversion(multiply=0.44704)
KNOTS = Conversion(multiply=1852.0, divide=3600.0)

_DEGREES = {"f": FAHRENHEIT, "c": SAME}
_SPEEDS = {
    "m_s": SAME,
    "mph": MILES_AN_HOUR,
    "km_h": Conversion(divide=3.6),
    "kt": KNOTS,
}
_SUNSHINE = {"mj_m2": SAME, "kwh_m2": Conversion(multiply=3.6), "w_m2": Conversion(multiply=0.0864)}

UNITS: Mapping[str, Mapping[str, Conversion]] = MappingProxyType(
    {
        "t_min_c": _DEGREES,
        "t_max_c": _DEGREES,
        "t_mean_c": _DEGREES,
        "dew_point_c": _DEGREES,
        "rain_mm": {"in": INCHES, "mm": SAME},
        "wind_m_s": _SPEEDS,
        "solar_mj_m2": _SUNSHINE,
        "humidity_pct": {"pct": SAME},
    }
)
"""Unit word of a header (in lower case) to its conversion, for each element."""
