"""Opening a weather file: packed or not, in whichever encoding, or a plain sentence why it cannot be read."""

from __future__ import annotations

import gzip
import hashlib
import zlib
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from pathlib import Path

from dooryard.problem import InputError, Problem

WRITE = "Write a header such as date,tmin_F,tmax_F,rain_in or date,tmin_C,tmax_C,rain_mm."
"""What to do when a file is no weather file of ours: said by whoever finds out."""

MOST_TOLD = 20
MOST_OF_A_KIND = 5


@dataclass(frozen=True)
class Opened:
    """A text file: as UTF-8 with line feeds only, without mark, and without blank lines at its end.

    name : without folder. data : the text as bytes. sha256 : of the bytes as stored. written : the day the
    file was last written, None if the text came from somewhere else.
    """

    name: str
    data: bytes
    sha256: str
    written: date | None = None

    @cached_property
    def text(self) -> str:
        """The whole text."""
        return self.data.decode("utf-8")

    def head(self, letters: int = 32_768) -> list[str]:
        """The first lines of a long file, up to so many bytes, without taking the whole file apart."""
        return self.data[:letters].decode("utf-8", "ignore").split("\n")

    @cached_property
    def lines(self) -> Sequence[str]:
        """The lines without their ends."""
        # str.splitlines would also break at form feeds and Unicode separators inside a station's name.
        return self.text.split("\n")


@dataclass(slots=True)
class Faults:
    """Problems of one file, told all at once: five of a kind and twenty in all in full, the rest counted."""

    file: str
    problems: list[Problem] = field(default_factory=list)
    kinds: Counter[tuple[str, str]] = field(default_factory=Counter)
    untold: int = 0

    def add(
        self, what: str, instead: str = "", *, line: int | None = None, name: str = "", found: str = ""
    ) -> None:
        """Note one problem, with its place."""
        self.kinds[what, name] += 1
        if self.kinds[what, name] > MOST_OF_A_KIND or len(self.problems) >= MOST_TOLD:
            self.untold += 1
            return
        shown = found if len(found) <= 80 else f"{found[:77]}..."
        self.problems.append(Problem(what, instead, self.file, line, name, shown))

    def raise_any(self) -> None:
        """InputError with every problem noted so far in the order of their lines, or nothing."""
        if not self.problems:
            return
        told = sorted(self.problems, key=lambda problem: problem.line or 0)
        if self.untold:
            rest = "is 1 more problem" if self.untold == 1 else f"are {self.untold:,} more problems"
            told.append(
                Problem(f"There {rest} like these.", "Mend the first ones and read it again.", self.file)
            )
        raise InputError(told)


def open_text(path: Path) -> Opened:
    """Read a text file, unpacking gzip by its content, as UTF-8 (with or without mark), UTF-16 or Latin-1.

    InputError if the file is absent, empty, damaged, or no text at all.
    """
    name = path.name
    if path.is_dir():
        raise InputError(Problem("This is a folder, not a file.", "Name one weather file in it.", name))
    try:
        stored = path.read_bytes()
        written = date.fromtimestamp(path.stat().st_mtime)
    except OSError as error:
        raise InputError(
            Problem(f"The file cannot be read: {error.strerror}.", "Check its name and folder.", str(path))
        ) from error
    data = _as_utf8(_unpacked(stored, name), name)
    if b"\r" in data:
        data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    data = data.rstrip(b"\n")
    if not data or data.isspace():
        raise InputError(
            Problem(
                "The file is empty.",
                f"{WRITE} A line for each day follows it.",
                name,
            )
        )
    return Opened(name, data, hashlib.sha256(stored).hexdigest(), written)


def _unpacked(stored: bytes, name: str) -> bytes:
    if not stored.startswith(b"\x1f\x8b"):
        return stored
    try:
        return gzip.decompress(stored)
    except (OSError, EOFError, zlib.error) as error:
        raise InputError(
            Problem("The file is packed with gzip and damaged or cut short.", "Fetch it again.", name)
        ) from error


def _as_utf8(data: bytes, name: str) -> bytes:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace").encode("utf-8", errors="replace")
    if data.startswith(b"PK\x03\x04"):
        raise InputError(
            Problem(
                "This is a spreadsheet or a zip folder, not text.",
                "Save the sheet as CSV, or unpack it.",
                name,
            )
        )
    data = data.rstrip(b"\x00")  # a copy that broke off is filled up with them
    if b"\x00" in data[:4096]:
        raise InputError(Problem("This is no text file.", "Give a daily weather file as CSV or .dly.", name))
    if b"\x00" in data:
        line = data.count(b"\n", 0, data.index(b"\x00")) + 1
        what = "The file is damaged: this line holds bytes that are no text."
        raise InputError(Problem(what, "Fetch or copy the file again.", name, line))
    data = data.removeprefix(b"\xef\xbb\xbf")
    if not data.isascii():
        try:
            data.decode("utf-8")
        except UnicodeDecodeError:
            return _one_byte_letters(data).encode("utf-8")
    return data


def _one_byte_letters(data: bytes) -> str:
    """Text of an old Windows programme, with its dashes and quotation marks, or else Latin-1."""
    try:
        return data.decode("cp1252")
    except UnicodeDecodeError:
        return data.decode("latin-1")
