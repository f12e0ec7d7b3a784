"""The county's own settings: what it says of barrel water on vegetables, how much crown may go, how it signs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from dooryard.letter.gate.policy_keys import OFFICE
from dooryard.problem import InputError
from dooryard.yard import lines, syntax
from dooryard.yard.values import Names, read_entry


@dataclass(frozen=True)
class Policy:
    """What an office has settled. None: it takes the shipped fact.

    vegetables : of barrel water on food plants, "with care" or "never". cut_most : largest share of the live crown that
    may be cut in a year. lost_most : share of the crown lost from which a tree is no longer treated. materials :
    whether letters may name active ingredients. office, reviewer, contact, mail_to, fee, fairness, offers : words for
    the end of a letter.
    """

    vegetables: str = "with care"
    cut_most: float | None = None
    lost_most: float | None = None
    materials: bool = True
    office: str = "your county Extension office"
    reviewer: str = "a county adviser"
    contact: tuple[str, ...] = ()
    mail_to: str = ""
    fee: str = ""
    fairness: str = "Our help is open to everyone alike."
    offers: str = "Ask us for this letter in large print or in another language."


def from_text(text: str, file: str, knowledge: Names) -> Policy:
    """The policy in an office file. file : its name in messages. Raises InputError with every fault and its line."""
    entry, faults = read_entry(OFFICE, (), syntax.tables(text, file), knowledge)
    if faults:
        found = lines.spans(text.removeprefix("\ufeff"))
        placed = [one.problem.at(file=file, line=lines.line_of(one.path, found)) for one in faults]
        raise InputError(sorted(placed, key=lambda problem: problem.line or 0))
    values: dict[str, Any] = {OFFICE.keys[name].attribute: value for name, value in entry.values.items()}
    return Policy(**values)
