"""Rules about the tree as a whole: words that do not belong, files too large, locks, links, test names."""

from __future__ import annotations

import re
import subprocess
from collections import defaultdict
from pathlib import Path

LARGEST_BYTES = 1_500_000
LOCK_NAMES = ("requirements.lock", "package-lock.json")

# Each pattern has a one-letter class in it, so that no rule finds itself.
FORBIDDEN = {
    r"pyp[i]\.org|pythonhoste[d]|npmj[s]|de[b]\.debian|crates\.i[o]": "a package registry's host",
    r"/wor[k]/|/far[m]/|/bash_job[s]|/opt/wheel[s]": "a path of one machine",
    r"\.\./share[d]|/share[d]/reference": "a folder outside the project",
    r"tran[s]cript|see[d] document": "how the project came about",
}
SKIPPED_FOLDERS = {".git", ".venv", "__pycache__", "node_modules", "out", "build", "dist"}
_LINK = re.compile(r"\]\(([^)\s]+)\)")
_NAMED_PAGE = re.compile(r"\bdocs/[\w-]+\.md\b")


def files(root: Path) -> list[Path]:
    """The files of the project: what git tracks or would, or, outside a clone, all but made folders."""
    asked = subprocess.run(
        ["git", "-C", str(root), "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        capture_output=True,
        check=False,
    )
    if asked.returncode == 0:
        names = asked.stdout.decode("utf-8").split("\0")
        return sorted({root / name for name in names if name and (root / name).is_file()})
    return sorted(
        path
        for path in root.rglob("*")
        if path.is_file() and not SKIPPED_FOLDERS & set(path.relative_to(root).parts)
    )


def text_of(path: Path) -> str | None:
    """A file's text, or None if it is not text."""
    content = path.read_bytes()
    if b"\0" in content:
        return None
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        return None


def word_faults(root: Path) -> list[str]:
    """Text files that name a registry host, a machine's path, or how the project came about."""
    faults = []
    for path in files(root):
        text = text_of(path)
        for pattern, what in FORBIDDEN.items() if text is not None else ():
            for found in re.finditer(pattern, text or "", re.IGNORECASE):
                line = (text or "").count("\n", 0, found.start()) + 1
                faults.append(f"{path.relative_to(root)} line {line}: names {what} ({found.group()}).")
    return faults


def size_faults(root: Path) -> list[str]:
    """Files too large to keep; a command should make them instead."""
    return [
        f"{path.relative_to(root)}: {path.stat().st_size:,} bytes; the most is {LARGEST_BYTES:,}."
        for path in files(root)
        if path.stat().st_size > LARGEST_BYTES
    ]


def lock_faults(root: Path) -> list[str]:
    """Lock files that hold an address, and a missing lock."""
    faults = [] if (root / "requirements.lock").is_file() else ["requirements.lock: it is missing."]
    for path in files(root):
        if path.name in LOCK_NAMES and ":/" + "/" in path.read_text(encoding="utf-8"):
            faults.append(f"{path.relative_to(root)}: it holds an address; write it anew with `make lock`.")
    return faults


def link_faults(root: Path) -> list[str]:
    """Links and mentions of pages that are not there, and pages the index of docs/ does not list."""
    faults = []
    for path in files(root):
        for named in sorted(set(_NAMED_PAGE.findall(text_of(path) or ""))):
            if not (root / named).is_file():
                faults.append(f"{path.relative_to(root)}: it names {named}, which is not there.")
    for page in (path for path in files(root) if path.suffix == ".md"):
        for target in _LINK.findall(page.read_text(encoding="utf-8")):
            plain = target.split("#")[0]
            if plain and ":" not in plain and not (page.parent / plain).exists():
                faults.append(f"{page.relative_to(root)}: the link to {target} leads nowhere.")
    index = root / "docs" / "index.md"
    listed = set(_LINK.findall(index.read_text(encoding="utf-8"))) if index.is_file() else set()
    for page in sorted((root / "docs").glob("*.md")):
        if page != index and page.name not in listed:
            faults.append(f"docs/index.md: it does not list {page.name}.")
    return faults


def test_file_faults(root: Path) -> list[str]:
    """Test files that share a name, and tests that read a stopwatch (a busy machine would fail them)."""
    faults = []
    by_name: dict[str, list[str]] = defaultdict(list)
    for path in sorted((root / "tests").rglob("*.py")):
        place = path.relative_to(root).as_posix()
        if path.name.startswith("test_"):
            by_name[path.name].append(place)
        if re.search(r"perf_counte[r]|time\.tim[e]\(|monotoni[c]\(", path.read_text(encoding="utf-8")):
            faults.append(f"{place}: it reads a stopwatch; measurements live in benchmarks/.")
    faults += [f"{' and '.join(places)} share one name." for places in by_name.values() if len(places) > 1]
    return faults
