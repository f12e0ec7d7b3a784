"""What commands share: how problems are told, how text reaches any terminal, how files are written whole."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable, Iterable, Mapping
from functools import wraps
from pathlib import Path
from typing import ParamSpec

import click

from dooryard.problem import InputError, Problem

FINE, NEEDS_A_PERSON, BAD_INPUT = 0, 1, 2
P = ParamSpec("P")


def say(text: str) -> None:
    """Print to standard output; characters the terminal cannot show are replaced, never a crash."""
    if not shows(text):
        from dooryard.letter.few_signs import plain_ascii

        text = plain_ascii(text)
    click.echo(text)


def shows(text: str) -> bool:
    """Whether standard output's encoding has every character of the text."""
    try:
        text.encode(sys.stdout.encoding or "utf-8")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def tell(problems: Iterable[Problem]) -> None:
    """Print problems on standard error, one after another, and how many there are."""
    listed = list(problems)
    for problem in listed:
        click.echo(str(problem), err=True)
    noun = "problem" if len(listed) == 1 else "problems"
    click.echo(f"{len(listed)} {noun} found. Nothing else was done.", err=True)


def told_plainly(command: Callable[P, int]) -> Callable[P, None]:
    """Make a function that returns an exit code a command body: bad input becomes messages and exit code 2."""

    @wraps(command)
    def body(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            code = command(*args, **kwargs)
        except InputError as error:
            tell(error.problems)
            code = BAD_INPUT
        sys.exit(code)

    return body


def write_all(folder: Path, files: Mapping[str, bytes], option: str = "--out") -> list[Path]:
    """Write several files into a folder, each whole or not at all; gives their paths.

    option : the option a person names the place with, for the message if nothing can be written there.

    Everything is rendered before the first file is touched; each is written beside its place and then
    moved over it, so a full disk or a crash never leaves a half-written file under the final name.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        paths = []
        for name, content in files.items():
            path = folder / name
            handle, waiting = tempfile.mkstemp(dir=folder, prefix=f".{name}.")
            try:
                with os.fdopen(handle, "wb") as file:
                    file.write(content)
                Path(waiting).chmod(0o644)
                Path(waiting).replace(path)
            except BaseException:
                Path(waiting).unlink(missing_ok=True)
                raise
            paths.append(path)
    except OSError as error:
        raise cannot_write(folder, error, option) from error
    return paths


def cannot_write(folder: Path, error: OSError, option: str = "--out") -> InputError:
    """The plain message for a folder that cannot be written."""
    reason = error.strerror or str(error)
    return InputError(
        Problem(
            f"Cannot write there: {reason}.", "Name a folder you may write to.", str(folder), field=option
        )
    )
