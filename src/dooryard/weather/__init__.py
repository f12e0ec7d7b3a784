"""What the sky did and may do, at one station.

Here live the record (`record.py`), hours and gauge readings (`hourly.py`, `gauge.py`), the readers of published
layouts (`readers/`), the plausibility check (`quality.py`), the forecast file (`forecast.py`), the outlook that
continues a forecast with the station's own years (`outlook.py`), the generator fitted to a record (`invented/`)
and the simpler one behind the invented county (`generator.py`). Water and season live upstairs. Start with
`record.py`, then `file.py`.
"""

from typing import TYPE_CHECKING, Any

from dooryard.weather.file import read
from dooryard.weather.record import Flag, Issue, Source, Station, WeatherRecord

if TYPE_CHECKING:
    from dooryard.weather.subdaily import read_gauge, read_hourly

__all__ = ["Flag", "Issue", "Source", "Station", "WeatherRecord", "read", "read_gauge", "read_hourly"]


def __getattr__(name: str) -> Any:
    """The sub-daily readers, imported when they are asked for: a plan needs days only."""
    if name in ("read_gauge", "read_hourly"):
        from dooryard.weather import subdaily

        return getattr(subdaily, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
