"""A made-up yard whose one barrel has every measure a build sheet needs; each sum can be done in the head."""

from __future__ import annotations

from dooryard.yard.model import Downspout, Household, Storage, Yard
from tests.water_yards import PLACE

INCH_M, FOOT_M, GALLON_L = 0.0254, 0.3048, 3.785411784


def barrel(**changes: object) -> Storage:
    """A 55 gal drum on two courses of block: spigot 3 in up, overflow lip 32 in up with a 1 1/2 in bore."""
    given: dict[str, object] = {
        "name": "back barrel",
        "volume_l": 55 * GALLON_L,
        "diameter_m": 23 * INCH_M,
        "height_m": 35 * INCH_M,
        "outlet_height_m": 3 * INCH_M,
        "overflow_height_m": 32 * INCH_M,
        "overflow_bore_m": 1.5 * INCH_M,
        "stand_height_m": 16 * INCH_M,
        "stand_base_m": (24 * INCH_M, 24 * INCH_M),
        "fed_by": ("spout",),
        "wall_distance_m": 6 * FOOT_M,
        "ground_drop_m": 6 * INCH_M,
    }
    return Storage(**{**given, **changes})  # type: ignore[arg-type]


def yard(*storages: Storage, units: str = "us", children: bool = True) -> Yard:
    """A yard with those storages and a 2 by 3 in downspout."""
    return Yard(
        name="a made-up yard",
        units=units,  # type: ignore[arg-type]
        place=PLACE,
        household=Household(children=children),
        roofs=(),
        downspouts=(Downspout("spout", 2 * INCH_M, 3 * INCH_M),),
        storages=storages or (barrel(),),
        beds=(),
        plants=(),
        sightings=(),
        levels=(),
    )
