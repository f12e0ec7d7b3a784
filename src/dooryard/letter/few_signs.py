"""The plan's text for a terminal that knows few signs: ASCII alone, its meaning kept."""

from __future__ import annotations

import re
import unicodedata

from dooryard.letter.prose import NO_BREAK

_PLAIN = (
    (r"°([FC])·d", r"degree-days \1"),
    (r"°(?=[FC])", "deg "),
    ("°", " deg"),
    (r"(?<=[0-9])(?=[½¼¾])", " "),
    ("½", "1/2"),
    ("¼", "1/4"),
    ("¾", "3/4"),
    ("×", "x"),
    ("÷", "/"),
    ("[−–—·•]", "-"),
    ("±", "+/-"),
    ("²", "2"),
    ("³", "3"),
    ("…", "..."),
    ("[‘’]", "'"),
    ("[“”]", '"'),
    ("≤", "at most "),
    ("≥", "at least "),
    ("→", "to"),
    ("µ", "u"),
    ("ß", "ss"),
    ("æ", "ae"),
    ("Æ", "AE"),
    ("ø", "o"),
    ("Ø", "O"),
    ("œ", "oe"),
    ("ł", "l"),
    ("đ", "d"),
    ("¿", "?"),
    ("¡", "!"),
    (NO_BREAK, " "),
)


def plain_ascii(text: str) -> str:
    """The text in ASCII signs only: accents dropped, "1½" as "1 1/2", what has no plain form as "?"."""
    for pattern, plain in _PLAIN:
        text = re.sub(pattern, plain, text)
    letters = (sign for sign in unicodedata.normalize("NFKD", text) if not unicodedata.combining(sign))
    return "".join(sign if sign.isascii() else "?" for sign in letters)
