"""One answer, from the nearest place it can be had: kept and fresh, asked anew, kept and old, or by hand."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

from dooryard.problem import InputError, Problem
from dooryard.weather.fetch.answers import Answer, Answers
from dooryard.weather.fetch.asking import Asker, Reply, UnansweredError
from dooryard.weather.fetch.limits import FetchLimits
from dooryard.weather.fetch.settings import Settings
from dooryard.weather.plain_json import JsonError, read_object


class ChangedError(Exception):
    """A service's answer is not what its interface says. The text is a sentence for a person."""


@dataclass(frozen=True, slots=True)
class Desk:
    """What fetching works with.

    asker : None to stay off the network. now : an aware time. refresh : kept answers are not good enough, however
    fresh; they are used only if no other is to be had.
    """

    settings: Settings
    limits: FetchLimits
    answers: Answers
    asker: Asker | None
    now: datetime
    tell: Callable[[str], None] = lambda _line: None
    refresh: bool = False


@dataclass(frozen=True, slots=True)
class Ask:
    """One question.

    key : what is asked, the same tomorrow although the address may differ. what : in words, such as "The forecast
    for 38.04, -84.50". fresh : how long an answer is good if the service does not say. by_hand : how a person
    brings the file without us. whole : whether a body may be all there is to say; one that is not is good for
    `brief` at most, and never asked about with "has it changed?".
    """

    key: str
    url: str
    accept: str
    what: str
    fresh: timedelta
    by_hand: str
    whole: Callable[[bytes], bool] = lambda _body: True
    brief: timedelta = timedelta(0)


@dataclass(frozen=True, slots=True)
class Obtained:
    """An answer and where it was had. warning : empty, or why an old answer had to do, with its age,
    or why it could not be kept."""

    answer: Answer
    asked: bool
    warning: str = ""


def open_desk(
    settings: Settings,
    now: datetime,
    *,
    offline: bool = False,
    refresh: bool = False,
    tell: Callable[[str], None] = lambda _line: None,
) -> Desk:
    """A desk with the shipped limits. offline : never ask, use only what is kept. refresh : as in `Desk`.

    tell : takes progress lines. InputError if it is to be offline and to refresh.
    """
    from dooryard.weather.fetch.limits import limits

    if offline and refresh:
        what = "Nothing can be asked for again without asking."
        raise InputError(Problem(what, "Leave out --offline or --refresh.", field="--refresh"))
    patience = limits()
    asker = None if offline else Asker(settings.agent, patience, now, tell)
    return Desk(settings, patience, Answers(Path(settings.cache)), asker, now, tell, refresh)


def obtain(ask: Ask, desk: Desk, check: Callable[[bytes], None]) -> Obtained:
    """The answer to a question, checked.

    check : raises ChangedError if a body is not what the interface says; such a body is never kept. InputError that
    says what is missing and how to bring it by hand if there is no answer, old or new.
    """
    kept = _usable(desk.answers.get(ask.key), check)
    same = kept is not None and kept.url == ask.url
    if kept is not None and same and not desk.refresh and kept.fetched <= desk.now < _good_until(kept, ask):
        return Obtained(kept, asked=False)
    if desk.asker is None:
        reason = "The program was told to stay off the network."
    else:
        try:
            known = kept if kept is not None and same and ask.whole(kept.body) else None
            return _asked(ask, desk, desk.asker, known, check)
        except (UnansweredError, ChangedError) as failed:
            reason = str(failed)
    if kept is not None:
        return Obtained(kept, asked=False, warning=_old(ask, kept, desk.now, reason))
    raise InputError(Problem(f"{ask.what} is not here. {reason}", ask.by_hand))


def age_words(age: timedelta) -> str:
    """How old something is: "20 minutes", "5 hours", "3 days"."""
    minutes = max(0, round(age.total_seconds() / 60))
    for size, word in ((1440, "day"), (60, "hour")):
        if minutes >= 2 * size or (minutes >= size and word == "day"):
            count = minutes // size
            return f"{count} {word}" if count == 1 else f"{count} {word}s"
    return "1 minute" if minutes == 1 else f"{minutes} minutes"


def _usable(kept: Answer | None, check: Callable[[bytes], None]) -> Answer | None:
    """A kept answer is checked like a new one: an older version of the program may have kept it."""
    if kept is None:
        return None
    try:
        check(kept.body)
    except ChangedError:
        return None
    return kept


def _asked(
    ask: Ask, desk: Desk, asker: Asker, kept: Answer | None, check: Callable[[bytes], None]
) -> Obtained:
    conditions = {}
    if desk.refresh:
        # Nor is a copy good enough that some machine between the service and us has kept.
        kept, conditions = None, {"Cache-Control": "no-cache"}
    if kept is not None and kept.etag:
        conditions["If-None-Match"] = kept.etag
    if kept is not None and kept.modified:
        conditions["If-Modified-Since"] = kept.modified
    reply = asker.ask(ask.url, accept=ask.accept, conditions=conditions)
    fresh_until = desk.now + _fresh(reply, ask.fresh, desk.limits)
    if reply.status == 304 and kept is not None:
        answer = replace(kept, fetched=desk.now, fresh_until=fresh_until)
    elif reply.status == 200:
        check(reply.body)
        answer = Answer(
            url=ask.url,
            body=reply.body,
            fetched=desk.now,
            fresh_until=fresh_until,
            etag=reply.headers.get("etag", ""),
            modified=reply.headers.get("last-modified", ""),
        )
    else:
        raise UnansweredError(_refusal(reply))
    try:
        desk.answers.keep(ask.key, answer)
    except InputError as error:
        # The answer is there all the same; only the next question comes sooner than it need.
        return Obtained(answer, asked=True, warning=f"An answer could not be kept: {error.problems[0].what}")
    return Obtained(answer, asked=True)


def _good_until(kept: Answer, ask: Ask) -> datetime:
    if ask.whole(kept.body):
        return kept.fresh_until
    return min(kept.fresh_until, kept.fetched + ask.brief)


def _fresh(reply: Reply, usual: timedelta, limits: FetchLimits) -> timedelta:
    """How long a reply is good: what the service says, but never so short that we would press it."""
    said = reply.headers.get("cache-control", "").lower()
    shortest = timedelta(seconds=limits.shortest_fresh_s)
    if "no-store" in said or "no-cache" in said:
        return shortest
    age = re.search(r"\bmax-age=(\d{1,9})", said)
    return max(shortest, timedelta(seconds=int(age[1]))) if age else usual


def _refusal(reply: Reply) -> str:
    """What a service says when it says no, in its own words where it has any."""
    words = " ".join(refusal_words(reply.body).split())
    said = f': "{words[:200].rstrip(".")}"' if words else ""
    return f"The service says no (answer {reply.status}){said}."


def refusal_words(body: bytes) -> str:
    """The message in a JSON refusal of either service; an empty text if there is none to find."""
    try:
        said = read_object(body)
    except JsonError:
        return ""
    # NOAA: errorMessage with a list of errors; Weather Service: an RFC 7807 problem with title and detail.
    parts = [said.get("errorMessage"), said.get("title"), said.get("detail")]
    errors = said.get("errors")
    parts += (
        [error.get("message") for error in errors if isinstance(error, dict)]
        if isinstance(errors, list)
        else []
    )
    return "; ".join(str(part).strip().rstrip(".") for part in parts if part)


def _old(ask: Ask, kept: Answer, now: datetime, reason: str) -> str:
    return f"{ask.what} is {age_words(now - kept.fetched)} old, because no newer one was to be had. {reason}"
