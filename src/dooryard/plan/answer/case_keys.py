"""Every table and key a case file may hold, declared once: the reader and the manual use this."""

from __future__ import annotations

from dooryard.plan.answer.case import PARTS
from dooryard.yard.keys import Key, Kind, Table

EVIDENCE = ("told", "photo", "sample", "lab")


def _key(
    name: str,
    kind: Kind,
    example: str,
    says: str,
    *,
    required: bool = False,
    choices: tuple[str, ...] = (),
    attribute: str = "",
) -> Key:
    return Key(name, kind, example, says, attribute or name, required, choices=choices)


CASE = Table(
    "",
    "case",
    "These stand before the first heading.",
    False,
    {
        key.name: key
        for key in (
            _key("code", "text", '"H-12"', "The household's code, never a name.", required=True),
            _key("plant", "text", '"magnolia"', "The plant, by its common name.", required=True),
            _key("evidence", "choice", '"photo"', "What was looked at.", required=True, choices=EVIDENCE),
            _key("who", "text", '"volunteer 3"', "Who looked, by role.", required=True),
            _key("question", "text", '"Why are the leaves sticky?"', "The question, in the desk's words."),
            _key("asked_on", "date", "2031-07-08", "The day it was asked."),
            _key("seen", "names", '["sticky"]', "Signs that were seen."),
            _key("unseen", "names", '["aphids"]', "Signs that were looked for and not seen."),
            _key("lab", "text", '"late-blight"', "The cause a laboratory named."),
            _key("organism", "text", '"bagworm"', "The pest, if it is known for sure."),
            _key("yard", "text", '"household-12.toml"', "The yard file, if there is one."),
            _key("weather", "text", '"station.csv"', "The station's record."),
            _key("card", "text", '"card.toml"', "The label card in hand."),
            _key("state", "text", '"Maryland"', "For its laws."),
            _key("in_bloom", "yes or no", "false", "Flowers are open on it, or on weeds below."),
            _key("near_water", "yes or no", "false", "A pond, ditch, well or barrel lies near."),
            _key("height", "quantity", '"12 ft"', "Height of the plant.", attribute="height_m"),
            _key("follow_up", "date", "2031-08-12", "The day to look again, if you choose it yourself."),
            _key("keep_out", "names", '["Holt"]', "Names that must not stand in the letter."),
        )
    },
)
EDITS = Table(
    "edits",
    "edit",
    "Your own words in place of one part. They stay when the letter is made anew.",
    True,
    {
        key.name: key
        for key in (
            _key("part", "choice", '"summary"', "Which part.", required=True, choices=PARTS),
            _key("text", "text", '"Leave it this year."', "Your words.", required=True),
            _key("by", "text", '"adviser"', "Who wrote them, by role.", required=True),
            _key("on", "date", "2031-07-09", "The day.", required=True),
            _key("was", "text", '"..."', "The computed words they replace; --parts prints them."),
        )
    },
)
OVERRIDES = Table(
    "overrides",
    "override",
    "A reason of the review gate that you set aside. It is kept.",
    True,
    {
        key.name: key
        for key in (
            _key("finding", "text", '"brand: killzall"', "The reason, as the gate names it.", required=True),
            _key("by", "text", '"adviser"', "Who sets it aside.", required=True),
            _key("reason", "text", '"We warn of it."', "Why.", required=True),
            _key("on", "date", "2031-07-09", "The day.", required=True),
        )
    },
)
