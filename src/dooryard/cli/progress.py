"""A counter on standard error while something long runs, for people only: nothing if it goes to a file."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from typing import TypeVar

T = TypeVar("T")


def counted(items: Iterable[T], doing: str, total: int) -> Iterator[T]:
    """The items one by one, with a line such as "Reading 3 of 12" kept up to date on a terminal.

    doing : what is being done, such as "Reading". The line is wiped when the last item is done.
    """
    shown = sys.stderr.isatty() and total > 1
    width = 0
    try:
        for number, item in enumerate(items, start=1):
            if shown:
                line = f"{doing} {number} of {total}"
                width = max(width, len(line))
                sys.stderr.write(f"\r{line.ljust(width)}")
                sys.stderr.flush()
            yield item
    finally:
        if shown:
            sys.stderr.write(f"\r{' ' * width}\r")
            sys.stderr.flush()
