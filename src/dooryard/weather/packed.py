"""Columns of a clean file, still as bytes: numbers and days of all rows at once, text only where asked for.

A cell of up to eight characters fits a 64-bit word, so the digits of a whole column become numbers in some
twenty vector operations. What does not fit the pattern (a trace, a mark, a blank) is left to whoever reads
text. The multiplications that join neighbouring digits are well known; each step names what it holds.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import overload

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.record import Days, Floats

Places = NDArray[np.int64]
_Words = NDArray[np.uint64]

WIDEST = 8
_ROOM = b"\0" * 16  # a word may be loaded from the last character on
_FIRST_YEAR, _LAST_YEAR = 1600, 2400


def _each_byte(value: int) -> np.uint64:
    return np.uint64(int.from_bytes(bytes([value]) * 8, "little"))


_NOUGHTS, _POINTS, _HIGH, _LOW = (_each_byte(value) for value in (0x30, 0x2E, 0x80, 0x7F))
_OVER_NINE = _each_byte(0x76)  # 9 + 0x76 stays below 0x80, 10 + 0x76 does not
_EIGHT, _SEVEN, _ONE = np.uint64(8), np.uint64(7), np.uint64(1)
# For a cell of 0 to 8 characters: how far to push it against the high end, and the noughts to put in front.
_PUSH = np.array([0, *(8 * (8 - length) for length in range(1, 9))], dtype=np.uint64)
_FRONT = np.array(
    [int.from_bytes(b"0" * (8 - length) + b"\0" * length, "little") for length in range(9)], dtype=np.uint64
)
_ISO = np.uint64(int.from_bytes(b"0000-00-", "little"))
_ISO_OVER = np.uint64(int.from_bytes(bytes([0x76] * 4 + [0x7F] + [0x76] * 2 + [0x7F]), "little"))


class Packed(Sequence[str]):
    """One column: the text of each row on demand, and the vector readings `numbers` and `days`.

    body : bytes of all rows with 16 bytes to spare behind them, shape (bytes,). starts, ends : where each cell
    begins and ends (not included), both (rows,).
    """

    def __init__(self, body: NDArray[np.uint8], starts: Places, ends: Places) -> None:
        self._body = body
        self._starts = starts
        self._ends = ends

    def __len__(self) -> int:
        return len(self._starts)

    @overload
    def __getitem__(self, row: int) -> str: ...
    @overload
    def __getitem__(self, row: slice) -> Sequence[str]: ...
    def __getitem__(self, row: int | slice) -> str | Sequence[str]:
        if isinstance(row, slice):
            return Packed(self._body, self._starts[row], self._ends[row])
        return self._body[self._starts[row] : self._ends[row]].tobytes().decode("utf-8", "replace")

    def __iter__(self) -> Iterator[str]:
        body = self._body.tobytes()
        for start, end in zip(self._starts.tolist(), self._ends.tolist(), strict=True):
            yield body[start:end].decode("utf-8", "replace")

    def texts(self, rows: Places) -> list[str]:
        """The text of some rows."""
        body = self._body
        ends = self._ends[rows].tolist()
        return [
            body[start:end].tobytes().decode("utf-8", "replace")
            for start, end in zip(self._starts[rows].tolist(), ends, strict=True)
        ]

    def all_alike(self) -> bool:
        """True if every row holds the same text."""
        lengths = self._ends - self._starts
        if (lengths != lengths[0]).any():
            return False
        letters = (self._body[self._starts + place] for place in range(int(lengths[0])))
        return all(bool((letter == letter[0]).all()) for letter in letters)

    def short_texts(self) -> tuple[list[str], Places] | None:
        """The different texts and the index of each row's text, (rows,); None if a cell is longer than 8."""
        lengths = self._ends - self._starts
        if len(lengths) == 0 or lengths.max() > WIDEST:
            return None
        # Pushed against the high end; a cell of no length becomes nought.
        words = np.where(lengths > 0, self._words()[self._starts] << _PUSH[lengths], np.uint64(0))
        _, first, rows = np.unique(words, return_index=True, return_inverse=True)
        return self.texts(first), rows

    def numbers(self) -> tuple[Floats, Places]:
        """Values (rows,), NaN where the cell is no plain decimal number, and the rows where it is not.

        A plain number has an optional minus, up to seven digits and at most one point, and may be padded
        with blanks. Each is the nearest float to its decimal text, as `float` would give it.
        """
        starts, ends = self._trimmed()
        minus = self._body[starts] == ord("-")
        if minus.any():
            starts = starts + minus
        lengths = ends - starts
        fits = (lengths > 0) & (lengths <= WIDEST)
        lengths = np.where(fits, lengths, WIDEST)
        words = (self._words()[starts] << _PUSH[lengths]) | _FRONT[lengths]
        words, scale, single = _without_point(words)
        digits = words ^ _NOUGHTS
        fits &= (((digits + _OVER_NINE) | digits) & _HIGH) == 0
        fits &= single & ~((lengths == 1) & (self._body[starts] == ord(".")))
        values = _joined(digits).astype(np.float64)
        values = np.where(minus, -values, values) if minus.any() else values
        values = values / scale
        values[~fits] = np.nan
        return values, np.flatnonzero(~fits)

    def days(self) -> Days | None:
        """Calendar days (rows,) if every cell is YYYY-MM-DD or every cell YYYYMMDD, and each is a day."""
        lengths = self._ends - self._starts
        width = int(lengths[0]) if len(lengths) else 0
        if width not in (8, 10) or (lengths != width).any():
            return None
        words = self._words()[self._starts]
        pattern, over = (_ISO, _ISO_OVER) if width == 10 else (_NOUGHTS, _OVER_NINE)
        digits = words ^ pattern
        wrong = (((digits + over) | digits) & _HIGH) != 0
        # Each pair of digits joined in the lower of its two bytes.
        pairs = (digits * np.uint64(10) + (digits >> _EIGHT)).astype(np.int64)
        years = (pairs & 0xFF) * 100 + ((pairs >> 16) & 0xFF)
        if width == 10:
            months = (pairs >> 40) & 0xFF
            tens, ones = (self._body[self._starts + place].astype(np.int64) - 48 for place in (8, 9))
            wrong |= (tens < 0) | (tens > 9) | (ones < 0) | (ones > 9)
            numbers = tens * 10 + ones
        else:
            months, numbers = (pairs >> 32) & 0xFF, (pairs >> 48) & 0xFF
        wrong |= (years < _FIRST_YEAR) | (years >= _LAST_YEAR) | (months < 1) | (months > 12)
        if wrong.any():
            return None
        begins, lasts = _months()
        month = (years - _FIRST_YEAR) * 12 + months - 1
        if ((numbers < 1) | (numbers > lasts[month])).any():
            return None
        found: Days = (begins[month] + numbers - 1).view("datetime64[D]")
        return found

    def _words(self) -> _Words:
        """Eight bytes from each place on, without copying: shape (bytes - 7,)."""
        return np.ndarray(len(self._body) - 7, dtype="<u8", buffer=self._body, strides=(1,))

    def _trimmed(self) -> tuple[Places, Places]:
        starts, ends = self._starts, self._ends
        while (blank := (self._body[starts] == ord(" ")) & (starts < ends)).any():
            starts = starts + blank
        while (blank := (self._body[ends - 1] == ord(" ")) & (starts < ends)).any():
            ends = ends - blank
        return starts, ends


