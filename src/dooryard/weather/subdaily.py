"""Sub-daily files in, hours or intervals out; which layout a file is in is seen by looking into it."""

from __future__ import annotations

from pathlib import Path

from dooryard.problem import InputError, Problem, nearest
from dooryard.weather.gauge import GaugeRecord
from dooryard.weather.hourly import HourlyRecord, from_gauge
from dooryard.weather.opening import Opened, open_text
from dooryard.weather.record import WeatherRecord

HOURLY_LAYOUTS = ("hourly", "tmy3", "nerrs")
GAUGE_LAYOUTS = ("notebook", "usgs-gauge", "minute-of-day", "nerrs")
LAYOUTS = tuple(dict.fromkeys((*HOURLY_LAYOUTS, *GAUGE_LAYOUTS)))

# A notebook has no header, so it is what is left.
_IN_ORDER = ("tmy3", "nerrs", "usgs-gauge", "minute-of-day", "hourly", "notebook")

_WRITE = "Write a header such as time,temp_F,rain_in, or a notebook with lines such as May 3 0.40."


def read_hourly(
    path: Path | str, layout: str | None = None, *, station: str | None = None, clock: str | None = None
) -> HourlyRecord:
    """The hours in a file, checked for plausibility; a gauge's intervals are added up to hours.

    layout : one of `LAYOUTS`, to overrule what the file looks like. station : which one, if the file holds
    several. clock : "America/New_York", "UTC-5" and the like, to overrule what the file says. InputError if the
    file cannot be read, listing every fault with its line.
    """
    from dooryard.weather import subdaily_quality

    opened = open_text(Path(path))
    layout = _layout(layout, opened)
    if layout in HOURLY_LAYOUTS:
        return subdaily_quality.examine_hours(_hours(layout, opened, station, clock))
    if layout == "notebook":
        what = "A notebook has days of rain, no hours."
        raise InputError(Problem(what, "Read it as a daily record.", opened.name))
    return from_gauge(subdaily_quality.examine_gauge(_intervals(layout, opened, station, clock)))


def read_gauge(
    path: Path | str, layout: str | None = None, *, station: str | None = None, clock: str | None = None
) -> GaugeRecord:
    """The intervals of rain in a file, checked for plausibility; hours are intervals of an hour.

    The arguments are those of `read_hourly`. InputError if the file cannot be read, or has no rain.
    """
    from dooryard.weather import subdaily_quality

    opened = open_text(Path(path))
    layout = _layout(layout, opened)
    if layout in GAUGE_LAYOUTS:
        return subdaily_quality.examine_gauge(_intervals(layout, opened, station, clock))
    hours = subdaily_quality.examine_hours(_hours(layout, opened, station, clock))
    if hours.rain_mm is None:
        raise InputError(Problem("There is no rain in this file.", "Give one with rain.", opened.name))
    return hours.gauge()


def read_daily(opened: Opened, layout: str, *, station: str | None = None) -> WeatherRecord:
    """The days of an opened sub-daily file in a layout out of `LAYOUTS`. InputError as in `read_hourly`."""
    from dooryard.weather import subdaily_quality

    _check(layout, opened)
    if layout in HOURLY_LAYOUTS:
        return subdaily_quality.examine_hours(_hours(layout, opened, station, None)).to_daily()
    return subdaily_quality.examine_gauge(_intervals(layout, opened, station, None)).to_daily()


def recognise(opened: Opened) -> str | None:
    """Name of the sub-daily layout a file is in, None if it is in none of them."""
    return next((layout for layout in _IN_ORDER if _fits(layout, opened)), None)


def _fits(layout: str, opened: Opened) -> bool:
    """True if a file looks like a layout, whatever may be wrong further down in it."""
    from dooryard.weather.readers import gauge_usgs, hourly_airport, minute_of_day, nerrs, notebook, tmy3

    head = opened.head()
    if layout == "tmy3":
        return len(head) > 1 and tmy3.is_header(head[1])
    if layout == "notebook":
        return notebook.looks_like(opened)
    header = {
        "nerrs": nerrs.is_header,
        "usgs-gauge": gauge_usgs.is_header,
        "minute-of-day": minute_of_day.is_header,
        "hourly": hourly_airport.is_header,
    }
    return header[layout](_first(opened))


def _layout(said: str | None, opened: Opened) -> str:
    if said is not None and said not in LAYOUTS:
        instead = nearest(said, LAYOUTS) or f"Write one of {', '.join(LAYOUTS)}."
        raise InputError(Problem("This layout is not known.", instead, field="layout", found=said))
    layout = said or recognise(opened)
    if layout is None:
        what = "This is no sub-daily file in a layout that can be read."
        raise InputError(Problem(what, _WRITE, opened.name, found=_first(opened)[:60]))
    _check(layout, opened)
    return layout


def _check(layout: str, opened: Opened) -> None:
    """A notebook that was called one is read however odd its first lines are; a table needs its header."""
    if layout != "notebook" and not _fits(layout, opened):
        what = f'This file has no header of the layout "{layout}".'
        instead = "Leave the layout out, or name the right one."
        raise InputError(Problem(what, instead, opened.name, found=_first(opened)[:60]))


def _first(opened: Opened) -> str:
    return next((line.strip() for line in opened.head() if line.strip() and not line.startswith("#")), "")


def _hours(layout: str, opened: Opened, station: str | None, clock: str | None) -> HourlyRecord:
    """Each reader is imported only when it is needed."""
    if layout == "hourly":
        from dooryard.weather.readers import hourly_airport

        return hourly_airport.read(opened, station=station, clock=clock)
    _refuse(opened, station=station, clock=clock)
    if layout == "tmy3":
        from dooryard.weather.readers import tmy3

        return tmy3.read(opened)
    from dooryard.weather.readers import nerrs

    return nerrs.read_hourly(opened)


def _intervals(layout: str, opened: Opened, station: str | None, clock: str | None) -> GaugeRecord:
    if layout == "usgs-gauge":
        from dooryard.weather.readers import gauge_usgs

        _refuse(opened, station=station)
        return gauge_usgs.read(opened, clock=clock)
    if layout == "minute-of-day":
        from dooryard.weather.readers import minute_of_day

        _refuse(opened, station=station)
        return minute_of_day.read(opened, clock=clock)
    _refuse(opened, station=station, clock=clock)
    if layout == "notebook":
        from dooryard.weather.readers import notebook

        return notebook.read(opened)
    from dooryard.weather.readers import nerrs

    return nerrs.read_gauge(opened)


def _refuse(opened: Opened, *, station: str | None = None, clock: str | None = None) -> None:
    """What a layout does not know is refused, not passed over."""
    for name, said in (("station", station), ("clock", clock)):
        if said is not None:
            problem = Problem(
                f"This layout has no choice of {name}.", "Leave it out.", opened.name, found=said
            )
            raise InputError(problem)
