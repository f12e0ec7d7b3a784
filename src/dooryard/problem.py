"""What went wrong, where, and what to write instead: one record for command line, page and batch alike."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from difflib import get_close_matches


@dataclass(frozen=True)
class Problem:
    """One fault in something a person gave us.

    what : the fault, one plain sentence ending in a full stop.
    instead : what to write instead, one plain sentence; may be empty only if nothing can be done.
    file, line, field : where it stands (line counts from 1; None if it has no line).
    found : the value as typed, cut to a readable length.
    """

    what: str
    instead: str = ""
    file: str = ""
    line: int | None = None
    field: str = ""
    found: str = ""

    def __str__(self) -> str:
        place = self.file
        if self.line is not None:
            place += f" line {self.line}" if place else f"line {self.line}"
        if self.field:
            place += f", {self.field}" if place else self.field
        found = f" (found {self.found})" if self.found else ""
        head = f"{place}{found}: {self.what}" if place or found else self.what
        return f"{head}\n    {self.instead}" if self.instead else head

    def at(self, *, file: str | None = None, line: int | None = None) -> Problem:
        """The same problem with its place filled in by whoever knows it."""
        return replace(
            self, file=self.file if file is None else file, line=self.line if line is None else line
        )


class InputError(Exception):
    """Input that cannot be used. Carries every problem found, not only the first. Exit code 2."""

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


def nearest(word: str, known: Iterable[str]) -> str:
    """'Did you mean …?' for a word that is not in the list, or an empty string if nothing is near."""
    choices = list(known)
    by_lower = {choice.lower(): choice for choice in choices}
    close = get_close_matches(word.lower(), list(by_lower), n=1, cutoff=0.6)
    return f'Did you mean "{by_lower[close[0]]}"?' if close else ""
