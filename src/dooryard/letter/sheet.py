"""The printed plan: a tagged PDF for letter or A4 paper, in ordinary or large type, set by Typst."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dooryard.letter.leaf import view
from dooryard.letter.prose import Document, signs_in_words
from dooryard.problem import InputError, Problem

if TYPE_CHECKING:
    import typst

PAPERS = {"letter": "us-letter", "a4": "a4"}
_HERE = Path(__file__).parent


def render(doc: Document, *, paper: str = "letter", large: bool = False) -> bytes:
    """The plan as a PDF (PDF/UA-1: tagged, titled, drawings with words). The same input gives the same bytes.

    paper : "letter" or "a4".
    large : 18 pt text instead of 12 pt.

    Raises
    ------
    InputError
        If `paper` is not one we print on.
    KeyError
        If a text names a figure the document does not hold.
    """
    if paper not in PAPERS:
        raise InputError(
            Problem(
                "We do not print on this paper.",
                f"Use one of: {', '.join(PAPERS)}.",
                field="paper",
                found=paper,
            )
        )
    import typst

    try:
        return _compiled(_each_text(doc, signs_in_words), PAPERS[paper], large)
    except typst.TypstError as error:
        # The standard forbids signs no typeface can show, and a yard's name may hold any sign there is.
        if "could not be displayed" not in str(error):
            raise
        return _compiled(_each_text(doc, _settable), PAPERS[paper], large)


def _compiled(doc: Document, paper: str, large: bool) -> bytes:
    import typst

    found, drawings = view(doc, paper=paper, large=large)
    files = {
        "main.typ": (_HERE / "templates" / "sheet.typ").read_bytes(),
        "view.json": json.dumps(found, ensure_ascii=False).encode("utf-8"),
        **{name: svg.encode("utf-8") for name, svg in drawings.items()},
    }
    pdf = typst.compile(  # type: ignore[call-overload]  # its stubs do not know that a dict of files may come
        files,
        format="pdf",
        font_paths=_fonts(),
        ignore_system_fonts=True,
        pdf_standards=["ua-1"],
        timestamp=int(datetime.fromisoformat(doc["on"]).replace(tzinfo=UTC).timestamp()),
    )
    if not isinstance(pdf, bytes):
        raise TypeError("the typesetter gave no PDF")
    return pdf


@cache
def _fonts() -> typst.Fonts:
    import typst

    return typst.Fonts(include_system_fonts=False, font_paths=[str(_HERE / "fonts")])


# --- signs the typeface lacks -------------------------------------------------------------------------


def _each_text(value: Any, change: Callable[[str], str]) -> Any:
    """The document with `change` applied to every text in it; keys and numbers stay."""
    if isinstance(value, str):
        # Control signs have no shape and may not stand in print.
        return change(value if value.isprintable() else "".join(s if s.isprintable() else " " for s in value))
    if isinstance(value, Mapping):
        return {key: _each_text(entry, change) for key, entry in value.items()}
    if isinstance(value, list):
        return [_each_text(entry, change) for entry in value]
    return value


def _settable(text: str) -> str:
    """The text with every sign our typeface lacks as a question mark."""
    covered = _coverage()
    return "".join(sign if ord(sign) in covered else "?" for sign in signs_in_words(text))


@cache
def _coverage() -> frozenset[int]:
    """Code points our typeface can set, from the list written when it was built."""
    points: set[int] = set()
    for line in (_HERE / "fonts" / "coverage.txt").read_text(encoding="ascii").splitlines():
        first, last = line.split("-")
        points.update(range(int(first, 16), int(last, 16) + 1))
    return frozenset(points)
