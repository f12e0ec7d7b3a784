"""Every rule of the house in one run.

python -m tools.house       print what breaks a rule, and fail if anything does
"""

from __future__ import annotations

import sys
from pathlib import Path

from tools import checks, docstrings, layers, tree

ROOT = Path(__file__).resolve().parent.parent


def faults(root: Path) -> dict[str, list[str]]:
    """Each rule in words, with what breaks it in the project at `root`."""
    source = root / "src" / layers.PACKAGE
    marks, mark_faults = checks.collect(root / "tests")
    page = root / "docs" / "checks.md"
    in_step = page.is_file() and page.read_text(encoding="utf-8") == checks.render(marks)
    endings = docstrings.glossary_endings(root / "docs" / "glossary.md")
    return {
        "imports run downwards": layers.layer_faults(source),
        "heavy libraries load late": layers.heavy_import_faults(source),
        "pure rooms stay pure": layers.purity_faults(source),
        "no argument is swallowed": layers.swallowed_name_faults(source),
        "everything public says what it is": docstrings.missing_docstring_faults(source),
        "documented parameters are the real ones": docstrings.parameter_faults(source),
        "units agree with names": docstrings.unit_faults(source, endings),
        "nothing speaks of where it was made": tree.word_faults(root),
        "no file is too large": tree.size_faults(root),
        "locks hold no address": tree.lock_faults(root),
        "links lead somewhere": tree.link_faults(root),
        "test files have names of their own": tree.test_file_faults(root),
        "check marks can be read": mark_faults,
        "the list of checks is in step": []
        if in_step
        else ["docs/checks.md: write it anew with `make checks`."],
    }


def main() -> int:
    """Print every broken rule; 1 if there is one."""
    broken = {rule: found for rule, found in faults(ROOT).items() if found}
    for rule, found in broken.items():
        print(f"Broken rule: {rule}")
        print("\n".join(f"    {fault}" for fault in found))
    if not broken:
        print("The house is in order.")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
