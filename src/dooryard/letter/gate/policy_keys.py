"""Every key an office file may hold, declared once: the reader and the manual use this."""

from __future__ import annotations

from dooryard.yard.keys import Key, Kind, Table

VEGETABLES = ("with care", "never")


def _key(
    name: str, kind: Kind, attribute: str, example: str, says: str, choices: tuple[str, ...] = ()
) -> Key:
    return Key(name, kind, example, says, attribute, choices=choices)


OFFICE = Table(
    "",
    "office file",
    "All keys stand at the top; each may be left out.",
    False,
    {
        key.name: key
        for key in (
            _key("office", "text", "office", '"Mill County Extension office"', "How the office is called."),
            _key("reviewer", "text", "reviewer", '"horticulture adviser"', "Who signs, by role."),
            _key("contact", "names", "contact", '["555-0100"]', "Telephone or mail of the office."),
            _key("mail_to", "text", "mail_to", '"Plant laboratory, Mill County"', "Where samples go."),
            _key("fee", "text", "fee", '"15 dollars"', "What the laboratory asks."),
            _key("fairness", "text", "fairness", '"Open to all."', "The line on equal treatment."),
            _key("offers", "text", "offers", '"Ask for large print."', "Languages and large print."),
            _key(
                "barrel_water_on_vegetables", "choice", "vegetables", '"never"', "Its own rule.", VEGETABLES
            ),
            _key("crown_cut_most", "share", "cut_most", '"25 %"', "Most of a live crown cut in a year."),
            _key("crown_lost_most", "share", "lost_most", '"30 %"', "Most of a crown lost, to treat a tree."),
            _key("names_materials", "yes or no", "materials", "true", "May letters name active ingredients?"),
        )
    },
)
