"""Every table and key a label card may hold, declared once: the reader and the manual use this."""

from __future__ import annotations

from dooryard.unit_table import Dimension
from dooryard.yard.keys import Key, Kind, Limit, Table

KINDS = ("insecticide", "miticide", "fungicide", "bactericide", "herbicide", "oil", "soap", "other")
BLOOM = ("never on open bloom", "evening only", "no limit")


def _key(
    name: str, kind: Kind, example: str, says: str, *, required: bool = False, choices: tuple[str, ...] = ()
) -> Key:
    return Key(name, kind, example, says, name, required, choices=choices)


def _count(name: str, attribute: str, example: str, says: str, counted: str, most: int) -> Key:
    return Key(name, "count", example, says, attribute, counted=counted, most=most)


def _quantity(
    name: str, attribute: str, example: str, says: str, dimension: Dimension, limit: Limit = "above zero"
) -> Key:
    return Key(name, "quantity", example, says, attribute, dimension=dimension, limit=limit)


TOP = Table(
    "",
    "label card",
    "These stand before the first heading.",
    False,
    {
        key.name: key
        for key in (
            _key("name", "text", '"tomato copper"', "Your own name for it, never a brand.", required=True),
            _key("material", "text", '"copper octanoate"', "The active ingredient, as on the label.", required=True),
            _key("kind", "choice", '"fungicide"', "What it is.", required=True, choices=KINDS),
            _key("share", "share", '"10 %"', "How much of the product is active ingredient."),
            _key("read_on", "date", "2031-04-02", "The day the label was read.", required=True),
            _key("read_by", "text", '"volunteer 3"', "Who typed it, by role.", required=True),
            _key("second_reader", "text", '"adviser"', "Who checked it against the label.", required=True),
            _key("good_until", "date", "2031-12-31", "Last day the registration or permission is known to hold."),
            _key("bees", "text", '"Do not apply while bees forage."', "What the label says of bees."),
            _key("licensed_only", "yes or no", "false", "Is it for licensed applicators only?"),
        )
    },
)  # fmt: skip

USES = Table(
    "uses",
    "use",
    "One use the label allows: plants, pests and all its numbers.",
    True,
    {
        key.name: key
        for key in (
            _key("name", "text", '"tomato leaf spots"', "Your name for this use.", required=True),
            _key("sites", "names", '["home garden"]', "Sites the label names.", required=True),
            _key("plants", "names", '["tomato"]', "Plants the label names.", required=True),
            _key("pests", "names", '["early blight"]', "Pests or diseases the label names.", required=True),
            _key("rate", "text", '"2 Tbsp per gal"', "Product for so much water, ground or trunk."),
            _count("interval_days", "interval_d", "7", "Least days from one treatment to the next.", "days", 400),
            _count("interval_most_days", "interval_most_d", "10", "Most days, if it gives a range.", "days", 400),
            _count("season_most", "season_most", "8", "Most treatments in a season.", "treatments", 60),
            _count("harvest_days", "harvest_d", "0", "Days from the last treatment to picking.", "days", 400),
            _count("reentry_hours", "reentry_h", "0", 'Hours until people go back; 0: "until dry".', "hours", 400),
            _count("rain_fast_hours", "rain_fast_h", "6", "Hours it must stay without rain.", "hours", 400),
            _quantity("coldest", "coldest_c", '"40 F"', "Not below this air temperature.", "temperature", "any"),
            _quantity("hottest", "hottest_c", '"85 F"', "Not above this air temperature.", "temperature", "any"),
            _quantity("windiest", "windiest_m_s", '"10 mph"', "Not in more wind than this.", "speed"),
            _quantity("water", "water_m", '"25 ft"', "Distance to keep from open water.", "length"),
            _quantity("trunk_most", "trunk_most_m", '"15 in"', "Largest trunk diameter.", "length"),
            _key("bloom", "choice", '"never on open bloom"', "What it says of open flowers.", choices=BLOOM),
        )
    },
)  # fmt: skip
