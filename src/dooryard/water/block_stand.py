"""A stand of concrete blocks: how many, how heavy, how high it comes out."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from dooryard.problem import InputError, Problem

# A base of 24 in measured as 23.9 still takes the same blocks.
_TAPE_SHARE = 0.02


@dataclass(frozen=True, slots=True)
class Block:
    """One block as laid, joints included: its sides [m] and its mass [kg]."""

    length_m: float
    width_m: float
    height_m: float
    mass_kg: float


@dataclass(frozen=True, slots=True)
class BlockStand:
    """A stand of whole blocks.

    courses, per_course : layers, and blocks in each. height_m : of all courses [m]. mass_kg : of all blocks
    [kg]. contact_m2 : area of the lowest course on the ground [m2].
    """

    courses: int
    per_course: int
    height_m: float
    mass_kg: float
    contact_m2: float

    @property
    def blocks(self) -> int:
        """All blocks to buy."""
        return self.courses * self.per_course


def of_blocks(height_m: float, base_m: tuple[float, float], block: Block) -> BlockStand:
    """The stand of blocks that comes nearest to a height on a base, at least one course of one block.

    height_m, base_m : wanted height and the sides of the base [m]. As many whole blocks lie in a course as
    its area holds; four around an open middle make a square of a length and a width. Raises InputError for a
    height or base of zero or less, or a base too narrow for a block.
    """
    width, depth = sorted(base_m)
    if height_m <= 0.0 or width <= 0.0:
        raise InputError(Problem("The stand has no size.", "Give its height and both sides of its base."))
    if width * (1.0 + _TAPE_SHARE) < block.width_m or depth * (1.0 + _TAPE_SHARE) < block.length_m:
        raise InputError(
            Problem(
                "The base is smaller than one block.", "Give a base at least as wide and long as a block."
            )
        )
    courses = max(1, round(height_m / block.height_m))
    per_course = floor(width * depth * (1.0 + _TAPE_SHARE) / (block.length_m * block.width_m))
    return BlockStand(
        courses=courses,
        per_course=per_course,
        height_m=courses * block.height_m,
        mass_kg=courses * per_course * block.mass_kg,
        contact_m2=per_course * block.length_m * block.width_m,
    )
