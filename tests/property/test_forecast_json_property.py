"""Whatever a service sends, a forecast is read or refused in words; nothing else happens."""

import copy
import json

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dooryard.problem import InputError
from dooryard.weather import forecast

GRID = {
    "geometry": {"type": "Polygon", "coordinates": [[[-90.0, 35.0], [-89.9, 35.0], [-90.0, 35.1]]]},
    "properties": {
        "updateTime": "2031-05-20T04:15:00+00:00",
        "timeZone": "America/Chicago",
        "temperature": {
            "uom": "wmoUnit:degC",
            "values": [
                {"validTime": "2031-05-20T06:00:00+00:00/P1D", "value": 12},
                {"validTime": "2031-05-21T06:00:00+00:00/P1D", "value": 20},
            ],
        },
        "quantitativePrecipitation": {
            "uom": "wmoUnit:mm",
            "values": [{"validTime": "2031-05-20T06:00:00+00:00/P1D", "value": 4}],
        },
    },
}
PERIODS = {
    "properties": {
        "updateTime": "2031-05-20T04:15:00+00:00",
        "periods": [
            {
                "startTime": "2031-05-20T06:00:00-05:00",
                "endTime": "2031-05-20T18:00:00-05:00",
                "isDaytime": True,
                "temperature": 77,
                "temperatureUnit": "F",
                "probabilityOfPrecipitation": {"unitCode": "wmoUnit:percent", "value": 20},
                "windSpeed": "5 to 10 mph",
            },
            {
                "startTime": "2031-05-20T18:00:00-05:00",
                "endTime": "2031-05-21T06:00:00-05:00",
                "isDaytime": False,
                "temperature": {"unitCode": "wmoUnit:degC", "value": 12},
                "windSpeed": {"unitCode": "wmoUnit:km_h-1", "minValue": 3, "maxValue": 8},
            },
        ],
    }
}

anything = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**20), 10**20)
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(
        [
            "2031-05-20T06:00:00+00:00/PT1H",
            "9999-12-31T23:00:00+00:00/P9D",
            "0001-01-01T00:00:00+14:00",
            "P1D",
            "wmoUnit:mm",
        ]
    ),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)


def places(tree, above=()):
    """The way to every node below a JSON tree."""
    children = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    for key, child in children:
        yield (*above, key)
        yield from places(child, (*above, key))


@pytest.mark.parametrize("whole", [GRID, PERIODS], ids=["grid", "periods"])
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=200)
@given(data=st.data())
def test_forecast_with_one_node_changed_is_read_or_refused(tmp_path, whole, data):
    changed = copy.deepcopy(whole)
    way = data.draw(st.sampled_from(list(places(whole))))
    node = changed
    for key in way[:-1]:
        node = node[key]
    node[way[-1]] = data.draw(anything)
    path = tmp_path / "forecast.json"
    path.write_text(json.dumps(changed), encoding="utf-8")
    try:
        found = forecast.read(path)
    except InputError:
        return
    assert len(found.dates) == len(found.t_min_c) == len(found.rain_mm)
    assert (np.diff(found.dates).astype(int) == 1).all()
    assert not (found.t_min_c > found.t_max_c + 1e-6).any()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=60)
@given(cut=st.integers(1, len(json.dumps(GRID)) - 1))
def test_forecast_sent_by_half_is_refused(tmp_path, cut):
    path = tmp_path / "half.json"
    path.write_text(json.dumps(GRID)[:cut], encoding="utf-8")
    with pytest.raises(InputError):
        forecast.read(path)
