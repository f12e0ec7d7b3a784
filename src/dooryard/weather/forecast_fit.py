"""Whether a forecast is for this place and for these days: what speaks against using it, in sentences."""

from __future__ import annotations

from datetime import date

from dooryard.unit_table import System
from dooryard.weather.distance import great_circle_km
from dooryard.weather.forecast import Forecast

_KM_A_MILE = 1.609344


def against(
    forecast: Forecast, latitude: float, longitude: float, on: date, system: System
) -> tuple[str, ...]:
    """What speaks against using a forecast at a place [degree] on a day; nothing if it fits.

    It was made for a place too far away (fact `shelf.far_km`), or longer ago than `weather.forecast.stale_d`.
    """
    from dooryard import knowledge
    from dooryard.weather.shelf_limits import limits

    said = []
    if forecast.place is not None:
        away_km = great_circle_km(*forecast.place, latitude, longitude)
        if away_km > limits().far_km:
            away = f"{away_km / _KM_A_MILE:,.0f} miles" if system == "us" else f"{away_km:,.0f} km"
            said.append(f"The forecast was made for a place {away} away: fetch the one for this place.")
    if forecast.issued is not None:
        old_d = (on - forecast.issued).days
        if old_d > knowledge.load().fact("weather.forecast.stale_d").value:
            said.append(
                f"The forecast was made on {forecast.issued}, {old_d} days before {on}: fetch a new one."
            )
    return tuple(said)
