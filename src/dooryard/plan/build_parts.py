"""Parts lists in words: amounts, packs and what they cost, for one yard's barrels or a workshop's kits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dooryard.knowledge.build_rows import Part
from dooryard.plan.document import Table
from dooryard.plan.figures import plain_number
from dooryard.plan.tape import tape_words
from dooryard.plan.work.sheet import Sheet
from dooryard.water.build_measures import Scale, amount, cut_from, packs, with_spares

OVERFLOW_ONLY = frozenset(
    {"overflow-adapter", "overflow-elbow", "overflow-nut", "overflow-hose", "hose-clamp", "splash"}
)
"""Parts that a barrel without an overflow of its own does without."""


@dataclass(frozen=True)
class Line:
    """One line of a list: the part, its name, the amount wanted (spares in it), and whole packs to buy."""

    part: Part
    name: str
    amount: float
    packs: int

    @property
    def cost(self) -> tuple[float, float]:
        """What the packs cost, low and high [dollars]."""
        return self.packs * self.part.cost_low, self.packs * self.part.cost_high


Made = tuple[Scale, float | None, int, bool]
"""What parts go by, bore of the overflow [m], how many are alike, whether each has an overflow of its own."""


def priced(sheet: Sheet, made: Sequence[Made], *, spare_share: float = 0.0) -> list[Line]:
    """The lines of a list for all that is made; parts of several bores stand in a line for each bore.

    spare_share : of the parts that break or get lost, on top.
    """
    lines: list[Line] = []
    for part in sheet.knowledge.parts.values():
        wanted: dict[str, float] = {}
        cut: dict[str, int] = {}
        for goes_by, bore, many, spills in made:
            if part.key in OVERFLOW_ONLY and not spills:
                continue
            size = "" if bore is None else tape_words(bore, sheet.system, parts=16)
            name = part.name.replace("{overflow}", size)
            wanted[name] = wanted.get(name, 0.0) + amount(part, goes_by) * many
            if part.by == "run":
                # A hose is one piece for each barrel: ends that are left over make no other.
                cut[name] = cut.get(name, 0) + cut_from(amount(part, goes_by), many, part.pack)
        for name, much in wanted.items():
            total = with_spares(much, spare_share) if part.spare and spare_share > 0 else much
            if total > 0:
                lines.append(Line(part, name, total, cut.get(name) or packs(total, part.pack)))
                sheet.more_sources.add(part.source)
    return lines


def amount_words(sheet: Sheet, line: Line) -> str:
    """An amount in words: "2", "16 ft", "1.2 cu ft"; shares of a roll or tube are said as such."""
    much, unit = line.amount, line.part.unit
    if unit == "m":
        return sheet.book.show(much, "length")
    if unit == "m2":
        return sheet.book.show(much, "area")
    if unit == "L":
        return sheet.space_words(much)
    number = plain_number(much)
    if not unit:
        return number
    return f"{number} {unit}" if much == 1 else f"{number} of a {unit}" if much < 1 else f"{number} {unit}s"


def pack_words(line: Line) -> str:
    """What to buy: "2", or "3 x bag of 0.5 cu ft"."""
    return f"{line.packs}" if line.part.pack_name == "each" else f"{line.packs} x {line.part.pack_name}"


def parts_table(sheet: Sheet, lines: Sequence[Line]) -> Table:
    """The list: what and what for, how much, what to buy."""
    return Table(
        "Parts, and what to buy",
        (("Part, and what it does", "left"), ("Needed", "right"), ("Buy", "left")),
        tuple(
            (f"{line.name}: {line.part.use}", amount_words(sheet, line), pack_words(line)) for line in lines
        ),
    )
