"""Answers kept on disk, each with the time it came: to ask a service seldom, and to have something without one.

One file an answer: a line of JSON about it, then its bytes. Only answers that were understood are kept, so a
sign-in page or half a file never takes the place of a good one.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import re
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from dooryard.weather.writing import replace_file


@dataclass(frozen=True, slots=True)
class Answer:
    """What a service said. fetched, fresh_until : aware times; etag, modified : for asking "has it changed?"."""

    url: str
    body: bytes
    fetched: datetime
    fresh_until: datetime
    etag: str = ""
    modified: str = ""


@dataclass(frozen=True, slots=True)
class Answers:
    """The folder of kept answers."""

    folder: Path

    def get(self, key: str) -> Answer | None:
        """The answer kept under a key, or None if there is none or its file is damaged."""
        try:
            head, _, body = self._path(key).read_bytes().partition(b"\n")
            about = json.loads(head)
            if about["sha256"] != hashlib.sha256(body).hexdigest():
                return None
            return Answer(
                url=about["url"],
                body=body,
                fetched=datetime.fromisoformat(about["fetched"]),
                fresh_until=datetime.fromisoformat(about["fresh_until"]),
                etag=about["etag"],
                modified=about["modified"],
            )
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            # A damaged copy is worth no more than none: the service is asked again.
            return None

    def keep(self, key: str, answer: Answer) -> None:
        """Keep an answer under a key, in place of the one before. InputError if it cannot be written."""
        about = {
            "url": answer.url,
            "fetched": answer.fetched.isoformat(),
            "fresh_until": answer.fresh_until.isoformat(),
            "etag": answer.etag,
            "modified": answer.modified,
            "sha256": hashlib.sha256(answer.body).hexdigest(),
        }
        replace_file(self._path(key), json.dumps(about).encode("ascii") + b"\n" + answer.body)

    def drop(self, key: str) -> None:
        """Forget the answer under a key: it turned out not to be what it seemed."""
        # One that cannot be taken away is found out again the next time, as it was this time.
        with contextlib.suppress(OSError):
            self._path(key).unlink(missing_ok=True)

    def _path(self, key: str) -> Path:
        # Readable for a person, and told apart by the hash where two keys read alike.
        readable = re.sub(r"[^a-z0-9]+", "-", key.lower()).strip("-")[:60]
        return self.folder / f"{readable}-{hashlib.sha256(key.encode()).hexdigest()[:10]}.answer"
