"""JSON from outside, as one object of plain data: whatever is wrong with it, one plain sentence says so."""

from __future__ import annotations

import json
from typing import Any

DEEPEST = 64
"""Levels of lists and objects. A forecast has eight; a limit of use, so that no walk through one can fall."""

_DEEP = f"This JSON is nested more than {DEEPEST} levels deep, so it is no forecast."


class JsonError(ValueError):
    """A text that is no JSON object of a sane depth. The text is a sentence for a person; line: None if unknown."""

    def __init__(self, what: str, line: int | None = None) -> None:
        super().__init__(what)
        self.line = line


def read_object(text: str | bytes) -> dict[str, Any]:
    """The object that a JSON text holds. JsonError if it is damaged, nested without sense, or something else."""
    try:
        said: object = json.loads(text)
    except json.JSONDecodeError as error:
        raise JsonError("This JSON is damaged or was cut short.", error.lineno) from None
    except UnicodeDecodeError:
        raise JsonError("This JSON is damaged: parts of it are no text.") from None
    except ValueError:
        raise JsonError("This JSON holds a number too long to be one.") from None
    except RecursionError:
        raise JsonError(_DEEP) from None
    if not isinstance(said, dict):
        raise JsonError("This JSON is no object with names and values, so it is no forecast.")
    if _too_deep(said):
        raise JsonError(_DEEP)
    return said


def _too_deep(said: dict[str, Any]) -> bool:
    """Level by level and not by a call in a call, which is what a deep text would break."""
    level: list[Any] = [said]
    for _ in range(DEEPEST):
        level = [
            inner
            for outer in level
            for inner in (outer.values() if isinstance(outer, dict) else outer)
            if isinstance(inner, dict | list)
        ]
        if not level:
            return False
    return True
