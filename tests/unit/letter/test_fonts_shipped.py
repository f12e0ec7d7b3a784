"""The shipped fonts: what they cover, what they are called, that Typst finds both, and their licence."""

from __future__ import annotations

from pathlib import Path

import pytest

import dooryard.letter
from dooryard.letter.sheet import _coverage

FOLDER = Path(dooryard.letter.__file__).parent / "fonts"
SPANISH = "áéíóúüñÁÉÍÓÚÜÑ¿¡«»"
PRINT = "½¼¾°×−²³·–—“”‘’…•€"


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_font_covers_spanish_fractions_and_signs(style: str) -> None:
    ttlib = pytest.importorskip("fontTools.ttLib")
    with ttlib.TTFont(FOLDER / f"AtkinsonHyperlegibleNext-{style}.ttf") as font:
        covered = font.getBestCmap()
        assert [sign for sign in SPANISH + PRINT if ord(sign) not in covered] == []
        assert _coverage() <= set(covered)
        assert {0x9, 0x4E2D}.isdisjoint(_coverage())


def test_typst_finds_the_family_in_both_weights() -> None:
    import typst

    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FOLDER)]
    ).fonts()
    assert sorted((font.family, font.style, font.weight) for font in fonts) == [
        ("Atkinson Hyperlegible Next", "normal", 400),
        ("Atkinson Hyperlegible Next", "normal", 700),
    ]


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_font_for_the_page_is_woff2(style: str) -> None:
    assert (FOLDER / f"AtkinsonHyperlegibleNext-{style}.woff2").read_bytes()[:4] == b"wOF2"


def test_font_licence_stands_beside_the_fonts() -> None:
    text = (FOLDER / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text
    assert "Atkinson Hyperlegible Next Project Authors" in text
