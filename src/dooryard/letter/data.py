"""The plan as data: the document itself as JSON, and its tasks as a CSV table."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping
from typing import Any

from dooryard.letter.prose import Document, spell

COLUMNS = (
    "yard",
    "verb",
    "place",
    "kind",
    "what",
    "from",
    "to",
    "best",
    "why",
    "cautions",
    "if_missed",
    "organism",
)


def render(doc: Document) -> str:
    """The plan document as JSON text: keys in the document's order, two spaces a level, ending in a newline.

    Raises ValueError if a number is not finite: JSON knows none, and the document writes null instead.
    """
    return json.dumps(doc, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def tasks_csv(doc: Document) -> str:
    """Every task, the near ones first, one a row; figures and organisms in words, cautions joined by " | ".

    Lines end in CR LF (RFC 4180). A text that a spreadsheet would take for a formula gets a leading quote.
    """
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    cautions = {caution["id"]: caution["text"] for caution in doc["cautions"]}
    organisms = {organism["id"]: organism["name"] for organism in doc["organisms"]}
    for task in [*doc["tasks"], *doc["ahead"]]:
        row = {key: _text(task.get(key), doc["figures"]) for key in COLUMNS}
        row["yard"] = doc["yard"]["name"]
        row["organism"] = organisms.get(task.get("organism"), row["organism"])
        row["cautions"] = spell(" | ".join(cautions[key] for key in task["cautions"]), doc["figures"])
        writer.writerow([_harmless(row[key]) for key in COLUMNS])
    return out.getvalue()


def _text(value: Any, figures: Mapping[str, Mapping[str, Any]]) -> str:
    return "" if value is None or isinstance(value, list) else spell(str(value), figures)


def _harmless(cell: str) -> str:
    return f"'{cell}" if cell[:1] in ("=", "+", "-", "@", "\t", "\r") else cell
