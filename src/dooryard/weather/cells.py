"""Number cells of weather files: values, and the marks that stand in their place or behind them."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from dooryard.weather.opening import Faults
from dooryard.weather.packed import Packed, distinct
from dooryard.weather.record import Codes, Flag, Floats

MISSING_WORDS = frozenset({"", "na", "n/a", "nan", "null", "none", "m", "-", "--"})
MISSING_NUMBERS = (-9999.0, 9999.9, -99.99)
_LEAST_MISSING = min(abs(number) for number in MISSING_NUMBERS)
TRACE_WORDS = frozenset({"t", "tr", "trace"})
_MARKS = {"a": Flag.ACCUMULATED, "e": Flag.ESTIMATED, "s": Flag.SUSPECT, "t": Flag.TRACE}
_FLAG_WORDS = {
    "t": Flag.TRACE, "trace": Flag.TRACE, "a": Flag.ACCUMULATED, "accumulated": Flag.ACCUMULATED,
    "e": Flag.ESTIMATED, "estimated": Flag.ESTIMATED, "s": Flag.SUSPECT, "suspect": Flag.SUSPECT,
    "m": Flag.MISSING, "missing": Flag.MISSING, "moved": Flag.MOVED,
}  # fmt: skip
_NO_FLAG = frozenset({"", "o", "observed"})
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)")


def parse_cells(
    cells: Sequence[str],
    lines: Sequence[int],
    faults: Faults,
    *,
    name: str,
    trace: bool = False,
    decimal_comma: bool = False,
) -> tuple[Floats, Codes]:
    """Values and flags of one column, both (rows,); a cell that is no number is told to `faults`.

    Blank, NA, M, - and -9999 are missing. With `trace`, T is a trace: 0.0. A letter behind a number marks it:
    A part of a several-day total, S suspect (both become NaN), E estimated. lines : line number of each cell.
    """
    if isinstance(cells, Packed) and not decimal_comma:
        return _packed_cells(cells, lines, faults, name, trace)
    # A column repeats few different texts, so each is understood once: 18,000 cells in about 1 ms.
    known = {cell: _understood(cell, trace, decimal_comma) for cell in set(cells)}
    wrong = {cell for cell, meaning in known.items() if meaning is None}
    if wrong:
        for row, cell in enumerate(cells):
            if cell in wrong:
                instead = "Write a number with a decimal point, or leave the cell blank if it is missing."
                faults.add("This is no number.", instead, line=lines[row], name=name, found=cell.strip())
    numbers = {cell: (np.nan if meaning is None else meaning[0]) for cell, meaning in known.items()}
    values = np.fromiter(map(numbers.__getitem__, cells), dtype=np.float64, count=len(cells))
    flags = np.where(np.isnan(values), np.uint8(Flag.MISSING), np.uint8(Flag.OBSERVED))
    odd = {cell: meaning[1] for cell, meaning in known.items() if meaning is not None}
    if set(odd.values()) - {Flag.OBSERVED, Flag.MISSING}:
        flags[:] = [odd.get(cell, Flag.MISSING) for cell in cells]
    return values, flags


def apply_flag_cells(
    values: Floats,
    flags: Codes,
    cells: Sequence[str],
    lines: Sequence[int],
    faults: Faults,
    *,
    name: str,
    trace: bool = False,
) -> tuple[Floats, Codes]:
    """Values and flags (rows,) as a column of flag words beside them has it; faults are told with their line.

    Blank leaves a value as it is. T or trace: 0.0. E, estimated or moved: the value, which must be there. A, S,
    M (accumulated, suspect, missing): NaN, whatever the value.
    """
    words = {cell: cell.strip().lower() for cell in set(cells)}
    if all(word in _NO_FLAG for word in words.values()):
        return values, flags
    values, flags = values.copy(), flags.copy()
    for row, cell in enumerate(cells):
        word = words[cell]
        if word in _NO_FLAG:
            continue
        flag = _FLAG_WORDS.get(word)
        if flag is None or (flag is Flag.TRACE and not trace):
            instead = "Write trace, estimated, moved, accumulated, suspect or missing, or leave it blank."
            faults.add(
                "This is no flag of this column.", instead, line=lines[row], name=name, found=cell.strip()
            )
            continue
        if flag is Flag.TRACE and values[row] > 0:
            faults.add("A trace is not a measured amount.", "Write 0 or T.", line=lines[row], name=name)
        elif flag is Flag.ESTIMATED and np.isnan(values[row]):
            instead = "Write the estimate, or missing as the flag."
            faults.add("There is no value to be an estimate.", instead, line=lines[row], name=name)
        elif flag is Flag.MOVED and np.isnan(values[row]):
            faults.add(
                "There is no value to be moved.", "Write missing as the flag.", line=lines[row], name=name
            )
        flags[row] = flag
        kept = {Flag.TRACE: 0.0, Flag.ESTIMATED: values[row], Flag.MOVED: values[row]}
        values[row] = kept.get(flag, np.nan)
    return values, flags


def _packed_cells(
    cells: Packed, lines: Sequence[int], faults: Faults, name: str, trace: bool
) -> tuple[Floats, Codes]:
    """As `parse_cells`: plain numbers all at once, and the few other cells as text."""
    values, odd = cells.numbers()
    flags = np.zeros(len(values), dtype=np.uint8)
    if odd.size:
        few = cells.at(odd)
        found, index = distinct(few)
        known = [_understood(text, trace, decimal_comma=False) for text in found]
        if None in known:
            texts, where = list(few), [lines[row] for row in odd.tolist()]
            values[odd], flags[odd] = parse_cells(texts, where, faults, name=name, trace=trace)
        else:
            meanings = [meaning for meaning in known if meaning is not None]
            values[odd] = np.array([value for value, _ in meanings])[index]
            flags[odd] = np.array([flag for _, flag in meanings], dtype=np.uint8)[index]
    # Most columns have no value as far from nought as any of these: one look instead of one for each.
    if (np.abs(values) >= _LEAST_MISSING).any():
        for number in MISSING_NUMBERS:
            missing = values == number
            if missing.any():
                values[missing], flags[missing] = np.nan, Flag.MISSING
    return values, flags


def _understood(cell: str, trace: bool, decimal_comma: bool) -> tuple[float, Flag] | None:
    text = cell.strip().lower()
    if decimal_comma:
        text = text.replace(",", ".")
    if _NUMBER.fullmatch(text):
        value = float(text)
        return (np.nan, Flag.MISSING) if value in MISSING_NUMBERS else (value, Flag.OBSERVED)
    if text in MISSING_WORDS:
        return np.nan, Flag.MISSING
    if trace and text in TRACE_WORDS:
        return 0.0, Flag.TRACE
    mark = _MARKS.get(text[-1])
    number = text[:-1].strip()
    if mark is None or (mark is Flag.TRACE and not trace) or (number and not _NUMBER.fullmatch(number)):
        return None
    if mark is Flag.TRACE:
        return (0.0, mark) if float(number) == 0 else None
    if mark is Flag.ESTIMATED:
        return (float(number), mark) if number else None
    return np.nan, mark
