"""A small server that speaks the interfaces of the two weather services, with every way an answer can go wrong.

It checks questions as strictly as the services' documentation says, keeps a log of what it was asked, and can be
told to spoil its next answers.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qs, urlsplit

Cells = dict[str, str]


@dataclass
class Made:
    """A station of the archive: its place, and the cells of each day (element and element_ATTRIBUTES)."""

    name: str
    latitude: float
    longitude: float
    elevation_m: float
    days: dict[date, Cells] = field(default_factory=dict)


@dataclass
class Asked:
    """One question as it arrived."""

    path: str
    query: dict[str, str]
    headers: dict[str, str]


Spoiler = Callable[["Handler"], None]


@dataclass
class Service:
    """What the server knows and does. spoil : how the next answers go wrong, one entry an answer; None is right."""

    url: str = ""
    stations: dict[str, Made] = field(default_factory=dict)
    points: dict[str, dict[str, Any]] = field(default_factory=dict)
    grids: dict[str, dict[str, Any]] = field(default_factory=dict)
    headers: dict[str, str] = field(default_factory=dict)
    spoil: list[Spoiler | None] = field(default_factory=list)
    spoil_all: Spoiler | None = None
    asked: list[Asked] = field(default_factory=list)
    let_go: threading.Event = field(default_factory=threading.Event)


@contextmanager
def running() -> Iterator[Service]:
    """A service on this computer, stopped when the test is done with it."""
    service = Service()
    server = ThreadingHTTPServer(("127.0.0.1", 0), type("Bound", (Handler,), {"service": service}))
    server.daemon_threads = True
    service.url = f"http://127.0.0.1:{server.server_address[1]}"
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
    thread.start()
    try:
        yield service
    finally:
        service.let_go.set()
        server.shutdown()
        server.server_close()
        thread.join()


class Handler(BaseHTTPRequestHandler):
    """Answers one question."""

    service: Service
    protocol_version = "HTTP/1.1"

    def log_message(self, *args: object) -> None:
        """Nothing is printed."""

    def do_GET(self) -> None:
        """Log the question, spoil the answer if told to, else answer."""
        parts = urlsplit(self.path)
        query = {name: values[-1] for name, values in parse_qs(parts.query).items()}
        headers = {name.lower(): value for name, value in self.headers.items()}
        self.service.asked.append(Asked(parts.path, query, headers))
        spoiler = self.service.spoil.pop(0) if self.service.spoil else self.service.spoil_all
        if spoiler is not None:
            spoiler(self)
            return
        status, kind, body = self.right_answer(parts.path, query)
        self.send(status, kind, body)

    def right_answer(self, path: str, query: dict[str, str]) -> tuple[int, str, bytes]:
        """Status, media type and body as the documented interface has them."""
        if path == "/access/services/data/v1":
            return _data(self.service, query)
        if path.startswith("/points/"):
            return _json(self.service.points.get(path.removeprefix("/points/")))
        if path.startswith("/gridpoints/"):
            return _json(self.service.grids.get(path.removeprefix("/gridpoints/")))
        return _json(None)

    def send(self, status: int, kind: str, body: bytes, extra: dict[str, str] | None = None) -> None:
        """A whole answer, or 304 if the asker has it already."""
        headers = {**self.service.headers, **(extra or {})}
        if status == 200 and headers.get("ETag") and self.headers.get("If-None-Match") == headers["ETag"]:
            status, body = 304, b""
        self.send_response(status)
        for name, value in headers.items():
            self.send_header(name, value)
        if status != 304:
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)


def status(code: int, extra: dict[str, str] | None = None, body: bytes = b"") -> Spoiler:
    """An answer with this status and nothing of use."""
    return lambda handler: handler.send(code, "application/problem+json", body, extra)


def body(content: bytes, kind: str = "text/html") -> Spoiler:
    """A whole answer, but not the one the interface promises."""
    return lambda handler: handler.send(200, kind, content)


def changed(change: Callable[[bytes], bytes]) -> Spoiler:
    """The right answer, its body changed."""

    def spoil(handler: Handler) -> None:
        parts = urlsplit(handler.path)
        query = {name: values[-1] for name, values in parse_qs(parts.query).items()}
        code, kind, content = handler.right_answer(parts.path, query)
        handler.send(code, kind, change(content))

    return spoil


def half_sent(handler: Handler) -> None:
    """The connection ends in the middle of the body that was announced."""
    parts = urlsplit(handler.path)
    query = {name: values[-1] for name, values in parse_qs(parts.query).items()}
    _, kind, content = handler.right_answer(parts.path, query)
    handler.send_response(200)
    handler.send_header("Content-Type", kind)
    handler.send_header("Content-Length", str(len(content)))
    handler.end_headers()
    handler.wfile.write(content[: len(content) // 2])
    handler.wfile.flush()
    handler.close_connection = True


def half_a_chunk(handler: Handler) -> None:
    """The connection ends in the middle of a chunk."""
    handler.send_response(200)
    handler.send_header("Content-Type", "text/csv")
    handler.send_header("Transfer-Encoding", "chunked")
    handler.end_headers()
    handler.wfile.write(b'100\r\n"STATION","DATE"\r\n')
    handler.wfile.flush()
    handler.close_connection = True


def hung_up(handler: Handler) -> None:
    """The connection ends without a word."""
    handler.close_connection = True


def silent(handler: Handler) -> None:
    """Not a word until the test is over."""
    handler.service.let_go.wait(30)
    handler.close_connection = True


def dripping(handler: Handler) -> None:
    """A byte now and then, without end."""
    handler.send_response(200)
    handler.send_header("Content-Type", "text/csv")
    handler.send_header("Content-Length", "100000000")
    handler.end_headers()
    handler.close_connection = True
    try:
        while not handler.service.let_go.wait(0.02):
            handler.wfile.write(b"x")
            handler.wfile.flush()
    except OSError:
        return


def endless(handler: Handler) -> None:
    """As many bytes as the line carries, without end."""
    handler.send_response(200)
    handler.send_header("Content-Type", "text/csv")
    handler.end_headers()
    handler.close_connection = True
    try:
        while not handler.service.let_go.is_set():
            handler.wfile.write(b"x" * 65536)
    except OSError:
        return


def _json(found: dict[str, Any] | None) -> tuple[int, str, bytes]:
    if found is None:
        problem = {
            "title": "Data Unavailable For Requested Point",
            "type": "about:blank",
            "status": 404,
            "detail": "Unable to provide data for requested point",
        }
        return 404, "application/problem+json", json.dumps(problem).encode()
    return 200, "application/geo+json", json.dumps(found).encode()


def _data(service: Service, query: dict[str, str]) -> tuple[int, str, bytes]:
    """Daily summaries of one or more stations, or of a box, as CSV with quoted and padded cells."""
    errors = []
    if query.get("dataset") != "daily-summaries":
        errors.append(
            {"field": "dataset", "message": "An invalid dataset was given", "value": query.get("dataset")}
        )
    if query.get("format") != "csv":
        errors.append(
            {"field": "format", "message": "An invalid format was given", "value": query.get("format")}
        )
    if "stations" not in query and "boundingBox" not in query:
        errors.append(
            {"field": "stations", "message": "Stations or a bounding box are required", "value": None}
        )
    try:
        first, last = (date.fromisoformat(query[name]) for name in ("startDate", "endDate"))
    except (KeyError, ValueError):
        errors.append(
            {"field": "startDate", "message": "Dates must be ISO 8601", "value": query.get("startDate")}
        )
        first = last = date.min
    if errors:
        refusal = {"errorMessage": "Bad Request", "errorCode": 400, "errors": errors}
        return 400, "application/json", json.dumps(refusal).encode()
    elements = query.get("dataTypes", "").split(",")
    marks = query.get("includeAttributes") == "true"
    chosen = {name: made for name, made in service.stations.items() if _wanted(name, made, query)}
    held = [
        element
        for element in elements
        if any(
            element in cells
            for made in chosen.values()
            for day, cells in made.days.items()
            if first <= day <= last
        )
    ]
    header = ["STATION", "DATE", "LATITUDE", "LONGITUDE", "ELEVATION", "NAME"]
    header += [column for name in held for column in ((name, f"{name}_ATTRIBUTES") if marks else (name,))]
    lines = [",".join(f'"{name}"' for name in header)]
    for name, made in chosen.items():
        about = [name, "", str(made.latitude), str(made.longitude), str(made.elevation_m), made.name]
        for day in sorted(made.days):
            if first <= day <= last:
                about[1] = day.isoformat()
                cells = [_padded(made.days[day].get(column, "")) for column in header[6:]]
                lines.append(",".join(f'"{cell}"' for cell in (*about, *cells)))
    return 200, "text/csv", ("\n".join(lines) + "\n").encode()


def _wanted(name: str, made: Made, query: dict[str, str]) -> bool:
    if "stations" in query:
        return name in query["stations"].split(",")
    north, west, south, east = (float(edge) for edge in query["boundingBox"].split(","))
    return south <= made.latitude <= north and west <= made.longitude <= east


def _padded(cell: str) -> str:
    return cell if "," in cell else cell.rjust(6) if cell else ""


def made_days(first: date, count: int, *, seed: int = 7) -> dict[date, Cells]:
    """Days of plausible metric weather: a warm and a cold season, rain on about a third of the days, some traces."""
    import numpy as np

    rng = np.random.default_rng(seed)
    days = {}
    for step in range(count):
        day = first + timedelta(days=step)
        season = -np.cos(2 * np.pi * (day.timetuple().tm_yday - 15) / 365.25)
        low = round(8 + 11 * season + rng.normal(0, 3), 1)
        wet = rng.random() < 0.33
        rain = round(float(rng.gamma(0.8, 10.0)), 1) if wet else 0.0
        trace = not wet and rng.random() < 0.1
        days[day] = {
            "PRCP": f"{rain:.1f}",
            "PRCP_ATTRIBUTES": "T,,W,2400" if trace else ",,W,2400",
            "TMAX": f"{low + abs(rng.normal(10, 2)) + 0.1:.1f}",
            "TMAX_ATTRIBUTES": ",,W",
            "TMIN": f"{low:.1f}",
            "TMIN_ATTRIBUTES": ",,W",
        }
    return days
