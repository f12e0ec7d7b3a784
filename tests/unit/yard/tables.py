"""Small knowledge tables of the tests' own, and a small yard file written in their names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Row:
    name: str = ""
    value: float = 0.0
    plant_kind: str = ""


def _rows(*names: str) -> Mapping[str, Row]:
    return {name.replace(" ", "-"): Row(name) for name in names}


@dataclass(frozen=True)
class Tables:
    """As the yard reader sees the knowledge tables."""

    coverings: Mapping[str, Row]
    crops: Mapping[str, Row]
    soils: Mapping[str, Row]
    bearing_soils: Mapping[str, Row]
    organisms: Mapping[str, Row]
    hosts: tuple[Row, ...]
    facts: Mapping[str, float]

    def fact(self, key: str) -> Row:
        return Row(value=self.facts[key])


TABLES = Tables(
    coverings=_rows("asphalt shingle", "slate"),
    crops=_rows("tomato", "lawn", "mixed vegetables"),
    soils=_rows("silt loam", "clay"),
    bearing_soils=_rows("clay", "gravel"),
    organisms=_rows("bagworm"),
    hosts=(Row(plant_kind="juniper"), Row(plant_kind="magnolia")),
    # 1,200 sq ft, and 100 sq ft of roof for each sq in of downspout.
    facts={"downspout.plausible_roof": 111.48, "downspout.roof_per_opening": 14400.0},
)

SMALL = """\
name = "small yard"
units = "us"

[place]
latitude = 40.0
longitude = -85.0
elevation = "690 ft"
station = "mill"

[[roofs]]
name = "shed"
area = "100 sq ft"
covering = "slate"
downspout = "spout"

[[downspouts]]
name = "spout"
width = "3 in"
depth = "2 in"

[[storages]]
name = "barrel"
volume = "55 gal"
height = "35 in"
outlet_height = "3.5 in"
overflow_height = "31.5 in"
fed_by = "spout"

[[beds]]
name = "bed"
length = "10 ft"
width = "4 ft"
grows = "tomato"
soil = "silt loam"
watered_from = "barrel"

[[plants]]
name = "hedge"
kind = "juniper"

[[sightings]]
date = 2031-05-16
plant = "hedge"
organism = "bagworm"
sure = "likely"

[[levels]]
storage = "barrel"
date = 2031-05-14
volume = "20 gal"
"""
