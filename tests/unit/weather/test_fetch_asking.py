"""Asking politely: who we say we are, when we ask again, and when we stop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from dooryard.weather.fetch.asking import Asker, UnansweredError
from tests.fetch_desk import Notes, desk_for
from tests.weather_service import (
    Service,
    dripping,
    endless,
    half_a_chunk,
    half_sent,
    hung_up,
    running,
    silent,
    status,
)

POINT = {"properties": {"gridId": "TAE"}}


@pytest.fixture
def service() -> Iterator[Service]:
    with running() as found:
        found.points["30,-85"] = POINT
        yield found


@pytest.fixture
def notes() -> Notes:
    return Notes()


@pytest.fixture
def asker(service: Service, tmp_path: Path, notes: Notes) -> Asker:
    found = desk_for(service.url, tmp_path, notes).asker
    assert found is not None
    return found


def test_asking_says_who_we_are(service: Service, asker: Asker) -> None:
    reply = asker.ask(f"{service.url}/points/30,-85", accept="application/geo+json")
    assert reply.status == 200
    (asked,) = service.asked
    assert asked.headers["user-agent"].startswith("dooryard/")
    assert "(" in asked.headers["user-agent"]
    assert asked.headers["accept"] == "application/geo+json"


@pytest.mark.parametrize("code", [500, 502, 503, 504])
def test_asking_a_busy_service_again_after_growing_pauses(
    service: Service, asker: Asker, notes: Notes, code: int
) -> None:
    service.spoil = [status(code), status(code), status(code)]
    assert asker.ask(f"{service.url}/points/30,-85", accept="*/*").status == 200
    assert notes.pauses == [2.0, 4.0, 8.0]
    assert all(str(code) in line for line in notes.lines)


def test_asking_pauses_are_spread_by_chance(service: Service, tmp_path: Path, notes: Notes) -> None:
    asker = desk_for(service.url, tmp_path, notes, chance=0.0).asker
    assert asker is not None
    service.spoil = [status(503), status(503)]
    asker.ask(f"{service.url}/points/30,-85", accept="*/*")
    assert notes.pauses == [1.0, 2.0]


def test_asking_stops_after_four_times(service: Service, asker: Asker, notes: Notes) -> None:
    service.spoil_all = status(503)
    with pytest.raises(UnansweredError, match=r"out of order or too busy .*asked 4 times"):
        asker.ask(f"{service.url}/points/30,-85", accept="*/*")
    assert len(service.asked) == 4
    assert len(notes.pauses) == 3


@pytest.mark.parametrize(
    ("wished", "pause_s"),
    [
        ({"Retry-After": "7"}, 7.0),
        ({"Retry-After": "Tue, 10 Jun 2031 12:00:20 GMT"}, 20.0),
        ({"Retry-After": "Tue, 10 Jun 2031 11:00:00 GMT"}, 0.0),
        ({"Retry-After": "soon"}, 5.0),
        ({}, 5.0),
    ],
)
def test_asking_when_rate_limited_waits_as_long_as_the_service_says(
    service: Service, asker: Asker, notes: Notes, wished: dict[str, str], pause_s: float
) -> None:
    service.spoil = [status(429, wished)]
    assert asker.ask(f"{service.url}/points/30,-85", accept="*/*").status == 200
    assert notes.pauses == [pause_s]


def test_asking_leaves_a_service_alone_that_wants_a_long_pause(
    service: Service, asker: Asker, notes: Notes
) -> None:
    service.spoil_all = status(429, {"Retry-After": "1800"})
    with pytest.raises(UnansweredError, match=r"too many questions.*30 min"):
        asker.ask(f"{service.url}/points/30,-85", accept="*/*")
    assert len(service.asked) == 1
    assert notes.pauses == []


@pytest.mark.parametrize("spoiler", [half_sent, half_a_chunk, hung_up])
def test_asking_again_when_an_answer_breaks_off(service: Service, asker: Asker, spoiler: object) -> None:
    service.spoil = [spoiler]  # type: ignore[list-item]
    reply = asker.ask(f"{service.url}/points/30,-85", accept="*/*")
    assert b"TAE" in reply.body
    assert len(service.asked) == 2


@pytest.mark.parametrize("spoiler", [half_sent, half_a_chunk, hung_up])
def test_asking_never_gives_half_an_answer(service: Service, asker: Asker, spoiler: object) -> None:
    service.spoil_all = spoiler  # type: ignore[assignment]
    with pytest.raises(UnansweredError, match="broke off"):
        asker.ask(f"{service.url}/points/30,-85", accept="*/*")


@pytest.mark.parametrize("spoiler", [silent, dripping])
def test_asking_a_slow_service_ends_after_the_time_allowed(
    service: Service, asker: Asker, spoiler: object
) -> None:
    service.spoil_all = spoiler  # type: ignore[assignment]
    asker.limits = replace(asker.limits, attempts=2)
    with pytest.raises(UnansweredError, match=r"waiting too long.*asked 2 times"):
        asker.ask(f"{service.url}/points/30,-85", accept="*/*")


def test_asking_breaks_off_an_answer_without_end(service: Service, asker: Asker) -> None:
    service.spoil_all = endless
    asker.limits = replace(asker.limits, answer_s=60.0)
    with pytest.raises(UnansweredError, match="more than 1 MB"):
        asker.ask(f"{service.url}/points/30,-85", accept="*/*")
    assert len(service.asked) == 1


def test_asking_without_a_network_says_so(asker: Asker, notes: Notes) -> None:
    with running() as gone:
        url = gone.url
    with pytest.raises(UnansweredError, match="cannot be reached; is there a network"):
        asker.ask(f"{url}/points/30,-85", accept="*/*")
    assert len(notes.pauses) == 3


def test_asking_follows_a_move_within_the_service(service: Service, asker: Asker) -> None:
    service.spoil = [status(301, {"Location": "/points/30,-85"})]
    assert asker.ask(f"{service.url}/points/30.0000,-85.0000", accept="*/*").status == 200
    assert [asked.path for asked in service.asked] == ["/points/30.0000,-85.0000", "/points/30,-85"]


def test_asking_goes_to_no_other_service(service: Service, asker: Asker) -> None:
    with running() as other:
        service.spoil_all = status(302, {"Location": f"{other.url}/points/30,-85"})
        with pytest.raises(UnansweredError, match="not followed"):
            asker.ask(f"{service.url}/points/30,-85", accept="*/*")
        assert other.asked == []


def test_asking_ends_a_chase_in_a_circle(service: Service, asker: Asker) -> None:
    service.spoil_all = status(301, {"Location": "/points/30,-85"})
    with pytest.raises(UnansweredError, match="without end"):
        asker.ask(f"{service.url}/points/30,-85", accept="*/*")
    assert len(service.asked) == 4


def test_asking_gives_a_refusal_back_at_once(service: Service, asker: Asker, notes: Notes) -> None:
    """A place outside the grid stays outside however often one asks."""
    assert asker.ask(f"{service.url}/points/0,0", accept="*/*").status == 404
    assert len(service.asked) == 1
    assert notes.pauses == []


@pytest.mark.parametrize("said", ["9" * 13, "9" * 400, "Fri, 31 Dec 9999 23:59:59 GMT"])
def test_asking_an_absurd_pause_is_told_as_more_than_a_day(service: Service, asker: Asker, said: str) -> None:
    service.spoil = [status(503, {"Retry-After": said})]
    with pytest.raises(UnansweredError, match=r"asks for a pause of more than a day\.$"):
        asker.ask(f"{service.url}/points/1,1", accept="*/*")


@pytest.mark.parametrize("said", ["soon", "-5", "1.5", "\u00b2"])
def test_asking_a_pause_that_is_no_number_is_passed_over(
    service: Service, asker: Asker, notes: Notes, said: str
) -> None:
    """A superscript two is a digit to some and no number to others: it must not stop the asking."""
    service.points["1,1"] = {}
    service.spoil = [status(503, {"Retry-After": said})]
    assert asker.ask(f"{service.url}/points/1,1", accept="*/*").status == 200
    assert len(notes.pauses) == 1


@pytest.mark.parametrize("location", ["", "mailto:someone", "http://[", "file:///etc/hosts"])
def test_asking_sent_on_to_no_address_says_so(service: Service, asker: Asker, location: str) -> None:
    service.spoil_all = status(302, {"Location": location})
    with pytest.raises(
        UnansweredError, match=r"sends us on to an address that is none, which was not followed"
    ):
        asker.ask(f"{service.url}/points/1,1", accept="*/*")
