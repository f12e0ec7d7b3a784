"""Stretches of one station's daily summaries, as the service sends them: checked, and joined into one file."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from dooryard.weather.fetch.obtaining import ChangedError

STATION_COLUMNS = ("STATION", "DATE", "LATITUDE", "LONGITUDE", "ELEVATION", "NAME")


@dataclass(frozen=True, slots=True)
class Rows:
    """A CSV answer taken apart: its column names and one dict a row (column to cell)."""

    header: tuple[str, ...]
    rows: tuple[dict[str, str], ...]


def checker(first: date, last: date, station: str | None = None) -> Callable[[bytes], None]:
    """A check that an answer holds daily summaries of these days (both included), and of this station if named.

    A station has one row a day at most.
    """

    def check(body: bytes) -> None:
        seen: set[tuple[str, str]] = set()
        for row in take_apart(body).rows:
            if station is not None and row["STATION"] != station:
                raise ChangedError(f"The service answered with another station, {row['STATION'][:20]}.")
            try:
                day = date.fromisoformat(row["DATE"])
            except ValueError as error:
                raise ChangedError(f"The service's dates have changed: {row['DATE'][:20]}.") from error
            if not first <= day <= last:
                raise ChangedError(f"The service answered with another day, {day}.")
            if (row["STATION"], row["DATE"]) in seen:
                raise ChangedError(f"The service sent one day twice, {day} of {row['STATION'][:20]}.")
            seen.add((row["STATION"], row["DATE"]))

    return check


def take_apart(body: bytes) -> Rows:
    """Rows of an answer; none if the service has nothing. ChangedError if it is no daily summary, or cut short."""
    try:
        text = body.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        raise ChangedError("The service answered with something that is no text.") from error
    if not text.strip():
        return Rows((), ())
    if text.lstrip()[:1] in "<{[":
        raise ChangedError(_no_table(text.lstrip()))
    if text.endswith(","):
        # The last cell may be blank, but then the line has an end: this one lost its marks, and a value its doubt.
        raise ChangedError("The service's table is cut short or damaged.")
    try:
        lines = list(csv.reader(io.StringIO(text), strict=True))
    except csv.Error as error:
        raise ChangedError("The service's table is cut short or damaged.") from error
    header = tuple(name.strip() for name in lines[0])
    if not {"STATION", "DATE"} <= set(header) or len(set(header)) != len(header):
        raise ChangedError(f"The service's columns have changed: {','.join(header)[:60]}.")
    rows = [line for line in lines[1:] if line]
    for row in rows:
        if len(row) != len(header):
            raise ChangedError(f"The service's table is cut short or damaged near {','.join(row)[:40]}.")
    return Rows(header, tuple(dict(zip(header, row, strict=True)) for row in rows))


def last_day(body: bytes) -> date | None:
    """The last day an answer that was checked has a row of, None if it has no rows."""
    return max((date.fromisoformat(row["DATE"]) for row in take_apart(body).rows), default=None)


def join(parts: Iterable[Rows], elements: Sequence[str], comments: Sequence[str]) -> bytes:
    """One daily-summaries file from several answers, oldest first, under comment lines.

    A column that one answer lacks is blank in its rows: the service leaves out what a station did not measure then.
    The same answers give the same bytes.
    """
    rows = sorted((row for part in parts for row in part.rows), key=lambda row: row["DATE"])
    wanted = [
        *STATION_COLUMNS,
        *(name for element in elements for name in (element, f"{element}_ATTRIBUTES")),
    ]
    columns = [name for name in wanted if any(name in row for row in rows)]
    out = io.StringIO()
    out.writelines(f"# {comment}\n" for comment in comments)
    table = csv.writer(out, lineterminator="\n")
    table.writerow(columns)
    table.writerows([row.get(name, "").strip() for name in columns] for row in rows)
    return out.getvalue().encode("utf-8")


def _no_table(text: str) -> str:
    if text.startswith("<"):
        return "A web page came instead of data: a sign-in page of your network, or the service has changed."
    from dooryard.weather.fetch.obtaining import refusal_words

    words = refusal_words(text.encode("utf-8"))
    return f"The service sent no table but a message: {words[:200] or text[:60]}."
