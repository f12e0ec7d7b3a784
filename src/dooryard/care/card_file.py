"""Label cards and treatment logs on disk."""

from __future__ import annotations

from pathlib import Path

from dooryard.care import log
from dooryard.care.card import Card
from dooryard.care.card_reading import from_text
from dooryard.yard import syntax
from dooryard.yard.values import Names


def read(path: Path | str, knowledge: Names) -> Card:
    """The card in a file (TOML, UTF-8). knowledge : the loaded tables. Raises InputError with all problems found."""
    path = Path(path)
    return from_text(syntax.read_text(path), path.name, knowledge)


def read_log(path: Path | str) -> tuple[log.Applied, ...]:
    """The entries of a treatment log in date order. Raises InputError with all problems found."""
    path = Path(path)
    return log.from_text(syntax.read_text(path), path.name)
