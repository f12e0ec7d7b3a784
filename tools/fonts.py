"""Rebuild the shipped fonts from an unpacked copy of the font's npm package (no network, nothing fetched).

    python tools/fonts.py FOLDER [--out src/dooryard/letter/fonts]

FOLDER is the unpacked ``@fontsource/atkinson-hyperlegible-next`` (it holds ``LICENSE`` and ``files/``).
Latin and extended Latin come as separate files there; this merges them for the weights 400 and 700 and writes
TrueType (for print) and WOFF2 (for the page), the licence as ``OFL.txt``, and ``coverage.txt``, the list of
characters the merged fonts can set. Needs fontTools and brotli.
"""

from __future__ import annotations

import argparse
import shutil
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

FAMILY = "Atkinson Hyperlegible Next"
STYLES = {400: "Regular", 700: "Bold"}
SUBSETS = ("latin", "latin-ext")
# What the letters we send cannot do without: Spanish, fractions, degree, times, minus, square, quotes.
NEEDED = "áéíóúüñÁÉÍÓÚÜÑ¿¡½¼¾°×−²–—“”‘’…·•"


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("folder", type=Path, help="the unpacked npm package")
    parser.add_argument("--out", type=Path, default=Path("src/dooryard/letter/fonts"))
    options = parser.parse_args(arguments)
    options.out.mkdir(parents=True, exist_ok=True)
    covered: list[set[int]] = []
    for weight, style in STYLES.items():
        font = merged(options.folder / "files", weight)
        name_it(font, weight, style)
        covered.append(set(font.getBestCmap()))
        stem = options.out / f"{FAMILY.replace(' ', '')}-{style}"
        font.flavor = None
        font.save(stem.with_suffix(".ttf"))
        font.flavor = "woff2"
        font.save(stem.with_suffix(".woff2"))
        print(f"{stem.name}: {len(covered[-1])} characters")
    both = set.intersection(*covered)
    missing = [sign for sign in NEEDED if ord(sign) not in both]
    if missing:
        print("missing from the merged fonts: " + " ".join(missing), file=sys.stderr)
        return 1
    (options.out / "coverage.txt").write_text(ranges(both), encoding="ascii")
    shutil.copyfile(options.folder / "LICENSE", options.out / "OFL.txt")
    return 0


def merged(files: Path, weight: int) -> Any:
    """One font from the subset files of a weight; the same input gives the same bytes (dates are kept)."""
    from fontTools.merge import Merger
    from fontTools.ttLib import TTFont

    with TemporaryDirectory() as folder:
        parts = []
        for subset in SUBSETS:
            source = files / f"atkinson-hyperlegible-next-{subset}-{weight}-normal.woff2"
            font = TTFont(source, recalcTimestamp=False)
            modified = font["head"].modified
            font.flavor = None
            part = Path(folder) / f"{subset}.ttf"
            font.save(part)
            parts.append(str(part))
        font = Merger().merge(parts)
    font.recalcTimestamp = False
    font["head"].modified = modified
    return font


def name_it(font: Any, weight: int, style: str) -> None:
    """Family and style as a plain two-style family: what Typst and browsers match on."""
    names = font["name"]
    for record in list(names.names):
        if record.nameID not in (0, 5, 13, 14):
            names.removeNames(record.nameID, record.platformID, record.platEncID, record.langID)
    postscript = f"{FAMILY.replace(' ', '')}-{style}"
    for name_id, text in (
        (1, FAMILY),
        (2, style),
        (3, f"merged;{postscript}"),
        (4, f"{FAMILY} {style}"),
        (6, postscript),
    ):
        names.setName(text, name_id, 3, 1, 0x409)
    names.setName("This font is licensed under the SIL Open Font License, Version 1.1.", 13, 3, 1, 0x409)
    # The style attributes table points at names of the variable original; a static pair needs none.
    if "STAT" in font:
        del font["STAT"]
    bold = weight == 700
    font["OS/2"].usWeightClass = weight
    font["OS/2"].fsSelection = 0x20 | 0x80 if bold else 0x40 | 0x80
    font["head"].macStyle = 1 if bold else 0


def ranges(code_points: set[int]) -> str:
    """Code points as hexadecimal ranges, one a line: ``0020-007E``."""
    lines: list[str] = []
    start = last = None
    for point in [*sorted(code_points), None]:
        if start is not None and (point is None or last is None or point != last + 1):
            lines.append(f"{start:04X}-{last:04X}")
            start = None
        if start is None:
            start = point
        last = point
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    sys.exit(main())
