"""Every table and key a yard file may hold, declared once: the reader, the editor and the manual use this.

A key is read by its `kind`; a quantity also has a dimension and a lower limit. Keys are the model's attribute
names without the unit, so the declaration also says which attribute a value becomes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from dooryard.unit_table import Dimension

Kind = Literal[
    "text", "quantity", "degrees", "date", "yes or no", "choice", "known", "names", "size", "pitch", "parts",
    "share", "count", "price",
]  # fmt: skip
Limit = Literal["above zero", "zero or more", "any"]


@dataclass(frozen=True)
class Key:
    """One key of a table.

    name : as written in the file. kind : how its value is read ("known" is a name of a knowledge table,
    "names" one or several names of places, or of `choices`; "size" one length or two; "share" a part of a whole;
    "count" a whole number; "price" money for a volume of water). example : what to write, as TOML.
    says : one line for the manual. attribute : of the model, empty for keys that only help the reader.
    choices : for a choice. table : for a known name, the knowledge table it is looked up in. counted, least,
    most : of a count, what is counted, how few and how many may be.
    """

    name: str
    kind: Kind
    example: str
    says: str
    attribute: str
    required: bool = False
    dimension: Dimension = "length"
    limit: Limit = "above zero"
    choices: tuple[str, ...] = ()
    table: str = ""
    counted: str = "days"
    least: int = 0
    most: int = 60


@dataclass(frozen=True)
class Table:
    """One table: its heading in the file, what one entry is called, and its keys."""

    name: str
    one: str
    says: str
    many: bool
    keys: Mapping[str, Key]

    @property
    def heading(self) -> str:
        """As it must be written: "[place]" or "[[roofs]]"."""
        return f"[[{self.name}]]" if self.many else f"[{self.name}]"


STORMS = ("type-i", "type-ia", "type-ii", "type-iii")
SHAPES = ("rectangle", "gable", "hip", "triangle")
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
    "november", "december",
)  # fmt: skip
METALS = ("copper", "zinc", "galvanized", "lead")
HOW = ("can", "hose", "drip", "soaker")
SURE = ("certain", "likely", "unsure")


def _text(name: str, example: str, says: str, required: bool = False) -> Key:
    return Key(name, "text", example, says, name, required)


def _quantity(
    name: str,
    attribute: str,
    example: str,
    says: str,
    dimension: Dimension = "length",
    limit: Limit = "above zero",
    required: bool = False,
) -> Key:
    return Key(name, "quantity", example, says, attribute, required, dimension, limit)


def _yes_no(name: str, says: str) -> Key:
    return Key(name, "yes or no", "true", says, name)


def _date(name: str, example: str, says: str, required: bool = False) -> Key:
    return Key(name, "date", example, says, name, required)


def _choice(name: str, choices: tuple[str, ...], example: str, says: str, required: bool = False) -> Key:
    return Key(name, "choice", example, says, name, required, choices=choices)


def _known(name: str, table: str, example: str, says: str, required: bool = False) -> Key:
    return Key(name, "known", example, says, name, required, table=table)


def _names(name: str, example: str, says: str) -> Key:
    return Key(name, "names", example, says, name)


def _count(name: str, example: str, says: str) -> Key:
    return Key(name, "count", example, says, name)


def _table(name: str, one: str, says: str, *keys: Key, many: bool = True) -> Table:
    return Table(name, one, says, many, {key.name: key for key in keys})


_AREA = (
    _quantity("area", "area_m2", '"310 sq ft"', "Its size. Or write length and width instead.", "area"),
    _quantity("length", "", '"31 ft"', "Together with width, in place of area."),
    _quantity("width", "", '"10 ft"', "Together with length, in place of area."),
)

_SLOPE = (
    _quantity("eave", "", '"40 ft"', "Length of the lower edge, along the gutter, out to the overhang."),
    _quantity("ridge", "", '"16 ft"', "Length of the upper edge. Leave it out if it is as long as the eave."),
    _quantity("run", "", '"12 ft"', "From under the eave to under the ridge, measured on the ground."),
    _quantity("slope", "", '"13 ft 5 in"', "Up the roof from eave to ridge, in place of run; needs pitch."),
    Key("pitch", "pitch", '"6 in 12"', "How steep it is: rise in run, or degrees.", "pitch"),
)
ROOF_PART = _table(
    "parts",
    "part",
    "One slope of a roof, for a section made of several.",
    _choice("shape", SHAPES, '"hip"', "What it looks like from above.", True),
    *_SLOPE,
)

YARD = _table(
    "",
    "yard",
    "At the very top, before the first heading.",
    _text("name", '"household 12"', "What the yard is called in print.", True),
    _choice("units", ("us", "metric"), '"us"', "Units in print. The file itself may mix units.", True),
    many=False,
)
PLACE = _table(
    "place",
    "place",
    "Where the yard is and whose weather it has.",
    Key("latitude", "degrees", "38.218", "In degrees, north of the equator positive.", "latitude", True),
    Key("longitude", "degrees", "-85.101", "In degrees, west of Greenwich negative.", "longitude", True),
    _quantity("elevation", "elevation_m", '"625 ft"', "Height above the sea.", limit="any", required=True),
    _text("station", '"creek-bottom"', "Name of the weather station that speaks for the yard.", True),
    _text(
        "weather", '"stations/creek-bottom.csv"', "The station's record, seen from this file, or shelf:KEY."
    ),
    _quantity(
        "night_offset",
        "night_offset_c",
        '"-3 °F"',
        "How much warmer its nights are than the station's; colder, as on low ground, with a minus.",
        "temperature_difference",
        "any",
    ),
    _text(
        "rain_gauge", '"gauge.csv"', "A record of rain by minutes or hours, for bursts, seen from this file."
    ),
    _text("design_rain", '"design-rain.csv"', "A NOAA Atlas 14 table of this place, seen from this file."),
    _choice("storm_pattern", STORMS, '"type-ii"', "US storm pattern; left out, type-ii is taken."),
    many=False,
)
HOUSEHOLD = _table(
    "household",
    "household",
    "Who is about, and what water costs. Who is left out is taken to be there, to be on the safe side.",
    _yes_no("children", "Are small children about?"),
    _yes_no("vegetables", "Is anything from the yard eaten?"),
    Key(
        "water_price",
        "price",
        '"4.50 per 1000 gal"',
        "What tap water costs you, in dollars, for a volume: gal, cu ft, ccf, L or m3.",
        "water_price_m3",
    ),
    many=False,
)
ROOFS = _table(
    "roofs",
    "roof",
    "The part of a roof that drains to one downspout.",
    _text("name", '"garage north roof"', "Your name for it.", True),
    *_AREA,
    Key(
        "shape",
        "choice",
        '"hip"',
        "In place of area: a slope by its eave, ridge and run.",
        "",
        choices=SHAPES,
    ),
    *_SLOPE,
    Key(
        "parts",
        "parts",
        '[{ shape = "triangle", eave = "24 ft", run = "12 ft" }]',
        "In place of area: several slopes that drain to the one downspout.",
        "parts",
    ),
    _quantity("tape_error", "tape_error_m", '"3 in"', "How wrong a measure may be.", limit="zero or more"),
    _quantity("gutter_width", "gutter_width_m", '"5 in"', "Inside width of its gutter at the top."),
    _quantity(
        "wall_above", "wall_above_m2", '"120 sq ft"', "Wall that rises over it and sheds onto it.", "area"
    ),
    _known("covering", "coverings", '"asphalt-shingle"', "What lies on it.", True),
    _text("downspout", '"garage downspout"', "The downspout it drains to.", True),
    Key("metals", "names", '["copper"]', "Bare metals the water runs over.", "metals", choices=METALS),
    _yes_no("treated", "Was it treated against moss or algae in the last years?"),
    _yes_no("measured_twice", "Write true to keep an area that looks too large for one downspout."),
)
DOWNSPOUTS = _table(
    "downspouts",
    "downspout",
    "The pipes that bring the water down.",
    _text("name", '"garage downspout"', "Your name for it.", True),
    _quantity("width", "width_m", '"3 in"', "Inside width; the bore if it is round.", required=True),
    _quantity("depth", "depth_m", '"2 in"', "Inside depth. Leave it out if the pipe is round."),
    Key(
        "diverter",
        "share",
        '"90 %"',
        "Share of its water the diverter takes; the rest runs down the old spout. All if left out.",
        "diverted_share",
    ),
)
STORAGES = _table(
    "storages",
    "barrel",
    "Barrels and tanks. Heights are from the barrel's own bottom.",
    _text("name", '"back barrel"', "Your name for it.", True),
    _quantity("volume", "volume_l", '"55 gal"', "What it holds to the rim.", "volume", required=True),
    _quantity("diameter", "diameter_m", '"23 in"', "Across, outside."),
    _quantity("width", "width_m", '"48 in"', "Side seen from in front, if not round."),
    _quantity("height", "height_m", '"35 in"', "From bottom to rim."),
    _quantity(
        "outlet_height", "outlet_height_m", '"3 in"', "Middle of the tap's hole.", limit="zero or more"
    ),
    _quantity("overflow_height", "overflow_height_m", '"32 in"', "Lower edge of the overflow."),
    _quantity("overflow_bore", "overflow_bore_m", '"2 in"', "Inside width of the overflow pipe."),
    _quantity(
        "stand_height",
        "stand_height_m",
        '"16 in"',
        "Height of the stand; 0 on the ground.",
        limit="zero or more",
    ),
    Key(
        "stand_base", "size", '"24 in x 24 in"', "Width and depth of the stand on the ground.", "stand_base_m"
    ),
    _known("stand_on", "bearing_soils", '"clay"', "The ground under the stand."),
    _quantity("empty_mass", "empty_mass_kg", '"22 lb"', "Weight of the empty barrel.", "mass"),
    _names("fed_by", '["garage downspout"]', "The downspouts that run into it."),
    _names(
        "linked_to", '["second barrel"]', "Barrels joined to it at the bottom, so that they share a level."
    ),
    _text("empties_to", '"ground"', 'Where the overflow goes: a barrel, a bed, "ground" or "downspout".'),
    _quantity(
        "wall_distance",
        "wall_distance_m",
        '"6 ft"',
        "From the house wall to where the overflow lets out.",
        limit="zero or more",
    ),
    _quantity(
        "ground_drop",
        "ground_drop_m",
        '"6 in"',
        "How far the ground falls over the first 10 ft (3 m) from the wall; below zero, towards it.",
        limit="any",
    ),
    _quantity(
        "first_flush",
        "first_flush_l",
        '"3 gal"',
        "First dirty water led away, each rain.",
        "volume",
        "zero or more",
    ),
    _quantity(
        "daily_use",
        "daily_use_l",
        '"2 gal"',
        "Taken each day for other things than the beds.",
        "volume",
        "zero or more",
    ),
    Key(
        "use_days",
        "names",
        '["saturday"]',
        "Weekdays of that use; every day if left out.",
        "use_days",
        choices=WEEKDAYS,
    ),
    _count("use_after_dry_days", "2", "That use waits until so many days were dry, the day itself included."),
    Key(
        "off_months",
        "names",
        '["december", "january"]',
        "Months it is off its downspout and empty; `[]` if never. Left out: those of hard freezes.",
        "off_months",
        choices=MONTHS,
    ),
)
BEDS = _table(
    "beds",
    "bed",
    "Beds and lawns that may need water.",
    _text("name", '"tomato bed"', "Your name for it.", True),
    *_AREA,
    _known("grows", "crops", '"tomato"', "What grows in it, or most of it.", True),
    _known("soil", "soils", '"silt-loam"', "How its soil feels.", True),
    _text("watered_from", '"back barrel"', 'A barrel, "tap", or "rain" for nothing but rain.', True),
    _choice("how", HOW, '"can"', "How the water gets there."),
    _quantity(
        "height", "height_m", '"10 in"', "Of its soil above the ground around the barrel.", limit="any"
    ),
    _date("planted", "2031-05-10", "Day of planting or sowing, this year."),
    _date("last_watered", "2031-05-18", "Last day it was watered through."),
    Key(
        "watering_days",
        "names",
        '["monday", "thursday"]',
        "Weekdays on which it is watered; whenever its soil is due if left out.",
        "watering_days",
        choices=WEEKDAYS,
    ),
    _quantity(
        "watering", "watering_l", '"5 gal"', "Given each time; what the soil lacks if left out.", "volume"
    ),
    _count(
        "watering_after_dry_days", "2", "It is watered only after so many dry days, the day itself included."
    ),
    _quantity("hose_length", "hose_length_m", '"50 ft"', "Of the hose or tube from the barrel to it."),
    _quantity("hose_bore", "hose_bore_m", '"5/8 in"', "Inside width of that hose."),
    Key(
        "emitters",
        "count",
        "20",
        "How many drip emitters lie in it.",
        "emitters",
        counted="emitters",
        least=1,
        most=2000,
    ),
    _quantity(
        "emitter_flow",
        "emitter_flow_l_s",
        '"1 gph"',
        "What one emitter, or the whole soaker hose, gives by its package.",
        "flow",
    ),
    _quantity(
        "emitter_pressure",
        "emitter_pressure_kpa",
        '"15 psi"',
        "The pressure for which the package says so.",
        "pressure",
    ),
    _yes_no("compensating", "Are the emitters pressure-compensating?"),
    _yes_no("timer", "Is there a timer, an electric valve or a vacuum breaker in the line?"),
)
PLANTS = _table(
    "plants",
    "plant",
    "Trees, shrubs and hedges you want watched.",
    _text("name", '"front magnolia"', "Your name for it.", True),
    _text("kind", '"magnolia"', "What it is, by its common name.", True),
    _quantity("girth", "girth_m", '"22 in"', "Around the trunk at breast height (4.5 ft)."),
    _quantity("height", "height_m", '"14 ft"', "To the top."),
    _quantity("spread", "spread_m", '"12 ft"', "Across its branches."),
    _yes_no("in_bloom", "Is it in bloom now?"),
)
SIGHTINGS = _table(
    "sightings",
    "sighting",
    "What you saw. Give the organism, or the sign, or both.",
    _date("date", "2031-05-16", "The day you saw it.", True),
    _text("plant", '"juniper hedge"', "The plant or bed you saw it on.", True),
    _text("organism", '"bagworm"', "What you take it for."),
    _text("sign", '"small bags on the twigs"', "What you saw, in your words."),
    _choice("sure", SURE, '"likely"', "How sure you are.", True),
)
LEVELS = _table(
    "levels",
    "level reading",
    "What stood in a barrel on a day. One reading settles what the plan can only guess.",
    _text("storage", '"back barrel"', "Which barrel.", True),
    _date("date", "2031-05-14", "The day.", True),
    _quantity("volume", "volume_l", '"20 gal"', "All the water in it.", "volume", "zero or more", True),
)

TABLES: Mapping[str, Table] = {
    table.name: table
    for table in (
        YARD, PLACE, HOUSEHOLD, ROOFS, DOWNSPOUTS, STORAGES, BEDS, PLANTS, SIGHTINGS, LEVELS,
    )
}  # fmt: skip
"""All tables in the order of the manual; "" is the top of the file."""

NAMED = ("roofs", "downspouts", "storages", "beds", "plants")
"""Tables whose entries are places, so that one name may stand only once among all of them."""
