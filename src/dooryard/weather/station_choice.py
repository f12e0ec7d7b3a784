"""One station out of a daily table that holds several: the lines of the others are left blank, so that a fault
further down still has the number of its line."""

from __future__ import annotations

import csv
from dataclasses import replace

from dooryard.problem import InputError, Problem, nearest
from dooryard.weather.opening import Opened

COLUMN = "STATION"
_SHOWN = 10


def keep_station(opened: Opened, wanted: str) -> Opened:
    """The table with the lines of one station only.

    wanted : its identifier, in small letters or capitals. InputError if the table has no column of stations, or not
    this one.
    """
    lines = list(opened.lines)
    head = next((at for at, line in enumerate(lines) if line.strip() and not line.startswith("#")), 0)
    names = [name.strip().upper() for name in next(csv.reader([lines[head]]), [])]
    if COLUMN not in names:
        what = f"This file has no column {COLUMN}, so there is no station to choose."
        raise InputError(Problem(what, "Leave it out.", opened.name, field="station", found=wanted))
    place = names.index(COLUMN)
    of_line = {
        at: _cell(lines[at], place) for at in range(head + 1, len(lines)) if not lines[at].startswith("#")
    }
    known = sorted({name for name in of_line.values() if name and name.upper() != COLUMN})
    if wanted.strip().upper() not in (name.upper() for name in known):
        shown = ", ".join(known[:_SHOWN])
        more = f" and {len(known) - _SHOWN} more" if len(known) > _SHOWN else ""
        instead = nearest(wanted, known) or f"In it: {shown}{more}."
        what = "This station is not in the file."
        raise InputError(Problem(what, instead, opened.name, field="station", found=wanted))
    for at, name in of_line.items():
        if name.upper() != wanted.strip().upper():
            lines[at] = ""
    return replace(opened, data="\n".join(lines).encode("utf-8"))


def _cell(line: str, place: int) -> str:
    cells = next(csv.reader([line]), [])
    return cells[place].strip() if place < len(cells) else ""