def split(body: bytes, separator: str, width: int) -> list[Packed] | None:
    """The columns of lines that all have `width` cells, or None if one of them has not.

    body : whole lines, each ended by a line feed, without blank lines and carriage returns. Cells may stand in
    quotes; a quote or a line feed inside a cell gives None.
    """
    letters = np.frombuffer(body + _ROOM, dtype=np.uint8)
    marks = (letters == ord(separator)) | (letters == ord("\n"))
    quoted = b'"' in body
    if quoted:
        # Between an odd and an even quote a separator is text. A sum of bytes that runs over keeps its parity.
        quotes = letters == ord('"')
        marks &= np.cumsum(quotes, dtype=np.uint8) & 1 == 0
    ends = np.flatnonzero(marks)
    if len(ends) % width:
        return None
    # Every width-th mark ends a line, and no other one does.
    table = ends.reshape(-1, width)
    if (letters[table[:, -1]] != ord("\n")).any() or body.count(b"\n") != len(table):
        return None
    starts = np.empty_like(ends)
    starts[0] = 0
    np.add(ends[:-1], 1, out=starts[1:])
    if quoted:
        opens = letters[starts] == ord('"')
        if not (letters[ends[opens] - 1] == ord('"')).all() or int(quotes.sum()) != 2 * int(opens.sum()):
            return None
        starts, ends = starts + opens, ends - opens
    begins, table = starts.reshape(-1, width), ends.reshape(-1, width)
    return [
        Packed(letters, np.ascontiguousarray(begins[:, place]), np.ascontiguousarray(table[:, place]))
        for place in range(width)
    ]


def distinct(cells: Sequence[str]) -> tuple[list[str], Places]:
    """The different texts of a column, and for each row the index of its text, (rows,)."""
    if isinstance(cells, Packed) and (found := cells.short_texts()) is not None:
        return found
    index: dict[str, int] = {}
    rows = [index.setdefault(cell, len(index)) for cell in cells]
    return list(index), np.array(rows, dtype=np.int64)


def _without_point(words: _Words) -> tuple[_Words, Floats | float, NDArray[np.bool_]]:
    """Words of digits only, what to divide by, and where there is at most one point; all (rows,)."""
    other = words ^ _POINTS
    points = ~((((other & _LOW) + _LOW) | other) | _LOW)  # 0x80 in the byte of each point
    single = (points & (points - _ONE)) == 0
    if not points.any():
        return words, 1.0, single
    below = (points >> _SEVEN) - _ONE
    above = ~((points << _ONE) - _ONE)
    closed = (words & above) | ((words & below) << _EIGHT) | np.uint64(0x30)
    scale = np.ones(len(words))
    for decimals in range(1, 8):
        scale[points == np.uint64(0x80 << (8 * (7 - decimals)))] = 10.0**decimals
    return np.where(points == 0, words, closed), scale, single


def _joined(digits: _Words) -> _Words:
    """The number whose eight decimal digits are the bytes of each word, the first in the lowest byte."""
    pairs = ((digits * np.uint64(10)) + (digits >> _EIGHT)) & np.uint64(0x00FF00FF00FF00FF)
    fours = (pairs * np.uint64(100) + (pairs >> np.uint64(16))) & np.uint64(0x0000FFFF0000FFFF)
    return (fours * np.uint64(10_000) + (fours >> np.uint64(32))) & np.uint64(0xFFFFFFFF)


@lru_cache(maxsize=1)
def _months() -> tuple[Places, Places]:
    """First day (from 1970-01-01) and number of days of every month of the years that are read."""
    months = np.arange(f"{_FIRST_YEAR}-01", f"{_LAST_YEAR}-02", dtype="datetime64[M]")
    begins = months.astype("datetime64[D]").astype(np.int64)
    return begins[:-1], np.diff(begins)
