"""One station's file in, one record out: the reader is chosen by looking into the file, never by its name."""

from __future__ import annotations

from pathlib import Path

from dooryard.problem import InputError, Problem
from dooryard.weather.opening import Opened, open_text
from dooryard.weather.record import WeatherRecord

LAYOUTS = ("plain",)


def read(path: Path | str, layout: str | None = None) -> WeatherRecord:
    """The daily record in a file, checked for plausibility.

    path : a text file, packed with gzip or not. layout : one of `LAYOUTS` to overrule what the file looks
    like. InputError if the file cannot be read, listing every fault with its line.
    """
    opened = open_text(Path(path))
    layout = layout or recognise(opened)
    from dooryard.weather.readers import plain

    return plain.read(opened)


def recognise(opened: Opened) -> str:
    """Name of the layout a file is in. InputError that says what to write if it is none of ours."""
    from dooryard.weather.readers import plain

    first = next((line for line in opened.lines if line.strip() and not line.startswith("#")), "")
    if plain.is_header(first):
        return "plain"
    raise InputError(
        Problem(
            "This is no weather file that can be read.", plain.WRITE, opened.name, found=first.strip()[:60]
        )
    )
