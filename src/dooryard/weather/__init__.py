"""What the sky did and may do, at one station.

Here live the record (`record.py`), the readers of published layouts (`readers/`), the plausibility check
(`quality.py`), the forecast file (`forecast.py`), the outlook that continues a forecast with the station's
own years (`outlook.py`), and the weather generator (`generator.py`). Water and season live upstairs.
Start with `record.py`, then `file.py`.
"""

from dooryard.weather.file import read
from dooryard.weather.record import Flag, Issue, Source, Station, WeatherRecord

__all__ = ["Flag", "Issue", "Source", "Station", "WeatherRecord", "read"]
