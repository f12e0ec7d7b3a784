"""From bytes to TOML tables, or one plain message that says which line cannot be read and how to write it."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from dooryard.problem import InputError, Problem, nearest

_MARKS = {b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}


def read_text(path: Path) -> str:
    """The file's text, with any byte-order mark left in (it is the first character, U+FEFF).

    Raises InputError if there is no such file, it is a folder, or it is not UTF-8 text.
    """
    name = path.name
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        raise InputError(Problem(f"There is no file {path}.", _other_files(path), file=name)) from None
    except IsADirectoryError:
        instead = "Give the yard file itself, such as a file ending in .toml inside that folder."
        raise InputError(Problem(f"{path} is a folder.", instead, file=name)) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(
            Problem(f"{path} cannot be opened: {reason}.", "Check its name and who may read it.", file=name)
        ) from None
    if data[:2] in _MARKS:
        what = f"The file is stored as {_MARKS[data[:2]]} text."
        raise InputError(Problem(what, "Save it again as UTF-8.", file=name))
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        # Latin-1 gives every byte a letter, so the person sees the word that spoils the file.
        shown = data.splitlines()[line - 1].decode("latin-1").strip()
        what = "This line holds a letter that is not stored as UTF-8."
        instead = "Save the file again as UTF-8 (in the editor: save as, encoding UTF-8)."
        raise InputError(Problem(what, instead, name, line, found=_cut(shown))) from None


def tables(text: str, file: str) -> dict[str, Any]:
    """The tables of a TOML text. Raises InputError with one problem at the line that cannot be read.

    text : may begin with a byte-order mark and may have any line ends. file : named in the problem.
    """
    plain = text.removeprefix("\ufeff")
    if not plain.strip():
        instead = 'Begin with name = "..." and units = "us", then [place]; docs/yard-file.md has an example.'
        raise InputError(Problem("The file is empty.", instead, file=file))
    try:
        return tomllib.loads(plain)
    except RecursionError:
        what = "The file holds brackets within brackets without end."
        raise InputError(Problem(what, "A yard file needs no nested lists.", file=file)) from None
    except ValueError as error:
        raise InputError(_syntax_problem(plain, str(error), file)) from None


def _other_files(path: Path) -> str:
    try:
        others = sorted(other.name for other in path.parent.iterdir() if other.suffix == path.suffix)
    except OSError:
        return "There is no such folder either. Check the path."
    near = nearest(path.name, others)
    return near or "Check the name and the folder."


def _syntax_problem(text: str, reason: str, file: str) -> Problem:
    lines = text.split("\n")
    place = re.search(r"at line (\d+)", reason)
    number = min(int(place[1]), len(lines)) if place else len(lines)
    # The parser stops where it can go no further, often at the start of the line behind the fault.
    while number > 1 and not lines[number - 1].strip():
        number -= 1
    what, instead = _plainly(lines[number - 1], reason)
    return Problem(what, instead, file, number, found=_cut(lines[number - 1].strip()))


def _plainly(line: str, reason: str) -> tuple[str, str]:
    """What is wrong with a line and what to write, for the mistakes people make; else a general answer."""
    code = line.strip()
    key, sign, value = (part.strip() for part in code.partition("="))
    if any(quote in code for quote in "“”„‘’"):
        return "The quotation marks are curly.", 'Type straight ones: ".'
    if re.search(r"twice|overwrite|duplicate|mutate|exists", reason, re.IGNORECASE):
        instead = (
            "Keep one of them. Several roofs, barrels, beds or plants each need double brackets: [[roofs]]."
        )
        return "This stands in the file already.", instead
    if code.startswith("["):
        return "This heading cannot be read.", "Write it as [place] or [[roofs]], alone on its line."
    if not sign:
        colon = re.match(r"^([\w-]+)\s*:\s*(.+)$", code)
        if colon:
            return "A colon stands where an equals sign is due.", f"Write: {colon[1]} = {colon[2]}"
        return (
            "This line is neither a heading nor a key with its value.",
            "Put # before it if it is a remark.",
        )
    if not re.fullmatch(r'[\w-]+|"[^"]*"|\'[^\']*\'', key, re.ASCII):
        plain_key = re.sub(r"\W+", "_", key).strip("_")
        return "The name before the equals sign cannot be read.", f"Write it as one word: {plain_key} = ..."
    if not value or value.startswith("#"):
        return "Nothing stands behind the equals sign.", f'Write the value, such as {key} = "...".'
    if value.lower().rstrip(".,;") in ("true", "yes", "false", "no"):
        word = "true" if value.lower()[0] in "ty" else "false"
        return "This is not how yes and no are written.", f"Write: {key} = {word}"
    if re.match(r"^\d{1,4}[/.-]\d{1,2}[/.-]\d{1,4}", value):
        return "This is not a date we can read.", f"Write year-month-day: {key} = 2031-05-16"
    if value.count('"') == 1 or value.count("'") == 1:
        return "A quotation mark is opened and not closed.", 'Put " at both ends of the text.'
    if value[0] not in "\"'[{" and not value.startswith(("'''", '"""')):
        bare = value.split("#")[0].strip().replace('"', "")
        return "The value has no quotation marks.", f'Write: {key} = "{bare}"'
    return (
        "This line cannot be read.",
        "Write one key, an equals sign and its value, text in quotation marks.",
    )


def _cut(text: str, longest: int = 60) -> str:
    return text if len(text) <= longest else text[: longest - 3] + "..."
