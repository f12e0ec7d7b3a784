"""What is usually advised about a material where its label is silent: heat, frost, rain, tender plants, sulfur.

Every number is a row of the spray limits; the label in hand overrules each of them.
"""

from __future__ import annotations

from dataclasses import dataclass

from dooryard.care.card import Card
from dooryard.knowledge import Knowledge
from dooryard.knowledge.care_rows import SprayLimit

PROTECTANTS = ("copper", "sulfur", "sulphur", "chlorothalonil", "mancozeb")


@dataclass(frozen=True)
class Advice:
    """The rows that hold for one material; None where there is none.

    hottest, caution, coldest : air [degC]. thaw : hours above freezing afterwards [h]. dry : hours without rain
    afterwards [h]. gap : days between oil and sulfur [d]. tender, touchy : plants it hurts, and plants of which it
    hurts some kinds. notes : what else is said of it.
    """

    hottest: SprayLimit | None
    caution: SprayLimit | None
    coldest: SprayLimit | None
    thaw: SprayLimit | None
    dry: SprayLimit
    gap: SprayLimit | None
    tender: SprayLimit | None
    touchy: SprayLimit | None
    notes: tuple[SprayLimit, ...]

    @property
    def dry_h(self) -> float:
        """Hours without rain that are waited for [h]."""
        return _number(self.dry)


def is_soft(card: Card) -> bool:
    """Whether it is an oil or a soap, which work by touch and can scorch."""
    return card.kind in ("oil", "soap") or "neem" in card.material.lower()


def is_protectant(card: Card) -> bool:
    """Whether it lies on the leaf and guards it, so that rain wears it off."""
    return card.kind in ("fungicide", "bactericide") and any(
        one in card.material.lower() for one in PROTECTANTS
    )


def advice(knowledge: Knowledge, card: Card) -> Advice:
    """What is usually advised about the material of a card."""
    rows = knowledge.spray_limits
    oil, soap, sulfur = _is_oil(card), card.kind == "soap", _is_sulfur(card)
    neem = "neem" in card.material.lower()
    bt = _bt(card)
    hottest = (
        "neem.hottest" if neem else "oil.hottest" if oil else "soap.hottest" if soap else "sulfur.hottest"
    )
    if bt == "kurstaki":
        dry = "bt-kurstaki.rain"
    elif oil or soap:
        dry = "oil-soap.rain"
    else:
        dry = "protectant.rain" if is_protectant(card) else "any.rain"
    soft = "oil" if oil else "soap"
    notes = [f"bt-{bt}.stage"] if bt else []
    notes += ["bt-kurstaki.again"] if bt == "kurstaki" else []
    notes += [f"{soft}.again"] if oil or soap else ["protectant.again"] if is_protectant(card) else []
    if card.kind == "insecticide" and "imidacloprid" in card.material.lower():
        notes += ["imidacloprid.time", "drench.rain"]
    if card.kind in ("insecticide", "miticide", "oil", "soap"):
        notes.append("any.bloom")
    return Advice(
        hottest=rows[hottest] if oil or soap or sulfur else None,
        caution=rows[f"{soft}.caution"] if oil or soap else None,
        coldest=rows["oil-soap.coldest"] if oil or soap else None,
        thaw=rows["oil-soap.thaw"] if oil or soap else None,
        dry=rows[dry],
        gap=rows["oil.sulfur_gap"] if oil or sulfur else None,
        tender=rows[f"{soft}.tender"] if oil or soap else None,
        touchy=rows["soap.touchy"] if soap else None,
        notes=tuple(rows[key] for key in notes),
    )


def hurts(row: SprayLimit | None, plant: str) -> bool:
    """Whether a plant is among those of a row: "red maple" is a maple, "Norway spruce" is no blue spruce."""
    if row is None:
        return False
    words = plant.lower().replace("-", " ").split()
    return any(words[-len(name.split()) :] == name.split() for name in row.plants)


def too_strong(knowledge: Knowledge, card: Card, share_of_mix: float) -> SprayLimit | None:
    """The row that a mix goes beyond, None if it does not. share_of_mix : product in the spray, 0 to 1."""
    rows = knowledge.spray_limits
    if card.kind == "soap" and card.share is not None:
        row, share = rows["soap.harm"], share_of_mix * card.share
    elif _is_oil(card) and "neem" not in card.material.lower():
        row, share = rows["dormant-oil.rate"], share_of_mix
    else:
        return None
    return row if share > _number(row) * (1 + 1e-9) else None


def _is_oil(card: Card) -> bool:
    return card.kind == "oil" or "neem" in card.material.lower()


def _is_sulfur(card: Card) -> bool:
    return "sulfur" in card.material.lower() or "sulphur" in card.material.lower()


def _bt(card: Card) -> str:
    """The strain of a Bacillus thuringiensis, empty if it is none or the card does not say."""
    return next(
        (name for name in ("kurstaki", "israelensis", "tenebrionis") if name in card.material.lower()), ""
    )


def _number(row: SprayLimit) -> float:
    value = row.high if row.high is not None else row.low
    assert value is not None, row.key
    return value
