"""A record written as a plain file and read again: measured values to the last bit, flags and gaps kept."""

from datetime import date

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from dooryard import weather
from dooryard.weather import plain_text, quality
from dooryard.weather.conversion import UNITS
from dooryard.weather.record import Flag, Source, Station, on_calendar

RANGES = {
    "t_min_c": (-40, 0), "t_max_c": (1, 45), "rain_mm": (0, 200), "dew_point_c": (-30, 25), "wind_m_s": (0, 30),
}  # fmt: skip
STATES = [Flag.OBSERVED] * 4 + [Flag.ESTIMATED, Flag.SUSPECT, Flag.MISSING]
RAIN_STATES = [*STATES, Flag.TRACE, Flag.ACCUMULATED]


@st.composite
def records(draw):
    """Some days in any unit the layout knows, at the decimals stations note them with, or raw floats."""
    days = draw(st.integers(1, 25))
    values, flags = {}, {}
    for element in draw(st.lists(st.sampled_from(list(RANGES)), min_size=1, unique=True)):
        conversion = UNITS[element][draw(st.sampled_from(list(UNITS[element])))]
        decimals = draw(st.integers(0, 2) | st.none())
        # Fahrenheit of the coldest lowest temperature to that of the warmest, and so for each.
        low, high = (
            bound * conversion.divide / conversion.multiply + conversion.subtract for bound in RANGES[element]
        )
        cells = np.array(draw(st.lists(st.floats(low, high), min_size=days, max_size=days)))
        cells = cells if decimals is None else np.round(cells, decimals)
        states = RAIN_STATES if element == "rain_mm" else STATES
        codes = np.array(
            draw(st.lists(st.sampled_from(states), min_size=days, max_size=days)), dtype=np.uint8
        )
        column = conversion.apply(cells)
        column[np.isin(codes, [Flag.SUSPECT, Flag.MISSING, Flag.ACCUMULATED])] = np.nan
        column[codes == Flag.TRACE] = 0.0
        values[element], flags[element] = np.clip(column, *RANGES[element]), codes
    first = draw(st.dates(date(1850, 1, 1), date(2150, 1, 1)))
    place = draw(st.tuples(st.floats(-90, 90), st.floats(-180, 180), st.integers(-100, 4000).map(float)))
    station = Station("North Farm, hill", "QC-09", *(round(number, 6) for number in place))
    dates = np.datetime64(first, "D") + np.arange(days)
    return on_calendar(station, dates, values, flags, (), Source("a.csv", "made here"))


@given(record=records())
def test_record_written_and_read_again_is_the_same(record, tmp_path_factory):
    # A record as it stands in memory has been examined: what jumps or stands still is gone already.
    record = quality.examine(record)
    path = tmp_path_factory.mktemp("text") / "a.csv"
    path.write_text(plain_text.render(record, [("made from", "a test: nothing else")]), encoding="utf-8")
    again = weather.read(path)
    assert again.station == record.station
    assert np.array_equal(again.dates, record.dates)
    assert again.elements == record.elements
    for element in record.elements:
        flags = record.flags[element]
        assert again.flags[element].tolist() == flags.tolist(), element
        measured = flags != Flag.ESTIMATED
        assert np.array_equal(
            again.element(element)[measured], record.element(element)[measured], equal_nan=True
        ), element
        step = max(conversion.multiply / conversion.divide for conversion in UNITS[element].values())
        room = 0.0051 * 25.4 if element == "rain_mm" else 0.051 * step
        np.testing.assert_allclose(again.element(element), record.element(element), atol=max(room, 0.051))
