"""Who measured, from the columns STATION, NAME, LATITUDE, LONGITUDE and ELEVATION of NOAA's files."""

from __future__ import annotations

from math import isfinite, nan

from dooryard.weather.opening import Faults
from dooryard.weather.packed import Packed
from dooryard.weather.readers.plain import Table
from dooryard.weather.record import Station

NOT_KNOWN = -999.0
"""The archives write -999 or -999.9 for a place or a height that is not known."""


def one_station(table: Table, names: list[str], faults: Faults) -> Station:
    """The station of a file. Told to `faults`: several stations, and places that are no numbers.

    names : the header in capitals. A file without the column STATION is one station without an identifier.
    """
    stations: list[str] = []
    if "STATION" in names:
        cells = table.cells[names.index("STATION")]
        alike = isinstance(cells, Packed) and cells.all_alike()
        stations = [cells[0].strip()] if alike else sorted({cell.strip() for cell in cells})
    if len(stations) > 1:
        what = f"The file mixes {len(stations)} stations ({', '.join(stations[:5])})."
        instead = f'Put one on the shelf: "dooryard weather shelf add {faults.file} --station {stations[0]}".'
        faults.add(what, instead, name="STATION")

    def text(name: str) -> str:
        if name not in names or not len(table.lines):
            return ""
        return table.cells[names.index(name)][0].strip()

    def number(name: str, most: float) -> float | None:
        try:
            found = float(text(name)) if text(name) else None
            if found is not None and found <= NOT_KNOWN:
                return None
        except ValueError:
            found = nan
        if found is not None and not isfinite(found):
            faults.add("This is no number.", "Write degrees or metres.", name=name, found=text(name))
        elif found is not None and abs(found) > most:
            faults.add(
                "There is no such place on Earth.", "Write degrees or metres.", name=name, found=text(name)
            )
        return found

    identifier = stations[0] if stations else ""
    return Station(
        name=text("NAME") or identifier or table.comments.get("station", ""),
        id=identifier,
        latitude=number("LATITUDE", 90.0),
        longitude=number("LONGITUDE", 180.0),
        elevation_m=number("ELEVATION", 9000.0),
    )
