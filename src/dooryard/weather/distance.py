"""How far apart two places are."""

from __future__ import annotations

from math import asin, cos, radians, sin, sqrt

EARTH_RADIUS_KM = 6371.0


def great_circle_km(
    latitude: float, longitude: float, other_latitude: float, other_longitude: float
) -> float:
    """Distance over the globe between two places given in degrees [km], by the haversine formula."""
    north, south = radians(latitude), radians(other_latitude)
    half_lat, half_lon = (south - north) / 2, radians(other_longitude - longitude) / 2
    chord = sin(half_lat) ** 2 + cos(north) * cos(south) * sin(half_lon) ** 2
    return 2 * EARTH_RADIUS_KM * asin(min(1.0, sqrt(chord)))
