"""Where the two services are, who is asking, and where answers and records are kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from dooryard import __version__
from dooryard.problem import InputError, Problem

DAILY_URL = "https://www.ncei.noaa.gov"
FORECAST_URL = "https://api.weather.gov"

LOOPBACK = ("localhost", "127.0.0.1", "::1")


@dataclass(frozen=True, slots=True)
class Settings:
    """Settings of fetching, each with its default.

    daily_url, forecast_url : base addresses of NOAA's data service and of the Weather Service. contact : a mail
    or web address the services may write to, sent with every question. shelf : folder of the station shelf.
    cache : folder of kept answers.
    """

    shelf: Path
    cache: Path
    daily_url: str = DAILY_URL
    forecast_url: str = FORECAST_URL
    contact: str = ""

    @property
    def agent(self) -> str:
        """Who we say we are: the program, its version, and the contact if one is set."""
        return f"dooryard/{__version__} ({self.contact or 'one garden, a few questions a day'})"


def from_environment(environ: Mapping[str, str]) -> Settings:
    """Settings with what the environment says instead of the defaults.

    DOORYARD_DAILY_URL, DOORYARD_FORECAST_URL, DOORYARD_CONTACT, DOORYARD_SHELF, DOORYARD_CACHE. InputError if an
    address is not https (http is allowed to this very computer) or a contact would break the header it goes into.
    """
    problems = []
    addresses = {}
    for name, default in (("DOORYARD_DAILY_URL", DAILY_URL), ("DOORYARD_FORECAST_URL", FORECAST_URL)):
        address = environ.get(name, "").strip().rstrip("/") or default
        if not _is_service(address):
            what = "This address is not one of a secure service."
            problems.append(Problem(what, f"Write it as {default}.", field=name, found=address))
        addresses[name] = address
    contact = environ.get("DOORYARD_CONTACT", "").strip()
    if not contact.isascii() or not contact.isprintable() or set(contact) & set("()"):
        what = "This contact cannot be sent."
        problems.append(Problem(what, "Write one mail address.", field="DOORYARD_CONTACT", found=contact))
    if problems:
        raise InputError(problems)
    return Settings(
        shelf=shelf_folder(environ),
        cache=_folder(environ, "DOORYARD_CACHE", "cache"),
        daily_url=addresses["DOORYARD_DAILY_URL"],
        forecast_url=addresses["DOORYARD_FORECAST_URL"],
        contact=contact,
    )


def _is_service(address: str) -> bool:
    """True for a base address that is https, or http on this very computer, with nothing behind its path."""
    try:
        parts = urlsplit(address)
        secure = parts.scheme == "https" or (parts.scheme == "http" and parts.hostname in LOOPBACK)
        # Asking for the port is what finds out that it is none.
        return secure and bool(parts.hostname) and parts.port != 0 and not parts.query and not parts.fragment
    except ValueError:
        return False


def shelf_folder(environ: Mapping[str, str]) -> Path:
    """The folder of the station shelf: DOORYARD_SHELF, else this system's place for a program's data."""
    return _folder(environ, "DOORYARD_SHELF", "shelf")


def _folder(environ: Mapping[str, str], name: str, kind: str) -> Path:
    said = environ.get(name, "").strip()
    if said:
        try:
            return Path(said).expanduser()
        except RuntimeError:
            what = "This folder begins with the home of somebody who is not known here."
            raise InputError(Problem(what, "Write the whole path.", field=name, found=said)) from None
    import platformdirs

    if kind == "cache":
        return platformdirs.user_cache_path("dooryard", appauthor=False) / "answers"
    return platformdirs.user_data_path("dooryard", appauthor=False) / "shelf"
