"""A generator fitted to a station's own record: weather that could have been there, days, months and years.

Open `fitting.py` for how a record becomes parameters and `making.py` for how parameters become days. Behind them,
one part each: `curves.py` (the year as sines), `occurrence.py` (wet or dry, by how long it has been so),
`amounts.py` (rain of a wet day), `residuals.py` (temperatures, sunshine and dew point), `slow.py` (months and
years that are wetter or warmer as a whole). `likeness.py` holds the result against the record it came from.
`blocks.py` needs no parameters: it joins pieces of the record's own days.
The simpler generator with monthly parameters, one level down in `generator.py`, makes the invented county.
"""

from dooryard.weather.invented.fitting import fit
from dooryard.weather.invented.making import make
from dooryard.weather.invented.parameters import Parameters

__all__ = ["Parameters", "fit", "make"]
