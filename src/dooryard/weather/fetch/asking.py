"""Asking a service politely: who we are, a short patience, pauses that grow, and no more than it has asked for."""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from email.utils import parsedate_to_datetime
from functools import lru_cache
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from dooryard.weather.fetch.limits import FetchLimits
from dooryard.weather.fetch.settings import LOOPBACK

if TYPE_CHECKING:
    import ssl

    import httpx2

_TRY_AGAIN = frozenset({408, 425, 429, 500, 502, 503, 504})
_MOVED = frozenset({301, 302, 303, 307, 308})
_HOPS = 3


class UnansweredError(Exception):
    """A service gave no usable answer. The text is a sentence for a person, with a full stop."""


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer as it came: status (200, 304 or one that says no), header lines in lower case, the whole body."""

    status: int
    headers: Mapping[str, str]
    body: bytes


class _AgainError(Exception):
    """This attempt failed in a way that may pass. pause_s : what the service asked for, None if nothing."""

    def __init__(self, reason: str, pause_s: float | None = None) -> None:
        super().__init__(reason)
        self.pause_s = pause_s


@dataclass(slots=True)
class Asker:
    """Asks one question at a time, each a few times at most.

    agent : who we are. limits : patience. now : the time, for pauses given as a date. tell : takes a line for the
    person who waits. sleep, chance : time.sleep and random.random, or a test's own.
    """

    agent: str
    limits: FetchLimits
    now: datetime
    tell: Callable[[str], None] = lambda _line: None
    sleep: Callable[[float], None] = time.sleep
    chance: Callable[[], float] = random.random
    asked: int = field(default=0)

    def ask(self, url: str, *, accept: str, conditions: Mapping[str, str] | None = None) -> Reply:
        """The reply to a GET. conditions : headers such as If-None-Match.

        UnansweredError if the service cannot be reached, breaks off, stays silent, is too busy or has moved.
        """
        headers = {"User-Agent": self.agent, "Accept": accept, **(conditions or {})}
        attempts = int(self.limits.attempts)
        for attempt in range(1, attempts + 1):
            try:
                return self._once(url, headers)
            except _AgainError as failed:
                if attempt == attempts:
                    raise UnansweredError(f"{failed} It was asked {attempts} times.") from failed
                pause_s = self._pause(attempt, failed)
                self.tell(f"{failed} Asking again in {pause_s:.0f} s ({attempt + 1} of {attempts}).")
                self.sleep(pause_s)
        raise AssertionError("no attempt was made")

    def _pause(self, attempt: int, failed: _AgainError) -> float:
        if failed.pause_s is not None:
            if failed.pause_s > self.limits.longest_pause_s:
                raise UnansweredError(f"{failed} It asks for a pause of {_long(failed.pause_s)}.") from failed
            return failed.pause_s
        doubled = min(self.limits.first_pause_s * 2.0 ** (attempt - 1), self.limits.longest_pause_s)
        # Half of it by chance, so that many yards that failed together do not ask together again.
        return doubled * (0.5 + 0.5 * self.chance())

    def _once(self, url: str, headers: Mapping[str, str]) -> Reply:
        host = urlsplit(url).hostname or ""
        for _hop in range(_HOPS + 1):
            reply = self._transfer(url, headers, host)
            if reply.status in _MOVED:
                url = _moved(url, reply.headers.get("location", ""))
                continue
            if reply.status in _TRY_AGAIN:
                raise _AgainError(_busy(host, reply.status), self._wished(reply))
            return reply
        raise UnansweredError(f"{host} sent us from one address to the next without end.")

    def _transfer(self, url: str, headers: Mapping[str, str], host: str) -> Reply:
        import httpx2

        self.asked += 1
        timeout = httpx2.Timeout(self.limits.silence_s, connect=self.limits.connect_s)
        # A proxy has no business between this computer and itself.
        own = host in LOOPBACK
        certificates = _trusted() if url.startswith("https:") else False
        with httpx2.Client(timeout=timeout, trust_env=not own, verify=certificates) as client:
            try:
                with client.stream("GET", url, headers=dict(headers)) as response:
                    return self._whole(response, host)
            except httpx2.ConnectError as error:
                raise _AgainError(f"{host} cannot be reached; is there a network?") from error
            except httpx2.TimeoutException as error:
                raise _AgainError(f"{host} kept us waiting too long.") from error
            except (httpx2.TransportError, httpx2.DecodingError) as error:
                raise _AgainError(f"{host} broke off in the middle of its answer.") from error
            except httpx2.InvalidURL as error:
                raise UnansweredError(f"{url[:80]} is no address.") from error

    def _whole(self, response: httpx2.Response, host: str) -> Reply:
        """The body to its last byte, within the limits of size and time."""
        until = time.monotonic() + self.limits.answer_s
        pieces, size = [], 0
        # Pieces as they arrive: asked for in one size, a dripping answer would never come up for the clock.
        for piece in response.iter_bytes():
            pieces.append(piece)
            size += len(piece)
            if size > self.limits.largest_answer_mb * 1e6:
                raise UnansweredError(f"{host} sent more than {self.limits.largest_answer_mb:.0f} MB.")
            if time.monotonic() > until:
                raise _AgainError(f"{host} kept us waiting too long.")
        lines = {name.lower(): value for name, value in response.headers.items()}
        return Reply(response.status_code, lines, b"".join(pieces))

    def _wished(self, reply: Reply) -> float | None:
        """The pause a service asks for [s]: a number of seconds or a date; its usual one if it names none."""
        said = reply.headers.get("retry-after", "").strip()
        if said.isascii() and said.isdigit():
            # More digits than these are no time anybody could wait: any long pause is the same to us.
            return float(said[:12])
        try:
            return max(0.0, (parsedate_to_datetime(said) - self.now).total_seconds())
        except (ValueError, TypeError, OverflowError):
            return self.limits.rate_pause_s if reply.status == 429 else None


@lru_cache(maxsize=1)
def _trusted() -> ssl.SSLContext:
    """This computer's certificates, read once: it takes longer than many an answer."""
    import httpx2

    return httpx2.create_ssl_context()


def _busy(host: str, status: int) -> str:
    if status == 429:
        return f"{host} has had too many questions."
    return f"{host} is out of order or too busy (answer {status})."


def _moved(url: str, location: str) -> str:
    """The address a service sends us on to, if it is the service itself: no other is ever asked."""
    from urllib.parse import urljoin

    old = urlsplit(url)
    try:
        target = urljoin(url, location)
        new = urlsplit(target)
    except ValueError:
        target = location = ""
        new = urlsplit("")
    if not location or (old.scheme, old.netloc) != (new.scheme, new.netloc):
        elsewhere = (location and new.netloc[:80]) or "an address that is none"
        raise UnansweredError(f"{old.hostname} sends us on to {elsewhere}, which was not followed.")
    return target


def _long(pause_s: float) -> str:
    """A pause too long to wait for, in words: beyond a day the number says nothing more."""
    if pause_s > 86_400:
        return "more than a day"
    return f"{max(1, round(pause_s / 60))} min"
