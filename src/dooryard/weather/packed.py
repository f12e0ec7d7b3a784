"""Columns of a clean file, still as bytes: numbers and days of all rows at once, text only where asked for.

A cell of up to eight characters fits a 64-bit word, so the digits of a whole column become numbers in some
twenty vector operations. What does not fit the pattern (a trace, a mark, a blank) is left to whoever reads
text. The multiplications that join neighbouring digits are well known; each step names what it holds.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple, overload

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.record import Days, Floats

Places = NDArray[np.int64]
_Words = NDArray[np.uint32] | NDArray[np.uint64]
_Number = np.uint32 | np.uint64

WIDEST = 8
_PIECE = 32_768
_ROOM = 17  # a line feed, and a word may be loaded from the last character on
_FIRST_YEAR, _LAST_YEAR = 1600, 2400


class _Kit(NamedTuple):
    """What the arithmetic on words of one width needs: one number in every byte, and tables by length."""

    width: int
    word: type[np.uint32] | type[np.uint64]
    noughts: _Number
    points: _Number
    high: _Number
    low: _Number
    over_nine: _Number  # 9 + 0x76 stays below 0x80, 10 + 0x76 does not
    push: _Words  # how far to push a cell of so many characters against the high end
    front: _Words  # the noughts to put in front of it
    decimals: _Number


def _kit(width: int) -> _Kit:
    word = np.uint32 if width == 4 else np.uint64

    def number(data: bytes) -> _Number:
        return word(int.from_bytes(data, "little"))

    def each(value: int) -> _Number:
        return number(bytes([value]) * width)

    def table(numbers: list[int]) -> _Words:
        return np.array(numbers, dtype=np.uint32) if width == 4 else np.array(numbers, dtype=np.uint64)

    lengths = range(width + 1)
    push = [8 * (width - length) if length else 0 for length in lengths]
    front = [int.from_bytes(b"0" * (width - length), "little") for length in lengths]
    in_every_byte = (each(0x30), each(0x2E), each(0x80), each(0x7F), each(0x76))
    return _Kit(width, word, *in_every_byte, table(push), table(front), number(bytes(range(width))))


_SHORT, _LONG = _kit(4), _kit(WIDEST)
_EIGHT = np.uint64(8)
_POWERS: Floats = np.float64(10.0) ** np.arange(256, dtype=np.float64)
"""Powers of ten. An index that is no number of decimals belongs to a cell that is not sound."""
_ISO = np.uint64(int.from_bytes(b"0000-00-", "little"))
_ISO_OVER = np.uint64(int.from_bytes(bytes([0x76] * 4 + [0x7F] + [0x76] * 2 + [0x7F]), "little"))


class Packed(Sequence[str]):
    """One column: the text of each row on demand, and the vector readings `numbers` and `days`.

    body : bytes of all rows with 16 bytes to spare behind them, shape (bytes,). starts, ends : where each cell
    begins and ends (not included), both (rows,). padded : whether blanks may stand around a number.
    """

    def __init__(self, body: NDArray[np.uint8], starts: Places, ends: Places, padded: bool = True) -> None:
        self._body = body
        self._starts = starts
        self._ends = ends
        self._padded = padded

    def __len__(self) -> int:
        return len(self._starts)

    @overload
    def __getitem__(self, row: int) -> str: ...
    @overload
    def __getitem__(self, row: slice) -> Sequence[str]: ...
    def __getitem__(self, row: int | slice) -> str | Sequence[str]:
        if isinstance(row, slice):
            return Packed(self._body, self._starts[row], self._ends[row], self._padded)
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
        words = np.where(lengths > 0, self._words(_LONG)[self._starts] << _LONG.push[lengths], np.uint64(0))
        # By hand, because np.unique costs 7 ms the first time.
        order = np.argsort(words, kind="stable")
        new = np.diff(words[order], prepend=~words[order[:1]]) != 0
        rows = np.empty(len(words), dtype=np.int64)
        rows[order] = np.cumsum(new) - 1
        return self.texts(order[new]), rows

    def at(self, rows: Places) -> Packed:
        """Some rows of the column, as a column."""
        return Packed(self._body, self._starts[rows], self._ends[rows], self._padded)

    def numbers(self) -> tuple[Floats, Places]:
        """Values (rows,), NaN where the cell is no plain decimal number, and the rows where it is not.

        A plain number has an optional minus, up to seven digits and at most one point, and may be padded
        with blanks. Each is the nearest float to its decimal text, as `float` would give it.
        """
        starts, ends = self._trimmed() if self._padded else (self._starts, self._ends)
        minus = self._body[starts] == ord("-")
        signed = bool(minus.any())
        if signed:
            starts = starts + minus
        lengths = ends - starts
        kit = _SHORT if lengths.size and lengths.max() <= _SHORT.width else _LONG
        fits = (lengths > 0) & (lengths <= kit.width)
        if not fits.all():
            lengths = np.where(fits, lengths, kit.width)
        words = (self._words(kit)[starts] << kit.push[lengths]) | kit.front[lengths]
        words, scale, sound = _without_point(words, lengths, kit)
        digits = words ^ kit.noughts
        fits &= (((digits + kit.over_nine) | digits) & kit.high) == 0
        if sound is not None:
            fits &= sound
        values = _joined(digits, kit).astype(np.float64)
        if scale is not None:
            values /= scale
        if signed:
            np.negative(values, out=values, where=minus)
        odd = np.flatnonzero(~fits)
        values[odd] = np.nan
        return values, odd

    def days(self) -> Days | None:
        """Calendar days (rows,) if every cell is YYYY-MM-DD or every cell YYYYMMDD, and each is a day."""
        lengths = self._ends - self._starts
        width = int(lengths[0]) if len(lengths) else 0
        if width not in (8, 10) or (lengths != width).any():
            return None
        words = self._words(_LONG)[self._starts]
        pattern, over = (_ISO, _ISO_OVER) if width == 10 else (_LONG.noughts, _LONG.over_nine)
        digits = words ^ pattern
        wrong = (((digits + over) | digits) & _LONG.high) != 0
        # Each pair of digits joined in the lower of its two bytes.
        pairs = (digits * np.uint64(10) + (digits >> _EIGHT)).astype("<u8", copy=False).view(np.uint8)
        pairs = pairs.reshape(-1, 8)
        years = pairs[:, 0] * np.int32(100) + pairs[:, 2]
        if width == 10:
            months = pairs[:, 5].astype(np.int32)
            last = self._body[self._starts + 8], self._body[self._starts + 9]
            tens, ones = (letter - np.uint8(ord("0")) for letter in last)  # what is no digit runs over 9
            wrong |= (tens > 9) | (ones > 9)
            numbers = tens * np.uint8(10) + ones
        else:
            months, numbers = pairs[:, 4].astype(np.int32), pairs[:, 6]
        wrong |= (years < _FIRST_YEAR) | (years >= _LAST_YEAR) | (months < 1) | (months > 12)
        if wrong.any():
            return None
        begins, lasts = _months()
        month = (years - _FIRST_YEAR) * 12 + months - 1
        if ((numbers < 1) | (numbers > lasts[month])).any():
            return None
        found: Days = (begins[month] + numbers - 1).view("datetime64[D]")
        return found

    def _words(self, kit: _Kit) -> _Words:
        """The bytes from each place on as one word, without copying."""
        shape = len(self._body) - kit.width + 1
        return np.ndarray(shape, dtype=kit.word, buffer=self._body, strides=(1,))

    def _trimmed(self) -> tuple[Places, Places]:
        starts, ends = self._starts, self._ends
        while (blank := (self._body[starts] == ord(" ")) & (starts < ends)).any():
            starts = starts + blank
        while (blank := (self._body[ends - 1] == ord(" ")) & (starts < ends)).any():
            ends = ends - blank
        return starts, ends


def split(
    data: bytes, separator: str, width: int, *, start: int = 0, not_first: str = ""
) -> list[Packed] | None:
    """The columns of lines that all have `width` cells, or None if one of them has not.

    data : lines without carriage returns, from byte `start` on; the last may lack its line feed. Cells may
    stand in quotes; a quote or a line feed inside a cell gives None, and so does a line that begins with one
    of the letters `not_first` (of comments, say).
    """
    if start >= len(data):
        return None
    length = len(data) - start
    letters = np.empty(length + _ROOM, dtype=np.uint8)
    letters[:length] = np.frombuffer(data, dtype=np.uint8, offset=start)
    letters[length:] = 0
    unended = letters[length - 1] != ord("\n")
    if unended:
        letters[length] = ord("\n")
    quoted = data.find(b'"', start) >= 0
    ends = _marks_outside_quotes(letters, separator) if quoted else _marks(letters, separator)
    if not len(ends) or len(ends) % width:
        return None
    # Every width-th mark ends a line, and no other one does.
    lines = ends[width - 1 :: width]
    if (letters[lines] != ord("\n")).any() or data.count(b"\n", start) + int(unended) != len(lines):
        return None
    places = []
    for place in range(width):
        begins = np.empty(len(lines), dtype=np.int64)
        if place:
            np.add(ends[place - 1 :: width], 1, out=begins)
        else:
            begins[0] = 0
            np.add(lines[:-1], 1, out=begins[1:])
        places.append((begins, np.ascontiguousarray(ends[place::width])))
    firsts = letters[places[0][0]]
    if any((firsts == letter).any() for letter in not_first.encode()):
        return None
    if quoted:
        opened = 0
        for place, (begins, stops) in enumerate(places):
            opens = letters[begins] == ord('"')
            if not (letters[stops[opens] - 1] == ord('"')).all():
                return None
            opened += int(opens.sum())
            places[place] = (begins + opens, stops - opens)
        if data.count(b'"', start) != 2 * opened:
            return None
    padded = data.find(b" ", start) >= 0
    return [Packed(letters, begins, stops, padded) for begins, stops in places]


def _marks(letters: NDArray[np.uint8], separator: str) -> Places:
    """Places of all separators and line feeds; in pieces, because memory asked for at once is slow to come."""
    found = []
    for start in range(0, len(letters), _PIECE):
        piece = letters[start : start + _PIECE]
        marks = np.flatnonzero((piece == ord(separator)) | (piece == ord("\n")))
        marks += start
        found.append(marks)
    return np.concatenate(found)


def _marks_outside_quotes(letters: NDArray[np.uint8], separator: str) -> Places:
    """The same where cells may stand in quotes: between an odd and an even quote a separator is text."""
    # A sum of bytes that runs over keeps its parity.
    inside = np.cumsum(letters == ord('"'), dtype=np.uint8) & 1
    marks = ((letters == ord(separator)) | (letters == ord("\n"))) & (inside == 0)
    return np.flatnonzero(marks)


def distinct(cells: Sequence[str]) -> tuple[list[str], Places]:
    """The different texts of a column, and for each row the index of its text, (rows,)."""
    if isinstance(cells, Packed) and (found := cells.short_texts()) is not None:
        return found
    index: dict[str, int] = {}
    rows = [index.setdefault(cell, len(index)) for cell in cells]
    return list(index), np.array(rows, dtype=np.int64)


def _without_point(
    words: _Words, lengths: Places, kit: _Kit
) -> tuple[_Words, Floats | None, NDArray[np.bool_] | None]:
    """Words of digits only, what to divide by, and where there was a digit and at most one point; all (rows,).

    The last two are None if there is no point in any row. lengths : characters in each word.
    """
    one, eight = kit.word(1), kit.word(8)
    other = words ^ kit.points
    points = ~((((other & kit.low) + kit.low) | other) | kit.low)  # 0x80 in the byte of each point
    if not points.any():
        return words, None, None
    sound: NDArray[np.bool_] = ((points & (points - one)) == 0) & ((points == 0) | (lengths > 1))
    bits = points >> kit.word(7)
    below = bits - one
    above = ~((points << one) - one)
    closed = (words & above) | ((words & below) << eight) | kit.word(0x30)
    # The byte of the point picks its byte of the factor: as many decimals as characters behind the point.
    decimals = (bits * kit.decimals) >> kit.word(8 * (kit.width - 1))
    scale: Floats = np.take(_POWERS, decimals.astype(np.intp))
    return np.where(points == 0, words, closed), scale, sound


def _joined(digits: _Words, kit: _Kit) -> _Words:
    """The number whose decimal digits are the bytes of each word, the first in the lowest byte."""
    word = kit.word
    pairs = (digits * word(10) + (digits >> word(8))) & word(0x00FF00FF00FF00FF & int(~word(0)))
    fours = (pairs * word(100) + (pairs >> word(16))) & word(0x0000FFFF0000FFFF & int(~word(0)))
    if kit.width == 4:
        return fours
    return (fours * word(10_000) + (fours >> word(32))) & word(0xFFFFFFFF)


@lru_cache(maxsize=1)
def _months() -> tuple[Places, Places]:
    """First day (from 1970-01-01) and number of days of every month of the years that are read."""
    months = np.arange(f"{_FIRST_YEAR}-01", f"{_LAST_YEAR}-02", dtype="datetime64[M]")
    begins = months.astype("datetime64[D]").astype(np.int64)
    return begins[:-1], np.diff(begins)
