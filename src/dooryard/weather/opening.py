"""Opening a weather file: packed or not, in whichever encoding, or a plain sentence why it cannot be read."""

from __future__ import annotations

import gzip
import hashlib
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from dooryard.problem import InputError, Problem

MOST_TOLD = 20


@dataclass(frozen=True, slots=True)
class Opened:
    """The text of a file. lines : without line ends, not yet stripped. sha256 : of the bytes as stored."""

    name: str
    lines: Sequence[str]
    sha256: str


@dataclass(slots=True)
class Faults:
    """Problems of one file, told all at once: the first twenty in full, the rest counted."""

    file: str
    problems: list[Problem] = field(default_factory=list)
    untold: int = 0

    def add(
        self, what: str, instead: str = "", *, line: int | None = None, name: str = "", found: str = ""
    ) -> None:
        """Note one problem, with its place."""
        if len(self.problems) >= MOST_TOLD:
            self.untold += 1
            return
        shown = found if len(found) <= 60 else f"{found[:57]}..."
        self.problems.append(Problem(what, instead, self.file, line, name, shown))

    def raise_any(self) -> None:
        """InputError with every problem noted so far, or nothing."""
        if not self.problems:
            return
        if self.untold:
            rest = "more problem like these" if self.untold == 1 else "more problems like these"
            self.problems.append(
                Problem(
                    f"and {self.untold:,} {rest}.", "Mend the first ones and read the file again.", self.file
                )
            )
        raise InputError(self.problems)


def open_text(path: Path) -> Opened:
    """Read a text file, unpacking gzip by its content, as UTF-8 (with or without mark), UTF-16 or Latin-1.

    InputError if the file is absent, empty, damaged, or no text at all.
    """
    name = path.name
    if path.is_dir():
        raise InputError(Problem("This is a folder, not a file.", "Name one weather file in it.", name))
    try:
        stored = path.read_bytes()
    except OSError as error:
        raise InputError(
            Problem(f"The file cannot be read: {error.strerror}.", "Check its name and folder.", str(path))
        ) from error
    text = _decoded(_unpacked(stored, name), name)
    if not text.strip():
        raise InputError(
            Problem(
                "The file is empty.",
                "Write a header such as date,tmin_F,tmax_F,rain_in and a line a day.",
                name,
            )
        )
    # str.splitlines would also break at form feeds and Unicode separators inside a station's name.
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return Opened(name, lines, hashlib.sha256(stored).hexdigest())


def _unpacked(stored: bytes, name: str) -> bytes:
    if not stored.startswith(b"\x1f\x8b"):
        return stored
    try:
        return gzip.decompress(stored)
    except (OSError, EOFError, zlib.error) as error:
        raise InputError(
            Problem("The file is packed with gzip and damaged or cut short.", "Fetch it again.", name)
        ) from error


def _decoded(data: bytes, name: str) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    if data.startswith(b"PK\x03\x04"):
        raise InputError(
            Problem(
                "This is a spreadsheet or a zip folder, not text.",
                "Save the sheet as CSV, or unpack it.",
                name,
            )
        )
    if b"\x00" in data[:4096]:
        raise InputError(Problem("This is no text file.", "Give a daily weather file as CSV or .dly.", name))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")
