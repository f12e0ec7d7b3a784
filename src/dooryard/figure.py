"""Figure: a number that can explain itself (value, unit, spread, method, inputs, source, how sure)."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Input:
    """One number that went into a figure: its name in words, its value as shown, and where it comes from."""

    name: str
    shown: str
    source: str = ""


@dataclass(frozen=True)
class Figure:
    """A number about to be shown.

    id : stable key inside one plan, such as ``storage.back-barrel.level``; text refers to it as ``[[id]]``.
    name : what it is, in words.
    value, unit : canonical value and its unit (mm, m2, L, degC, degC.d, kg, N, kPa, h, 1, date).
    shown : rounded for use, in the yard's units ("about 40 gal").
    exact : the unrounded value in the yard's units ("41.37 gal").
    low, high : the range in canonical units, None where a range has no meaning.
    method : key of the methods table (formula, limits, citation, status).
    inputs : what went in.
    """

    id: str
    name: str
    value: float | str
    unit: str
    shown: str
    exact: str
    method: str
    inputs: tuple[Input, ...] = ()
    low: float | str | None = None
    high: float | str | None = None
    note: str = ""
