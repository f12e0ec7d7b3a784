"""A bed at the end of a hose or drip line from a barrel: heads, hose and words that both share."""

from __future__ import annotations

from dataclasses import dataclass

from numpy.typing import ArrayLike

from dooryard.figure import Input
from dooryard.plan.barrel_outlet import Heights
from dooryard.plan.draft import Draft
from dooryard.plan.figures import plain_number, slug
from dooryard.water.drip import line_flow
from dooryard.water.hose import Floats, hose_flow
from dooryard.yard.model import Bed, Storage

HOUR_S = 3600.0
GALLON_L = 3.785411784


@dataclass(frozen=True)
class Line:
    """A bed at the end of its hose or drip line: the barrel's heights, and heads over the bed, full and last [m]."""

    bed: Bed
    storage: Storage
    known: Heights
    first_m: float
    last_m: float

    @property
    def key(self) -> str:
        """First part of the ids of its figures."""
        return f"bed.{slug(self.bed.name)}"


@dataclass(frozen=True)
class Hose:
    """The hose to a bed as the kernels take it, and its lines in the *why*."""

    bore_m: float
    length_m: float
    loss_sum: float
    roughness_m: float
    viscosity_m2_s: float
    inputs: tuple[Input, ...]

    def flow(self, head_m: ArrayLike) -> Floats:
        """Flow from its open end under a head [L/s]."""
        return hose_flow(
            head_m,
            self.bore_m,
            self.length_m,
            loss_sum=self.loss_sum,
            roughness_m=self.roughness_m,
            viscosity_m2_s=self.viscosity_m2_s,
        )

    def drip(self, head_m: ArrayLike, rated_l_s: float, rated_kpa: float, exponent: float) -> Floats:
        """Flow of emitters at its end under a head [L/s]."""
        return line_flow(
            head_m,
            rated_l_s,
            rated_kpa,
            exponent,
            bore_m=self.bore_m,
            length_m=self.length_m,
            loss_sum=self.loss_sum,
            roughness_m=self.roughness_m,
            viscosity_m2_s=self.viscosity_m2_s,
        )


def line_hose(draft: Draft, bed: Bed) -> Hose:
    """The hose to a bed: as written, or the usual bore."""
    usual, loss = draft.knowledge.fact("hose.bore"), draft.knowledge.fact("hose.loss_sum")
    bore_m = usual.value if bed.hose_bore_m is None else bed.hose_bore_m
    length_m = bed.hose_length_m or 0.0
    return Hose(
        bore_m,
        length_m,
        loss.value,
        draft.fact("hose.roughness"),
        draft.fact("water.viscosity"),
        (
            draft.book.input("length of the hose", length_m, "length", "the yard file"),
            draft.book.input(
                "bore of the hose" if bed.hose_bore_m is not None else "bore of the hose, the usual one",
                bore_m,
                "length",
                "the yard file" if bed.hose_bore_m is not None else usual.source,
            ),
            Input("losses in spigot and fitting", f"{loss.value:g}", loss.source),
        ),
    )


def per_hour(draft: Draft, litres_s: float, *, exact: bool = False) -> str:
    """A small flow by the hour: "6.7 gal an hour", "25 L an hour"."""
    amount = litres_s * HOUR_S / (GALLON_L if draft.yard.units == "us" else 1.0)
    unit = "gal" if draft.yard.units == "us" else "L"
    if exact:
        return f"{plain_number(amount)} {unit} an hour"
    return f"{amount:.0f} {unit} an hour" if amount >= 10 else f"{amount:.1f} {unit} an hour"
