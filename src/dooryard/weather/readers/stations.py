"""Who measured, from the columns STATION, NAME, LATITUDE, LONGITUDE and ELEVATION of NOAA's files."""

from __future__ import annotations

from dooryard.weather.opening import Faults
from dooryard.weather.packed import Packed
from dooryard.weather.readers.plain import Table
from dooryard.weather.record import Station


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
        instead = f"Keep the lines of one, or name it, such as --station {stations[0]}."
        faults.add(what, instead, name="STATION")

    def text(name: str) -> str:
        if name not in names or not len(table.lines):
            return ""
        return table.cells[names.index(name)][0].strip()

    def number(name: str) -> float | None:
        try:
            return float(text(name)) if text(name) else None
        except ValueError:
            faults.add("This is no number.", "Write degrees or metres.", name=name, found=text(name))
            return None

    identifier = stations[0] if stations else ""
    return Station(
        name=text("NAME") or identifier or table.comments.get("station", ""),
        id=identifier,
        latitude=number("LATITUDE"),
        longitude=number("LONGITUDE"),
        elevation_m=number("ELEVATION"),
    )
