"""Bringing weather from two public services: NOAA's daily records and the US National Weather Service's forecast.

`daily.py` and `forecast.py` know what each service says and how; `stations.py` looks for stations near a place.
All three go through `obtaining.py`: a kept answer if it is fresh (`answers.py`), else a question (`asking.py`),
else an old answer with its age, else a plain sentence on how to bring the file by hand. Nothing else on the
network is ever asked. No clock is read here: "now" is an argument.
"""

from dooryard.weather.fetch.settings import Settings

__all__ = ["Settings"]
